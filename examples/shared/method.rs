//! The options that say how readings are judged.

use effloresce::Ratio;
use effloresce::gravimetry::{ConstantMass, Method};
use effloresce::number::Unit;

use crate::command_line::reading;

/// The rules of the options `--constant-mass` and `--repeatability`.
pub(crate) fn method(
    constant_mass: &Option<String>,
    repeatability: &Option<String>,
) -> Result<Method, String> {
    let mut method = Method::new();
    if let Some(text) = constant_mass {
        let grams = reading("--constant-mass", Unit::Gram, text)?;
        if grams.value().is_negative() {
            return Err(format!(
                "--constant-mass: {grams} is negative; give a mass such as 0.002"
            ));
        }
        // Nobody heats to constant mass within grams: milligrams are meant, or a per cent.
        let large = grams.value() > Ratio::new(1, 2).unwrap_or_default();
        if large && !text.contains(char::is_alphabetic) {
            return Err(format!(
                "--constant-mass: {text} has no unit and would be {text} g; give grams such as 0.002, or the \
                 unit, such as '{text} mg'"
            ));
        }
        method = method.constant_mass(ConstantMass::Absolute(grams));
    }
    if let Some(percent) = repeatability {
        let told = reading("--repeatability", Unit::Percent, percent)?;
        method = method
            .repeatability(told.value().to_f64() / 100.0)
            .map_err(|_| {
                format!(
                    "--repeatability: {percent} is not from 0 to 100; give per cent, such as 0.3"
                )
            })?;
    }
    Ok(method)
}
