//! The hydrates of the pool, read once.

use alloc::boxed::Box;
use alloc::vec::Vec;

use once_cell::race::OnceBox;

use super::hydrate::PoolHydrate;
use super::pool::SALTS;

/// The hydrates of the pool, in its order.
pub(super) fn hydrates() -> &'static [PoolHydrate] {
    static HYDRATES: OnceBox<Vec<PoolHydrate>> = OnceBox::new();
    HYDRATES.get_or_init(|| {
        let rows = SALTS.iter().filter_map(|row| {
            let hydrate = row.hydrate.parse().ok()?;
            PoolHydrate::named(hydrate, row.name.into(), row.heated)
        });
        Box::new(rows.collect())
    })
}
