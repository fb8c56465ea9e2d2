//! Every formula has a severity, and water never makes a salt milder.

use effloresce::gravimetry::{HeatingSafety, Severity, cautions};
use effloresce::{Formula, Ratio};
use proptest::prelude::*;
use proptest::sample::select;

use crate::strategies::{Spelling, open_meaning};

fn severity(formula: &Formula) -> Severity {
    HeatingSafety::of(formula).severity()
}

/// Cations with their charges.
const CATIONS: [(&str, u32); 12] = [
    ("Na", 1),
    ("K", 1),
    ("NH4", 1),
    ("Mg", 2),
    ("Ca", 2),
    ("Cu", 2),
    ("Zn", 2),
    ("Sr", 2),
    ("Al", 3),
    ("Fe", 3),
    ("Cr", 3),
    ("La", 3),
];

/// Anions with their charges, and what a plain reading of them says at least.
const ANIONS: [(&str, u32, Severity); 22] = [
    ("CrO4", 2, Severity::Forbidden),
    ("Cr2O7", 2, Severity::Forbidden),
    ("ClO4", 1, Severity::Forbidden),
    ("ClO3", 1, Severity::Forbidden),
    ("ClO2", 1, Severity::Forbidden),
    ("BrO3", 1, Severity::Forbidden),
    ("MnO4", 1, Severity::Forbidden),
    ("N3", 1, Severity::Forbidden),
    ("CN", 1, Severity::Forbidden),
    ("SCN", 1, Severity::Forbidden),
    ("F", 1, Severity::Forbidden),
    ("AsO4", 3, Severity::Forbidden),
    ("NO3", 1, Severity::FumeCupboard),
    ("NO2", 1, Severity::FumeCupboard),
    ("S", 2, Severity::FumeCupboard),
    ("C2O4", 2, Severity::FumeCupboard),
    ("CH3COO", 1, Severity::FumeCupboard),
    ("S2O3", 2, Severity::FumeCupboard),
    ("SO3", 2, Severity::FumeCupboard),
    ("HSO4", 1, Severity::FumeCupboard),
    ("IO3", 1, Severity::FumeCupboard),
    ("VO3", 1, Severity::FumeCupboard),
];

fn group(ion: &str, count: u32) -> String {
    match count {
        1 => ion.to_owned(),
        _ => format!("({ion}){count}"),
    }
}

/// A salt in one of five spellings, and what a plain reading of it says at least.
fn salt() -> impl Strategy<Value = (String, Severity)> {
    let parts = (select(CATIONS.to_vec()), select(ANIONS.to_vec()));
    (parts, 0_u32..5, 1_u32..13).prop_map(|(((cation, plus), (anion, minus, least)), way, n)| {
        let (cations, anions) = match plus % minus {
            0 => (1, plus / minus),
            _ => (minus, plus),
        };
        let salt = format!("{}{}", group(cation, cations), group(anion, anions));
        let text = match way {
            0 => salt,
            1 => format!("{salt}·{n}H2O"),
            2 => format!("[{}]({anion}){anions}·{n}H2O", group(cation, cations)),
            3 => format!("{{{}}}[{anion}]{anions}", group(cation, cations)),
            _ => format!("{salt}·K2SO4·{n}H2O"),
        };
        let burns = cation == "NH4" && least >= Severity::FumeCupboard;
        let oxidizes = matches!(anion, "NO3" | "NO2" | "IO3");
        let least = match (cation, anion) {
            // Fluorspar is almost insoluble (common practice, no source).
            ("Ca", "F") => Severity::Care,
            _ if burns && oxidizes => Severity::Forbidden,
            _ => least,
        };
        (text, least)
    })
}

proptest! {
    #[test]
    fn water_never_makes_a_salt_milder(meaning in open_meaning(), less in 0_u32..12, more in 0_u32..12) {
        let text = Spelling::new(7).write(&meaning);
        if let Ok(formula) = text.parse::<Formula>() {
            let safety = HeatingSafety::of(&formula);
            let notes = cautions(&formula);
            prop_assert_eq!(safety.cautions(), notes.as_slice());
            prop_assert_eq!(notes.last().unwrap().code(), "who_decides");
            prop_assert!(Severity::ALL.contains(&safety.severity()));
            let hydrate = |waters: u32| formula.with_waters(&Ratio::from(waters));
            if let (Some(dry), Some(one), Some(other)) =
                (formula.anhydrous(), hydrate(less), hydrate(less + more))
            {
                prop_assert!(severity(&one) >= severity(&dry), "{dry}");
                prop_assert!(severity(&other) >= severity(&one), "{dry}");
                prop_assert!(severity(&formula) >= severity(&dry), "{dry}");
            }
        }
    }

    #[test]
    fn no_spelling_is_milder_than_a_plain_reading((text, least) in salt()) {
        let formula: Formula = text.parse().unwrap();
        prop_assert!(severity(&formula) >= least, "{text}: {}", severity(&formula));
    }

    #[test]
    fn a_formula_that_only_counts_atoms_is_not_milder((text, least) in salt()) {
        let formula: Formula = text.parse().unwrap();
        let hill = formula.anhydrous().and_then(|salt| salt.composition().ok());
        // With other salts and their ions among its atoms, nothing can be told.
        if let Some(hill) = hill.filter(|_| !text.contains("K2SO4") && !text.contains("HSO4")) {
            let counted: Formula = hill.hill().parse().unwrap();
            prop_assert!(severity(&counted) >= least, "{counted} is {text}: {}", severity(&counted));
        }
    }
}
