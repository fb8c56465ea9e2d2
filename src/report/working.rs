//! Steps of working as lines of text.

use core::fmt::{self, Write};

use crate::working::Working;

/// Writes the working, one step a line: what is found, the numbers put in, the result.
///
/// # Errors
/// Where `out` fails.
///
/// ```
/// use effloresce::{gravimetry::{Method, Net, Weighings}, report::write_working};
/// let bench = Weighings::net("5.00".parse()?, "3.20".parse()?, Net::Tared);
/// let run = Method::new().dehydration(&"CuSO4".parse()?, &bench)?;
/// let mut text = String::new();
/// write_working(&run.working(), &mut text).unwrap();
/// assert!(text.contains("mass of water    5.00 g − 3.20 g = 1.80 g"));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_working(working: &Working, out: &mut impl Write) -> fmt::Result {
    let width = working
        .steps()
        .iter()
        .map(|step| step.what().chars().count())
        .max()
        .unwrap_or(0);
    for step in working.steps() {
        let joined = match step.relation() {
            "=" => " =",
            _ => ":",
        };
        write!(
            out,
            "  {:width$}  {}{joined} {}",
            step.what(),
            step.numbers(),
            step.result()
        )?;
        if step.unit().is_empty() {
            writeln!(out)?;
        } else {
            writeln!(out, " {}", step.unit())?;
        }
    }
    Ok(())
}
