//! An equation to balance.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec;
use alloc::vec::Vec;

use once_cell::race::OnceBox;

use super::row::KindRow;
use crate::element::Element;
use crate::exercise::draft::{Asked, DraftProblem, Refusal};
use crate::exercise::draw::Draw;
use crate::exercise::kind::Level;
use crate::exercise::pool::{EQUATIONS, REACTIONS};
use crate::exercise::request::{Operation, Request};
use crate::exercise::skill::Skill;
use crate::formula::Formula;
use crate::number::Ratio;
use crate::reaction::{Equation, Side, Species};
use crate::working::{Step, Working};

pub(super) const KIND: KindRow = KindRow {
    levels: &Level::ALL,
    draw,
};

/// Nothing but the formulas is given; the event is, too; all coefficients but one are; all are, and one is wrong;
/// all are, and they have a common divisor; the names are.
const PLAIN: &str = "from_formulas";
const EVENT: &str = "from_event";
const MISSING: &str = "one_missing";
const WRONG: &str = "one_wrong";
const MULTIPLE: &str = "not_smallest";
const NAMES: &str = "from_names";

/// A balanced equation of the pool.
struct PoolEquation {
    species: Vec<PoolSpecies>,
    event: String,
    level: u32,
    is_named: bool,
}

#[derive(Clone)]
struct PoolSpecies {
    formula: Formula,
    text: String,
    name: Option<String>,
    side: Side,
    coefficient: Ratio,
}

/// The equations of the pool that have a coefficient to find.
fn equations() -> &'static [PoolEquation] {
    static ALL: OnceBox<Vec<PoolEquation>> = OnceBox::new();
    ALL.get_or_init(|| {
        let equations = EQUATIONS.iter().filter_map(|row| {
            pool_equation(row.equation, row.event.into(), Some(row.level.into()))
        });
        let reactions = REACTIONS.iter().filter_map(|row| {
            let event = format!("the making of {}", row.product_name);
            pool_equation(row.equation, event, None)
        });
        Box::new(equations.chain(reactions).collect())
    })
}

/// `None` if the coefficients are not the only smallest ones, or if there is nothing to find.
fn pool_equation(text: &str, event: String, level: Option<u32>) -> Option<PoolEquation> {
    let (equation, _) = Equation::read(text).ok()?;
    let coefficients = equation.species().iter().map(Species::count);
    let coefficients: Vec<Ratio> = coefficients.collect();
    let largest = coefficients.iter().max()?;
    let is_smallest = *equation.balance().ok()?.coefficients() == coefficients;
    if !is_smallest || *largest == Ratio::ONE {
        return None;
    }
    let species: Vec<PoolSpecies> = equation.species().iter().map(PoolSpecies::new).collect();
    let counted = [
        *largest >= 4.into(),
        *largest >= 7.into(),
        species.len() >= 5,
    ];
    let points = counted.iter().filter(|counts| **counts).count() + 1;
    Some(PoolEquation {
        event,
        level: level.unwrap_or_else(|| u32::try_from(points.min(3)).unwrap_or(3)),
        is_named: species.iter().all(|one| one.name.is_some()),
        species,
    })
}

impl PoolSpecies {
    fn new(species: &Species) -> PoolSpecies {
        let formula = species.formula().without_state();
        let text = format!("{formula}");
        PoolSpecies {
            name: species_name(&formula),
            side: species.side(),
            coefficient: species.count(),
            formula,
            text,
        }
    }

    /// The species with a coefficient, which is not written if it is one.
    fn with(&self, coefficient: &Ratio) -> String {
        match *coefficient == Ratio::ONE {
            true => self.text.clone(),
            false => format!("{coefficient}{}", self.text),
        }
    }
}

/// The name of a metal, of a salt that its name gives back, and of what else reactions of schools often have.
pub(crate) fn species_name(formula: &Formula) -> Option<String> {
    let text = format!("{formula}");
    let name = match &*text {
        "H2O" => "water",
        "CO2" => "carbon dioxide",
        "H2" => "hydrogen",
        "O2" => "oxygen",
        "N2" => "nitrogen",
        "HCl" => "hydrogen chloride",
        "H2SO4" => "sulfuric acid",
        "NH3" => "ammonia",
        "CH4" => "methane",
        _ => match Element::from_symbol(&text) {
            Some(element) => element.name(),
            None => {
                let name = formula.name().ok()?;
                let (named, _) = Formula::from_name(name.name()).ok()?;
                return (format!("{named}") == text).then(|| name.name().into());
            }
        },
    };
    Some(name.into())
}

