//! Problems from templates: proved as all others are, and solved again from the printed prompt.

use std::collections::BTreeSet;

use effloresce::AtomicWeights;
use effloresce::exercise::{ErrorKind, Exercise, Exercises, Kind, Level, OwnSalts, Template};

use super::{PRECIPITATE, WATER, edited, template};
use crate::paper::{formulas, molar_mass, numbers, waters};

fn problems(text: &str, count: usize) -> Vec<Exercise> {
    let exercises = Exercises::new(11).templates([template(text)]);
    exercises.set(count).unwrap().problems().to_vec()
}

/// The printed prompt is solved by this test's own arithmetic.
fn solved_again(problem: &Exercise, found: f64) {
    let answer: f64 = problem.answer().parse().unwrap();
    let magnitude = answer.abs().log10().floor() as i32;
    let unit = 10_f64.powi(magnitude - 2);
    assert!(
        (found - answer).abs() <= 0.5000001 * unit,
        "{}: {found}, {answer}",
        problem.prompt()
    );
    let tolerance = problem.tolerance().unwrap();
    assert!(tolerance.low().to_f64() <= found && found <= tolerance.high().to_f64());
    assert!((tolerance.high() - tolerance.low()).to_f64() < 0.04 * found);
}

#[test]
fn prompts_are_solved_again() {
    for problem in problems(PRECIPITATE, 60) {
        let mass = numbers(problem.prompt())[0];
        let [chloride, carbonate, _] = formulas(problem.prompt())[..] else {
            panic!("{}", problem.prompt());
        };
        solved_again(
            &problem,
            mass / molar_mass(chloride) * molar_mass(carbonate),
        );
    }
    for problem in problems(WATER, 60) {
        let mass = numbers(problem.prompt())[0];
        let hydrate = *formulas(problem.prompt()).last().unwrap();
        let amount = mass / molar_mass("H2O") / waters(hydrate);
        solved_again(&problem, amount * molar_mass(hydrate));
    }
}

#[test]
fn problems_are_complete() {
    let all = problems(WATER, 100);
    let prompts: BTreeSet<&str> = all.iter().map(Exercise::prompt).collect();
    assert!(prompts.len() >= 95, "{}", prompts.len());
    for problem in &all {
        assert_eq!(problem.form(), "mass_that_holds_water");
        assert_eq!(
            (problem.kind(), problem.level()),
            (Kind::SampleMass, Level::SeveralSteps)
        );
        assert_eq!(problem.options().len(), 4);
        assert_eq!(problem.unit(), "g");
        assert!(
            problem
                .prompt()
                .ends_with("Give your answer to 3 significant figures.")
        );
        assert!(problem.prompt().contains("\u{a0}g of water"));
        assert_eq!(problem.working().steps().len(), 3);
        let last = problem.working().steps().last().unwrap();
        assert_eq!(last.result(), problem.answer());
        let mut words = problem.help()[..2]
            .iter()
            .flat_map(|stage| stage.split_whitespace());
        assert!(words.all(|word| word != problem.answer()));
        assert!(problem.help()[2].contains(&problem.answer()));
    }
    assert!(!all.iter().any(|problem| problem.prompt().contains("CuSO4")));
}

#[test]
fn working_is_written_from_expressions() {
    let problem = &problems(PRECIPITATE, 1)[0];
    let [amount, mass] = problem.working().steps() else {
        panic!("not two steps");
    };
    assert_eq!(amount.symbols(), "m(chloride) / M(CaCl2·2H2O)");
    assert!(
        amount.numbers().ends_with("\u{a0}g / 147.008\u{a0}g/mol"),
        "{}",
        amount.numbers()
    );
    assert!(
        mass.numbers().ends_with("\u{a0}mol × 100.086\u{a0}g/mol"),
        "{}",
        mass.numbers()
    );
}

