//! The water that a slow loss still leaves, estimated from how the weighings fall.

/// The number of last weighings that count at most.
pub(super) const MOST_WEIGHINGS: usize = 6;
/// The largest share of the water that a heating leaves. A larger one depends on the last digit of the balance.
const MOST_LEFT: f64 = 0.9;
/// The number of shares that are compared at once.
const SHARES: usize = 32;
/// The largest misfit of weighings that one share explains, in squares of the uncertainty of a reading.
const MOST_MISFIT: f64 = 9.0;
/// The mean and this many standard deviations are above 95 % of a distribution between a Gaussian (1.64) and an
/// exponential one (2.00).
const ABOVE_95_PERCENT: f64 = 1.8;

/// The water that further heating may still drive off, in grams.
pub(super) struct WaterToCome {
    pub(super) estimate: f64,
    standard_deviation: f64,
    /// The standard uncertainty of one weighing. The two before heating do not change the ratio by more.
    of_weighing: f64,
}

impl WaterToCome {
    /// Estimates the water from at most six last weighings, oldest first, in grams above the one that counts; `u` is
    /// the standard uncertainty of each. The oldest are left out if one share does not explain all.
    ///
    /// Each heating leaves the same share of the water. Any dry mass, any water before the first of these
    /// heatings, and any share from 0 to 0.9 were equally likely before.
    pub(super) fn estimated(above: &[f64], u: f64) -> Option<WaterToCome> {
        let mut scaled = [0.0; MOST_WEIGHINGS];
        for (scaled, above) in scaled.iter_mut().zip(above) {
            *scaled = above / u;
        }
        let scaled = scaled.get(..above.len())?;
        let enough = (3..=scaled.len()).rev();
        let [estimate, standard_deviation] = enough
            .filter_map(|count| scaled.get(scaled.len() - count..))
            .find_map(mean_and_deviation)?
            .map(|value| value * u);
        Some(WaterToCome {
            estimate,
            standard_deviation,
            of_weighing: u,
        })
    }

    /// The standard uncertainty of a `residue` that is not corrected for this water: twice it changes the ratio as
    /// much as the water that 95 % of such benches have left at most. `None` if no residue would be left.
    pub(super) fn uncorrected(&self, residue: f64) -> Option<f64> {
        let [of_water, of_weighing] = [self.standard_deviation, self.of_weighing];
        let bound = self.estimate + ABOVE_95_PERCENT * libm::hypot(of_water, of_weighing);
        // The ratio is not linear in so large a change of the residue.
        (bound < residue).then(|| bound.max(0.0) / 2.0 * residue / (residue - bound))
    }
}

/// The mean and the standard deviation of the water, over all shares; `None` if no share explains the weighings.
fn mean_and_deviation(above: &[f64]) -> Option<[f64; 2]> {
    let (mut low, mut high) = (0.0, MOST_LEFT);
    // Each round keeps what is likely. Twelve find a share that is known to nine figures.
    for _ in 0..12 {
        let step = (high - low) / SHARES as f64;
        let share = |index: usize| low + step * (index as f64 + 0.5);
        let fits: [DecayFit; SHARES] =
            core::array::from_fn(|index| DecayFit::of(above, share(index)));
        let best = fits.iter().map(|fit| fit.log_likelihood);
        let best = best.fold(f64::NEG_INFINITY, f64::max);
        // What is left out has less than 0.04 % of the best likelihood.
        let is_likely = |fit: &DecayFit| fit.log_likelihood > best - 8.0;
        let first = fits.iter().position(is_likely)?;
        let last = fits.iter().rposition(is_likely)?;
        let likely_low = (share(first) - step).max(low);
        let likely_high = (share(last) + step).min(high);
        if likely_high - likely_low >= 0.6 * (high - low) {
            let explains = fits.iter().any(|fit| fit.misfit <= MOST_MISFIT);
            return explains.then(|| over_all(&fits, best));
        }
        (low, high) = (likely_low, likely_high);
    }
    None
}

/// The mean and the standard deviation of the water, each share weighted with its likelihood.
fn over_all(fits: &[DecayFit], best: f64) -> [f64; 2] {
    let (mut sum, mut first, mut second) = (0.0, 0.0, 0.0);
    for fit in fits {
        let weight = libm::exp(fit.log_likelihood - best);
        sum += weight;
        first += weight * fit.water;
        second += weight * (fit.variance + fit.water * fit.water);
    }
    let mean = first / sum;
    [mean, libm::sqrt((second / sum - mean * mean).max(0.0))]
}

/// Weighings explained by one share; masses in standard uncertainties of a reading.
struct DecayFit {
    log_likelihood: f64,
    /// The sum of the squares of what is not explained.
    misfit: f64,
    /// The mean of the water in the weighing that counts, and its variance.
    water: f64,
    variance: f64,
}

impl DecayFit {
    /// A straight line: each weighing is the dry mass and the first water times a power of the share `left`.
    fn of(above: &[f64], left: f64) -> DecayFit {
        let count = above.len() as f64;
        let (mut powers, mut next) = ([1.0; MOST_WEIGHINGS], 1.0);
        for power in &mut powers {
            *power = next;
            next *= left;
        }
        let mean_above = above.iter().sum::<f64>() / count;
        let mean_power = powers.iter().take(above.len()).sum::<f64>() / count;
        let points = || {
            let points = powers.iter().zip(above);
            points.map(|(power, above)| (power - mean_power, above - mean_above))
        };
        let squares: f64 = points().map(|(x, _)| x * x).sum();
        let slope = points().map(|(x, y)| x * y).sum::<f64>() / squares;
        let misfit = |slope: f64| -> f64 {
            points()
                .map(|(x, y)| (y - slope * x) * (y - slope * x))
                .sum()
        };
        // Water is not negative, so the slope has a Gaussian that is cut off at zero.
        let z = slope * libm::sqrt(squares);
        let positive = libm::erfc(-z * core::f64::consts::FRAC_1_SQRT_2) / 2.0;
        let (slope_above, narrowed) = match positive > 1e-9 {
            true => {
                let density = libm::exp(-z * z / 2.0) / libm::sqrt(core::f64::consts::TAU);
                let shift = density / positive;
                (z + shift, (1.0 - shift * (shift + z)).max(0.0))
            }
            false => (0.0, 0.0),
        };
        let first_water = slope_above / libm::sqrt(squares);
        DecayFit {
            log_likelihood: libm::log(positive.max(1e-9))
                - (misfit(slope) + libm::log(squares)) / 2.0,
            misfit: misfit(slope.max(0.0)),
            water: first_water * mean_power - mean_above,
            variance: mean_power * mean_power * narrowed / squares + 1.0 / count,
        }
    }
}
