//! Formulas: what is meant does not depend on how it is spelt.

use std::collections::BTreeMap;
use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};

use effloresce::formula::{Composition, ErrorKind};
use effloresce::{AtomicWeights, Formula, Ratio};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use crate::strategies::{Counts, Meaning, Spelling, meaning, open_meaning, ratio_of};

fn counts(formula: &Formula) -> Counts {
    counts_of(&formula.composition().unwrap())
}

fn counts_of(composition: &Composition) -> Counts {
    composition
        .into_iter()
        .map(|(atom, count)| (atom.to_string(), count.clone()))
        .collect()
}

fn hash(value: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    value.hash(&mut hasher);
    hasher.finish()
}

/// Reads a text of ours; longer ones than a formula may be are left out.
fn read(text: &str) -> Result<Formula, TestCaseError> {
    match Formula::read(text) {
        Ok((formula, _)) => Ok(formula),
        Err(error) if error.kind() == ErrorKind::TooLarge => {
            Err(TestCaseError::reject("a text longer than any formula"))
        }
        Err(error) => Err(TestCaseError::fail(format!("{text}: {error}"))),
    }
}

/// What is written back is the same formula, and is written back as it stands.
pub(crate) fn reads_back(text: &str, formula: &Formula) -> Result<(), TestCaseError> {
    for written in [formula.to_string(), formula.to_unicode()] {
        let (again, _) = Formula::read(&written)
            .map_err(|e| TestCaseError::fail(format!("{text} → {written}: {e}")))?;
        prop_assert_eq!(&again, formula, "{} → {}", text, written);
        prop_assert_eq!(hash(&again), hash(formula));
        prop_assert_eq!(again.to_string(), formula.to_string());
        prop_assert_eq!(again.to_unicode(), formula.to_unicode());
    }
    // What is canonical is no longer doubtful.
    let canonical = formula.to_string();
    let strict = canonical.parse::<Formula>();
    prop_assert_eq!(strict.as_ref(), Ok(formula), "{} → {}", text, canonical);
    Ok(())
}

/// The same terms and parts in another order, brackets kept together.
fn turned(meaning: &Meaning) -> Meaning {
    let mut turned = meaning.clone();
    turned.parts.reverse();
    for part in &mut turned.parts {
        part.terms.reverse();
    }
    turned
}

fn sum(parts: impl IntoIterator<Item = (Counts, Ratio)>) -> Counts {
    let mut sum = Counts::new();
    for (counts, factor) in parts {
        for (atom, count) in counts {
            let entry: &mut Ratio = sum.entry(atom).or_default();
            *entry = &*entry + &(&count * &factor);
        }
    }
    sum
}

