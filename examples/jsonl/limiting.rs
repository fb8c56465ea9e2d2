//! `limiting`: from the amounts of some species to those of all, the limiting reactants and the
//! percent yield.

use effloresce::number::Unit;
use effloresce::reaction::{Amounts, Supply};
use effloresce::{Formula, Reading};

use crate::balance;
use crate::json::{Json, Object};
use crate::options;
use crate::reply::{self, Failure, Reply, shorten};

/// The largest number of species, so that the reply stays short. No reaction needs more.
const MOST_SPECIES: usize = 50;

pub(crate) fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    request.only(&[&["equation", "amounts", "actual"], &options::ENVELOPE])?;
    let strict = options::strict(request)?;
    let (equation, mut notes) = options::equation(request)?;
    let mut formula = |text: &str| -> Result<Formula, Failure> {
        let (formula, more) = options::read_formula(text, strict)?;
        notes.extend(more);
        Ok(formula)
    };
    let amounts = Amounts::new().weights(options::weights(request)?);
    let amounts = request.required("amounts", |value| {
        value
            .object()?
            .fold(balance::MOST_SPECIES, amounts, |amounts, key, value| {
                if value.is_null() {
                    return Ok(amounts);
                }
                Ok(amounts.with(formula(key)?, supply(&value.object()?)?))
            })
    })?;
    let obtained = request.optional("actual", |value| {
        let actual = value.object()?;
        actual.only(&[&["species", "mass"]])?;
        let species = actual.required("species", |value| formula(&value.text()?))?;
        let mass = actual.required("mass", Json::mass)?;
        Ok(amounts.clone().actual(species, mass))
    })?;
    let of_equation = |failure: Failure| failure.within("equation");
    let reaction = equation.stoichiometry();
    let longest = equation.text().len() + balance::MOST_LONGER;
    let reaction = reaction.map_err(|error| balance::unbalanced(&error, longest))?;
    if reaction.species().count() > MOST_SPECIES {
        let message = format!("the equation has more than {MOST_SPECIES} species");
        return Err(of_equation(Failure::new("too_large", message)));
    }
    // An error without the mass obtained is not about that mass.
    let reacted = amounts.react(&reaction).map_err(|error| {
        use effloresce::reaction::ErrorKind::{NoStandardWeight, UnknownDegree};
        match error.kind() {
            NoStandardWeight | UnknownDegree => of_equation(error.into()),
            _ => Failure::from(error).within("amounts"),
        }
    })?;
    let reacted = match obtained {
        None => reacted,
        Some(obtained) => obtained
            .react(&reaction)
            .map_err(|error| Failure::from(error).within("actual"))?,
    };
    Ok(reply::result(reacted.with_notes(notes)))
}

/// Reads an amount in one of its three forms.
fn supply(amount: &Object<'_>) -> Result<Supply, Failure> {
    const FORMS: &str = "give `mass` (g), `mol`, or `concentration` (mol/L) and `volume` (L)";
    const SOLUTION: [&str; 2] = ["concentration", "volume"];
    amount.only(&[&["mass", "mol", "purity_percent"], &SOLUTION])?;
    let missing = Failure::missing("mass", "there is no amount");
    let form = amount.form(&[&["mass"], &["mol"], &SOLUTION], missing, FORMS)?;
    if form != "mass" && amount.has("purity_percent") {
        let message = format!("`purity_percent` and `{form}` cannot be given together");
        let failure = Failure::new("bad_request", message).within("purity_percent");
        return Err(failure.help("give `purity_percent` with a `mass` only"));
    }
    let supply = match form {
        "mass" => Supply::mass(amount.required("mass", Json::mass)?),
        "mol" => Supply::moles(amount.required("mol", |value| value.quantity_in(Unit::Mole))?),
        _ => Supply::solution(
            amount.required("concentration", Json::quantity)?,
            amount.required("volume", Json::quantity)?,
        ),
    };
    amount.set("purity_percent", supply, |supply, value| {
        Ok(supply.pure(purity(value)?))
    })
}

/// A purity in per cent, above 0 and at most 100.
fn purity(value: Json<'_>) -> Result<Reading, Failure> {
    let percent = value.quantity_in(Unit::Percent)?;
    let number = percent.value();
    if number.is_positive() && number <= 100.into() {
        return Ok(percent);
    }
    let percent = shorten(&percent.to_string());
    let failure = Failure::new("out_of_range", format!("a purity cannot be {percent} %"));
    Err(failure.help("give a percentage above 0 and at most 100"))
}
