//! A class sheet with a fault and a slip, found again in the printed table by arithmetic of its own.

use std::collections::BTreeMap;

use effloresce::exercise::{Exercise, Exercises, Kind, Level, PartChoice, Solved};

use crate::paper::{formulas, molar_mass, waters};

/// The words of the prompt for a fault, its code, the advice for it, and the code of the advice.
const FAULTS: &[[&str; 4]] = &[
    [
        "water left in the residue",
        "water_left",
        "heat until two weighings agree",
        "heat_again",
    ],
    [
        "a stop at a lower hydrate",
        "stopped_at_lower_hydrate",
        "heat more strongly",
        "heat_more",
    ],
    [
        "moisture taken up on cooling",
        "moisture_taken_up",
        "let it cool under a lid",
        "dry_again",
    ],
    [
        "lost solid",
        "solid_lost",
        "heat gently at first",
        "heat_gently",
    ],
    [
        "decomposition of the salt",
        "decomposed",
        "heat less strongly",
        "heat_less",
    ],
];

/// The words of the prompt for a slip, and its code.
const SLIPS: &[[&str; 2]] = &[
    ["the mole ratio upside down", "ratio_inverted"],
    [
        "a ratio of masses instead of a ratio of amounts",
        "mass_ratio_for_mole_ratio",
    ],
    [
        "a percentage of the residue instead of the hydrate",
        "percent_of_residue",
    ],
    [
        "the percentage of salt instead of water",
        "percent_salt_for_water",
    ],
    [
        "the mass of the hydrate instead of the salt",
        "hydrate_mass_as_salt",
    ],
    ["a weighing from before constant mass", "first_heating_used"],
    [
        "a percentage of the mass with the container",
        "percent_of_gross_mass",
    ],
    ["the losses of several heatings added", "losses_added"],
    ["the loss of the last heating alone", "last_loss_only"],
    [
        "the molar mass of the hydrate instead of the salt",
        "hydrate_molar_mass_for_salt",
    ],
    ["a wrong molar mass of water", "wrong_water_molar_mass"],
    [
        "the mass of the hydrate instead of the water",
        "hydrate_mass_as_water",
    ],
];

/// A line of the table.
struct Bench {
    name: String,
    crucible: f64,
    with_hydrate: f64,
    heated: Vec<f64>,
    /// What the bench reported, as written.
    reported: Vec<(&'static str, String)>,
}

struct Sheet {
    hydrate: String,
    criterion: f64,
    benches: Vec<Bench>,
}

fn sheet(prompt: &str) -> Sheet {
    let mut rows = prompt.lines().filter(|line| line.contains(" | "));
    let head: Vec<&str> = rows.next().unwrap().split(" | ").collect();
    let bench = |row: &str| {
        let cells: Vec<&str> = row.split(" | ").collect();
        assert_eq!(cells.len(), head.len(), "{row}");
        let named: BTreeMap<&str, &str> = head.iter().copied().zip(cells.iter().copied()).collect();
        let number = |name: &str| named[name].parse().unwrap();
        let ordinals = ["first/g", "second/g", "third/g", "fourth/g"];
        let heated = head
            .iter()
            .zip(&cells)
            .filter(|(head, _)| ordinals.contains(head));
        let codes = [
            ("water/g", "water_mass"),
            ("water/%", "percent_water"),
            ("salt/mol", "mol_salt"),
            ("water/mol", "mol_water"),
            ("mole ratio", "ratio"),
        ];
        let reported = codes
            .iter()
            .filter_map(|(head, code)| Some((*code, named.get(head)?.to_string())));
        Bench {
            name: cells[0].into(),
            crucible: number("empty/g"),
            with_hydrate: number("filled/g"),
            heated: heated.filter_map(|(_, cell)| cell.parse().ok()).collect(),
            reported: reported.collect(),
        }
    };
    let (_, after) = prompt.split_once("differ by at most ").unwrap();
    Sheet {
        hydrate: formulas(prompt)[0].into(),
        criterion: after.split('\u{a0}').next().unwrap().parse().unwrap(),
        benches: rows.map(bench).collect(),
    }
}

impl Bench {
    fn last(&self) -> f64 {
        *self.heated.last().unwrap()
    }

