//! The plan for a class that heats a hydrate, and the paper for the lesson.
//!
//! Without arguments it plans an invented class.

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
#[path = "../shared/whole.rs"]
mod whole;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Parser;
use effloresce::class::{Marker, Row, Sheet};
use effloresce::gravimetry::{ErrorKind, Method, Plan};
use effloresce::number::Unit;
use effloresce::report::{BalanceTime, LessonPaper};
use effloresce::{Formula, Note};
use serde::Serialize;

use command_line::{explain, explain_formula, json, print, reading, run_program, text_of};
use files::{Given, Output};
use method::method;
use whole::whole;

/// The invented class: its hydrate, its benches and its balances.
const DEMONSTRATION: (&str, u32, u32) = ("MgSO4·7H2O", 12, 3);

/// The files of a paper that a plan alone does not have.
const PAPER: [&str; 5] = [
    "pupils.md",
    "pupils.html",
    "key.md",
    "key.html",
    "class_sheet.csv",
];

/// Plan a class that heats a hydrate: how much each bench weighs out, what should be left, how much hydrate
/// you need, and how long the balances are busy. The cautions come first.
///
/// Without arguments, an invented class is planned. The exit status is 2 if nothing could be done. The files of
/// --paper are written completely before any of them has its name.
#[derive(Parser)]
#[command(name = "plan_lab", version)]
struct Arguments {
    /// The hydrate, as a formula or a name: 'MgSO4·7H2O', 'MgSO4.7H2O' or 'magnesium sulfate heptahydrate'
    #[arg(long, value_name = "HYDRATE", conflicts_with = "salt")]
    issued: Option<String>,
    /// The anhydrous salt, if its commonest hydrate is to be planned, such as 'magnesium sulfate'
    #[arg(long, value_name = "FORMULA")]
    salt: Option<String>,
    /// What complete heating leaves, if not the anhydrous salt: a lower hydrate such as 'CuSO4.H2O'
    #[arg(long, value_name = "FORMULA")]
    residue: Option<String>,
    /// The smallest step that the balance shows, in grams [default: 0.01]
    #[arg(long, value_name = "GRAMS", allow_hyphen_values = true)]
    readability: Option<String>,
    /// The number of benches
    #[arg(long, value_name = "NUMBER", value_parser = whole(1_u32..=10_000))]
    benches: Option<u32>,
    /// How much more hydrate than the benches need is made ready, in per cent [default: 20]
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    spare: Option<String>,
    /// The number of balances [default: 2]
    #[arg(long, value_name = "NUMBER", value_parser = whole(1_u32..=1000))]
    balances: Option<u32>,
    /// How often each sample is heated and weighed
    #[arg(long, value_name = "NUMBER", default_value_t = 2, value_parser = whole(1_u32..=9))]
    heatings: u32,
    /// How many minutes one weighing takes, with the way to the balance (common practice, no source)
    #[arg(long, value_name = "MINUTES", default_value_t = 2, value_parser = whole(1_u32..=60))]
    minutes: u32,
    /// The largest difference in grams between two weighings at constant mass
    /// [default: two of the smallest steps of the balance]. More than 0.5 g needs its unit
    #[arg(long, value_name = "GRAMS", allow_hyphen_values = true)]
    constant_mass: Option<String>,
    /// The standard deviation of the mass of water that the balance does not explain, in per cent of the
    /// water [default: 0]
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    repeatability: Option<String>,
    /// Take that standard deviation from the scatter of an earlier class: a sheet of at least five benches,
    /// as `answer_key` reads it. It is at least 0.3 %
    #[arg(long, value_name = "FILE", conflicts_with = "repeatability")]
    earlier: Option<PathBuf>,
    /// The coverage factor: how many standard uncertainties count as possible. More needs more hydrate [default: 2]
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    coverage: Option<String>,
    /// Write the paper for the lesson into this folder, which is made if it does not exist: the plan, cards and
    /// questions for pupils, the answers, and an empty class sheet. Pages are Markdown and HTML to print. There
    /// is only the plan if the salt does not suit or is not known, or if a crucible does not hold the samples
    #[arg(long, value_name = "FOLDER")]
    paper: Option<PathBuf>,
    /// Let --paper replace files that exist already
    #[arg(long, requires = "paper")]
    replace: bool,
    /// Print JSON, for other programs: what `jsonl` replies to `plan`, and the time at the balances
    #[arg(long)]
    json: bool,
}

/// What `--json` prints.
#[derive(Serialize)]
struct Answer<'a> {
    #[serde(flatten)]
    plan: &'a Plan,
    time_at_the_balances: Option<BalanceTime>,
}

