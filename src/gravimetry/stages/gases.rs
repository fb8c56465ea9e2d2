//! The gases that account for a loss, by difference.
//!
//! Atoms alone often fit several gases. The choice is the one with the fewest gases, and of these the
//! first in the order of [`GASES`] (common practice, no source). Nothing is taken from the air if it can
//! be avoided; then oxygen alone, and last water vapour, carbon dioxide or nitrogen, too.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use crate::element::{Atom, Element};
use crate::formula::{Composition, Formula};
use crate::number::Ratio;

/// Gases and vapours that heated salts give off, in order of preference.
const GASES: [&str; 18] = [
    "H2O", "NH3", "CO", "CO2", "SO2", "SO3", "HF", "HCl", "HBr", "HI", "NO2", "NO", "N2", "Cl2",
    "Br2", "I2", "N2H4", "O2",
];

/// Gases that do not leave beside oxygen, because they burn.
const BURN: [&str; 3] = ["NH3", "CO", "N2H4"];

/// The largest number of gases of one stage.
const MOST: usize = 4;

/// What the air may give, attempt by attempt.
const FROM_AIR: [&[&str]; 3] = [&[], &["O2"], &["O2", "H2O", "CO2", "N2"]];

/// A number of each kind of atom, which is negative if it was taken up.
pub(super) type SignedAtoms = Vec<(Atom, Ratio)>;

/// What a stage loses and takes up, for one formula unit of what was heated.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Loss {
    /// Gases given off, each with its positive number of molecules.
    pub(super) released: Vec<(String, Ratio)>,
    /// Gases taken up from the air, each with its positive number of molecules.
    pub(super) taken_up: Vec<(String, Ratio)>,
    /// A loss that is not a mixture of known gases, in Hill order.
    pub(super) unknown: Option<String>,
}

impl Loss {
    /// Names the difference between the atoms before and after.
    pub(super) fn between(before: &Composition, after: &Composition) -> Loss {
        let lost = difference(before, after);
        if lost.is_empty() {
            return Loss::default();
        }
        let attempts = match leaves_as_vapour(&lost) {
            true => &FROM_AIR[..1],
            false => &FROM_AIR[..],
        };
        let found = attempts.iter().find_map(|air| known_gases(&lost, air));
        found.unwrap_or_else(|| unknown(&lost))
    }

    /// Returns what was lost: gases joined by ` + `, else one formula.
    pub(super) fn lost(&self) -> Option<String> {
        let gases = joined(&self.released);
        self.unknown.clone().or(gases)
    }

    pub(super) fn taken_up(&self) -> Option<String> {
        joined(&self.taken_up)
    }
}

fn joined(gases: &[(String, Ratio)]) -> Option<String> {
    let names: Vec<&str> = gases.iter().map(|(name, _)| name.as_str()).collect();
    (!names.is_empty()).then(|| names.join(" + "))
}

fn difference(before: &Composition, after: &Composition) -> SignedAtoms {
    let mut lost: SignedAtoms = Vec::new();
    for (atom, count) in before {
        lost.push((atom, count - after.count(atom)));
    }
    for (atom, count) in after {
        if before.count(atom).is_zero() {
            lost.push((atom, -count));
        }
    }
    lost.retain(|(_, count)| !count.is_zero());
    lost
}

/// Returns whether the loss may be an organic vapour: it has carbon, and all its atoms were in the solid.
/// Such a vapour need not burn.
fn leaves_as_vapour(lost: &SignedAtoms) -> bool {
    let carbon = |(atom, _): &(Atom, Ratio)| atom.element() == Element::CARBON;
    lost.iter().any(carbon) && lost.iter().all(|(_, count)| count.is_positive())
}

/// A gas with the number of each kind of atom in its molecule.
struct Gas {
    name: &'static str,
    atoms: Composition,
    may_be_taken_up: bool,
}

/// Returns the gases whose elements were all lost, and those of the air.
fn candidates(lost: &SignedAtoms, air: &[&str]) -> Vec<Gas> {
    let gases = GASES.iter().filter_map(|name| {
        let atoms = name.parse::<Formula>().ok()?.composition().ok()?;
        let may_be_taken_up = air.contains(name);
        Some(Gas {
            name,
            atoms,
            may_be_taken_up,
        })
    });
    let is_lost = |atom| lost.iter().any(|(other, _)| *other == atom);
    let possible = |gas: &Gas| gas.may_be_taken_up || gas.atoms.iter().all(|(a, _)| is_lost(a));
    gases.filter(possible).collect()
}

