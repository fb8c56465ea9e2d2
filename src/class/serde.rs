//! The marked class as the JSON-lines contract writes it.

use alloc::string::String;

use serde::ser::SerializeStruct;
use serde::{Serialize, Serializer};

use crate::class::{
    Answer, ExcessScatter, Marked, MarkedEntry, MarkedRow, Outlier, OutlierTest, Pooled,
    Statistics, Suspect, Tails,
};
use crate::gravimetry::Dehydration;
use crate::number::Ratio;

/// Faults at the bench are not diagnosed yet, so the list is always empty.
const NONE_YET: [(); 0] = [];

impl Serialize for Answer {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Answer", 10)?;
        out.serialize_field("quantity", &self.quantity())?;
        out.serialize_field("reported", &self.reported())?;
        out.serialize_field("verdict", self.verdict().code())?;
        // An answer that is still to be marked by hand has no marks yet.
        let marks = (!self.by_hand()).then_some(self.marks());
        out.serialize_field("marks", &marks)?;
        out.serialize_field("expected", &self.expected())?;
        out.serialize_field("defensible", &self.defensible())?;
        out.serialize_field("slips", &self.slips())?;
        out.serialize_field("certain", &self.certain())?;
        out.serialize_field("carried_from", &self.carried_from())?;
        out.serialize_field("remarks", &self.remarks())?;
        out.end()
    }
}

#[derive(serde::Serialize)]
struct AccuracyFields {
    marks: Option<u32>,
    difference_percent: Option<String>,
}

impl MarkedRow {
    /// Writes all fields except those that name the row.
    fn fields<S: SerializeStruct>(&self, out: &mut S) -> Result<(), S::Error> {
        let run = self.run();
        out.serialize_field("ratio", &run.map(|r| r.ratio().to_plain()))?;
        out.serialize_field(
            "ratio_uncertainty",
            &run.map(Dehydration::standard_uncertainty),
        )?;
        out.serialize_field("percent_water", &run.map(|r| r.percent_water().to_plain()))?;
        out.serialize_field("outcome", &run.map(|r| r.outcome().code()))?;
        out.serialize_field("constant_mass", &run.and_then(|r| r.constant_mass()))?;
        out.serialize_field("answers", self.answers())?;
        out.serialize_field(
            "accuracy",
            &AccuracyFields {
                marks: self.accuracy(),
                difference_percent: self.difference_percent().map(|d| d.to_plain()),
            },
        )?;
        out.serialize_field("total", &self.total())?;
        out.serialize_field("faults", &NONE_YET)?;
        out.serialize_field("feedback", &self.feedback())?;
        out.serialize_field("warnings", run.map_or(&[][..], |r| r.warnings()))
    }
}

impl Serialize for MarkedRow {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Row", 14)?;
        out.serialize_field("bench", self.bench())?;
        out.serialize_field("pupil", &self.pupil())?;
        out.serialize_field("stand_in", &self.stand_in())?;
        self.fields(&mut out)?;
        out.end()
    }
}

impl Serialize for MarkedEntry {
    /// Serializes as the result of `mark`.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let row = self.row();
        let mut out = serializer.serialize_struct("Entry", if row.is_some() { 14 } else { 2 })?;
        if let Some(row) = row {
            out.serialize_field("stand_in", &row.stand_in())?;
            row.fields(&mut out)?;
        }
        out.serialize_field("problems", self.problems())?;
        out.serialize_field("notes", self.notes())?;
        out.end()
    }
}

/// A pool, with another one inside if there is one.
struct PooledFields<'a>(&'a Pooled, Option<&'a Pooled>);

