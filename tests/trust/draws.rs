//! Random draws, and a salt's molar mass from drawn atomic weights.

use chacha20::ChaCha8Rng;
use chacha20::rand_core::{Rng, SeedableRng};
use effloresce::element::{Edition, StandardWeight};
use effloresce::{Element, Formula, Reading};

pub(crate) struct Draws(ChaCha8Rng);

impl Draws {
    pub(crate) fn new(seed: u64) -> Draws {
        Draws(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A number from 0 to below 1, of 53 bits.
    fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// A number within ± `limit`; all values are equally likely.
    pub(crate) fn within(&mut self, limit: f64) -> f64 {
        self.between(-limit, limit)
    }

    /// A Gaussian deviate with mean 0 (G. Box and M. Muller, Ann. Math. Stat. 1958, 29, 610).
    pub(crate) fn gauss(&mut self, sd: f64) -> f64 {
        if sd == 0.0 {
            return 0.0;
        }
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        sd * radius * (std::f64::consts::TAU * self.unit()).cos()
    }

    /// A whole number below `end`, which is small.
    pub(crate) fn below(&mut self, end: u32) -> u32 {
        (self.unit() * f64::from(end)) as u32
    }
}

pub(crate) fn float(reading: Reading) -> f64 {
    reading.value().to_f64()
}

/// One element of a salt or of water.
struct Part {
    in_salt: f64,
    in_water: f64,
    /// The abridged weight and its limit.
    abridged: (f64, f64),
    /// The published bounds of the weight in nature, or the published ± about one value.
    published: (f64, f64),
}

/// A salt as a sum over elements, hydrogen and oxygen shared with the water.
pub(crate) struct Salt {
    pub(crate) formula: Formula,
    parts: Vec<Part>,
}

/// The molar masses of a salt and of water.
#[derive(Clone, Copy)]
pub(crate) struct Molar {
    pub(crate) salt: f64,
    pub(crate) water: f64,
}

impl Salt {
    /// The counts are given by hand, so that nothing is taken from the crate but its table.
    pub(crate) fn new(text: &str, counts: &[(&str, f64)]) -> Salt {
        let water = [("H", 2.0), ("O", 1.0)];
        let of = |list: &[(&str, f64)], symbol: &str| {
            let found = list.iter().find(|(s, _)| *s == symbol);
            found.map_or(0.0, |(_, count)| *count)
        };
        let mut symbols: Vec<&str> = counts.iter().chain(&water).map(|(s, _)| *s).collect();
        symbols.sort_unstable();
        symbols.dedup();
        let part = |symbol: &str| {
            let element: Element = symbol.parse().unwrap();
            let (value, limit) = element.abridged(Edition::default()).unwrap();
            let published = match element.standard_weight(Edition::default()) {
                StandardWeight::Interval { lower, upper } => (float(lower), float(upper)),
                StandardWeight::Value { value, uncertainty } => {
                    let (value, limit) = (float(value), float(uncertainty));
                    (value - limit, value + limit)
                }
                StandardWeight::None => panic!("{symbol} has no weight"),
            };
            Part {
                in_salt: of(counts, symbol),
                in_water: of(&water, symbol),
                abridged: (float(value), float(limit)),
                published,
            }
        };
        Salt {
            formula: text.parse().unwrap(),
            parts: symbols.into_iter().map(part).collect(),
        }
    }

    fn with(&self, mut weight: impl FnMut(&Part) -> f64) -> Molar {
        let none = Molar {
            salt: 0.0,
            water: 0.0,
        };
        self.parts.iter().fold(none, |sum, part| {
            let weight = weight(part);
            Molar {
                salt: sum.salt + part.in_salt * weight,
                water: sum.water + part.in_water * weight,
            }
        })
    }

    /// Draws weights within the limits of the abridged ones, as the crate's model does.
    pub(crate) fn within_limits(&self, draws: &mut Draws) -> Molar {
        self.with(|part| part.abridged.0 + draws.within(part.abridged.1))
    }

    /// Draws weights within the published bounds, as a real sample may have them.
    pub(crate) fn as_it_may_be(&self, draws: &mut Draws) -> Molar {
        self.with(|part| draws.between(part.published.0, part.published.1))
    }
}
