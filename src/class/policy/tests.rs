//! Policies, built and read.

use alloc::format;
use alloc::string::{String, ToString};

use crate::class::{
    Band, Error, ErrorKind, FiguresRule, FormulaRule, MarkStep, Marks, Policy, Stock, Tolerance,
};
use crate::gravimetry::{Quantity, Weighings};
use crate::mistake::Fault;
use crate::number::{Ratio, Reading};

fn reading(text: &str) -> Reading {
    text.parse().unwrap()
}

fn band(within: &str, marks: u32) -> Band {
    Band::new(reading(within), marks)
}

/// The whole sentence, what the span covers, and the help.
#[track_caller]
fn refused(text: &str, message: &str, at: &str, help: &str) {
    let error = Policy::from_toml(text).unwrap_err();
    assert_eq!(error.to_string(), message);
    assert_eq!(error.code(), "bad_policy");
    assert_eq!(error.kind(), ErrorKind::BadPolicy);
    let span = error.span().unwrap();
    assert_eq!(&text[span.start..span.end], at);
    assert_eq!(error.help(), Some(help));
}

#[track_caller]
fn contradicts(built: Result<Policy, Error>, message: &str, help: &str) {
    let error = built.unwrap_err();
    assert_eq!(error.to_string(), message);
    assert_eq!(error.kind(), ErrorKind::BadPolicy);
    assert_eq!(error.span(), None);
    assert_eq!(error.help(), Some(help));
}

#[test]
fn unless_something_else_is_said() {
    let policy = Policy::from_toml("").unwrap();
    assert_eq!(policy, Policy::new());
    for quantity in Quantity::ALL {
        assert_eq!(policy.marks_for(quantity), 1);
        assert_eq!(policy.tolerance_for(quantity), None);
    }
    assert_eq!(policy.figures_rule(), FiguresRule::Remark);
    assert_eq!(policy.formula_rule(), FormulaRule::Bench);
    assert_eq!(policy.accuracy_bands(), []);
    assert_eq!(policy.stock_content(), None);
}

#[test]
fn everything_said() {
    let text = r#"
        figures = "ignore"
        formula = "own_ratio"
        [marks]
        hydrate_mass = 0
        formula = "3"
        [tolerance]
        ratio = { absolute = 0.050 }
        mol_salt = { percent = "1" }
        mol_water = { nearest = "whole" }
        percent_water = { bands = [{ within = 0.2, marks = 2 }, { within = 5e-1, marks = 1 }] }
        water_mass = { percent_bands = [{ within_percent = 1, marks = 4 }] }
        [accuracy]
        bands = [{ within_percent = 1, marks = 3 }, { within_percent = 2, marks = 2 }]
        [jar]
        crucible = 21.352
        crucible_hydrate = "24.018"
        heated = [22.701, 22.660]
    "#;
    let jar = Weighings::new(
        reading("21.352"),
        reading("24.018"),
        [reading("22.701"), reading("22.660")],
    );
    let build = || {
        Policy::new()
            .figures(FiguresRule::Ignore)
            .formula(FormulaRule::OwnRatio)
            .marks(Quantity::HydrateMass, 0)?
            .marks(Quantity::Formula, 3)?
            .tolerance(Quantity::Ratio, Tolerance::Absolute(reading("0.050")))?
            .tolerance(Quantity::MolSalt, Tolerance::RelativePercent(reading("1")))?
            .tolerance(Quantity::MolWater, Tolerance::NearestWhole)?
            .tolerance(
                Quantity::PercentWater,
                Tolerance::Bands([band("0.2", 2), band("5e-1", 1)].into()),
            )?
            .tolerance(
                Quantity::WaterMass,
                Tolerance::PercentBands([band("1", 4)].into()),
            )?
            .accuracy([band("1", 3), band("2", 2)])
    };
    let policy = Policy::from_toml(text).unwrap();
    assert_eq!(policy, build().unwrap().stock(Stock::Weighings(jar)));
    let marks = Quantity::ALL.map(|quantity| policy.marks_for(quantity));
    assert_eq!(marks, [0, 1, 4, 2, 1, 1, 1, 3]);
}