    /// The mass of hydrate, of residue and of water.
    fn masses(&self) -> [f64; 3] {
        let (hydrate, residue) = (
            self.with_hydrate - self.crucible,
            self.last() - self.crucible,
        );
        [hydrate, residue, hydrate - residue]
    }

    fn value(&self, quantity: &str, hydrate: &str) -> f64 {
        let [whole, residue, water] = self.masses();
        let salt = residue / molar_mass(hydrate.split('·').next().unwrap());
        match quantity {
            "water_mass" => water,
            "percent_water" => 100.0 * water / whole,
            "mol_salt" => salt,
            "mol_water" => water / molar_mass("H2O"),
            _ => water / molar_mass("H2O") / salt,
        }
    }

    /// The code of the fault that the readings show; `None` if they are as they should be.
    fn fault(&self, sheet: &Sheet) -> Option<&'static str> {
        let expected = waters(&sheet.hydrate);
        let off = self.value("ratio", &sheet.hydrate) / expected - 1.0;
        let before = self
            .heated
            .len()
            .checked_sub(2)
            .map(|index| self.heated[index])
            .unwrap();
        let change = self.last() - before;
        let limit = sheet.criterion + 1e-9;
        match (change, off) {
            (change, _) if change > limit => Some("moisture_taken_up"),
            (change, off) if change < -limit && off < 0.0 => Some("water_left"),
            (change, _) if change < -limit => Some("decomposed"),
            (_, off) if off > 0.03 => Some("solid_lost"),
            (_, off) if off < -0.03 => Some("stopped_at_lower_hydrate"),
            (_, off) => {
                assert!(off.abs() < 0.0101, "{}: {off}", self.name);
                None
            }
        }
    }

    /// The series and the water of a bench, in the words of the sheet.
    fn sign(&self, sheet: &Sheet) -> &'static str {
        let before = self.heated[self.heated.len() - 2];
        let change = self.last() - before;
        let limit = sheet.criterion + 1e-9;
        let less = self.value("ratio", &sheet.hydrate) < waters(&sheet.hydrate);
        match (change > limit, change < -limit, less) {
            (true, _, _) => "the mass is not constant, because it rises at the end",
            (_, true, true) => "the mass still falls, and less water has left than the formula has",
            (_, true, false) => {
                "the mass still falls, and more has left than the water of the formula"
            }
            (_, _, true) => "the mass is constant, but less water has left than the formula has",
            _ => "the mass is constant, but more has left than the water of the formula",
        }
    }

    /// The first reported quantity that does not follow from the readings, with its value as written.
    fn wrong(&self, sheet: &Sheet) -> Option<(&'static str, &str)> {
        let wrong = |(quantity, written): &&(&'static str, String)| {
            let own = self.value(quantity, &sheet.hydrate);
            let error = (written.parse::<f64>().unwrap() - own).abs();
            // The test's table of atomic weights has five significant figures.
            let weights = if quantity.starts_with("mol") || *quantity == "ratio" {
                3e-4 * own
            } else {
                0.0
            };
            error > 0.501 * last_place(written) + weights
        };
        self.reported
            .iter()
            .find(wrong)
            .map(|(quantity, written)| (*quantity, written.as_str()))
    }

    /// The values that a slip gives for a quantity.
    fn slip(&self, code: &str, quantity: &str, sheet: &Sheet) -> Vec<f64> {
        let [whole, residue, water] = self.masses();
        let salt = molar_mass(sheet.hydrate.split('·').next().unwrap());
        let x = self.value("ratio", &sheet.hydrate);
        let losses = || self.heated.iter().map(|mass| self.with_hydrate - mass);
        match (code, quantity) {
            ("ratio_inverted", "ratio") => vec![1.0 / x],
            ("mass_ratio_for_mole_ratio", "ratio") => vec![water / residue],
            ("percent_of_residue", "percent_water") => vec![100.0 * water / residue],
            ("percent_salt_for_water", "percent_water") => vec![100.0 * residue / whole],
            ("percent_of_gross_mass", "percent_water") => vec![100.0 * water / self.with_hydrate],
            ("hydrate_mass_as_salt", "ratio") => vec![x * residue / whole],
            ("hydrate_mass_as_salt", "mol_salt") => vec![whole / salt],
            ("hydrate_molar_mass_for_salt", "mol_salt") => {
                vec![residue / molar_mass(&sheet.hydrate)]
            }
            ("hydrate_molar_mass_for_salt", "ratio") => vec![x * molar_mass(&sheet.hydrate) / salt],
            ("wrong_water_molar_mass", "mol_water") => [
                1.008, 2.016, 15.999, 17.007, 16.0, 17.0, 34.0, 33.006, 34.014,
            ]
            .map(|molar| water / molar)
            .into(),
            ("hydrate_mass_as_water", "mol_water") => vec![whole / molar_mass("H2O")],
            (_, "percent_water") => {
                let waters = self.slip(code, "water_mass", sheet).into_iter();
                waters.map(|water| 100.0 * water / whole).collect()
            }
            ("first_heating_used", "water_mass") => losses().take(self.heated.len() - 1).collect(),
            ("losses_added", "water_mass") => {
                vec![
                    losses().sum(),
                    losses().next().unwrap() + losses().next_back().unwrap(),
                ]
            }
            ("last_loss_only", "water_mass") => {
                let earlier = &self.heated[..self.heated.len() - 1];
                earlier.iter().map(|mass| mass - self.last()).collect()
            }
            _ => Vec::new(),
        }
    }
}

