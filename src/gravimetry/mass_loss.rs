//! The masses of a bench and their ratio, before any molar mass is used.

use alloc::format;
use alloc::vec::Vec;

use super::constant_mass::Constancy;
use super::error::{Error, ErrorKind, impossible, no_mass, out_of_range};
use super::method::Method;
use super::sensitivity::Sensitivity;
use super::series::{Series, mass};
use super::uncertainty_part::UncertaintyPart;
use super::weighings::{Net, Weighings, WeighingsForm};
use crate::number::{Ratio, Reading, rectangular};
use crate::text::Detail;

/// The masses of a bench and their ratio, with what these depend on.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct MassLoss {
    pub(super) hydrate: Option<Reading>,
    pub(super) residue: Option<Reading>,
    pub(super) water: Option<Reading>,
    pub(super) percent: Ratio,
    /// The mass of water divided by the mass of residue.
    pub(super) mass_ratio: Ratio,
    /// The masses of residue and water of the other weighings that agree within the criterion.
    pub(super) agreeing: Vec<(Ratio, Ratio)>,
    pub(super) sensitivity: Sensitivity,
    /// The name of each reading, its standard uncertainty, and the derivative of the mass ratio.
    pub(super) inputs: Vec<(&'static str, f64, Ratio)>,
    pub(super) constancy: Option<Constancy>,
    /// What is covered besides the balance.
    pub(super) covers: Vec<UncertaintyPart>,
    /// The empty container, the container with the hydrate, and the mass after heating that counts.
    pub(super) readings: Option<[Reading; 3]>,
    pub(super) division: Ratio,
    pub(super) figures: u32,
    /// The percentage, if only that was read.
    pub(super) percent_reading: Option<Reading>,
}

impl MassLoss {
    /// The loss between two net masses, without sensitivities.
    fn of_masses(hydrate: &Ratio, residue: &Ratio, division: &Ratio) -> Result<MassLoss, Error> {
        let water = hydrate - residue;
        let shown = |value: &Ratio| mass(value, division).ok_or_else(too_long);
        Ok(MassLoss {
            percent: percent(&water, hydrate)?,
            mass_ratio: water.checked_div(residue).ok_or_else(no_mass)?,
            figures: figures(&[residue, &water], division),
            hydrate: Some(shown(hydrate)?),
            residue: Some(shown(residue)?),
            water: Some(shown(&water)?),
            agreeing: Vec::new(),
            sensitivity: Sensitivity::default(),
            inputs: Vec::new(),
            constancy: None,
            covers: Vec::new(),
            readings: None,
            division: division.clone(),
            percent_reading: None,
        })
    }
}

/// The partial derivatives of a mass ratio by the hydrate and by the residue: with the hydrate h and the
/// residue s, 1/s and −h/s².
pub(super) fn slopes(mass_ratio: &Ratio, residue: &Ratio) -> Result<[Ratio; 2], Error> {
    let by_hydrate = Ratio::ONE.checked_div(residue).ok_or_else(no_mass)?;
    let by_residue = -(&by_hydrate * (mass_ratio + 1));
    Ok([by_hydrate, by_residue])
}

impl Method {
    pub(super) fn mass_loss(&self, weighings: &Weighings) -> Result<MassLoss, Error> {
        let division = self.division(weighings);
        match weighings.form() {
            WeighingsForm::Container(weighings) => {
                self.loss_in_series(&Series::new(weighings, &division))
            }
            WeighingsForm::Net {
                hydrate,
                residue,
                net,
            } => self.loss_of_net_masses(hydrate, residue, *net, &division),
            WeighingsForm::Percent(percent) => loss_of_percent(percent, &division),
        }
    }

