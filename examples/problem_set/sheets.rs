//! The sheets of a run: one set, versions of it, or one for each code of a roster.

use std::collections::BTreeMap;
use std::path::Path;

use effloresce::exercise::ExerciseSet;
use effloresce::report::ProblemPaper;
use serde::de::IgnoredAny;
use serde::{Deserialize, Serialize};

use crate::Arguments;
use crate::choices::{about, exercises};
use crate::command_line::json;
use crate::progress::Progress;
use crate::read::read_text;
use crate::roster;

/// The longest file with sets, in megabytes: some sets of 10,000 problems.
const LONGEST: u64 = 256;

/// The most versions: the letters from A to Z.
pub(crate) const MOST_VERSIONS: usize = 26;

/// The sets, with their names if there are several.
pub(crate) enum Sheets {
    One(Box<ExerciseSet>),
    Versions(Vec<Sheet>),
    Roster(Vec<Sheet>),
}

/// A set with its letter or its code.
#[derive(Serialize, Deserialize)]
pub(crate) struct Sheet {
    name: String,
    set: ExerciseSet,
}

/// Several sets as JSON.
#[derive(Serialize, Deserialize)]
struct Several {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    versions: Option<Vec<Sheet>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    roster: Option<Vec<Sheet>>,
}

/// The number of versions that a text asks for: `4`, `D`, `A-D`, `A..D` or `ABCD`.
pub(crate) fn versions(text: &str) -> Result<usize, String> {
    let text = text.trim();
    let last = |text: &str| {
        let mut letters = text.chars();
        match (letters.next(), letters.next()) {
            (Some(letter @ 'A'..='Z'), None) => Some(1 + letter as usize - 'A' as usize),
            _ => None,
        }
    };
    let in_a_row = || {
        let row = text.chars().eq(('A'..='Z').take(text.len()));
        row.then_some(text.len())
    };
    let range = || {
        let (first, end) = text.split_once("..").or_else(|| text.split_once('-'))?;
        (first.trim() == "A").then(|| last(end.trim())).flatten()
    };
    let number = text
        .parse()
        .ok()
        .filter(|number| (1..=MOST_VERSIONS).contains(number));
    let versions = number.or_else(|| last(text)).or_else(range);
    versions
        .or_else(in_a_row)
        .filter(|versions| *versions > 0)
        .ok_or_else(|| "give a number from 1 to 26, or letters such as A-D".into())
}

impl Sheets {
    /// Makes the sets that the options ask for.
    pub(crate) fn made(arguments: &Arguments) -> Result<Sheets, String> {
        let exercises = exercises(arguments)?;
        let count = arguments.count as usize;
        if let Some(path) = &arguments.roster {
            let codes = roster::codes(path)?;
            let mut progress = Progress::new(codes.len() * count);
            let sheets = codes.into_iter().map(|code| {
                let own = exercises.for_code(&code);
                let set = own.set_with(count, |_| progress.step()).map_err(about)?;
                Ok(Sheet { name: code, set })
            });
            return Ok(Sheets::Roster(sheets.collect::<Result<_, String>>()?));
        }
        let versions = arguments.versions.unwrap_or(1);
        let mut progress = Progress::new(versions * count);
        let sets = exercises.versions_with(count, versions, |_| progress.step());
        let sets = sets.map_err(about)?;
        if arguments.versions.is_none() {
            return Sheets::one(sets);
        }
        let named = ('A'..='Z').zip(sets).map(|(letter, set)| Sheet {
            name: letter.into(),
            set,
        });
        Ok(Sheets::Versions(named.collect()))
    }

    fn one(sets: Vec<ExerciseSet>) -> Result<Sheets, String> {
        let set = sets.into_iter().next();
        set.map(Box::new)
            .map(Sheets::One)
            .ok_or_else(|| "there is no set".into())
    }

    /// Reads the sets that were saved as JSON.
    pub(crate) fn saved(path: &Path) -> Result<Sheets, String> {
        let text = read_text(path, LONGEST).map_err(|why| format!("--from: {why}"))?;
        let text = text.trim_start_matches('\u{FEFF}');
        let wrong = |error| format!("--from: {}: {error}", path.display());
        let members = serde_json::from_str(text);
        let members: BTreeMap<String, IgnoredAny> = members.map_err(|error| {
            let path = path.display();
            format!("--from: {path} is not a set that was saved with --format json: {error}")
        })?;
        if !["versions", "roster"]
            .iter()
            .any(|name| members.contains_key(*name))
        {
            return serde_json::from_str(text).map(Sheets::One).map_err(wrong);
        }
        match serde_json::from_str(text).map_err(wrong)? {
            Several {
                versions: Some(sheets),
                roster: None,
            } => Ok(Sheets::Versions(sheets)),
            Several {
                versions: None,
                roster: Some(sheets),
            } => Ok(Sheets::Roster(sheets)),
            _ => Err(format!(
                "--from: {}: it has both `versions` and `roster`; leave one of them out",
                path.display()
            )),
        }
    }

    /// Everything as JSON.
    pub(crate) fn json(self) -> Result<String, String> {
        let (versions, roster) = match self {
            Sheets::One(set) => return json(&set),
            Sheets::Versions(sheets) => (Some(sheets), None),
            Sheets::Roster(sheets) => (None, Some(sheets)),
        };
        json(&Several { versions, roster })
    }

    /// The sets, if they can be siblings.
    pub(crate) fn into_sets(self) -> Result<Vec<ExerciseSet>, String> {
        match self {
            Sheets::One(set) => Ok(vec![*set]),
            Sheets::Versions(sheets) => Ok(sheets.into_iter().map(|sheet| sheet.set).collect()),
            Sheets::Roster(_) => {
                Err("a package has versions, not a sheet for each code; give --versions".into())
            }
        }
    }

    /// The pages of the sets.
    pub(crate) fn into_paper(self) -> ProblemPaper {
        let named = |sheets: Vec<Sheet>| {
            let sheets = sheets.into_iter();
            sheets.map(|sheet| (sheet.name, sheet.set))
        };
        match self {
            Sheets::One(set) => ProblemPaper::new(*set),
            Sheets::Versions(sheets) => ProblemPaper::versions(named(sheets)),
            Sheets::Roster(sheets) => ProblemPaper::roster(named(sheets)),
        }
    }
}
