//! The working of an empirical formula: from the analysis to the formulas.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::step::{Step, Working};
use crate::formula::{CombustionProduct, Constituent, Empirical, Origin};
use crate::number::{Ratio, TieRule};

impl Empirical {
    /// Returns the steps from the analysis to the empirical and the molecular formula.
    ///
    /// ```
    /// use effloresce::formula::Analysis;
    /// let oxide = Analysis::new()
    ///     .mass("Fe".parse()?, "34.97".parse()?)
    ///     .mass("O".parse()?, "15.03".parse()?)
    ///     .empirical()?;
    /// let working = oxide.working();
    /// let last = working.steps().last().unwrap();
    /// assert_eq!((last.what(), last.result()), ("empirical formula", "Fe2O3"));
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        for part in self.constituents() {
            working.steps.extend(mass(self, part));
        }
        for part in self.constituents() {
            working.steps.extend(amount(part));
        }
        let parts = self.constituents().iter();
        if let Some(least) = parts.clone().min_by(|a, b| a.amount().cmp(b.amount())) {
            for part in parts {
                working.push(ratio(part, least));
            }
        }
        if let (Some(trial), Some(formula)) = (self.chosen(), self.formula()) {
            let numbers = format!(
                "{} × ({}) is near {}",
                trial.multiplier(),
                self.ratios_text(),
                as_ratio(trial.counts())
            );
            working.push(
                Step::new(
                    "empirical formula",
                    "the smallest multiplier that makes whole numbers of the ratios",
                    numbers,
                    format!("{formula}"),
                    "",
                )
                .concluded(),
            );
        }
        working.steps.extend(self.molecular_steps());
        working
    }

    fn molecular_steps(&self) -> Vec<Step> {
        let mut steps = Vec::new();
        let (Some((given, one)), Some(units)) = (self.molar_masses(), self.units()) else {
            return steps;
        };
        let quotient = units.with_guard_digit();
        steps.push(Step::new(
            "formula units in a molecule",
            "M / M(empirical formula)",
            format!("{given} g/mol / {} g/mol", one.to_plain()),
            quotient.clone(),
            "",
        ));
        if let (Some(multiplier), Some(molecular)) = (self.multiplier(), self.molecular_formula()) {
            steps.push(
                Step::new(
                    "molecular formula",
                    "the whole number nearest to the quotient",
                    format!("{quotient} is near {multiplier}"),
                    format!("{molecular}"),
                    "",
                )
                .concluded(),
            );
        }
        steps
    }
}

/// Returns the step to the mass of a part, if it was not given.
fn mass(empirical: &Empirical, part: &Constituent) -> Option<Step> {
    let name = part.formula();
    let (symbols, numbers) = match part.origin() {
        Origin::Mass | Origin::Amount => return None,
        Origin::Share(percent) => (
            format!("m({name}) = w({name}) × m(sample) / 100 %"),
            format!("{percent} % × {} g / 100 %", empirical.sample()?),
        ),
        Origin::Products(products) => {
            let own = part.molar_mass().to_plain();
            let symbols = products.iter().map(|p| {
                let product = &p.formula;
                format!("m({product}) × {}M({name}) / M({product})", times(&p.atoms))
            });
            let numbers = products.iter().map(|p| product_term(p, &own));
            (format!("m({name}) = {}", sum_of(symbols)), sum_of(numbers))
        }
        Origin::Difference => {
            let others = empirical.constituents().iter();
            let others = others.filter(|other| *other.origin() != Origin::Difference);
            let whole = match empirical.sample() {
                Some(sample) => format!("{sample} g"),
                None => "100 g".into(),
            };
            let masses =
                others.map(|other| format!(" − {} g", other.measured_mass().with_guard_digit()));
            (
                format!("m({name}) = m(sample) − the masses of the other parts"),
                masses.fold(whole, |text, mass| text + &mass),
            )
        }
    };
    Some(Step::new(
        format!("mass of {name}"),
        symbols,
        numbers,
        part.measured_mass().with_guard_digit(),
        "g",
    ))
}

fn product_term(product: &CombustionProduct, own: &str) -> String {
    format!(
        "{} g × {}{own} g/mol / {} g/mol",
        product.mass,
        times(&product.atoms),
        product.molar_mass.to_plain()
    )
}

/// Returns `2 × `, or nothing for one.
fn times(count: &Ratio) -> String {
    if *count == Ratio::ONE {
        String::new()
    } else {
        format!("{count} × ")
    }
}

fn sum_of(terms: impl Iterator<Item = String>) -> String {
    terms.collect::<Vec<_>>().join(" + ")
}

/// Returns the step to the amount of a part, if it was not given.
fn amount(part: &Constituent) -> Option<Step> {
    let name = part.formula();
    // A mass that was weighed is written as it was read.
    let mass = match part.origin() {
        Origin::Mass => format!("{}", part.measured_mass().written(TieRule::Even)),
        Origin::Amount => return None,
        _ => part.measured_mass().with_guard_digit(),
    };
    Some(Step::new(
        format!("amount of {name}"),
        format!("n({name}) = m / M({name})"),
        format!("{mass} g / {} g/mol", part.molar_mass().to_plain()),
        part.measured_amount().with_guard_digit(),
        "mol",
    ))
}

fn ratio(part: &Constituent, least: &Constituent) -> Step {
    let (name, smallest) = (part.formula(), least.formula());
    Step::new(
        format!("ratio of {name}"),
        format!("n({name}) / n({smallest})"),
        format!(
            "{} mol / {} mol",
            part.measured_amount().with_guard_digit(),
            least.measured_amount().with_guard_digit()
        ),
        part.measured_ratio().with_guard_digit(),
        "",
    )
}

/// Returns `3 : 2 : 8`.
fn as_ratio(counts: &[u32]) -> String {
    let counts: Vec<_> = counts.iter().map(|count| format!("{count}")).collect();
    counts.join(" : ")
}
