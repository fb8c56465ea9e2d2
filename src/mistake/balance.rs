//! The balance of a simulated bench. Its weighings scatter, and it shows the nearest division.

use alloc::format;

use super::draws::Draws;
use super::error::wrong;
use super::error::{Error, ErrorKind};
use crate::number::{Ratio, Reading};

/// The finest division is 1/`FINEST` g and the coarsest is `COARSEST` g on the balances used for this
/// experiment (common practice, no source).
const FINEST: i128 = 10_000_000;
const COARSEST: i128 = 1;

/// A balance with the same division in all of its range.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Balance {
    readability: Reading,
    /// One division in grams.
    pub(super) division: f64,
    /// One division in units of the last decimal place that the balance shows.
    pub(super) step: i128,
    pub(super) places: i32,
    /// The standard deviation of a weighing before it is rounded, in grams.
    pub(super) repeatability: f64,
}

impl Balance {
    /// Makes a balance with a repeatability of a third of a division.
    pub(super) fn new(readability: Reading) -> Result<Balance, Error> {
        let value = readability.value();
        let finest = Ratio::new(1, FINEST).unwrap_or_default();
        let known = (value >= finest && value <= Ratio::from(COARSEST)).then_some(());
        let shape = known.and_then(|()| {
            // `0.0010` means the same balance as `0.001`.
            let places = i32::try_from(value.exact_decimal_places()?).ok()?;
            let step = (&value * Ratio::power_of_ten(places)).to_i128()?;
            Some((places, step))
        });
        let Some((places, step)) = shape else {
            return Err(wrong(
                ErrorKind::Readability,
                format!("a readability of {readability} g is not possible for this experiment"),
                "give the smallest step that the balance shows, from 0.0000001 g to 1 g, such as 0.001",
            ));
        };
        let division = value.to_f64();
        Ok(Balance {
            readability,
            division,
            step,
            places,
            repeatability: division / 3.0,
        })
    }

    pub(super) fn readability(&self) -> Reading {
        self.readability
    }

    /// What the balance shows for a mass in grams.
    pub(super) fn weigh(&self, mass: f64, draws: &mut Draws) -> Result<Reading, Error> {
        let scattered = mass + self.repeatability * draws.normal();
        let divisions = libm::round(scattered / self.division);
        self.written(divisions as i128 * self.step)
    }

    /// The reading with this number of units of the last place.
    pub(super) fn written(&self, units: i128) -> Result<Reading, Error> {
        Reading::from_units(units, -self.places).ok_or_else(|| {
            wrong(
                ErrorKind::OutOfRange,
                "a simulated weighing has too many digits".into(),
                "simulate masses of at most 1000 g",
            )
        })
    }

    /// The units of the last place that a reading of this balance has.
    pub(super) fn units(&self, reading: &Reading) -> Option<i128> {
        (reading.value() * Ratio::power_of_ten(self.places)).to_i128()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    #[track_caller]
    fn shows(readability: &str, mass: f64, expected: &str) {
        let mut balance = Balance::new(readability.parse().unwrap()).unwrap();
        balance.repeatability = 0.0;
        let shown = balance.weigh(mass, &mut Draws::new(1)).unwrap();
        assert_eq!(shown.to_string(), expected);
    }

    #[test]
    fn every_division_is_shown_to_its_own_place() {
        shows("0.001", 21.352_4, "21.352");
        shows("0.0010", 21.352_4, "21.352");
        shows("0.002", 21.353_1, "21.354");
        shows("0.005", 21.353_1, "21.355");
        shows("0.05", 21.32, "21.30");
        shows("0.1", 21.32, "21.3");
        shows("1", 21.32, "21");
        shows("0.0001", 21.3, "21.3000");
    }

    #[test]
    fn impossible_readabilities_are_refused() {
        for text in ["0", "-0.001", "2", "0.00000001", "1e9"] {
            let error = Balance::new(text.parse().unwrap()).unwrap_err();
            assert_eq!(
                (error.kind(), error.code()),
                (ErrorKind::Readability, "out_of_range")
            );
        }
    }
}
