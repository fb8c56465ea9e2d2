//! The mass that a bench should end at, and what explains readings that miss it.

use alloc::boxed::Box;
use alloc::vec::Vec;

use super::advice::{Advice, Expectation, Found};
use super::constant_mass::Constancy;
use super::exchange::{self, NamedReading, Target};
use super::hazard::HeatingSafety;
use super::issued::Issued;
use super::method::Method;
use super::reason::{IfRight, Reason};
use super::series::Series;
use super::weighings::ContainerWeighings;
use crate::number::{Ratio, Reading, rectangular};

/// The question of a bench whose salt was heated beyond the residue wanted.
const WORK_OUT_WITH_IT: &str = "Ask your teacher: do we work out the figures with this residue?";

/// The mass that a bench should end at, with its tolerance.
pub(super) struct IssuedTarget<'a> {
    pub(super) method: &'a Method,
    pub(super) series: &'a Series<'a>,
    pub(super) issued: &'a Issued<'a>,
    pub(super) criterion: Constancy,
}

impl Target for IssuedTarget<'_> {
    fn left_and_tolerance(&self, hydrate: &Ratio) -> Option<(Ratio, Ratio)> {
        let left = self.issued.left_of(hydrate, &self.issued.residual.waters)?;
        let loss = hydrate - &left;
        let tolerance = self.method.tolerance(self.series, &self.criterion, &loss);
        Some((left, tolerance))
    }

    fn agree(&self, one: &Ratio, other: &Ratio) -> bool {
        (one - other).abs() <= *self.criterion.criterion()
    }
}

