//! A loss that is more than the water: is it consistent with a salt that was heated too far?
//!
//! Mass alone cannot distinguish a decomposed salt from lost solid or a damp sample. So a note says
//! "consistent with" and names the other causes. There are two cases, both only if more was lost than
//! the water of the highest hydrate considered:
//!
//! - The mass is that of a known residue, and it is not known to be still falling.
//! - The mass lies between the anhydrous salt and the last known residue, and it is not known to be
//!   constant. A decomposing salt goes on losing mass, but a salt of which some was lost does not.
//!
//! Residues that need more heat than a burner gives are left out.

use alloc::format;
use alloc::vec::Vec;

use super::salts::{Decomposition, decompositions};
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::number::Ratio;
use crate::text::Note;

/// A solid that a salt may leave.
pub(super) struct Residue {
    decomposition: &'static Decomposition,
    /// The mass in grams for each mole of the salt.
    pub(super) mass: Ratio,
}

/// The residues that a burner can produce and that are lighter than the salt, in the order in which
/// they appear on heating.
pub(super) fn residues(salt: &Formula, weights: &AtomicWeights, salt_mass: &Ratio) -> Vec<Residue> {
    decompositions(salt)
        .iter()
        .filter(|decomposition| decomposition.within_reach())
        .filter_map(|decomposition| {
            let molar = decomposition.residue().molar_mass(weights).ok()?;
            let mass = decomposition.per_salt() * molar.exact();
            (mass < *salt_mass).then_some(Residue {
                decomposition,
                mass,
            })
        })
        .collect()
}

/// The solid that a salt turns into and gains mass, and its mass in grams for each mole of the salt.
pub(super) fn heavier_residue(
    salt: &Formula,
    weights: &AtomicWeights,
    salt_mass: &Ratio,
) -> Option<(Formula, Ratio)> {
    let known = decompositions(salt).iter();
    let known = known.map(|own| (own.residue().clone(), own.per_salt().clone()));
    known.chain(in_air(salt)).find_map(|(residue, per_salt)| {
        let molar = residue.molar_mass(weights).ok()?;
        let mass = &per_salt * molar.exact();
        (mass > *salt_mass).then_some((residue, mass))
    })
}

/// What a strong base becomes that takes up carbon dioxide from the air, or a sulfite that takes up oxygen,
/// and the number of its formula units for each of the salt. That they do so has its sources in the rows of
/// `Ba(OH)2`, `LiOH` and `Na2SO3`; of the other salts it is from memory.
fn in_air(salt: &Formula) -> Option<(Formula, Ratio)> {
    let (residue, per_salt) = match salt.composition().ok()?.hill().as_str() {
        "BaH2O2" => ("BaCO3", "1"),
        "H2O2Sr" => ("SrCO3", "1"),
        "CaH2O2" => ("CaCO3", "1"),
        "HLiO" => ("Li2CO3", "1/2"),
        "HNaO" => ("Na2CO3", "1/2"),
        "HKO" => ("K2CO3", "1/2"),
        "Na2O3S" => ("Na2SO4", "1"),
        "K2O3S" => ("K2SO4", "1"),
        _ => return None,
    };
    Some((residue.parse().ok()?, per_salt.parse().ok()?))
}

/// A loss that is more than the water of a hydrate, as if its salt had decomposed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Overheating {
    hydrate: Formula,
    salt: Formula,
    decomposition: &'static Decomposition,
    /// Whether all of the salt decomposed: the mass is that of the residue, not above it.
    complete: bool,
}

impl Overheating {
    pub(super) fn note(&self) -> Note {
        let Overheating { hydrate, salt, .. } = self;
        let residue = self.decomposition.residue();
        let text = match self.complete {
            true => format!(
                "The loss also fits {hydrate} that lost all its water and whose {salt} turned into {residue}. This is \
                 consistent with decomposition, and also with lost solid."
            ),
            false => format!(
                "More was lost than the water of {hydrate}. This is consistent with {salt} that partly decomposed to \
                 {residue}, with lost solid, or with a damp sample. Mass alone cannot distinguish them."
            ),
        };
        Note::new("decomposed", text)
            .with("hydrate", format!("{hydrate}"))
            .with("residue", format!("{residue}"))
            .with("gases", self.decomposition.gases())
    }
}

impl Residue {
    /// The mass of this residue from `hydrate` grams of a hydrate whose molar mass is `whole`.
    pub(super) fn left_of(&self, hydrate: &Ratio, whole: &Ratio) -> Option<Ratio> {
        (hydrate * &self.mass).checked_div(whole)
    }

