//! What a bench's readings give before any molar mass comes in: masses, their ratio, and how it
//! depends on each reading.

use alloc::format;
use alloc::vec::Vec;

use super::constant_mass::Constancy;
use super::error::{Error, ErrorKind, impossible, no_mass, out_of_range};
use super::method::Method;
use super::sensitivity::Sensitivity;
use super::series::{Series, difference, mass};
use super::weighings::{Net, Weighings, WeighingsForm};
use crate::number::{Ratio, Reading, rectangular};
use crate::text::Detail;

/// What the readings give before any molar mass comes in.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct MassLoss {
    pub(super) hydrate: Option<Reading>,
    pub(super) residue: Option<Reading>,
    pub(super) water: Option<Reading>,
    pub(super) percent: Ratio,
    /// Mass of water over mass of residue.
    pub(super) mass_ratio: Ratio,
    /// Other masses of residue and water that the same criterion allows.
    pub(super) agreeing: Vec<(Ratio, Ratio)>,
    pub(super) sensitivity: Sensitivity,
    /// The inputs that were read, with their standard uncertainties and sensitivities of the
    /// mass ratio.
    pub(super) inputs: Vec<(&'static str, f64, Ratio)>,
    pub(super) constancy: Option<Constancy>,
    /// The readings themselves, for the working.
    pub(super) subtractions: Option<[Reading; 3]>,
    pub(super) division: Ratio,
    pub(super) figures: u32,
    /// The percentage, where only that was read.
    pub(super) percent_read: Option<Reading>,
}

impl Method {
    pub(super) fn find(&self, weighings: &Weighings) -> Result<MassLoss, Error> {
        let division = self.division(weighings);
        match weighings.form() {
            WeighingsForm::Container(weighings) => self.find_in_series(&Series {
                weighings,
                division: &division,
            }),
            WeighingsForm::Net {
                hydrate,
                residue,
                net,
            } => find_net(
                hydrate,
                residue,
                *net,
                &division,
                self.of_one_reading(&division),
            ),
            WeighingsForm::Percent(percent) => find_percent(percent, &division),
        }
    }

    fn find_in_series(&self, series: &Series<'_>) -> Result<MassLoss, Error> {
        let used = series.heated_mass(self.weighing_used).ok_or_else(|| {
            Error::new(
                ErrorKind::MissingWeighing,
                Detail::new("no weighing after heating is given")
                    .help("give the container's mass after at least one heating"),
            )
        })?;
        let (c, b) = (
            series.weighings.container.value(),
            series.weighings.with_hydrate.value(),
        );
        if let Some(contradiction) = series.contradiction(Some(&used)) {
            return Err(contradiction.error());
        }
        let division = series.division;
        let constancy = series.constancy(self.constant_mass.sound()?);
        let residue = &used.value - &c;
        let water = &b - &used.value;
        let hydrate = &b - &c;
        let squared = &residue * &residue;
        let one_over = Ratio::ONE.checked_div(&residue).ok_or_else(no_mass)?;
        let by_container = water.checked_div(&squared).ok_or_else(no_mass)?;
        let by_heated = -&hydrate.checked_div(&squared).ok_or_else(no_mass)?;
        let d = self.of_one_reading(division);
        let mut inputs = alloc::vec![
            ("empty container", d, by_container.clone()),
            ("container with hydrate", d, one_over.clone()),
            (
                used.name,
                d / libm::sqrt(f64::from(used.readings)),
                by_heated.clone()
            ),
        ];
        if constancy.reached() == Some(true) {
            let limit = rectangular(constancy.criterion().to_f64());
            inputs.push(("constant-mass criterion", limit, by_heated.clone()));
        }
        let others = series.agreeing(&constancy).into_iter().filter_map(|a| {
            let residue = &a - &c;
            (residue.is_positive() && a <= b).then(|| (residue, &b - &a))
        });
        let hydrate_mass = difference(
            &series.weighings.with_hydrate,
            &series.weighings.container,
            division,
        );
        Ok(MassLoss {
            agreeing: others.collect(),
            percent: percent(&water, &hydrate)?,
            mass_ratio: &water * &one_over,
            figures: figures(&[&residue, &water], division),
            hydrate: Some(hydrate_mass.ok_or_else(too_long)?),
            residue: Some(mass(&residue, division).ok_or_else(too_long)?),
            water: Some(mass(&water, division).ok_or_else(too_long)?),
            sensitivity: Sensitivity {
                container: Some(by_container),
                with_hydrate: Some(one_over),
                heated: Some(by_heated),
                ..Sensitivity::default()
            },
            inputs,
            constancy: Some(constancy),
            subtractions: mass(&used.value, division)
                .map(|a| [series.weighings.container, series.weighings.with_hydrate, a]),
            division: division.clone(),
            percent_read: None,
        })
    }
}

