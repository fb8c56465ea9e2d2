//! The marked class as the JSON-lines contract writes it, and the entries of a class.

use alloc::string::String;
use alloc::vec::Vec;
use core::cell::RefCell;
use core::str::FromStr;

use serde::ser::{Error, SerializeStruct};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::class::{
    Answer, Entry, ExcessScatter, IssuedPool, Marked, MarkedEntry, MarkedRow, MarkedRows, Outlier,
    Pooled, Statistics, Suspect, Tails,
};
use crate::gravimetry::{Dehydration, Grams, Net, Percent, Quantity, WeighingsFields};
use crate::mistake::Diagnosis;
use crate::number::{READING_AS_TEXT, Ratio};
use crate::text::{
    Detail, Fields, Setting, UniqueKeys, fields, given, read_text, refusal, required,
};

fields!(Answer, answer, {
    "quantity": answer.quantity(),
    "reported": answer.reported(),
    "verdict": answer.verdict().code(),
    // An answer that is still to be marked by hand has no marks yet.
    "marks": answer.final_marks(),
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
    "uncertainty_covers": it.0.dehydration().map(Dehydration::uncertainty_covers),
    "percent_water": it.0.percent_water().map(Ratio::to_plain),
    "constant_mass": it.0.mass_loss().and_then(Dehydration::constant_mass),
    "answers": it.0.answers(),
    "issued": it.0.issued(),
    "outcome": it.0.dehydration().map(|result| result.outcome().code()),
    "formula": it.0.dehydration().and_then(|result| result.outcome().formula()),
    "accuracy": Accuracy(it.0),
    "total": it.0.total(),
    "out_of": it.0.calculation().map(|_| it.0.out_of()),
    "by_hand": it.0.by_hand(),
    "faults": it.0.diagnosis().map(Diagnosis::likely).unwrap_or_default(),
    "feedback": it.0.feedback(),
    "warnings": it.0.dehydration().map(Dehydration::warnings).unwrap_or_default(),
});

// A row of a class, with its names.
fields!(MarkedRow, row, {
    "bench": row.bench(),
    "pupil": row.pupil(),
    ..RowMarking(row)
});

// As the result of `mark`.
fields!(MarkedEntry, entry, {
    ..entry.row().map(RowMarking),
    "problems": entry.problems(),
    "notes": entry.notes(),
});

fields!(Pooled, pooled, {
    "n": pooled.n(),
    "mean": pooled.mean().map(Ratio::to_plain),
    "median": pooled.median().map(Ratio::to_plain),
    "sd": pooled.sd(),
    "interval": pooled.interval(),
    "mad": pooled.mad().map(Ratio::to_plain),
    "robust_interval": pooled.robust_interval(),
});

/// The pool of all benches, with the one of those at constant mass inside.
struct ClassPool<'a>(&'a Marked);

fields!(ClassPool<'_>, it, {
    ..*it.0.pooled(),
    "at_constant_mass": it.0.at_constant_mass(),
});

fields!(IssuedPool, pool, {
    ..*pool.all(),
    "issued": pool.issued(),
    "at_constant_mass": pool.at_constant_mass(),
});

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

fields!(Outlier, outlier, {
    "bench": outlier.bench(),
    "period": outlier.period(),
    "line": outlier.line(),
    "among": outlier.among(),
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
    "repeatability": test.repeatability(),
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
    "generalized_esd": found.generalized_esd(),
    "notes": found.notes(),
});

/// What the rows of a class show together.
struct ClassOverview<'a>(&'a Marked);

fields!(ClassOverview<'_>, it, {
    "pooled": ClassPool(it.0),
    "pools": it.0.pools(),
    "outliers": it.0.outliers(),
    "excess_scatter": it.0.excess_scatter(),
    "by_balance": ByName::of(it.0.by_balance()),
    "by_period": ByName::of(it.0.by_period()),
    "problems": it.0.problems(),
    "notes": it.0.notes(),
});

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
        ClassOverview(&rows.finish()).write(&mut out)?;
        out.end()
    }
}

/// The number of fields of a marked class, known before its rows are marked.
const CLASS_FIELDS: usize = 9;

// As the result of `read_sheet`.
fields!(Marked, marked, {
    "rows": marked.rows(),
    ..ClassOverview(marked)
});

// ---- entries, both ways

