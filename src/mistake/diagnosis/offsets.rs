//! The offsets of all weighings over which a likelihood is summed.

use alloc::vec::Vec;

/// How far a sum goes on both sides of a centre, in standard deviations.
pub(super) const REACH: f64 = 6.0;
/// The greatest number of offsets.
const MOST: usize = 400;
/// The step, divided by the distance from the last weighing: what is left is known to about a half.
const COARSE: f64 = 0.25;

/// The range of a sum, and where it must be fine.
#[derive(Debug, Clone, Copy)]
pub(super) struct OffsetRange {
    pub(super) least: f64,
    pub(super) most: f64,
    /// The middle of the narrow density of an offset, and its standard deviation.
    pub(super) centre: f64,
    pub(super) deviation: f64,
}

impl OffsetRange {
    /// The range in which a narrow density counts.
    pub(super) fn about(centre: f64, deviation: f64) -> OffsetRange {
        OffsetRange {
            least: centre - REACH * deviation,
            most: centre + REACH * deviation,
            centre,
            deviation,
        }
    }

    /// The offsets from the highest that leaves no negative water in the `last` weighing down to the
    /// least, each with the width for which it stands. Near that weighing the steps are half of its `noise`.
    pub(super) fn offsets(&self, last: Option<f64>, noise: f64) -> Vec<(f64, f64)> {
        let highest = last.map_or(self.most, |last| self.most.min(last + 4.0 * noise));
        let mut points = Vec::new();
        let mut offset = highest;
        while offset > self.least && points.len() < MOST {
            points.push((offset, 0.0));
            offset -= self.step(offset, last, noise);
        }
        // The rule of trapezoids.
        for right in 1..points.len() {
            let half = (points[right - 1].0 - points[right].0) / 2.0;
            points[right - 1].1 += half;
            points[right].1 += half;
        }
        points
    }

    fn step(&self, offset: f64, last: Option<f64>, noise: f64) -> f64 {
        let fine = self.deviation / 2.0;
        let to_zone = offset - self.centre - REACH * self.deviation;
        let by_density = if to_zone < -2.0 * REACH * self.deviation {
            f64::INFINITY
        } else {
            to_zone.max(fine)
        };
        let by_weighing = last.map_or(fine, |last| {
            (COARSE * (last - offset).abs()).max(noise / 2.0)
        });
        by_weighing.min(by_density)
    }
}
