//! Reactions: what is conserved, whichever equation, whichever way round, however it is scaled.

use std::collections::BTreeMap;

use effloresce::reaction::{Balanced, Balancer, Equation, ErrorKind, Species};
use effloresce::{Formula, Note, Ratio};
use proptest::collection::vec;
use proptest::prelude::*;

const ELEMENTS: [&str; 24] = [
    "Ca", "Mg", "Al", "Si", "Mn", "Fe", "Ni", "Cu", "Zn", "Br", "Ag", "Sn", "Ba", "Na", "Cl", "Li",
    "Ti", "Cr", "Ga", "Ge", "As", "Se", "Rb", "Sr",
];

/// An equation with one balance, made from it: each element but the first combines a reactant and a
/// product in the proportion of their coefficients, all species hang together by these, and then
/// elements are mixed, which changes no balance.
#[derive(Debug, Clone)]
struct Made {
    coefficients: Vec<i64>,
    reactants: usize,
    /// For each element, how many each species has.
    rows: Vec<Vec<i64>>,
    charges: Vec<i64>,
}

fn divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a.abs() } else { divisor(b, a % b) }
}

fn made() -> impl Strategy<Value = Made> {
    let sides = (1_usize..5, 1_usize..5);
    let each = sides.prop_flat_map(|(left, right)| {
        let species = left + right;
        (
            Just((left, right)),
            vec(1_i64..30, species),
            vec((any::<prop::sample::Index>(), 1_i64..4), species - 1),
            vec(
                (
                    any::<prop::sample::Index>(),
                    any::<prop::sample::Index>(),
                    0_i64..3,
                ),
                0..6,
            ),
            (
                any::<prop::sample::Index>(),
                any::<prop::sample::Index>(),
                any::<bool>(),
            ),
        )
    });
    each.prop_map(|((left, right), coefficients, links, mixed, charge)| {
        let species = left + right;
        let shared = coefficients.iter().fold(0, |a, b| divisor(a, *b));
        let coefficients: Vec<i64> = coefficients.iter().map(|n| n / shared).collect();
        // A tree: every reactant hangs on a product that is there, and the other way about.
        let mut rows = Vec::new();
        let (mut lefts, mut rights) = (vec![0], vec![]);
        // First the products, then the other reactants.
        for (place, (with, times)) in (left..species).chain(1..left).zip(&links) {
            let is_left = place < left;
            let known = if is_left { &rights } else { &lefts };
            let other = known[with.index(known.len())];
            if is_left { &mut lefts } else { &mut rights }.push(place);
            let (a, b) = (coefficients[place], coefficients[other]);
            let mut row = vec![0; species];
            row[place] = times * b / divisor(a, b);
            row[other] = times * a / divisor(a, b);
            rows.push(row);
        }
        for (into, from, times) in mixed {
            let (into, from) = (into.index(rows.len()), from.index(rows.len()));
            if into != from {
                let add: Vec<i64> = rows[from].iter().map(|n| n * times).collect();
                rows[into]
                    .iter_mut()
                    .zip(add)
                    .for_each(|(n, more)| *n += more);
            }
        }
        let (plus, minus, charged) = charge;
        let (plus, minus) = (plus.index(rows.len()), minus.index(rows.len()));
        let charges = rows[plus].iter().zip(&rows[minus]);
        // No larger than a charge is written.
        let charges = charges.map(|(a, b)| if charged { a - b } else { 0 });
        let mut charges: Vec<i64> = charges.collect();
        if charges.iter().any(|n| n.abs() > 999) {
            charges = vec![0; species];
        }
        Made {
            coefficients,
            reactants: left,
            rows,
            charges,
        }
    })
}

impl Made {
    /// The formula of a species, `times` of it as one, with elements from a place in the list on.
    fn species(&self, place: usize, times: i64, from: usize) -> String {
        let mut text = String::new();
        for (row, element) in self.rows.iter().zip(&ELEMENTS[from..]) {
            match row[place] * times {
                0 => {}
                n => text += &format!("{element}{n}"),
            }
        }
        match self.charges[place] * times {
            0 => text,
            n if n < 0 => format!("{text}^{}-", -n),
            n => format!("{text}^{n}+"),
        }
    }

    fn text(&self, times: &[i64], from: usize) -> String {
        let species = (0..self.coefficients.len()).map(|n| self.species(n, times[n], from));
        let species: Vec<String> = species.collect();
        let (left, right) = species.split_at(self.reactants);
        format!("{} -> {}", left.join(" + "), right.join(" + "))
    }

    fn ones(&self) -> Vec<i64> {
        vec![1; self.coefficients.len()]
    }
}

fn equation(text: &str) -> Result<Equation, TestCaseError> {
    text.parse()
        .map_err(|error| TestCaseError::fail(format!("{text}: {error}")))
}