/// Words that are not blank.
fn words(text: &str) -> Option<&str> {
    (!text.is_empty()).then_some(text)
}

fields!(Entry, entry, {
    "bench": entry.bench,
    "pupil": words(&entry.pupil),
    "balance": words(&entry.balance),
    "period": words(&entry.period),
    "issued": words(&entry.issued),
    "readability": entry.readability,
    "stand_in": entry.stand_in,
    "reported": ReportedTexts(entry),
    ..entry.weighings
});

/// What was reported, by quantity.
struct ReportedTexts<'a>(&'a Entry);

impl Serialize for ReportedTexts<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let reported = self.0.reported.iter();
        serializer.collect_map(reported.map(|(value, _)| (value.quantity(), value.text())))
    }
}

given! {
    #[derive(Default)]
    struct GivenEntry {
        "bench" => bench: Option<Setting<AsWritten>>,
        "pupil" => pupil: Option<Setting<AsWritten>>,
        "balance" => balance: Option<Setting<AsWritten>>,
        "period" => period: Option<Setting<AsWritten>>,
        "issued" => issued: Option<String>,
        "readability" => readability: Option<Setting<Grams>>,
        "stand_in" => stand_in: bool,
        "reported" => reported: UniqueKeys<Quantity, AsWritten>,
        "crucible" => crucible: Option<Grams>,
        "crucible_hydrate" => crucible_hydrate: Option<Grams>,
        "heated" => heated: Option<Vec<Grams>>,
        "hydrate_mass" => hydrate_mass: Option<Grams>,
        "residue_mass" => residue_mass: Option<Grams>,
        "net" => net: Option<Net>,
        "percent_water" => percent_water: Option<Percent>,
    }
}

/// A name or an answer as it was written.
struct AsWritten(String);

impl FromStr for AsWritten {
    type Err = Detail;

    fn from_str(text: &str) -> Result<Self, Detail> {
        Ok(AsWritten(text.into()))
    }
}

impl<'de> Deserialize<'de> for AsWritten {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        read_text(deserializer, READING_AS_TEXT, str::parse)
    }
}

impl GivenEntry {
    fn entry(self) -> Result<Entry, Detail> {
        let readings = WeighingsFields {
            crucible: self.crucible,
            crucible_hydrate: self.crucible_hydrate,
            heated: self.heated,
            hydrate_mass: self.hydrate_mass,
            residue_mass: self.residue_mass,
            net: self.net,
            percent_water: self.percent_water,
        };
        const HELP: &str = "name the bench, as in `\"bench\": \"Heron\"`";
        let name = |name: Option<Setting<AsWritten>>| {
            name.map_or_else(String::new, |Setting(AsWritten(name))| name)
        };
        let Setting(AsWritten(bench)) = required(self.bench, "bench", HELP)?;
        let mut entry = Entry::new(bench);
        if entry.bench.is_empty() {
            return Err(Detail::new("`bench` is empty").help(HELP));
        }
        entry = entry
            .pupil(name(self.pupil))
            .balance(name(self.balance))
            .period(name(self.period))
            .issued(self.issued.unwrap_or_default())
            .stand_in(self.stand_in);
        entry.readability = self.readability.map(|Setting(Grams(step))| step);
        entry.weighings = readings.weighings()?;
        let reported = self.reported.0.into_iter();
        Ok(reported.fold(entry, |entry, (quantity, text)| {
            entry.reported(quantity, text.0)
        }))
    }
}

impl<'de> Deserialize<'de> for Entry {
    /// Reads a row of `class` in the JSON-lines contract. Every field but `bench` may be left out.
    ///
    /// ```
    /// use effloresce::class::Entry;
    /// use effloresce::gravimetry::{Net, Quantity, Weighings};
    /// let row = r#"{"bench": "Heron", "hydrate_mass": "2.666", "residue_mass": "1.303",
    ///     "reported": {"ratio": "1 : 6.99"}}"#;
    /// let entry: Entry = serde_json::from_str(row)?;
    /// let net = Weighings::net("2.666".parse()?, "1.303".parse()?, Net::Tared);
    /// assert_eq!(entry, Entry::new("Heron").weighings(net).reported(Quantity::Ratio, "1 : 6.99"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let entry = GivenEntry::deserialize(deserializer)?.entry();
        entry.map_err(|detail| refusal(&detail))
    }
}
