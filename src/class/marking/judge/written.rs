//! A number as it was written, and the value that it stands for.

use alloc::borrow::Cow;
use alloc::string::ToString;
use alloc::vec::Vec;

use crate::class::{Reported, ReportedValue};
use crate::formula::Formula;
use crate::gravimetry::{Interval, Quantity};
use crate::number::{Ratio, Reading, TieRule};

/// A number as it was written, and the value of its quantity that it stands for.
#[derive(Debug, Clone)]
pub(super) struct Written {
    pub(super) number: Reading,
    basis: Basis,
    /// Whether a mole of salt is a mole of what was issued, which has several formula units of salt.
    pub(super) as_issued: bool,
}

#[derive(Debug, Clone)]
enum Basis {
    /// The number is the value.
    Value,
    /// The number is so many times the value: three times for the 8 of `8/3`.
    Times(Ratio),
    /// The number is one divided by the value, because the pair was written the other way round.
    Inverse,
    /// The number is a quotient with so many significant figures above the line, as a decimal number.
    Fraction(u32),
}

impl Written {
    /// Returns what a reported number usually stands for; `None` if it is no number.
    pub(super) fn usual(reported: &Reported) -> Option<Written> {
        let (number, basis) = match reported.value() {
            ReportedValue::Number(number) => (*number, Basis::Value),
            ReportedValue::WholeRatio(number, of) => {
                (*number, Basis::Times(Ratio::from(u32::from(*of))))
            }
            _ => return None,
        };
        Some(Written {
            number,
            basis,
            as_issued: false,
        })
    }

    /// Returns what a reported number may stand for besides its usual meaning. The two sides of a pair may
    /// be in either order, and a mole of `3CdSO4·8H2O` may be a mole of what was issued.
    pub(super) fn others(&self, reported: &Reported, issued: &Formula) -> Vec<Written> {
        let mut others = Vec::new();
        if !self.number.value().is_positive() {
            return others;
        }
        let quantity = reported.quantity();
        if quantity == Quantity::Ratio && reported.is_pair() {
            others.push(self.inverse());
        }
        let units = || units(issued).filter(|units| *units != Ratio::ONE);
        let factor = match quantity {
            Quantity::Ratio => units(),
            Quantity::MolSalt => units().and_then(|units| Ratio::ONE.checked_div(&units)),
            _ => None,
        };
        others.extend(factor.map(|factor| self.times(&factor)));
        others
    }

    fn times(&self, factor: &Ratio) -> Written {
        let basis = match &self.basis {
            Basis::Times(times) => Basis::Times(times * factor),
            _ => Basis::Times(factor.clone()),
        };
        Written {
            number: self.number,
            basis,
            as_issued: true,
        }
    }

    /// Returns a number that was reported as a quotient of whole numbers as the decimal number that it is, with at
    /// most so many significant figures. A simple fraction of water may be the ratio itself, so a number of waters
    /// (`is_degree`) stays a quotient.
    pub(super) fn fraction_by_value(
        self,
        reported: &Reported,
        figures: u32,
        is_degree: impl Fn(&Ratio) -> bool,
    ) -> Written {
        let is_fraction = matches!(reported.value(), ReportedValue::WholeRatio(..));
        if !is_fraction || is_degree(&self.value()) {
            return self;
        }
        let value = self.value();
        let exact = value.to_plain().parse().ok();
        let exact = exact.filter(|exact: &Reading| {
            exact.value() == value && exact.figures().at_most() <= figures
        });
        let rounded = || value.to_figures(figures, TieRule::Even).to_string().parse();
        let Some(number) = exact.or_else(|| rounded().ok()) else {
            return self;
        };
        Written {
            number,
            basis: Basis::Fraction(self.number.figures().at_most()),
            ..self
        }
    }

    /// Returns the same with the sides of the pair exchanged.
    fn inverse(&self) -> Written {
        let whole = match &self.basis {
            Basis::Times(of) => of.to_i128().and_then(|of| Reading::from_units(of, 0)),
            _ => None,
        };
        match whole {
            Some(number) => Written {
                number,
                basis: Basis::Times(self.number.value()),
                as_issued: false,
            },
            None => Written {
                number: self.number,
                basis: Basis::Inverse,
                as_issued: false,
            },
        }
    }

    /// Returns the same with other digits.
    pub(super) fn times_power_of_ten(&self, power: i32) -> Option<Written> {
        Some(Written {
            number: self.number.times_power_of_ten(power)?,
            ..self.clone()
        })
    }

    /// Returns the value that the number stands for.
    pub(super) fn value(&self) -> Ratio {
        let number = self.number.value();
        let value = match &self.basis {
            Basis::Value | Basis::Fraction(_) => return number,
            Basis::Times(factor) => number.checked_div(factor),
            Basis::Inverse => Ratio::ONE.checked_div(&number),
        };
        value.unwrap_or_default()
    }

    /// Returns the numbers that values give.
    pub(super) fn of<'v>(&self, value: &'v Interval) -> Option<Cow<'v, Interval>> {
        match &self.basis {
            Basis::Value | Basis::Fraction(_) => Some(Cow::Borrowed(value)),
            Basis::Times(factor) => Some(Cow::Owned(value.times(&Interval::point(factor.clone())))),
            Basis::Inverse => Interval::point(Ratio::ONE).over(value).map(Cow::Owned),
        }
    }

    /// Returns the values that round to the number.
    pub(super) fn about(&self) -> Interval {
        let about = Interval::about(&self.number);
        let values = match &self.basis {
            Basis::Value | Basis::Fraction(_) => None,
            Basis::Times(factor) => about.over(&Interval::point(factor.clone())),
            Basis::Inverse => Interval::point(Ratio::ONE).over(&about),
        };
        values.unwrap_or(about)
    }

    /// Returns the number if it is the value.
    pub(super) fn plain(&self) -> Option<&Reading> {
        matches!(self.basis, Basis::Value).then_some(&self.number)
    }

    /// Returns whether a ratio is for another mole of salt than the amount handed in: 8.00 for what was
    /// issued, `3CdSO4·8H2O`, and the amount for one `CdSO4`. A fraction says itself what it counts.
    pub(super) fn has_other_basis(&self, reported: &Reported, as_issued: Option<bool>) -> bool {
        reported.quantity() == Quantity::Ratio
            && matches!(reported.value(), ReportedValue::Number(_))
            && as_issued.is_some_and(|as_issued| as_issued != self.as_issued)
    }

    /// Returns whether the number was written as a quotient, which has no last place.
    pub(super) fn is_fraction(&self) -> bool {
        matches!(self.basis, Basis::Fraction(_))
    }

    /// Returns the value as a decimal number, with two significant figures if it is a quotient.
    pub(super) fn decimal(&self) -> Reading {
        let figures = match self.basis {
            Basis::Fraction(above) => above,
            _ => self.number.figures().at_most(),
        };
        let figures = figures.max(2);
        let decimal = || {
            let value = self.value().to_figures(figures, TieRule::Even);
            value.to_string().parse().ok()
        };
        self.plain()
            .copied()
            .or_else(decimal)
            .unwrap_or(self.number)
    }
}

/// Returns the formula units of the salt in what was issued: three in `3CdSO4·8H2O`.
fn units(issued: &Formula) -> Option<Ratio> {
    let (_, degree) = issued.one_formula_unit()?;
    issued.waters()?.checked_div(&degree)
}
