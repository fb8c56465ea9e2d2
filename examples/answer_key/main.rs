//! The answer key for a class's loss-on-heating experiment.
//!
//! Without arguments it marks an invented demonstration class, otherwise the class of a sheet.

mod by_hand;
#[path = "../shared/command_line.rs"]
mod command_line;
#[path = "../shared/files.rs"]
mod files;
#[path = "../shared/input.rs"]
mod input;
#[path = "../shared/json.rs"]
mod json_text;
#[path = "../shared/method.rs"]
mod method;
#[path = "../shared/read.rs"]
mod read;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Parser;
use effloresce::class::{MarkChanges, Marked, Marker, Policy, Problem, Row, Sheet, SheetReader};
use effloresce::gravimetry::Method;
use effloresce::{Formula, Note, formula, report};

use by_hand::ByHand;
use command_line::{complain, explain, explain_formula, json, print, run_program, text_of};
use files::{Given, Output};
use method::method;
use read::{read_bytes, read_text};

/// An invented class, as its title line says.
const DEMONSTRATION: &str = include_str!("../data/demonstration_class.csv");
const DEMONSTRATION_ISSUED: &str = "MgSO4·7H2O";

/// The longest file of rules, in megabytes.
const LONGEST: u64 = 1;

/// The most problems on standard error. The key has them all.
const MOST_COMPLAINTS: usize = 100;

/// Make the answer key for a class that heated a hydrate: the answers expected from each bench's own
/// readings, the marks with their reasons, and statistics of the class.
///
/// The exit status is 1 if part of your sheet could not be read or worked out. All the rest is still
/// marked and printed. It is 2 if nothing could be done. For the invented class, and with --before, it
/// is 0 although the sheet has problems. A file that exists already is replaced. Files
/// are replaced only after everything is written, the key on standard output included. Until then each has
/// a hidden name, such as `.marks.csv.answer_key.part`. If a run is ended by force, that file stays; the next
/// run with the same name removes it.
#[derive(Parser)]
#[command(name = "answer_key", version)]
struct Arguments {
    /// The class sheet, as CSV. Without it, an invented class is marked. Its sheet is built in, and is
    /// in the package as `examples/data/demonstration_class.csv`
    sheet: Option<PathBuf>,
    /// The hydrate that was issued: a formula such as 'MgSO4·7H2O' or 'MgSO4.7H2O', or a name such as
    /// 'magnesium sulfate heptahydrate'
    #[arg(long, value_name = "HYDRATE", requires = "sheet")]
    issued: Option<String>,
    /// Read a header of your sheet as one of ours, such as `Einwaage=hydrate_g`; may be repeated
    #[arg(long, value_name = "YOURS=OURS", requires = "sheet")]
    map: Vec<String>,
    /// Read headers by this file: `YOURS=OURS` on each line. Blank lines and lines that begin with `#`
    /// are skipped
    #[arg(long, value_name = "FILE", requires = "sheet")]
    map_file: Option<PathBuf>,
    /// The largest difference in grams between two weighings at constant mass
    /// [default: two of the smallest steps of the balance]. More than 0.5 g needs its unit
    #[arg(long, value_name = "GRAMS", allow_hyphen_values = true)]
    constant_mass: Option<String>,
    /// The standard deviation of the mass of water that the balance does not explain, in per cent of the
    /// water [default: 0 for a bench, 0.3 for the scatter of the class]
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    repeatability: Option<String>,
    /// What complete heating leaves, if not the anhydrous salt: a lower hydrate such as 'CuSO4.H2O'
    #[arg(long, value_name = "FORMULA")]
    residue: Option<String>,
    /// The rules for marks, as TOML: marks, tolerances, significant figures, accuracy, the stock
    #[arg(long, value_name = "FILE")]
    policy: Option<PathBuf>,
    /// Print only what each bench should do now, the most urgent first
    #[arg(long, conflicts_with_all = ["json", "markdown", "before", "marks", "feedback", "html", "project"])]
    during: bool,
    /// Print only the changes of marks from this policy to that of --policy (or to one mark for each
    /// answer). Problems of the sheet are not repeated
    #[arg(long, value_name = "FILE", conflicts_with_all = ["marks", "feedback", "html", "project"])]
    before: Option<PathBuf>,
    /// Print JSON, for other programs
    #[arg(long, conflicts_with = "markdown")]
    json: bool,
    /// Print Markdown
    #[arg(long)]
    markdown: bool,
    /// Write the marks as CSV for a gradebook, with a line for each row and blanks for a row that
    /// could not be marked. Texts that a spreadsheet would run as a formula begin with an apostrophe
    #[arg(long, value_name = "FILE")]
    marks: Option<PathBuf>,
    /// Give the marks in this file to the answers that could not be marked. If the file does not exist
    /// and such answers are open, it is written to be filled in. An existing file is never changed. A cell
    /// whose answer has marks is no longer a problem
    #[arg(long, value_name = "FILE", conflicts_with = "during")]
    by_hand: Option<PathBuf>,
    /// Write a strip for each pupil, to be cut out: what is right, what to look at, and each answer
    /// with its verdict and marks. The right value of a wrong or missing answer is not shown. A name that ends
    /// in .html or .htm makes a page to print, any other a text
    #[arg(long, value_name = "FILE")]
    feedback: Option<PathBuf>,
    /// Write the report on your class as a page to read or to print: whom to see first, all results and
    /// answers, the class, and each bench. Its name ends in .html or .htm, and it needs no other file
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Write a page of HTML to project for the class: the result of each bench, and what the class shows. It
    /// has no pupils, no answers and no marks
    #[arg(long, value_name = "FILE")]
    project: Option<PathBuf>,
}