/// Returns the first and smallest set of gases that accounts for the loss exactly.
fn known_gases(lost: &SignedAtoms, air: &[&str]) -> Option<Loss> {
    let gases = candidates(lost, air);
    (1..=MOST).find_map(|size| with_gases(lost, &gases, &mut Vec::new(), size))
}

/// Tries all sets with `more` gases besides those chosen, in order.
fn with_gases<'g>(
    lost: &SignedAtoms,
    gases: &'g [Gas],
    chosen: &mut Vec<&'g Gas>,
    more: usize,
) -> Option<Loss> {
    if more == 0 {
        return accounted_for(lost, chosen);
    }
    for (index, gas) in gases.iter().enumerate() {
        chosen.push(gas);
        let found = with_gases(lost, gases.get(index + 1..)?, chosen, more - 1);
        if found.is_some() {
            return found;
        }
        chosen.pop();
    }
    None
}

/// Returns the loss as these gases, if each takes part and only gases of the air are taken up.
fn accounted_for(lost: &SignedAtoms, gases: &[&Gas]) -> Option<Loss> {
    let has = |names: &[&str]| gases.iter().any(|gas| names.contains(&gas.name));
    let cover = |atom: Atom| gases.iter().any(|gas| !gas.atoms.count(atom).is_zero());
    if (has(&["O2"]) && has(&BURN)) || !lost.iter().all(|(atom, _)| cover(*atom)) {
        return None;
    }
    let numbers = solve(equations(lost, gases), gases.len())?;
    let mut loss = Loss::default();
    for (gas, number) in gases.iter().zip(numbers) {
        if number.is_positive() {
            loss.released.push((gas.name.to_string(), number));
        } else if number.is_negative() && gas.may_be_taken_up {
            loss.taken_up.push((gas.name.to_string(), -number));
        } else {
            return None;
        }
    }
    Some(loss)
}

/// One row for each kind of atom: its number in each gas, then in the loss.
fn equations(lost: &SignedAtoms, gases: &[&Gas]) -> Vec<Vec<Ratio>> {
    let mut atoms = lost.clone();
    for (atom, _) in gases.iter().flat_map(|gas| &gas.atoms) {
        if !atoms.iter().any(|(other, _)| *other == atom) {
            atoms.push((atom, Ratio::ZERO));
        }
    }
    let row = |(atom, count): (Atom, Ratio)| {
        let in_gases = gases.iter().map(|gas| gas.atoms.count(atom));
        in_gases.chain([count]).collect()
    };
    atoms.into_iter().map(row).collect()
}

/// Returns the only solution of linear equations whose last column is the right side; `None` if there is
/// none or more than one.
fn solve(mut rows: Vec<Vec<Ratio>>, unknowns: usize) -> Option<Vec<Ratio>> {
    for column in 0..unknowns {
        let found = rows
            .iter()
            .skip(column)
            .position(|row| !row.get(column).is_none_or(Ratio::is_zero));
        rows.swap(column, column + found?);
        let pivot = rows.get(column)?.clone();
        let divisor = pivot.get(column)?;
        for (index, row) in rows.iter_mut().enumerate() {
            let factor = row.get(column)?.checked_div(divisor)?;
            if index != column && !factor.is_zero() {
                for (cell, of_pivot) in row.iter_mut().zip(&pivot) {
                    *cell -= &factor * of_pivot;
                }
            }
        }
    }
    let (solved, rest) = rows.split_at_checked(unknowns)?;
    let consistent = rest
        .iter()
        .all(|row| row.last().is_some_and(Ratio::is_zero));
    let numbers = solved
        .iter()
        .enumerate()
        .map(|(column, row)| row.last()?.checked_div(row.get(column)?));
    numbers
        .collect::<Option<Vec<Ratio>>>()
        .filter(|_| consistent)
}

/// Returns the loss as formulas in Hill order, one of what was lost and one of what was taken up.
fn unknown(lost: &SignedAtoms) -> Loss {
    let taken_up = lost.iter().map(|(atom, count)| (*atom, -count));
    let taken_up = in_hill_order(taken_up).map(|formula| (formula, Ratio::ONE));
    Loss {
        released: Vec::new(),
        taken_up: taken_up.into_iter().collect(),
        unknown: in_hill_order(lost.iter().cloned()),
    }
}

/// Writes the positive counts in the same proportions as whole numbers; `None` if there are none.
fn in_hill_order(counts: impl Iterator<Item = (Atom, Ratio)>) -> Option<String> {
    let atoms = Composition::of_positive(counts);
    let whole = atoms.iter().fold(Ratio::ONE, |factor, (_, count)| {
        let denominator = (&factor * count).denominator();
        factor * denominator
    });
    let formula = atoms.times(&whole).ok()?.hill();
    (!formula.is_empty()).then_some(formula)
}
