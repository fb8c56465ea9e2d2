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
const NO_FAULTS: [(); 0] = [];

/// Serializes a type as a struct of these fields, in this order.
macro_rules! fields {
    ($type:ident, $it:ident, { $($name:literal: $value:expr,)+ }) => {
        impl Serialize for $type {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let $it = self;
                let mut out = serializer.serialize_struct(stringify!($type), [$($name),+].len())?;
                $(out.serialize_field($name, &$value)?;)+
                out.end()
            }
        }
    };
}

fields!(Answer, answer, {
    "quantity": answer.quantity(),
    "reported": answer.reported(),
    "verdict": answer.verdict().code(),
    // An answer that is still to be marked by hand has no marks yet.
    "marks": (!answer.by_hand()).then_some(answer.marks()),
    "expected": answer.expected(),
    "defensible": answer.defensible(),
    "slips": answer.slips(),
    "certain": answer.certain(),
    "carried_from": answer.carried_from(),
    "remarks": answer.remarks(),
});

#[derive(serde::Serialize)]
struct AccuracyFields {
    marks: Option<u32>,
    difference_percent: Option<String>,
}

impl MarkedRow {
    /// Writes all fields except those that name the row.
    fn fields<S: SerializeStruct>(&self, out: &mut S) -> Result<(), S::Error> {
        let result = self.dehydration();
        out.serialize_field("ratio", &result.map(|r| r.ratio().to_plain()))?;
        out.serialize_field(
            "ratio_uncertainty",
            &result.map(Dehydration::standard_uncertainty),
        )?;
        out.serialize_field(
            "percent_water",
            &result.map(|r| r.percent_water().to_plain()),
        )?;
        out.serialize_field("outcome", &result.map(|r| r.outcome().code()))?;
        out.serialize_field("constant_mass", &result.and_then(|r| r.constant_mass()))?;
        out.serialize_field("answers", self.answers())?;
        out.serialize_field(
            "accuracy",
            &AccuracyFields {
                marks: self.accuracy(),
                difference_percent: self.difference_percent().map(|d| d.to_plain()),
            },
        )?;
        out.serialize_field("total", &self.total())?;
        out.serialize_field("faults", &NO_FAULTS)?;
        out.serialize_field("feedback", &self.feedback())?;
        out.serialize_field(
            "warnings",
            &result.map(Dehydration::warnings).unwrap_or_default(),
        )
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

fields!(Outlier, outlier, {
    "bench": outlier.bench(),
    "period": outlier.period(),
    "line": outlier.line(),
    "test": outlier.test(),
    "statistic": outlier.statistic(),
    "critical": outlier.critical(),
});

fields!(ExcessScatter, test, {
    "test": ExcessScatter::TEST,
    "n": test.n(),
    "weighted_mean": test.mean(),
    "statistic": test.statistic(),
    "degrees_of_freedom": test.degrees_of_freedom(),
    "critical": test.critical(),
    "p_value": test.p_value(),
    "excess": test.is_excess(),
    "extra_sd": test.extra_sd(),
});

fields!(Suspect, suspect, {
    "suspect": suspect.value().map(Ratio::to_plain),
    "statistic": suspect.statistic(),
    "critical_two_tailed": suspect.critical(Tails::Two),
    "critical_one_tailed": suspect.critical(Tails::One),
});

// As the result of `statistics`.
fields!(Statistics, found, {
    "n": found.n(),
    "mean": found.mean().to_plain(),
    "median": found.median().map(Ratio::to_plain),
    "sd": found.sd(),
    "mad": found.mad().map(Ratio::to_plain),
    "t": found.t(),
    "half_width": found.half_width(),
    "interval": found.interval(),
    "grubbs": found.grubbs(),
    "dixon": found.dixon(),
    "notes": found.notes(),
});

// As the result of `read_sheet`.
fields!(Marked, marked, {
    "rows": marked.rows(),
    "pooled": PooledFields(marked.pooled(), Some(marked.at_constant_mass())),
    "outliers": marked.outliers(),
    "excess_scatter": marked.excess_scatter(),
    "by_balance": ByName::of(marked.by_balance()),
    "by_period": ByName::of(marked.by_period()),
    "problems": marked.problems(),
    "notes": marked.notes(),
});
