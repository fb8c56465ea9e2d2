//! The examples worked out, kind by kind.

use effloresce::gravimetry::{Limits, Method, WeighingUsed, Weighings};
use effloresce::number::TieRule;
use effloresce::{Element, Ratio};
use serde_json::Value;

use crate::calc::{
    OF_1990S, OF_2005, Run, degree_at, dehydrate, formula, hundred, molar, molar_with, net, number,
    over, percent, reading, series, water_in, weights, with,
};
use crate::data::{Example, Use};
use crate::example::{Answer, Answers, places};
use crate::{amount_kinds, balancing, empirical_kinds, gravimetric_kinds, names, number_kinds};

pub(crate) fn put(answers: &mut Answers, key: &str, value: Ratio) {
    answers.insert(key.to_owned(), Answer::Number(value));
}

pub(crate) fn text(answers: &mut Answers, key: &str, value: impl Into<String>) {
    answers.insert(key.to_owned(), Answer::Text(value.into()));
}

fn flag(answers: &mut Answers, key: &str, value: bool) {
    answers.insert(key.to_owned(), Answer::Flag(value));
}

#[track_caller]
pub(crate) fn work_out(example: &Example) -> Answers {
    match example.kind.as_str() {
        "balance" => balancing::work_out(example),
        "molar_mass" => molar_mass(example),
        "mass_from_moles" => mass_from_moles(example),
        "percent_ligand" => percent_ligand(example),
        "percent_water" => percent_water(example),
        "hydrate_mass_loss" => hydrate_mass_loss(example),
        "identify_metal_from_hydrate" => identify_metal(example),
        "constant_mass_series" => constant_mass_series(example),
        "heating_series" => heating_series(example),
        "degree_from_percent" => degree_from_percent(example),
        "anhydrous_mass_expected" => anhydrous_mass_expected(example),
        "percent_water_from_masses" => percent_water_from_masses(example),
        "tg_stage" => tg_stage(example),
        "hydrate_name" => names::formula_of(example),
        "prefix" => names::prefix_of(example),
        "percent_composition" => empirical_kinds::percent_composition(example),
        "empirical_formula" | "molecular_formula" => empirical_kinds::from_parts(example),
        "combustion_analysis" => empirical_kinds::combustion(example),
        "empirical_formula_by_titration" => empirical_kinds::titration(example),
        "identify_element_from_oxide" => empirical_kinds::element_of_oxide(example),
        "yield" => amount_kinds::percent_yield(example),
        "mass_to_mass" => amount_kinds::mass_to_mass(example),
        "limiting_particles" => amount_kinds::particles(example),
        "gravimetric_factor" => gravimetric_kinds::gravimetric_factor(example),
        "precipitation" => gravimetric_kinds::precipitation(example),
        "precipitation_problem" => gravimetric_kinds::problem(example),
        "volatilization_difference" => gravimetric_kinds::volatilization(example),
        "thermogravimetry" => gravimetric_kinds::thermogravimetry(example),
        "thermogravimetry_theory" => gravimetric_kinds::thermogravimetry_theory(example),
        "mixture_loss_on_drying" | "mixture_from_reagent" | "mixture_conversion" => {
            gravimetric_kinds::mixture(example)
        }
        "constant_mass_criterion" => gravimetric_kinds::criterion(example),
        _ => number_kinds::work_out(example),
    }
}

fn molar_mass(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let text = example.text("formula");
    put(&mut answers, "molar_mass_g_per_mol", molar(text));
    for (key, old) in [
        ("with_1990s_weights", with(&OF_1990S)),
        ("with_2005_weights", with(&OF_2005)),
    ] {
        if example.recomputed[key].is_null() {
            continue;
        }
        let mass = molar_with(text, &old);
        // The weights of the time must account for the printed figure.
        let printed = example.expected["molar_mass_g_per_mol"].as_str().unwrap();
        let apart = (&mass - &number(printed)).abs();
        let unit = number(&format!("1.5e-{}", places(printed)));
        assert!(apart <= unit, "{}: {mass} for {printed}", example.id);
        put(&mut answers, key, mass);
    }
    if !example.recomputed["percent_water"].is_null() {
        put(&mut answers, "percent_water", water_in(text));
    }
    answers
}

