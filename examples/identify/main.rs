//! What an unknown hydrate may be, from its percentage of water or from the readings of a bench.
//!
//! Without arguments it identifies an invented unknown.

#[path = "../shared/command_line.rs"]
mod command_line;
#[path = "../shared/input.rs"]
mod input;
#[path = "../shared/json.rs"]
mod json_text;
#[path = "../shared/method.rs"]
mod method;

use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Parser;
use effloresce::class::Row;
use effloresce::gravimetry::{Identification, Method, Net, Weighings};
use effloresce::number::Unit;
use effloresce::report::write_identification;
use effloresce::{Formula, Reading};

use command_line::{explain, explain_formula, json, print, reading, run_program, text_of};
use method::method;

/// The readings of the invented unknown: green crystals.
const DEMONSTRATION: (&str, &str, [&str; 3]) = ("24.160", "26.674", ["25.601", "25.535", "25.534"]);

/// The largest file of hydrates, in bytes.
const LARGEST_LIST: u64 = 1 << 20;

/// Say what an unknown hydrate may be, from the readings of a bench or from its percentage of water. It is
/// compared with every hydrate that the catalogue knows, or with a list of your own. The cautions come first.
///
/// Without arguments, an invented unknown is identified. The exit status is 2 if nothing could be done.
#[derive(Parser)]
#[command(name = "identify", version)]
struct Arguments {
    /// The percentage of water, if there are no readings
    #[arg(
        long,
        value_name = "PERCENT",
        allow_hyphen_values = true,
        conflicts_with_all = ["crucible", "crucible_hydrate", "heated", "hydrate_mass", "residue_mass"]
    )]
    percent_water: Option<String>,
    /// The mass of the empty crucible, in grams
    #[arg(
        long,
        value_name = "GRAMS",
        allow_negative_numbers = true,
        requires_all = ["crucible_hydrate", "heated"],
        conflicts_with_all = ["hydrate_mass", "residue_mass"]
    )]
    crucible: Option<String>,
    /// The mass of the crucible with the hydrate, in grams
    #[arg(
        long,
        value_name = "GRAMS",
        allow_negative_numbers = true,
        requires = "crucible"
    )]
    crucible_hydrate: Option<String>,
    /// The mass of the crucible after each heating, in grams, in order
    #[arg(long, value_name = "GRAMS", num_args = 1.., allow_negative_numbers = true, requires = "crucible")]
    heated: Vec<String>,
    /// The mass of the hydrate alone, in grams
    #[arg(
        long,
        value_name = "GRAMS",
        allow_negative_numbers = true,
        requires = "residue_mass"
    )]
    hydrate_mass: Option<String>,
    /// The mass of the residue alone, in grams
    #[arg(
        long,
        value_name = "GRAMS",
        allow_negative_numbers = true,
        requires = "hydrate_mass"
    )]
    residue_mass: Option<String>,
    /// The hydrates that are possible, as formulas or names: 'MgSO4·7H2O' 'copper(II) sulfate pentahydrate'
    #[arg(long, value_name = "HYDRATE", num_args = 1..)]
    among: Vec<String>,
    /// A file with the hydrates that are possible, one on each line
    #[arg(long, value_name = "FILE")]
    among_file: Option<PathBuf>,
    /// The smallest step that the balance shows, in grams [default: the finest last digit of the readings]
    #[arg(
        long,
        value_name = "GRAMS",
        allow_hyphen_values = true,
        conflicts_with = "percent_water"
    )]
    readability: Option<String>,
    /// The largest difference in grams between two weighings at constant mass
    /// [default: two of the smallest steps of the balance]. More than 0.5 g needs its unit
    #[arg(long, value_name = "GRAMS", allow_hyphen_values = true)]
    constant_mass: Option<String>,
    /// The standard deviation of the mass of water that the balance does not explain, in per cent of the
    /// water (common practice, no source) [default: 0.3]
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    repeatability: Option<String>,
    /// Print JSON, for other programs
    #[arg(long)]
    json: bool,
}

fn main() -> ExitCode {
    run_program(run)
}

fn run(arguments: &Arguments) -> Result<ExitCode, String> {
    let invented = std::env::args_os().len() == 1;
    let (readings, sentence) = match invented {
        true => demonstration()?,
        false => readings(arguments)?,
    };
    let unknown = identify(arguments, &readings)?;
    let text = match arguments.json {
        true => json(&unknown)?,
        false => text_of(|out| write_identification(&unknown, &[&sentence], out))?,
    };
    print(&text)?;
    Ok(ExitCode::SUCCESS)
}