#[test]
fn the_jar_in_its_other_forms() {
    let policy = Policy::from_toml("jar.percent_water = 50.90").unwrap();
    let jar = Stock::PercentWater(reading("50.90"));
    assert_eq!(policy.stock_content(), Some(&jar));
    let policy = Policy::from_toml("[jar]\nhydrate = 2.666\nresidue = 1.308").unwrap();
    let net = Weighings::net(
        reading("2.666"),
        reading("1.308"),
        crate::gravimetry::Net::Tared,
    );
    assert_eq!(policy.stock_content(), Some(&Stock::Weighings(net)));
}

#[test]
fn the_example_is_read() {
    let text = include_str!("../../../examples/data/policy.toml");
    let policy = Policy::from_toml(text).unwrap();
    assert_eq!(policy.figures_rule(), FiguresRule::Remark);
    let marks = Quantity::ALL.map(|quantity| policy.marks_for(quantity));
    assert_eq!(marks, [0, 0, 1, 2, 1, 1, 3, 1]);
    let Some(Tolerance::Bands(bands)) = policy.tolerance_for(Quantity::PercentWater) else {
        panic!("{policy:?}");
    };
    assert_eq!(bands[..], [band("0.2", 2), band("0.5", 1)]);
    let ratio = policy.tolerance_for(Quantity::Ratio);
    assert_eq!(ratio, Some(&Tolerance::Absolute(reading("0.05"))));
    let accuracy = [band("1", 3), band("2", 2), band("5", 1)];
    assert_eq!(policy.accuracy_bands(), accuracy);
    let jar = Stock::PercentWater(reading("50.9"));
    assert_eq!(policy.stock_content(), Some(&jar));
    assert_eq!(policy.fault_priors().of(Fault::BalanceChanged), 0.0);
}

#[test]
fn priors_that_are_none() {
    refused(
        "[priors]\nwater_left = 1.5\n",
        "line 1, `priors`: 1.5 is not a probability of water_left",
        "[priors]",
        "give a number from 0 to below 1, such as 0.04",
    );
    refused(
        "priors.water_left = 0.5\npriors.solid_lost = 0.4",
        "line 1, `priors`: the probabilities of the faults add up to 1.025, so none is left for no fault",
        "priors",
        "give smaller ones; the faults that are not named have the default",
    );
    refused(
        "[priors]\nwater_lost = 0.1",
        "line 2: there is no key `priors.water_lost`",
        "water_lost",
        "did you mean `water_left`?",
    );
}

#[test]
fn keys_that_are_none() {
    refused(
        "[marks]\nratoi = 3\n",
        "line 2: there is no key `marks.ratoi`",
        "ratoi",
        "did you mean `ratio`?",
    );
    refused(
        "# key\n\ncolour = 3\n",
        "line 3: there is no key `colour`",
        "colour",
        "the keys here are `step`, `figures`, `formula`, `marks`, `tolerance`, `accuracy`, `priors` and `jar`",
    );
    refused(
        "[tolerance]\nratio = { abs = 0.1 }\n",
        "line 2: there is no key `tolerance.ratio.abs`",
        "abs",
        "the keys here are `absolute`, `percent`, `nearest`, `bands` and `percent_bands`",
    );
    refused(
        "accuracy.bands = [{ within_percent = 1, marks = 2 },\n{ within = 2, mark = 1 }]",
        "line 2: there is no key `accuracy.bands[1].within`",
        "within",
        "the keys here are `within_percent` and `marks`",
    );
    refused(
        "figures = \"one mark\"",
        "line 1, `figures`: `one mark` is not a possible value",
        "\"one mark\"",
        "did you mean `one_mark`?",
    );
    refused(
        "formula = \"own ratio\"",
        "line 1, `formula`: `own ratio` is not a possible value",
        "\"own ratio\"",
        "did you mean `own_ratio`?",
    );
    refused(
        "tolerance.ratio = { nearest = \"tenth\" }",
        "line 1, `tolerance.ratio.nearest`: `tenth` is not a possible value",
        "\"tenth\"",
        "write `whole`",
    );
    let long = "k".repeat(50);
    refused(
        &format!("[marks]\n\"a\\n{long}\" = 1"),
        &format!(
            "line 2: there is no key `marks.a\\u{{a}}{}…`",
            "k".repeat(38)
        ),
        &format!("\"a\\n{long}\""),
        "the keys here are `hydrate_mass`, `residue_mass`, `water_mass`, `percent_water`, \
         `mol_salt`, `mol_water`, `ratio` and `formula`",
    );
}

