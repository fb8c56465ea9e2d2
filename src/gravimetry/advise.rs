//! The rules by which a bench gets its advice.

use alloc::boxed::Box;
use alloc::vec::Vec;

use super::advice::{Advice, Check, Expectation, Found};
use super::error::{Error, ErrorKind};
use super::exchange;
use super::hazard::leaving_with_water;
use super::issued::Issued;
use super::issued_target::IssuedTarget;
use super::method::Method;
use super::overheating::{Overheating, Residue, at_mass_of, explaining, residues};
use super::reason::{IfRight, Reason};
use super::series::Series;
use super::weighings::{ContainerWeighings, WeighingUsed, Weighings};
use crate::formula::Formula;
use crate::number::Ratio;
use crate::text::Detail;

impl Method {
    /// Returns the advice to a bench: `issued` is the hydrate that was issued, `weighings` are the
    /// readings so far.
    ///
    /// The tolerance *t* is the criterion for constant mass, three standard uncertainties of the mass of
    /// water, or 1 % of the expected loss, whichever is largest. The uncertainty covers the criterion, also after
    /// one heating. The advice is the first that applies:
    ///
    /// 1. Check the readings if the masses are impossible, or if a weighing after heating is not between
    ///    the container and the container with the hydrate. Do so, too, if the last weighing is too light
    ///    by more than *t* and more than a tenth of the expected loss, and one exchange of two readings or of two
    ///    neighbouring digits, or one wrong digit, would bring it within *t* of the expected mass.
    ///    A decimal point in the wrong place and a digit typed twice count, too. So does a wrong digit of a bench
    ///    that still has water to lose, if more than half of the residue would be missing, or if the bench was
    ///    nearly dry before.
    /// 2. Start again if the last weighing is too light by more than *t* and more than a tenth of the expected loss. Ask
    ///    instead if the residue is a lower hydrate and the mass is within *t* of that of a lower known
    ///    one, or of the anhydrous salt: then the figures can be worked out with what is left.
    /// 3. Ask if a weighing gained more than the criterion and none after it came back, if the last is too
    ///    light by more than *t*, or if the mass is constant within *t* both of the expected mass and of
    ///    that of a lower hydrate.
    /// 4. Stop if the mass is constant and within *t* of the expected mass. From three weighings on, heat again
    ///    instead if their falls show that more than *t* of water may still leave.
    /// 5. Heat again.
    ///
    /// If the last weighing is within *t* of what a known decomposition leaves, a reason says so, whatever the advice
    /// is. Then no other reason claims that solid was lost.
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
            return Ok(Check::new(&issued, target.misread(reason), None));
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
        Ok(Check::new(&issued, found, Some(expectation)))
    }

    fn advise(&self, expectation: &Expectation, target: &IssuedTarget<'_>) -> Found {
        let IssuedTarget { series, issued, .. } = target;
        let Some(above) = &expectation.still_to_lose else {
            let expected_last = series.on_balance(&expectation.expected_last);
            return Found::new(Advice::Heat, [Reason::NothingHeated(expected_last)]);
        };
        let loss = series.weighings.with_hydrate.value() - &expectation.expected_last;
        let tolerance = self.tolerance(series, &expectation.constancy, &loss);
        let gained = series.lasting_gain(expectation.constancy.criterion());
        let overheating = match -above > tolerance {
            true => self.overheating(issued, expectation, &tolerance, gained.is_some()),
            false => None,
        };
        let mut found = if let Some((heating, weighing)) = series.outside() {
            let ContainerWeighings {
                container,
                with_hydrate,
                ..
            } = series.weighings;
            let readings = [*container, *with_hydrate, *weighing];
            target.misread(Reason::Outside(heating, readings))
        } else {
            let if_right = match overheating {
                None => IfRight::Lost,
                Some((_, true)) => IfRight::Decomposed,
                Some((_, false)) => IfRight::LostOrDecomposed,
            };
            self.by_mass(
                expectation,
                target,
                [above, &tolerance, &loss],
                gained,
                if_right,
            )
        };
        // A salt that decomposes does not gain mass, and a wrong reading shows nothing of it. A mass that is just
        // that of a residue is named in any case.
        let shows_it = gained.is_none() && found.advice != Advice::CheckReadings;
        if let Some((overheating, _)) =
            overheating.filter(|(_, at_residue)| *at_residue || shows_it)
        {
            let before_question = found.reasons.len().min(1);
            let reason = Reason::Overheating(Box::new(overheating));
            found.reasons.insert(before_question, reason);
        }
        found
    }

    /// The advice to a bench whose weighings are possible, by the excess of the last one over the expected mass,
    /// the tolerance and the expected loss.
    fn by_mass(
        &self,
        expectation: &Expectation,
        target: &IssuedTarget<'_>,
        [above, tolerance, loss]: [&Ratio; 3],
        gained: Option<usize>,
        if_right: IfRight,
    ) -> Found {
        let below = -above;
        let tenth = loss.checked_div(&Ratio::from(10)).unwrap_or_default();
        let beyond = target.beyond(&below, expectation, tolerance);
        let reached = expectation.constancy.reached();
        // Within the tolerance, a mass is the expected one, and nothing is to be explained.
        if below > tenth && below > *tolerance {
            return target.far_too_light(&below, expectation, gained, tolerance, beyond, if_right);
        }
        if gained.is_some() || below > *tolerance {
            return target.to_ask(expectation, gained, tolerance, beyond);
        }
        let slow = target.slow_loss(tolerance);
        if reached == Some(true) && above <= tolerance && slow.is_none() {
            return finished(expectation, target, tolerance, loss);
        }
        let heavier = target.issued.heavier_residue(&self.weights);
        let heavier = heavier.filter(|(_, excess)| *above <= excess + tolerance);
        let heavier = heavier.map(|(residue, _)| residue);
        let reasons = to_heat_again(expectation, target, (heavier, slow), tolerance);
        Found::new(Advice::HeatAgain, reasons)
    }

    /// The decomposition that explains a last weighing that is too light. Returns also whether its mass is just that
    /// of a residue.
    fn overheating(
        &self,
        issued: &Issued<'_>,
        expectation: &Expectation,
        tolerance: &Ratio,
        gained: bool,
    ) -> Option<(Overheating, bool)> {
        let salt = &issued.residual.salt;
        let residues = residues(salt, &self.weights, &issued.salt_mass);
        let last = expectation.last()?;
        let left = &last - &issued.container;
        let excess = |residue: &Residue| {
            let would_be = residue.left_of(&issued.taken, &issued.molar_mass)?;
            Some((&left - &would_be).to_f64())
        };
        let at_residue = at_mass_of(&residues, tolerance.to_f64(), excess).is_some();
        if !at_residue && issued.between_target_and_salt(&last, tolerance).is_some() {
            return None;
        }
        // A mass that gained is not still falling.
        let reached = expectation.constancy.reached().filter(|_| !gained);
        let (complete, residue) = explaining(&residues, reached, tolerance.to_f64(), excess)?;
        let overheating = residue.overheating(complete, salt, issued.hydrate);
        Some((overheating, at_residue))
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
    let last = expectation.last();
    if let Some(lower) = last.and_then(|last| issued.above_target(&last, tolerance)) {
        let residues = [issued.residual.formula.clone(), lower];
        let question =
            "Ask your teacher: which is left? A finer balance or more of the hydrate would tell.";
        let alike = Reason::LooksAlike(series.shown(tolerance), Box::new(residues));
        return Found::new(Advice::Ask, [alike, Reason::Question(question)]);
    }
    let shown = || (series.shown(tolerance), series.shown(loss));
    let reason = if 10 * tolerance <= *loss {
        Reason::ConstantAndExpected(None)
    } else if 2 * tolerance < *loss {
        Reason::ConstantAndExpected(Some(shown()))
    } else {
        let (tolerance, loss) = shown();
        Reason::CannotTell(tolerance, loss)
    };
    Found::new(Advice::Stop, [reason])
}