fn mass_from_moles(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let mass = &molar(example.text("formula")) * &number(example.text("moles"));
    put(&mut answers, "mass_g", mass);
    if example.has("source_notation") {
        // The source writes the hydrate in another way; it is the same substance.
        let other = formula(example.text("source_notation"));
        let table = weights();
        let same = other.molar_mass(&table).unwrap();
        assert_eq!(same.exact(), molar(example.text("formula")));
    }
    answers
}

fn percent_ligand(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let count = Ratio::from(example.inputs["count"].as_i64().unwrap());
    let ligands = &molar(example.text("ligand")) * &count;
    let whole = molar(example.text("formula"));
    put(&mut answers, "percent", percent(&ligands, &whole));
    answers
}

fn percent_water(example: &Example) -> Answers {
    let mut answers = Answers::new();
    put(
        &mut answers,
        "percent_water",
        water_in(example.text("formula")),
    );
    put(&mut answers, "molar_mass", molar(example.text("formula")));
    answers
}

/// The weighings of a row, in whichever form it gives them.
fn weighings(example: &Example) -> Weighings {
    if example.has("tare_g") {
        let heated = example.list("after_heating_g");
        Weighings::new(
            reading(example.text("tare_g")),
            reading(example.text("tare_hydrate_g")),
            heated.into_iter().map(reading).collect::<Vec<_>>(),
        )
    } else {
        net(example.text("hydrate_g"), example.text("anhydrous_g"))
    }
}

/// The usual quantities of a dehydration.
fn quantities(answers: &mut Answers, run: &Run) {
    let masses = [
        ("hydrate_g", &run.hydrate),
        ("anhydrous_g", &run.residue),
        ("water_g", &run.water),
        ("mol_salt", &run.mol_salt),
        ("mol_water", &run.mol_water),
    ];
    for (key, mass) in masses {
        if let Some(mass) = mass {
            put(answers, key, mass.clone());
        }
    }
    put(answers, "percent_water", run.percent.clone());
    put(answers, "ratio", run.ratio.clone());
    put(answers, "x", run.nearest.clone());
    text(answers, "formula", run.formula.clone());
}

fn hydrate_mass_loss(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let salt = example.text("salt");
    if example.has("CO2_g") {
        // One carbon dioxide for each formula unit of the carbonate tells how much salt there is.
        let hydrate = number(example.text("hydrate_g"));
        let salts = over(&number(example.text("CO2_g")), &molar("CO2"));
        let anhydrous = &salts * &molar(salt);
        let water = &hydrate - &anhydrous;
        let waters = over(&water, &molar("H2O"));
        let share = percent(&water, &hydrate);
        let run = degree_at(salt, &share.to_places(24, TieRule::Even).to_string());
        quantities(&mut answers, &run);
        put(&mut answers, "mol_CO2", salts.clone());
        put(&mut answers, "mol_salt", salts);
        put(&mut answers, "mol_water", waters);
        put(&mut answers, "hydrate_g", hydrate);
        put(&mut answers, "anhydrous_g", anhydrous);
        put(&mut answers, "water_g", water);
    } else if example.has("residue") {
        // Ignition goes further than dehydration: half a molecule of water more leaves HPO4.
        let run = dehydrate(
            salt,
            &net(example.text("hydrate_g"), example.text("residue_g")),
            Method::new(),
        );
        let residue = molar(example.text("residue"));
        let salts = &over(&number(example.text("residue_g")), &residue) * &Ratio::from(2);
        let anhydrous = &salts * &molar(salt);
        let water = &number(example.text("hydrate_g")) - &anhydrous;
        let ratio = over(&over(&water, &molar("H2O")), &salts);
        let whole = molar("Na2HPO4·12H2O");
        let lost = &whole - &over(&residue, &Ratio::from(2));
        let modern = percent(&lost, &whole);
        put(&mut answers, "percent_water", run.percent.clone());
        put(&mut answers, "percent_loss", run.percent);
        put(&mut answers, "calculated_percent", modern.clone());
        put(&mut answers, "calculated_percent_modern", modern);
        put(&mut answers, "mol_Na2HPO4", salts);
        put(&mut answers, "anhydrous_Na2HPO4_g", anhydrous);
        put(&mut answers, "x", ratio.to_places(0, TieRule::Even).value());
        put(&mut answers, "ratio_crystal_water", ratio);
    } else {
        let run = dehydrate(salt, &weighings(example), Method::new());
        quantities(&mut answers, &run);
        // Sound data speak for the hydrate that the source names; 6.43 waters speak for none.
        let sound = example.use_ == Use::Exact;
        let spoken_for = sound.then_some(&run.formula);
        assert_eq!(run.resolved.as_ref(), spoken_for, "{}", example.id);
        text(&mut answers, "ratio_integers", format!("{}:1", run.nearest));
        if example.expected["x"].is_null() {
            put(&mut answers, "x", run.ratio);
        }
    }
    answers
}

