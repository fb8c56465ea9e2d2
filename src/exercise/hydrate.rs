//! A hydrate that problems may be about.

use alloc::string::{String, ToString};

use crate::formula::Formula;
use crate::gravimetry::{HeatingSafety, Severity};
use crate::number::Ratio;

/// A hydrate with its name, its salt and its waters.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PoolHydrate {
    pub(super) hydrate: Formula,
    pub(super) name: String,
    pub(super) salt: Formula,
    /// The formula of the hydrate in canonical plain text.
    pub(super) text: String,
    /// The formula of the salt in canonical plain text.
    pub(super) salt_text: String,
    pub(super) waters: Ratio,
    /// Whether a school may heat it for loss on heating.
    pub(super) heated: bool,
}

impl PoolHydrate {
    /// `None` if the formula is not a hydrate with a known number of waters.
    pub(super) fn new(hydrate: Formula, name: Option<String>) -> Option<PoolHydrate> {
        let safety = HeatingSafety::of(&hydrate);
        let allowed = matches!(safety.severity(), Severity::Ordinary | Severity::Care);
        let heated = allowed && safety.suitable() != Some(false);
        let name = name.or_else(|| Some(hydrate.name().ok()?.name().into()));
        let name = name.unwrap_or_else(|| hydrate.to_string());
        PoolHydrate::named(hydrate, name, heated)
    }

    /// A hydrate with its name, of which it is known whether a school may heat it; `None` as for
    /// [`new`](Self::new).
    pub(super) fn named(hydrate: Formula, name: String, heated: bool) -> Option<PoolHydrate> {
        let (salt, waters) = hydrate.one_formula_unit()?;
        waters.is_positive().then(|| PoolHydrate {
            text: hydrate.to_string(),
            salt_text: salt.to_string(),
            hydrate,
            name,
            salt,
            waters,
            heated,
        })
    }
}

/// Returns the salt of a hydrate, or the formula itself.
pub(super) fn salt_of(formula: &Formula) -> Formula {
    let unit = formula.one_formula_unit();
    unit.map_or_else(|| formula.clone(), |(salt, _)| salt)
}
