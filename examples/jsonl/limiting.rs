//! `limiting`: from the amounts of some species to those of all, the limiting reactants and the
//! percent yield.

use effloresce::number::Unit;
use effloresce::reaction::{Amounts, Equation, Supply};
use effloresce::{Formula, Note};
use serde_json::value::RawValue;

use crate::balance;
use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, shown};

/// More species than any reaction has, which keeps the reply short.
const MOST_SPECIES: usize = 50;

struct Request {
    equation: Equation,
    amounts: Amounts,
    /// The same with what was obtained, where that is given.
    obtained: Option<Amounts>,
    notes: Vec<Note>,
}

impl Request {
    fn read(request: &Object<'_>) -> Result<Self, Failure> {
        request.only(&[&["equation", "amounts", "actual"], &options::ENVELOPE])?;
        let strict = options::strict(request)?;
        let mut notes = Vec::new();
        let equation = request.required("equation", |value| {
            let text = value.text()?;
            if strict {
                return Ok(text.parse()?);
            }
            let (equation, read) = Equation::read(&text)?;
            notes.extend(read);
            Ok(equation)
        })?;
        let mut amounts = Amounts::new().weights(options::weights(request)?);
        let given = request.required("amounts", Json::object)?;
        for (key, value) in given.members().filter(|(_, value)| !value.is_null()) {
            let mut one = || {
                let species = formula(key, strict, &mut notes)?;
                Ok((species, supply(&value.object()?)?))
            };
            let (species, supply) =
                one().map_err(|failure: Failure| failure.within(&shown(key)).within("amounts"))?;
            amounts = amounts.with(species, supply);
        }
        let obtained = request.optional("actual", |value| {
            let actual = value.object()?;
            actual.only(&[&["species", "mass"]])?;
            let species = actual.required("species", |value| {
                formula(&value.text()?, strict, &mut notes)
            })?;
            Ok(amounts
                .clone()
                .actual(species, actual.required("mass", Json::mass)?))
        })?;
        Ok(Request {
            equation,
            amounts,
            obtained,
            notes,
        })
    }
}

fn formula(text: &str, strict: bool, notes: &mut Vec<Note>) -> Result<Formula, Failure> {
    if strict {
        return Ok(text.parse()?);
    }
    let (formula, read) = Formula::read(text)?;
    notes.extend(read);
    Ok(formula)
}

/// An amount in one of its three forms.
fn supply(amount: &Object<'_>) -> Result<Supply, Failure> {
    const FORMS: &str = "give `mass` (g), `mol`, or `concentration` (mol/L) and `volume` (L)";
    const SOLUTION: [&str; 2] = ["concentration", "volume"];
    amount.only(&[&["mass", "mol", "purity"], &SOLUTION])?;
    let given = [&["mass"][..], &["mol"], &SOLUTION];
    let given = given
        .iter()
        .filter_map(|form| form.iter().find(|name| amount.has(name)));
    let given: Vec<&str> = given.copied().collect();
    let supply = match given[..] {
        [] => return Err(Failure::missing("mass", "there is no amount").help(FORMS)),
        [one, other, ..] => {
            let message = format!("`{one}` and `{other}` are two amounts");
            return Err(Failure::new("bad_request", message)
                .within(other)
                .help(FORMS));
        }
        ["mass"] => Supply::mass(amount.required("mass", Json::mass)?),
        ["mol"] => Supply::moles(amount.required("mol", |value| value.quantity_in(Unit::Mole))?),
        [_] => Supply::solution(
            amount.required("concentration", Json::quantity)?,
            amount.required("volume", Json::quantity)?,
        ),
    };
    let purity = amount.optional("purity", |value| value.quantity_in(Unit::Percent))?;
    Ok(purity.map_or(supply, |percent| supply.pure(percent)))
}

pub(crate) fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let request = Request::read(request)?;
    let of_equation = |failure: Failure| failure.within("equation");
    let reaction = request.equation.stoichiometry();
    let longest = request.equation.text().len() + balance::MOST_LONGER;
    let reaction = reaction.map_err(|error| balance::refused(&error, longest))?;
    if reaction.species().count() > MOST_SPECIES {
        let message = format!("the equation has more than {MOST_SPECIES} species");
        return Err(of_equation(Failure::new("too_large", message)));
    }
    // What is wrong without the mass obtained is not about that.
    let reacted = request.amounts.react(&reaction).map_err(|error| {
        use effloresce::reaction::ErrorKind::{NoStandardWeight, UnknownDegree};
        match error.kind() {
            NoStandardWeight | UnknownDegree => of_equation(error.into()),
            _ => Failure::from(error).within("amounts"),
        }
    })?;
    let reacted = match request.obtained {
        None => reacted,
        Some(obtained) => obtained
            .react(&reaction)
            .map_err(|error| Failure::from(error).within("actual"))?,
    };
    reply::result(&reacted.with_notes(request.notes))
}
