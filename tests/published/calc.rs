//! The crate, as the examples need it.

use effloresce::element::Edition;
use effloresce::gravimetry::{Constancy, ConstantMass, Method, Net, WeighingUsed, Weighings};
use effloresce::{AtomicWeights, Element, Formula, Ratio, Reading};

#[track_caller]
pub(crate) fn number(text: &str) -> Ratio {
    let text = match text.strip_prefix('.') {
        Some(decimals) => format!("0.{decimals}"),
        None => text.to_owned(),
    };
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

#[track_caller]
pub(crate) fn reading(text: &str) -> Reading {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// What was taken and what is left, each weighed on a tared balance.
pub(crate) fn net(taken: &str, left: &str) -> Weighings {
    Weighings::net(reading(taken), reading(left), Net::Tared)
}

pub(crate) fn over(above: &Ratio, below: &Ratio) -> Ratio {
    above.checked_div(below).unwrap()
}

pub(crate) fn hundred() -> Ratio {
    Ratio::from(100)
}

/// A hundred times the quotient.
pub(crate) fn percent(part: &Ratio, whole: &Ratio) -> Ratio {
    over(&(part * &hundred()), whole)
}

#[track_caller]
pub(crate) fn formula(text: &str) -> Formula {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

pub(crate) fn weights() -> AtomicWeights {
    AtomicWeights::new(Edition::Iupac2021)
}

/// The abridged weights with some elements' weights of another time.
pub(crate) fn with(old: &[(&str, &str)]) -> AtomicWeights {
    old.iter().fold(weights(), |table, (symbol, weight)| {
        let element: Element = symbol.parse().unwrap();
        table.with(element, reading(weight)).unwrap()
    })
}

/// Weights that textbooks of the 1990s used.
pub(crate) const OF_1990S: [(&str, &str); 12] = [
    ("H", "1.00794"),
    ("C", "12.011"),
    ("N", "14.00674"),
    ("O", "15.9994"),
    ("F", "18.9984032"),
    ("Na", "22.98977"),
    ("P", "30.97376"),
    ("S", "32.066"),
    ("Cl", "35.4527"),
    ("Ca", "40.078"),
    ("Sc", "44.95591"),
    ("Br", "79.904"),
];

/// Weights that a textbook of 1917 used, to one decimal.
pub(crate) const OF_1917: [(&str, &str); 15] = [
    ("H", "1.0"),
    ("C", "12.0"),
    ("N", "14.0"),
    ("O", "16.0"),
    ("Mg", "24.3"),
    ("P", "31.0"),
    ("S", "32.1"),
    ("Cl", "35.5"),
    ("K", "39.1"),
    ("Ca", "40.1"),
    ("Cr", "52.0"),
    ("Fe", "55.8"),
    ("Cu", "63.6"),
    ("Zn", "65.4"),
    ("Pb", "207.2"),
];

/// Weights that handbooks of about 2005 used.
pub(crate) const OF_2005: [(&str, &str); 15] = [
    ("H", "1.00794"),
    ("B", "10.811"),
    ("C", "12.0107"),
    ("O", "15.9994"),
    ("Na", "22.98977"),
    ("Mg", "24.3050"),
    ("Al", "26.981538"),
    ("S", "32.065"),
    ("Cl", "35.453"),
    ("K", "39.0983"),
    ("Ca", "40.078"),
    ("Fe", "55.845"),
    ("Cu", "63.546"),
    ("Zn", "65.409"),
    ("Ba", "137.327"),
];

#[track_caller]
pub(crate) fn molar(text: &str) -> Ratio {
    molar_with(text, &weights())
}

#[track_caller]
pub(crate) fn molar_with(text: &str, table: &AtomicWeights) -> Ratio {
    let mass = formula(text).molar_mass(table);
    let mass = mass.unwrap_or_else(|e| panic!("{text}: {e}"));
    mass.exact().clone()
}

/// The theoretical percentage of water.
#[track_caller]
pub(crate) fn water_in(text: &str) -> Ratio {
    let percent = formula(text).percent_water(&weights());
    percent
        .unwrap()
        .unwrap_or_else(|| panic!("{text} holds no water"))
}

/// What the readings of a bench come to.
pub(crate) struct Run {
    pub(crate) hydrate: Option<Ratio>,
    pub(crate) residue: Option<Ratio>,
    pub(crate) water: Option<Ratio>,
    pub(crate) percent: Ratio,
    pub(crate) mol_salt: Option<Ratio>,
    pub(crate) mol_water: Option<Ratio>,
    pub(crate) ratio: Ratio,
    pub(crate) nearest: Ratio,
    pub(crate) formula: String,
    /// The hydrate that the readings speak for, if they do.
    pub(crate) resolved: Option<String>,
    pub(crate) reached: Option<bool>,
}

#[track_caller]
pub(crate) fn dehydrate(salt: &str, weighings: &Weighings, method: Method) -> Run {
    let run = method
        .weights(weights())
        .dehydration(&formula(salt), weighings);
    let run = run.unwrap_or_else(|e| panic!("{salt}: {e}"));
    Run {
        hydrate: run.hydrate_mass().map(Reading::value),
        residue: run.residue_mass().map(Reading::value),
        water: run.water_mass().map(Reading::value),
        percent: run.percent_water().clone(),
        mol_salt: run.mol_salt(),
        mol_water: run.mol_water(),
        ratio: run.ratio().clone(),
        nearest: run.nearest().clone(),
        formula: run.nearest_formula().to_string(),
        resolved: run.outcome().formula().map(ToString::to_string),
        reached: run.constant_mass().and_then(Constancy::reached),
    }
}

/// The degree of hydration that a percentage of water means.
#[track_caller]
pub(crate) fn degree_at(salt: &str, percent: &str) -> Run {
    let weighings = Weighings::percent_water(reading(percent));
    dehydrate(salt, &weighings, Method::new())
}

/// A series of weighings of any thing: whether it is constant, and the mass it comes to.
///
/// What is heated is no hydrate here, so the container and what it held at first stand in.
#[track_caller]
pub(crate) fn series(
    weighings: &[&str],
    criterion: &str,
    used: WeighingUsed,
) -> (Option<bool>, Ratio) {
    let heated = weighings
        .iter()
        .map(|text| reading(text))
        .collect::<Vec<_>>();
    let weighings = Weighings::new(reading("0.1000"), reading("99.0000"), heated);
    let method = Method::new()
        .constant_mass(ConstantMass::Absolute(reading(criterion)))
        .weighing_used(used);
    let run = dehydrate("CuO", &weighings, method);
    (run.reached, &run.residue.unwrap() + &number("0.1000"))
}
