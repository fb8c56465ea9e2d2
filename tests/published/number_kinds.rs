//! The examples about numbers worked out, kind by kind: rounding, figures, uncertainty, spread.

#[cfg(feature = "class")]
use effloresce::class::OutlierTest;
use effloresce::element::Edition;
use effloresce::gravimetry::{Method, Weighings};
use effloresce::number::{Measured, Rounded, Stated, TieRule};
use effloresce::{AtomicWeights, Element, Formula, Ratio, Reading};
use serde_json::Value;

use crate::calc::{formula, number, reading};
use crate::data::Example;
use crate::example::{Answer, Answers};

fn put(answers: &mut Answers, key: &str, answer: Answer) {
    answers.insert(key.to_owned(), answer);
}

/// A rounded value: held to what is printed digit by digit, final zeros too.
fn rounded(value: &Rounded) -> Answer {
    Answer::Written(value.value(), value.to_string())
}

#[track_caller]
fn float(value: f64) -> Answer {
    Answer::Number(Ratio::from_float(value).unwrap())
}

#[track_caller]
pub(crate) fn work_out(example: &Example) -> Answers {
    match example.kind.as_str() {
        "round_sig" => {
            let figures = example.inputs["significant_figures"].as_u64().unwrap();
            let figures = u32::try_from(figures).unwrap();
            both_rules(example, |value, ties| value.to_figures(figures, ties))
        }
        "round_step" => {
            let step = number(example.text("step"));
            both_rules(example, |value, ties| {
                value.to_multiple(&step, ties).unwrap()
            })
        }
        "round_to_uncertainty" => round_to_uncertainty(example),
        "sigfig_operation" => figures_of_one_operation(example),
        "sigfig_mixed" => figures_of_a_density(example),
        "uncertainty_propagation" => propagated(example),
        "molar_mass_uncertainty" => molar_mass_uncertainty(example),
        #[cfg(feature = "class")]
        "t_critical" | "t_interval" => spread::t(example),
        #[cfg(feature = "class")]
        "descriptive" => spread::descriptive(example),
        #[cfg(feature = "class")]
        "grubbs_critical" => outlier::critical(example, OutlierTest::Grubbs),
        #[cfg(feature = "class")]
        "dixon_critical" => outlier::critical(example, OutlierTest::Dixon),
        #[cfg(feature = "class")]
        "outlier_test" => outlier::test(example),
        #[cfg(feature = "class")]
        "generalized_esd" => outlier::several(example),
        other => panic!("{}: no rule for {other}", example.id),
    }
}

fn both_rules(example: &Example, round: impl Fn(&Ratio, TieRule) -> Rounded) -> Answers {
    let mut answers = Answers::new();
    let value = number(example.text("value"));
    let even = round(&value, TieRule::Even);
    let away = round(&value, TieRule::AwayFromZero);
    let id = &example.id;
    let differ = even.to_string() != away.to_string();
    assert_eq!(
        (even.ties_differ(), away.ties_differ()),
        (differ, differ),
        "{id}"
    );
    // OpenStax and Harris state ties to even; a row of the national conventions names its rule.
    let by_the_source = match example.inputs["rule"].as_str() {
        Some("half-up") => &away,
        None | Some("half-even") => &even,
        Some(other) => panic!("{id}: no tie rule {other}"),
    };
    put(&mut answers, "rounded", rounded(by_the_source));
    for key in ["half_even", "rounded_half_even"] {
        put(&mut answers, key, rounded(&even));
    }
    for key in ["half_up", "rounded_half_up"] {
        put(&mut answers, key, rounded(&away));
    }
    answers
}

fn round_to_uncertainty(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let uncertainty = number(example.text("u")).to_f64();
    let stated = Stated::new(&number(example.text("value")), uncertainty).unwrap();
    put(&mut answers, "value", rounded(stated.value()));
    put(&mut answers, "u", rounded(stated.uncertainty()));
    answers
}

fn measured(text: &str) -> Measured {
    Measured::from(&reading(text))
}

fn written(value: &Measured) -> Answer {
    let shown = value.written(TieRule::Even).to_string();
    Answer::Written(value.value().clone(), shown)
}

fn figures_of_one_operation(example: &Example) -> Answers {
    let operands: Vec<Measured> = if example.has("factors") {
        let factors = example.list("factors");
        factors.into_iter().map(measured).collect()
    } else {
        ["a", "b"].map(|key| measured(example.text(key))).to_vec()
    };
    let operation = example.text("operation");
    let result = operands
        .into_iter()
        .reduce(|a, b| match operation {
            "add" => &a + &b,
            "subtract" => &a - &b,
            "multiply" => &a * &b,
            "divide" => a.checked_div(&b).unwrap(),
            other => panic!("{}: no operation {other}", example.id),
        })
        .unwrap();
    Answers::from([("result".to_owned(), written(&result))])
}

