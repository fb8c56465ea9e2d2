//! Why an equation has no balance, as data, and what would balance it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::conserved::Conserved;
use super::equation::{Equation, Side, Species};
use super::error::{Error, ErrorKind};
use super::system::{Solutions, System};
use crate::formula::Formula;
use crate::number::Ratio;
use crate::text::{Detail, Note, list};

/// Why an equation has no balance, or more than one.
pub(super) enum Imbalance {
    /// A species looks like a typing error.
    Typo { species: String, meant: String },
    /// Only one side has this kind of atom, or all charges have one sign.
    OneSideOnly {
        what: Conserved,
        side: Side,
        species: Vec<String>,
    },
    /// A species would balance on the other side only.
    WrongSide { species: String, side: Side },
    /// A species has the coefficient zero in every solution.
    NoPart { species: String },
    /// A species is on both sides.
    BothSides { species: String },
    /// With these species added the equation balances, as `equation` shows.
    Addition {
        sides: [(Side, String); 2],
        equation: Equation,
    },
    /// No addition was tried, for the numbers are too long.
    AdditionsNotTried,
    /// The given coefficients fit no balance.
    Fixed { given: String },
    /// The given coefficients make another one a fraction, and all are whole when multiplied.
    Fraction {
        species: String,
        coefficient: Ratio,
        multiplier: i128,
    },
    /// Only zeros solve the equation, though each element alone can balance.
    OnlyZeros,
}

impl Imbalance {
    /// Returns whether the finding alone keeps the equation from balancing.
    fn explains(&self) -> bool {
        !matches!(
            self,
            Imbalance::BothSides { .. } | Imbalance::AdditionsNotTried
        )
    }

    fn note(&self) -> Note {
        match self {
            Imbalance::Typo { species, meant } => {
                let text = format!("`{species}` may be a typing error for `{meant}`.");
                let note = Note::new("suspect_formula", text).with("species", species);
                note.with("perhaps", meant)
            }
            Imbalance::OneSideOnly {
                what,
                side,
                species,
            } => one_side_only(*what, *side, species),
            Imbalance::WrongSide { species, side } => {
                let side = side.name();
                let text = format!("`{species}` would have to be among the {side}.");
                let note = Note::new("wrong_side", text).with("species", species);
                note.with("side", side)
            }
            Imbalance::NoPart { species } => {
                let text = format!("`{species}` can only have the coefficient 0.");
                Note::new("no_part", text).with("species", species)
            }
            Imbalance::BothSides { species } => {
                let text = format!("`{species}` is on both sides and was read as two species.");
                Note::new("both_sides", text).with("species", species)
            }
            Imbalance::Addition { sides, equation } => {
                let added = added(sides, "among the");
                let text = format!("With {added} it would balance: {equation}.");
                let sides = sides.iter().filter(|(_, added)| !added.is_empty());
                let note = Note::new("add", text);
                let note = sides.fold(note, |note, (side, added)| note.with(side.name(), added));
                note.with("equation", format!("{equation}"))
            }
            Imbalance::AdditionsNotTried => {
                let text = "H2O, H⁺, OH⁻ and e⁻ were not tried: the numbers are too long.";
                Note::new("not_tried", text)
            }
            Imbalance::Fixed { given } => {
                let text = format!("{given} (as given) fit no balance with all others positive.");
                Note::new("fixed", text).with("given", given)
            }
            Imbalance::Fraction {
                species,
                coefficient,
                multiplier,
            } => {
                let text = format!("`{species}` would have the coefficient {coefficient}.");
                let note = Note::new("fraction", text).with("species", species);
                let note = note.with("coefficient", format!("{coefficient}"));
                note.with("times", format!("{multiplier}"))
            }
            Imbalance::OnlyZeros => {
                let text = "Each element alone can balance, but not all of them together.";
                Note::new("only_nought", text)
            }
        }
    }
}

fn one_side_only(what: Conserved, side: Side, species: &[String]) -> Note {
    let (side, quoted) = (
        side.name(),
        list(species.iter().map(|name| format!("`{name}`"))),
    );
    let note = |text| Note::new("one_side_only", text).with("what", format!("{what}"));
    let note = match what {
        Conserved::Atom(_) => {
            note(format!("`{what}` is among the {side} only (in {quoted}).")).with("side", side)
        }
        Conserved::Charge => note(format!("{quoted}: no other species balances the charge.")),
    };
    note.with("species", species.join(" + "))
}

/// Returns the added species with their sides, in words.
fn added(sides: &[(Side, String)], preposition: &str) -> String {
    let sides = sides.iter().filter(|(_, added)| !added.is_empty());
    list(sides.map(|(side, added)| format!("{added} {preposition} {}", side.name())))
}

/// Returns the notes of these findings.
pub(super) fn notes(found: &[Imbalance]) -> Vec<Note> {
    found.iter().map(Imbalance::note).collect()
}

