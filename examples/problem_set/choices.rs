//! What the options ask of a set.

use clap::ValueEnum;
use effloresce::class::Row;
use effloresce::exercise::{Error, ErrorKind, Exercises, Kind, Level, Template};
use effloresce::number::Unit;
use effloresce::{AtomicWeights, Element, Formula};

use crate::Arguments;
use crate::command_line::{complain, explain, explain_formula, reading};
use crate::own;

/// The decimal mark.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Mark {
    #[value(alias = ".")]
    Point,
    #[value(alias = ",")]
    Comma,
}

/// The help of `--kind`, with all kinds.
pub(crate) fn help_of_kinds() -> String {
    let codes = Kind::ALL.map(Kind::code).join(", ");
    format!(
        "A kind of problem; if repeated, kinds take turns [default: all that the other options allow]. Kinds: {codes}"
    )
}

/// The exercises that the options ask for.
pub(crate) fn exercises(arguments: &Arguments) -> Result<Exercises, String> {
    let mut exercises = Exercises::new(arguments.seed)
        .salts(salts("--salt", &arguments.salt)?)
        .avoid(salts("--avoid", &arguments.avoid)?)
        .weights(weights(arguments)?);
    if let Some(text) = &arguments.readability {
        let grams = reading("--readability", Unit::Gram, text)?;
        exercises = exercises
            .readability(grams)
            .map_err(|error| format!("--readability: {}", explain(&error.into())))?;
    }
    if let Some(path) = &arguments.salts {
        let salts = own::salts("--salts", path)?;
        for note in salts.notes() {
            complain(note.text());
        }
        exercises = exercises.own_salts(salts);
    }
    if arguments.decimal_mark == Mark::Comma {
        exercises = exercises.decimal_comma();
    }
    let level = arguments.level.map(Level::new).transpose();
    if let Some(level) = level.map_err(about)? {
        exercises = exercises.level(level);
    }
    let templates = arguments.template.iter();
    let templates: Vec<Template> = templates
        .map(|path| own::template("--template", path))
        .collect::<Result<_, _>>()?;
    let kinds = match (arguments.kind.is_empty(), templates.is_empty()) {
        (true, true) => kinds_left(&exercises)?,
        _ => kinds(&arguments.kind)?,
    };
    Ok(exercises.kinds(kinds).templates(templates))
}

fn kinds(codes: &[String]) -> Result<Vec<Kind>, String> {
    let kinds = codes.iter().map(|code| code.trim().parse());
    let kinds: Result<Vec<Kind>, Error> = kinds.collect();
    kinds.map_err(|error| format!("--kind: {}", explain(&error.into())))
}

/// The kinds of which there are problems. If a salt leaves some without any, standard error says which.
fn kinds_left(exercises: &Exercises) -> Result<Vec<Kind>, String> {
    let mut left = Vec::new();
    let mut none = Vec::new();
    for kind in Kind::ALL {
        match exercises.clone().kinds([kind]).problem(0) {
            Ok(_) => left.push(kind),
            Err(error) if error.kind() == ErrorKind::Level => {}
            Err(error) => none.push((kind, error)),
        }
    }
    match none.into_iter().next() {
        Some((_, error)) if left.is_empty() => Err(about(error)),
        Some((kind, error)) => {
            complain(format_args!(
                "some kinds of problem are left out, such as {kind}: {}",
                explain(&error.into())
            ));
            Ok(left)
        }
        None => Ok(left),
    }
}

fn salts(option: &str, texts: &[String]) -> Result<Vec<Formula>, String> {
    let read = |text: &String| {
        let read = Row::read_issued(text);
        read.map(|(formula, _)| formula)
            .map_err(|error| format!("{option}: {}", explain_formula(error)))
    };
    texts.iter().map(read).collect()
}

/// The table of atomic weights, such as that of a data booklet.
fn weights(arguments: &Arguments) -> Result<AtomicWeights, String> {
    let at = |option: &'static str| {
        move |error: effloresce::element::Error| format!("{option}: {}", explain(&error.into()))
    };
    let mut weights = match &arguments.edition {
        Some(edition) => AtomicWeights::new(edition.parse().map_err(at("--edition"))?),
        None => AtomicWeights::default(),
    };
    if let Some(decimals) = arguments.decimals {
        weights = weights.decimals(decimals);
    }
    let mut overridden = Vec::new();
    for text in &arguments.overrides {
        let (symbol, weight) = text.split_once('=').ok_or_else(|| {
            format!(
                "--override: {text} has no `=`; write the symbol and the weight, such as Cl=35.5"
            )
        })?;
        let element: Element = symbol.trim().parse().map_err(at("--override"))?;
        if overridden.contains(&element) {
            return Err(format!(
                "--override: {element} is given twice; give each element once"
            ));
        }
        overridden.push(element);
        let weight = reading("--override", Unit::One, weight.trim())?;
        weights = weights.with(element, weight).map_err(at("--override"))?;
    }
    Ok(weights)
}

/// The error with its help, and the option that it is about.
pub(crate) fn about(error: Error) -> String {
    let option = match error.kind() {
        ErrorKind::Level => "--level: ",
        _ => "",
    };
    format!("{option}{}", explain(&error.into()))
}