fn main() -> ExitCode {
    run_program(run)
}

/// Marks, writes and prints. The exit status is 1 if part of the teacher's own sheet could not be
/// read or worked out.
fn run(arguments: &Arguments) -> Result<ExitCode, String> {
    refuse_no_page(arguments)?;
    refuse_same_file(arguments)?;
    let sheet = sheet(arguments)?;
    let (issued, notes) = issued(arguments, &sheet)?;
    let method = with_residue(
        method(&arguments.constant_mass, &arguments.repeatability)?,
        arguments,
        &issued,
        &sheet,
    )?;
    let mut marker = Marker::new(issued, method);
    if arguments.issued.is_none() && arguments.sheet.is_some() {
        marker = marker.named_in_sheet();
    }
    let policy = arguments.policy.as_deref().map(policy).transpose()?;
    let by_hand = ByHand::read(arguments.by_hand.as_deref())?;
    let mark_by = |policy: Policy| marker.clone().policy(policy).mark(&sheet);
    let marked = by_hand
        .given_to(mark_by(policy.unwrap_or_default()))?
        .with_notes(notes);
    if let Some(before) = &arguments.before {
        let before = by_hand.fitted_to(mark_by(self::policy(before)?));
        print(&changes(&before, &marked, arguments)?)?;
        return Ok(ExitCode::SUCCESS);
    }
    let text = text(&marked, arguments)?;
    let mut outputs = outputs(&marked, arguments)?;
    outputs.extend(by_hand.to_fill_in(&marked)?);
    // Nothing is replaced before everything is written, the standard output included.
    let staged = files::stage(&outputs)?;
    print(&text)?;
    files::replace(staged)?;
    if arguments.sheet.is_none() {
        return Ok(ExitCode::SUCCESS);
    }
    by_hand.still_open(&marked).iter().for_each(complain);
    // While the class is heating, later weighings are not missing yet.
    let is_due = |problem: &&Problem| !(arguments.during && problem.is_still_to_come());
    let mut problems = marked.problems().iter().filter(is_due);
    problems.by_ref().take(MOST_COMPLAINTS).for_each(complain);
    match problems.count() {
        0 => {}
        more => complain(format!(
            "and {more} more problems, which are not listed here"
        )),
    }
    Ok(
        match marked.problems().iter().any(|problem| is_due(&problem)) {
            true => ExitCode::from(1),
            false => ExitCode::SUCCESS,
        },
    )
}

