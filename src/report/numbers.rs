//! Numbers as the texts show them.

use alloc::string::{String, ToString};

use crate::number::{Ratio, TieRule};

/// A degree of hydration to four figures, without final zeros.
pub(super) fn short_degree(degree: &Ratio) -> String {
    degree.to_figures(4, TieRule::Even).value().to_plain()
}

/// An uncertainty to two significant figures.
pub(super) fn two_figures(value: f64) -> String {
    Ratio::from_float(value).map_or_else(String::new, |value| {
        value.to_figures(2, TieRule::Even).to_string()
    })
}

/// A mass with the decimal places of a balance's smallest step.
pub(super) fn grams(mass: &Ratio, step: &Ratio) -> String {
    let places = step
        .exact_decimal_places()
        .and_then(|places| i32::try_from(places).ok());
    mass.to_places(places.unwrap_or(3), TieRule::Even)
        .to_string()
}
