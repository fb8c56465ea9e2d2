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
