//! The salts of a course, read from CSV.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io::Read;

use super::author_text::hidden;
use crate::class::{NamedTable, Row};
use crate::exercise::error::{Error, ErrorKind, wrong};
use crate::exercise::hydrate::PoolHydrate;
use crate::formula::Formula;
use crate::gravimetry::{HeatingSafety, Severity};
use crate::text::{Note, list, one_line, shorten};

/// The most salts that a list may have.
const MOST_SALTS: usize = 1000;
/// The most characters that a name may have.
const MOST_IN_A_NAME: usize = 80;

/// The hydrates of a course, which problems about hydrates are drawn from in place of the pool's.
///
/// The list is CSV with the column `hydrate`: a formula or a name. The column `name` may give a name of the
/// course's own. Separators, encodings and title lines are read as in a [`Sheet`](crate::class::Sheet). Other
/// columns do no harm.
///
/// The hazards still decide. A salt that a school may not heat is in no problem that heats it, and a
/// [note](Self::notes) says so.
///
/// ```
/// use effloresce::exercise::{Exercises, Kind, OwnSalts};
/// let salts = OwnSalts::read("hydrate;name\nMgSO4·7H2O;Epsom salt\nMg(ClO4)2·6H2O;\n".as_bytes())?;
/// assert_eq!(salts.hydrates().count(), 2);
/// assert!(salts.notes()[0].text().starts_with("Line 3: Mg(ClO4)2·6H2O must not be heated in a school."));
/// let set = Exercises::new(1).kinds([Kind::PercentWater]).own_salts(salts).set(3)?;
/// assert_eq!(set.problems().len(), 3);
/// # Ok::<(), effloresce::exercise::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct OwnSalts {
    pub(in crate::exercise) hydrates: Vec<PoolHydrate>,
    notes: Vec<Note>,
}

impl OwnSalts {
    /// Reads a list of hydrates.
    ///
    /// # Errors
    /// Returns an error if the source cannot be read, has no column `hydrate` or no row, or has more than 1000.
    /// Returns an error for a cell that is not a hydrate, and for a name that belongs to another substance. The
    /// message names the line and the column.
    ///
    /// ```
    /// use effloresce::exercise::OwnSalts;
    /// let error = OwnSalts::read("hydrate\nMgSO4·7H2O\nNaCl\n".as_bytes()).unwrap_err();
    /// assert_eq!(error.to_string(), "line 3, `hydrate`: NaCl is not a hydrate with a known number of waters");
    /// assert_eq!(error.help(), Some("write the formula with its waters, such as MgSO4·7H2O, or remove the line"));
    /// ```
    pub fn read(source: impl Read) -> Result<OwnSalts, Error> {
        let table = NamedTable::read(source, &["hydrate", "name"], 1)?.ok_or_else(|| {
            let message = "no line of the list of salts has the column `hydrate`".into();
            bad(message, "begin the list with the line `hydrate,name`")
        })?;
        let mut salts = OwnSalts {
            hydrates: Vec::with_capacity(table.rows.len().min(MOST_SALTS)),
            notes: Vec::new(),
        };
        for row in &table.rows {
            salts.add(row.line, row.cell(0), row.cell(1))?;
        }
        if salts.hydrates.is_empty() {
            let message = "the list of salts has no salt".into();
            return Err(bad(message, "write a hydrate in each line below `hydrate`"));
        }
        Ok(salts)
    }

