//! The key for a class: a table by bench, each bench's working and marks, the class, the cautions.

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::table::{Align, Table};
use super::{paragraph, write_working};
use crate::class::{Answer, Marked, MarkedRow, Pooled};
use crate::formula::Formula;
use crate::gravimetry::{Check, Constancy, Dehydration, Outcome, Quantity, cautions_for};
use crate::number::{Ratio, TieRule};

/// Writes the key for a class.
///
/// # Errors
/// Where `out` fails.
///
/// ```
/// use effloresce::class::{Marker, Sheet};
/// use effloresce::{gravimetry::Method, report::write_key};
/// let text = "bench,hydrate_g,residue_g,reported_ratio\nHeron,2.666,1.303,6.99\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
/// let mut key = String::new();
/// write_key(&marked, &mut key).unwrap();
/// assert!(key.contains("Heron"));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_key(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    heading(marked, out)?;
    by_bench(marked, out)?;
    for row in marked.rows() {
        bench(row, out)?;
    }
    class(marked, out)?;
    remarks(marked, out)?;
    section(out, "Care")?;
    // Each salt once: a class may have been issued more than one.
    let others: BTreeSet<&Formula> = marked.rows().iter().map(MarkedRow::issued).collect();
    let others = others
        .into_iter()
        .filter(|issued| *issued != marked.issued());
    for caution in cautions_for([marked.issued()].into_iter().chain(others)) {
        paragraph(out, "  - ", caution.text())?;
    }
    Ok(())
}

fn section(out: &mut impl Write, title: &str) -> fmt::Result {
    writeln!(out, "\n{title}")?;
    writeln!(out, "{}", "=".repeat(title.chars().count()))
}

fn heading(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    let issued = marked.issued();
    writeln!(out, "Key: loss on heating of {issued}")?;
    if let Ok(Some(percent)) = issued.percent_water(marked.weights()) {
        writeln!(
            out,
            "Theory: {} % water, x = {}.",
            percent.to_places(2, TieRule::Even),
            issued
                .one_formula_unit()
                .map(|(_, waters)| waters)
                .unwrap_or_default()
        )?;
    }
    writeln!(out, "Atomic weights: {}.", marked.weights())?;
    writeln!(
        out,
        "Each bench is marked against its own readings; what it should have found is said apart.\n"
    )
}

fn by_bench(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    let mut table = Table::new([
        ("Bench", Align::Left),
        ("By", Align::Left),
        ("Hydrate/g", Align::Right),
        ("Residue/g", Align::Right),
        ("Water/g", Align::Right),
        ("Water/%", Align::Right),
        ("x", Align::Right),
        ("u(x)", Align::Right),
        ("Constant", Align::Left),
        ("Points to", Align::Left),
        ("Marks", Align::Right),
    ]);
    for row in marked.rows() {
        let own = |quantity| {
            row.run()
                .filter(|_| row.has_own_readings())
                .and_then(|run| run.written(quantity))
                .unwrap_or_default()
        };
        let run = row.run().filter(|_| row.has_own_readings());
        let constant = run
            .and_then(Dehydration::constant_mass)
            .map_or("", |c| match c.reached() {
                Some(true) => "yes",
                Some(false) => "no",
                None => "one heating",
            });
        table.row([
            labelled(row, row.bench()),
            row.pupil().unwrap_or_default().to_string(),
            own(Quantity::HydrateMass),
            own(Quantity::ResidueMass),
            own(Quantity::WaterMass),
            own(Quantity::PercentWater),
            own(Quantity::Ratio),
            run.map_or_else(String::new, uncertainty),
            constant.to_string(),
            run.map_or_else(String::new, concluded),
            marks(row),
        ]);
    }
    table.write(out)
}

/// What is called so, with a word about readings that nobody weighed.
fn labelled(row: &MarkedRow, name: &str) -> String {
    let label = if row.stand_in() {
        " (stand-in readings)"
    } else {
        ""
    };
    format!("{name}{label}")
}

fn marks(row: &MarkedRow) -> String {
    match row.total() {
        Some(total) if !row.answers().is_empty() => format!("{total}/{}", row.answers().len()),
        Some(_) => String::new(),
        None => "not marked".into(),
    }
}

