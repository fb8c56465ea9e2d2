//! The first-order uncertainty against a Monte Carlo of the same model (JCGM 101:2008, GUM
//! Supplement 1): readings and weights are drawn, the ratio is worked out for each draw with
//! arithmetic of its own, and mean and standard deviation are compared.

use effloresce::gravimetry::{Constancy, ConstantMass, Method, Net, WeighingUsed, Weighings};
use effloresce::{Ratio, Reading};

use crate::draws::{Draws, Molar, Salt};

const DRAWS: usize = 200_000;

/// Oxalic acid on a fine balance: hydrogen and oxygen are in the acid and in its water.
const WEIGHTS_DECIDE: &str = "large sample on a fine balance";

/// The readings.
#[derive(Clone, Copy)]
enum Form {
    /// Container, with hydrate, after each heating.
    Series(&'static [&'static str]),
    Tared(&'static str, &'static str),
    Subtracted(&'static str, &'static str),
    Percent(&'static str),
}

struct Case {
    name: &'static str,
    salt: Salt,
    form: Form,
    division: &'static str,
    /// The balance's own repeatability, and the limit of its linearity, in grams.
    balance: (f64, f64),
    /// The criterion that was reached, in grams, or zero.
    criterion: &'static str,
    mean_of_last_two: bool,
    /// Relative, of the mass of water.
    repeatability: f64,
}

fn case(name: &'static str, salt: Salt, form: Form, division: &'static str) -> Case {
    Case {
        name,
        salt,
        form,
        division,
        balance: (0.0, 0.0),
        criterion: "0",
        mean_of_last_two: false,
        repeatability: 0.0,
    }
}

fn cases() -> Vec<Case> {
    let salt = Salt::new;
    let sulfate = || salt("MgSO4", &[("Mg", 1.0), ("S", 1.0), ("O", 4.0)]);
    let alum = || {
        let counts = [("K", 1.0), ("Al", 1.0), ("S", 2.0), ("O", 8.0)];
        salt("KAl(SO4)2", &counts)
    };
    vec![
        case(
            "one heating",
            sulfate(),
            Form::Series(&["21.352", "24.018", "22.655"]),
            "0.001",
        ),
        // The loss was a fast one, so that only the criterion counts for the water left.
        Case {
            criterion: "0.02",
            ..case(
                "met criterion",
                salt("CuSO4", &[("Cu", 1.0), ("S", 1.0), ("O", 4.0)]),
                Form::Series(&["32.45", "41.20", "38.59", "38.06", "38.05"]),
                "0.01",
            )
        },
        Case {
            criterion: "0.002",
            mean_of_last_two: true,
            balance: (0.0008, 0.002),
            repeatability: 0.003,
            ..case(
                "mean of the last two, noise, linearity, repeatability",
                alum(),
                Form::Series(&["26.318", "31.134", "28.512", "28.510"]),
                "0.001",
            )
        },
        case(
            "tared on a coarse balance",
            salt("ZnSO4", &[("Zn", 1.0), ("S", 1.0), ("O", 4.0)]),
            Form::Tared("28.7", "16.1"),
            "0.1",
        ),
        case(
            "subtracted, one container",
            salt("BaCl2", &[("Ba", 1.0), ("Cl", 2.0)]),
            Form::Subtracted("5.03", "4.29"),
            "0.01",
        ),
        case(
            WEIGHTS_DECIDE,
            salt("H2C2O4", &[("H", 2.0), ("C", 2.0), ("O", 4.0)]),
            Form::Series(&["30.0000", "50.0000", "44.2840"]),
            "0.0001",
        ),
        Case {
            repeatability: 0.003,
            ..case(
                "a percentage",
                salt("Na2S2O3", &[("Na", 2.0), ("S", 2.0), ("O", 3.0)]),
                Form::Percent("36.3"),
                "0.1",
            )
        },
    ]
}

fn reading(text: &str) -> Reading {
    text.parse().unwrap()
}

fn number(text: &str) -> f64 {
    text.parse().unwrap()
}

impl Case {
    /// The ratio and its standard uncertainty, by the crate.
    fn worked_out(&self) -> (f64, f64) {
        let used = if self.mean_of_last_two {
            WeighingUsed::MeanOfLastTwo
        } else {
            WeighingUsed::Last
        };
        let method = Method::new()
            .constant_mass(ConstantMass::Absolute(reading(self.criterion)))
            .weighing_used(used)
            .readability(reading(self.division))
            .and_then(|method| method.balance_repeatability(self.balance.0))
            .and_then(|method| method.balance_linearity(self.balance.1))
            .and_then(|method| method.repeatability(self.repeatability))
            .unwrap();
        let weighings = match self.form {
            Form::Series(texts) => {
                let heated: Vec<Reading> = texts[2..].iter().map(|t| reading(t)).collect();
                Weighings::new(reading(texts[0]), reading(texts[1]), heated)
            }
            Form::Tared(h, s) => Weighings::net(reading(h), reading(s), Net::Tared),
            Form::Subtracted(h, s) => Weighings::net(reading(h), reading(s), Net::Subtracted),
            Form::Percent(percent) => Weighings::percent_water(reading(percent)),
        };
        let run = method.dehydration(&self.salt.formula, &weighings).unwrap();
        let met = run.constant_mass().and_then(Constancy::reached) == Some(true);
        assert_eq!(met, self.criterion != "0", "{}", self.name);
        (Ratio::to_f64(run.ratio()), run.standard_uncertainty())
    }