    fn add(&mut self, line: u64, cell: Option<&str>, name: Option<&str>) -> Result<(), Error> {
        let Some(text) = cell else {
            let message = format!("line {line}, `hydrate`: the cell is blank");
            return Err(bad(message, "write a formula or a name"));
        };
        let (hydrate, _) = Row::read_issued(text).map_err(|error| {
            let message = format!("line {line}, `hydrate`: {error}");
            let help = error.help().unwrap_or("write a formula or a name");
            bad(message, help.to_string())
        })?;
        let name = name
            .map(|name| own_name(line, name, &hydrate))
            .transpose()?;
        let unknown = name.as_ref().filter(|(_, is_known)| !is_known);
        let unknown = unknown.map(|(name, _)| name.clone());
        let row = PoolHydrate::new(hydrate.clone(), name.map(|(name, _)| name)).ok_or_else(|| {
            let message = format!(
                "line {line}, `hydrate`: {hydrate} is not a hydrate with a known number of waters"
            );
            let help = "write the formula with its waters, such as MgSO4·7H2O, or remove the line";
            bad(message, help)
        })?;
        if self.hydrates.iter().any(|known| known.hydrate == hydrate) {
            let text =
                format!("Line {line}: {hydrate} is in an earlier line. This line is not used.");
            self.note("repeated", text, line, &hydrate);
            return Ok(());
        }
        if self.hydrates.len() == MOST_SALTS {
            let message = format!("the list of salts has more than {MOST_SALTS} salts");
            return Err(bad(
                message,
                "remove the salts that the course does not use",
            ));
        }
        if !row.heated {
            let text = format!(
                "Line {line}: {hydrate} {}. It is only in problems that do not heat it.",
                not_heated(&hydrate)
            );
            self.note("not_heated", text, line, &hydrate);
        }
        if let Some(name) = unknown {
            let text = format!(
                "Line {line}: `{name}` is not a name that can be read. It is printed as the name of {hydrate}. Check it."
            );
            self.note("unknown_name", text, line, &hydrate);
        }
        self.hydrates.push(row);
        Ok(())
    }

    fn note(&mut self, code: &'static str, text: String, line: u64, hydrate: &Formula) {
        let note = Note::new(code, text).with("line", line.to_string());
        self.notes.push(note.with("hydrate", hydrate.to_string()));
    }

    /// Returns the hydrates, in order.
    pub fn hydrates(&self) -> impl Iterator<Item = &Formula> {
        self.hydrates.iter().map(|row| &row.hydrate)
    }

    /// Returns what is to be said of single lines: `not_heated` for a salt that is in no problem that heats it,
    /// `repeated` for a salt that is in an earlier line, and `unknown_name` for a name that cannot be read, so that
    /// nobody knows whether it is that of the salt.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }
}

/// A name as the course writes it, and whether it can be read. One that can must be that of the hydrate.
fn own_name(line: u64, name: &str, hydrate: &Formula) -> Result<(String, bool), Error> {
    let own = one_line(name);
    let refused =
        |what: String, help: &'static str| Err(bad(format!("line {line}, `name`: {what}"), help));
    let length = own.chars().count();
    if length > MOST_IN_A_NAME {
        let what =
            format!("the name has {length} characters, and at most {MOST_IN_A_NAME} are printed");
        return refused(what, "shorten the name");
    }
    if let Some(shown) = hidden(&own) {
        let what = format!("`{shown}` has a character that nobody can see");
        return refused(what, "remove it, or leave the name out");
    }
    let read = Formula::read(&own).or_else(|_| Formula::from_name(&own));
    let meanings: Vec<Formula> = match read {
        Ok((formula, _)) => [formula].into(),
        Err(_) => Formula::meanings_of_name(&own)
            .map(|(formula, _)| formula)
            .collect(),
    };
    if meanings.is_empty() || meanings.contains(hydrate) {
        return Ok((own, !meanings.is_empty()));
    }
    let meanings = list(meanings.iter().map(Formula::to_string)).replace(" and ", " or ");
    let what = format!(
        "`{}` is the name of {meanings}, not of {hydrate}",
        shorten(&own)
    );
    refused(what, "correct the name or the formula")
}

/// Why a school does not heat a hydrate for loss on heating.
fn not_heated(hydrate: &Formula) -> &'static str {
    match HeatingSafety::of(hydrate).severity() {
        Severity::Forbidden => "must not be heated in a school",
        Severity::FumeCupboard => "may only be heated in a fume cupboard",
        Severity::Unknown => "is not in the catalogue, so the hazards of heating it are unknown",
        Severity::Ordinary | Severity::Care => "does not lose its water alone when it is heated",
    }
}

fn bad(message: String, help: impl Into<String>) -> Error {
    wrong(ErrorKind::BadFile, message, help)
}
