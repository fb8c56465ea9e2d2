//! Class sheets: reading, marking, statistics.
//!
//! A [`Sheet`] is read from CSV as spreadsheets and people write it. A cell that cannot be read is a
//! [`Problem`] of the sheet, not an error. It names its line, column and bench, and costs no other
//! bench any marks.

// Files in order; each uses only those before it:
//   error     what can be wrong with a sheet, a policy or a list of values
//   stats     centre, spread, outliers and scatter of the class
//   sheet     the class sheet, read from CSV
//   marks     numbers of marks, in whole and half marks
//   policy    what a teacher decides about marks
//   marking   every row marked against the readings of its own bench
//   stand_in  readings made for a pupil who was absent
//   spreadsheet  CSV as spreadsheets read it
//   serde     the marked class as the JSON-lines contract writes it, and the entries of a class

mod error;
mod marking;
mod marks;
mod policy;
#[cfg(feature = "serde")]
mod serde;
mod sheet;
#[cfg(any(feature = "report", feature = "qti"))]
mod spreadsheet;
mod stand_in;
mod stats;

pub use error::{Error, ErrorKind};
#[cfg(feature = "report")]
pub(crate) use marking::Remark;
pub use marking::{
    Answer, Change, HandMark, HandMarks, MarkChanges, Marked, MarkedEntry, MarkedRow, MarkedRows,
    Marker, RowChange, Verdict,
};
pub use marks::Marks;
pub use policy::{Band, FiguresRule, FormulaRule, MarkStep, Policy, Stock, Tolerance};
#[cfg(feature = "exercise")]
pub(crate) use policy::{TomlMembers, TomlValue, members, no_toml, required};
pub(crate) use sheet::CsvStyle;
#[cfg(feature = "exercise")]
pub(crate) use sheet::NamedTable;
pub use sheet::{Entry, Problem, Reported, ReportedValue, Row, RowStream, Sheet, SheetReader};
#[cfg(any(feature = "report", feature = "qti"))]
pub(crate) use spreadsheet::{not_a_formula, write_csv};
pub use stand_in::{StandIn, StandInReadings};
pub use stats::{
    BenchGroup, ExcessScatter, IssuedPool, Outlier, OutlierTest, Pooled, Statistics, Suspect, Tails,
};