    fn loss_in_series(&self, series: &Series<'_>) -> Result<MassLoss, Error> {
        let heated = series.heated_mass(self.weighing_used).ok_or_else(|| {
            Error::new(
                ErrorKind::MissingWeighing,
                Detail::new("no weighing after heating is given")
                    .help("give the container's mass after at least one heating"),
            )
        })?;
        let contradiction = series.contradiction(Some(&heated));
        if let Some(contradiction) = contradiction.or_else(|| series.negative_heating()) {
            return Err(contradiction.error());
        }
        let Series {
            weighings,
            division,
        } = series;
        let constancy = series.constancy(self.constant_mass.checked()?);
        let (c, b) = (weighings.container.value(), weighings.with_hydrate.value());
        let residue = &heated.value - &c;
        let loss = MassLoss::of_masses(&(&b - &c), &residue, division)?;
        let [by_hydrate, by_residue] = slopes(&loss.mass_ratio, &residue)?;
        // The empty container is subtracted in both masses.
        let by_container = -(&by_hydrate + &by_residue);
        let u = self.of_one_reading(division);
        let of_mean = u / libm::sqrt(f64::from(heated.readings));
        let mut inputs = alloc::vec![
            ("empty container", u, by_container.clone()),
            ("container with hydrate", u, by_hydrate.clone()),
            (heated.name, of_mean, by_residue.clone()),
        ];
        let (to_come, covers) = water_to_come(series, &constancy, [&heated.value, &residue], u);
        inputs.extend(to_come.map(|(name, u)| (name, u, by_residue.clone())));
        let agreeing = series.agreeing(&constancy).into_iter().filter_map(|a| {
            let residue = &a - &c;
            (residue.is_positive() && a <= b).then(|| (residue, &b - &a))
        });
        Ok(MassLoss {
            agreeing: agreeing.collect(),
            sensitivity: Sensitivity {
                container: Some(by_container),
                with_hydrate: Some(by_hydrate),
                heated: Some(by_residue),
                ..Sensitivity::default()
            },
            inputs,
            constancy: Some(constancy),
            covers,
            readings: mass(&heated.value, division)
                .map(|a| [weighings.container, weighings.with_hydrate, a]),
            ..loss
        })
    }

    fn loss_of_net_masses(
        &self,
        hydrate: &Reading,
        residue: &Reading,
        net: Net,
        division: &Ratio,
    ) -> Result<MassLoss, Error> {
        let (h, s) = net_masses(hydrate, residue)?;
        let loss = MassLoss::of_masses(&h, &s, division)?;
        let [by_hydrate, by_residue] = slopes(&loss.mass_ratio, &s)?;
        let u = self.of_one_reading(division);
        let mut inputs = alloc::vec![
            ("hydrate", u, by_hydrate.clone()),
            ("residue", u, by_residue.clone()),
        ];
        if net == Net::Subtracted {
            // Both differences share the empty container, so it changes them together.
            inputs.push(("empty container", u, &by_hydrate + &by_residue));
        }
        Ok(MassLoss {
            sensitivity: Sensitivity {
                hydrate_mass: Some(by_hydrate),
                residue_mass: Some(by_residue),
                ..Sensitivity::default()
            },
            inputs,
            ..loss
        })
    }
}

impl MassLoss {
    /// Leaves out the water to come of a slow loss if the ratio is clearly above that of the `highest` hydrate: then
    /// all its water has left, and something else goes on leaving.
    pub(super) fn of_ratio(mut self, ratio: &Ratio, highest: Option<&Ratio>) -> MassLoss {
        if highest.is_none_or(|highest| ratio * 100 <= highest * CLEARLY_ABOVE) {
            return self;
        }
        let met = self
            .constancy
            .as_ref()
            .filter(|own| own.reached() == Some(true));
        let criterion = met.map(|own| rectangular(own.criterion().to_f64()));
        let inputs = core::mem::take(&mut self.inputs).into_iter();
        let inputs = inputs.filter_map(|(name, u, slope)| match name {
            SLOW_LOSS => Some((CRITERION, criterion?, slope)),
            _ => Some((name, u, slope)),
        });
        self.inputs = inputs.collect();
        self.covers
            .retain(|part| *part != UncertaintyPart::SlowLoss);
        self
    }
}

