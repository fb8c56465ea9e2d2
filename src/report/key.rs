//! The key for a class: a table by bench, each bench's working and marks, the class, the cautions.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::block::Block;
use super::numbers::{short_degree, two_figures};
use super::row::{stock_degree, with_stand_in, write_invented};
use super::table::TextTable;
use super::{bench, markdown, overview, plain};
use crate::class::{Marked, MarkedRow};
use crate::formula::Formula;
use crate::gravimetry::{
    Constancy, Dehydration, Heated, Outcome, Quantity, general_cautions_for, own_cautions_for,
};
use crate::number::TieRule;
use crate::text::{Note, list};

/// Writes the key for a class as plain text.
///
/// # Errors
/// Returns an error if `out` fails.
///
/// ```
/// use effloresce::class::{Marker, Sheet};
/// use effloresce::{gravimetry::Method, report::write_key};
/// let text = "bench,hydrate_g,residue_g,reported_ratio\nHeron,2.666,1.303,6.99\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
/// let mut key = String::new();
/// write_key(&marked, &mut key).unwrap();
/// assert!(key.contains("    [1] mole ratio 6.99: correct: the bench's own readings give 6.989.\n"));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_key(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    write_invented(marked, out)?;
    plain::write(&blocks(marked), out)
}

/// Writes the key for a class as Markdown, with tables in pipes.
///
/// Signs in the names of the sheet that Markdown would read as its own are escaped, so no name becomes a
/// row of a table, HTML, an image or a link. One thing stays: some programs link a bare mail address.
///
/// # Errors
/// Returns an error if `out` fails.
///
/// ```
/// use effloresce::class::{Marker, Sheet};
/// use effloresce::{gravimetry::Method, report::write_key_markdown};
/// let text = "bench,hydrate_g,residue_g,reported_ratio\nHeron|2,2.666,1.303,6.99\n";
/// let sheet = Sheet::read(text.as_bytes())?;
/// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
/// let mut key = String::new();
/// write_key_markdown(&marked, &mut key).unwrap();
/// assert!(key.contains("\n## Heron\\|2\n"));
/// # Ok::<(), effloresce::Error>(())
/// ```
pub fn write_key_markdown(marked: &Marked, out: &mut impl Write) -> fmt::Result {
    write_invented(marked, out)?;
    markdown::write(&blocks(marked), out)
}

fn blocks(marked: &Marked) -> Vec<Block> {
    let mut blocks = heading("Key", marked);
    blocks.extend(benches(marked));
    blocks.extend(marked.rows().iter().map(bench::section));
    overview::section(marked, &mut blocks);
    remarks(marked, &mut blocks);
    care(marked, &mut blocks);
    blocks
}

/// The percentage that what was issued loses, if heating should leave a lower hydrate.
fn lower_residue(marked: &Marked, issued: &Formula) -> Option<String> {
    let mut rows = marked
        .rows()
        .iter()
        .filter(|row| row.issued() == Some(issued));
    let dehydration = rows.find_map(MarkedRow::dehydration)?;
    dehydration.residue().waters()?;
    let mut candidates = dehydration.candidates().iter();
    let (_, waters) = issued.one_formula_unit()?;
    let theory = candidates.find(|candidate| *candidate.waters() == waters)?;
    let percent = theory.expected_percent_water().to_places(2, TieRule::Even);
    let residue = dehydration.residue();
    Some(format!("{percent} % water lost until {residue} is left"))
}

/// The hydrates that were issued to the rows, each once, that of the class first.
pub(super) fn salts(marked: &Marked) -> Vec<&Formula> {
    let class = marked.issued();
    let own = |row: &MarkedRow| row.issued() == Some(class);
    let first = marked.rows().iter().any(own).then_some(class);
    let mut salts: Vec<&Formula> = first.into_iter().collect();
    for issued in marked.rows().iter().filter_map(MarkedRow::issued) {
        if !salts.contains(&issued) {
            salts.push(issued);
        }
    }
    if salts.is_empty() {
        salts.push(class);
    }
    salts
}

