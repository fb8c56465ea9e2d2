//! What was issued: a formula or the name of an ionic hydrate.

use alloc::collections::BTreeSet;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::cell_text::shown;
use super::limits::MOST_LINE_NOTES;
use crate::formula::{Error, ErrorKind, Formula};
use crate::gravimetry::known_hydrates;
use crate::text::{Note, Span, list};

const ASSUMED_CHARGE: &str = "assumed_charge";

/// Reads a formula or a name, as [`Row::read_issued`](super::Row::read_issued) describes it.
pub(super) fn read_issued(text: &str) -> Result<(Formula, Vec<Note>), Error> {
    let is_words = !text.contains(|c: char| c.is_ascii_digit());
    Formula::read(text).or_else(|of_formula| match Formula::from_name(text) {
        Ok(read) => Ok(read),
        Err(of_name) => without_charge(text, of_name).map_err(|of_name| {
            two_hydrates(text).unwrap_or(if is_words { of_name } else { of_formula })
        }),
    })
}

/// Reads a name that may leave out the charge of its metal, as the only known hydrate that it can mean.
/// Otherwise returns the error of the name, with the hydrates that it may mean.
fn without_charge(text: &str, error: Error) -> Result<(Formula, Vec<Note>), Error> {
    let meanings: Vec<_> = Formula::meanings_of_name(text).collect();
    let known = meanings
        .iter()
        .filter(|(hydrate, _)| is_known_hydrate(hydrate));
    let meant = match *known.collect::<Vec<_>>() {
        [] => meanings
            .iter()
            .flat_map(|(meaning, _)| hydrates(meaning))
            .collect(),
        [(hydrate, notes)] => {
            let mut notes = notes.clone();
            notes.push(assumed_charge(text, hydrate));
            return Ok((hydrate.clone(), notes));
        }
        ref several => several
            .iter()
            .map(|(hydrate, _)| hydrate.to_string())
            .collect(),
    };
    Err(match or_list(meant) {
        meant if meant.is_empty() => error,
        meant => {
            let span = error.span().unwrap_or(Span::new(0, text.len()));
            let help = format!("write which one you mean: {meant}");
            Error::say(ErrorKind::BadName, span, error.to_string(), help)
        }
    })
}

/// Returns whether the catalogue knows a hydrate.
pub(in crate::class) fn is_known_hydrate(formula: &Formula) -> bool {
    let unit = formula.one_formula_unit();
    unit.is_some_and(|(salt, degree)| known_hydrates(&salt).contains(&degree))
}

/// Returns the known hydrates of a salt. The name of a hydrate that is not known may mean another one.
fn hydrates(meaning: &Formula) -> Vec<String> {
    let salt = meaning.anhydrous().filter(|_| meaning.waters().is_none());
    let Some(salt) = salt else {
        return Vec::new();
    };
    let known = known_hydrates(&salt).iter();
    let known = known.filter_map(|degree| salt.with_waters(degree));
    known.map(|hydrate| hydrate.to_string()).collect()
}

fn or_list(names: Vec<String>) -> String {
    list(names).replace(" and ", " or ")
}

/// Returns the notes on names in a sheet that do not give the charge of their metal.
pub(super) fn assumed_charges<'r>(issued: impl Iterator<Item = &'r str>) -> Vec<Note> {
    let texts: BTreeSet<&str> = issued.collect();
    let read = texts.into_iter().take(MOST_LINE_NOTES).map(read_issued);
    let notes = read.filter_map(Result::ok).flat_map(|(_, notes)| notes);
    notes.filter(|note| note.code() == ASSUMED_CHARGE).collect()
}

fn assumed_charge(text: &str, hydrate: &Formula) -> Note {
    let words = format!(
        "`{}` does not give the charge of its metal. It was read as {hydrate}, the only known hydrate of that \
         name.",
        shown(text)
    );
    Note::new(ASSUMED_CHARGE, words).with("read_as", hydrate.to_string())
}

/// Returns the question which of two hydrates is meant, if the text names two.
fn two_hydrates(text: &str) -> Option<Error> {
    let read = |text: &str| {
        let read = Formula::read(text).or_else(|_| Formula::from_name(text));
        read.ok().map(|(formula, _)| formula)
    };
    [" or ", " and ", " / ", "/", ",", ";"]
        .iter()
        .find_map(|between| {
            let (one, other) = text.split_once(between)?;
            let (one, other) = (read(one)?, read(other)?);
            let message = format!("the text names {one} and {other}");
            let span = Span::new(0, text.len());
            let help = format!("write the one that was issued: {one} or {other}");
            Some(Error::say(
                ErrorKind::AmbiguousNotation,
                span,
                message,
                help,
            ))
        })
}
