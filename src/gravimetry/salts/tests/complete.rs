//! The salts of which all kinds of fact are known, a known absence included.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::super::catalogue::{catalogue, rows, salt_facts};
use super::super::fact::Fact;
use super::super::heating_stage::HeatingStage;
use super::super::salt_facts::SaltFacts;
use crate::gravimetry::{Decomposition, cautions};

/// The salts with a complete set of facts. One that loses a kind of fact fails the test.
#[rustfmt::skip]
const COMPLETE: [&str; 47] = [
    "CdSO4", "Mg(NO3)2", "NiC2O4",
    "Al2(SO4)3", "BaCl2", "CaC2O4", "CaCl2", "CaHPO4", "CaSO4", "Co(NO3)2",
    "CoC2O4", "CoCl2", "CoSO4", "Cu(C2H3O2)2", "Cu(NO3)2", "CuCl2", "CuSO4",
    "FeC2O4", "FeCl3", "FeSO4", "H2C2O4", "K2CO3", "KAl(SO4)2", "Li2SO4",
    "MgCO3", "MgCl2", "MgSO4", "Mn(C2H3O2)2", "MnC2O4", "MnSO4", "Na2B4O7",
    "Na2CO3", "Na2HPO4", "Na2MoO4", "Na2S2O3", "Na2SO4", "NaC2H3O2", "NaH2PO4",
    "Ni(C2H3O2)2", "Ni(NO3)2", "NiCl2", "NiSO4", "Pb(C2H3O2)2", "Sr(NO3)2", "SrCl2",
    "ZnC2O4", "ZnSO4",
];

/// A single temperature without conditions.
fn is_bare(stage: &HeatingStage) -> bool {
    let (lowest, highest) = stage.celsius();
    lowest == highest && stage.conditions() == "conditions not given"
}

/// The kinds of fact that are lacking. A fact that something is absent counts.
fn lacking(facts: &SaltFacts) -> Vec<&'static str> {
    let mut decompositions = facts.decompositions().iter();
    let is_whole = facts.heat_remark().is_some();
    [
        (
            "a stage with its range or conditions",
            !facts.stages().iter().all(is_bare),
        ),
        (
            "the residue",
            !facts.decompositions().is_empty() || is_whole,
        ),
        (
            "the suitability with its reason",
            facts.suitability_reason().is_some(),
        ),
        (
            "the hottest safe stage",
            facts.safe_up_to_celsius().is_some() || facts.no_safe_stage().is_some(),
        ),
        (
            "the sign of overheating",
            is_whole
                || decompositions.any(|own| own.sign().is_some())
                || facts.no_visible_sign().is_some(),
        ),
        ("the waste route", facts.waste().is_some()),
        (
            "the hazard statements",
            !facts.hazard_statements().is_empty() || facts.not_classified_source().is_some(),
        ),
    ]
    .into_iter()
    .filter_map(|(kind, is_known)| (!is_known).then_some(kind))
    .collect()
}

#[test]
fn forty_salts_are_complete() {
    for salt in COMPLETE {
        let facts = salt_facts(&salt.parse().unwrap()).unwrap();
        assert_eq!(lacking(facts), Vec::<&str>::new(), "{salt}");
    }
    let taught = catalogue()
        .values()
        .filter(|facts| !facts.stages().is_empty() || facts.suitability().is_some());
    let (complete, others): (Vec<_>, Vec<_>) = taught.partition(|facts| lacking(facts).is_empty());
    let others: Vec<String> = others
        .iter()
        .map(|facts| format!("{}: {}", facts.salt(), lacking(facts).join(", ")))
        .collect();
    let names: Vec<String> = complete
        .iter()
        .map(|facts| facts.salt().to_string())
        .collect();
    let unlisted: Vec<&String> = names
        .iter()
        .filter(|name| !COMPLETE.contains(&name.as_str()))
        .collect();
    assert!(unlisted.is_empty(), "add {unlisted:?}");
    assert!(
        complete.len() >= 40,
        "{} are complete; {others:#?}",
        complete.len()
    );
}

/// A stage without a range and without conditions says so. The source of each has no more.
#[test]
fn few_stages_have_neither_a_range_nor_conditions() {
    let all = catalogue().values().flat_map(SaltFacts::stages);
    let bare: Vec<String> = all
        .filter(|stage| is_bare(stage))
        .map(|stage| format!("{} → {}", stage.from(), stage.to()))
        .collect();
    assert!(bare.len() <= 12, "{bare:#?}");
}

#[test]
fn what_is_absent_contradicts_nothing() {
    for facts in catalogue().values() {
        let salt = facts.salt();
        let has_safe = facts.safe_up_to_celsius().is_some();
        assert!(
            !(has_safe && facts.no_safe_stage().is_some()),
            "{salt}: a safe stage"
        );
        let has_sign = facts
            .decompositions()
            .iter()
            .any(|own| own.sign().is_some());
        assert!(
            !(has_sign && facts.no_visible_sign().is_some()),
            "{salt}: a sign"
        );
        // The decomposition is marked well above the hottest safe stage.
        let marked = facts
            .decompositions()
            .iter()
            .filter_map(Decomposition::marked_from_celsius);
        if let (Some(safe), Some(marked)) = (facts.safe_up_to_celsius(), marked.min()) {
            assert!(
                *safe.value() <= marked,
                "{salt}: {} and {marked}",
                safe.value()
            );
        }
    }
    let absent = |row: &Fact| {
        matches!(
            row,
            Fact::NoSign(_) | Fact::NoSafeStage(_) | Fact::NotClassified
        )
    };
    let (all, recalled) =
        rows()
            .filter(|row| absent(&row.fact))
            .fold((0, 0), |(all, recalled), row| {
                let is_memory = row.source.publication().contains("memory");
                (all + 1, recalled + usize::from(is_memory))
            });
    assert!(all >= 30 && recalled * 6 <= all, "{recalled} of {all}");
}

#[test]
fn cautions_say_what_is_absent() {
    let text = |salt: &str, code: &str| {
        let notes = cautions(&salt.parse().unwrap());
        let note = notes.iter().find(|note| note.code() == code);
        note.map(|note| note.text().to_string()).unwrap_or_default()
    };
    assert!(text("MgSO4·7H2O", "too_hot").contains(
        "You will not see any change, because the sulfate and the oxide are both white."
    ));
    assert!(text("MnSO4·H2O", "too_hot").contains(
        "A sign of this: it turns brown. Colour is a hint, not the end point. (This is from memory.)"
    ));
    // A sign that nobody has noted is not denied.
    assert!(text("CuC2O4", "too_hot").is_empty());
    assert!(text("Ca(OH)2", "too_hot").is_empty());
    assert_eq!(
        text("CaSO4·2H2O", "not_classified"),
        "A safety data sheet does not classify CaSO4 as hazardous before it is heated. Suppliers classify differently. \
         The label on the bottle and its safety data sheet decide."
    );
    // Of two suppliers one gives statements, which are shown.
    let alum = salt_facts(&"KAl(SO4)2".parse().unwrap()).unwrap();
    assert!(alum.not_classified_source().is_some());
    assert!(text("KAl(SO4)2·12H2O", "not_classified").is_empty());
    let notes = cautions(&"KAl(SO4)2·12H2O".parse().unwrap());
    assert!(notes.iter().any(|note| note.text().contains("(H319)")));
}
