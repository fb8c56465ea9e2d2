//! The examples about amounts and yields worked out, kind by kind.

use effloresce::reaction::{
    Amounts, Equation, PercentYield, Reacted, Species, SpeciesAmount, Stoichiometry, Supply,
};
use effloresce::{Formula, Ratio};

use crate::calc::{formula, number, reading, weights};
use crate::data::Example;
use crate::example::Answers;
use crate::kinds::{put, text};

/// The equation with the coefficients that the row writes, which the crate must take as they are.
#[track_caller]
fn reaction(text: &str) -> Stoichiometry {
    let equation: Equation = text.parse().unwrap_or_else(|e| panic!("{text}: {e}"));
    let reaction = equation.stoichiometry();
    let reaction = reaction.unwrap_or_else(|e| panic!("{text}: {e}"));
    let written = equation.species().iter().map(Species::count);
    assert!(reaction.species().map(|(_, n, _)| n.clone()).eq(written));
    assert_eq!(reaction.notes(), []);
    reaction
}

/// The members of an object of texts.
fn members<'a>(example: &'a Example, key: &str) -> Vec<(&'a str, &'a str)> {
    let object = example.inputs[key].as_object();
    let members = object.into_iter().flatten();
    members
        .map(|(key, value)| (key.as_str(), value.as_str().unwrap()))
        .collect()
}

/// The masses of a row, where it gives them as such or by volume and density.
fn masses(example: &Example, key: &str, wanted: impl Fn(&str) -> bool) -> Vec<(Formula, String)> {
    let mut masses: Vec<(Formula, String)> = members(example, key)
        .into_iter()
        .map(|(species, mass)| (formula(species), mass.to_owned()))
        .collect();
    for (species, volume) in members(example, "volume_mL") {
        if wanted(species) {
            let density = example.inputs["density_g_per_mL"][species].as_str();
            let mass = &number(volume) * &number(density.unwrap());
            masses.push((formula(species), mass.to_plain()));
        }
    }
    masses
}

pub(crate) fn percent_yield(example: &Example) -> Answers {
    let mut answers = Answers::new();
    if example.has("theoretical_g") {
        let actual = reading(example.text("actual_g"));
        let percent = PercentYield::new(&actual, &reading(example.text("theoretical_g"))).unwrap();
        put(&mut answers, "percent_yield", percent.percent().clone());
        return answers;
    }
    let reaction = reaction(example.text("equation"));
    let left = example.text("equation").split(" -> ").next().unwrap();
    let is_reactant = |species: &str| left.split([' ', '+']).any(|word| word == species);
    let mut amounts = Amounts::new();
    for (species, mass) in masses(example, "masses_g", is_reactant) {
        amounts = amounts.with(species, Supply::mass(reading(&mass)));
    }
    for (species, moles) in members(example, "moles") {
        amounts = amounts.with(formula(species), Supply::moles(reading(moles)));
    }
    let obtained = masses(example, "actual_g", |species| !is_reactant(species));
    let product = obtained.first().map(|(species, _)| species.clone());
    for (species, mass) in obtained {
        amounts = amounts.actual(species, reading(&mass));
    }
    let reacted = work(example, amounts, &reaction);
    let limiting: Vec<_> = reacted
        .limiting()
        .map(|s| s.formula().to_string())
        .collect();
    text(&mut answers, "limiting", limiting.join(", "));
    if let (Some(percent), Some(product)) = (reacted.percent_yield(), product) {
        put(&mut answers, "percent_yield", percent.percent().clone());
        let theoretical = species(&reacted, &product).mass_change().clone();
        put(&mut answers, "theoretical_g", theoretical);
    }
    answers
}

pub(crate) fn mass_to_mass(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let reaction = reaction(example.text("equation"));
    let mut amounts = Amounts::new();
    for (species, mass) in members(example, "given") {
        amounts = amounts.with(formula(species), Supply::mass(reading(mass)));
    }
    let reacted = work(example, amounts, &reaction);
    let wanted = species(&reacted, &formula(example.text("wanted")));
    for key in ["mass", "mass_g"] {
        put(&mut answers, key, wanted.mass_change().abs());
    }
    put(&mut answers, "moles", wanted.mol_change().abs());
    answers
}

/// Atoms as amounts: so many whole molecules of the product can be made of them.
pub(crate) fn particles(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let product = formula(example.text("product"));
    let counts = product.composition().unwrap();
    let atoms = counts
        .iter()
        .map(|(atom, count)| (count.clone(), formula(&atom.to_string())));
    let reaction = Stoichiometry::new(atoms, [(Ratio::ONE, product.clone())]).unwrap();
    let mut amounts = Amounts::new();
    for (atom, count) in members(example, "particles") {
        amounts = amounts.with(formula(atom), Supply::moles(reading(count)));
    }
    let reacted = work(example, amounts, &reaction);
    let made = species(&reacted, &product).mol_change().floor();
    put(&mut answers, "product_particles", made);
    answers
}

#[track_caller]
fn work(example: &Example, amounts: Amounts, reaction: &Stoichiometry) -> Reacted {
    let reacted = amounts.weights(weights()).react(reaction);
    let reacted = reacted.unwrap_or_else(|e| panic!("{}: {e}", example.id));
    // No published yield is above what theory allows.
    assert_eq!(reacted.warnings(), [], "{}", example.id);
    reacted
}

fn species<'a>(reacted: &'a Reacted, formula: &Formula) -> &'a SpeciesAmount {
    let mut species = reacted.species().iter();
    species.find(|s| s.formula() == formula).unwrap()
}