impl Serialize for PooledFields<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let PooledFields(pooled, inner) = self;
        let mut out = serializer.serialize_struct("Pooled", 6 + usize::from(inner.is_some()))?;
        out.serialize_field("n", &pooled.n())?;
        out.serialize_field("mean", &pooled.mean().map(Ratio::to_plain))?;
        out.serialize_field("median", &pooled.median().map(Ratio::to_plain))?;
        out.serialize_field("sd", &pooled.sd())?;
        out.serialize_field("interval", &pooled.interval())?;
        out.serialize_field("mad", &pooled.mad().map(Ratio::to_plain))?;
        if let Some(inner) = inner {
            out.serialize_field("at_constant_mass", &PooledFields(inner, None))?;
        }
        out.end()
    }
}

impl Serialize for Pooled {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        PooledFields(self, None).serialize(serializer)
    }
}

/// Pools by their names, in order.
struct ByName<'a>(&'a [(String, Pooled)]);

impl<'a> ByName<'a> {
    /// `None` if there are no pools to compare.
    fn of(pools: &'a [(String, Pooled)]) -> Option<Self> {
        (!pools.is_empty()).then_some(ByName(pools))
    }
}

impl Serialize for ByName<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, pooled)| (name, pooled)))
    }
}

impl Serialize for OutlierTest {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code())
    }
}

impl Serialize for Outlier {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Outlier", 6)?;
        out.serialize_field("bench", self.bench())?;
        out.serialize_field("period", &self.period())?;
        out.serialize_field("line", &self.line())?;
        out.serialize_field("test", &self.test())?;
        out.serialize_field("statistic", &self.statistic())?;
        out.serialize_field("critical", &self.critical())?;
        out.end()
    }
}

impl Serialize for ExcessScatter {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("ExcessScatter", 9)?;
        out.serialize_field("test", ExcessScatter::TEST)?;
        out.serialize_field("n", &self.n())?;
        out.serialize_field("weighted_mean", &self.mean())?;
        out.serialize_field("statistic", &self.statistic())?;
        out.serialize_field("degrees_of_freedom", &self.degrees_of_freedom())?;
        out.serialize_field("critical", &self.critical())?;
        out.serialize_field("p_value", &self.p_value())?;
        out.serialize_field("excess", &self.is_excess())?;
        out.serialize_field("extra_sd", &self.extra_sd())?;
        out.end()
    }
}

impl Serialize for Suspect {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Suspect", 4)?;
        out.serialize_field("suspect", &self.value().map(Ratio::to_plain))?;
        out.serialize_field("statistic", &self.statistic())?;
        out.serialize_field("critical_two_tailed", &self.critical(Tails::Two))?;
        out.serialize_field("critical_one_tailed", &self.critical(Tails::One))?;
        out.end()
    }
}

impl Serialize for Statistics {
    /// Serializes as the result of `statistics`.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Statistics", 11)?;
        out.serialize_field("n", &self.n())?;
        out.serialize_field("mean", &self.mean().to_plain())?;
        out.serialize_field("median", &self.median().map(Ratio::to_plain))?;
        out.serialize_field("sd", &self.sd())?;
        out.serialize_field("mad", &self.mad().map(Ratio::to_plain))?;
        out.serialize_field("t", &self.t())?;
        out.serialize_field("half_width", &self.half_width())?;
        out.serialize_field("interval", &self.interval())?;
        out.serialize_field("grubbs", &self.grubbs())?;
        out.serialize_field("dixon", &self.dixon())?;
        out.serialize_field("notes", self.notes())?;
        out.end()
    }
}

impl Serialize for Marked {
    /// Serializes as the result of `read_sheet`. The lists of faults are empty.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Marked", 8)?;
        out.serialize_field("rows", self.rows())?;
        out.serialize_field(
            "pooled",
            &PooledFields(self.pooled(), Some(self.at_constant_mass())),
        )?;
        out.serialize_field("outliers", self.outliers())?;
        out.serialize_field("excess_scatter", &self.excess_scatter())?;
        out.serialize_field("by_balance", &ByName::of(self.by_balance()))?;
        out.serialize_field("by_period", &ByName::of(self.by_period()))?;
        out.serialize_field("problems", self.problems())?;
        out.serialize_field("notes", self.notes())?;
        out.end()
    }
}