/// The standard uncertainty of the ratio. While the mass still changes, the balance's part of it
/// would be mistaken for the whole.
fn uncertainty(run: &Dehydration) -> String {
    match run.constant_mass().and_then(Constancy::reached) {
        Some(false) => String::new(),
        _ => two_figures(run.standard_uncertainty()),
    }
}

/// An uncertainty to two significant figures.
fn two_figures(value: f64) -> String {
    Ratio::from_float(value).map_or_else(String::new, |value| {
        value.to_figures(2, TieRule::Even).to_string()
    })
}

fn concluded(run: &Dehydration) -> String {
    match run.outcome() {
        Outcome::Resolved(hydrate) => format!("{hydrate}"),
        Outcome::Approximate(hydrate) => format!("about {hydrate}"),
        Outcome::Ambiguous(several) => match several.as_slice() {
            [first, .., last] => format!("{first} to {last}"),
            _ => "several".into(),
        },
        Outcome::Inconsistent => format!("none (nearest {})", run.nearest_formula()),
    }
}

fn bench(row: &MarkedRow, out: &mut impl Write) -> fmt::Result {
    let who = match row.pupil() {
        Some(pupil) => format!("{}, {pupil}", row.bench()),
        None => row.bench().to_string(),
    };
    section(out, &labelled(row, &who))?;
    let Some(run) = row.run() else {
        let text = match row.unmarked() {
            0 => "Could not be worked out: see the problems below.".to_string(),
            1 => "Could not be worked out, so the answer handed in is not marked: see the problems below.".to_string(),
            n => format!("Could not be worked out, so the {n} answers handed in are not marked: see the problems below."),
        };
        return paragraph(out, "  ", &text);
    };
    if row.has_own_readings() {
        write_working(&run.working(), out)?;
        at_the_bench(row, run, out)?;
    } else {
        writeln!(out, "  Readings and working as above for this bench.")?;
    }
    if !row.answers().is_empty() {
        writeln!(
            out,
            "  Answers: {} of {} marks",
            row.total().unwrap_or(0),
            row.answers().len()
        )?;
        for answer in row.answers() {
            answered(answer, out)?;
        }
    }
    Ok(())
}

/// The other key: how the bench itself did.
fn at_the_bench(row: &MarkedRow, run: &Dehydration, out: &mut impl Write) -> fmt::Result {
    let mut text = String::new();
    if let (Some(difference), Some((_, issued))) =
        (row.difference_percent(), row.issued().one_formula_unit())
    {
        let size = difference.abs();
        let two = size.to_figures(2, TieRule::Even);
        // Beyond a hundredth of a per cent nothing is worth printing.
        let shown = if two.places() > 2 {
            size.to_places(2, TieRule::Even)
        } else {
            two
        };
        let way = if difference.is_negative() {
            "below"
        } else {
            "above"
        };
        let _ = if shown.value().is_zero() {
            write!(text, "At the bench: x is the {issued} issued. ")
        } else {
            write!(
                text,
                "At the bench: x is {shown} % {way} the {issued} issued. "
            )
        };
    }
    match run.outcome() {
        Outcome::Resolved(hydrate) => {
            let _ = write!(text, "The readings resolve {hydrate}.");
        }
        Outcome::Approximate(hydrate) => {
            let refuted = run.constant_mass().and_then(Constancy::reached) == Some(false);
            let but = if refuted {
                "though the mass was not constant"
            } else {
                "though not as closely as the balance allows"
            };
            let _ = write!(text, "The readings point to {hydrate}, {but}.");
        }
        Outcome::Ambiguous(several) => {
            let names: Vec<String> = several.iter().map(ToString::to_string).collect();
            let _ = write!(
                text,
                "The readings cannot tell {} apart.",
                crate::text::list(names)
            );
        }
        Outcome::Inconsistent => {
            let _ = write!(
                text,
                "The readings point to no hydrate; {} is the nearest.",
                run.nearest_formula()
            );
        }
    }
    paragraph(out, "  ", &text)?;
    for warning in run.warnings() {
        paragraph(out, "  ! ", warning.text())?;
    }
    // What the series alone does not tell: how far the last weighing is from where it should be.
    let telling = [
        "still_to_lose",
        "lower_hydrate",
        "decomposed",
        "too_light",
        "far_too_light",
    ];
    let reasons = row.check().map_or(&[][..], Check::reasons);
    for reason in reasons
        .iter()
        .filter(|reason| telling.contains(&reason.code()))
        .filter(|reason| run.warnings().iter().all(|w| w.text() != reason.text()))
    {
        paragraph(out, "  ! ", reason.text())?;
    }
    Ok(())
}

