//! From the figures of an analysis to the amount of each part.

use alloc::format;
use alloc::vec::Vec;

use super::super::mass::MolarInputs;
use super::super::{Error, ErrorKind, Formula};
use super::part::Part;
use super::{Analysis, Given};
use crate::number::{Budget, Inputs, Measured, Ratio, Reading, Traced};
use crate::text::{Detail, Note};

/// What is not accounted for without a word: half a per cent of the sample. Common practice, no
/// source.
const UNSAID: (i128, i128) = (1, 200);

/// Beyond this part of the sample the figures belong together no more.
const ABSURD: (i128, i128) = (1, 20);

/// One part of a sample: its mass, its amount, and its ratio to the part with the smallest amount.
#[derive(Debug, Clone, PartialEq)]
pub struct Constituent {
    pub(super) part: Part,
    pub(super) formula: Formula,
    pub(super) origin: Origin,
    pub(super) mass: Traced,
    pub(super) molar: Traced,
    pub(super) moles: Traced,
    pub(super) ratio: Traced,
    pub(super) budget: Budget,
}

/// How a mass was come by.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Origin {
    Mass,
    /// From an amount that was given.
    Amount,
    /// Per cent of a sample whose mass was given.
    Share(Reading),
    Products(Vec<Product>),
    Difference,
}

/// A product of burning.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Product {
    pub(crate) formula: Formula,
    pub(crate) mass: Reading,
    pub(crate) molar: Ratio,
    /// The atoms of the element in a formula unit.
    pub(crate) carried: Ratio,
}

impl Constituent {
    /// The element, or the species that is counted whole.
    #[must_use]
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Its mass, in grams; in 100 g where only percentages were given.
    #[must_use]
    pub fn mass(&self) -> &Ratio {
        self.mass.value()
    }

    /// The same with the digits that mean something.
    #[must_use]
    pub fn measured_mass(&self) -> &Measured {
        self.mass.measured()
    }

    /// Its molar mass, in grams a mole.
    #[must_use]
    pub fn molar_mass(&self) -> &Ratio {
        self.molar.value()
    }

    /// Its amount, in moles.
    #[must_use]
    pub fn amount(&self) -> &Ratio {
        self.moles.value()
    }

    /// The same with the digits that mean something.
    #[must_use]
    pub fn measured_amount(&self) -> &Measured {
        self.moles.measured()
    }

    /// Its amount over the smallest amount among the parts.
    #[must_use]
    pub fn ratio(&self) -> &Ratio {
        self.ratio.value()
    }

    /// The same with the digits that mean something.
    #[must_use]
    pub fn measured_ratio(&self) -> &Measured {
        self.ratio.measured()
    }

    /// The standard uncertainty of the ratio, from the last place of each reading and the atomic
    /// weights.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget.standard_uncertainty()
    }

    /// Where the uncertainty of the ratio comes from.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    pub(crate) fn origin(&self) -> &Origin {
        &self.origin
    }
}

/// A part before the ratio is known.
struct Weighed {
    part: Part,
    origin: Origin,
    mass: Traced,
    molar: Traced,
    moles: Traced,
}

impl Analysis {
    pub(super) fn amounts(
        &self,
        parts: Vec<Part>,
        warnings: &mut Vec<Note>,
    ) -> Result<Vec<Constituent>, Error> {
        let mut inputs = Inputs::default();
        let mut table = MolarInputs::new(&self.weights);
        let sample = self.sample.as_ref();
        if let Some(mass) = sample.filter(|mass| !mass.value().is_positive()) {
            return Err(impossible(
                format!("the sample is given as {mass} g"),
                "give the mass of the sample, above 0",
            ));
        }
        let sample = sample.map(|mass| inputs.reading("sample", mass));
        let mut weighed: Vec<Weighed> = Vec::new();
        let mut parts = parts.into_iter();
        for ((formula, given), part) in self.given.iter().zip(parts.by_ref()) {
            let next = weigh(
                formula,
                given,
                part,
                sample.as_ref(),
                &mut table,
                &mut inputs,
            )?;
            match weighed.iter_mut().find(|other| other.part == next.part) {
                Some(same) => same.add(next),
                None => weighed.push(next),
            }
        }
        let whole = sample.or_else(|| {
            let percents = |(_, given): &(Formula, Given)| matches!(given, Given::Percent(_));
            let all = self.given.iter().all(percents);
            all.then(|| Traced::exact(Ratio::from(100)))
        });
        if let Some(whole) = whole {
            let rest = weighed
                .iter()
                .fold(whole.clone(), |rest, part| rest.minus(&part.mass));
            warnings.extend(self.account_for(&whole, &rest, &inputs)?);
            if let Some(part) = parts.next() {
                let molar = table.molar(&part.formula(), &mut inputs)?;
                if self.is_nothing(&rest, &whole, &inputs) {
                    warnings.push(nothing_left(&part, &rest));
                } else {
                    weighed.push(Weighed {
                        moles: rest.over(&molar).ok_or_else(no_mass)?,
                        origin: Origin::Difference,
                        mass: rest,
                        molar,
                        part,
                    });
                }
            }
        }
        divided(weighed, &inputs)
    }