fn main() -> ExitCode {
    run_program(run)
}

fn run(arguments: &Arguments) -> Result<ExitCode, String> {
    let invented = arguments.describe_no_class();
    let plan = match invented {
        true => demonstration()?,
        false => plan(arguments)?,
    };
    let mut paper = LessonPaper::new(plan)
        .heatings(arguments.heatings)
        .minutes_per_weighing(arguments.minutes);
    if let Some(balances) = arguments.balances.or(invented.then_some(DEMONSTRATION.2)) {
        paper = paper.balances(balances);
    }
    if invented {
        paper = paper.invented();
    }
    let text = match arguments.json {
        true => json(&Answer {
            plan: paper.plan(),
            time_at_the_balances: paper.time_at_the_balances(),
        })?,
        false => text_of(|out| paper.write_plan(out))?,
    };
    let outputs = match &arguments.paper {
        Some(folder) => outputs(&paper, folder, arguments)?,
        None => Vec::new(),
    };
    // Nothing has its name before everything is written, the standard output included.
    let staged = files::stage(&outputs)?;
    print(&text)?;
    files::replace(staged)?;
    Ok(ExitCode::SUCCESS)
}

impl Arguments {
    /// Whether no option says anything of a class of one's own.
    fn describe_no_class(&self) -> bool {
        let texts = [
            &self.issued,
            &self.salt,
            &self.residue,
            &self.readability,
            &self.spare,
            &self.constant_mass,
            &self.repeatability,
            &self.coverage,
        ];
        let numbers = [self.benches, self.balances];
        let any_text = texts.into_iter().any(Option::is_some);
        !any_text && !numbers.iter().any(Option::is_some) && self.earlier.is_none()
    }
}

fn demonstration() -> Result<Plan, String> {
    let (issued, benches, _) = DEMONSTRATION;
    let plan = || {
        let plan = Method::new().plan(&issued.parse()?, "0.01".parse()?)?;
        Ok(plan.benches(benches)?)
    };
    plan().map_err(|error: effloresce::Error| explain(&error))
}

/// The plan that the options ask for.
fn plan(arguments: &Arguments) -> Result<Plan, String> {
    let (option, text) = match (&arguments.issued, &arguments.salt) {
        (Some(text), _) => ("--issued", text),
        (None, Some(text)) => ("--salt", text),
        (None, None) => {
            return Err("the hydrate is missing; give it, such as --issued 'MgSO4·7H2O'".into());
        }
    };
    let (formula, _) =
        Row::read_issued(text).map_err(|error| format!("{option}: {}", explain_formula(error)))?;
    let readability = arguments.readability.as_deref().unwrap_or("0.01");
    let readability = reading("--readability", Unit::Gram, readability)?;
    Method::new()
        .readability(readability)
        .map_err(|error| at("--readability")(error.into()))?;
    let (method, note) = rules(arguments, &formula)?;
    let plan = match option {
        "--issued" => method.plan(&formula, readability),
        _ => method.plan_salt(&formula, readability),
    };
    let plan = plan.map_err(|error| match error.kind() {
        ErrorKind::NotAResidue => at("--residue")(error.into()),
        _ => at(option)(error.into()),
    })?;
    let plan = match arguments.benches {
        Some(benches) => plan
            .benches(benches)
            .map_err(|e| at("--benches")(e.into()))?,
        None => plan,
    };
    let Some(spare) = &arguments.spare else {
        return Ok(plan.with_notes(note));
    };
    let spare = reading("--spare", Unit::Percent, spare)?;
    let plan = plan.spare(spare.value());
    let plan = plan.map_err(|error| at("--spare")(error.into()))?;
    Ok(plan.with_notes(note))
}

/// The rules of the options, and the note on an earlier class.
fn rules(arguments: &Arguments, issued: &Formula) -> Result<(Method, Option<Note>), String> {
    let mut method = method(&arguments.constant_mass, &arguments.repeatability)?;
    let mut note = None;
    if let Some(path) = &arguments.earlier {
        let (repeatability, from) = earlier(path, issued)?;
        method = method
            .repeatability(repeatability)
            .map_err(|error| at("--earlier")(error.into()))?;
        note = Some(from);
    }
    if let Some(coverage) = &arguments.coverage {
        let factor = reading("--coverage", Unit::One, coverage)?;
        let with = method.coverage(factor.value().to_f64());
        method = with.map_err(|error| at("--coverage")(error.into()))?;
    }
    if let Some(residue) = &arguments.residue {
        let at = at("--residue");
        let (residue, _) = Row::read_issued(residue).map_err(|error| at(error.into()))?;
        method = method.residue(&residue).map_err(|error| at(error.into()))?;
    }
    Ok((method, note))
}