#[test]
fn a_text_that_is_no_policy_is_named() {
    let help = |text: &str| {
        let error = Policy::from_toml(text).unwrap_err();
        error.help().map(ToString::to_string).unwrap()
    };
    for sheet in [
        "bench,hydrate_g,residue_g\nHeron,2.666,1.303\n",
        "\nPupil;Bench;hydrate_g\nA;Heron;2,666\n",
    ] {
        assert_eq!(
            help(sheet),
            "this seems to be a class sheet; give the file of the policy"
        );
    }
    for quoted in ["figures = “remark”\n", "[marks]\nratio = ‘3’\n"] {
        assert_eq!(
            help(quoted),
            "write straight quotation marks, \", as in `figures = \"remark\"`"
        );
    }
}

#[test]
fn marks_that_are_none() {
    let whole = "give a whole number from 0 to 100, or a half such as 1.5 with `step = 0.5`";
    for marks in ["-1", "2.0", "0.25", "101", "\"two\"", "99999999999", "nan"] {
        let plain = marks.trim_matches('"');
        refused(
            &format!("marks.ratio = {marks}"),
            &format!("line 1, `marks.ratio`: `{plain}` is not a number of marks"),
            marks,
            whole,
        );
    }
    refused(
        "marks.ratio = 0.5",
        "line 1, `marks.ratio`: 0.5 marks are not a multiple of the step of 1",
        "0.5",
        "give whole marks, or allow halves with `step = 0.5`",
    );
    refused(
        "marks.ratio = 0x1F",
        "line 1, `marks.ratio`: `0x1F` is not a number of marks",
        "0x1F",
        whole,
    );
    refused(
        "[marks]\nratio = true",
        "line 2, `marks.ratio`: a number is expected here, not true or false",
        "true",
        "write plain digits, such as 0.05",
    );
    refused(
        "marks = 3",
        "line 1, `marks`: a table is expected here, not a whole number",
        "3",
        "write `[marks]`, and below it `ratio = 3`",
    );
    contradicts(
        Policy::new().marks(Quantity::Ratio, 101),
        "101 marks are too many for the mole ratio",
        whole,
    );
}

#[test]
fn numbers_that_are_none() {
    refused(
        "[tolerance]\nratio = { absolute = \"0,05\" }",
        "line 2, `tolerance.ratio.absolute`: `0,05` has a decimal comma",
        "\"0,05\"",
        "write 0.05",
    );
    refused(
        "[tolerance]\nratio = { absolute = inf }",
        "line 2, `tolerance.ratio.absolute`: `inf` is not a number",
        "inf",
        "write digits and one decimal point, such as 2.50",
    );
    refused(
        "[tolerance]\nratio = { absolute = -0.1 }",
        "line 2, `tolerance.ratio`: a tolerance of -0.1 is negative",
        "{ absolute = -0.1 }",
        "give a width without a sign: how far a value may be on either side",
    );
    refused(
        "[tolerance]\nratio = { percent = 100.1 }",
        "line 2, `tolerance.ratio`: a tolerance of 100.1 % is more than 100 %",
        "{ percent = 100.1 }",
        "give a percentage from 0 to 100",
    );
}

