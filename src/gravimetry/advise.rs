//! The rules by which a bench gets its advice.

use alloc::boxed::Box;
use alloc::vec::Vec;

use super::advice::{Advice, Check, Expectation, Found};
use super::constant_mass::Constancy;
use super::error::{Error, ErrorKind};
use super::exchange::{self, NamedReading, Target};
use super::issued::Issued;
use super::method::Method;
use super::overheating::{Overheating, Residue, explaining, residues};
use super::reason::Reason;
use super::series::Series;
use super::weighings::{ContainerWeighings, WeighingUsed, Weighings};
use crate::formula::Formula;
use crate::number::{Ratio, Reading, rectangular};
use crate::text::Detail;

impl Method {
    /// Returns the advice to a bench: `issued` is the hydrate that was issued, `weighings` are the
    /// readings so far.
    ///
    /// The tolerance *t* is the criterion for constant mass, three standard uncertainties of the mass of
    /// water, or 1 % of the expected loss, whichever is largest. The advice is the first that applies:
    ///
    /// 1. Check the readings if the masses are impossible, or if a weighing after heating is not between
    ///    the container and the container with the hydrate. Do so, too, if the last weighing is too light
    ///    by more than a tenth of the expected loss, and one exchange of two readings or of two
    ///    neighbouring digits, or one wrong digit, would bring it within *t* of the expected mass.
    ///    A decimal point in the wrong place and a digit typed twice count, too.
    /// 2. Start again if the last weighing is too light by more than a tenth of the expected loss. Ask
    ///    instead if the residue is a lower hydrate and the mass is within *t* of that of a lower known
    ///    one, or of the anhydrous salt: then the figures can be worked out with what is left.
    /// 3. Ask if a weighing gained more than the criterion and none after it came back, if the last is too
    ///    light by more than *t*, or if the mass is constant within *t* both of the expected mass and of
    ///    that of a lower hydrate.
    /// 4. Stop if the mass is constant and within *t* of the expected mass.
    /// 5. Heat again.
    ///
    /// # Errors
    /// Returns an error if the readings are not weighings of a container. It also does so if the issued
    /// formula is not a hydrate or has no molar mass. Impossible masses give an advice instead.
    ///
    /// ```
    /// use effloresce::gravimetry::{Advice, Method, Weighings};
    /// let so_far = Weighings::new("21.352".parse()?, "24.018".parse()?, ["22.701".parse()?]);
    /// let check = Method::new().check(&"MgSO4·7H2O".parse()?, &so_far)?;
    /// assert_eq!(check.advice(), Advice::HeatAgain);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn check(&self, issued: &Formula, weighings: &Weighings) -> Result<Check, Error> {
        self.check_by(issued, None, weighings)
    }

    /// Returns the advice to a bench whose hydrate comes from a stock that has gained or lost water: the
    /// expected masses follow what the stock really holds.
    ///
    /// `issued` is the hydrate on the label, and `waters` the number of waters for each formula unit of its
    /// salt that the stock holds.
    ///
    /// # Errors
    /// Returns the errors of [`Method::check`], and one if the stock does not hold more water than heating
    /// should leave.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Weighings};
    /// use effloresce::number::TieRule;
    /// let so_far = Weighings::new("21.352".parse()?, "24.018".parse()?, []);
    /// let issued = "MgSO4·7H2O".parse()?;
    /// let check = Method::new().check_from_stock(&issued, &"6.8".parse()?, &so_far)?;
    /// let expected = check.expected_last().unwrap();
    /// assert_eq!(expected.to_places(3, TieRule::Even).to_string(), "22.673");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn check_from_stock(
        &self,
        issued: &Formula,
        waters: &Ratio,
        weighings: &Weighings,
    ) -> Result<Check, Error> {
        self.check_by(issued, Some(waters), weighings)
    }

    fn check_by(
        &self,
        issued: &Formula,
        stock: Option<&Ratio>,
        weighings: &Weighings,
    ) -> Result<Check, Error> {
        let division = self.division(weighings);
        let Some(weighings) = weighings.container_weighings() else {
            return Err(Error::new(
                ErrorKind::MissingWeighing,
                Detail::new("net masses and percentages do not show what to do next")
                    .help("give the weighings of the container"),
            ));
        };
        let series = Series::new(weighings, &division);
        let criterion = self.constant_mass.checked()?;
        let issued = Issued::new(issued, stock, self, weighings)?;
        let last = series.heated_mass(WeighingUsed::Last);
        let target = IssuedTarget {
            method: self,
            series: &series,
            issued: &issued,
            criterion: series.constancy(criterion),
        };
        if let Some(contradiction) = series.contradiction(last.as_ref()) {
            let reason = Reason::Contradiction(contradiction);
            return Ok(Check::new(issued.hydrate, target.misread(reason), None));
        }
        let expected_last = issued.mass_with(&issued.residual.waters);
        let expected_last = expected_last.unwrap_or_else(|| weighings.container.value());
        let expectation = Expectation {
            division: division.clone(),
            stock: stock.cloned(),
            still_to_lose: last.map(|last| &last.value - &expected_last),
            expected_last,
            plateaus: issued.plateaus(),
            constancy: target.criterion.clone(),
        };
        let found = self.advise(&expectation, &target);
        Ok(Check::new(issued.hydrate, found, Some(expectation)))
    }

    fn advise(&self, expectation: &Expectation, target: &IssuedTarget<'_>) -> Found {
        let IssuedTarget { series, issued, .. } = target;
        let Some(above) = &expectation.still_to_lose else {
            let expected_last = series.on_balance(&expectation.expected_last);
            return Found::new(Advice::Heat, [Reason::NothingHeated(expected_last)]);
        };
        if let Some((heating, weighing)) = series.outside() {
            let ContainerWeighings {
                container,
                with_hydrate,
                ..
            } = series.weighings;
            let readings = [*container, *with_hydrate, *weighing];
            return target.misread(Reason::Outside(heating, readings));
        }
        let constancy = &expectation.constancy;
        let reached = constancy.reached();
        let loss = series.weighings.with_hydrate.value() - &expectation.expected_last;
        let tolerance = self.tolerance(series, constancy, &loss);
        let below = -above;
        let tenth = loss.checked_div(&Ratio::from(10)).unwrap_or_default();
        let gained = series.lasting_gain(constancy.criterion());
        let beyond = target.beyond(&below, expectation, &tolerance);
        let mut found = if below > tenth {
            if let Some(mut found) = target.wrong_digit(&below) {
                found.reasons.extend(beyond);
                return found;
            }
            match beyond {
                Some(beyond) => target.to_ask(expectation, gained, &tolerance, Some(beyond)),
                None => {
                    let reasons = [
                        Some(Reason::FarTooLight(series.on_balance(&below))),
                        target.below_target(&below, expectation, &tolerance),
                    ];
                    Found::new(Advice::StartAgain, reasons.into_iter().flatten())
                }
            }
        } else if gained.is_some() || below > tolerance {
            target.to_ask(expectation, gained, &tolerance, beyond)
        } else if reached == Some(true) && *above <= tolerance {
            finished(expectation, target, &tolerance, &loss)
        } else {
            let heavier = issued.heavier_residue(&self.weights);
            let heavier = heavier.filter(|(_, excess)| *above <= excess + &tolerance);
            let heavier = heavier.map(|(residue, _)| residue);
            let reasons = to_heat_again(expectation, target, heavier, &tolerance);
            Found::new(Advice::HeatAgain, reasons)
        };
        // A salt that decomposes does not gain mass.
        if below > tolerance && gained.is_none() {
            let overheating = self.overheating(issued, above, reached, &tolerance);
            if let Some(overheating) = overheating {
                let before_question = found.reasons.len().min(1);
                let reason = Reason::Overheating(Box::new(overheating));
                found.reasons.insert(before_question, reason);
            }
        }
        found
    }

    /// The decomposition that explains a last weighing that is too light.
    fn overheating(
        &self,
        issued: &Issued<'_>,
        above: &Ratio,
        reached: Option<bool>,
        tolerance: &Ratio,
    ) -> Option<Overheating> {
        let salt = &issued.residual.salt;
        let residues = residues(salt, &self.weights, &issued.salt_mass);
        let last = issued.mass_with(&issued.residual.waters)? + above;
        if issued.between_target_and_salt(&last, tolerance).is_some() {
            return None;
        }
        let left = last - &issued.container;
        let excess = |residue: &Residue| {
            let would_be = residue.left_of(&issued.taken, &issued.molar_mass)?;
            Some((&left - &would_be).to_f64())
        };
        let (complete, residue) = explaining(&residues, reached, tolerance.to_f64(), excess)?;
        Some(residue.overheating(complete, salt, issued.hydrate))
    }

    /// The largest of the criterion, three standard uncertainties of the mass of water, and 1 %
    /// of the loss expected.
    fn tolerance(&self, series: &Series<'_>, constancy: &Constancy, loss: &Ratio) -> Ratio {
        let d = self.of_one_reading(series.division);
        let mut variance = 2.0 * d * d;
        if constancy.reached() == Some(true) {
            let limit = rectangular(constancy.criterion().to_f64());
            variance += limit * limit;
        }
        let method = self.repeatability.unwrap_or(0.0) * loss.to_f64();
        let three = 3.0 * libm::sqrt(variance + method * method);
        // Rounded up to a whole nanogram, on which no advice depends.
        let three = Ratio::new(libm::ceil(three * 1e9) as i128, 1_000_000_000).unwrap_or_default();
        let hundredth = loss.checked_div(&Ratio::from(100)).unwrap_or_default();
        constancy.criterion().clone().max(three).max(hundredth)
    }
}

