//! The key for a class's loss-on-heating experiment.
//!
//! Without arguments it marks an invented demonstration class; with a sheet, a teacher's own.

mod files;

use std::fmt;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Parser;
use effloresce::class::{MarkChanges, Marked, Marker, Policy, Sheet};
use effloresce::gravimetry::{ConstantMass, Method};
use effloresce::number::{DecimalMark, Unit};
use effloresce::{Formula, Reading, report};

use files::Output;

/// Invented; see the title line in it.
const DEMONSTRATION: &str = include_str!("../data/demonstration_class.csv");
const DEMONSTRATION_ISSUED: &str = "MgSO4·7H2O";

/// Make the key for a class that heated a hydrate: what each bench should have found from its own
/// readings, its marks with reasons, and the class as a whole.
///
/// The exit status is 1 where something of the sheet could not be read or worked out (all the rest
/// is marked and printed), and 2 where nothing could be done. Files are written whole or not at
/// all; one that is there already is replaced.
#[derive(Parser)]
#[command(name = "answer_key")]
struct Arguments {
    /// The class sheet, as CSV; without one, an invented demonstration class is marked
    sheet: Option<PathBuf>,
    /// The hydrate that was issued, such as 'MgSO4·7H2O' or 'MgSO4.7H2O'
    #[arg(long, value_name = "FORMULA", requires = "sheet")]
    issued: Option<String>,
    /// Read the sheet's own header as one of ours, such as `Einwaage=hydrate_g`; may be repeated
    #[arg(long, value_name = "THEIRS=OURS", requires = "sheet")]
    map: Vec<String>,
    /// The difference in grams within which two weighings count as the same
    /// [default: two divisions of the balance]
    #[arg(long, value_name = "GRAMS")]
    constant_mass: Option<String>,
    /// How marks are given, as TOML: marks, tolerances, figures, accuracy, what the jar holds
    #[arg(long, value_name = "FILE")]
    policy: Option<PathBuf>,
    /// Print only what each bench should do now, the greatest trouble first
    #[arg(long, conflicts_with_all = ["json", "markdown", "policy", "before", "marks", "feedback"])]
    during: bool,
    /// Print only whose marks change, by how much and why, from this policy to that of --policy
    /// (or to one mark an answer); the sheet's own problems are not told again
    #[arg(long, value_name = "FILE", conflicts_with_all = ["marks", "feedback"])]
    before: Option<PathBuf>,
    /// Print as JSON, for other programs
    #[arg(long, conflicts_with = "markdown")]
    json: bool,
    /// Print as Markdown
    #[arg(long)]
    markdown: bool,
    /// Write the marks as CSV for a gradebook, a line for each row; blanks where a row could not be
    /// marked. A text that a spreadsheet would take for a formula has an apostrophe before it
    #[arg(long, value_name = "FILE")]
    marks: Option<PathBuf>,
    /// Write a strip for each pupil, to be cut apart: what is right, what to look at, each answer's
    /// verdict and marks; not what a wrong or missing answer should have been
    #[arg(long, value_name = "FILE")]
    feedback: Option<PathBuf>,
}