fn identify_metal(example: &Example) -> Answers {
    let mut answers = Answers::new();
    // The source's molar mass of water goes with an oxygen of 16.000.
    let table = with(&[("O", "16.000")]);
    assert_eq!(
        molar_with("H2O", &table),
        number(example.text("given_M_water"))
    );
    let rest = example.text("formula").strip_prefix('M').unwrap();
    let waters = formula(rest).waters().unwrap();
    let water = number(example.text("water_g"));
    let amount = over(&over(&water, &molar_with("H2O", &table)), &waters);
    let whole = over(&number(example.text("hydrate_g")), &amount);
    let metal = &whole - &molar_with(rest, &table);
    let nearest = Element::ALL
        .iter()
        .filter_map(|element| Some((element, table.weight(*element).ok()?)))
        .min_by_key(|(_, weight)| (weight.value() - &metal).abs());
    text(&mut answers, "metal", nearest.unwrap().0.symbol());
    put(&mut answers, "atomic_weight_M", metal);
    answers
}

/// Milligrams from one weighing to the next.
fn steps(masses: &[&str]) -> Vec<Ratio> {
    let pairs = masses.windows(2);
    pairs
        .map(|pair| &(&number(pair[0]) - &number(pair[1])) * &Ratio::from(1000))
        .collect()
}

fn constant_mass_series(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let masses = example.list("weighings_g");
    // The manual stops where two weighings agree within 0.4 mg and takes their mean.
    let (reached, mass) = series(&masses, "0.0004", WeighingUsed::MeanOfLastTwo);
    assert_eq!(reached, Some(true), "{}", example.id);
    let (before, _) = series(&masses[..3], "0.0004", WeighingUsed::Last);
    assert_eq!(before, Some(false), "{}", example.id);
    let last = steps(&masses).pop().unwrap();
    put(&mut answers, "constant_weight_g", mass);
    put(&mut answers, "last_difference_mg", last.abs());
    answers
}

