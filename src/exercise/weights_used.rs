//! The atomic weights that the requests of a set use.

use alloc::collections::BTreeSet;
use alloc::string::String;
use alloc::vec::Vec;

use super::field::Field;
use super::problem::Exercise;
use super::request::{Operation, Request};
use super::set::ExerciseSet;
use crate::element::{Atom, Element};
use crate::formula::Formula;
use crate::number::Reading;
use crate::reaction::Equation;

impl ExerciseSet {
    /// Returns the elements whose atomic weights the requests of the set use, in order of atomic number. Each has
    /// its weight as the table prints it.
    ///
    /// ```
    /// use effloresce::AtomicWeights;
    /// use effloresce::exercise::{Exercises, Kind};
    /// let table = AtomicWeights::default().decimals(1);
    /// let exercises = Exercises::new(1).kinds([Kind::PercentWater]).salts(["BaCl2".parse()?]);
    /// let set = exercises.weights(table).set(1)?;
    /// let weights = set.weights_used().into_iter().map(|(element, weight)| format!("{element} {weight}"));
    /// assert_eq!(weights.collect::<Vec<_>>(), ["H 1.0", "O 16.0", "Cl 35.5", "Ba 137.3"]);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn weights_used(&self) -> Vec<(Element, Reading)> {
        let requests = self.problems().iter().map(Exercise::request);
        let elements: BTreeSet<Element> = requests.flat_map(elements).collect();
        let weights = &self.exercises().weights;
        let printed = elements
            .into_iter()
            .filter_map(|element| Some((element, weights.printed(element)?)));
        printed.collect()
    }
}

/// The elements whose weights a request uses. A labelled atom has a mass of its own.
fn elements(request: &Request) -> Vec<Element> {
    let mut formulas = Vec::new();
    match request.operation() {
        Operation::Balance => {}
        Operation::Formula | Operation::Limiting | Operation::Factor | Operation::Empirical => {
            add_members(request.fields(), &mut formulas);
        }
        Operation::Class
        | Operation::Dehydration
        | Operation::Heat
        | Operation::Mixture
        | Operation::Stages => {
            add_members(request.fields(), &mut formulas);
            formulas.push(Formula::water());
        }
    }
    let counts = formulas
        .iter()
        .filter_map(|formula| formula.composition().ok());
    let atoms = counts.flat_map(|counts| counts.iter().map(|(atom, _)| atom).collect::<Vec<_>>());
    atoms
        .filter(|atom| atom.mass_number().is_none())
        .map(Atom::element)
        .collect()
}

/// Adds the formulas whose molar masses the fields ask for. What somebody reported is marked, not used.
fn add_members(members: &[(String, Field)], formulas: &mut Vec<Formula>) {
    for (name, value) in members {
        match (name.as_str(), value) {
            ("reported" | "by" | "amounts" | "fixed", _) => {}
            ("equation", Field::Text(text)) => {
                let equation = Equation::read(text).map(|(equation, _)| equation);
                let species = equation.iter().flat_map(Equation::species);
                formulas.extend(species.map(|species| species.formula().clone()));
            }
            ("masses" | "percent" | "combustion", Field::Object(members)) => {
                formulas.extend(members.iter().filter_map(|(key, _)| key.parse().ok()));
            }
            (
                "formula" | "salt" | "hydrate" | "issued" | "residue" | "residues" | "sought"
                | "weighed" | "components" | "rows" | "actual" | "species",
                value,
            ) => add_value(value, formulas),
            _ => {}
        }
    }
}

fn add_value(value: &Field, formulas: &mut Vec<Formula>) {
    match value {
        Field::Text(text) => formulas.extend(text.parse().ok()),
        Field::List(values) => values.iter().for_each(|value| add_value(value, formulas)),
        Field::Object(members) => add_members(members, formulas),
    }
}