fn find_net(
    hydrate: &Reading,
    residue: &Reading,
    net: Net,
    division: &Ratio,
    d: f64,
) -> Result<MassLoss, Error> {
    let (h, s) = net_masses(hydrate, residue)?;
    let water = &h - &s;
    let by_hydrate = Ratio::ONE.checked_div(&s).ok_or_else(no_mass)?;
    let by_residue = -&h.checked_div(&(&s * &s)).ok_or_else(no_mass)?;
    let mut inputs = alloc::vec![
        ("hydrate", d, by_hydrate.clone()),
        ("residue", d, by_residue.clone()),
    ];
    if net == Net::Subtracted {
        // Both differences share the empty container, so it moves them together.
        inputs.push(("empty container", d, &by_hydrate + &by_residue));
    }
    Ok(MassLoss {
        agreeing: Vec::new(),
        percent: percent(&water, &h)?,
        mass_ratio: &water * &by_hydrate,
        figures: figures(&[&s, &water], division),
        hydrate: Some(mass(&h, division).ok_or_else(too_long)?),
        residue: Some(mass(&s, division).ok_or_else(too_long)?),
        water: Some(mass(&water, division).ok_or_else(too_long)?),
        sensitivity: Sensitivity {
            hydrate_mass: Some(by_hydrate),
            residue_mass: Some(by_residue),
            ..Sensitivity::default()
        },
        inputs,
        constancy: None,
        subtractions: None,
        division: division.clone(),
        percent_read: None,
    })
}

/// The net masses of a hydrate and of its residue, where both can be.
pub(super) fn net_masses(hydrate: &Reading, residue: &Reading) -> Result<(Ratio, Ratio), Error> {
    let (h, s) = (hydrate.value(), residue.value());
    if !h.is_positive() || !s.is_positive() || s > h {
        let message = if s > h {
            format!("the residue ({residue} g) is heavier than the hydrate ({hydrate} g)")
        } else {
            format!("a hydrate of {hydrate} g and a residue of {residue} g cannot both be")
        };
        return Err(impossible(
            message,
            "check both readings: one may be misread, or they were swapped",
        ));
    }
    Ok((h, s))
}

fn find_percent(percent: &Reading, division: &Ratio) -> Result<MassLoss, Error> {
    let p = percent.value();
    let hundred = Ratio::from(100);
    let salt = &hundred - &p;
    if p.is_negative() || !salt.is_positive() {
        return Err(impossible(
            format!("a hydrate cannot hold {percent} % of water"),
            "give a percentage from 0 to below 100",
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
        subtractions: None,
        figures: percent.figures().at_least().max(1),
        division: division.clone(),
        percent_read: Some(*percent),
    })
}

fn percent(water: &Ratio, hydrate: &Ratio) -> Result<Ratio, Error> {
    (&Ratio::from(100) * water)
        .checked_div(hydrate)
        .ok_or_else(no_mass)
}

/// The fewest significant figures among masses that keep the places of the balance.
fn figures(masses: &[&Ratio], division: &Ratio) -> u32 {
    masses
        .iter()
        .filter_map(|value| mass(value, division))
        .map(|reading| reading.figures().at_most())
        .min()
        .unwrap_or(1)
        .max(1)
}

#[cold]
fn too_long() -> Error {
    out_of_range(
        "the readings differ too much in size to be subtracted to the last digit".into(),
        "give readings of one balance, in grams",
    )
}