#[test]
fn templates_take_turns_and_a_problem_depends_on_its_place_alone() {
    let second = edited(
        PRECIPITATE,
        "calcium_carbonate_from_chloride",
        "second_form",
    );
    let exercises = Exercises::new(5).templates([template(PRECIPITATE), template(&second)]);
    let ten = exercises.set(10).unwrap();
    let forms: Vec<&str> = ten.problems().iter().map(Exercise::form).collect();
    assert_eq!(
        forms[..4],
        ["calcium_carbonate_from_chloride", "second_form"].repeat(2)
    );
    assert_eq!(ten.problems()[..5], *exercises.set(5).unwrap().problems());
    // Kinds without templates are drawn as ever.
    let mixed = exercises
        .kinds([Kind::PercentWater, Kind::Limiting])
        .set(4)
        .unwrap();
    let kinds: Vec<Kind> = mixed.problems().iter().map(Exercise::kind).collect();
    assert_eq!(
        kinds,
        [
            Kind::PercentWater,
            Kind::Limiting,
            Kind::PercentWater,
            Kind::Limiting
        ]
    );
    assert_eq!(mixed.problems()[3].form(), "second_form");
    let plain = Exercises::new(5).kinds([Kind::PercentWater, Kind::Limiting]);
    assert_eq!(plain.problem(0).unwrap(), mixed.problems()[0]);
}

#[test]
fn versions_of_a_template_are_alike_and_have_other_answers() {
    let versions = Exercises::new(3)
        .templates([template(WATER)])
        .versions(3, 4)
        .unwrap();
    for place in 0..3 {
        let answers: BTreeSet<String> = versions
            .iter()
            .map(|set| set.problems()[place].answer())
            .collect();
        assert_eq!(answers.len(), 4);
    }
}

#[cfg(feature = "serde")]
#[test]
fn problems_of_templates_are_saved_and_read_again() {
    let set = Exercises::new(6).templates([template(WATER), template(PRECIPITATE)]);
    let set = set.set(4).unwrap();
    let saved = serde_json::to_string(&set).unwrap();
    let read: effloresce::exercise::ExerciseSet = serde_json::from_str(&saved).unwrap();
    assert_eq!(serde_json::to_string(&read).unwrap(), saved);
}

#[test]
fn the_choices_of_the_set_hold_for_templates() {
    let exercises = Exercises::new(2).templates([template(WATER)]);
    let error = exercises.clone().level(Level::OneStep).set(1).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Level);
    assert_eq!(error.help(), Some("give level 2"));
    let salts = OwnSalts::read("hydrate\nMgSO4·7H2O\n".as_bytes()).unwrap();
    for problem in exercises
        .clone()
        .own_salts(salts)
        .set(10)
        .unwrap()
        .problems()
    {
        assert!(problem.prompt().contains("MgSO4·7H2O"));
    }
    let asked = exercises.clone().salts(["BaCl2".parse().unwrap()]);
    assert!(asked.problem(0).unwrap().prompt().contains("BaCl2·2H2O"));
    let balance = exercises
        .clone()
        .readability("0.1".parse().unwrap())
        .unwrap();
    let balance = balance.problem(0).unwrap();
    let mass = balance
        .prompt()
        .split("\u{a0}g of")
        .next()
        .unwrap()
        .rsplit(' ')
        .next()
        .unwrap();
    assert_eq!(mass.split_once('.').unwrap().1.len(), 1, "{mass}");
    let comma = exercises.clone().decimal_comma().problem(0).unwrap();
    assert!(comma.answer().contains(','));
    let booklet = AtomicWeights::default().decimals(1);
    let set = exercises.weights(booklet.clone()).set(3).unwrap();
    assert!(
        set.problems()
            .iter()
            .all(|problem| *problem.request().weights() == booklet)
    );
    // Only the list of a template is left.
    let listed = edited(
        WATER,
        "pool = \"hydrate\", least_waters = 2",
        "formulas = [\"MgSO4·7H2O\", \"ZnSO4·7H2O\"]",
    );
    let listed = Exercises::new(2).templates([template(&listed)]);
    let zinc = listed
        .clone()
        .salts(["ZnSO4".parse().unwrap()])
        .problem(0)
        .unwrap();
    assert!(zinc.prompt().contains("zinc sulfate heptahydrate"));
    let error = listed
        .salts(["BaCl2".parse().unwrap()])
        .problem(0)
        .unwrap_err();
    assert!(
        error
            .to_string()
            .starts_with("`salts` (BaCl2) leaves no formula of the template"),
        "{error}"
    );
}

