//! A problem set with its key: for a class, in versions, or for each code of a roster.
//!
//! Without arguments it prints ten mixed problems and their key.

mod choices;
#[path = "../shared/command_line.rs"]
mod command_line;
#[path = "../shared/files.rs"]
mod files;
#[path = "../shared/input.rs"]
mod input;
#[path = "../shared/json.rs"]
mod json_text;
mod own;
mod packaged;
mod paper;
mod progress;
#[path = "../shared/read.rs"]
mod read;
mod roster;
mod sheets;
#[path = "../shared/whole.rs"]
mod whole;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;

use command_line::{print, run_program};
use files::Output;
use paper::{Format, Paper};
use sheets::Sheets;
use whole::whole;

/// Make a problem set with its key. Each problem is solved before it is printed. The same options give the same
/// problems.
///
/// Without arguments, ten mixed problems and their key are printed. Templates and lists of salts to begin with are in
/// `examples/data` of the package. The exit status is 2 if nothing could be done.
/// A file that exists already is replaced. The files are written completely before any of them has its name.
#[derive(Parser)]
#[command(name = "problem_set", version)]
struct Arguments {
    #[arg(long, value_name = "KIND", help = choices::help_of_kinds())]
    kind: Vec<String>,
    /// The level: 1 one step, 2 several steps, 3 with something to judge [default: one that the kind has]
    #[arg(long, value_name = "NUMBER", value_parser = whole(1_u32..=3))]
    level: Option<u32>,
    /// Another seed gives other problems
    #[arg(
        long,
        value_name = "NUMBER",
        default_value_t = 1,
        value_parser = whole(0..=u64::MAX),
        allow_hyphen_values = true
    )]
    seed: u64,
    /// The number of problems
    #[arg(long, value_name = "NUMBER", default_value_t = 10, value_parser = whole(1_u32..=10_000))]
    count: u32,
    /// Draw only problems about this salt, a formula or a name; may be repeated. A hydrate stands for its salt
    #[arg(long, value_name = "SALT")]
    salt: Vec<String>,
    /// Draw no problem about this salt; may be repeated
    #[arg(long, value_name = "SALT")]
    avoid: Vec<String>,
    /// Draw hydrates from a list of your own: a CSV file with the columns `hydrate` and `name`, of which `name` may be
    /// missing. A salt that a school may not heat is in no problem that heats it
    #[arg(long, value_name = "FILE")]
    salts: Option<PathBuf>,
    /// Draw problems from a template of your own, in TOML; may be repeated. Without --kind, all problems are from
    /// templates
    #[arg(long, value_name = "FILE")]
    template: Vec<PathBuf>,
    /// Check a template, a list of salts whose name ends in `.csv`, or a package whose name ends in `.zip`, and print
    /// what is wrong with it. Then the exit status is 1
    #[arg(long, value_name = "FILE", exclusive = true)]
    check: Option<PathBuf>,
    /// The smallest step of the balance, in grams [default: 0.01, or what a kind needs]
    #[arg(long, value_name = "GRAMS", allow_hyphen_values = true)]
    readability: Option<String>,
    /// The decimal mark: point or comma
    #[arg(long, value_name = "MARK", default_value = "point")]
    decimal_mark: choices::Mark,
    /// The edition of the atomic weights: 2021 or 2024 [default: 2024]
    #[arg(long, value_name = "YEAR")]
    edition: Option<String>,
    /// Round the atomic weights to this number of decimals, as a data booklet does
    #[arg(long, value_name = "NUMBER", value_parser = whole(0_u8..=6))]
    decimals: Option<u8>,
    /// Use this atomic weight, such as Cl=35.5; may be repeated
    #[arg(long = "override", value_name = "SYMBOL=WEIGHT")]
    overrides: Vec<String>,
    /// Make versions that are alike place by place and share no answer: a number such as 4, or letters such as A-D
    #[arg(long, value_name = "VERSIONS", value_parser = sheets::versions)]
    versions: Option<usize>,
    /// Make a sheet for each code of a list: a code in each line, or the first column of a CSV file
    #[arg(long, value_name = "FILE", conflicts_with = "versions")]
    roster: Option<PathBuf>,
    /// Print a set that was saved with --format json. Its prompts may have been edited
    #[arg(
        long,
        value_name = "FILE",
        conflicts_with_all = [
            "kind", "level", "seed", "count", "salt", "avoid", "salts", "template", "readability", "decimal_mark", "edition", "decimals",
            "overrides", "versions", "roster",
        ]
    )]
    from: Option<PathBuf>,
    /// The title of the sheet [default: Problems]
    #[arg(long, value_name = "TITLE")]
    title: Option<String>,
    /// text, markdown, html, latex, json or qti: a package of QTI 3.0, which course platforms read [default: by the ending of --output, or text]
    #[arg(long, value_name = "FORMAT")]
    format: Option<Format>,
    /// Write formulas for the package mhchem. LaTeX only
    #[arg(long)]
    mhchem: bool,
    /// Show each pupil this number of the versions of a problem. Packages only [default: 1]
    #[arg(long, value_name = "NUMBER", value_parser = whole(1..=sheets::MOST_VERSIONS))]
    select: Option<usize>,
    /// Let pupils choose an answer if the problem has options. Packages only
    #[arg(long)]
    with_options: bool,
    /// Write the sheet into this file, and the key into another one whose name ends in `-key`. JSON is one file with
    /// everything. The key of a package is a CSV file
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
}

fn main() -> ExitCode {
    run_program(run)
}

fn run(arguments: &Arguments) -> Result<ExitCode, String> {
    if let Some(path) = &arguments.check {
        return own::check(path);
    }
    let format = Format::of(arguments)?;
    let sheets = match &arguments.from {
        Some(path) => Sheets::saved(path)?,
        None => {
            if format == Format::Qti {
                packaged::check_size(arguments)?;
            }
            Sheets::made(arguments)?
        }
    };
    let (files, what) = match &arguments.output {
        Some(path) if format == Format::Qti => packaged::files(sheets, arguments, path)?,
        Some(path) => Paper::drawn(sheets, format, arguments)?.files(path),
        None => {
            print(&Paper::drawn(sheets, format, arguments)?.printed())?;
            return Ok(ExitCode::SUCCESS);
        }
    };
    let paths: Vec<_> = files
        .iter()
        .map(|(path, _)| ("--output", &**path))
        .collect();
    let inputs = [
        ("--roster", &arguments.roster),
        ("--from", &arguments.from),
        ("--salts", &arguments.salts),
    ];
    let inputs = inputs
        .iter()
        .filter_map(|(option, path)| Some((*option, path.as_deref()?)));
    let templates = arguments.template.iter();
    let inputs = inputs.chain(templates.map(|path| ("--template", &**path)));
    files::refuse_same_file(&paths, &inputs.collect::<Vec<_>>())?;
    let outputs = files
        .iter()
        .map(|(path, bytes)| Output::new("--output", path, bytes.clone()));
    let outputs: Vec<Output> = outputs.collect();
    // Nothing has its name before everything is written, the standard output included.
    let staged = files::stage(&outputs)?;
    print(&what)?;
    files::replace(staged)?;
    Ok(ExitCode::SUCCESS)
}