/// One in the last place of a number as written.
fn last_place(written: &str) -> f64 {
    let places = written.split_once('.').map_or(0, |(_, after)| after.len());
    10_f64.powi(-(places as i32))
}

fn offered(prompt: &str, words: &str) -> bool {
    prompt.lines().any(|line| {
        line.strip_prefix("- ")
            .is_some_and(|item| item.contains(words))
    })
}

/// What somebody answers who has the prompt only.
fn solve(prompt: &str) -> Vec<String> {
    let sheet = sheet(prompt);
    let faults = sheet
        .benches
        .iter()
        .filter_map(|bench| Some((bench, bench.fault(&sheet)?)));
    let [(faulty, fault)] = faults.collect::<Vec<_>>()[..] else {
        panic!("{prompt}")
    };
    let slips = sheet
        .benches
        .iter()
        .filter_map(|bench| Some((bench, bench.wrong(&sheet)?)));
    let [(careless, (quantity, written))] = slips.collect::<Vec<_>>()[..] else {
        panic!("{prompt}")
    };
    assert_ne!(faulty.name, careless.name);
    let fault = FAULTS.iter().find(|row| row[1] == fault).unwrap();
    let is_value = |value: &f64| {
        let error = (value - written.parse::<f64>().unwrap()).abs();
        error
            <= 0.501 * last_place(written)
                + 3e-4 * value.abs() * f64::from(u8::from(quantity != "water_mass"))
    };
    let (question, lists) = (prompt.lines().last().unwrap(), &prompt);
    let mut answer: Vec<String> = Vec::new();
    if question.contains("with the fault") {
        answer.push(faulty.name.clone());
        // The sheet says what tells the faults apart.
        assert!(
            offered(lists, &format!("{}: {}", fault[0], faulty.sign(&sheet))),
            "{prompt}"
        );
        if question.contains("Name the fault") {
            answer.push(fault[1].into());
        } else {
            assert!(offered(lists, fault[2]), "{prompt}");
            answer.push(fault[3].into());
        }
    }
    if question.contains("with the slip") {
        answer.push(careless.name.clone());
        if question.contains("first wrong value") {
            answer.push(quantity.into());
        }
        if question.contains("ame the slip") {
            let fitting = SLIPS.iter().filter(|row| offered(lists, row[0]));
            let fitting =
                fitting.filter(|row| careless.slip(row[1], quantity, &sheet).iter().any(is_value));
            let [slip] = fitting.collect::<Vec<_>>()[..] else {
                panic!("{prompt}")
            };
            answer.push(slip[1].into());
        }
    }
    answer
}