fn main() -> ExitCode {
    let arguments = Arguments::try_parse().map_err(|error| {
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

/// What is wrong with the command line: what stands before the usage.
fn one_sentence(error: &clap::Error) -> String {
    let text = error.to_string();
    let lines = text.lines().map(str::trim);
    let said =
        lines.take_while(|line| !line.starts_with("Usage:") && !line.starts_with("For more"));
    let mut sentence = String::new();
    for line in said.filter(|line| !line.is_empty()) {
        match sentence.chars().last() {
            None => {}
            Some(':') => sentence.push(' '),
            Some(_) => sentence.push_str("; "),
        }
        sentence.push_str(line.strip_prefix("error: ").unwrap_or(line));
    }
    sentence.push_str(" (--help tells what there is)");
    sentence
}

/// Marks, writes and prints. The exit status is 1 where something of the teacher's own sheet could
/// not be read or worked out; all the rest is marked.
fn run(arguments: &Arguments) -> Result<ExitCode, String> {
    arguments.keep_apart()?;
    let sheet = sheet(arguments)?;
    if sheet.rows().is_empty() {
        return Err("the sheet has a header and no rows under it".into());
    }
    let marker = Marker::new(issued(arguments, &sheet)?, method(arguments)?);
    let policy = arguments.policy.as_deref().map(policy).transpose()?;
    let by = |policy: Policy| marker.clone().policy(policy).mark(&sheet);
    let marked = by(policy.unwrap_or_default());
    if let Some(before) = &arguments.before {
        let before = by(self::policy(before)?);
        print(&changes(&before, &marked, arguments)?)?;
        return Ok(ExitCode::SUCCESS);
    }
    let text = text(&marked, arguments)?;
    files::write_all(&outputs(&marked, arguments)?)?;
    print(&text)?;
    if arguments.sheet.is_none() {
        return Ok(ExitCode::SUCCESS);
    }
    let mut status = ExitCode::SUCCESS;
    for problem in marked.problems() {
        // While the class is heating, a weighing that is still to come is not missing.
        if !(arguments.during && problem.is_still_to_come()) {
            complain(problem);
            status = ExitCode::from(1);
        }
    }
    Ok(status)
}

impl Arguments {
    /// No file that is written may be one that is read, or another that is written.
    fn keep_apart(&self) -> Result<(), String> {
        fn named<'a>(name: &'a str, path: &'a Option<PathBuf>) -> Option<(&'a str, &'a Path)> {
            path.as_deref().map(|path| (name, path))
        }
        let outputs = [
            named("--marks", &self.marks),
            named("--feedback", &self.feedback),
        ];
        let inputs = [
            named("the sheet", &self.sheet),
            named("--policy", &self.policy),
        ];
        let given = |paths: [Option<_>; 2]| paths.into_iter().flatten().collect::<Vec<_>>();
        files::keep_apart(&given(outputs), &given(inputs))
    }
}

fn sheet(arguments: &Arguments) -> Result<Sheet, String> {
    let Some(path) = &arguments.sheet else {
        return Sheet::read(DEMONSTRATION.as_bytes()).map_err(|error| explain(&error.into()));
    };
    let mut reader = Sheet::reader();
    for pair in &arguments.map {
        // A header of theirs may hold the sign; no column of ours does.
        let (theirs, ours) = pair
            .rsplit_once('=')
            .map(|(theirs, ours)| (theirs.trim(), ours.trim()))
            .filter(|(theirs, ours)| !theirs.is_empty() && !ours.is_empty())
            .ok_or_else(|| {
                format!("--map: `{pair}` is no pair; give 'their header=our_column', such as 'Einwaage=hydrate_g'")
            })?;
        reader = reader.map_column(theirs, ours);
    }
    let read = reader.read(files::open(path)?);
    read.map_err(|error| format!("{}: {}", path.display(), explain(&error.into())))
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

fn method(arguments: &Arguments) -> Result<Method, String> {
    let Some(grams) = &arguments.constant_mass else {
        return Ok(Method::new());
    };
    let grams = Reading::read_in(Unit::Gram, grams, DecimalMark::CommaOrPoint)
        .map_err(|error| format!("--constant-mass: {}", explain(&error.into())))?;
    if grams.value().is_negative() {
        return Err("--constant-mass: give a mass that is not negative, such as 0.002".into());
    }
    Ok(Method::new().constant_mass(ConstantMass::Absolute(grams)))
}

fn policy(path: &Path) -> Result<Policy, String> {
    Policy::from_toml(&files::text(path)?)
        .map_err(|error| format!("{}: {}", path.display(), explain(&error.into())))
}

fn outputs(marked: &Marked, arguments: &Arguments) -> Result<Vec<Output>, String> {
    let mut outputs = Vec::new();
    if let Some(path) = &arguments.marks {
        let mut bytes = Vec::new();
        report::write_marks(marked, &mut bytes)
            .map_err(|error| format!("--marks: the marks could not be written: {error}"))?;
        outputs.push(Output::new("--marks", path, bytes));
    }
    if let Some(path) = &arguments.feedback {
        let strips = written(|out| report::write_feedback(marked, out))?;
        outputs.push(Output::new("--feedback", path, strips.into_bytes()));
    }
    Ok(outputs)
}

fn text(marked: &Marked, arguments: &Arguments) -> Result<String, String> {
    if arguments.json {
        return json(marked);
    }
    let text = written(|out| {
        if arguments.during {
            report::write_during(marked, out)
        } else if arguments.markdown {
            report::write_key_markdown(marked, out)
        } else {
            report::write_key(marked, out)
        }
    })?;
    Ok(match arguments.sheet {
        Some(_) => text,
        None => format!("An invented class at an invented college, for demonstration.\n\n{text}"),
    })
}

fn changes(before: &Marked, after: &Marked, arguments: &Arguments) -> Result<String, String> {
    if arguments.json {
        return json(&MarkChanges::between(before, after));
    }
    written(|out| {
        if arguments.markdown {
            report::write_changes_markdown(before, after, out)
        } else {
            report::write_changes(before, after, out)
        }
    })
}

fn written(write: impl FnOnce(&mut String) -> fmt::Result) -> Result<String, String> {
    let mut text = String::new();
    write(&mut text).map_err(|_| "the text could not be put together".to_string())?;
    Ok(text)
}

fn json(value: &impl serde::Serialize) -> Result<String, String> {
    let mut text = serde_json::to_string_pretty(value).map_err(|error| error.to_string())?;
    text.push('\n');
    Ok(text)
}

/// The error with what to do about it.
fn explain(error: &effloresce::Error) -> String {
    match error.help() {
        Some(help) => format!("{error}; {help}"),
        None => error.to_string(),
    }
}

/// Says what is wrong. Where nobody reads it any more, the exit status still tells.
fn complain(what: impl fmt::Display) {
    let _ = writeln!(io::stderr(), "answer_key: {what}");
}

fn print(text: &str) -> Result<(), String> {
    match io::stdout().lock().write_all(text.as_bytes()) {
        // Whoever reads may stop reading.
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(format!("the text could not be printed: {error}"))
        }
        _ => Ok(()),
    }
}