impl IssuedTarget<'_> {
    /// The advice to check the readings, for this reason and for what makes sense of them.
    pub(super) fn misread(&self, reason: Reason) -> Found {
        let weighings = self.series.weighings;
        let net = exchange::without_container(weighings, self);
        let expected = net.as_ref().is_some_and(|(_, expected)| *expected);
        let net = || net.map(|(readings, _)| Reason::WithoutContainer(readings));
        let mistyped = exchange::mistyped(weighings, self);
        let typed_as_expected = matches!(mistyped, Some((.., true)));
        let mistyped = mistyped.map(|(reading, meant, _)| Reason::Mistyped(reading, meant));
        let swap = exchange::swap(weighings, self);
        // An exchange that is only possible explains less than a typing error after which all is as expected.
        let swap = swap.filter(|(_, is_expected)| *is_expected || !typed_as_expected);
        let explained = match swap {
            Some((swap, _)) => Some(Reason::Swapped(swap)),
            None if expected => net(),
            None => {
                let reordered = exchange::reordered(weighings, self);
                reordered.map(Reason::Reordered).or(mistyped).or_else(net)
            }
        };
        let reasons = core::iter::once(reason).chain(explained);
        Found::new(Advice::CheckReadings, reasons)
    }

    /// The advice if the last weighing is too light by more than a tenth of the expected loss. `beyond` says that
    /// it is that of a residue below the target, and `if_right` what decomposition explains.
    pub(super) fn far_too_light(
        &self,
        below: &Ratio,
        expectation: &Expectation,
        gained: Option<usize>,
        tolerance: &Ratio,
        beyond: Option<Reason>,
        if_right: IfRight,
    ) -> Found {
        let between = self.below_target(expectation, tolerance);
        let if_right = match between {
            Some(_) => IfRight::SaidElsewhere,
            None => if_right,
        };
        match (self.wrong_digit(below, if_right), beyond) {
            (Some(reason), Some(beyond)) => {
                // A known residue explains the mass without a typing error.
                let reasons = [beyond, reason, Reason::Question(WORK_OUT_WITH_IT)];
                Found::new(Advice::CheckReadings, reasons)
            }
            (Some(reason), None) => {
                let reasons = core::iter::once(reason).chain(between);
                Found::new(Advice::CheckReadings, reasons)
            }
            (None, Some(beyond)) => self.to_ask(expectation, gained, tolerance, Some(beyond)),
            (None, None) => {
                let shown = self.series.on_balance(below);
                // What may save the sample comes first.
                let reasons = between.into_iter().chain([Reason::FarTooLight(shown)]);
                Found::new(Advice::StartAgain, reasons)
            }
        }
    }

    /// The exchange, or the wrong digit, that explains a last weighing that is too light.
    fn wrong_digit(&self, below: &Ratio, if_right: IfRight) -> Option<Reason> {
        let weighings = self.series.weighings;
        let by_digits = |readings: Vec<NamedReading>| {
            let below = self.series.on_balance(below);
            (!readings.is_empty()).then_some(Reason::WrongDigit(below, readings, if_right))
        };
        let mistyped = || {
            let (reading, meant, _) = exchange::mistyped(weighings, self)?;
            Some(Reason::Mistyped(reading, meant))
        };
        let swapped = exchange::swap(weighings, self).map(|(swap, _)| Reason::Swapped(swap));
        swapped
            .or_else(|| by_digits(exchange::wrong_digits(weighings, self)))
            .or_else(mistyped)
            .or_else(|| {
                // Weighings that agree have no water left to lose, and a known residue needs no digit.
                let is_known = if_right == IfRight::SaidElsewhere;
                let is_wet = !is_known && self.criterion.reached() != Some(true);
                is_wet.then(|| by_digits(exchange::wrong_digits_while_wet(weighings, self)))?
            })
    }

    /// The reason that a mass below the expected one is that of a residue below the target.
    pub(super) fn beyond(
        &self,
        below: &Ratio,
        expectation: &Expectation,
        tolerance: &Ratio,
    ) -> Option<Reason> {
        if below <= tolerance {
            return None;
        }
        let last = expectation.last()?;
        let left = self.issued.below_target(&last, tolerance)?;
        let residues = Box::new([left, self.issued.residual.formula.clone()]);
        Some(Reason::BeyondTarget(self.series.shown(tolerance), residues))
    }

    /// The reason that a mass below the expected one is between that of the target and the anhydrous salt.
    pub(super) fn below_target(
        &self,
        expectation: &Expectation,
        tolerance: &Ratio,
    ) -> Option<Reason> {
        let last = expectation.last()?;
        let between = self.issued.between_target_and_salt(&last, tolerance)?;
        let can_go_on = HeatingSafety::of(self.issued.hydrate).suitable() == Some(true);
        Some(Reason::BelowTarget(Box::new(between), can_go_on))
    }

    /// The advice to ask: a gain that lasts, or a last weighing that is too light. `beyond` says that it is
    /// that of a residue below the target.
    pub(super) fn to_ask(
        &self,
        expectation: &Expectation,
        gained: Option<usize>,
        tolerance: &Ratio,
        beyond: Option<Reason>,
    ) -> Found {
        let series = self.series;
        let criterion = expectation.constancy.criterion();
        let mut reasons = Vec::new();
        let mut question =
            "Ask your teacher: was solid lost, or the salt heated too far? Do we go on?";
        if let Some(heating) = gained {
            reasons.extend(series.gains(criterion).into_iter().map(Reason::Gain));
            let before = series.weighings.heated.iter().take(heating - 1);
            let values: Vec<Ratio> = before.map(Reading::value).collect();
            question = "Ask your teacher: did the solid take up moisture? Do we heat once more?";
            if let [.., earlier, last] = values.as_slice() {
                if (last - earlier).abs() <= *criterion && expectation.is_met_by(last, tolerance) {
                    reasons.push(Reason::WasConstant(values.len()));
                    question =
                        "Ask your teacher: do we heat once more, or use the earlier weighings?";
                }
            }
            let by_digits = self.gain_by_digits(expectation, heating, tolerance);
            if let Some(by_digits) = by_digits {
                reasons.push(by_digits);
                question = "Ask your teacher: is this a typing error, or moisture taken up?";
            }
        }
        let below = expectation.still_to_lose.as_ref().map(|above| -above);
        if let Some(beyond) = beyond {
            reasons.push(beyond);
            question = WORK_OUT_WITH_IT;
        } else if let Some(below) = below.filter(|below| below > tolerance) {
            reasons.push(Reason::TooLight(series.on_balance(&below)));
            reasons.extend(self.below_target(expectation, tolerance));
        }
        reasons.push(Reason::Question(question));
        Found::new(Advice::Ask, reasons)
    }

    /// The reason that weighings agree although more water than the tolerance may still leave.
    pub(super) fn slow_loss(&self, tolerance: &Ratio) -> Option<Reason> {
        let series = self.series;
        if self.criterion.reached() != Some(true) || series.falls_fast(&self.criterion) {
            return None;
        }
        let last = series.weighings.heated.last()?.value();
        let u = self.method.of_one_reading(series.division);
        let to_come = nanograms(series.water_to_come(&last, u)?.estimate);
        (to_come > *tolerance).then(|| Reason::SlowLoss(series.shown(&to_come)))
    }

    /// The exchange of two neighbouring digits that explains the gain at this heating: in its weighing, or
    /// in the one before it. One wrong digit explains only a gain of more than a tenth of the expected loss: a
    /// smaller one nearly always is that of some digit. With it nothing gains, and the weighing agrees with the
    /// one before it or after it, or with the expected mass. Of two explanations, the one counts after which the
    /// last weighing is as expected.
    fn gain_by_digits(
        &self,
        expectation: &Expectation,
        heating: usize,
        tolerance: &Ratio,
    ) -> Option<Reason> {
        let criterion = expectation.constancy.criterion();
        let written = self.series.weighings;
        let weighing = |index: Option<usize>| Some(written.heated.get(index?)?.value());
        let loss = written.with_hydrate.value() - &expectation.expected_last;
        let gain = weighing(Some(heating - 1))? - weighing(heating.checked_sub(2))?;
        let is_large = 10 * gain > loss;
        let is_expected = |last: &Ratio| expectation.is_met_by(last, tolerance);
        let explanations = [true, false]
            .map(|ends_expected| [heating - 1, heating].map(|heating| (ends_expected, heating)));
        explanations
            .into_iter()
            .flatten()
            .find_map(|(ends_expected, heating)| {
                let agrees = |meant: &Ratio| {
                    let near = |other: Option<Ratio>| {
                        other.is_some_and(|other| (other - meant).abs() <= *criterion)
                    };
                    let last = weighing(written.heated.len().checked_sub(1));
                    let last = last.filter(|_| heating < written.heated.len());
                    let ends_so = is_expected(last.as_ref().unwrap_or(meant));
                    let is_near = near(weighing(heating.checked_sub(2)))
                        || near(weighing(Some(heating)))
                        || is_expected(meant);
                    is_near && (ends_so || !ends_expected)
                };
                let (reading, exchanged) = self.by_digits(heating, is_large, criterion, agrees)?;
                Some(Reason::GainByDigits(reading, exchanged))
            })
    }

    /// The weighing before the last of which one digit is wrong, if the last is as expected and only a fall of more
    /// than half of the expected loss keeps the mass from being constant.
    pub(super) fn fall_by_digits(
        &self,
        expectation: &Expectation,
        tolerance: &Ratio,
    ) -> Option<Reason> {
        let criterion = expectation.constancy.criterion();
        let ContainerWeighings {
            with_hydrate,
            heated,
            ..
        } = self.series.weighings;
        let [.., before, last] = heated.as_slice() else {
            return None;
        };
        let last = last.value();
        let loss = with_hydrate.value() - &expectation.expected_last;
        if !expectation.is_met_by(&last, tolerance) || 2 * (before.value() - &last) <= loss {
            return None;
        }
        let is_constant = |meant: &Ratio| (meant - &last).abs() <= *criterion;
        let (reading, _) = self.by_digits(heated.len() - 1, true, criterion, is_constant)?;
        Some(Reason::FallByDigits(reading))
    }

    /// The weighing after this heating if two neighbouring digits exchanged make it agree and leave no gain, with
    /// what it is then. If the difference `is_large`, one other digit may do so, too.
    fn by_digits(
        &self,
        heating: usize,
        is_large: bool,
        criterion: &Ratio,
        agrees: impl Fn(&Ratio) -> bool,
    ) -> Option<(NamedReading, Option<Reading>)> {
        let written = self.series.weighings;
        let reading = NamedReading::heated(written, heating)?;
        let explains = |meant: &Reading| {
            let mut weighings = written.clone();
            if let Some(weighing) = weighings.heated.get_mut(heating - 1) {
                *weighing = *meant;
            }
            let series = Series::new(&weighings, self.series.division);
            agrees(&meant.value()) && series.gains(criterion).is_empty()
        };
        let exchanged = exchange::with_digits_exchanged(reading.reading()).find(explains);
        let is_wrong = || {
            is_large && exchange::with_one_digit_changed(reading.reading()).any(|r| explains(&r))
        };
        (exchanged.is_some() || is_wrong()).then_some((reading, exchanged))
    }
}

impl Method {
    /// The largest of the criterion, three standard uncertainties of the mass of water, and 1 %
    /// of the loss expected.
    pub(super) fn tolerance(
        &self,
        series: &Series<'_>,
        constancy: &Constancy,
        loss: &Ratio,
    ) -> Ratio {
        let d = self.of_one_reading(series.division);
        // The same before constant mass is reached: a second weighing that agrees must not widen it.
        let limit = rectangular(constancy.criterion().to_f64());
        let variance = 2.0 * d * d + limit * limit;
        let method = self.repeatability.unwrap_or(0.0) * loss.to_f64();
        let three = 3.0 * libm::sqrt(variance + method * method);
        let three = nanograms(three);
        let hundredth = loss.checked_div(&Ratio::from(100)).unwrap_or_default();
        constancy.criterion().clone().max(three).max(hundredth)
    }
}

/// A mass rounded up to a whole nanogram, on which no advice depends.
fn nanograms(grams: f64) -> Ratio {
    Ratio::new(libm::ceil(grams * 1e9) as i128, 1_000_000_000).unwrap_or_default()
}
