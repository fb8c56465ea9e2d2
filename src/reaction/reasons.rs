//! Why an equation has no balance, as data, and what would balance it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::check::Conserved;
use super::equation::{Equation, Side, Species};
use super::error::{Error, ErrorKind};
use super::system::{Solutions, System};
use super::write::listed;
use crate::formula::Formula;
use crate::number::Ratio;
use crate::text::{Detail, Note, list};

/// The error of an equation without a balance. `nought` are species that no balance uses; `line` is
/// the only solution there is, where it has noughts or both signs.
#[cold]
pub(super) fn none(equation: &Equation, nought: &[usize], line: Option<&[Ratio]>) -> Error {
    let mut reasons = Vec::new();
    let mut system = System::new();
    if system.take(equation).is_err() {
        return error(reasons);
    }
    one_sided(equation, &system, &mut reasons);
    match line {
        Some(line) => signs(equation, line, &mut reasons),
        None => no_part(equation, nought, &mut reasons),
    }
    both_sides(equation, &mut reasons);
    // Where species balance among themselves already, no other makes the balance one.
    if line.is_none() && nought.is_empty() {
        additions(equation, &system, &mut reasons);
    }
    if !reasons
        .iter()
        .any(|reason| !matches!(reason.code(), "both_sides" | "not_tried"))
    {
        reasons.push(Note::new(
            "only_nought",
            "Each element alone could balance, but not all of them together: only noughts would.",
        ));
    }
    error(reasons)
}

fn error(reasons: Vec<Note>) -> Error {
    let message = match reasons.first() {
        // What would balance it is the help.
        Some(first) if first.code() != "add" => format!(
            "no balance has every coefficient above nought: {}",
            lower(first.text())
        ),
        _ => "no coefficients balance the equation as it stands".into(),
    };
    let help = reasons.iter().find(|reason| reason.code() == "add");
    let help = help.or_else(|| reasons.iter().find(|reason| reason.code() == "wrong_side"));
    let help = match help {
        Some(note) => String::from(note.text()),
        None => String::from("check the formulas, and write every species on its side"),
    };
    let detail = Detail::new(String::from(message.trim_end_matches(['.', ' ']))).help(help);
    Error::new(ErrorKind::NoBalance, detail).because(reasons)
}

/// A sentence inside another begins with a small letter; a formula stays.
fn lower(text: &str) -> String {
    for (large, small) in [
        ("The ", "the "),
        ("Each ", "each "),
        ("In ", "in "),
        ("With ", "with "),
    ] {
        if let Some(rest) = text.strip_prefix(large) {
            return format!("{small}{rest}");
        }
    }
    text.into()
}

/// What stands on one side only, or has charges of one sign only.
fn one_sided(equation: &Equation, system: &System, reasons: &mut Vec<Note>) {
    for (what, line) in system.rows() {
        let left = line.iter().any(|(_, value)| *value > 0);
        let right = line.iter().any(|(_, value)| *value < 0);
        if left && right {
            continue;
        }
        let side = if left {
            Side::Reactants
        } else {
            Side::Products
        };
        let with: Vec<Species> = line
            .iter()
            .filter_map(|(place, _)| equation.species().get(*place).cloned())
            .collect();
        let species = listed(&with);
        let text = match what {
            Conserved::Atom(atom) => {
                format!(
                    "{atom} stands on the side of the {} only (in {species})",
                    side.name()
                )
            }
            Conserved::Charge => {
                format!("The charge of {species} is made up for by no other species")
            }
        };
        let mut note =
            Note::new("one_side_only", format!("{text}.")).with("what", format!("{what}"));
        if let Conserved::Atom(_) = what {
            note = note.with("side", side.name());
        }
        reasons.push(note.with("species", plain(&with)));
    }
}

fn plain(species: &[Species]) -> String {
    let mut all = String::new();
    for (index, one) in species.iter().enumerate() {
        if index > 0 {
            all.push_str(" + ");
        }
        all.push_str(&one.name());
    }
    all
}

/// The only solution has noughts or both signs: which species would have to change sides.
fn signs(equation: &Equation, line: &[Ratio], reasons: &mut Vec<Note>) {
    let negative = line.iter().filter(|value| value.is_negative()).count();
    let positive = line.iter().filter(|value| value.is_positive()).count();
    // The fewer are the ones to move; of as many, those that are not the first.
    let wrong = |value: &Ratio| match negative <= positive {
        true => value.is_negative(),
        false => value.is_positive(),
    };
    let both = negative > 0 && positive > 0;
    let nought = line.iter().enumerate().filter(|(_, value)| value.is_zero());
    let nought: Vec<usize> = nought.map(|(place, _)| place).collect();
    for (species, value) in equation.species().iter().zip(line) {
        if both && wrong(value) {
            let formula = species.name();
            let side = species.side.other().name();
            let text = format!("`{formula}` would have to stand among the {side}.");
            reasons.push(
                Note::new("wrong_side", text)
                    .with("species", formula)
                    .with("side", side),
            );
        }
    }
    no_part(equation, &nought, reasons);
}