/// Returns the error of an equation without a balance. `zeros` are species that no balance uses;
/// `line` is the only solution, if it has zeros or both signs.
pub(super) fn no_balance(
    equation: &Equation,
    system: &System,
    zeros: &[usize],
    line: Option<&[Ratio]>,
) -> Error {
    let species = equation.species().iter();
    let typos = species.filter_map(|species| {
        let meant = species.formula().perhaps_meant()?;
        Some(Imbalance::Typo {
            species: species.name(),
            meant,
        })
    });
    let mut found: Vec<Imbalance> = typos.collect();
    one_sided(equation, system, &mut found);
    match line {
        Some(line) => wrong_sides(equation, line, &mut found),
        None => no_part(equation, zeros, &mut found),
    }
    found.extend(both_sides(equation));
    // If species balance among themselves already, no other makes the balance one.
    if line.is_none() && zeros.is_empty() {
        additions(equation, system, &mut found);
    }
    if !found.iter().any(Imbalance::explains) {
        found.push(Imbalance::OnlyZeros);
    }
    error(&found)
}

fn error(found: &[Imbalance]) -> Error {
    let message = match found.iter().find(|one| one.explains()) {
        None | Some(Imbalance::Addition { .. }) => {
            "the equation as it is written has no balance".into()
        }
        Some(Imbalance::OnlyZeros) => {
            "the equation has no balance, although each element alone can balance".into()
        }
        Some(first) => sentence("the equation has no balance: ", first),
    };
    let addition = |one: &&Imbalance| matches!(one, Imbalance::Addition { .. });
    let wrong_side = |one: &&Imbalance| matches!(one, Imbalance::WrongSide { .. });
    let remedy = found.iter().find(addition);
    let typo = found
        .iter()
        .find(|one| matches!(one, Imbalance::Typo { .. }));
    let help = match typo.or(remedy).or_else(|| found.iter().find(wrong_side)) {
        Some(Imbalance::Typo { meant, .. }) => format!("write `{meant}`"),
        Some(Imbalance::WrongSide { species, side }) => {
            format!("write `{species}` among the {}", side.name())
        }
        Some(Imbalance::Addition { sides, equation }) => {
            format!("add {}: {equation}", added(sides, "to the"))
        }
        _ => "check the formulas, and write every species on its side".into(),
    };
    let detail = Detail::new(message).help(help);
    Error::new(ErrorKind::NoBalance, detail).because(notes(found))
}

/// Returns a finding as the end of an error's sentence.
fn sentence(start: &str, found: &Imbalance) -> String {
    format!("{start}{}", found.note().text().trim_end_matches('.'))
}

/// Finds what is on one side only, or has charges of one sign only.
fn one_sided(equation: &Equation, system: &System, found: &mut Vec<Imbalance>) {
    for (what, line) in system.rows() {
        let left = line.iter().any(|(_, value)| *value > 0);
        let right = line.iter().any(|(_, value)| *value < 0);
        if left && right {
            continue;
        }
        let species = line.iter();
        let species =
            species.filter_map(|(index, _)| equation.species().get(*index).map(Species::name));
        found.push(Imbalance::OneSideOnly {
            what,
            side: match left {
                true => Side::Reactants,
                false => Side::Products,
            },
            species: species.collect(),
        });
    }
}

/// Finds the species that would have to change sides, from the only solution.
fn wrong_sides(equation: &Equation, line: &[Ratio], found: &mut Vec<Imbalance>) {
    let negative = line.iter().filter(|value| value.is_negative()).count();
    let positive = line.iter().filter(|value| value.is_positive()).count();
    // The fewer are the ones to move; of as many, those that are not the first.
    let wrong = |value: &Ratio| match negative <= positive {
        true => value.is_negative(),
        false => value.is_positive(),
    };
    if negative > 0 && positive > 0 {
        let species = equation.species().iter().zip(line);
        let moved = species.filter(|(_, value)| wrong(value));
        found.extend(moved.map(|(species, _)| Imbalance::WrongSide {
            species: species.name(),
            side: species.side.other(),
        }));
    }
    let zeros = line.iter().enumerate().filter(|(_, value)| value.is_zero());
    let zeros: Vec<usize> = zeros.map(|(index, _)| index).collect();
    no_part(equation, &zeros, found);
}

fn no_part(equation: &Equation, zeros: &[usize], found: &mut Vec<Imbalance>) {
    let species = zeros
        .iter()
        .filter_map(|index| equation.species().get(*index));
    found.extend(species.map(|species| Imbalance::NoPart {
        species: species.name(),
    }));
}