    /// One draw of the ratio.
    fn draw(&self, draws: &mut Draws) -> f64 {
        let molar = self.salt.within_limits(draws);
        self.draw_with(molar, draws)
    }

    /// One draw of the masses, with these molar masses.
    fn draw_with(&self, molar: Molar, draws: &mut Draws) -> f64 {
        let half = number(self.division) / 2.0;
        let (sd, linearity) = self.balance;
        // The mass that was on the balance, given the reading.
        let true_mass = |shown: f64, draws: &mut Draws| {
            shown + draws.within(half) + draws.gauss(sd) + draws.within(linearity)
        };
        let (water, hydrate) = match self.form {
            Form::Series(texts) => {
                let masses: Vec<f64> = texts
                    .iter()
                    .map(|text| true_mass(number(text), draws))
                    .collect();
                let [container, with_hydrate, heated @ ..] = masses.as_slice() else {
                    panic!()
                };
                let last = match (self.mean_of_last_two, heated) {
                    (true, [.., a, b]) => (a + b) / 2.0,
                    (false, [.., a]) => *a,
                    _ => panic!(),
                };
                let last = last + draws.within(number(self.criterion));
                (with_hydrate - last, with_hydrate - container)
            }
            Form::Tared(h, s) => {
                let (h, s) = (true_mass(number(h), draws), true_mass(number(s), draws));
                (h - s, h)
            }
            Form::Subtracted(h, s) => {
                let container = true_mass(0.0, draws);
                let h = true_mass(number(h), draws) - container;
                let s = true_mass(number(s), draws) - container;
                (h - s, h)
            }
            Form::Percent(percent) => (number(percent) + draws.within(half), 100.0),
        };
        let water = water * (1.0 + draws.gauss(self.repeatability));
        (water / molar.water) / ((hydrate - water) / molar.salt)
    }
}

/// Mean, standard deviation and the standard deviation of the latter, from its fourth moment.
fn moments(values: &[f64]) -> (f64, f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let moment = |power: i32| values.iter().map(|v| (v - mean).powi(power)).sum::<f64>() / n;
    let variance = moment(2);
    let of_variance = ((moment(4) - variance * variance) / n).sqrt();
    let sd = variance.sqrt();
    (mean, sd, of_variance / (2.0 * sd))
}

/// Four standard deviations of the result of 200,000 draws. A right model fails for one seed in some
/// thousands, and the seed is fixed. The terms above first order stay below two standard deviations
/// here.
#[test]
fn mean_and_standard_deviation_agree() {
    let mut lines = String::from("ratio      drawn      u          drawn      off/sd  off/sd\n");
    let mut complaints = Vec::new();
    let cases = cases();
    for (index, case) in cases.iter().enumerate() {
        let mut draws = Draws::new(101 + index as u64);
        let values: Vec<f64> = (0..DRAWS).map(|_| case.draw(&mut draws)).collect();
        let (mean, sd, of_sd) = moments(&values);
        let (ratio, uncertainty) = case.worked_out();
        let off_mean = (mean - ratio) / (sd / (DRAWS as f64).sqrt());
        let off_sd = (sd - uncertainty) / of_sd;
        lines += &format!(
            "{ratio:<10.6} {mean:<10.6} {uncertainty:<10.7} {sd:<10.7} {off_mean:>6.2}  {off_sd:>6.2}  {}\n",
            case.name
        );
        if off_mean.abs() > 4.0 || off_sd.abs() > 4.0 {
            complaints.push(case.name);
        }
    }
    println!("{lines}");
    assert_eq!(cases.len(), 7);
    assert!(complaints.is_empty(), "{complaints:?}");
}

/// Hydrogen and oxygen count once. If the molar masses of salt and water had independent errors, the
/// ratio would scatter far more than the draws do, and the comparison above would fail.
#[test]
fn an_element_in_salt_and_water_counts_once() {
    let case = cases().into_iter().find(|case| case.name == WEIGHTS_DECIDE);
    let case = case.unwrap();
    let mut draws = Draws::new(7);
    let values: Vec<f64> = (0..DRAWS)
        .map(|_| {
            let salt = case.salt.within_limits(&mut draws).salt;
            let water = case.salt.within_limits(&mut draws).water;
            case.draw_with(Molar { salt, water }, &mut draws)
        })
        .collect();
    let (_, sd, of_sd) = moments(&values);
    let (_, uncertainty) = case.worked_out();
    assert!(sd > 1.5 * uncertainty, "{sd} {uncertainty}");
    assert!(sd - uncertainty > 100.0 * of_sd, "{sd} {uncertainty}");
}