proptest! {
    #[test]
    fn what_is_written_reads_back(meaning in open_meaning(), seed in any::<u64>()) {
        let text = Spelling::new(seed).write(&meaning);
        let formula = read(&text)?;
        reads_back(&text, &formula)?;
        // The strict reader makes the same of a text that it accepts, and of what is written back.
        if let Ok(strict) = text.parse::<Formula>() {
            prop_assert_eq!(&strict, &formula);
        }
    }

    #[test]
    fn the_composition_is_what_was_meant(meaning in meaning(), seed in any::<u64>()) {
        let text = Spelling::new(seed).write(&meaning);
        let expected = meaning.counts().unwrap();
        prop_assert_eq!(counts(&read(&text)?), expected, "{}", text);
    }

    #[test]
    fn every_spelling_is_one_formula(
        meaning in open_meaning(), first in any::<u64>(), second in any::<u64>(),
    ) {
        let first = Spelling::new(first).write(&meaning);
        let second = Spelling::new(second).write(&meaning);
        let (a, b) = (read(&first)?, read(&second)?);
        prop_assert_eq!(&a, &b, "{} and {}", first, second);
        prop_assert_eq!(hash(&a), hash(&b));
        prop_assert_eq!(a.to_string(), b.to_string());
        prop_assert_eq!(a.cmp(&b), std::cmp::Ordering::Equal);
    }

    #[test]
    fn hill_text_knows_no_spelling_and_no_order(
        meaning in meaning(), first in any::<u64>(), second in any::<u64>(),
    ) {
        let first = Spelling::new(first).write(&meaning);
        let second = Spelling::new(second).write(&turned(&meaning));
        let hill = |text: &str| -> Result<String, TestCaseError> {
            Ok(read(text)?.composition().unwrap().hill())
        };
        prop_assert_eq!(hill(&first)?, hill(&second)?, "{} and {}", first, second);
    }

    /// Carbon, then hydrogen, then by symbol; without carbon by symbol alone.
    #[test]
    fn hill_text_is_in_hill_order(meaning in meaning(), seed in any::<u64>()) {
        let text = Spelling::new(seed).write(&meaning);
        let formula = read(&text)?;
        let counts = meaning.counts().unwrap();
        let symbol = |atom: &str| -> String {
            atom.chars().filter(char::is_ascii_alphabetic).collect()
        };
        let carbon = counts.keys().any(|atom| symbol(atom) == "C");
        // Of one element the natural mixture first, then by mass number.
        let mut order: BTreeMap<(u8, String, u16), &str> = BTreeMap::new();
        for atom in counts.keys() {
            let letters = symbol(atom);
            let rank = match letters.as_str() {
                "C" if carbon => 0,
                "H" if carbon => 1,
                _ => 2,
            };
            let mass: String = atom.chars().filter(char::is_ascii_digit).collect();
            order.insert((rank, letters, mass.parse().unwrap_or(0)), atom);
        }
        let expected: String = order
            .values()
            .map(|atom| match &counts[*atom] {
                one if *one == Ratio::ONE => (*atom).to_owned(),
                count => format!("{atom}{count}"),
            })
            .collect();
        prop_assert_eq!(formula.composition().unwrap().hill(), expected, "{}", text);
    }

    #[test]
    fn a_whole_is_the_sum_of_its_parts(meaning in meaning(), seed in any::<u64>()) {
        let weights = AtomicWeights::default();
        let whole = read(&Spelling::new(seed).write(&meaning))?;
        let mut mass = Ratio::ZERO;
        let mut parts = Vec::new();
        for part in &meaning.parts {
            let one = read(&Spelling::new(seed).write(&part.alone()))?;
            let times = part.coefficient.ratio().unwrap();
            let one_mass = one.molar_mass(&weights).unwrap().exact().clone();
            mass = &mass + &(&one_mass * &times);
            parts.push((counts(&one), times));
        }
        prop_assert_eq!(counts(&whole), sum(parts));
        let whole_mass = whole.molar_mass(&weights).unwrap();
        prop_assert_eq!(&whole_mass.exact(), &mass);
        // The description, which weighs each part by itself, adds up to the same.
        let described = whole.describe(&weights).unwrap();
        let added: Ratio = described
            .parts()
            .iter()
            .map(|part| part.coefficient() * &part.molar_mass().exact())
            .sum();
        prop_assert_eq!(&added, &mass);
        let percent: Ratio = described.composition().map(|(_, _, share)| share.clone()).sum();
        prop_assert_eq!(percent, Ratio::from(100));
    }

    /// Atoms are added, taken away and multiplied as they are counted, and so is their mass.
    #[test]
    fn compositions_add_up(
        a in meaning(), b in meaning(), factor in (0_i128..50, 1_i128..9), seed in any::<u64>(),
    ) {
        let [a, b] = [a, b].map(|meaning| read(&Spelling::new(seed).write(&meaning)));
        let (a, b) = (a?, b?);
        let weights = AtomicWeights::default().with("Tc".parse().unwrap(), "98".parse().unwrap()).unwrap();
        let [in_a, in_b] = [&a, &b].map(|formula| formula.composition().unwrap());
        let both = in_a.plus(&in_b);
        prop_assert_eq!(counts_of(&both), sum(vec![(counts(&a), Ratio::ONE), (counts(&b), Ratio::ONE)]));
        prop_assert_eq!(both.iter().len(), counts_of(&both).len());
        let turned = in_b.plus(&in_a);
        prop_assert_eq!(&both, &turned);
        prop_assert_eq!(hash(&both), hash(&turned));
        prop_assert_eq!(&both.minus(&in_b).unwrap(), &in_a);
        prop_assert_eq!(&both.minus(&in_a).unwrap(), &in_b);
        prop_assert!(in_a.minus(&both).is_err());
        let factor = ratio_of(factor.0, factor.1);
        let scaled = in_a.times(&factor).unwrap();
        let times_counts = counts(&a).into_iter().map(|(atom, count)| (atom, count * &factor));
        let kept: Counts = times_counts.filter(|(_, count)| !count.is_zero()).collect();
        prop_assert_eq!(counts_of(&scaled), kept);
        prop_assert!(in_a.times(&-Ratio::ONE).is_err());
        if let (Ok(mass), Ok(other)) = (a.molar_mass(&weights), b.molar_mass(&weights)) {
            let by_atoms = in_a.molar_mass(&weights).unwrap();
            prop_assert_eq!(by_atoms.exact(), mass.exact());
            prop_assert!((by_atoms.uncertainty() - mass.uncertainty()).abs() <= 1e-9 * mass.uncertainty());
            prop_assert_eq!(both.molar_mass(&weights).unwrap().exact(), mass.exact() + other.exact());
            prop_assert_eq!(scaled.molar_mass(&weights).unwrap().exact(), mass.exact() * &factor);
            let percent = both.mass_percentages(&weights).unwrap();
            prop_assert_eq!(percent.iter().map(|(_, share)| share).sum::<Ratio>(), Ratio::from(100));
        } else {
            prop_assert!(both.molar_mass(&weights).is_err());
        }
    }

    #[test]
    fn charges_add_up(meaning in meaning(), seed in any::<u64>()) {
        let mut expected = Some(Ratio::ZERO);
        for part in meaning.parts.iter().filter(|part| part.charge != 0) {
            let charge = part.coefficient.ratio().map(|times| &times * &Ratio::from(part.charge));
            expected = expected.zip(charge).map(|(sum, charge)| &sum + &charge);
        }
        let text = Spelling::new(seed).write(&meaning);
        let formula = read(&text)?;
        let whole = expected.as_ref().and_then(Ratio::to_i128);
        prop_assert_eq!(formula.charge().map(i128::from), whole, "{}", text);
        prop_assert_eq!(formula.exact_charge(), expected, "{}", text);
    }

    #[test]
    fn an_open_count_has_no_mass(meaning in open_meaning(), seed in any::<u64>()) {
        let text = Spelling::new(seed).write(&meaning);
        let formula = read(&text)?;
        let mass = formula.molar_mass(&AtomicWeights::default());
        match meaning.counts() {
            Some(_) => prop_assert!(mass.is_ok(), "{}", text),
            None => {
                let error = mass.unwrap_err();
                prop_assert_eq!(error.kind(), ErrorKind::UnknownDegree, "{}", text);
                let span = error.span().unwrap();
                let found = text.get(span.start..span.end);
                prop_assert!(found.is_some_and(|t| t.contains(['x', 'n', 'ₓ', 'ₙ'])), "{}", text);
            }
        }
    }

    /// Water put behind a formula is the water that is found there.
    #[test]
    fn waters_go_on_and_come_off(meaning in meaning(), n in 1_i128..60, d in 1_i128..9) {
        let formula = read(&Spelling::new(0).write(&meaning))?;
        let waters = Ratio::new(n, d).unwrap();
        if let Some(hydrate) = formula.with_waters(&waters) {
            prop_assert_eq!(hydrate.waters(), Some(waters));
            prop_assert_eq!(hydrate.anhydrous(), formula.anhydrous());
            prop_assert_eq!(formula.anhydrous().unwrap().waters(), None);
        } else {
            prop_assert!(formula.anhydrous().is_none());
        }
    }
}

