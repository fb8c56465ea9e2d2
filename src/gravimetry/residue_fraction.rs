//! The mass of residue for each gram of sample, with the inputs that it depends on.

use alloc::format;
use alloc::vec::Vec;

use super::constant_mass::Constancy;
use super::error::{Error, impossible, no_mass};
use super::method::Method;
use super::warning::Warning;
use super::weighings::{Net, Weighings};
use crate::number::{Inputs, Ratio, Reading, Traced};
use crate::text::Note;

/// The mass of residue for each gram of sample. It may be more than 1.
pub(super) struct ResidueFraction {
    pub(super) inputs: Inputs,
    pub(super) fraction: Traced,
    /// The masses of the sample and of its residue, if they are known.
    pub(super) masses: Option<(Reading, Reading)>,
    pub(super) constancy: Option<Constancy>,
    pub(super) warnings: Vec<Note>,
}

impl Method {
    /// Works out the fraction of a sample that heating leaves. Its inputs are the readings, the criterion
    /// for constant mass and the repeatability of the method.
    pub(super) fn residue_fraction(&self, weighings: &Weighings) -> Result<ResidueFraction, Error> {
        let mut found = match weighings.net_masses() {
            Some((sample, residue, net)) => {
                let uncertainty = self.of_one_reading(&self.division(weighings));
                of_net_masses(sample, residue, net, uncertainty)?
            }
            None => self.of_series(weighings)?,
        };
        if let Some(relative) = self.repeatability.filter(|relative| *relative > 0.0) {
            let deviation = deviation(&mut found.inputs, "repeatability of the loss", relative);
            let lost = 1 - found.fraction.value();
            found.fraction = found.fraction.minus(&deviation.times_exact(&lost));
        }
        Ok(found)
    }

    fn of_series(&self, weighings: &Weighings) -> Result<ResidueFraction, Error> {
        let loss = self.mass_loss(weighings)?;
        // With q the loss for each gram of residue, the fraction is 1/(1 + q).
        let fraction = Ratio::ONE.checked_div(&(&loss.mass_ratio + 1));
        let fraction = fraction.ok_or_else(no_mass)?;
        let slope = -(&fraction * &fraction);
        let mut inputs = Inputs::default();
        let mut traced = Traced::exact(fraction);
        for (name, uncertainty, by) in &loss.inputs {
            let deviation = deviation(&mut inputs, name, *uncertainty);
            traced = traced.plus(&deviation.times_exact(&(by * &slope)));
        }
        Ok(ResidueFraction {
            inputs,
            fraction: traced,
            warnings: self.warnings(weighings, &loss).iter().map(note).collect(),
            masses: loss.hydrate.zip(loss.residue),
            constancy: loss.constancy,
        })
    }
}

/// An unknown deviation of an input from its value.
fn deviation(inputs: &mut Inputs, name: &'static str, uncertainty: f64) -> Traced {
    inputs.weight(name, &Ratio::ZERO, uncertainty)
}

fn of_net_masses(
    sample: &Reading,
    residue: &Reading,
    net: Net,
    uncertainty: f64,
) -> Result<ResidueFraction, Error> {
    if !sample.value().is_positive() || residue.value().is_negative() {
        return Err(impossible(
            format!("a sample of {sample} g cannot leave a residue of {residue} g"),
            "check both readings: one may be misread, or they were swapped",
        ));
    }
    let mut inputs = Inputs::default();
    let mut of_sample = inputs.weight("sample", &sample.value(), uncertainty);
    let mut of_residue = inputs.weight("residue", &residue.value(), uncertainty);
    if net == Net::Subtracted {
        let container = deviation(&mut inputs, "empty container", uncertainty);
        of_sample = of_sample.minus(&container);
        of_residue = of_residue.minus(&container);
    }
    Ok(ResidueFraction {
        inputs,
        fraction: of_residue.over(&of_sample).ok_or_else(no_mass)?,
        masses: Some((*sample, *residue)),
        constancy: None,
        warnings: Vec::new(),
    })
}

/// The note on a warning, without speaking of water.
pub(super) fn note(warning: &Warning) -> Note {
    match warning {
        Warning::NotConstant(change, criterion) => {
            let fall = format!("{change}").replace('-', "");
            let text = format!(
                "The mass still fell by {fall} g between the last two weighings. More may be lost."
            );
            Note::new("not_constant", text)
                .with("fall", fall)
                .with("criterion", criterion.to_plain())
        }
        other => other.note(),
    }
}