/// Says which option an error is about.
fn at(option: &str) -> impl Fn(effloresce::Error) -> String {
    move |error| format!("{option}: {}", explain(&error))
}

/// The repeatability that an earlier class shows, and the note on it. What was issued to it is in its sheet;
/// otherwise it is what is issued now.
fn earlier(path: &Path, issued: &Formula) -> Result<(f64, Note), String> {
    let place = path.display();
    let failure = |error: effloresce::Error| format!("--earlier: {place}: {}", explain(&error));
    let sheet = Sheet::read(input::open(path)?).map_err(|error| failure(error.into()))?;
    let mut of_rows = sheet.rows().iter().filter_map(Row::issued_formula);
    let issued = of_rows
        .find_map(Result::ok)
        .unwrap_or_else(|| issued.clone());
    // What the balances do not explain, if nothing else is assumed to scatter.
    let bare = Method::new().repeatability(0.0);
    let bare = bare.map_err(|error| failure(error.into()))?;
    let scatter = |method: Method| {
        let marked = Marker::new(issued.clone(), method).mark(&sheet);
        marked.excess_scatter().cloned()
    };
    let both = scatter(bare).zip(scatter(Method::new()));
    let (own, usual) = both.ok_or_else(|| {
        format!("--earlier: {place} has fewer than five benches with readings; give a larger class")
    })?;
    let repeatability = usual.repeatability_shown().unwrap_or_default();
    let own = own.repeatability_shown().unwrap_or_default();
    let (n, percent) = (usual.n(), 100.0 * repeatability);
    let own = match 100.0 * own {
        own if own < 0.01 => "less than 0.01".into(),
        own => format!("{own:.2}"),
    };
    let text = match usual.repeatability() == Some(repeatability) {
        true => format!(
            "The scatter of {n} benches of an earlier class, without that of the balance, is {own} % of the water. The \
             plan takes {percent:.2} %, the usual repeatability (common practice, no source), because a small class may agree by \
             chance."
        ),
        false => format!(
            "The scatter of {n} benches of an earlier class gives a repeatability of {percent:.2} % of the water."
        ),
    };
    Ok((repeatability, Note::new("earlier_class", text)))
}

/// The files of the paper. None exists yet, unless they may be replaced.
fn outputs(
    paper: &LessonPaper,
    folder: &Path,
    arguments: &Arguments,
) -> Result<Vec<Output>, String> {
    let failure = |why: &str| format!("--paper: {}: {why}", folder.display());
    if paper.plan().bench_count().is_none() {
        return Err(
            "--paper: the number of benches is missing; give it, such as --benches 12".into(),
        );
    }
    let files = paper.files().map_err(|error| format!("--paper: {error}"))?;
    let paths: Vec<PathBuf> = files.iter().map(|file| folder.join(file.name())).collect();
    let mut existing = paths.iter().filter(|path| path.symlink_metadata().is_ok());
    if let Some(path) = existing.next().filter(|_| !arguments.replace) {
        return Err(format!(
            "--paper: {} exists already; choose another folder, or add --replace",
            path.display()
        ));
    }
    // What an earlier paper left would pass for a page of this one.
    let left = PAPER
        .iter()
        .filter(|name| files.iter().all(|file| file.name() != **name));
    if let Some(left) = left
        .map(|name| folder.join(name))
        .find(|path| path.exists())
    {
        return Err(format!(
            "--paper: {} is of an earlier paper, and this plan has none of it; choose another folder",
            left.display()
        ));
    }
    let outputs: Vec<Given<'_>> = paths.iter().map(|path| ("--paper", &**path)).collect();
    let inputs = arguments.earlier.iter().map(|path| ("--earlier", &**path));
    files::refuse_same_file(&outputs, &inputs.collect::<Vec<Given<'_>>>())?;
    if folder.is_file() {
        return Err(failure("it is a file; give the name of a folder"));
    }
    if !folder.is_dir() {
        fs::create_dir(folder).map_err(|error| {
            failure(&format!(
                "the folder could not be made: {}",
                input::reason(&error)
            ))
        })?;
    }
    let files = files.iter().zip(&paths);
    let files = files.map(|(file, path)| Output::new("--paper", path, file.bytes().to_vec()));
    Ok(files.collect())
}