    /// Whether the parts make up the whole.
    fn account_for(
        &self,
        whole: &Traced,
        rest: &Traced,
        inputs: &Inputs,
    ) -> Result<Option<Note>, Error> {
        let difference = self.by_difference.is_some();
        let share = |(n, d): (i128, i128)| &Ratio::new(n, d).unwrap_or_default() * whole.value();
        let missing = rest.value();
        let sum = whole.value() - missing;
        let percent = self.sample.is_none();
        let unit = if percent { "%" } else { "g" };
        let (sum, of) = (
            Measured::with_decimal_places(sum, rest.measured().decimal_places().unwrap_or(0))
                .to_plain(),
            whole.measured().to_plain(),
        );
        let over = missing.is_negative();
        if missing.abs() > share(ABSURD) && (over || !difference) {
            return Err(impossible(
                format!("the parts make up {sum} {unit} of {of} {unit}"),
                if over {
                    "check the figures: the parts cannot weigh more than the sample"
                } else {
                    "give every part, or name the one that makes up the rest (oxygen by difference)"
                },
            ));
        }
        let allowed = share(UNSAID).to_f64().max(self.expanded(rest, inputs));
        if difference || missing.abs().to_f64() <= allowed {
            return Ok(None);
        }
        Ok(Some(
            Note::new(
                "sum_not_whole",
                format!(
                    "The parts make up {sum} {unit} of {of} {unit}: one may be missing, or a figure be wrong."
                ),
            )
            .with("sum", sum)
            .with("whole", of),
        ))
    }

    fn is_nothing(&self, rest: &Traced, whole: &Traced, inputs: &Inputs) -> bool {
        let unsaid = &Ratio::new(UNSAID.0, UNSAID.1).unwrap_or_default() * whole.value();
        rest.value() <= &unsaid || rest.value().to_f64() <= self.expanded(rest, inputs)
    }

    pub(super) fn expanded(&self, value: &Traced, inputs: &Inputs) -> f64 {
        inputs.budget(value).expanded(self.coverage)
    }
}

fn weigh(
    formula: &Formula,
    given: &Given,
    part: Part,
    sample: Option<&Traced>,
    table: &mut MolarInputs<'_>,
    inputs: &mut Inputs,
) -> Result<Weighed, Error> {
    let own = table.molar(&part.formula(), inputs)?;
    let (origin, mass) = match given {
        Given::Mass(grams) => {
            let mass = inputs.reading(format!("mass of {}", part.formula()), grams);
            (Origin::Mass, mass)
        }
        Given::Percent(percent) => {
            let share = inputs.reading(format!("percentage of {}", part.formula()), percent);
            let hundredth = Ratio::new(1, 100).unwrap_or_default();
            match sample {
                Some(sample) => (
                    Origin::Share(*percent),
                    share.times(sample).times_exact(&hundredth),
                ),
                // Of 100 g.
                None => (Origin::Mass, share),
            }
        }
        Given::Amount(amount) => {
            let moles = inputs.reading(format!("amount of {}", part.formula()), amount);
            (Origin::Amount, moles.times(&own))
        }
        Given::Product(grams) => {
            let product = table.molar(formula, inputs)?;
            let carried = match &part {
                Part::Atom(atom) => formula.composition()?.count(*atom),
                Part::Species(_) => Ratio::ONE,
            };
            let mass = inputs.reading(format!("mass of {formula}"), grams);
            let moles = mass.over(&product).ok_or_else(no_mass)?;
            let mass = moles.times_exact(&carried).times(&own);
            let product = Product {
                formula: formula.clone(),
                mass: *grams,
                molar: product.value().clone(),
                carried,
            };
            (Origin::Products(alloc::vec![product]), mass)
        }
    };
    Ok(Weighed {
        moles: mass.over(&own).ok_or_else(no_mass)?,
        molar: own,
        part,
        origin,
        mass,
    })
}

impl Weighed {
    /// The same element in another product of burning.
    fn add(&mut self, other: Weighed) {
        self.mass = self.mass.plus(&other.mass);
        self.moles = self.moles.plus(&other.moles);
        if let (Origin::Products(all), Origin::Products(more)) = (&mut self.origin, other.origin) {
            all.extend(more);
        }
    }
}

/// Each amount over the smallest.
fn divided(weighed: Vec<Weighed>, inputs: &Inputs) -> Result<Vec<Constituent>, Error> {
    let amounts = weighed.iter().enumerate();
    let least = amounts.min_by(|(_, a), (_, b)| a.moles.value().cmp(b.moles.value()));
    let Some((base, least)) = least.map(|(place, least)| (place, least.moles.clone())) else {
        return Err(no_mass());
    };
    let parts = weighed.into_iter().enumerate();
    parts
        .map(|(place, part)| {
            let ratio = if place == base {
                Traced::exact(Ratio::ONE)
            } else {
                part.moles.over(&least).ok_or_else(no_mass)?
            };
            Ok(Constituent {
                formula: part.part.formula(),
                budget: inputs.budget(&ratio),
                part: part.part,
                origin: part.origin,
                mass: part.mass,
                molar: part.molar,
                moles: part.moles,
                ratio,
            })
        })
        .collect()
}

fn nothing_left(part: &Part, rest: &Traced) -> Note {
    let part = part.formula();
    Note::new(
        "nothing_left",
        format!(
            "What is left for {part} is no more than the readings' uncertainty; it was left out."
        ),
    )
    .with("part", format!("{part}"))
    .with("rest", rest.value().to_plain())
}

#[cold]
fn impossible(message: alloc::string::String, help: &'static str) -> Error {
    Error::new(ErrorKind::ImpossibleMasses, Detail::new(message).help(help))
}

#[cold]
fn no_mass() -> Error {
    impossible(
        "a part has no mass".into(),
        "give each part with a mass above 0",
    )
}