fn refuse_same_file(arguments: &Arguments) -> Result<(), String> {
    fn given<'a, const N: usize>(files: [(&'a str, &'a Option<PathBuf>); N]) -> Vec<Given<'a>> {
        let files = files.into_iter();
        files
            .filter_map(|(name, path)| Some((name, path.as_deref()?)))
            .collect()
    }
    let outputs = given([
        ("--marks", &arguments.marks),
        ("--feedback", &arguments.feedback),
        ("--html", &arguments.html),
        ("--project", &arguments.project),
        ("--by-hand", &arguments.by_hand),
    ]);
    let inputs = given([
        ("the sheet", &arguments.sheet),
        ("--policy", &arguments.policy),
        ("--before", &arguments.before),
        ("--map-file", &arguments.map_file),
    ]);
    files::refuse_same_file(&outputs, &inputs)
}

fn sheet(arguments: &Arguments) -> Result<Sheet, String> {
    let Some(path) = &arguments.sheet else {
        let read = Sheet::read(DEMONSTRATION.as_bytes());
        return read
            .map(Sheet::invented)
            .map_err(|error| explain(&error.into()));
    };
    let mut reader = Sheet::reader();
    if let Some(path) = &arguments.map_file {
        // An old spreadsheet writes Windows-1252, whose letters are those of Latin-1.
        let text = String::from_utf8(read_bytes(path, LONGEST)?)
            .unwrap_or_else(|error| error.as_bytes().iter().copied().map(char::from).collect());
        let text = text.trim_start_matches('\u{FEFF}');
        for (number, line) in (1..).zip(text.lines().map(str::trim)) {
            if !line.is_empty() && !line.starts_with('#') {
                let place = || format!("{}, line {number}", path.display());
                reader = mapped(reader, line, place)?;
            }
        }
    }
    for pair in &arguments.map {
        reader = mapped(reader, pair, || "--map".into())?;
    }
    let read = reader.read(input::open(path)?);
    let sheet = read.map_err(|error| format!("{}: {}", path.display(), explain(&error.into())))?;
    if sheet.rows().is_empty() {
        let path = path.display();
        return Err(format!(
            "{path}: there are no rows below the header; add one for each group"
        ));
    }
    Ok(sheet)
}

/// A reader that reads one more header by a pair.
fn mapped(
    reader: SheetReader,
    pair: &str,
    place: impl Fn() -> String,
) -> Result<SheetReader, String> {
    // The teacher's header may contain the sign, our column does not.
    let names = pair
        .rsplit_once('=')
        .map(|(theirs, ours)| (theirs.trim(), ours.trim()))
        .filter(|(theirs, ours)| !theirs.is_empty() && !ours.is_empty());
    let (theirs, ours) = names.ok_or_else(|| {
        let what = "has no `=` with a name on both sides";
        let how = "give 'your header=our_column', such as 'Einwaage=hydrate_g'";
        format!("{}: `{pair}` {what}; {how}", place())
    })?;
    Ok(reader.map_column(theirs, ours))
}