/// A ratio is clearly above another from this many per cent of it on. Noise does not reach so far on a balance that can
/// find the hydrate.
const CLEARLY_ABOVE: i128 = 105;

/// The names of what a last weighing may still change by.
const CRITERION: &str = "constant-mass criterion";
const SLOW_LOSS: &str = "slow loss";

/// The standard uncertainty for the water that further heating may drive off, with its name, and what shows it.
fn water_to_come(
    series: &Series<'_>,
    constancy: &Constancy,
    [counts, residue]: [&Ratio; 2],
    of_reading: f64,
) -> (Option<(&'static str, f64)>, Vec<UncertaintyPart>) {
    let mut covers = Vec::new();
    let mut largest = None;
    if constancy.reached() == Some(true) {
        covers.push(UncertaintyPart::ConstantMass);
        let limit = constancy.criterion().to_f64();
        largest = Some((CRITERION, rectangular(limit)));
    }
    if series.falls_fast(constancy) {
        covers.push(UncertaintyPart::SlowLoss);
    } else if let Some(slow) = series
        .water_to_come(counts, of_reading)
        .and_then(|water| water.uncorrected(residue.to_f64()))
    {
        covers.push(UncertaintyPart::SlowLoss);
        if largest.is_none_or(|(_, least)| slow > least) {
            largest = Some((SLOW_LOSS, slow));
        }
    }
    (largest, covers)
}

/// The net masses of a hydrate and of its residue, if they are possible.
pub(super) fn net_masses(hydrate: &Reading, residue: &Reading) -> Result<(Ratio, Ratio), Error> {
    let (h, s) = (hydrate.value(), residue.value());
    if !h.is_positive() || !s.is_positive() || s > h {
        let message = if s > h {
            format!("the residue ({residue} g) is heavier than the hydrate ({hydrate} g)")
        } else {
            format!("a hydrate of {hydrate} g cannot leave a residue of {residue} g")
        };
        return Err(impossible(
            message,
            "check both readings: one may be misread, or they were swapped",
        ));
    }
    Ok((h, s))
}

fn loss_of_percent(percent: &Reading, division: &Ratio) -> Result<MassLoss, Error> {
    let p = percent.value();
    let hundred = Ratio::from(100);
    let salt = &hundred - &p;
    if p.is_negative() || !salt.is_positive() {
        return Err(impossible(
            format!("a hydrate cannot contain {percent} % of water"),
            "give a percentage of 0 or more and below 100",
        ));
    }
    let slope = hundred.checked_div(&(&salt * &salt)).ok_or_else(no_mass)?;
    Ok(MassLoss {
        hydrate: None,
        residue: None,
        water: None,
        percent: p.clone(),
        mass_ratio: p.checked_div(&salt).ok_or_else(no_mass)?,
        agreeing: Vec::new(),
        sensitivity: Sensitivity {
            percent_water: Some(slope.clone()),
            ..Sensitivity::default()
        },
        inputs: alloc::vec![("percent water", rectangular(division.to_f64() / 2.0), slope)],
        constancy: None,
        covers: Vec::new(),
        readings: None,
        figures: percent.figures().at_least().max(1),
        division: division.clone(),
        percent_reading: Some(*percent),
    })
}

fn percent(water: &Ratio, hydrate: &Ratio) -> Result<Ratio, Error> {
    (100 * water).checked_div(hydrate).ok_or_else(no_mass)
}

/// The smallest number of significant figures of masses with the decimal places of the balance.
fn figures(masses: &[&Ratio], division: &Ratio) -> u32 {
    masses
        .iter()
        .filter_map(|value| mass(value, division))
        .map(|reading| reading.figures().at_most())
        .min()
        .unwrap_or(1)
        .max(1)
}

fn too_long() -> Error {
    out_of_range(
        "the readings differ too much in size to be subtracted exactly".into(),
        "give readings of one balance, in grams",
    )
}
