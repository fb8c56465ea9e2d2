//! How large faults are, how far each heating gets, and how much benches without a fault differ.
//!
//! The numbers are those of `fault_sizes.csv`, each with its reason. The file was fixed before the
//! diagnosis was first tried on simulated benches, but for the two lines about long first heatings, which
//! were added for a bench that was dry at once. Its tails are those of Student's t with four degrees
//! of freedom. The diagnosis assumes lighter ones, so a test of it on these benches is not too kind.

use super::draws::Draws;

/// The table: one row a quantity.
const TABLE: &[u8] = include_bytes!("fault_sizes.csv");

/// The standard deviation of Student's t with four degrees of freedom.
const T4_DEVIATION: f64 = core::f64::consts::SQRT_2;

/// A quantity that varies between benches: one row of the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct HeavyTailed {
    /// The median; for a row of shape `limit` the least centre in divisions of the balance, and for a
    /// `share` that share.
    pub(super) centre: f64,
    /// The factor of t in the exponent; for shape `t4` the standard deviation.
    pub(super) spread: f64,
    pub(super) least: f64,
    pub(super) most: f64,
}

pub(super) const SOLID_LOST: HeavyTailed = row("solid_lost");
pub(super) const MOISTURE_TAKEN_UP: HeavyTailed = row("moisture_taken_up");
pub(super) const DECOMPOSED: HeavyTailed = row("decomposed");
pub(super) const SAMPLE_DAMP: HeavyTailed = row("sample_damp");
pub(super) const SAMPLE_EFFLORESCED: HeavyTailed = row("sample_effloresced");
pub(super) const CONTAINER_DAMP: HeavyTailed = row("container_damp");
pub(super) const WEIGHED_WARM: HeavyTailed = row("weighed_warm");
pub(super) const BALANCE_CHANGED: HeavyTailed = row("balance_changed");
pub(super) const SLOW_HEATING_LEAVES: HeavyTailed = row("slow_heating_leaves");
pub(super) const FIRST_HEATING_LEAVES: HeavyTailed = row("first_heating_leaves");
pub(super) const LONG_FIRST_HEATING: HeavyTailed = row("long_first_heating");
pub(super) const LONG_HEATING_LEAVES: HeavyTailed = row("long_heating_leaves");
pub(super) const LATER_HEATING_LEAVES: HeavyTailed = row("later_heating_leaves");
pub(super) const BETWEEN_BENCHES: HeavyTailed = row("between_benches");
pub(super) const VISIBLE_FROM: HeavyTailed = row("visible_from");

impl HeavyTailed {
    /// A positive draw: the centre times the exponential of t.
    pub(super) fn draw(&self, draws: &mut Draws) -> f64 {
        self.times(1.0, draws)
    }

    /// A positive draw as a part of a `whole`.
    pub(super) fn times(&self, whole: f64, draws: &mut Draws) -> f64 {
        let size = self.centre * libm::exp(self.spread * draws.t4());
        whole * size.clamp(self.least, self.most)
    }

    /// A draw in grams as a part of a `whole`, large enough for a balance with this division and at most
    /// `most`. The centre is at least that of [`VISIBLE_FROM`].
    pub(super) fn visible(&self, whole: f64, division: f64, most: f64, draws: &mut Draws) -> f64 {
        let centre = whole * self.centre;
        let shown = centre.max(VISIBLE_FROM.centre * division);
        let size = self.times(whole, draws) * (shown / centre);
        size.max(VISIBLE_FROM.least * division).min(most)
    }

    /// A draw of either sign with mean 0 and this standard deviation.
    pub(super) fn signed(&self, deviation: f64, draws: &mut Draws) -> f64 {
        let deviate = deviation * draws.t4() / T4_DEVIATION;
        deviate.clamp(self.least, self.most)
    }
}

/// The row of a quantity. A quantity that is not in the table does not compile.
const fn row(quantity: &str) -> HeavyTailed {
    let name = quantity.as_bytes();
    let mut start = 0;
    while !begins_with(start, name) {
        start = after(start, b'\n');
    }
    let numbers = after(after(start, b','), b',');
    let second = after(numbers, b',');
    let third = after(second, b',');
    HeavyTailed {
        centre: decimal(numbers),
        spread: decimal(second),
        least: decimal(third),
        most: decimal(after(third, b',')),
    }
}