/// The hydrate that was issued, by the option or by a column of the sheet.
fn issued(arguments: &Arguments, sheet: &Sheet) -> Result<(Formula, Vec<Note>), String> {
    let in_sheet = || sheet.rows().iter().filter_map(Row::issued_formula);
    let (origin, read) = match (&arguments.issued, &arguments.sheet) {
        (Some(text), _) => ("--issued", Row::read_issued(text)),
        (None, None) => ("--issued", Row::read_issued(DEMONSTRATION_ISSUED)),
        (None, Some(_)) => {
            let readable = in_sheet().find(Result::is_ok);
            let first = readable.or_else(|| in_sheet().next()).ok_or(
                "the hydrate that was issued is missing; give it, such as --issued 'MgSO4·7H2O'",
            )?;
            // The sheet has the notes on its own cells.
            ("column issued", first.map(|issued| (issued, Vec::new())))
        }
    };
    let failure = |error: formula::Error| format!("{origin}: {}", explain_formula(error));
    let (issued, mut notes) = read.map_err(failure)?;
    notes.retain(|note| note.code() == "assumed_charge");
    if issued.waters().is_none() {
        return Err(format!(
            "{origin}: {issued} is not a hydrate with a known number of waters; give one, such as MgSO4·7H2O"
        ));
    }
    // Without a molar mass every bench would have the same problem.
    let mass = issued.molar_mass(Method::new().atomic_weights());
    mass.map(|_| (issued, notes)).map_err(|error| {
        format!("{origin}: {error}; without a molar mass no bench can be worked out")
    })
}

/// The method with the residue of the command line, which must be one of a salt that was issued.
fn with_residue(
    method: Method,
    arguments: &Arguments,
    issued: &Formula,
    sheet: &Sheet,
) -> Result<Method, String> {
    let Some(text) = &arguments.residue else {
        return Ok(method);
    };
    let failure = |error: effloresce::Error| format!("--residue: {}", explain(&error));
    let (residue, _) = Row::read_issued(text).map_err(|e| failure(e.into()))?;
    let method = method.residue(&residue).map_err(|e| failure(e.into()))?;
    let mut of_rows = sheet
        .rows()
        .iter()
        .filter_map(|row| row.issued_formula()?.ok());
    if of_rows.any(|issued| method.waters_left(&issued).is_ok()) {
        return Ok(method);
    }
    let left = method.waters_left(issued);
    left.map(|_| method).map_err(|e| failure(e.into()))
}

fn policy(path: &Path) -> Result<Policy, String> {
    Policy::from_toml(&read_text(path, LONGEST)?)
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
        let strips = text_of(|out| match is_page(path) {
            true => report::write_feedback_html(marked, out),
            false => report::write_feedback(marked, out),
        })?;
        outputs.push(Output::new("--feedback", path, strips.into_bytes()));
    }
    if let Some(path) = &arguments.html {
        let page = text_of(|out| report::write_report_html(marked, out))?;
        outputs.push(Output::new("--html", path, page.into_bytes()));
    }
    if let Some(path) = &arguments.project {
        let page = text_of(|out| report::write_wall_page(marked, out))?;
        outputs.push(Output::new("--project", path, page.into_bytes()));
    }
    Ok(outputs)
}

/// Whether a browser shows a file with this name as a page.
fn is_page(path: &Path) -> bool {
    let mut endings = ["html", "htm"].into_iter();
    let ending = path.extension().unwrap_or_default();
    endings.any(|page| ending.eq_ignore_ascii_case(page))
}

/// Refuses a page whose name a browser would not show as one, such as that of the sheet.
fn refuse_no_page(arguments: &Arguments) -> Result<(), String> {
    match arguments.html.as_deref() {
        Some(path) if !is_page(path) => Err(format!(
            "--html: the name {} does not end in .html or .htm; give one that does, such as report.html",
            path.display()
        )),
        _ => Ok(()),
    }
}

fn text(marked: &Marked, arguments: &Arguments) -> Result<String, String> {
    if arguments.json {
        return json(marked);
    }
    text_of(|out| {
        if arguments.during {
            report::write_during(marked, out)
        } else if arguments.markdown {
            report::write_key_markdown(marked, out)
        } else {
            report::write_key(marked, out)
        }
    })
}

fn changes(before: &Marked, after: &Marked, arguments: &Arguments) -> Result<String, String> {
    if arguments.json {
        return json(&MarkChanges::between(before, after));
    }
    text_of(|out| {
        if arguments.markdown {
            report::write_changes_markdown(before, after, out)
        } else {
            report::write_changes(before, after, out)
        }
    })
}