    pub(super) fn overheating(
        &self,
        complete: bool,
        salt: &Formula,
        hydrate: &Formula,
    ) -> Overheating {
        Overheating {
            hydrate: hydrate.clone(),
            salt: salt.clone(),
            decomposition: self.decomposition,
            complete,
        }
    }
}

/// The residue whose mass the solid has within `tolerance`, the nearest one. `excess` is as in [`explaining`].
pub(super) fn at_mass_of(
    residues: &[Residue],
    tolerance: f64,
    excess: impl Fn(&Residue) -> Option<f64>,
) -> Option<&Residue> {
    let off = |residue| Some((residue, excess(residue)?.abs()));
    let near = residues.iter().filter_map(off);
    let near = near.filter(|(_, distance)| *distance <= tolerance);
    let nearest = near.min_by(|(_, a), (_, b)| a.total_cmp(b));
    nearest.map(|(residue, _)| residue)
}

/// The residue that explains a mass, with whether all of the salt has turned into it.
///
/// `excess(residue)` is the mass of the solid minus its mass if it were that residue, in any unit.
/// `tolerance` is in the same unit.
pub(super) fn explaining(
    residues: &[Residue],
    reached: Option<bool>,
    tolerance: f64,
    excess: impl Fn(&Residue) -> Option<f64>,
) -> Option<(bool, &Residue)> {
    let near = at_mass_of(residues, tolerance, &excess);
    if let Some(residue) = near.filter(|_| reached != Some(false)) {
        return Some((true, residue));
    }
    let last = residues.last()?;
    let above_last = reached != Some(true) && excess(last)? > -tolerance;
    above_last.then_some((false, last))
}

#[cfg(test)]
mod tests {
    use alloc::string::{String, ToString};

    use super::*;
    use crate::gravimetry::{Advice, Method, Net, Weighings};

    fn weighed(hydrate: &str, heated: &[&str]) -> Weighings {
        Weighings::new(
            "20.0000".parse().unwrap(),
            hydrate.parse().unwrap(),
            heated.iter().map(|h| h.parse().unwrap()),
        )
    }