fn heating_series(example: &Example) -> Answers {
    let mut answers = Answers::new();
    if example.has("tare_g") {
        let run = dehydrate(example.text("salt"), &weighings(example), Method::new());
        assert_eq!(run.reached, Some(true), "{}", example.id);
        quantities(&mut answers, &run);
    }
    let key = ["after_heating_g", "weighings_g"];
    let key = key.into_iter().find(|key| example.has(key)).unwrap();
    let masses = example.list(key);
    for (place, step) in steps(&masses).into_iter().enumerate() {
        // The exam paper's drops are signed; so are these, losses above nought.
        put(&mut answers, &format!("differences_mg/{place}"), step);
    }
    let (reached, mass) = series(&masses, "0.0002", WeighingUsed::Last);
    flag(&mut answers, "constant", reached.unwrap());
    let last = steps(&masses).pop().unwrap();
    put(&mut answers, "last_difference_mg", last.abs());
    put(&mut answers, "gain_mg", -&last);
    let first = number(masses[0]);
    put(
        &mut answers,
        "gain_percent",
        percent(&(&mass - &first), &first),
    );
    put(&mut answers, "constant_mass_g", mass.clone());
    if example.has("taken_g") {
        let taken = number(example.text("taken_g"));
        for (place, weighed) in masses.iter().enumerate() {
            let excess = &(&number(weighed) - &taken) * &Ratio::from(1000);
            put(
                &mut answers,
                &format!("excess_over_taken_mg/{place}"),
                excess,
            );
        }
        put(&mut answers, "taken_g", taken);
    }
    if example.has("start_g") {
        let start = number(example.text("start_g"));
        let left = percent(&mass, &start);
        let theory = percent(&molar("CaO"), &molar("CaCO3"));
        let (lost, to_lose) = (&hundred() - &left, &hundred() - &theory);
        flag(&mut answers, "complete", left <= theory);
        put(&mut answers, "fraction_decomposed", over(&lost, &to_lose));
        put(&mut answers, "residue_percent", left);
        put(&mut answers, "calculated_residue_percent", theory.clone());
        put(&mut answers, "theoretical_residue_percent", theory);
        put(&mut answers, "loss_percent", lost);
        put(&mut answers, "theoretical_loss_percent", to_lose);
    }
    answers
}

fn degree_from_percent(example: &Example) -> Answers {
    let mut answers = Answers::new();
    if example.has("limit_low_percent") {
        limits(example, &mut answers);
    } else if example.has("anhydrous_percent") {
        // What is not anhydrous salt is water.
        let salt = example.text("salt");
        let water: Vec<String> = (example.list("anhydrous_percent").into_iter())
            .map(|content| (&hundred() - &number(content)).to_string())
            .collect();
        let [most, least] = [&water[0], &water[1]].map(|water| degree_at(salt, water).ratio);
        let whole_number_between = least.ceil() <= most.floor();
        let degree = if whole_number_between {
            "fixed"
        } else {
            "variable"
        };
        text(&mut answers, "x", degree);
        put(&mut answers, "x_at_low_content", most);
        put(&mut answers, "x_at_high_content", least);
        let monohydrate = &hundred() - &water_in(&format!("{salt}·H2O"));
        let most_allowed = number(example.list("anhydrous_percent")[1]);
        assert!(monohydrate > most_allowed, "{}: no degree fits", example.id);
        put(
            &mut answers,
            "anhydrous_percent_of_monohydrate",
            monohydrate,
        );
    } else if example.has("percent") {
        from_percentages(example, &mut answers);
    } else {
        let salt = example.text("salt");
        let run = if example.has("hydrate_M") {
            let whole = number(example.text("hydrate_M"));
            let share = percent(&(&whole - &molar(salt)), &whole);
            degree_at(salt, &share.to_places(24, TieRule::Even).to_string())
        } else {
            let key = ["percent_water", "percent_loss"];
            let key = key.into_iter().find(|key| example.has(key)).unwrap();
            degree_at(salt, example.text(key))
        };
        put(
            &mut answers,
            "theoretical_percent_water",
            water_in(&run.formula),
        );
        put(&mut answers, "water_equivalents", run.nearest.clone());
        quantities(&mut answers, &run);
    }
    answers
}