#[test]
fn tolerances_that_are_none() {
    let formula = "leave it out, or give the mole ratio a tolerance";
    refused(
        "tolerance.formula = { absolute = 1 }",
        "line 1, `tolerance.formula`: a formula is right or wrong and has no tolerance",
        "{ absolute = 1 }",
        formula,
    );
    contradicts(
        Policy::new().tolerance(Quantity::Formula, Tolerance::NearestWhole),
        "a formula is right or wrong and has no tolerance",
        formula,
    );
    refused(
        "tolerance.ratio = {}",
        "line 1, `tolerance.ratio`: the table has no tolerance",
        "{}",
        "give one of `absolute`, `percent`, `nearest`, `bands` and `percent_bands`",
    );
    refused(
        "tolerance.ratio = { percent = 1, absolute = 0.1 }",
        "line 1, `tolerance.ratio.absolute`: `percent` and `absolute` are two tolerances",
        "0.1",
        "give only one of them",
    );
    refused(
        "tolerance.ratio = 0.1",
        "line 1, `tolerance.ratio`: a table is expected here, not a decimal number",
        "0.1",
        "write for instance `{ absolute = 0.05 }`",
    );
}

const ORDER: &str =
    "give the bands from the narrowest with the most marks to the widest with the fewest";

#[test]
fn bands_that_do_not_fall() {
    refused(
        "accuracy.bands = [\n{ within_percent = 2, marks = 3 },\n{ within_percent = 2.0, marks = 2 },\n]",
        "line 3, `accuracy.bands[1]`: band 2 reaches 2.0, not further than the 2 of band 1",
        "{ within_percent = 2.0, marks = 2 }",
        ORDER,
    );
    refused(
        "tolerance.ratio.bands = [{ within = 1, marks = 2 }, { within = 2, marks = 2 }]",
        "line 1, `tolerance.ratio.bands[1]`: band 2 gives 2 marks, not fewer than the 2 of \
         band 1",
        "{ within = 2, marks = 2 }",
        ORDER,
    );
    refused(
        "tolerance.ratio.bands = [{ within = 1, marks = 0 }]",
        "line 1, `tolerance.ratio.bands[0]`: band 1 gives 0 marks",
        "{ within = 1, marks = 0 }",
        "give each band from 1 to 100 marks",
    );
    refused(
        "accuracy.bands = []",
        "line 1, `accuracy.bands`: the list has no band",
        "[]",
        ORDER,
    );
    refused(
        "[accuracy]\n",
        "line 1, `accuracy`: `bands` is missing",
        "[accuracy]",
        "write `[accuracy]`, and below it `bands = [{ within_percent = 1, marks = 3 }]`",
    );
    refused(
        "accuracy.bands = [{ within_percent = 1 }]",
        "line 1, `accuracy.bands[0]`: `marks` is missing",
        "{ within_percent = 1 }",
        "give each band a width and its `marks`, such as `{ within = 0.2, marks = 2 }` \
         (`within_percent` if the width is in per cent)",
    );
    contradicts(
        Policy::new().accuracy((1..=21).map(|n| Band::new(n.to_string().parse().unwrap(), 50 - n))),
        "the list has 21 bands, and at most 20 are read",
        "leave out the bands that matter least",
    );
    contradicts(Policy::new().accuracy([]), "the list has no band", ORDER);
    contradicts(
        Policy::new().accuracy([band("101", 1)]),
        "a tolerance of 101 % is more than 100 %",
        "give a percentage from 0 to 100",
    );
    let most = (1..=20).map(|n| Band::new(n.to_string().parse().unwrap(), 50 - n));
    assert_eq!(
        Policy::new().accuracy(most).unwrap().accuracy_bands().len(),
        20
    );
}