#[test]
fn prompts_are_solved_again() {
    for level in [2, 3] {
        let exercises = Exercises::new(20)
            .kinds([Kind::ErrorAnalysis])
            .level(Level::new(level).unwrap());
        for place in 0..60 {
            let problem = exercises.problem(place).unwrap();
            assert_eq!(
                problem.answers(),
                solve(problem.prompt()),
                "{}",
                problem.prompt()
            );
            assert!(problem.options().is_empty() && problem.tolerance().is_none());
            parts_are_those_of_the_prompt(&problem);
        }
    }
}

/// What may be chosen is what the prompt has, and the answer is one of it.
fn parts_are_those_of_the_prompt(problem: &Exercise) {
    let (prompt, answers) = (problem.prompt(), problem.answers());
    assert_eq!(problem.parts().len(), answers.len(), "{prompt}");
    for (part, answer) in problem.parts().iter().zip(answers) {
        let codes = part.choices().iter().map(PartChoice::code);
        assert_eq!(codes.filter(|code| code == answer).count(), 1, "{prompt}");
        for choice in part.choices() {
            let words = choice.words();
            let listed = match part.what() {
                "Bench with the fault" | "Bench with the slip" => format!("\n{words} | "),
                "First wrong value" => words.into(),
                _ => format!("\n- {words}\n"),
            };
            assert!(prompt.contains(&listed), "{listed}: {prompt}");
            assert!(!choice.feedback().contains(words), "{prompt}");
            for sentence in choice.feedback().split(". ") {
                assert!(sentence.split(' ').count() <= 20, "{sentence}");
            }
        }
    }
}

/// Every number of the table and of the rules is in the request, and the reverse.
#[test]
fn prompts_have_the_numbers_of_their_requests() {
    fn numbers(field: &effloresce::exercise::Field, all: &mut Vec<String>) {
        use effloresce::exercise::Field;
        match field {
            Field::Text(text) if text.parse::<f64>().is_ok() => all.push(text.clone()),
            Field::Text(_) => {}
            Field::List(values) => values.iter().for_each(|value| numbers(value, all)),
            Field::Object(members) => members.iter().for_each(|(_, value)| numbers(value, all)),
        }
    }
    let exercises = Exercises::new(5).kinds([Kind::ErrorAnalysis]);
    for place in 0..30 {
        let problem = exercises.problem(place).unwrap();
        let mut given = Vec::new();
        problem
            .request()
            .fields()
            .iter()
            .for_each(|(_, field)| numbers(field, &mut given));
        let words = problem.prompt().split(|c: char| c.is_whitespace());
        let mut printed: Vec<String> = words
            .filter(|word| word.parse::<f64>().is_ok())
            .map(String::from)
            .collect();
        given.sort();
        printed.sort();
        assert_eq!(given, printed, "{}", problem.prompt());
    }
}