fn balance(equation: &Equation) -> Result<Balanced, TestCaseError> {
    let balanced = equation.balance();
    balanced.map_err(|error| TestCaseError::fail(format!("{equation}: {error}")))
}

fn ratios(whole: &[i64]) -> Vec<Ratio> {
    whole.iter().copied().map(Ratio::from).collect()
}

/// Atoms and charge, reactants less products, counted by the formula's own composition.
fn left_over(equation: &Equation, coefficients: &[Ratio]) -> Vec<(String, Ratio)> {
    let mut sums: BTreeMap<String, Ratio> = BTreeMap::new();
    for (place, (species, n)) in equation.species().iter().zip(coefficients).enumerate() {
        let n = if place < equation.reactants().len() {
            n.clone()
        } else {
            -n
        };
        let mut add = |what: String, each: &Ratio| {
            let sum = sums.entry(what).or_default();
            *sum = &*sum + &(each * &n);
        };
        for (atom, count) in &species.formula().composition().unwrap() {
            add(atom.to_string(), count);
        }
        add(
            "charge".to_owned(),
            &species.formula().exact_charge().unwrap(),
        );
    }
    sums.into_iter().filter(|(_, sum)| !sum.is_zero()).collect()
}

proptest! {
    /// What an equation was made from is what balances it, and everything is conserved.
    #[test]
    fn the_balance_it_was_made_from(made in made()) {
        let equation = equation(&made.text(&made.ones(), 0))?;
        let balanced = balance(&equation)?;
        prop_assert_eq!(balanced.coefficients(), ratios(&made.coefficients));
        prop_assert_eq!(left_over(&equation, balanced.coefficients()), []);
        let whole = equation.with(&balanced);
        prop_assert!(whole.check().unwrap().is_balanced());
        // Written out and read back it balances to itself.
        let again: Equation = whole.to_string().parse().unwrap();
        prop_assert_eq!(&again, &whole);
        let unicode = Equation::read(&whole.to_unicode()).unwrap().0;
        prop_assert_eq!(&unicode, &whole);
        prop_assert_eq!(again.balance().unwrap(), balanced);
    }

    /// The other way round, the same coefficients the other way round.
    #[test]
    fn reversed(made in made()) {
        let equation = equation(&made.text(&made.ones(), 0))?;
        let back = balance(&equation.reversed())?;
        let (left, right) = made.coefficients.split_at(made.reactants);
        prop_assert_eq!(back.coefficients(), ratios(&[right, left].concat()));
        prop_assert_eq!(equation.reversed().reversed(), equation);
    }

    /// If a formula is several units at once, as many fewer of it are needed.
    #[test]
    fn scaled(made in made(), times in vec(1_i64..7, 10)) {
        prop_assume!(made.charges.iter().all(|n| n.abs() * 6 <= 999));
        let equation = equation(&made.text(&times, 0))?;
        let balanced = balance(&equation)?;
        let most: i64 = times.iter().product();
        let wanted: Vec<i64> = made.coefficients.iter().zip(&times).map(|(n, t)| n * (most / t)).collect();
        let shared = wanted.iter().fold(0, |a, b| divisor(a, *b));
        let wanted: Vec<i64> = wanted.iter().map(|n| n / shared).collect();
        prop_assert_eq!(balanced.coefficients(), ratios(&wanted));
    }

    /// A given multiple of any coefficient gives that multiple of all.
    #[test]
    fn given(made in made(), place in any::<prop::sample::Index>(), times in 1_i64..9) {
        let equation = equation(&made.text(&made.ones(), 0))?;
        let place = place.index(made.coefficients.len());
        let fixed = Ratio::from(made.coefficients[place] * times);
        let found = Balancer::of(&equation).fix_at(place, fixed).unwrap().run().unwrap();
        let wanted: Vec<i64> = made.coefficients.iter().map(|n| n * times).collect();
        prop_assert_eq!(found.coefficients(), ratios(&wanted));
    }

    /// One coefficient more than balances is seen, and said what of it is off.
    #[test]
    fn one_too_many(made in made(), place in any::<prop::sample::Index>()) {
        let mut counts = made.coefficients.clone();
        let place = place.index(counts.len());
        counts[place] += 1;
        let equation = equation(&made.text(&made.ones(), 0))?;
        let texts = equation.species().iter().zip(&counts).map(|(s, n)| format!("{n} {}", s.formula()));
        let texts: Vec<String> = texts.collect();
        let (left, right) = texts.split_at(made.reactants);
        let wrong: Equation = format!("{} = {}", left.join(" + "), right.join(" + ")).parse().unwrap();
        let checked = wrong.check().unwrap();
        let formula: &Formula = wrong.species()[place].formula();
        let atoms = formula.composition().unwrap().iter().count();
        let off = atoms + usize::from(formula.charge() != Some(0));
        prop_assert_eq!(checked.off().count(), off);
    }

    /// Two reactions in one equation have two balances, all of whose sums conserve everything.
    #[test]
    fn two_at_once(one in made(), other in made()) {
        let [(a, b), (c, d)] = [(&one, 0), (&other, 12)].map(|(made, from)| {
            let text = made.text(&made.ones(), from);
            let (left, right) = text.split_once(" -> ").unwrap();
            (left.to_owned(), right.to_owned())
        });
        let equation = equation(&format!("{a} + {c} -> {b} + {d}"))?;
        let error = equation.balance().unwrap_err();
        prop_assert_eq!(error.kind(), ErrorKind::ManyBalances);
        prop_assert_eq!(error.nullity(), 2);
        for balance in error.basis() {
            prop_assert!(balance.iter().all(Ratio::is_integer));
            prop_assert!(balance.iter().any(|n| !n.is_zero()));
            prop_assert_eq!(left_over(&equation, &balance), []);
        }
        // One coefficient of each chooses.
        let first = Ratio::from(one.coefficients[0] * 2);
        let second = Ratio::from(other.coefficients[0] * 3);
        let chosen = Balancer::of(&equation).fix_at(0, first).unwrap();
        let chosen = chosen.fix_at(one.reactants, second).unwrap().run().unwrap();
        prop_assert_eq!(left_over(&equation, chosen.coefficients()), []);
        prop_assert_eq!(&chosen.coefficients()[0], &Ratio::from(one.coefficients[0] * 2));
    }

    /// One of two reactions in an equation has a product among its reactants: there are solutions,
    /// none of them with only positive coefficients, and what takes no part is of that reaction.
    #[test]
    fn one_of_two_cannot(one in made(), other in made()) {
        let sound = one.text(&one.ones(), 0);
        let (a, b) = sound.split_once(" -> ").unwrap();
        let text = other.text(&other.ones(), 12);
        let wrong = text.replace(" -> ", " + ");
        let equation = equation(&format!("{a} + {wrong} -> {b}"))?;
        let error = equation.balance().unwrap_err();
        prop_assert_eq!(error.kind(), ErrorKind::NoBalance);
        let of = |note: &Note| note.values().find(|(name, _)| *name == "species").map(|v| v.1.to_owned());
        let none: Vec<String> = error.reasons().iter().filter(|n| n.code() == "no_part").filter_map(of).collect();
        prop_assert!(!none.is_empty(), "{}", equation);
        let theirs: Vec<String> = self::equation(&text)?.species().iter().map(Species::name).collect();
        prop_assert!(none.iter().all(|name| theirs.contains(name)), "{}: {:?}", equation, none);
    }

    /// Whatever the text, it is read, or refused with a place in it and a help; what is read is
    /// written back as the same equation.
    #[test]
    fn any_text(pieces in vec(prop::sample::select(&PIECES), 0..24)) {
        let text: String = pieces.concat();
        match Equation::read(&text) {
            Ok((equation, _)) => {
                for species in equation.species() {
                    prop_assert!(!species.text().is_empty());
                }
                let written = equation.to_string();
                let again: Result<Equation, _> = written.parse();
                prop_assert_eq!(again.as_ref(), Ok(&equation), "{} → {}", text, written);
                let (unicode, _) = Equation::read(&equation.to_unicode()).unwrap();
                prop_assert_eq!(&unicode, &equation, "{} → {}", text, equation.to_unicode());
                prop_assert_eq!(&equation.reversed().reversed(), &equation);
                if let Err(error) = equation.balance() {
                    prop_assert!(error.help().is_some(), "{}: {}", text, error);
                }
            }
            Err(error) => {
                let span = error.span().expect("a place");
                prop_assert!(text.get(span.start..span.end).is_some(), "{}: {:?}", text, span);
                prop_assert!(error.help().is_some(), "{}: {}", text, error);
                prop_assert!(!error.caret(&text).to_string().is_empty());
            }
        }
    }
}

static PIECES: [&str; 40] = [
    "H2",
    "O2",
    "H2O",
    "CuSO4",
    "Fe",
    "Na",
    "Cl",
    "NH4",
    "(OH)2",
    "[Fe(CN)6]",
    "·5H2O",
    "·",
    "e",
    "e^-",
    " + ",
    "+",
    " +",
    "+ ",
    " -> ",
    "->",
    "=",
    " ⇌ ",
    "<=>",
    "-",
    "--",
    "^2+",
    "^{3-}",
    "²⁻",
    "⁺",
    "2",
    "½",
    "1/2",
    "0.5",
    " ",
    "(aq)",
    "(s)",
    "x",
    "３",
    "\u{2212}",
    ".",
];