/// The same with the residues that heating them should leave.
pub(super) fn heated(marked: &Marked) -> impl Iterator<Item = Heated<'_>> {
    let salts = salts(marked).into_iter();
    salts.map(|salt| marked.heated(salt))
}

/// What must be known of the salts before all else, if there is such a thing.
pub(super) fn own_cautions(marked: &Marked) -> Option<Block> {
    let own = own_cautions_for(heated(marked));
    (!own.is_empty()).then(|| Block::dashes(own.iter().map(Note::text)))
}

/// The title with what it begins with, the cautions for the salts, and what is expected of them.
pub(super) fn heading(title: &str, marked: &Marked) -> Vec<Block> {
    let (issued, salts) = (marked.issued(), salts(marked));
    let percent = |formula: &Formula| {
        let percent = formula.percent_water(marked.weights()).ok().flatten()?;
        Some(percent.to_places(2, TieRule::Even))
    };
    let names = list(salts.iter().map(ToString::to_string));
    let mut blocks = Vec::from([Block::Title(format!("{title}: loss on heating of {names}"))]);
    blocks.extend(own_cautions(marked));
    for salt in &salts {
        if let (Some(percent), Some((_, waters))) = (percent(salt), salt.one_formula_unit()) {
            let name = match salts.len() {
                1 => String::new(),
                _ => format!(" for {salt}"),
            };
            let lost = lower_residue(marked, salt);
            let lost = lost.unwrap_or_else(|| format!("{percent} % water"));
            let theory = format!("Theory{name}: {lost}, x = {waters}.");
            blocks.push(Block::Paragraph(theory));
        }
    }
    let mut rows = marked
        .rows()
        .iter()
        .filter(|row| row.issued() == Some(issued));
    if let Some(degree) = rows.find_map(stock_degree) {
        let content = issued
            .one_formula_unit()
            .and_then(|(salt, _)| percent(&salt.with_waters(degree)?))
            .map_or_else(String::new, |percent| format!("{percent} % water, "));
        blocks.push(Block::Paragraph(format!(
            "The stock holds {content}x = {}. The accuracy of each bench is measured from this value.",
            short_degree(degree)
        )));
    }
    let weights = format!("Atomic weights: {}.", marked.weights());
    blocks.push(Block::Paragraph(weights));
    blocks.push(Block::paragraph(
        "Each bench is marked against its own readings. Its accuracy is shown separately.",
    ));
    blocks
}

/// The table by bench, or one for each salt that was issued.
pub(super) fn benches(marked: &Marked) -> Vec<Block> {
    let salts = salts(marked);
    if salts.len() == 1 {
        return Vec::from([Block::Table(by_bench("Results by bench", marked.rows()))]);
    }
    let mut blocks = Vec::new();
    for salt in salts.into_iter().map(Some).chain([None]) {
        let rows = marked.rows().iter().filter(|row| row.issued() == salt);
        let mut rows = rows.peekable();
        if rows.peek().is_some() {
            let title = match salt {
                Some(salt) => salt.to_string(),
                None => "Not known what was issued".into(),
            };
            let caption = format!("Results by bench: {title}");
            blocks.push(Block::Section(title));
            blocks.push(Block::Table(by_bench(caption, rows)));
        }
    }
    blocks
}

fn by_bench<'a>(
    caption: impl Into<Cow<'static, str>>,
    rows: impl IntoIterator<Item = &'a MarkedRow>,
) -> TextTable {
    let mut table = TextTable::new(caption)
        .names(["Bench", "Pupil", "Period"])
        .right(["Hydrate/g", "Residue/g", "Water/g", "Water/%", "x", "u(x)"])
        .left(["Constant mass"])
        .formulas(["Nearest hydrate"])
        .right(["Calculation", "Accuracy", "Marks"]);
    for row in rows {
        let mut cells = Vec::from([
            with_stand_in(row.stand_in(), row.bench()),
            row.pupil().unwrap_or_default().into(),
            row.period().unwrap_or_default().into(),
        ]);
        cells.extend(results(row).unwrap_or_default());
        cells.extend(marks_in_columns(row));
        table.row(cells);
    }
    table
}

