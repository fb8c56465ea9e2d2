//! The hydrates of the pool, read once.

use alloc::boxed::Box;
use alloc::vec::Vec;

use once_cell::race::OnceBox;

use super::hydrate::PoolHydrate;

/// The hydrates of the pool, in its order.
pub(super) fn hydrates() -> &'static [PoolHydrate] {
    static HYDRATES: OnceBox<Vec<PoolHydrate>> = OnceBox::new();
    HYDRATES.get_or_init(|| {
        let rows = ROWS
            .iter()
            .filter_map(|text| PoolHydrate::new(text.parse().ok()?, None));
        Box::new(rows.collect())
    })
}

const ROWS: &[&str] = &[
    "MgSO4·7H2O",
    "BaCl2·2H2O",
    "CaSO4·2H2O",
    "ZnSO4·7H2O",
    "Na2SO4·10H2O",
    "CaCl2·2H2O",
    "SrCl2·6H2O",
    "MnSO4·H2O",
    "Na2CO3·10H2O",
    "KAl(SO4)2·12H2O",
    "CoCl2·6H2O",
    "NiSO4·6H2O",
    "FeSO4·7H2O",
    "CuCl2·2H2O",
    "MgCl2·6H2O",
    "Na2B4O7·10H2O",
    "LiCl·H2O",
    "LiOH·H2O",
    "Na3PO4·12H2O",
    "Na2HPO4·2H2O",
];
