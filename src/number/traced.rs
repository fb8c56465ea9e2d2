//! A value with its significant figures and its slope for each input.

use alloc::borrow::Cow;
use alloc::vec::Vec;

use super::measured::Measured;
use super::ratio::Ratio;
use super::reading::Reading;
use super::uncertainty::{Budget, Contribution, rectangular};

/// The independent inputs of a calculation, each with its standard uncertainty.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Inputs(Vec<(Cow<'static, str>, f64)>);

impl Inputs {
    /// Adds a reading, which lies anywhere within half a unit of its last decimal place.
    pub(crate) fn reading(
        &mut self,
        name: impl Into<Cow<'static, str>>,
        reading: &Reading,
    ) -> Traced {
        let uncertainty = rectangular(reading.last_place().to_f64() / 2.0);
        self.add(name, Measured::from(reading), uncertainty)
    }

    /// Adds a value of a table, which limits no significant figures.
    pub(crate) fn weight(
        &mut self,
        name: impl Into<Cow<'static, str>>,
        value: &Ratio,
        uncertainty: f64,
    ) -> Traced {
        self.add(name, Measured::exact(value.clone()), uncertainty)
    }

    fn add(
        &mut self,
        name: impl Into<Cow<'static, str>>,
        measured: Measured,
        uncertainty: f64,
    ) -> Traced {
        let mut slopes = alloc::vec![0.0; self.0.len()];
        slopes.push(1.0);
        self.0.push((name.into(), uncertainty));
        Traced { measured, slopes }
    }

    /// Returns the uncertainty budget of a value that was calculated from these inputs.
    pub(crate) fn budget(&self, value: &Traced) -> Budget {
        let inputs = self.0.iter().zip(&value.slopes);
        let all: Vec<Contribution> = inputs
            .map(|((name, u), slope)| Contribution::new(name.clone(), *u, *slope))
            .collect();
        let largest = all.iter().map(Contribution::amount).fold(0.0, f64::max);
        // An input that cancels leaves at most the rounding of binary fractions.
        let matters = |part: &Contribution| part.amount() > largest * 1e-12;
        Budget::new(all.into_iter().filter(matters).collect())
    }
}

/// An exact value with its significant figures and its slope for each input.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Traced {
    measured: Measured,
    /// By the index of the input; slopes that are missing at the end are zero.
    slopes: Vec<f64>,
}

impl Traced {
    /// Returns a value that was not measured, such as a count.
    pub(crate) fn exact(value: Ratio) -> Traced {
        Traced {
            measured: Measured::exact(value),
            slopes: Vec::new(),
        }
    }

    pub(crate) fn value(&self) -> &Ratio {
        self.measured.value()
    }

    pub(crate) fn measured(&self) -> &Measured {
        &self.measured
    }

    pub(crate) fn plus(&self, other: &Traced) -> Traced {
        Traced {
            measured: &self.measured + &other.measured,
            slopes: self.slopes_with(other, |a, b| a + b),
        }
    }

    pub(crate) fn minus(&self, other: &Traced) -> Traced {
        Traced {
            measured: &self.measured - &other.measured,
            slopes: self.slopes_with(other, |a, b| a - b),
        }
    }

    pub(crate) fn times(&self, other: &Traced) -> Traced {
        let (value, factor) = (self.value().to_f64(), other.value().to_f64());
        Traced {
            measured: &self.measured * &other.measured,
            slopes: self.slopes_with(other, |a, b| a * factor + b * value),
        }
    }

    /// Returns an exact multiple.
    pub(crate) fn times_exact(&self, count: &Ratio) -> Traced {
        let by = count.to_f64();
        Traced {
            measured: &self.measured * &Measured::exact(count.clone()),
            slopes: self.slopes.iter().map(|slope| slope * by).collect(),
        }
    }

    /// Returns the quotient; `None` if `divisor` is zero.
    pub(crate) fn over(&self, divisor: &Traced) -> Option<Traced> {
        let measured = self.measured.checked_div(&divisor.measured)?;
        let (quotient, below) = (measured.value().to_f64(), divisor.value().to_f64());
        Some(Traced {
            slopes: self.slopes_with(divisor, |a, b| (a - quotient * b) / below),
            measured,
        })
    }

    fn slopes_with(&self, other: &Traced, join: impl Fn(f64, f64) -> f64) -> Vec<f64> {
        let length = self.slopes.len().max(other.slopes.len());
        let at = |slopes: &[f64], index: usize| slopes.get(index).copied().unwrap_or(0.0);
        (0..length)
            .map(|index| join(at(&self.slopes, index), at(&other.slopes, index)))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// x = (a − b)/b · 3 with a = 8.00, b = 2.00: dx/da = 3/b, dx/db = −3a/b².
    #[test]
    fn an_input_counts_once() {
        let mut inputs = Inputs::default();
        let a = inputs.reading("a", &"8.00".parse().unwrap());
        let b = inputs.reading("b", &"2.00".parse().unwrap());
        let x = a.minus(&b).over(&b).unwrap().times_exact(&Ratio::from(3));
        assert_eq!(x.value(), &Ratio::from(9));
        assert_eq!(x.measured().figures(), Some(3));
        let budget = inputs.budget(&x);
        let slopes: Vec<(&str, f64)> = budget
            .contributions()
            .iter()
            .map(|part| (part.input(), part.sensitivity()))
            .collect();
        assert_eq!(slopes, [("a", 1.5), ("b", -6.0)]);
        let u = 0.01 / libm::sqrt(12.0);
        let whole = libm::sqrt(1.5 * 1.5 + 36.0) * u;
        assert!((budget.standard_uncertainty() - whole).abs() < 1e-12);
    }

    #[test]
    fn sums_products_and_what_does_not_move() {
        let mut inputs = Inputs::default();
        let a = inputs.reading("a", &"2.0".parse().unwrap());
        let weight = inputs.weight("weight", &Ratio::from(4), 0.5);
        let y = a.times(&weight).plus(&Traced::exact(Ratio::ONE));
        assert_eq!(y.value(), &Ratio::from(9));
        let budget = inputs.budget(&y);
        let [one, other] = budget.contributions() else {
            panic!("two inputs");
        };
        assert_eq!((one.sensitivity(), other.sensitivity()), (4.0, 2.0));
        let gone = a.minus(&a);
        assert!(inputs.budget(&gone).contributions().is_empty());
        assert_eq!(a.over(&gone), None);
    }
}