fn draw(draw: &mut Draw<'_>) -> Result<DraftProblem, Refusal> {
    let row = row(draw)?;
    let form = match draw.level {
        Level::SeveralSteps if row.is_named && (row.level == 1 || draw.sampler.below(10) == 0) => {
            NAMES
        }
        Level::OneStep => draw.form(&[
            PLAIN, EVENT, MISSING, MISSING, WRONG, WRONG, WRONG, MULTIPLE, MULTIPLE,
        ]),
        Level::SeveralSteps => draw.form(&[
            PLAIN, EVENT, MISSING, MISSING, WRONG, WRONG, WRONG, WRONG, WRONG, WRONG, WRONG,
            MULTIPLE, MULTIPLE, MULTIPLE,
        ]),
        Level::Judgement => draw.form(&[PLAIN, EVENT, WRONG, WRONG, MULTIPLE]),
    };
    let mut species = row.species.clone();
    draw.sampler.shuffle(&mut species);
    species.sort_by_key(|one| one.side);
    let written = written(form, &species, draw)?;
    let mut skills = Vec::from([Skill::BalanceEquation]);
    if form == NAMES {
        skills.push(Skill::ReadName);
    }
    Ok(DraftProblem {
        form,
        skills,
        prompt: prompt(form, row, &species, &written),
        request: Request::new(Operation::Balance, draw.weights())
            .with("equation", written.equation),
        asked: Asked::Texts {
            pointers: ["/balanced".to_string()].into(),
            parts: Vec::new(),
        },
        working: working(&species)
            .ok_or(Refusal::Again("the atoms of a species cannot be counted"))?,
        wrong: Vec::new(),
    })
}