fn figures_of_a_density(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let (last, first) = ("volume_final_mL", "volume_initial_mL");
    let volume = &measured(example.text(last)) - &measured(example.text(first));
    let density = measured(example.text("mass_g")).checked_div(&volume);
    put(&mut answers, "volume_mL", written(&volume));
    put(&mut answers, "density", written(&density.unwrap()));
    answers
}

/// The law of propagation for independent inputs (JCGM 100:2008, 5.1.2).
///
/// The crate combines uncertainties in a dehydration only, so the partial derivatives of the other
/// expressions stand here, and the crate writes the result down; a single weighing and a molar
/// mass are the crate's own.
fn propagated(example: &Example) -> Answers {
    let expression = example.text("expression");
    if expression == "rep + drift + read" {
        return one_weighing(example);
    }
    let input = |name: &str| {
        let both = example.list(name);
        (number(both[0]), number(both[1]).to_f64())
    };
    let (value, parts) = match expression {
        "I * t" => {
            let ((i, u_i), (t, u_t)) = (input("I"), input("t"));
            let parts = vec![t.to_f64() * u_i, i.to_f64() * u_t];
            (&i * &t, parts)
        }
        "10^(-pH)" => {
            let (ph, u) = input("pH");
            let value = 10_f64.powf(-ph.to_f64());
            let parts = vec![std::f64::consts::LN_10 * value * u];
            (Ratio::from_float(value).unwrap(), parts)
        }
        "A + B" => {
            let ((a, u_a), (b, u_b)) = (input("A"), input("B"));
            (&a + &b, vec![u_a, u_b])
        }
        "A + B - C" => {
            let ((a, u_a), (b, u_b), (c, u_c)) = (input("A"), input("B"), input("C"));
            (&(&a + &b) - &c, vec![u_a, u_b, u_c])
        }
        "1000*m*P/(M*V)*rep" => {
            let above = ["m_g", "P", "rep"].map(input);
            let below = ["M", "V_mL"].map(input);
            let product = |all: &[(Ratio, f64)]| {
                let values = all.iter().map(|(value, _)| value);
                values.fold(Ratio::ONE, |product, value| &product * value)
            };
            let quotient = product(&above).checked_div(&product(&below)).unwrap();
            let value = &quotient * &Ratio::from(1000);
            let size = value.to_f64();
            let inputs = above.iter().chain(&below);
            let parts = inputs.map(|(v, u)| size * u / v.to_f64()).collect();
            (value, parts)
        }
        other => panic!("{}: no rule for {other}", example.id),
    };
    let uncertainty = quadrature(&parts);
    let stated = Stated::new(&value, uncertainty).unwrap();
    let mut answers = Answers::new();
    // A printed power of ten has a figure before its point; the rest is printed in full.
    let scientific = |printed: &Value, rounded: &Rounded, exact: Ratio| match printed.as_str() {
        Some(text) if text.contains('e') => Answer::Written(exact, rounded.to_scientific()),
        _ => Answer::Number(exact),
    };
    let exact = Ratio::from_float(uncertainty).unwrap();
    let printed = &example.expected;
    let answer = scientific(&printed["u"], stated.uncertainty(), exact);
    put(&mut answers, "u", answer);
    let size = value.to_f64();
    let answer = scientific(&printed["value"], stated.value(), value);
    put(&mut answers, "value", answer);
    put(&mut answers, "u_relative", float(uncertainty / size));
    answers
}

fn quadrature(parts: &[f64]) -> f64 {
    parts.iter().map(|part| part * part).sum::<f64>().sqrt()
}

/// A weighing's repeatability, the limits of its drift and of its display: what a method is told
/// of its balance. Any bench will do; the budget gives the uncertainty of each reading.
fn one_weighing(example: &Example) -> Answers {
    let float_of = |key: &str| number(example.text(key)).to_f64();
    let half = number(example.text("readability_half_width"));
    let division = (&half * &Ratio::from(2)).to_plain();
    for key in ["drift_distribution", "readability_distribution"] {
        assert_eq!(example.text(key), "rectangular", "{}", example.id);
    }
    let method = Method::new()
        .readability(reading(&division))
        .and_then(|m| m.balance_repeatability(float_of("repeatability_u")))
        .and_then(|m| m.balance_linearity(float_of("drift_half_width")))
        .unwrap();
    let [c, b, a] = ["0.3240", "1.3240", "0.8240"].map(reading);
    let run = method.dehydration(&formula("MgSO4"), &Weighings::new(c, b, [a]));
    let run = run.unwrap();
    let readings = &run.budget().contributions()[..3];
    let [first, ..] = readings else { panic!() };
    for one in readings {
        let (own, other) = (one.standard_uncertainty(), first.standard_uncertainty());
        assert_eq!(own.to_bits(), other.to_bits(), "{}", one.input());
    }
    Answers::from([("u".to_owned(), float(first.standard_uncertainty()))])
}

