//! Steps of working as lines of text.

use alloc::format;
use alloc::string::String;
use core::fmt::{self, Write};

use super::table::TextTable;
use crate::working::Working;

/// Writes the working, one step a line: the quantity, the numbers put in, the result.
///
/// # Errors
/// Returns an error if `out` fails.
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
    for line in lines(working) {
        writeln!(out, "  {line}")?;
    }
    Ok(())
}

/// The steps, with their quantities in a column.
pub(super) fn lines(working: &Working) -> impl Iterator<Item = String> {
    let steps = working.steps();
    let widths = steps.iter().map(|step| step.what().chars().count());
    let width = widths.max().unwrap_or(0);
    steps
        .iter()
        .map(move |step| format!("{:width$}  {}", step.what(), step.equation()))
}

/// The steps as a table.
pub(super) fn as_table(working: &Working) -> TextTable {
    let mut table = TextTable::new("From the readings to x").left(["Step", "Working"]);
    for step in working.steps() {
        table.row([String::from(step.what()), step.equation()]);
    }
    table
}