/// Limits that a standard sets to the water of a named hydrate.
fn limits(example: &Example, answers: &mut Answers) {
    let salt = example.text("salt");
    let degree = example.expected["x"].as_str().unwrap();
    let hydrate = formula(&format!("{salt}·{degree}H2O"));
    let theory = water_in(&hydrate.to_string());
    let (low, high) = (
        example.text("limit_low_percent"),
        example.text("limit_high_percent"),
    );
    let printed = example.expected["range_percent"].as_array().unwrap();
    assert_eq!(printed, &[Value::from(low), Value::from(high)]);
    let (at_low, at_high) = (degree_at(salt, low), degree_at(salt, high));
    let limits = Limits::between(reading(low), reading(high)).unwrap();
    let mut inside = limits.compare(&theory).complies();
    let degrees = at_low.ratio..=at_high.ratio;
    assert_eq!(degrees.contains(&number(degree)), inside, "{}", example.id);
    if example.recomputed["ignition_loss_percent"].is_f64() {
        // Ignition leaves the pyrophosphate.
        let ignited = gravimetric_kinds::stages(&hydrate.to_string(), &["Ca2P2O7"]);
        let [stage] = ignited.stages() else {
            panic!("one stage");
        };
        assert_eq!(gravimetric_kinds::gases(stage), "2.5 H2O");
        let loss = stage.percent_lost().clone();
        inside = limits.compare(&loss).complies();
        let all = degree_at(salt, &loss.to_places(24, TieRule::Even).to_string());
        put(
            answers,
            "wrong_x_if_all_counted_as_crystal_water",
            all.ratio,
        );
        put(answers, "ignition_loss_percent", loss);
        put(answers, "crystal_water_percent", theory.clone());
    }
    put(answers, "x", hydrate.waters().unwrap());
    text(answers, "formula", hydrate.to_string());
    put(answers, "theoretical_percent_water", theory.clone());
    flag(answers, "theoretical_inside", inside);
    put(answers, "x_at_low", degrees.start().clone());
    put(answers, "x_at_high", degrees.end().clone());
    answers.insert(
        "range_percent/0".to_owned(),
        Answer::AtLeast(theory.clone()),
    );
    answers.insert("range_percent/1".to_owned(), Answer::AtMost(theory));
}

/// A hydrate from the percentages of its elements and its water.
fn from_percentages(example: &Example, answers: &mut Answers) {
    let given = example.inputs["percent"].as_object().unwrap();
    let printed = |part: &str| given[part].as_str().unwrap();
    let amount = |part: &str| over(&number(printed(part)), &molar(part));
    let reference = amount("S");
    for part in given.keys() {
        put(answers, &format!("mol_per_100g/{part}"), amount(part));
        if part != "S" {
            let ratio = over(&amount(part), &reference);
            put(answers, &format!("ratio_to_S/{part}"), ratio);
        }
    }
    let salt = "ZnSO4";
    let degree = over(&amount("H2O"), &reference);
    let degree = degree.to_places(0, TieRule::Even);
    let hydrate = format!("{salt}·{degree}H2O");
    assert_eq!(degree_at(salt, printed("H2O")).nearest, degree.value());
    // The formula gives the percentages back, rounded as they are printed.
    let whole = molar(&hydrate);
    for (part, count) in [("Zn", 1), ("S", 1), ("O", 4), ("H2O", 7)] {
        let mass = &molar(part) * &Ratio::from(count);
        let share = percent(&mass, &whole).to_places(0, TieRule::Even);
        assert_eq!(share.to_string(), printed(part), "{part}");
    }
    put(answers, "x", degree.value());
    text(answers, "formula", hydrate);
}

fn anhydrous_mass_expected(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let hydrate = example.text("hydrate");
    let salt = hydrate.split_once('·').unwrap().0;
    let (whole, anhydrous) = (molar(hydrate), molar(salt));
    let fraction = over(&anhydrous, &whole);
    put(&mut answers, "anhydrous_fraction", fraction.clone());
    if example.has("anhydrous_percent") {
        for (place, content) in example.list("anhydrous_percent").into_iter().enumerate() {
            let share = over(&number(content), &fraction);
            put(&mut answers, &format!("hydrate_percent/{place}"), share);
        }
    } else if example.has("HCl_N") {
        // Two of acid for one of borate; mol/L times mL are mmol, times g/mol are mg.
        let acid = &number(example.text("HCl_N")) * &number(example.text("mL"));
        let borate = over(&acid, &Ratio::from(2));
        put(&mut answers, "hydrate_mg_per_mL", &borate * &whole);
        put(&mut answers, "anhydrous_mg_per_mL", &borate * &anhydrous);
    } else {
        let parts = number(example.text("hydrate_parts"));
        let left = &parts * &fraction;
        let printed = number(example.expected["anhydrous_parts"].as_str().unwrap());
        let from_parts = percent(&(&parts - &printed), &parts);
        let chlorine = number(example.text("Cl_g"));
        let mass = &over(&parts, &number(example.text("Cl_parts"))) * &chlorine;
        // Two formula units for one molecule of chlorine.
        let units = &over(&chlorine, &molar("Cl2")) * &Ratio::from(2);
        put(&mut answers, "anhydrous_parts", left);
        put(&mut answers, "percent_water_from_parts", from_parts);
        put(&mut answers, "modern_percent_water", water_in(hydrate));
        put(&mut answers, "hydrate_g_per_0.1_g_Cl", mass);
        put(&mut answers, "modern_hydrate_g", &units * &whole);
    }
    answers
}