/// The mass that a bench should end at, with its tolerance.
struct IssuedTarget<'a> {
    method: &'a Method,
    series: &'a Series<'a>,
    issued: &'a Issued<'a>,
    criterion: Constancy,
}

impl Target for IssuedTarget<'_> {
    fn fits(&self, container: &Ratio, with_hydrate: &Ratio, last: &Ratio) -> bool {
        self.left_and_tolerance(&(with_hydrate - container))
            .is_some_and(|(left, tolerance)| (last - container - left).abs() <= tolerance)
    }

    fn is_not_below(&self, container: &Ratio, with_hydrate: &Ratio, last: &Ratio) -> bool {
        self.left_and_tolerance(&(with_hydrate - container))
            .is_some_and(|(left, tolerance)| last - container >= left - tolerance)
    }

    fn is_gain(&self, hydrate: &Ratio, gain: &Ratio) -> bool {
        self.left_and_tolerance(hydrate)
            .is_some_and(|(_, tolerance)| *gain > tolerance)
    }
}

impl IssuedTarget<'_> {
    /// The expected residue of this mass of hydrate, and the tolerance.
    fn left_and_tolerance(&self, hydrate: &Ratio) -> Option<(Ratio, Ratio)> {
        let left = self.issued.left_of(hydrate, &self.issued.residual.waters)?;
        let loss = hydrate - &left;
        let tolerance = self.method.tolerance(self.series, &self.criterion, &loss);
        Some((left, tolerance))
    }

    /// The advice to check the readings, for this reason and for what makes sense of them.
    fn misread(&self, reason: Reason) -> Found {
        let swap = exchange::swap(self.series.weighings, self);
        let net = exchange::without_container(self.series.weighings, self);
        let expected = net.as_ref().is_some_and(|(_, expected)| *expected);
        let net = || net.map(|(readings, _)| Reason::WithoutContainer(readings));
        let explained = match swap {
            Some(swap) => Some(Reason::Swapped(swap)),
            None if expected => net(),
            None => self.mistyped().or_else(net),
        };
        let reasons = core::iter::once(reason).chain(explained);
        Found {
            swap,
            ..Found::new(Advice::CheckReadings, reasons)
        }
    }

    fn mistyped(&self) -> Option<Reason> {
        let (reading, meant) = exchange::mistyped(self.series.weighings, self)?;
        Some(Reason::Mistyped(reading, meant))
    }

    /// The advice to check the readings if one exchange explains a last weighing that is too light.
    fn wrong_digit(&self, below: &Ratio) -> Option<Found> {
        let weighings = self.series.weighings;
        if let Some(swap) = exchange::swap(weighings, self) {
            let reasons = [Reason::Swapped(swap)];
            return Some(Found {
                swap: Some(swap),
                ..Found::new(Advice::CheckReadings, reasons)
            });
        }
        let readings = exchange::wrong_digits(weighings, self);
        let reason = match readings.is_empty() {
            true => self.mistyped()?,
            false => Reason::WrongDigit(self.series.on_balance(below), readings),
        };
        Some(Found::new(Advice::CheckReadings, [reason]))
    }

    /// The reason that a mass below the expected one is that of a residue below the target.
    fn beyond(
        &self,
        below: &Ratio,
        expectation: &Expectation,
        tolerance: &Ratio,
    ) -> Option<Reason> {
        if below <= tolerance {
            return None;
        }
        let last = &expectation.expected_last - below;
        let left = self.issued.below_target(&last, tolerance)?;
        let residues = Box::new([left, self.issued.residual.formula.clone()]);
        Some(Reason::BeyondTarget(self.series.shown(tolerance), residues))
    }

    /// The reason that a mass below the expected one is between that of the target and the anhydrous salt.
    fn below_target(
        &self,
        below: &Ratio,
        expectation: &Expectation,
        tolerance: &Ratio,
    ) -> Option<Reason> {
        let last = &expectation.expected_last - below;
        let between = self.issued.between_target_and_salt(&last, tolerance)?;
        Some(Reason::BelowTarget(Box::new(between)))
    }

    /// The advice to ask: a gain that lasts, or a last weighing that is too light. `beyond` says that it is
    /// that of a residue below the target.
    fn to_ask(
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
                let off = (last - &expectation.expected_last).abs();
                if (last - earlier).abs() <= *criterion && off <= *tolerance {
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
            question = "Ask your teacher: do we work out the figures with this residue?";
        } else if let Some(below) = below.filter(|below| below > tolerance) {
            reasons.push(Reason::TooLight(series.on_balance(&below)));
            reasons.extend(self.below_target(&below, expectation, tolerance));
        }
        reasons.push(Reason::Question(question));
        Found::new(Advice::Ask, reasons)
    }

    /// The exchange of two neighbouring digits that explains the gain at this heating: in its weighing, or
    /// in the one before it. One wrong digit explains only a gain of more than a tenth of the expected loss: a
    /// smaller one nearly always is that of some digit. With it nothing gains, and the weighing agrees with the one before it or after it,
    /// or with the expected mass.
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
        [heating - 1, heating].into_iter().find_map(|heating| {
            let reading = NamedReading::heated(written, heating)?;
            let explains = |meant: &Reading| {
                let mut weighings = written.clone();
                if let Some(weighing) = weighings.heated.get_mut(heating - 1) {
                    *weighing = *meant;
                }
                let series = Series::new(&weighings, self.series.division);
                let near = |other: Option<Ratio>, limit: &Ratio| {
                    other.is_some_and(|other| (other - meant.value()).abs() <= *limit)
                };
                let agrees = near(weighing(heating.checked_sub(2)), criterion)
                    || near(weighing(Some(heating)), criterion)
                    || near(Some(expectation.expected_last.clone()), tolerance);
                agrees && series.gains(criterion).is_empty()
            };
            let reading_itself = reading.reading();
            let exchanged = exchange::with_digits_exchanged(reading_itself).find(explains);
            let is_wrong = || {
                is_large && exchange::with_one_digit_changed(reading_itself).any(|r| explains(&r))
            };
            (exchanged.is_some() || is_wrong()).then_some(Reason::GainByDigits(reading, exchanged))
        })
    }
}