/// The class of a problem shows more than what is asked for, and nothing where there is nothing.
#[test]
fn other_values_of_a_class_are_found() {
    let exercises = Exercises::new(8).kinds([Kind::ErrorAnalysis]);
    for place in 0..6 {
        let problem = exercises.problem(place).unwrap();
        let sheet = sheet(problem.prompt());
        let number = |pointer: &str| match problem.request().answer(pointer).unwrap() {
            Solved::Number(number) => number.to_f64(),
            Solved::Text(text) => panic!("{pointer}: {text}"),
        };
        let text = |pointer: &str| match problem.request().answer(pointer).unwrap() {
            Solved::Text(text) => text,
            Solved::Number(number) => panic!("{pointer}: {number}"),
        };
        let mut ratios = Vec::new();
        for (index, bench) in sheet.benches.iter().enumerate() {
            assert_eq!(text(&format!("/rows/{index}/bench")), bench.name);
            let ratio = number(&format!("/rows/{index}/ratio"));
            assert!((ratio / bench.value("ratio", &sheet.hydrate) - 1.0).abs() < 3e-4);
            let percent = number(&format!("/rows/{index}/percent_water"));
            assert!((percent - bench.value("percent_water", &sheet.hydrate)).abs() < 1e-6);
            let verdict = text(&format!("/rows/{index}/answers/0/verdict"));
            assert!(["correct", "slip"].contains(&verdict.as_str()), "{verdict}");
            if bench.fault(&sheet).is_none() {
                assert_eq!(text(&format!("/rows/{index}/formula")), sheet.hydrate);
                let fault = format!("/rows/{index}/faults/0/code");
                assert!(problem.request().answer(&fault).is_err());
            }
            ratios.push(ratio);
        }
        assert_eq!(number("/pooled/n"), ratios.len() as f64);
        let mean = ratios.iter().sum::<f64>() / ratios.len() as f64;
        assert!((number("/pooled/mean") - mean).abs() < 1e-9);
        for nothing in [
            "",
            "rows",
            "/rows",
            "/rows/9/bench",
            "/rows/-1/bench",
            "/rows/0/answers/7/verdict",
            "/rows/0/marks",
            "/pooled/sd",
            "/pooled/at_constant_mass/n/0",
        ] {
            let error = problem.request().answer(nothing).unwrap_err();
            assert_eq!(
                error.to_string(),
                format!("the result of `class` has no `{nothing}`")
            );
        }
    }
}

/// The help says how the fault follows from the series, and its first two stages do not name what is found.
#[test]
fn the_working_leads_from_the_readings_to_the_fault() {
    let exercises = Exercises::new(9).kinds([Kind::ErrorAnalysis]);
    for place in 0..6 {
        let problem = exercises.problem(place).unwrap();
        let sheet = sheet(problem.prompt());
        let [series, water, fault] = [
            "mass of each bench",
            "what has left each bench",
            "the fault",
        ]
        .map(|what| {
            let mut steps = problem.working().steps().iter();
            steps.find(|step| step.what().starts_with(what)).unwrap()
        });
        let words = |text: &str| text.split("; ").map(String::from).collect::<Vec<_>>();
        let (series, water) = (words(series.result()), words(water.result()));
        for (index, bench) in sheet.benches.iter().enumerate() {
            match bench.fault(&sheet) {
                None => {
                    assert_eq!(
                        [&*series[index], &*water[index]],
                        ["constant", "as in the formula"]
                    );
                }
                Some(_) => {
                    let constant = bench.sign(&sheet).contains("is constant");
                    assert_eq!(series[index] == "constant", constant, "{series:?}");
                    let start = format!("{}: {}. This is ", bench.name, bench.sign(&sheet));
                    assert!(fault.result().starts_with(&start), "{}", fault.result());
                }
            }
        }
        let code = |step: &str| step.contains('_');
        assert!(
            !problem
                .working()
                .steps()
                .iter()
                .any(|step| code(step.result()))
        );
    }
}

#[test]
fn problems_are_various() {
    crate::sets::are_various(Kind::ErrorAnalysis);
}

#[test]
fn there_is_no_level_of_one_step() {
    let error = Exercises::new(1)
        .kinds([Kind::ErrorAnalysis])
        .level(Level::OneStep)
        .problem(0)
        .unwrap_err();
    assert_eq!(
        error.to_string(),
        "problems of the kind `error_analysis` have no level 1"
    );
    assert_eq!(error.help(), Some("give level 2 or 3"));
}

/// Salts are taken and avoided; what nobody may heat leaves nothing.
#[test]
fn constraints_decide() {
    let kind = || Exercises::new(3).kinds([Kind::ErrorAnalysis]);
    let only = kind().salts(["BaCl2".parse().unwrap()]);
    for place in 0..5 {
        assert!(
            only.problem(place)
                .unwrap()
                .prompt()
                .contains("heated BaCl2·")
        );
    }
    let none = kind()
        .salts(["Mg(NO3)2·6H2O".parse().unwrap()])
        .problem(0)
        .unwrap_err();
    assert!(
        none.to_string()
            .contains("`salts` (Mg(NO3)2·6H2O) leaves no salt"),
        "{none}"
    );
}