/// Limits of all atoms of an element together, each over √3, in quadrature.
fn from_limits(salt: &Formula, limit: impl Fn(Element) -> f64) -> f64 {
    let composition = salt.composition().unwrap();
    let parts: Vec<f64> = composition
        .iter()
        .map(|(atom, count)| count.to_f64() * limit(atom.element()) / 3_f64.sqrt())
        .collect();
    quadrature(&parts)
}

fn molar_mass_uncertainty(example: &Example) -> Answers {
    let salt = formula(example.text("formula"));
    let given = example.inputs["atomic_weights"].as_object().unwrap();
    let printed = |element: Element, which: usize| {
        let row = &given[&element.to_string()];
        row[which].as_str().unwrap().to_owned()
    };
    let table = given.keys().fold(AtomicWeights::default(), |table, key| {
        let element: Element = key.parse().unwrap();
        let weight: Reading = reading(&printed(element, 0));
        table.with(element, weight).unwrap()
    });
    let mass = salt.molar_mass(&table).unwrap();
    let uncertainty = from_limits(&salt, |element| number(&printed(element, 1)).to_f64());
    // A weight given by hand has no limits, so the same rule is held to an edition's limits.
    let edition = AtomicWeights::new(Edition::Iupac2021);
    let own = salt.molar_mass(&edition).unwrap().uncertainty();
    let limits = from_limits(&salt, |e| edition.weight(e).unwrap().limit().to_f64());
    assert!((own / limits - 1.0).abs() < 1e-12, "{own} {limits}");
    let stated = Stated::new(&mass.exact(), uncertainty).unwrap();
    let mut answers = Answers::new();
    let exact = Ratio::from_float(uncertainty).unwrap();
    let shown = stated.uncertainty().to_string();
    put(&mut answers, "u", Answer::Written(exact, shown));
    let shown = stated.value().to_string();
    let value = mass.exact().clone();
    put(&mut answers, "molar_mass", Answer::Written(value, shown));
    answers
}

/// The class's statistics.
#[cfg(feature = "class")]
mod spread {
    use effloresce::class::{Pooled, Statistics};

    use super::*;

    /// Five benches or more with this mean and this standard deviation exactly, spread by pairs.
    fn benches(n: u64, mean: &Ratio, sd: &Ratio) -> Vec<Ratio> {
        // With k pairs at ± d: 2 k d² = (n − 1) s². An odd number has one at the mean, so that
        // d = s; an even one takes two at ± e besides, for the s² that is left over.
        let pairs = (n - 1) / 2;
        let mut values: Vec<Ratio> = (0..pairs).flat_map(|_| [mean + sd, mean - sd]).collect();
        match n - 2 * pairs {
            1 => values.push(mean.clone()),
            // 2 e² = s²: not rational, so to fifteen figures.
            _ => {
                let e = Ratio::from_float(sd.to_f64() / 2_f64.sqrt()).unwrap();
                values.extend([mean + &e, mean - &e]);
            }
        }
        values
    }

    /// The factor of Student's t that the interval of so many benches holds.
    #[track_caller]
    fn factor(n: u64, mean: &Ratio, sd: &Ratio) -> (f64, f64) {
        let pooled = Pooled::of(&benches(n, mean, sd));
        assert_eq!((pooled.n() as u64, pooled.mean()), (n, Some(mean)));
        let own = pooled.sd().unwrap();
        assert!((own / sd.to_f64() - 1.0).abs() < 1e-14, "{own}");
        let (low, high) = pooled.interval().unwrap();
        let half = (high - low) / 2.0;
        assert!(((low + high) / 2.0 - mean.to_f64()).abs() < 1e-12);
        (half * (n as f64).sqrt() / own, half)
    }

    pub(super) fn t(example: &Example) -> Answers {
        let whole = |key: &str| example.inputs[key].as_u64();
        assert_eq!(whole("confidence_percent"), Some(95), "{}", example.id);
        let mut answers = Answers::new();
        let (t, half) = match whole("df") {
            Some(df) => factor(df + 1, &Ratio::ZERO, &Ratio::ONE),
            None => {
                let (mean, sd) = (number(example.text("mean")), number(example.text("sd")));
                factor(whole("n").unwrap(), &mean, &sd)
            }
        };
        put(&mut answers, "t", float(t));
        put(&mut answers, "half_width", float(half));
        answers
    }