/// The columns of the table that hold the results of a bench. Without what was issued, they are only
/// those of its masses.
fn results(row: &MarkedRow) -> Option<[String; 8]> {
    let loss = row.mass_loss().filter(|_| row.has_own_readings())?;
    let written = |quantity| loss.written(quantity).unwrap_or_default();
    let [x, u, nearest] = row
        .dehydration()
        .map_or_else(Default::default, |dehydration| {
            [
                written(Quantity::Ratio),
                uncertainty(dehydration),
                nearest_hydrate(dehydration),
            ]
        });
    Some([
        written(Quantity::HydrateMass),
        written(Quantity::ResidueMass),
        written(Quantity::WaterMass),
        written(Quantity::PercentWater),
        x,
        u,
        constant_mass(loss).into(),
        nearest,
    ])
}

fn constant_mass(dehydration: &Dehydration) -> &'static str {
    match dehydration.constant_mass().map(Constancy::reached) {
        None => "",
        Some(None) => "one heating",
        Some(Some(true)) => "yes",
        Some(Some(false)) => "no",
    }
}

/// The marks for calculation and for accuracy, if the row has both, and the total with the number of
/// answers that are still open.
pub(super) fn marks_in_columns(row: &MarkedRow) -> [String; 3] {
    let Some(marks) = row.so_far() else {
        let why = if row.absent() { "absent" } else { "not marked" };
        return [String::new(), String::new(), why.into()];
    };
    let (calculation, accuracy) = match (row.calculation(), row.accuracy()) {
        (Some(calculation), Some(accuracy)) => (
            format!("{calculation}/{}", row.calculation_out_of()),
            format!("{accuracy}/{}", row.accuracy_out_of()),
        ),
        _ => Default::default(),
    };
    let total = if row.answers().is_empty() && row.accuracy().is_none() {
        String::new()
    } else {
        let open = match row.by_hand() {
            0 if row.total().is_none() => " (in part)".into(),
            0 => String::new(),
            open => format!(" ({open} open)"),
        };
        format!("{marks}/{}{open}", row.out_of())
    };
    [calculation, accuracy, total]
}

/// The standard uncertainty of the ratio, with `≥` if water may be left that it does not cover.
fn uncertainty(dehydration: &Dehydration) -> String {
    let uncertainty = two_figures(dehydration.standard_uncertainty());
    if dehydration.uncertainty_is_lower_bound() {
        return format!("≥ {uncertainty}");
    }
    uncertainty
}

fn nearest_hydrate(dehydration: &Dehydration) -> String {
    match dehydration.outcome() {
        Outcome::Resolved(hydrate) => format!("{hydrate}"),
        Outcome::Approximate(hydrate) => format!("{hydrate} (approximate)"),
        Outcome::Ambiguous(several) => match several.as_slice() {
            [first, .., last] => format!("{first} to {last}"),
            _ => "several".into(),
        },
        Outcome::Inconsistent => format!("{} (does not fit)", dehydration.nearest_formula()),
    }
}

pub(super) fn remarks(marked: &Marked, blocks: &mut Vec<Block>) {
    let problems = marked.problems().iter().map(ToString::to_string);
    let notes = marked.notes().iter().map(ToString::to_string);
    for (title, texts) in [
        ("Problems", problems.collect::<Vec<_>>()),
        ("About the sheet", notes.collect()),
    ] {
        if !texts.is_empty() {
            blocks.push(Block::section(title));
            blocks.push(Block::dashes(texts));
        }
    }
}