/// What the old analyses call a salt, as we write it.
const MODERN: [(&str, &str, &str); 4] = [
    ("a2-61", "Pb(C2H3O2)2", "Pb(C2H3O2)2·3H2O"),
    ("a2-62", "KAl(SO4)2", "KAl(SO4)2·12H2O"),
    ("a2-63", "CaC2O4", "CaC2O4·H2O"),
    ("a2-83", "CuSO4", "CuSO4·5H2O"),
];

fn percent_water_from_masses(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let modern = MODERN.iter().find(|(id, ..)| *id == example.id);
    let (_, salt, hydrate) = modern.unwrap();
    let (whole, water) = if let Some(parts) = example.inputs["parts"].as_object() {
        let sum: Ratio = parts
            .values()
            .map(|part| number(part.as_str().unwrap()))
            .sum();
        assert_eq!(sum, number(example.text("total")), "{}", example.id);
        let water = parts
            .iter()
            .find(|(name, _)| name.ends_with(" aq") || name.ends_with(" HO"));
        (
            example.text("total"),
            number(water.unwrap().1.as_str().unwrap()),
        )
    } else {
        (example.text("hydrate_lb"), number(example.text("loss_lb")))
    };
    let residue = (&number(whole) - &water).to_string();
    let run = dehydrate(salt, &net(whole, &residue), Method::new());
    put(&mut answers, "modern_percent_water", water_in(hydrate));
    put(&mut answers, "fraction", over(&run.percent, &hundred()));
    quantities(&mut answers, &run);
    answers
}

/// What a stage of thermogravimetry loses, worked out from the residues before and after it.
fn tg_stage(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let compound = example.text("compound");
    let (salt, _) = compound.split_once('·').unwrap();
    let observed = example.text("observed_percent");
    let residue = example.expected["residue"].as_str();
    let lost = match example.has("lost") {
        true => example.list("lost").join(" + "),
        false => String::new(),
    };
    // The last stage is the one that the row is about.
    let residues: Vec<&str> = match (lost.as_str(), residue) {
        ("1 CO + 1 CO2", Some(residue)) => vec![salt, residue],
        ("1 H2O" | "2 H2O", None) => {
            put(
                &mut answers,
                "x_from_observed",
                degree_at(salt, observed).ratio,
            );
            vec![salt]
        }
        (_, None) if lost.contains("N2H4") => vec![salt.split_once("(N2H4)").unwrap().0],
        _ => vec![example.text("residue")],
    };
    let stages = gravimetric_kinds::stages(compound, &residues);
    let stage = stages.stages().last().unwrap();
    if lost.is_empty() {
        // The rest of the organic acid leaves as vapours that the oxide does not tell.
        let count = number(example.text("residue_per_formula"));
        assert_eq!(*stage.per_start(), count, "{}", example.id);
        assert_eq!(stage.notes()[0].code(), "unknown_loss");
    } else {
        assert_eq!(gravimetric_kinds::gases(stage), lost, "{}", example.id);
        assert_eq!(stage.notes(), []);
    }
    if let Some(residue) = residue {
        assert_eq!(stage.residue().to_string(), residue);
        text(&mut answers, "residue", residue);
    }
    let share = stage.percent_lost().clone();
    let apart = &number(observed) - &share;
    put(&mut answers, "observed_minus_calculated", apart);
    put(&mut answers, "calculated_percent", share);
    put(&mut answers, "M", molar(compound));
    answers
}