    pub(super) fn descriptive(example: &Example) -> Answers {
        let values: Vec<Ratio> = example.list("data").into_iter().map(number).collect();
        let pooled = Pooled::of(&values);
        let (least, most) = (values.iter().min(), values.iter().max());
        let mut answers = Answers::new();
        let mut put = |key: &str, value: Ratio| put(&mut answers, key, Answer::Number(value));
        put("sum", values.iter().cloned().sum());
        put("range", most.unwrap() - least.unwrap());
        put("mean", pooled.mean().unwrap().clone());
        put("median", pooled.median().unwrap().clone());
        let found = Statistics::of(&values, 0.95).unwrap();
        assert_eq!(Some(found.mean()), pooled.mean());
        let (sd, root) = (found.sd().unwrap(), (found.n() as f64).sqrt());
        let mut put = |key: &str, value: f64| put(key, Ratio::from_float(value).unwrap());
        put("sd", sd);
        put("sem", sd / root);
        put("rsd_percent", 100.0 * sd / found.mean().to_f64());
        put("rsem_percent", 100.0 * sd / root / found.mean().to_f64());
        answers
    }
}

/// Values far from the others.
#[cfg(feature = "class")]
mod outlier {
    use effloresce::class::{Statistics, Tails};

    use super::*;

    /// The critical values of one number of values, one for each significance in the row.
    pub(super) fn critical(example: &Example, test: OutlierTest) -> Answers {
        let n = example.inputs["n"].as_u64().unwrap();
        let n = usize::try_from(n).unwrap();
        let tails = match example.inputs["tails"].as_u64() {
            Some(1) => Tails::One,
            Some(2) => Tails::Two,
            other => panic!("{}: {other:?} tails", example.id),
        };
        let at = |significance: &str| {
            let level = (&Ratio::ONE - &number(significance)).to_f64();
            float(test.critical(n, level, tails).unwrap())
        };
        let mut answers = Answers::new();
        if example.has("alphas") {
            for (place, significance) in example.list("alphas").into_iter().enumerate() {
                put(&mut answers, &format!("critical/{place}"), at(significance));
            }
        } else {
            for significance in ["0.05", "0.01"] {
                put(
                    &mut answers,
                    &format!("alpha_{significance}"),
                    at(significance),
                );
            }
        }
        answers
    }

    /// The steps of the generalised test, and the number of outliers.
    pub(super) fn several(example: &Example) -> Answers {
        let values: Vec<Ratio> = example.list("data").into_iter().map(number).collect();
        let found = Statistics::of(&values, 0.95).unwrap();
        let steps = found.generalized_esd();
        let last = steps.iter().rposition(|s| s.is_outlier(Tails::Two));
        let outliers = Ratio::from(last.map_or(0, |last| last as u64 + 1));
        let mut answers = Answers::new();
        put(&mut answers, "outliers", Answer::Number(outliers));
        for (place, step) in steps.iter().enumerate() {
            let statistic = float(step.statistic().unwrap());
            put(&mut answers, &format!("R/{place}"), statistic);
            let critical = float(step.critical(Tails::Two));
            put(&mut answers, &format!("critical/{place}"), critical);
        }
        answers
    }

    pub(super) fn test(example: &Example) -> Answers {
        let values: Vec<Ratio> = example.list("data").into_iter().map(number).collect();
        let found = Statistics::of(&values, 0.95).unwrap();
        let suspect = number(example.text("suspect"));
        let mut answers = Answers::new();
        put(&mut answers, "mean", Answer::Number(found.mean().clone()));
        put(&mut answers, "sd", float(found.sd().unwrap()));
        let grubbs = found.grubbs().unwrap();
        assert_eq!(grubbs.value(), Some(&suspect), "{}", example.id);
        put(&mut answers, "G", float(grubbs.statistic().unwrap()));
        for (key, tails) in [
            ("G_crit_two_tailed_0.05", Tails::Two),
            ("G_crit_one_tailed_0.05", Tails::One),
        ] {
            put(&mut answers, key, float(grubbs.critical(tails)));
        }
        let reject = grubbs.is_outlier(Tails::Two);
        put(&mut answers, "reject", Answer::Flag(reject));
        if let Some(dixon) = found.dixon() {
            assert_eq!(dixon.value(), Some(&suspect), "{}", example.id);
            assert_eq!(dixon.is_outlier(Tails::Two), reject, "{}", example.id);
            put(&mut answers, "Q", float(dixon.statistic().unwrap()));
            let critical = float(dixon.critical(Tails::Two));
            put(&mut answers, "Q_crit_book", critical);
        }
        answers
    }
}