/// Returns the species that are on both sides.
pub(super) fn both_sides(equation: &Equation) -> impl Iterator<Item = Imbalance> {
    let reactants = equation.reactants().iter();
    let twice = reactants.filter(|reactant| {
        let same = |product: &Species| product.formula == reactant.formula;
        equation.products().iter().any(same)
    });
    twice.map(|reactant| Imbalance::BothSides {
        species: reactant.name(),
    })
}

/// Returns the error if the given coefficients belong to no balance.
pub(super) fn contradiction(equation: &Equation, fixed: &[(usize, Ratio)]) -> Error {
    let given = fixed.iter().filter_map(|(index, value)| {
        let mut species = equation.species().get(*index)?.clone();
        species.coefficient = Some(value.clone());
        Some(format!("{species}"))
    });
    let given: Vec<String> = given.collect();
    error(&[Imbalance::Fixed {
        given: given.join(", "),
    }])
}

/// What may be added to a solution in water, smallest sets first.
const SETS: [&[&str]; 11] = [
    &["H2O"],
    &["H^+"],
    &["OH^-"],
    &["e^-"],
    &["H2O", "H^+"],
    &["H2O", "OH^-"],
    &["H2O", "e^-"],
    &["H^+", "e^-"],
    &["OH^-", "e^-"],
    &["H2O", "H^+", "e^-"],
    &["H2O", "OH^-", "e^-"],
];

/// The most species times elements for which additions are tried in numbers beyond 128 bits.
const MOST_TRIED: usize = 600;

/// Tries each set, except those that hold a smaller set that balances.
fn additions(equation: &Equation, system: &System, found: &mut Vec<Imbalance>) {
    if system.is_large(MOST_TRIED) {
        found.push(Imbalance::AdditionsNotTried);
        return;
    }
    let mut balancing: Vec<&[&str]> = Vec::new();
    for set in SETS {
        if balancing
            .iter()
            .any(|less| less.iter().all(|one| set.contains(one)))
        {
            continue;
        }
        // If nothing is charged, ions are the last resort.
        if !system.is_charged() && !balancing.is_empty() {
            return;
        }
        if let Some(addition) = with_added(equation, system, set) {
            balancing.push(set);
            found.push(addition);
        }
    }
}

/// Returns the balance, if there is one only, with all of these added on whichever side.
fn with_added(equation: &Equation, system: &System, set: &[&str]) -> Option<Imbalance> {
    let mut added = Vec::new();
    let mut larger = system.clone();
    for text in set {
        let formula: Formula = text.parse().ok()?;
        // One that is in the equation already balances nothing.
        if equation.indices_of(&formula).next().is_some() {
            return None;
        }
        larger.add_species(&formula, Side::Reactants).ok()?;
        added.push(formula);
    }
    let (_, Solutions::Line(line)) = larger.solve() else {
        return None;
    };
    let (own, extra) = line.split_at_checked(system.species())?;
    if !own.iter().all(Ratio::is_positive) || extra.iter().any(Ratio::is_zero) {
        return None;
    }
    let mut sides = [Vec::new(), Vec::new()];
    for (species, value) in equation.species().iter().zip(own) {
        let side = usize::from(species.side == Side::Products);
        sides
            .get_mut(side)?
            .push((Some(value.clone()), species.formula.clone()));
    }
    let mut names = [Vec::new(), Vec::new()];
    for (formula, value) in added.into_iter().zip(extra) {
        let side = usize::from(value.is_negative());
        names.get_mut(side)?.push(format!("{formula}"));
        sides.get_mut(side)?.push((Some(value.abs()), formula));
    }
    let [left, right] = sides;
    let [reactants, products] = names.map(|names| names.join(" + "));
    Some(Imbalance::Addition {
        sides: [(Side::Reactants, reactants), (Side::Products, products)],
        equation: Equation::new(left, equation.arrow(), right).ok()?,
    })
}

/// Returns the error if the given coefficients make another one a fraction.
pub(super) fn fraction(
    equation: &Equation,
    fixed: &[(usize, Ratio)],
    index: usize,
    coefficients: &[Ratio],
) -> Error {
    let mut multiplier: i128 = 1;
    for value in coefficients {
        let below = value.to_parts().map_or(1, |(_, below)| below);
        multiplier = multiplier.saturating_mul(below / num_integer::gcd(multiplier, below));
    }
    let name = |index: usize| {
        let species = equation.species().get(index);
        species.map_or_else(String::new, Species::name)
    };
    let fraction = Imbalance::Fraction {
        species: name(index),
        coefficient: coefficients.get(index).cloned().unwrap_or_default(),
        multiplier,
    };
    let multiple = |value: &Ratio| value * multiplier;
    let given = fixed.iter();
    let given = given.map(|(index, value)| format!("{} of `{}`", multiple(value), name(*index)));
    let detail = Detail::new(sentence("with the given coefficients ", &fraction))
        .help(format!("give {}", list(given)));
    Error::new(ErrorKind::NoBalance, detail).because(notes(&[fraction]))
}