    /// The decompositions that are noted, as `hydrate → residue`.
    fn decompositions<'a>(notes: impl IntoIterator<Item = &'a Note>) -> Vec<String> {
        notes
            .into_iter()
            .filter(|note| note.code() == "decomposed")
            .map(|note| {
                let values: Vec<&str> = note.values().map(|(_, value)| value).collect();
                format!("{} → {}", values[0], values[1])
            })
            .collect()
    }

    fn of(method: &Method, salt: &str, weighings: &Weighings) -> Vec<Note> {
        let run = method
            .dehydration(&salt.parse().unwrap(), weighings)
            .unwrap();
        run.warnings()
    }

    fn copper(heated: &[&str]) -> Vec<String> {
        // 0.01 mol of CuSO4·5H2O (249.677 g/mol).
        decompositions(&of(&Method::new(), "CuSO4", &weighed("22.4968", heated)))
    }

    #[test]
    fn copper_sulfate_by_hand() {
        // It leaves 1.5960 g of CuSO4 (159.602), then 0.7955 g of CuO (79.545).
        assert_eq!(copper(&["21.5961", "21.5960"]), [""; 0]);
        assert_eq!(copper(&["20.7956", "20.7955"]), ["CuSO4·5H2O → CuO"]);
        // Half way: 0.01 mol of CuO·CuSO4 for every two, 1.1957 g.
        assert_eq!(copper(&["21.1958", "21.1957"]), ["CuSO4·5H2O → CuO·CuSO4"]);
        // Between two residues: noted after one weighing or while the mass falls, not if it is constant.
        assert_eq!(copper(&["21.5300"]), ["CuSO4·5H2O → CuO"]);
        assert_eq!(copper(&["21.5500", "21.5300"]), ["CuSO4·5H2O → CuO"]);
        assert_eq!(copper(&["21.5300", "21.5300"]), [""; 0]);
        // x = 5.02 is within 1 %, x = 22.7 is beyond the oxide.
        assert_eq!(copper(&["21.5937"]), [""; 0]);
        assert_eq!(copper(&["20.7000"]), [""; 0]);
        // Not all the water was lost here.
        assert_eq!(copper(&["21.7761", "21.7761"]), [""; 0]);
    }

    #[test]
    fn the_words_name_the_other_causes() {
        let part = of(
            &Method::new(),
            "CuSO4",
            &weighed("22.4968", &["21.5500", "21.5300"]),
        );
        assert_eq!(
            part.last().unwrap().text(),
            "More was lost than the water of CuSO4·5H2O. This is consistent with CuSO4 that partly decomposed to CuO, \
             with lost solid, or with a damp sample. Mass alone cannot distinguish them."
        );
        let whole = of(
            &Method::new(),
            "CuSO4",
            &weighed("22.4968", &["20.7956", "20.7955"]),
        );
        assert_eq!(
            whole.last().unwrap().text(),
            "The loss also fits CuSO4·5H2O that lost all its water and whose CuSO4 turned into CuO. This is consistent \
             with decomposition, and also with lost solid."
        );
        let gases = whole.last().unwrap().values().last();
        assert_eq!(gases, Some(("gases", "SO3 + SO2 + O2")));
    }

    #[test]
    fn other_salts_and_forms() {
        let net = |salt: &str, hydrate: &str, residue: &str| {
            let weighings = Weighings::net(
                hydrate.parse().unwrap(),
                residue.parse().unwrap(),
                Net::Tared,
            );
            decompositions(&of(&Method::new(), salt, &weighings))
        };
        // 0.01 mol of MgCl2·6H2O is 2.0330 g, of Mg(OH)Cl 0.7676 g, of MgO 0.4030 g.
        assert_eq!(net("MgCl2", "2.0330", "0.7676"), ["MgCl2·6H2O → Mg(OH)Cl"]);
        assert_eq!(net("MgCl2", "2.0330", "0.4030"), ["MgCl2·6H2O → MgO"]);
        assert_eq!(net("MgCl2", "2.0330", "0.6000"), ["MgCl2·6H2O → MgO"]);
        // 0.01 mol of CoCl2·6H2O is 2.3792 g; a third of 0.01 mol of Co3O4 is 0.8026 g.
        assert_eq!(net("CoCl2", "2.3792", "0.8026"), ["CoCl2·6H2O → Co3O4"]);
        // 0.01 mol of FeSO4·7H2O is 2.7801 g; half of 0.01 mol of Fe2O3 is 0.7984 g.
        assert_eq!(net("FeSO4", "2.7801", "0.7984"), ["FeSO4·7H2O → Fe2O3"]);
        // A burner does not make MgO of MgSO4, and thiosulfate loses nothing when it decomposes.
        assert_eq!(net("MgSO4", "2.4647", "0.4030"), [""; 0]);
        assert_eq!(net("Na2S2O3", "2.4818", "1.4500"), [""; 0]);
        assert_eq!(net("BaCl2", "2.4426", "2.0000"), [""; 0]);
        // 100 % × (249.677 − 79.545)/249.677.
        let percent = Weighings::percent_water("68.14".parse().unwrap());
        let decompositions_with = |method: &Method| decompositions(&of(method, "CuSO4", &percent));
        assert_eq!(decompositions_with(&Method::new()), ["CuSO4·5H2O → CuO"]);
        let given = Method::new().candidates([Ratio::from(19)]).unwrap();
        assert_eq!(
            decompositions_with(&given),
            [""; 0],
            "the caller's hydrates count"
        );
    }

    #[test]
    fn a_check_says_so_too() {
        let reasons = |issued: &str, hydrate: &str, heated: &[&str]| {
            let check = Method::new()
                .check(&issued.parse().unwrap(), &weighed(hydrate, heated))
                .unwrap();
            let codes: Vec<String> = check
                .reasons()
                .iter()
                .map(|r| r.code().to_string())
                .collect();
            (check.advice(), codes)
        };
        let copper = |heated: &[&str]| reasons("CuSO4·5H2O", "22.4968", heated);
        let ask = |codes: &[&str]| (Advice::Ask, codes.iter().map(|c| (*c).into()).collect());
        let again = |codes: &[&str]| {
            (
                Advice::StartAgain,
                codes.iter().map(|c| (*c).into()).collect(),
            )
        };
        // 21.5960 g is expected; a hundredth of the loss is 0.009 g, a tenth 0.090 g.
        assert_eq!(
            copper(&["21.5500"]),
            ask(&["too_light", "decomposed", "question"])
        );
        assert_eq!(
            copper(&["21.5700", "21.5500"]),
            ask(&["too_light", "decomposed", "question"])
        );
        assert_eq!(
            copper(&["21.5500", "21.5500"]),
            ask(&["too_light", "question"])
        );
        assert_eq!(
            copper(&["21.5400", "21.5500"]),
            ask(&["gain", "too_light", "question"])
        );
        assert_eq!(
            copper(&["20.7955", "20.7955"]),
            again(&["far_too_light", "decomposed"])
        );
        assert_eq!(copper(&["20.5500"]), again(&["far_too_light"]));
        // This is 21.6500 g with one wrong digit, and so much solid is hardly lost.
        let wrong = (Advice::CheckReadings, [String::from("wrong_digit")].into());
        assert_eq!(copper(&["20.6500"]), wrong);
        // The lower hydrate that was issued counts, not the highest known one: 0.01 mol of
        // CuSO4·3H2O is 2.1365 g.
        assert_eq!(
            reasons("CuSO4·3H2O", "22.1365", &["21.5500"]),
            ask(&["too_light", "decomposed", "question"])
        );
        assert_eq!(
            reasons("MgSO4·7H2O", "22.4647", &["21.1500"]),
            ask(&["too_light", "question"])
        );
    }

    /// The reasons of a check with a container of 20 g and 2 g of the hydrate.
    fn reasons_of(issued: &str, heated: &[&str]) -> Vec<(String, String)> {
        let weighings = weighed("22.000", heated);
        let check = Method::new().check(&issued.parse().unwrap(), &weighings);
        let check = check.unwrap();
        let notes = check.reasons().into_iter();
        notes
            .map(|note| (note.code().into(), note.text().into()))
            .collect()
    }

    #[test]
    fn a_salt_that_took_up_gas_from_the_air_is_not_one_with_water_left() {
        // 2 g of each hydrate leave 1.086 g of Ba(OH)2, 1.000 g of Na2SO3 or 1.142 g of LiOH.
        for (issued, heated, residue) in [
            ("Ba(OH)2·8H2O", ["21.252", "21.251"], "BaCO3"),
            ("Na2SO3·7H2O", ["21.126", "21.125"], "Na2SO4"),
            ("LiOH·H2O", ["21.760", "21.760"], "Li2CO3"),
        ] {
            let reasons = reasons_of(issued, &heated);
            let mut texts = reasons
                .iter()
                .filter(|(code, _)| code == "water_or_heavier");
            let (_, text) = texts
                .next()
                .unwrap_or_else(|| panic!("{issued}: {reasons:?}"));
            assert!(text.contains(&format!("turned into {residue}.")), "{text}");
            assert!(reasons.iter().all(|(_, text)| !text.contains("to lose")));
        }
    }

    #[test]
    fn a_salt_that_loses_more_than_water_does_not_show_how_much_is_left() {
        let reasons = reasons_of("MgCl2·6H2O", &["21.300"]);
        let codes: Vec<&str> = reasons.iter().map(|(code, _)| code.as_str()).collect();
        assert!(codes.contains(&"not_only_water"), "{codes:?}");
        assert!(!codes.contains(&"still_to_lose"), "{codes:?}");
        let (_, text) = &reasons[codes.iter().position(|c| *c == "not_only_water").unwrap()];
        assert_eq!(
            text,
            "The solid is 0.3634 g heavier than MgCl2 would be. HCl may leave with the water, so the mass does not show \
             how much water is left. Ask your teacher before you heat again."
        );
        for suited in ["CaC2O4·H2O", "MgSO4·7H2O"] {
            let reasons = reasons_of(suited, &["21.900"]);
            assert!(
                reasons.iter().any(|(code, _)| code == "still_to_lose"),
                "{suited}"
            );
        }
    }

    #[test]
    fn a_salt_that_gained_oxygen_is_not_one_with_water_left() {
        // 0.01 mol of FeSO4·7H2O is 2.7801 g. It leaves 1.5190 g of FeSO4, or 1.6891 g of Fe(OH)SO4.
        let reasons = |heated: &[&str]| {
            let weighings = weighed("22.7801", heated);
            let issued = "FeSO4·7H2O".parse().unwrap();
            let check = Method::new().check(&issued, &weighings).unwrap();
            assert_eq!(check.advice(), Advice::HeatAgain);
            let reasons = check.reasons();
            assert!(reasons.iter().all(|r| !r.text().contains("to lose")));
            let found = reasons.iter().find(|r| r.code() == "water_or_heavier");
            found.map(|note| note.text().to_string())
        };
        assert_eq!(
            reasons(&["21.6721", "21.6721"]).unwrap(),
            "The solid is 0.1531 g heavier than FeSO4 would be. Either water is left, or the salt turned into \
             Fe(OH)SO4. The mass cannot distinguish them. Ask your teacher before you heat again."
        );
        assert!(reasons(&["21.6891", "21.6891"]).is_some());
        assert!(reasons(&["21.5900"]).is_some());
        // Above the mass of both, water is left.
        let weighings = weighed("22.7801", &["22.1000"]);
        let issued = "FeSO4·7H2O".parse().unwrap();
        let check = Method::new().check(&issued, &weighings).unwrap();
        let codes: Vec<String> = check
            .reasons()
            .iter()
            .map(|r| r.code().to_string())
            .collect();
        assert_eq!(codes, ["one_heating", "still_to_lose"]);
    }
}