fn no_part(equation: &Equation, nought: &[usize], reasons: &mut Vec<Note>) {
    for place in nought {
        if let Some(species) = equation.species().get(*place) {
            let formula = species.name();
            let text = format!("`{formula}` could only have the coefficient nought.");
            reasons.push(Note::new("no_part", text).with("species", formula));
        }
    }
}

pub(super) fn both_sides(equation: &Equation, reasons: &mut Vec<Note>) {
    for reactant in equation.reactants() {
        let same = |product: &Species| product.formula == reactant.formula;
        if equation.products().iter().any(same) {
            let formula = reactant.name();
            let text = format!(
                "`{formula}` stands on both sides; it was taken as two species, and not cancelled."
            );
            reasons.push(Note::new("both_sides", text).with("species", formula));
        }
    }
}

/// The given coefficients belong to no balance.
#[cold]
pub(super) fn contradiction(equation: &Equation, fixed: &[(usize, Ratio)]) -> Error {
    let given: Vec<Species> = fixed
        .iter()
        .filter_map(|(place, value)| {
            let mut species = equation.species().get(*place)?.clone();
            species.coefficient = Some(value.clone());
            Some(species)
        })
        .collect();
    let names: Vec<String> = given.iter().map(|one| format!("{one}")).collect();
    let names = names.join(", ");
    let text = format!(
        "The given coefficients ({names}) belong to no balance with all others above nought."
    );
    error(alloc::vec![Note::new("fixed", text).with("given", names)])
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

/// So many species times elements in numbers beyond 128 bits take too long to try again and again.
const MOST_TRIED: usize = 600;

/// Tries each set; one that holds a smaller set that balances is not told again.
fn additions(equation: &Equation, system: &System, reasons: &mut Vec<Note>) {
    if system.is_large(MOST_TRIED) {
        let text =
            "Whether H2O, H⁺, OH⁻ or e⁻ would balance it was not tried: its numbers are too long.";
        reasons.push(Note::new("not_tried", text));
        return;
    }
    let mut found: Vec<&[&str]> = Vec::new();
    for set in SETS {
        if found
            .iter()
            .any(|less| less.iter().all(|one| set.contains(one)))
        {
            continue;
        }
        // Where nothing is charged, ions are the last resort.
        if !system.is_charged() && !found.is_empty() {
            return;
        }
        if let Some(note) = with_added(equation, system, set) {
            found.push(set);
            reasons.push(note);
        }
    }
}

/// Whether an equation balances, and in one way, with all of these added on whichever side.
fn with_added(equation: &Equation, system: &System, set: &[&str]) -> Option<Note> {
    let mut added = Vec::new();
    let mut larger = system.clone();
    for text in set {
        let formula: Formula = text.parse().ok()?;
        // One that is there already balances nothing.
        if equation.indices_of(&formula).next().is_some() {
            return None;
        }
        larger.push(&formula, Side::Reactants).ok()?;
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
    let mut words = [Vec::new(), Vec::new()];
    for (formula, value) in added.into_iter().zip(extra) {
        let side = usize::from(value.is_negative());
        words.get_mut(side)?.push(format!("{formula}"));
        sides.get_mut(side)?.push((Some(value.abs()), formula));
    }
    let [left, right] = sides;
    let whole = Equation::new(left, equation.arrow(), right).ok()?;
    let [left, right] = words.map(|names| names.join(" + "));
    let to = |names: &str, side: Side| match names {
        "" => None,
        names => Some(format!("{names} among the {}", side.name())),
    };
    let to = [to(&left, Side::Reactants), to(&right, Side::Products)];
    let to: Vec<String> = to.into_iter().flatten().collect();
    let text = format!("With {} it would balance: {whole}.", list(to));
    let mut note = Note::new("add", text);
    for (name, value) in [("reactants", left), ("products", right)] {
        if !value.is_empty() {
            note = note.with(name, value);
        }
    }
    Some(note.with("equation", format!("{whole}")))
}

/// The given coefficients leave another broken.
#[cold]
pub(super) fn broken(
    equation: &Equation,
    fixed: &[(usize, Ratio)],
    place: usize,
    coefficients: &[Ratio],
) -> Error {
    let below = |value: &Ratio| value.to_parts().map_or(1, |(_, below)| below);
    let mut times: i128 = 1;
    for value in coefficients {
        let below = below(value);
        times = times.saturating_mul(below / num_integer::gcd(times, below));
    }
    let name = |place: usize| {
        let species = equation.species().get(place);
        species.map_or_else(String::new, Species::name)
    };
    let value = coefficients.get(place).cloned().unwrap_or_default();
    let formula = name(place);
    let text =
        format!("With the given coefficients `{formula}` would have {value}, which is not whole.");
    let note = Note::new("fraction", text)
        .with("species", formula)
        .with("coefficient", format!("{value}"))
        .with("times", format!("{times}"));
    let given: Vec<String> = fixed
        .iter()
        .map(|(place, value)| format!("{} of `{}`", value * &Ratio::from(times), name(*place)))
        .collect();
    let detail = Detail::new(String::from(lower(note.text()).trim_end_matches('.')))
        .help(format!("give {}", given.join(", ")));
    Error::new(ErrorKind::NoBalance, detail).because(alloc::vec![note])
}