#[test]
fn bands_and_marks_for_one_quantity() {
    let message = "the mole ratio has both bands and marks of its own";
    let help = "leave out its marks, or give it a tolerance without bands";
    let bands = || Tolerance::Bands([band("0.1", 2)].into());
    let marked = Policy::new().marks(Quantity::Ratio, 2).unwrap();
    contradicts(marked.tolerance(Quantity::Ratio, bands()), message, help);
    let banded = Policy::new().tolerance(Quantity::Ratio, bands()).unwrap();
    contradicts(banded.marks(Quantity::Ratio, 2), message, help);
    refused(
        "[tolerance]\nratio = { bands = [{ within = 1, marks = 2 }] }\n[marks]\nratio = 3",
        &format!("line 4, `marks.ratio`: {message}"),
        "3",
        help,
    );
    refused(
        "[marks]\nratio = 3\n[tolerance]\nratio = { bands = [{ within = 1, marks = 2 }] }",
        &format!("line 4, `tolerance.ratio`: {message}"),
        "{ bands = [{ within = 1, marks = 2 }] }",
        help,
    );
}

#[test]
fn jars_that_are_none() {
    let forms = "give `percent_water`; or `crucible`, `crucible_hydrate` and `heated`; or \
                 `hydrate` and `residue`";
    refused(
        "[jar]\npercent_water = 50.9\ncrucible = 21.352",
        "line 3, `jar.crucible`: `percent_water` and `crucible` do not go together",
        "21.352",
        forms,
    );
    refused(
        "jar = {}",
        "line 1, `jar`: the table is empty and does not say what the stock holds",
        "{}",
        forms,
    );
    refused(
        "jar = { hydrate = 2.666 }",
        "line 1, `jar`: `residue` is missing",
        "{ hydrate = 2.666 }",
        forms,
    );
    refused(
        "jar.percent_water = 100",
        "line 1, `jar.percent_water`: no hydrate contains 100 % water",
        "100",
        "give a percentage above 0 and below 100",
    );
    let help = "compare the weighings with the notebook: two may be exchanged";
    let weighings = |c: &str, b: &str, a: &str| {
        format!("[jar]\ncrucible = {c}\ncrucible_hydrate = {b}\nheated = [{a}]")
    };
    refused(
        &weighings("24.018", "21.352", "22.655"),
        "line 3, `jar.crucible_hydrate`: 21.352 g is not heavier than the crucible alone, 24.018 g",
        "21.352",
        help,
    );
    refused(
        &weighings("21.352", "24.018", "22.7, 26.655"),
        "line 4, `jar.heated[1]`: 26.655 g is heavier than before heating, 24.018 g",
        "26.655",
        help,
    );
    refused(
        &weighings("21.352", "24.018", ""),
        "line 4, `jar.heated`: there is no weighing after heating",
        "[]",
        "give each weighing after a heating",
    );
    refused(
        "jar = { hydrate = 0, residue = 1 }",
        "line 1, `jar.hydrate`: a mass of 0 g is not positive",
        "0",
        "give the weighing in grams, as the balance showed it",
    );
    // A stock without water is refused, whichever way it is given.
    refused(
        "jar.percent_water = 0",
        "line 1, `jar.percent_water`: no hydrate contains 0 % water",
        "0",
        "give a percentage above 0 and below 100",
    );
    let lighter = "give a last weighing that is lighter than the hydrate, or leave the stock out";
    refused(
        &weighings("21.352", "24.018", "22.7, 24.0180"),
        "line 4, `jar.heated[1]`: no hydrate contains 0 % water",
        "24.0180",
        lighter,
    );
    refused(
        "jar = { hydrate = 2.666, residue = 2.6660 }",
        "line 1, `jar.residue`: no hydrate contains 0 % water",
        "2.6660",
        lighter,
    );
}

#[test]
fn a_decimal_comma_in_a_policy() {
    for text in [
        "tolerance.ratio.absolute = 0,05",
        "[tolerance]\nratio = { absolute = 0,05 }\n[marks]\nratio = 1",
    ] {
        let error = Policy::from_toml(text).unwrap_err();
        assert!(error.to_string().contains("this is not TOML"), "{error}");
        assert_eq!(error.help(), Some("write a decimal point: 0.05"), "{text}");
    }
    let error = Policy::from_toml("[jar]\nheated = [22,7 22,6]").unwrap_err();
    assert!(error.help().unwrap().starts_with("write `key = value`"));
}