/// The advice at constant mass as expected. If a lower hydrate has this mass, too, the teacher decides.
fn finished(
    expectation: &Expectation,
    target: &IssuedTarget<'_>,
    tolerance: &Ratio,
    loss: &Ratio,
) -> Found {
    let IssuedTarget { series, issued, .. } = target;
    let above = expectation.still_to_lose.clone().unwrap_or_default();
    let last = &expectation.expected_last + above;
    if let Some(lower) = issued.above_target(&last, tolerance) {
        let residues = [issued.residual.formula.clone(), lower];
        let question =
            "Ask your teacher: which is left? A finer balance or more of the hydrate would tell.";
        let alike = Reason::LooksAlike(series.shown(tolerance), Box::new(residues));
        return Found::new(Advice::Ask, [alike, Reason::Question(question)]);
    }
    let half = loss.checked_div(&Ratio::from(2)).unwrap_or_default();
    let reason = if *tolerance < half {
        Reason::ConstantAndExpected
    } else {
        Reason::CannotTell(series.shown(tolerance), series.shown(loss))
    };
    Found::new(Advice::Stop, [reason])
}

/// The reasons to heat again. `heavier` is what the salt may have turned into, if it gained mass.
fn to_heat_again(
    expectation: &Expectation,
    target: &IssuedTarget<'_>,
    heavier: Option<Formula>,
    tolerance: &Ratio,
) -> Vec<Reason> {
    let IssuedTarget { series, issued, .. } = target;
    let mut reasons = Vec::new();
    let constancy = &expectation.constancy;
    match (constancy.reached(), constancy.last_change()) {
        (None, _) => reasons.push(Reason::OneHeating),
        (Some(false), Some(change)) => {
            reasons.push(Reason::NotConstant(*change, constancy.criterion().clone()));
        }
        _ => {}
    }
    let above = expectation.still_to_lose.as_ref();
    if let Some(above) = above.filter(|above| *above > tolerance) {
        let shown = series.on_balance(above);
        reasons.push(match heavier {
            None => Reason::StillToLose(shown),
            Some(heavier) => {
                let formula = issued.residual.formula.clone();
                Reason::WaterOrHeavier(shown, Box::new([formula, heavier]))
            }
        });
    }
    let is_constant = constancy.reached() == Some(true);
    let is_heavier = matches!(reasons.as_slice(), [.., Reason::WaterOrHeavier(..)]);
    match expectation.near_plateau(tolerance) {
        Some(plateau) => reasons.push(Reason::LowerHydrate(plateau.waters.clone())),
        None if is_constant && !is_heavier => {
            let last = above.map(|above| &expectation.expected_last + above);
            let lower = last.and_then(|last| issued.above_target(&last, tolerance)?.waters());
            reasons.push(lower.map_or(Reason::ConstantElsewhere, Reason::LowerHydrate));
        }
        None => {}
    }
    reasons
}
