//! What is noted while a name is read.

use alloc::format;
use alloc::string::String;

use crate::formula::ions::Usage;
use crate::text::Note;

/// What is noted while a name is read.
pub(super) enum NameRemark {
    /// A part of a name that is usually written in another way.
    Synonym {
        usage: Usage,
        name: String,
        meaning: String,
    },
    /// The formula in the simplest ratio of two cations, which the name does not give.
    SimplestRatio(String),
    /// A hydrate with an unknown number of waters.
    OpenDegree,
    /// The double formula of what bottles with this name hold.
    DoubleFormula(&'static str),
}

impl From<NameRemark> for Note {
    fn from(remark: NameRemark) -> Note {
        match remark {
            NameRemark::Synonym {
                usage,
                name,
                meaning,
            } => {
                let (code, relation) = match usage {
                    Usage::Old => ("old_name", "is an older name of"),
                    Usage::Common => ("trivial_name", "is a common name of"),
                    Usage::Bare => ("bare_number", "is usually written as"),
                    Usage::Other | Usage::Current => ("other_name", "is another name of"),
                };
                let note = Note::new(code, format!("`{name}` {relation} {meaning}."));
                note.with("name", name).with("read_as", meaning)
            }
            NameRemark::SimplestRatio(formula) => {
                let text = format!(
                    "The name does not give the ratio of its cations. It was read in the simplest \
                     ratio, as {formula}."
                );
                Note::new("simplest_ratio", text).with("formula", formula)
            }
            NameRemark::DoubleFormula(formula) => {
                let text = format!(
                    "Suppliers give this name to {formula}, too. Compare the formula on the bottle."
                );
                Note::new("double_formula", text).with("formula", formula)
            }
            NameRemark::OpenDegree => Note::new(
                "open_degree",
                "`hydrate` without a number was read as an unknown number of waters, x.",
            ),
        }
    }
}
