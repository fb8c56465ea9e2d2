//! What the benches of one salt have in common.

use alloc::vec::Vec;

use crate::formula::Formula;
use crate::gravimetry::{DefensiblePaths, Dehydration};
use crate::mistake::{MistakenMasses, confused_salts};

/// The paths of careful work and the masses that people mistake, the same for every bench of a
/// salt whose readings allow as many significant figures.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SharedKey {
    pub(super) careful: RoundingPaths,
    /// The path without any rounding, by the class's own weights.
    pub(super) unrounded: RoundingPaths,
    /// The salts that people confuse with the one issued.
    pub(super) other_salts: Vec<Formula>,
}

/// Paths of rounding to an answer, and the masses that people mistake along them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RoundingPaths {
    pub(super) paths: DefensiblePaths,
    pub(super) mistaken: MistakenMasses,
}

impl SharedKey {
    /// `class_salts` are the salts of the class, which people confuse.
    pub(super) fn new(
        issued: &Formula,
        dehydration: &Dehydration,
        class_salts: &[Formula],
    ) -> SharedKey {
        let other_salts = confused_salts(issued, class_salts);
        let rounding = |paths: DefensiblePaths| RoundingPaths {
            mistaken: MistakenMasses::new(issued, &paths, &other_salts),
            paths,
        };
        SharedKey {
            careful: rounding(dehydration.paths()),
            unrounded: rounding(dehydration.unrounded_path()),
            other_salts,
        }
    }
}
