//! Heats of hydration, from the numbers and formulas or names in the prompt.

use effloresce::Formula;
use effloresce::exercise::{Exercise, Exercises, Field, Kind, Level};

use crate::paper::{formulas, molar_mass, numbers, waters};

fn between<'p>(prompt: &'p str, before: &str, after: &str) -> &'p str {
    let rest = prompt.split_once(before).expect(prompt).1;
    rest.split_once(after).expect(prompt).0
}

/// The salt and its hydrate.
fn solids(prompt: &str) -> [String; 2] {
    if prompt.contains("Write the formulas") {
        let salt = between(prompt, "\u{a0}g of anhydrous ", " takes up");
        let hydrate = between(prompt, "It becomes ", ". Write");
        return [salt, hydrate].map(|name| Formula::from_name(name).unwrap().0.to_string());
    }
    let found = formulas(prompt);
    [found[0], found[1]].map(String::from)
}

/// Every enthalpy in a prompt is negative.
fn solve(prompt: &str, _: &Exercise) -> f64 {
    let [salt, hydrate] = solids(prompt);
    let given = numbers(prompt);
    let amount = given[0] / molar_mass(&salt);
    let water = amount * waters(&hydrate) * molar_mass("H2O");
    if prompt.contains("Work out the mass of water") {
        return water;
    }
    if prompt.contains("standard enthalpy of formation") {
        let [of_salt, of_hydrate, of_water] = [given[1], given[2], given[3]];
        let enthalpy = of_salt + waters(&hydrate) * of_water - of_hydrate;
        return match prompt.contains("for each mole") {
            true => enthalpy,
            false => enthalpy * amount,
        };
    }
    if prompt.contains("rise of temperature") {
        let [all, enthalpy, of_hydrate, of_water] = [given[1], given[2], given[3], given[4]];
        let capacity = amount * of_hydrate + (all - water) * of_water;
        return 1000.0 * amount * enthalpy / capacity;
    }
    let enthalpy = match prompt.contains("g of water.") {
        true => given[2],
        false => given[1],
    };
    -amount * enthalpy
}

#[test]
fn prompts_are_solved_again() {
    super::solve_again(Kind::Heat, &[1, 2, 3], solve);
}

#[test]
fn problems_are_various_and_their_options_fair() {
    crate::sets::are_various(Kind::Heat);
    crate::sets::have_fair_options(Kind::Heat);
}

/// A number of a prompt is in the request, or among the values that the prompt gives with their sources.
#[test]
fn every_number_has_its_place() {
    let set = Exercises::new(6).kinds([Kind::Heat]).set(200).unwrap();
    let mut forms = std::collections::BTreeSet::new();
    for problem in set.problems() {
        let request = problem.request();
        let mut known: Vec<f64> = Vec::new();
        for (_, field) in request.fields() {
            if let Field::Text(text) = field {
                known.extend(text.parse::<f64>().ok());
            }
        }
        for given in request.given() {
            // A minus sign in words, a hyphen for programs.
            let value = given.value().replace('-', "−");
            let number = format!("{value}\u{a0}{}", given.unit());
            assert!(problem.prompt().contains(&number), "{}", problem.prompt());
            assert!(!given.source().is_empty());
            known.push(given.value().parse::<f64>().unwrap().abs());
        }
        let of_prompt = numbers(problem.prompt());
        let (_, of_prompt) = of_prompt.split_last().unwrap();
        assert!(
            of_prompt.iter().all(|number| known.contains(number)),
            "{}: {known:?}",
            problem.prompt()
        );
        forms.insert(problem.form());
    }
    assert_eq!(forms.len(), 9, "{forms:?}");
}

#[test]
fn what_salts_and_avoid_leave_decides() {
    let heats = |salt: &str| {
        let exercises = Exercises::new(5).kinds([Kind::Heat]);
        exercises.salts([salt.parse::<Formula>().unwrap()]).set(12)
    };
    for salt in ["BaCl2·2H2O", "CuSO4·5H2O"] {
        let set = heats(salt).unwrap();
        let asked = salt.split('·').next().unwrap();
        let about = |problem: &Exercise| format!("{:?}", problem.request().fields());
        assert!(
            set.problems()
                .iter()
                .all(|problem| about(problem).contains(asked))
        );
    }
    // Each of the forms can be drawn of a salt with many waters.
    let exercises = Exercises::new(5)
        .kinds([Kind::Heat])
        .salts(["MgSO4".parse().unwrap()]);
    let set = exercises.set(100).unwrap();
    let forms: std::collections::BTreeSet<&str> =
        set.problems().iter().map(Exercise::form).collect();
    assert!(forms.len() >= 8, "{forms:?}");
    let error = heats("KAl(SO4)2").unwrap_err().to_string();
    assert_eq!(
        error,
        "`salts` (KAl(SO4)2) leaves no salt with a known heat of hydration"
    );
    let avoiding = Exercises::new(5)
        .kinds([Kind::Heat])
        .avoid(["MgCl2".parse().unwrap()]);
    let set = avoiding.set(100).unwrap();
    assert!(
        set.problems()
            .iter()
            .all(|problem| !problem.prompt().contains("MgCl2"))
    );
    assert!(
        set.problems()
            .iter()
            .all(|problem| !problem.prompt().contains("CuSO4"))
    );
}

/// The first stage of help compares both, and the working decides.
#[test]
fn the_first_help_does_not_say_what_is_used_up() {
    let exercises = Exercises::new(15)
        .kinds([Kind::Heat])
        .level(Level::Judgement);
    let mut judged = 0;
    for problem in exercises.set(40).unwrap().problems() {
        if !["heat_with_much_water", "water_taken_up_of_much"].contains(&problem.form()) {
            continue;
        }
        judged += 1;
        let [salt, _] = solids(problem.prompt());
        let help = &problem.help()[0];
        for mass in [format!("m({salt})"), "m(H2O)".into()] {
            assert!(help.contains(&mass), "{help}");
        }
        let mut steps = problem.working().steps().iter();
        let used_up = steps.find(|step| step.what() == "used up").unwrap();
        assert_eq!(used_up.result(), salt);
    }
    assert!(judged > 10);
}

/// Only crystals that hardly dissolve stay in the water that is left over, and each value has a source.
#[test]
fn the_rise_of_temperature_is_of_crystals_that_do_not_dissolve() {
    let exercises = Exercises::new(16)
        .kinds([Kind::Heat])
        .level(Level::Judgement);
    let set = exercises.set(60).unwrap();
    let rises = set
        .problems()
        .iter()
        .filter(|problem| problem.form() == "temperature_rise");
    let rises: Vec<&Exercise> = rises.collect();
    assert!(rises.len() > 5);
    for problem in rises {
        assert!(
            problem.prompt().contains("CaSO4·2H2O"),
            "{}",
            problem.prompt()
        );
        let mut given = problem.request().given().iter();
        assert!(given.all(|given| !given.source().contains("memory")));
    }
    let without = exercises.avoid(["CaSO4".parse().unwrap()]).set(40).unwrap();
    let mut problems = without.problems().iter();
    assert!(problems.all(|problem| problem.form() != "temperature_rise"));
}