/// The reasons to heat again. `heavier` is what the salt may have turned into, if it gained mass. `slow` says that
/// weighings agree although water is left.
fn to_heat_again(
    expectation: &Expectation,
    target: &IssuedTarget<'_>,
    (heavier, slow): (Option<Formula>, Option<Reason>),
    tolerance: &Ratio,
) -> Vec<Reason> {
    let IssuedTarget { series, issued, .. } = target;
    let is_slow = slow.is_some();
    let mut reasons = Vec::from_iter(slow);
    let constancy = &expectation.constancy;
    match (constancy.reached(), constancy.last_change()) {
        (None, _) => reasons.push(Reason::OneHeating),
        (Some(false), Some(change)) => {
            reasons.push(Reason::NotConstant(*change, constancy.criterion().clone()));
            reasons.extend(target.fall_by_digits(expectation, tolerance));
        }
        _ => {}
    }
    let above = expectation.still_to_lose.as_ref();
    if let Some(above) = above.filter(|above| *above > tolerance) {
        let shown = series.on_balance(above);
        let expected = issued.residual.formula.clone();
        reasons.push(match (heavier, leaving_with_water(issued.hydrate)) {
            (Some(heavier), _) => Reason::WaterOrHeavier(shown, Box::new([expected, heavier])),
            (None, Some(gases)) => Reason::NotOnlyWater(shown, Box::new(expected), gases),
            (None, None) => Reason::StillToLose(shown),
        });
    }
    let is_constant = constancy.reached() == Some(true);
    let is_heavier = matches!(reasons.as_slice(), [.., Reason::WaterOrHeavier(..)]);
    match expectation.near_plateau(tolerance) {
        Some(plateau) => reasons.push(Reason::LowerHydrate(plateau.waters.clone())),
        None if is_constant && !is_heavier && !is_slow => {
            let last = expectation.last();
            let lower = last.and_then(|last| issued.above_target(&last, tolerance)?.waters());
            if lower.is_none() {
                let digits = exchange::wrong_digits_before_heating(series.weighings, target);
                // What may spare the bench the flame comes first.
                if !digits.is_empty() {
                    reasons.insert(0, Reason::AboveByDigits(digits));
                }
            }
            reasons.push(lower.map_or(Reason::ConstantElsewhere, Reason::LowerHydrate));
        }
        None => {}
    }
    reasons
}
