//! The key for a class's loss-on-heating experiment.
//!
//! Without arguments it marks an invented demonstration class; with a sheet, a teacher's own.

use std::fs::File;
use std::io::{self, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;
use effloresce::class::{Marked, Marker, Sheet};
use effloresce::gravimetry::{ConstantMass, Method};
use effloresce::number::{DecimalMark, Unit};
use effloresce::{Formula, Reading, report};

/// Invented; see the title line in it.
const DEMONSTRATION: &str = include_str!("data/demonstration_class.csv");
const DEMONSTRATION_ISSUED: &str = "MgSO4·7H2O";

/// Make the key for a class that heated a hydrate: what each bench should have found from its own
/// readings, its marks with reasons, and the class as a whole.
#[derive(Parser)]
#[command(name = "answer_key")]
struct Arguments {
    /// The class sheet, as CSV; without one, an invented demonstration class is marked
    sheet: Option<PathBuf>,
    /// The hydrate that was issued, such as 'MgSO4·7H2O' or 'MgSO4.7H2O'
    #[arg(long, value_name = "FORMULA", requires = "sheet")]
    issued: Option<String>,
    /// Print only what each bench should do now, the greatest trouble first
    #[arg(long)]
    during: bool,
    /// Print the marked class as JSON
    #[arg(long, conflicts_with = "during")]
    json: bool,
    /// The difference in grams within which two weighings count as the same
    /// [default: two divisions of the balance]
    #[arg(long, value_name = "GRAMS")]
    constant_mass: Option<String>,
}

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(code) => code,
        Err(sentence) => {
            eprintln!("answer_key: {sentence}");
            ExitCode::from(2)
        }
    }
}

/// Marks and prints. The exit status is 1 where something of the teacher's own sheet could not be
/// read or worked out; all the rest is marked.
fn run(arguments: &Arguments) -> Result<ExitCode, String> {
    let sheet = sheet(arguments)?;
    if sheet.rows().is_empty() {
        return Err("the sheet has a header and no rows under it".into());
    }
    let issued = issued(arguments, &sheet)?;
    let mut method = Method::new();
    if let Some(grams) = &arguments.constant_mass {
        let grams = Reading::read_in(Unit::Gram, grams, DecimalMark::CommaOrPoint)
            .map_err(|error| format!("--constant-mass: {}", explain(&error.into())))?;
        if grams.value().is_negative() {
            return Err("--constant-mass: give a mass that is not negative, such as 0.002".into());
        }
        method = method.constant_mass(ConstantMass::Absolute(grams));
    }
    let marked = Marker::new(issued, method).mark(&sheet);
    print(&text(&marked, arguments)?)?;
    if arguments.sheet.is_none() {
        return Ok(ExitCode::SUCCESS);
    }
    let mut status = ExitCode::SUCCESS;
    for problem in marked.problems() {
        // While the class is heating, a weighing that is still to come is not missing.
        if !(arguments.during && problem.is_still_to_come()) {
            eprintln!("answer_key: {problem}");
            status = ExitCode::from(1);
        }
    }
    Ok(status)
}

fn sheet(arguments: &Arguments) -> Result<Sheet, String> {
    let Some(path) = &arguments.sheet else {
        return Sheet::read(DEMONSTRATION.as_bytes()).map_err(|error| explain(&error.into()));
    };
    let file = File::open(path).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => format!("there is no file {}", path.display()),
        _ => format!("{} could not be opened: {error}", path.display()),
    })?;
    Sheet::read(file).map_err(|error| format!("{}: {}", path.display(), explain(&error.into())))
}

/// What was issued: as asked for, or as the sheet's own column says.
fn issued(arguments: &Arguments, sheet: &Sheet) -> Result<Formula, String> {
    let text = match (&arguments.issued, &arguments.sheet) {
        (Some(text), _) => text,
        (None, None) => DEMONSTRATION_ISSUED,
        (None, Some(_)) => sheet
            .rows()
            .iter()
            .find_map(|row| row.issued())
            .ok_or("say what was issued, for example --issued 'MgSO4·7H2O'")?,
    };
    let formula: Formula = text.parse().map_err(|error: effloresce::formula::Error| {
        format!("--issued: {}", explain(&error.into()))
    })?;
    if formula.waters().is_none() {
        return Err(format!(
            "{formula} is no hydrate with a known number of waters; say what was issued, such as MgSO4·7H2O"
        ));
    }
    // A formula whose mass is unknown would fail at every bench with the same sentence.
    formula
        .molar_mass(Method::new().atomic_weights())
        .map_err(|error| explain(&error.into()))?;
    Ok(formula)
}

fn text(marked: &Marked, arguments: &Arguments) -> Result<String, String> {
    let mut text = String::new();
    if arguments.json {
        text = serde_json::to_string_pretty(marked).map_err(|error| error.to_string())?;
        text.push('\n');
        return Ok(text);
    }
    if arguments.sheet.is_none() {
        text.push_str("An invented class at an invented college, for demonstration.\n\n");
    }
    let written = if arguments.during {
        report::write_during(marked, &mut text)
    } else {
        report::write_key(marked, &mut text)
    };
    written.map_err(|_| "the key could not be written".to_string())?;
    Ok(text)
}

/// The error with what to do about it.
fn explain(error: &effloresce::Error) -> String {
    match error.help() {
        Some(help) => format!("{error}; {help}"),
        None => error.to_string(),
    }
}

fn print(text: &str) -> Result<(), String> {
    match io::stdout().lock().write_all(text.as_bytes()) {
        // Whoever reads may stop reading.
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(format!("the key could not be printed: {error}"))
        }
        _ => Ok(()),
    }
}
