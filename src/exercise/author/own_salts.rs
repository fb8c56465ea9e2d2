//! The salts of a course, read from CSV.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io::Read;

use crate::class::{NamedTable, Row};
use crate::exercise::error::{Error, ErrorKind, wrong};
use crate::exercise::hydrate::PoolHydrate;
use crate::formula::Formula;
use crate::gravimetry::{HeatingSafety, Severity};
use crate::text::{Note, one_line, shorten};

/// The most salts that a list may have.
const MOST_SALTS: usize = 1000;

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
        let row = PoolHydrate::new(hydrate.clone(), name).ok_or_else(|| {
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
    /// and `repeated` for a salt that is in an earlier line.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }
}

/// A name as the course writes it. A systematic name must be that of the hydrate.
fn own_name(line: u64, name: &str, hydrate: &Formula) -> Result<String, Error> {
    match Formula::from_name(name) {
        Ok((named, _)) if named != *hydrate => {
            let message = format!(
                "line {line}, `name`: `{}` is the name of {named}, not of {hydrate}",
                shorten(name)
            );
            Err(bad(message, "correct the name or the formula"))
        }
        _ => Ok(shorten(&one_line(name))),
    }
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