/// An equation of the level. Names make one of level 1 as hard as one of level 2. If the salts leave none and no
/// level was chosen, any equation that they leave decides the level.
fn row(draw: &mut Draw<'_>) -> Result<&'static PoolEquation, Refusal> {
    let level = draw.level.number();
    let easier = draw.level == Level::SeveralSteps && draw.sampler.below(16) == 0;
    let fits = |row: &&PoolEquation| match easier {
        true => row.level == 1 && row.is_named,
        false => row.level == level,
    };
    match one_of(draw, fits) {
        Err(Refusal::Exhausted(_)) if draw.source.exercises.level.is_none() || easier => {}
        found => return found,
    }
    let chosen = draw.source.exercises.level;
    let row = one_of(draw, |row| chosen.is_none() || row.level == level)?;
    draw.level = Level::new(row.level).map_err(Refusal::Exhausted)?;
    Ok(row)
}

fn one_of(
    draw: &mut Draw<'_>,
    fits: impl Fn(&&'static PoolEquation) -> bool,
) -> Result<&'static PoolEquation, Refusal> {
    let nothing = match draw.source.exercises.level {
        None => "no equation".into(),
        Some(level) => format!("no equation of level {}", level.number()),
    };
    draw.row(&nothing, equations().iter().filter(fits), |row| {
        row.species.iter().map(|one| one.formula.clone()).collect()
    })
}

/// An equation as the prompt has it.
struct WrittenEquation {
    equation: String,
    /// The species without its coefficient; empty if there is none.
    missing: String,
}

fn written(
    form: &str,
    species: &[PoolSpecies],
    draw: &mut Draw<'_>,
) -> Result<WrittenEquation, Refusal> {
    let mut coefficients: Vec<Ratio> = species.iter().map(|one| one.coefficient.clone()).collect();
    let mut missing = String::new();
    match form {
        MISSING | WRONG => {
            let found = species.iter().enumerate();
            let found = found.filter(|(_, one)| form == WRONG || one.coefficient != Ratio::ONE);
            let indices: Vec<usize> = found.map(|(index, _)| index).collect();
            let index = draw.sampler.one_of(&indices).copied();
            let chosen =
                index.and_then(|index| Some((species.get(index)?, coefficients.get_mut(index)?)));
            let (one, coefficient) =
                chosen.ok_or(Refusal::Again("there is no coefficient to find"))?;
            if form == MISSING {
                missing.clone_from(&one.text);
                *coefficient = Ratio::ONE;
            } else if *coefficient == Ratio::ONE || draw.sampler.below(2) == 0 {
                *coefficient = &*coefficient + &Ratio::ONE;
            } else {
                *coefficient = &*coefficient - &Ratio::ONE;
            }
        }
        MULTIPLE => {
            let times = Ratio::from(draw.sampler.between(2, 5));
            for coefficient in &mut coefficients {
                *coefficient = &*coefficient * &times;
            }
        }
        _ => coefficients.fill(Ratio::ONE),
    }
    let texts = species.iter().zip(&coefficients);
    let texts: Vec<String> = texts.map(|(one, count)| one.with(count)).collect();
    Ok(WrittenEquation {
        equation: joined(species, &texts),
        missing,
    })
}

/// An equation of species that are written like this.
fn joined(species: &[PoolSpecies], texts: &[String]) -> String {
    let of = |side: Side| {
        let texts = species.iter().zip(texts);
        let texts = texts.filter(|(one, _)| one.side == side);
        let texts: Vec<&str> = texts.map(|(_, text)| text.as_str()).collect();
        texts.join(" + ")
    };
    format!("{} -> {}", of(Side::Reactants), of(Side::Products))
}

fn prompt(
    form: &str,
    row: &PoolEquation,
    species: &[PoolSpecies],
    written: &WrittenEquation,
) -> String {
    let equation = &written.equation;
    match form {
        PLAIN => format!("Balance this equation with the smallest whole numbers: {equation}"),
        EVENT => format!(
            "This is the equation for {}, without its coefficients. Balance it with the smallest whole numbers: \
             {equation}",
            row.event
        ),
        MISSING => format!(
            "In this equation the coefficient of {} is missing. Write the balanced equation: {equation}",
            written.missing
        ),
        WRONG => format!(
            "In this equation exactly one coefficient is wrong. Write the balanced equation: {equation}"
        ),
        MULTIPLE => format!(
            "This equation is balanced, but not with the smallest whole numbers. Write it with those: {equation}"
        ),
        _ => {
            let names = |side: Side| {
                let of_side = species.iter().filter(|one| one.side == side);
                crate::text::list(of_side.filter_map(|one| one.name.as_deref()))
            };
            let (before, after) = (names(Side::Reactants), names(Side::Products));
            format!(
                "Write the balanced equation for this reaction, in this order and with the smallest whole numbers. \
                 Before: {before}. After: {after}."
            )
        }
    }
}

/// One line for each element and for the charge: a letter stands for each coefficient.
fn working(species: &[PoolSpecies]) -> Option<Working> {
    let mut working = Working::default();
    for (atom, counts) in atoms(species)? {
        let (what, rule) = (
            format!("atoms of {atom}"),
            "as many before the arrow as after it",
        );
        working.push(conserved(what, rule, species, &counts));
    }
    let charges = species.iter().map(|one| one.formula.exact_charge());
    let charges: Vec<Ratio> = charges.map(Option::unwrap_or_default).collect();
    if charges.iter().any(|charge| !charge.is_zero()) {
        let rule = "the same before the arrow as after it";
        working.push(conserved("charge".into(), rule, species, &charges));
    }
    let letters = species.iter().zip(LETTERS.chars());
    let letters: Vec<String> = letters
        .map(|(one, letter)| format!("{letter} {}", one.text))
        .collect();
    let right = species.iter().map(|one| one.with(&one.coefficient));
    let right: Vec<String> = right.collect();
    working.push(
        Step::new(
            "balanced equation",
            "the smallest whole numbers with which all lines are true",
            joined(species, &letters),
            joined(species, &right),
            "",
        )
        .concluded(),
    );
    Some(working)
}

/// The elements in order of appearance, each with its number of atoms in every species.
fn atoms(species: &[PoolSpecies]) -> Option<Vec<(String, Vec<Ratio>)>> {
    let mut atoms: Vec<(String, Vec<Ratio>)> = Vec::new();
    for (index, one) in species.iter().enumerate() {
        for (atom, count) in &one.formula.composition().ok()? {
            let atom = format!("{atom}");
            let known = atoms.iter().position(|(other, _)| *other == atom);
            let place = known.unwrap_or_else(|| {
                atoms.push((atom, vec![Ratio::ZERO; species.len()]));
                atoms.len() - 1
            });
            *atoms.get_mut(place)?.1.get_mut(index)? = count.clone();
        }
    }
    Some(atoms)
}

const LETTERS: &str = "abcdefghijklm";

/// A line of the working: the letters times what one species has, and what the right coefficients make of it.
fn conserved(what: String, rule: &'static str, species: &[PoolSpecies], counts: &[Ratio]) -> Step {
    let side = |side: Side| {
        let mut text = String::new();
        let mut total = Ratio::ZERO;
        let terms = species.iter().zip(counts).zip(LETTERS.chars());
        let terms = terms.filter(|((one, count), _)| one.side == side && !count.is_zero());
        for ((one, count), letter) in terms {
            text.push_str(match (text.is_empty(), count.is_negative()) {
                (true, false) => "",
                (true, true) => "−",
                (false, false) => " + ",
                (false, true) => " − ",
            });
            if count.abs() != Ratio::ONE {
                text.push_str(&format!("{} × ", count.abs()));
            }
            text.push(letter);
            total += count * &one.coefficient;
        }
        if text.is_empty() {
            text.push('0');
        }
        (text, total)
    };
    let ((before, total), (after, _)) = (side(Side::Reactants), side(Side::Products));
    Step::new(
        what,
        rule,
        format!("{before} = {after}"),
        format!("{total}"),
        "",
    )
}
