//! Lines drawn at random, the same ones on every machine: a loop over a few texts in order would
//! train the branch predictor and flatter everybody.

/// A linear congruential generator (Knuth's multiplier).
pub(crate) struct Draw(u64);

impl Draw {
    pub(crate) fn new(seed: u64) -> Draw {
        Draw(seed)
    }

    pub(crate) fn below(&mut self, limit: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % limit
    }
}