pub(super) fn care(marked: &Marked, blocks: &mut Vec<Block>) {
    blocks.push(Block::section("Care"));
    let cautions = general_cautions_for(heated(marked));
    blocks.push(Block::dashes(cautions.iter().map(|c| c.text().to_string())));
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

    #[test]
    fn an_uncertainty_that_is_a_lower_bound_is_shown_so() {
        let text = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n\
                    Crane,21.352,24.018,22.655,\nHeron,21.352,24.018,22.701,22.656\n\
                    Wren,21.352,24.018,22.656,22.655\n";
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
        let mut key = String::new();
        write_key(&marked, &mut key).unwrap();
        for (start, bound) in [("Crane  ", true), ("Heron  ", true), ("Wren  ", false)] {
            let line = key.lines().find(|line| line.starts_with(start)).unwrap();
            assert_eq!(line.contains("≥ 0.0"), bound, "{key}");
        }
    }

    #[test]
    fn a_salt_that_must_not_be_heated_is_named_above_everything_else() {
        let sheet =
            Sheet::read("bench,hydrate_g,residue_g\nHeron,2.666,2.345\n".as_bytes()).unwrap();
        let key = |issued: &str| {
            let marked = Marker::new(issued.parse().unwrap(), Method::new()).mark(&sheet);
            let (mut key, mut during) = (String::new(), String::new());
            write_key(&marked, &mut key).unwrap();
            super::super::write_during(&marked, &mut during).unwrap();
            [key, during]
        };
        for text in key("Na2Cr2O7·2H2O") {
            let first = text.lines().find(|line| line.starts_with("  -")).unwrap();
            assert!(
                first.contains("Na2Cr2O7 must not be heated in a school at all."),
                "{text}"
            );
        }
        for (issued, words) in [("BaCl2·2H2O", "(H301)"), ("FeSO4·7H2O", "not well suited")] {
            let [key, _] = key(issued);
            let (top, rest) = key.split_once("\nTheory").unwrap();
            assert!(top.contains(words) && !rest.contains(words), "{key}");
            assert!(rest.contains("Wear eye protection"), "{key}");
        }
        let [key, _] = key("MgSO4·7H2O");
        assert!(key.lines().nth(1).unwrap().starts_with("Theory"), "{key}");
    }

    /// The key of one bench with these readings, with line ends read as spaces.
    fn key_of_bench(method: Method, issued: &str, readings: &str) -> String {
        let text = format!(
            "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\nHeron,{readings}\n"
        );
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marked = Marker::new(issued.parse().unwrap(), method).mark(&sheet);
        let mut key = String::new();
        write_key(&marked, &mut key).unwrap();
        key.split_whitespace().collect::<Vec<&str>>().join(" ")
    }

    fn magnesium(readings: &str) -> String {
        key_of_bench(Method::new(), "MgSO4·7H2O", readings)
    }

    #[test]
    fn impossible_readings_are_shown_as_they_make_sense() {
        for (readings, said) in [
            (
                "20.137,22.648,21.364,12.363",
                "The readings make sense with 21.363 g.",
            ),
            (
                "22.648,21.364,20.137,",
                "The three readings make sense in another order: the empty container 20.137 g",
            ),
        ] {
            let key = magnesium(readings);
            assert!(key.contains(said), "{key}");
        }
        assert!(!magnesium("20.137,22.648,21.364,21.363").contains("make sense"));
    }

    #[test]
    fn a_reading_that_may_be_wrong_is_named() {
        let last = magnesium("20.137,22.648,21.364,20.363");
        let said = "One wrong digit in the weighing after heating 2 (20.363 g) explains this.";
        assert!(last.contains(said), "{last}");
        let earlier = magnesium("20.500,23.000,22.721,21.722");
        assert!(earlier.contains("(22.721 g)"), "{earlier}");
        let right = magnesium("20.137,22.648,21.364,21.363");
        assert!(!right.contains("digit"), "{right}");
        // The salt was heated beyond its residue, which explains the mass.
        let method = Method::new()
            .residue(&"CuSO4·H2O".parse().unwrap())
            .unwrap();
        let beyond = key_of_bench(method, "CuSO4·5H2O", "19.950,22.450,21.549,21.548");
        assert!(beyond.contains("heated beyond"), "{beyond}");
        assert!(!beyond.contains("digit"), "{beyond}");
    }
}
