//! Names of hydrates and numerical prefixes, from the recommendations and from textbooks.

use effloresce::formula::ErrorKind;
use effloresce::{AtomicWeights, Formula};

use crate::calc::formula;
use crate::data::{self, Example};
use crate::example::{Answer, Answers, Difference, Tally, run};

pub(crate) const SHELF: &str = "names";

const DIFFERENCES: &[Difference] = &[Difference::new(
    "h-mem-07",
    "formula",
    "",
    "the name does not say which of the hydrate isomers is meant: CrCl3·6H2O has their composition",
)];

/// The formula of a name, in the spelling of the source if both are the same formula.
pub(crate) fn formula_of(example: &Example) -> Answers {
    let (read, _) = Formula::from_name(example.text("name")).unwrap();
    let printed = example.expected["formula"].as_str().unwrap();
    let text = match formula(printed) == read {
        true => printed.to_owned(),
        false => read.to_string(),
    };
    let mut answers = Answers::new();
    answers.insert("formula".to_owned(), Answer::Text(text));
    if let Some(waters) = read.waters() {
        answers.insert("waters".to_owned(), Answer::Number(waters));
    }
    match read.molar_mass(&AtomicWeights::default()) {
        Ok(mass) => {
            answers.insert("molar_mass".to_owned(), Answer::Number(mass.exact()));
        }
        Err(error) => assert_eq!(error.kind(), ErrorKind::UnknownDegree),
    }
    answers
}

/// The prefix for a number, as the name of a hydrate has it.
pub(crate) fn prefix_of(example: &Example) -> Answers {
    let hydrate = formula(&format!("MgSO4·{}H2O", example.text("number")));
    let name = hydrate.name().unwrap();
    let degree = name.name().strip_prefix("magnesium sulfate ").unwrap();
    let prefix = degree.strip_suffix("hydrate").unwrap();
    let (again, _) = Formula::from_name(name.name()).unwrap();
    assert_eq!(again, hydrate);
    Answers::from([("prefix".to_owned(), Answer::Text(prefix.to_owned()))])
}

#[test]
fn every_row() {
    let tally = run(SHELF, DIFFERENCES);
    let expected = Tally {
        exact: 28,
        tolerance: 0,
        source_error: 0,
        definition: 0,
        printed: 28,
        recomputed: 27,
    };
    assert_eq!(tally, expected);
}

fn hill(formula: &Formula) -> Option<String> {
    Some(formula.composition().ok()?.hill())
}

/// Printed names that are not written, each with what is written.
const WRITTEN_OTHERWISE: [(&str, &str); 7] = [
    ("h-os-05", "aluminium fluoride trihydrate"),
    ("h-os-08", "sodium sulfate decahydrate"),
    ("h-os-09", "calcium chloride hexahydrate"),
    ("h-rb-01", "boron trifluoride dihydrate"),
    ("h-rb-06", "aluminium potassium sulfate dodecahydrate"),
    ("h-rb-11", "cobalt(III) oxide n-hydrate"),
    ("h-mem-03", "aluminium potassium sulfate dodecahydrate"),
];

/// The printed formula is given the printed name, and the name in whole proportions is the same
/// substance.
#[test]
fn and_back() {
    let mut rows = 0;
    for example in data::examples() {
        if example.kind != "hydrate_name" {
            continue;
        }
        rows += 1;
        let id = example.id.as_str();
        let printed = formula(example.expected["formula"].as_str().unwrap());
        if id == "h-mem-07" {
            assert!(printed.name().is_err(), "a complex is not named");
            let (read, _) = Formula::from_name(example.text("name")).unwrap();
            assert_eq!(hill(&read), hill(&printed));
            continue;
        }
        let name = printed.name().unwrap();
        let written = WRITTEN_OTHERWISE.iter().find(|(other, _)| *other == id);
        let expected = written.map_or(example.text("name"), |(_, name)| name);
        assert_eq!(name.name(), expected, "{id}");
        let (again, _) = Formula::from_name(name.name()).unwrap();
        assert_eq!(hill(&again), hill(&printed), "{id}");
        let same = |formula: &Formula| hill(&formula.one_formula_unit()?.0);
        let (adduct, _) = Formula::from_name(name.systematic()).unwrap();
        assert_eq!(same(&adduct), same(&printed), "{id}");
    }
    assert_eq!(rows, 21);
}

/// How the sources write the formulas: all of it reads, but for a capital I in the place of an l.
#[test]
fn as_the_sources_write_them() {
    let mut rows = 0;
    for example in data::examples() {
        if example.shelf != SHELF || !example.has("source_notation") {
            continue;
        }
        rows += 1;
        let (written, _) = example.text("source_notation").split_once(' ').unwrap();
        let read = written.parse::<Formula>();
        match example.id.as_str() {
            "h-os-05" => assert_eq!(read.unwrap_err().kind(), ErrorKind::UnknownElement),
            _ => assert_eq!(
                read.unwrap(),
                formula(example.expected["formula"].as_str().unwrap())
            ),
        }
    }
    assert_eq!(rows, 3);
}

/// The handbook's table, all of it: what is read from a name is the substance, and what is written
/// of a formula is read as the same again. Refused are acids, non-metals, complexes, oxides of mixed
/// charge and anions that the table of ions does not have.
#[test]
fn names_of_the_handbook() {
    let (mut read, mut hydrates, mut refused, mut written) = (0, 0, 0, 0);
    for row in data::rows(data::HANDBOOK) {
        let name = row.get("name");
        let printed = formula(row.get("formula"));
        match Formula::from_name(name) {
            // The mass printed there is that of two formula units.
            Ok((found, _)) if name == "Cobalt(III) fluoride dihydrate" => {
                assert_eq!(found.to_string(), "CoF3·2H2O");
            }
            // The name leaves the degree open; the formula there is that of the monohydrate.
            Ok((found, _)) if name == "Vanadyl selenite hydrate" => {
                assert_eq!(found.to_string(), "VOSeO3·xH2O");
            }
            Ok((found, _)) => {
                assert_eq!(hill(&found), hill(&printed), "{name}");
                read += 1;
                hydrates += usize::from(found.is_hydrate());
            }
            Err(error) => {
                assert_eq!(error.kind(), ErrorKind::BadName, "{name}");
                refused += 1;
            }
        }
        if let Ok(name) = printed.name() {
            let (again, _) = Formula::from_name(name.name()).unwrap();
            assert_eq!(hill(&again), hill(&printed), "{name}");
            written += 1;
        }
    }
    assert_eq!((read, hydrates, refused, written), (616, 141, 82, 642));
}