/// A formula for an answer, with formulas for wrong options.
const FORMULA: &str = r#"
kind = "formula_from_percent"
form = "formula_from_percent_of_label"
level = 2
skills = ["nearest_whole_number"]
wording = "A label says that a hydrate of magnesium sulfate holds {percent} water. Work out its formula."

[quantities]
percent = { from = 50.90, to = 51.40, step = 0.01, unit = "%" }

[request]
op = "dehydration"
salt = "MgSO4"
percent_water = "{percent}"

[answer]
pointer = "/formula"

[[working]]
name = "ratio"
what = "amount of water for one mole of salt"
expression = "{percent} / M(H2O) / ((100 - {percent}) / M(MgSO4))"

[[working]]
what = "formula"
symbols = "the nearest whole number of waters"

[[errors]]
code = "one_more"
name = "the formula with one water too many"
instead = "round to the nearest whole number"
formula = "MgSO4·8H2O"

[[errors]]
code = "one_less"
name = "the formula with one water too few"
instead = "round to the nearest whole number"
formula = "MgSO4·6H2O"

[[errors]]
code = "one_water"
name = "the formula with one water"
instead = "divide the amount of water by the amount of salt"
formula = "MgSO4·H2O"
"#;

#[test]
fn a_formula_may_be_the_answer() {
    let template = template(FORMULA);
    let problem = match Exercises::new(1).templates([template.clone()]).problem(0) {
        Ok(problem) => problem,
        Err(error) => panic!("{error} {:?}", template.check()),
    };
    assert_eq!(problem.answer(), "MgSO4·7H2O");
    assert_eq!(problem.options().len(), 4);
    let last = problem.working().steps().last().unwrap();
    assert_eq!((last.relation(), last.result()), ("so", "MgSO4·7H2O"));
    assert_eq!(template.check(), []);
}

fn refused(text: &str) -> String {
    let error = Template::read(text).unwrap_err();
    assert_eq!(
        (error.kind(), error.code()),
        (ErrorKind::BadFile, "bad_request")
    );
    format!("{error} | {}", error.help().unwrap_or("no help"))
}

