//! The marked class as the JSON-lines contract writes it.

use alloc::string::String;
use core::cell::RefCell;

use serde::ser::{Error, SerializeStruct};
use serde::{Serialize, Serializer};

use crate::class::{
    Answer, ExcessScatter, Marked, MarkedEntry, MarkedRow, MarkedRows, Outlier, OutlierTest,
    Pooled, Problem, Statistics, Suspect, Tails,
};
use crate::gravimetry::Dehydration;
use crate::number::Ratio;
use crate::text::Note;

/// Faults at the bench are not diagnosed yet, so the list is always empty.
const NO_FAULTS: [(); 0] = [];

/// Serializes a type as a struct of these fields, in this order.
macro_rules! fields {
    ($type:ident $(<$life:lifetime>)?, $it:ident, { $($name:literal: $value:expr,)+ }) => {
        impl Serialize for $type$(<$life>)? {
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
    "out_of": answer.out_of(),
    "expected": answer.expected(),
    "expected_as_written": answer.expected_with_unit(),
    "defensible": answer.defensible(),
    "slips": answer.slips(),
    "certain": answer.certain(),
    "carried_from": answer.carried_from(),
    "reason": answer.reason(),
    "remarks": answer.remarks(),
});

/// The accuracy at the bench, as a member of its row.
struct Accuracy<'a>(&'a MarkedRow);

fields!(Accuracy<'_>, accuracy, {
    "marks": accuracy.0.accuracy(),
    "out_of": accuracy.0.accuracy().map(|_| accuracy.0.accuracy_out_of()),
    "difference_percent": accuracy.0.difference_percent().map(|d| d.to_plain()),
});

/// The fields of a row that do not name it.
struct RowMarking<'a>(&'a MarkedRow);

fields!(RowMarking<'_>, it, {
    "stand_in": it.0.stand_in(),
    "ratio": it.0.dehydration().map(|result| result.ratio().to_plain()),
    "ratio_uncertainty": it.0.dehydration().map(Dehydration::standard_uncertainty),
    "percent_water": it.0.dehydration().map(|result| result.percent_water().to_plain()),
    "constant_mass": it.0.dehydration().and_then(Dehydration::constant_mass),
    "answers": it.0.answers(),
    "issued": it.0.issued(),
    "outcome": it.0.dehydration().map(|result| result.outcome().code()),
    "formula": it.0.dehydration().and_then(|result| result.outcome().formula()),
    "accuracy": Accuracy(it.0),
    "total": it.0.total(),
    "out_of": it.0.total().map(|_| it.0.out_of()),
    "by_hand": it.0.by_hand(),
    "faults": NO_FAULTS,
    "feedback": it.0.feedback(),
    "warnings": it.0.dehydration().map(Dehydration::warnings).unwrap_or_default(),
});

/// A row of a class, with its names.
#[derive(Serialize)]
struct NamedRow<'a> {
    bench: &'a str,
    pupil: Option<&'a str>,
    #[serde(flatten)]
    marking: RowMarking<'a>,
}

impl Serialize for MarkedRow {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let row = NamedRow {
            bench: self.bench(),
            pupil: self.pupil(),
            marking: RowMarking(self),
        };
        row.serialize(serializer)
    }
}

/// A row that needs no name, with what was found when it was read.
#[derive(Serialize)]
struct SingleRow<'a> {
    #[serde(flatten)]
    row: Option<RowMarking<'a>>,
    problems: &'a [Problem],
    notes: &'a [Note],
}

impl Serialize for MarkedEntry {
    /// Serializes as the result of `mark`.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let entry = SingleRow {
            row: self.row().map(RowMarking),
            problems: self.problems(),
            notes: self.notes(),
        };
        entry.serialize(serializer)
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

/// The number of fields of a marked class.
const CLASS_FIELDS: usize = 8;

impl Marked {
    /// Writes all fields except the rows.
    fn class_fields<S: SerializeStruct>(&self, out: &mut S) -> Result<(), S::Error> {
        let pooled = PooledFields(self.pooled(), Some(self.at_constant_mass()));
        out.serialize_field("pooled", &pooled)?;
        out.serialize_field("outliers", self.outliers())?;
        out.serialize_field("excess_scatter", &self.excess_scatter())?;
        out.serialize_field("by_balance", &ByName::of(self.by_balance()))?;
        out.serialize_field("by_period", &ByName::of(self.by_period()))?;
        out.serialize_field("problems", self.problems())?;
        out.serialize_field("notes", self.notes())
    }
}

/// The rows that are left, each marked as it is written.
struct RowByRow<'r, 'a>(RefCell<&'r mut MarkedRows<'a>>);

impl Serialize for RowByRow<'_, '_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0.try_borrow_mut() {
            Ok(mut rows) => serializer.collect_seq(rows.by_ref()),
            Err(_) => Err(S::Error::custom("the rows are already being written")),
        }
    }
}

impl Serialize for MarkedRows<'_> {
    /// Serializes as [`Marked`] with the rows that are left.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut rows = self.clone();
        let mut out = serializer.serialize_struct("Marked", CLASS_FIELDS)?;
        out.serialize_field("rows", &RowByRow(RefCell::new(&mut rows)))?;
        rows.finish().class_fields(&mut out)?;
        out.end()
    }
}

// As the result of `read_sheet`.
impl Serialize for Marked {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut out = serializer.serialize_struct("Marked", CLASS_FIELDS)?;
        out.serialize_field("rows", self.rows())?;
        self.class_fields(&mut out)?;
        out.end()
    }
}