fn answered(answer: &Answer, out: &mut impl Write) -> fmt::Result {
    let reported = match answer.reported() {
        "" => "(blank)".into(),
        _ => answer.reported_with_unit(),
    };
    let text = format!("{} {reported}: {}", answer.quantity(), sentence(answer));
    paragraph(out, &format!("    [{}] ", answer.marks()), &text)
}

fn sentence(answer: &Answer) -> String {
    use crate::class::Verdict;
    match answer.verdict() {
        // Where the same digits were handed in, there is nothing to add.
        Verdict::Correct if answer.expected_as_written().as_deref() == Some(answer.reported()) => {
            "correct".into()
        }
        // The reason begins with the word.
        Verdict::Correct => answer.reason(),
        verdict => format!("{verdict}: {}", answer.reason()),
    }
}

fn class(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    section(out, "The class")?;
    let mut table = Table::new([
        ("  Benches", Align::Left),
        ("n", Align::Right),
        ("Mean x", Align::Right),
        ("Median", Align::Right),
        ("s", Align::Right),
        ("95 % interval of the mean", Align::Left),
    ]);
    for (name, pooled) in [
        ("  all", marked.pooled()),
        ("  at constant mass", marked.at_constant_mass()),
    ] {
        table.row(pool(name, pooled));
    }
    table.write(out)?;
    if marked.pooled().sd().is_none() {
        paragraph(out, "  ", "Below five benches no spread is given.")?;
    }
    Ok(())
}

fn pool(name: &str, pooled: &Pooled) -> [String; 6] {
    let places = |value: Option<&Ratio>| {
        value.map_or_else(String::new, |v| v.to_places(3, TieRule::Even).to_string())
    };
    let interval = pooled
        .interval()
        .map_or_else(String::new, |(low, high)| format!("{low:.2} to {high:.2}"));
    [
        name.into(),
        pooled.n().to_string(),
        places(pooled.mean()),
        places(pooled.median()),
        pooled.sd().map_or_else(String::new, two_figures),
        interval,
    ]
}

fn remarks(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    if !marked.problems().is_empty() {
        section(out, "Problems")?;
        for problem in marked.problems() {
            paragraph(out, "  - ", &problem.to_string())?;
        }
    }
    if !marked.notes().is_empty() {
        section(out, "About the sheet")?;
        for note in marked.notes() {
            paragraph(out, "  - ", note.text())?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::{Marker, Sheet};
    use crate::gravimetry::Method;

    #[test]
    fn stand_in_readings_are_called_so() {
        let text = "bench,pupil,hydrate_g,residue_g,stand_in\nHeron,a,2.666,1.303,\nWren,b,2.777,1.357,yes\nWren,c,,,\n";
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
        let mut key = String::new();
        write_key(&marked, &mut key).unwrap();
        let lines = |with: &str| -> Vec<&str> {
            let found = key.lines().filter(|line| line.contains(with));
            found.collect()
        };
        assert_eq!(lines("stand-in readings").len(), 4, "{key}");
        for start in ["Wren, b (stand-in readings)", "Wren, c (stand-in readings)"] {
            assert_eq!(lines(start), [start], "{key}");
        }
        assert!(lines("Wren (stand-in readings)  b")[0].contains("2.777"));
        assert!(lines("Heron").iter().all(|line| !line.contains("stand-in")));
        let all = lines("  all")[0];
        assert_eq!(all.split_whitespace().nth(1), Some("1"), "{key}");
    }
}