#[test]
fn a_template_that_cannot_be_used_is_refused_with_line_and_key() {
    let mut others: Vec<String> = Vec::new();
    for (from, to, expected) in [
        (
            "kind = ",
            "kin = ",
            "line 4: there is no key `kin` | did you mean `kind`?",
        ),
        (
            "level = 2",
            "level = 4",
            "line 6, `level`: there is no level 4 | give 1, 2 or 3",
        ),
        (
            "level = 2\n",
            "",
            "the template has no `level` | compare it with the complete template in the documentation of `Template::read`",
        ),
        (
            "\"mole_ratio\"",
            "\"mol_ratio\"",
            "line 7, `skills[1]`: `mol_ratio` is not a possible value | did you mean `mole_ratio`?",
        ),
        (
            "{mass} of",
            "{masss} of",
            "line 10, `wording`: there is no quantity `masss` | did you mean `mass`?",
        ),
        (
            "{mass} of",
            "{mass of",
            "line 10, `wording`: `{` has no partner | write each placeholder in a pair of curly brackets, such as `{mass}`",
        ),
        (
            "step = 0.01",
            "step = 0.00",
            "line 17, `quantities.mass`: the step 0.00 is not positive | give a positive step",
        ),
        (
            "from = 1.50",
            "from = 5.00",
            "line 17, `quantities.mass`: the range ends at 4.00, before it begins at 5.00 | exchange `from` and `to`",
        ),
        (
            "unit = \"g\", symbol",
            "unit = \"gg\", symbol",
            "line 17, `quantities.mass.unit`: `gg` is not a possible value | did you mean `g`?",
        ),
        (
            "op = \"limiting\"",
            "op = \"factor\"",
            "line 28, `request`: problems of the kind `limiting` are solved by `limiting`, not by `factor` | change `op` or `kind`",
        ),
        (
            "op = \"limiting\"",
            "op = \"limiting\"\nweights = {}",
            "line 30, `request.weights`: a template cannot give `weights` | remove it: the set gives its own table of weights to every request",
        ),
        (
            "{n} * M(CaCO3)",
            "{n} ^ 2",
            "line 46, `working[1].expression`: character 5: `^ 2` cannot be read here | write numbers, placeholders such as `{mass}`, `M(…)` of a formula, a JSON Pointer in square brackets, and + - * / between them",
        ),
        (
            "{n} * M(CaCO3)",
            "{n} *",
            "line 46, `working[1].expression`: character 5: `*` cannot be read here | write numbers, placeholders such as `{mass}`, `M(…)` of a formula, a JSON Pointer in square brackets, and + - * / between them",
        ),
        (
            "{n} * M(CaCO3)",
            "{bench} * M(CaCO3)",
            "line 46, `working[1].expression`: `{bench}` is not a number | take its molar mass, such as `M({salt})`, or a quantity with numbers",
        ),
        (
            "{n} * M(CaCO3)",
            "[/extent] * M(CaCO3)",
            "line 46, `working[1].expression`: `[/extent]` is a value of the result | work it out from the quantities: only wrong steps may use it",
        ),
        (
            "instead = \"find the product that you were asked for\"\n",
            "",
            "line 57, `errors[1]`: `instead` is missing | give `code`, `name`, `instead`, and one of `value`, `formula` or `request`",
        ),
        (
            "name = \"the mass of sodium chloride\"\ninstead = \"find the product that you were asked for\"\n",
            "",
            "line 58, `errors[1].code`: `other_product` is not the code of a known wrong step | give `name` and `instead`, or take a code of examples/data/wrong_steps.md",
        ),
        (
            "figures = 3",
            "figures = 9",
            "line 24, `answer.figures`: the number of significant figures is not from 2 to 6 | give 3 or 4 as a rule",
        ),
        (
            "pointer = \"/",
            "pointer = \"",
            "line 22, `answer.pointer`: this is not a JSON Pointer into the result | begin with a slash, such as `/percent_water` or `/species/0/mass_initial`",
        ),
    ] {
        let said = refused(&edited(PRECIPITATE, from, to));
        if said != expected {
            others.push(format!("{said}\n  not {expected}"));
        }
    }
    assert!(others.is_empty(), "{}", others.join("\n"));
}

#[test]
fn nothing_forbidden_is_heated() {
    let named = edited(
        WATER,
        "pool = \"hydrate\", least_waters = 2",
        "formulas = [\"Mg(ClO4)2·6H2O\"]",
    );
    assert!(Template::read(&named).is_ok());
    let heated = edited(
        &named,
        "A technician needs",
        "It is heated. A technician needs",
    );
    let error = refused(&heated);
    assert!(
        error.contains("Mg(ClO4)2·6H2O must not be heated in a school"),
        "{error}"
    );
    // A drawn hydrate is one that may be heated.
    let drawn = edited(
        WATER,
        "A technician needs",
        "It is heated. A technician needs",
    );
    let salts = OwnSalts::read("hydrate\nMg(ClO4)2·6H2O\nMgSO4·7H2O\n".as_bytes()).unwrap();
    let exercises = Exercises::new(1)
        .templates([template(&drawn)])
        .own_salts(salts);
    for problem in exercises.set(30).unwrap().problems() {
        assert!(
            problem.prompt().contains("MgSO4·7H2O"),
            "{}",
            problem.prompt()
        );
    }
}
