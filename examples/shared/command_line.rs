//! What programs have in common: their arguments, the texts that they read, and what they print.

use std::fmt;
use std::io::{self, Write};
use std::process::ExitCode;

use clap::Parser;
use effloresce::number::{DecimalMark, Unit};
use effloresce::{Reading, formula, visible};

use crate::input::reason;
use crate::json_text::visible_json;

/// Runs a program with its arguments. If nothing could be done, one sentence says why, and the exit status
/// is 2.
pub(crate) fn run_program<A: Parser>(run: impl FnOnce(&A) -> Result<ExitCode, String>) -> ExitCode {
    let arguments = A::try_parse().map_err(|error| {
        if !error.use_stderr() {
            // Help was asked for.
            error.exit();
        }
        one_sentence(&error)
    });
    match arguments.and_then(|arguments| run(&arguments)) {
        Ok(code) => code,
        Err(sentence) => {
            complain(&sentence);
            ExitCode::from(2)
        }
    }
}

/// The error in the command line as one sentence, without the usage that follows it.
fn one_sentence(error: &clap::Error) -> String {
    let text = error.to_string();
    let lines = text.lines().map(str::trim);
    let message =
        lines.take_while(|line| !line.starts_with("Usage:") && !line.starts_with("For more"));
    let mut sentence = String::new();
    for line in message.filter(|line| !line.is_empty()) {
        match sentence.chars().last() {
            None => {}
            Some(':') => sentence.push(' '),
            Some(_) => sentence.push_str("; "),
        }
        sentence.push_str(line.strip_prefix("error: ").unwrap_or(line));
    }
    sentence.push_str(" (--help lists the options)");
    sentence
}

pub(crate) fn text_of(write: impl FnOnce(&mut String) -> fmt::Result) -> Result<String, String> {
    let mut text = String::new();
    write(&mut text).map_err(|_| "the text could not be written".to_string())?;
    Ok(text)
}

pub(crate) fn json(value: &impl serde::Serialize) -> Result<String, String> {
    let text = serde_json::to_string_pretty(value).map_err(|error| error.to_string())?;
    Ok(format!("{}\n", visible_json(&text)))
}

/// The number of an option.
pub(crate) fn reading(option: &str, unit: Unit, text: &str) -> Result<Reading, String> {
    Reading::read_in(unit, text, DecimalMark::CommaOrPoint)
        .map_err(|error| format!("{option}: {}", explain(&error.into())))
}

/// The error with its help.
pub(crate) fn explain(error: &effloresce::Error) -> String {
    match error.help() {
        Some(help) => format!("{error}; {help}"),
        None => error.to_string(),
    }
}

/// The error in a formula or a name, with its help.
pub(crate) fn explain_formula(error: formula::Error) -> String {
    let or_formula = match error.kind() {
        formula::ErrorKind::BadName => ", or write the formula, such as 'MgSO4·7H2O'",
        _ => "",
    };
    format!("{}{or_formula}", explain(&error.into()))
}

/// Prints what is wrong. If nobody reads it any more, the exit status still shows it.
pub(crate) fn complain(what: impl fmt::Display) {
    let what = what.to_string();
    let program = env!("CARGO_CRATE_NAME");
    let _ = writeln!(io::stderr(), "{program}: {}", visible(&what));
}

pub(crate) fn print(text: &str) -> Result<(), String> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        // The reader has stopped reading.
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(format!("the text could not be printed: {}", reason(&error)))
        }
        _ => Ok(()),
    }
}
