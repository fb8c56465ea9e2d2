//! From the values of an analysis to the amount of each part.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::analysis::{Analysis, PartValue, ValueKind};
use super::constituent::{CombustionProduct, Constituent, Origin, Portion};
use super::entity::Entity;
use super::warning::AnalysisWarning;
use crate::formula::error::{Error, ErrorKind};
use crate::formula::mass::MolarInputs;
use crate::number::{Inputs, Measured, Ratio, Traced};

/// The share of the sample that may be missing without a warning: half a per cent. Common practice,
/// no source.
const NEGLIGIBLE: (i128, i128) = (1, 200);

/// If the parts differ from the sample by more than this share, the values do not belong together.
const IMPOSSIBLE: (i128, i128) = (1, 20);

/// The parts of a sample while their amounts are worked out.
struct Portions<'a> {
    analysis: &'a Analysis,
    inputs: Inputs,
    molar_inputs: MolarInputs<'a>,
    sample: Option<Traced>,
    portions: Vec<Portion>,
}

impl Analysis {
    /// The parts with their ratios, and what is doubtful about their sum.
    pub(super) fn constituents(
        &self,
        entities: Vec<Entity>,
    ) -> Result<(Vec<Constituent>, Option<AnalysisWarning>), Error> {
        let mut inputs = Inputs::default();
        if let Some(mass) = self.sample.filter(|mass| !mass.value().is_positive()) {
            return Err(impossible(
                format!("the sample is given as {mass} g"),
                "give a positive mass",
            ));
        }
        let mut portions = Portions {
            analysis: self,
            molar_inputs: MolarInputs::new(&self.weights),
            sample: self.sample.map(|mass| inputs.reading("sample", &mass)),
            inputs,
            portions: Vec::new(),
        };
        let mut entities = entities.into_iter();
        for (value, entity) in self.values.iter().zip(entities.by_ref()) {
            portions.add(value, entity)?;
        }
        let warning = portions.add_rest(entities.next())?;
        Ok((portions.constituents()?, warning))
    }
}