/// The readings of the invented unknown, and a sentence on them.
fn demonstration() -> Result<(Weighings, String), String> {
    let (crucible, hydrate, heated) = DEMONSTRATION;
    let readings = || -> Result<Weighings, effloresce::Error> {
        let [one, two, three] = heated;
        let heated = [one.parse()?, two.parse()?, three.parse()?];
        Ok(Weighings::new(crucible.parse()?, hydrate.parse()?, heated))
    };
    let readings = readings().map_err(|error| explain(&error))?;
    let sentence = format!(
        "An invented unknown, for demonstration: green crystals. Crucible {crucible} g, with the hydrate {hydrate} g, after \
         each heating {} g.",
        heated.join(" g, ")
    );
    Ok((readings, sentence))
}

/// The readings of the options, and a sentence on them.
fn readings(arguments: &Arguments) -> Result<(Weighings, String), String> {
    let grams = |option, text: &str| reading(option, Unit::Gram, text);
    if let Some(percent) = &arguments.percent_water {
        let percent = reading("--percent-water", Unit::Percent, percent)?;
        let sentence = format!("The percentage of water was given: {percent} %.");
        return Ok((Weighings::percent_water(percent), sentence));
    }
    if let (Some(hydrate), Some(residue)) = (&arguments.hydrate_mass, &arguments.residue_mass) {
        let hydrate = grams("--hydrate-mass", hydrate)?;
        let residue = grams("--residue-mass", residue)?;
        let sentence = format!("{hydrate} g of the unknown left {residue} g.");
        return Ok((Weighings::net(hydrate, residue, Net::Tared), sentence));
    }
    let (Some(crucible), Some(hydrate)) = (&arguments.crucible, &arguments.crucible_hydrate) else {
        return Err(
            "the readings are missing; give --percent-water 36.1, or --hydrate-mass and --residue-mass, or --crucible, \
             --crucible-hydrate and --heated"
                .into(),
        );
    };
    let crucible = grams("--crucible", crucible)?;
    let hydrate = grams("--crucible-hydrate", hydrate)?;
    let heated = arguments.heated.iter();
    let heated = heated.map(|text| grams("--heated", text));
    let heated: Vec<Reading> = heated.collect::<Result<_, _>>()?;
    let masses: Vec<String> = heated.iter().map(|mass| format!("{mass} g")).collect();
    let sentence = format!(
        "Crucible {crucible} g, with the hydrate {hydrate} g, after each heating {}.",
        masses.join(", ")
    );
    Ok((Weighings::new(crucible, hydrate, heated), sentence))
}

fn identify(arguments: &Arguments, readings: &Weighings) -> Result<Identification, String> {
    let method = rules(arguments)?;
    let list = listed(arguments)?;
    let unknown = match list.is_empty() {
        true => method.identify(readings),
        false => method.identify_among(list, readings),
    };
    unknown.map_err(|error| explain(&error.into()))
}

fn rules(arguments: &Arguments) -> Result<Method, String> {
    let method = method(&arguments.constant_mass, &arguments.repeatability)?;
    let Some(step) = &arguments.readability else {
        return Ok(method);
    };
    let step = reading("--readability", Unit::Gram, step)?;
    let method = method.readability(step);
    method.map_err(|error| format!("--readability: {}", explain(&error.into())))
}

/// The hydrates that are possible; empty if the whole catalogue is.
fn listed(arguments: &Arguments) -> Result<Vec<Formula>, String> {
    let mut list = Vec::new();
    for text in &arguments.among {
        list.push(hydrate(text).map_err(|why| format!("--among: {why}"))?);
    }
    if let Some(path) = &arguments.among_file {
        let failure = |why: &str| format!("--among-file: {}: {why}", path.display());
        let before = list.len();
        for (index, line) in lines(path)?.lines().enumerate() {
            if !line.trim().is_empty() {
                let read = hydrate(line.trim());
                list.push(read.map_err(|why| failure(&format!("line {}: {why}", index + 1)))?);
            }
        }
        if list.len() == before {
            return Err(failure("it has no hydrate; write one on each line"));
        }
    }
    Ok(list)
}

/// A hydrate whose percentage of water is known.
fn hydrate(text: &str) -> Result<Formula, String> {
    let (hydrate, _) = Row::read_issued(text).map_err(explain_formula)?;
    match hydrate.percent_water(Method::new().atomic_weights()) {
        Err(error) => Err(explain(&error.into())),
        Ok(Some(_)) => Ok(hydrate),
        Ok(None) => Err(format!(
            "{hydrate} is not a hydrate; give it with its number of waters, such as MgSO4·7H2O"
        )),
    }
}

fn lines(path: &Path) -> Result<String, String> {
    let failure = |why: &str| format!("--among-file: {}: {why}", path.display());
    let file = input::open(path).map_err(|why| format!("--among-file: {why}"))?;
    let mut text = String::new();
    let read = file.take(LARGEST_LIST + 1).read_to_string(&mut text);
    let length = read.map_err(|error| failure(&input::reason(&error)))?;
    if length as u64 > LARGEST_LIST {
        return Err(failure("it is larger than 1 MiB; give a shorter list"));
    }
    Ok(text.trim_start_matches('\u{FEFF}').to_string())
}