/// Every symbol there is, alone and between others, in any count that a table of formulas holds.
/// Atoms and groups with counts near the limits: what is counted on the way may outgrow any of
/// them before it comes to a moderate sum.
fn large_terms() -> impl Strategy<Value = (Vec<String>, Vec<String>)> {
    let count = prop_oneof![
        Just("20000".to_owned()),
        Just("0.1234567".to_owned()),
        Just("1/999999937".to_owned()),
        Just("1/999983".to_owned()),
        (1_u32..1_000_000_000).prop_map(|n| n.to_string()),
        (1_u32..10_000_000).prop_map(|n| format!("{n}/10000000")),
    ];
    let symbol = select(vec!["Fe", "Na", "O", "K", "[18O]", "Cl"]);
    let atom = (symbol, count.clone()).prop_map(|(symbol, count)| format!("{symbol}{count}"));
    let group = (vec(atom.clone(), 1..3), count)
        .prop_map(|(atoms, count)| format!("({}){count}", atoms.concat()));
    let whole_again =
        select(vec![999_999_937_u32, 999_983, 10_000_000]).prop_map(|n| format!("(K1/{n}){n}"));
    vec(prop_oneof![3 => atom, 1 => group, 1 => whole_again], 2..7).prop_flat_map(|terms| {
        let shuffled = Just(terms.clone()).prop_shuffle();
        (Just(terms), shuffled)
    })
}