/// Whether the table has this name and a comma from an offset on.
const fn begins_with(start: usize, name: &[u8]) -> bool {
    let mut i = 0;
    while i < name.len() && TABLE[start + i] == name[i] {
        i += 1;
    }
    i == name.len() && TABLE[start + i] == b','
}

/// The offset after the next of these characters.
const fn after(start: usize, character: u8) -> usize {
    let mut i = start;
    while TABLE[i] != character {
        i += 1;
    }
    i + 1
}

/// The decimal number at an offset. It has few digits, so the quotient is the nearest float.
const fn decimal(start: usize) -> f64 {
    let (mut digits, mut unit) = (0_u32, 1_u32);
    let (mut i, mut is_after_point) = (start, false);
    while TABLE[i] != b',' {
        if TABLE[i] == b'.' {
            is_after_point = true;
        } else if TABLE[i] != b'-' {
            digits = 10 * digits + (TABLE[i] - b'0') as u32;
            unit *= if is_after_point { 10 } else { 1 };
        }
        i += 1;
    }
    let value = digits as f64 / unit as f64;
    if TABLE[start] == b'-' { -value } else { value }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::vec::Vec;

    const ROWS: [(&str, HeavyTailed); 15] = [
        ("solid_lost", SOLID_LOST),
        ("moisture_taken_up", MOISTURE_TAKEN_UP),
        ("decomposed", DECOMPOSED),
        ("sample_damp", SAMPLE_DAMP),
        ("sample_effloresced", SAMPLE_EFFLORESCED),
        ("container_damp", CONTAINER_DAMP),
        ("weighed_warm", WEIGHED_WARM),
        ("balance_changed", BALANCE_CHANGED),
        ("slow_heating_leaves", SLOW_HEATING_LEAVES),
        ("first_heating_leaves", FIRST_HEATING_LEAVES),
        ("long_first_heating", LONG_FIRST_HEATING),
        ("long_heating_leaves", LONG_HEATING_LEAVES),
        ("later_heating_leaves", LATER_HEATING_LEAVES),
        ("between_benches", BETWEEN_BENCHES),
        ("visible_from", VISIBLE_FROM),
    ];

    #[test]
    fn every_row_is_read_as_it_is_written() {
        let text = core::str::from_utf8(TABLE).unwrap();
        let mut lines = text.lines();
        let head = "quantity,shape,centre,spread,least,most,of,reason";
        assert_eq!(lines.next(), Some(head));
        let rows: Vec<Vec<&str>> = lines.map(|line| line.splitn(8, ',').collect()).collect();
        assert_eq!(rows.len(), ROWS.len());
        for (cells, (name, read)) in rows.iter().zip(ROWS) {
            assert_eq!((cells[0], cells.len()), (name, 8));
            let number = |cell: usize| cells[cell].parse::<f64>().unwrap();
            let written = [2, 3, 4, 5].map(number);
            let read = [read.centre, read.spread, read.least, read.most];
            assert_eq!(written, read, "{name}");
            assert!(read[2] < read[0] && read[0] < read[3], "{name}");
            let reason = cells[7];
            let known = [
                "common practice (no source): ",
                "by definition: ",
                "physical reason: ",
            ];
            assert!(known.iter().any(|how| reason.starts_with(how)), "{name}");
        }
    }

    /// Of 20,000 draws half are below the median, and the tails are those of t with four degrees of
    /// freedom: 1.3 % of its absolute values are above three of its standard deviations.
    #[test]
    fn draws_have_heavy_tails() {
        let mut draws = Draws::new(4);
        let (mut below, mut far) = (0, 0);
        for _ in 0..20_000 {
            let size = SOLID_LOST.draw(&mut draws);
            assert!((0.001..=0.5).contains(&size), "{size}");
            below += u32::from(size < 0.022);
            let scatter = BETWEEN_BENCHES.signed(0.003, &mut draws);
            far += u32::from(scatter.abs() > 0.009);
        }
        assert!((9_700..10_300).contains(&below), "{below}");
        assert!((200..330).contains(&far), "{far}");
    }

    #[test]
    fn a_coarse_balance_shows_large_faults_only() {
        let mut draws = Draws::new(5);
        for _ in 0..1_000 {
            let size = WEIGHED_WARM.visible(1.0, 0.01, 0.3, &mut draws);
            assert!((0.08..=0.3).contains(&size), "{size}");
        }
    }
}