#[test]
fn texts_that_are_no_toml() {
    let help = "write `key = value` on each line, words in quotation marks, and each key only \
                once in its table";
    refused(
        "[marks]\nratio = 3\nratio = 4\n",
        "line 3, character 1: this is not TOML: duplicate key",
        "ratio",
        help,
    );
    let error = Policy::from_toml("[marks]\npercent water = 2\n").unwrap_err();
    let message = error.to_string();
    assert!(
        message.starts_with("line 2, character 9: this is not TOML: "),
        "{message}"
    );
    assert!(!message.contains('\n'));
    assert_eq!(error.help(), Some(help));
    let long = "#".repeat(64 * 1024);
    assert_eq!(Policy::from_toml(&long), Ok(Policy::new()));
    refused(
        &format!("{long}#"),
        "the policy has 65537 bytes, and at most 65536 are read",
        "#",
        "give the policy alone, without the class sheet",
    );
}

/// As deep as the reader of TOML goes: keys of many parts, in tables within tables.
#[test]
fn depth_does_no_harm() {
    let part = |from: &str| alloc::vec![from; 79].join(".");
    let mut text = String::new();
    for _ in 0..79 {
        text.push_str(&format!("{} = {{ ", part("a")));
    }
    text.push_str(&format!("b = 1{}", " }".repeat(79)));
    let error = Policy::from_toml(&text).unwrap_err();
    assert_eq!(error.to_string(), "line 1: there is no key `a`");
    let error = Policy::from_toml(&format!("marks = {}", "[".repeat(60_000))).unwrap_err();
    assert!(error.to_string().contains("this is not TOML"), "{error}");
    let error = Policy::from_toml(&format!("{} = 1", part("a").repeat(300))).unwrap_err();
    assert!(error.to_string().contains("this is not TOML"), "{error}");
}

#[test]
fn half_marks_are_exact_and_only_by_a_step_of_a_half() {
    let text = "tolerance.percent_water = { bands = [{ within = 0.2, marks = 1.5 }, { within = 0.5, \
                marks = 0.5 }] }\naccuracy = { bands = [{ within_percent = 1, marks = 2.5 }] }\n\
                marks = { ratio = 2.50, formula = 0.5, water_mass = 3 }\nstep = 0.5";
    let policy = Policy::from_toml(text).unwrap();
    assert_eq!(policy.mark_step(), MarkStep::Half);
    let marks = Quantity::ALL.map(|quantity| policy.marks_for(quantity).to_string());
    assert_eq!(marks, ["1", "1", "3", "1.5", "1", "1", "2.5", "0.5"]);
    let accuracy = policy.accuracy_marks(&Ratio::ONE);
    assert_eq!(accuracy, Some(Marks::from_halves(5)));
    // A whole step after half marks would have to round them.
    contradicts(
        policy.step(MarkStep::Whole),
        "2.5 marks are not a multiple of the step of 1",
        "give whole marks, or allow halves with `step = 0.5`",
    );
    for text in [
        "marks = { ratio = 2.5 }",
        "step = 1\nmarks = { ratio = 2.5 }",
    ] {
        let error = Policy::from_toml(text).unwrap_err().to_string();
        assert!(
            error.ends_with("`marks.ratio`: 2.5 marks are not a multiple of the step of 1"),
            "{error}"
        );
    }
    for marks in ["0.25", "-0.5", "100.5", "half"] {
        let text = format!("step = 0.5\nmarks = {{ ratio = '{marks}' }}");
        let error = Policy::from_toml(&text).unwrap_err();
        assert!(error.to_string().contains(marks), "{error}");
    }
    refused(
        "step = 0.25",
        "line 1, `step`: marks cannot be given in steps of 0.25",
        "0.25",
        "give `1` for whole marks or `0.5` for half marks",
    );
}