proptest! {
    #[test]
    fn the_order_of_atoms_does_not_decide_whether_a_formula_is_read(
        (terms, shuffled) in large_terms()
    ) {
        let [first, second] = [terms, shuffled].map(|terms| Formula::read(&terms.concat()));
        match (first, second) {
            (Ok((first, _)), Ok((second, _))) => prop_assert_eq!(counts(&first), counts(&second)),
            (Err(first), Err(second)) => {
                prop_assert_eq!(first.kind(), ErrorKind::TooLarge);
                prop_assert_eq!(second.kind(), ErrorKind::TooLarge);
            }
            (first, second) => prop_assert!(false, "{:?} but {:?}", first, second),
        }
    }
}

#[test]
fn sound_formulas_are_read_in_any_order() {
    for text in [
        "Fe20000Na0.1234567O0.1234567",
        "Na0.1234567Fe20000O0.1234567",
        "Na0.1234567O0.1234567Fe20000",
    ] {
        let counts = counts(&text.parse().unwrap());
        let of = |symbol: &str| counts[symbol].to_string();
        assert_eq!((of("Fe"), of("Na")), ("20000".into(), "0.1234567".into()));
        assert_eq!(of("O"), of("Na"));
    }
    // Each group comes to a whole number of atoms, by way of fractions.
    let groups = [
        "(K1/999999937)999999937",
        "(Na1/999983)999983",
        "(Fe1/10000019)10000019",
    ];
    for order in [
        [0, 1, 2],
        [0, 2, 1],
        [1, 0, 2],
        [1, 2, 0],
        [2, 0, 1],
        [2, 1, 0],
    ] {
        let text = order.map(|index| groups[index]).concat();
        let nested = format!("(({text})3)1000");
        for (text, count) in [(text, 1), (nested, 3000)] {
            let counts = counts(&text.parse().unwrap());
            assert!(counts.values().all(|n| *n == Ratio::from(count)), "{text}");
            assert_eq!(counts.len(), 3);
        }
    }
    for text in ["(((K999999999)999)999)999O", "O(((K999999999)999)999)999"] {
        let error = text.parse::<Formula>().unwrap_err();
        assert_eq!(error.kind(), ErrorKind::TooLarge, "{text}");
    }
}

/// Behind so many bytes a formula is kept in another place.
#[test]
fn water_is_water_behind_a_prefix_of_any_length() {
    let spelt = [
        "7H2O", "7OH2", "7HOH", "7(H2O)", "7(OH2)", "7(HOH)", "(HOH)7",
    ];
    for atoms in 1..=60 {
        for atom in ["Na", "Na9999", "[23Na]"] {
            let prefix = atom.repeat(atoms);
            let usual: Formula = format!("{prefix}·7H2O").parse().unwrap();
            assert_eq!(usual.waters(), Some(Ratio::from(7)));
            for water in spelt {
                let text = format!("{prefix}·{water}");
                let formula: Formula = text.parse().unwrap();
                assert_eq!(formula, usual, "{text}");
                assert_eq!(hash(&formula), hash(&usual), "{text}");
            }
            for water in ["(H2O)7", "(OH2)7", "(HOH)7"] {
                let text = format!("{prefix}{water}");
                let (formula, notes) = Formula::read(&text).unwrap();
                assert_eq!(formula, usual, "{text}");
                assert_eq!(notes[0].code(), "bracketed_water", "{text}");
            }
        }
    }
}

#[test]
fn every_element_and_every_count() {
    for element in effloresce::Element::ALL {
        let formula: Formula = format!("{element}2O3").parse().unwrap();
        let count = formula.composition().unwrap().count(element.into());
        let oxygen = element.symbol() == "O";
        assert_eq!(count, Ratio::from(if oxygen { 5 } else { 2 }));
    }
    for count in 1..=2000_u32 {
        let formula: Formula = format!("C{count}H2").parse().unwrap();
        let carbon = formula
            .composition()
            .unwrap()
            .iter()
            .next()
            .unwrap()
            .1
            .clone();
        assert_eq!(carbon, Ratio::from(count));
    }
}