impl Portions<'_> {
    /// Adds a part of which a value is given.
    fn add(&mut self, value: &PartValue, entity: Entity) -> Result<(), Error> {
        let (formula, reading) = (&value.formula, &value.reading);
        let own = entity.formula();
        let inputs = &mut self.inputs;
        let molar_mass = self.molar_inputs.molar(&own, inputs)?;
        let (origin, mass) = match value.kind {
            ValueKind::Mass => (
                Origin::Mass,
                inputs.reading(format!("mass of {own}"), reading),
            ),
            ValueKind::Percent => {
                let share = inputs.reading(format!("percentage of {own}"), reading);
                match &self.sample {
                    Some(sample) => {
                        let hundredth = share_of(&Ratio::ONE, (1, 100));
                        let mass = share.times(sample).times_exact(&hundredth);
                        (Origin::Share(*reading), mass)
                    }
                    // The mass in 100 g.
                    None => (Origin::Mass, share),
                }
            }
            ValueKind::Amount => {
                let amount = inputs.reading(format!("amount of {own}"), reading);
                (Origin::Amount, amount.times(&molar_mass))
            }
            ValueKind::Product => {
                let of_product = self.molar_inputs.molar(formula, inputs)?;
                let atoms = match &entity {
                    Entity::Atom(atom) => formula.composition()?.count(*atom),
                    Entity::Species(_) => Ratio::ONE,
                };
                let mass = inputs.reading(format!("mass of {formula}"), reading);
                let amount = mass.over(&of_product).ok_or_else(no_mass)?;
                let product = CombustionProduct {
                    formula: formula.clone(),
                    mass: *reading,
                    molar_mass: of_product.value().clone(),
                    atoms: atoms.clone(),
                };
                let mass = amount.times_exact(&atoms).times(&molar_mass);
                (Origin::Products(vec![product]), mass)
            }
        };
        self.push(entity, origin, mass, molar_mass)
    }

    fn push(
        &mut self,
        entity: Entity,
        origin: Origin,
        mass: Traced,
        molar_mass: Traced,
    ) -> Result<(), Error> {
        let amount = mass.over(&molar_mass).ok_or_else(no_mass)?;
        let mut portions = self.portions.iter_mut();
        // The same element in another product of combustion.
        if let Some(same) = portions.find(|portion| portion.entity == entity) {
            same.mass = same.mass.plus(&mass);
            same.amount = same.amount.plus(&amount);
            if let (Origin::Products(all), Origin::Products(more)) = (&mut same.origin, origin) {
                all.extend(more);
            }
            return Ok(());
        }
        self.portions.push(Portion {
            formula: entity.formula(),
            entity,
            origin,
            mass,
            molar_mass,
            amount,
        });
        Ok(())
    }

    /// Adds the part by difference, if there is one, and checks that the parts make up the whole.
    fn add_rest(&mut self, entity: Option<Entity>) -> Result<Option<AnalysisWarning>, Error> {
        let mut values = self.analysis.values.iter();
        let in_percent = values.all(|value| value.kind == ValueKind::Percent);
        let hundred = in_percent.then(|| Traced::exact(Ratio::from(100)));
        let Some(whole) = self.sample.clone().or(hundred) else {
            return Ok(None);
        };
        let masses = self.portions.iter().map(|portion| &portion.mass);
        let rest = masses.fold(whole.clone(), |rest, mass| rest.minus(mass));
        let missing = rest.value();
        let is_over = missing.is_negative();
        if missing.abs() > share_of(whole.value(), IMPOSSIBLE) && (is_over || entity.is_none()) {
            let (sum, whole, unit) = self.sum(&whole, &rest);
            return Err(impossible(
                format!("the parts make up {sum} {unit} of {whole} {unit}"),
                if is_over {
                    "check the values. The parts cannot weigh more than the sample"
                } else {
                    "give every part, or name the part that is found by difference, such as oxygen"
                },
            ));
        }
        let negligible = share_of(whole.value(), NEGLIGIBLE);
        let expanded = self.inputs.budget(&rest).expanded(self.analysis.coverage);
        let Some(entity) = entity else {
            let allowed = negligible.to_f64().max(expanded);
            return Ok((missing.abs().to_f64() > allowed).then(|| {
                let (sum, whole, unit) = self.sum(&whole, &rest);
                AnalysisWarning::SumNotWhole { sum, whole, unit }
            }));
        };
        let formula = entity.formula();
        let molar_mass = self.molar_inputs.molar(&formula, &mut self.inputs)?;
        if *missing <= negligible || missing.to_f64() <= expanded {
            return Ok(Some(AnalysisWarning::NothingLeft {
                part: formula,
                rest: missing.clone(),
            }));
        }
        self.push(entity, Origin::Difference, rest, molar_mass)?;
        Ok(None)
    }

    /// What the parts make up, of which whole, in which unit.
    fn sum(&self, whole: &Traced, rest: &Traced) -> (String, String, &'static str) {
        let sum = whole.value() - rest.value();
        let places = rest.measured().decimal_places().unwrap_or(0);
        let sum = Measured::with_places(sum, places).to_plain();
        let unit = if self.sample.is_some() { "g" } else { "%" };
        (sum, whole.measured().to_plain(), unit)
    }

    /// Divides each amount by the smallest.
    fn constituents(self) -> Result<Vec<Constituent>, Error> {
        let amounts = self.portions.iter().map(|portion| &portion.amount);
        let least = amounts
            .enumerate()
            .min_by(|(_, a), (_, b)| a.value().cmp(b.value()));
        let (base, least) = least.ok_or_else(no_mass)?;
        let least = least.clone();
        let portions = self.portions.into_iter().enumerate();
        portions
            .map(|(index, portion)| {
                let ratio = if index == base {
                    Traced::exact(Ratio::ONE)
                } else {
                    portion.amount.over(&least).ok_or_else(no_mass)?
                };
                Ok(Constituent {
                    budget: self.inputs.budget(&ratio),
                    portion,
                    ratio,
                })
            })
            .collect()
    }
}

fn share_of(whole: &Ratio, (numerator, denominator): (i128, i128)) -> Ratio {
    &Ratio::new(numerator, denominator).unwrap_or_default() * whole
}

fn impossible(message: String, help: &'static str) -> Error {
    Error::nowhere(ErrorKind::ImpossibleMasses, message, help)
}

fn no_mass() -> Error {
    impossible(
        "a part has no mass".into(),
        "give each part a positive mass",
    )
}
