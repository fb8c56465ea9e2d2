//! The examples of gravimetric analysis worked out, kind by kind.

use effloresce::gravimetry::{
    Component, ConstantMass, Content, GravimetricFactor, Method, Mixture, Stage, Stages, Weighings,
};
use effloresce::{AtomicWeights, Ratio};

use crate::calc::{
    OF_1917, dehydrate, formula, hundred, molar, net, number, over, percent, reading, weights, with,
};
use crate::data::{Example, Use};
use crate::example::Answers;
use crate::kinds::{put, text};

/// The factor that the shared elements give.
#[track_caller]
fn factor(sought: &str, weighed: &str, table: &AtomicWeights) -> GravimetricFactor {
    let factor = GravimetricFactor::new(formula(sought), formula(weighed), table);
    factor.unwrap_or_else(|e| panic!("{sought} from {weighed}: {e}"))
}

/// The factor of a stated proportion.
#[track_caller]
fn stated(
    [sought_amount, weighed_amount]: [i64; 2],
    sought: &str,
    weighed: &str,
    table: &AtomicWeights,
) -> GravimetricFactor {
    let proportion = [sought_amount, weighed_amount].map(Ratio::from);
    let (sought, weighed) = (formula(sought), formula(weighed));
    GravimetricFactor::in_proportion(proportion, sought, weighed, table).unwrap()
}

#[track_caller]
fn content(factor: &GravimetricFactor, weighed: &str, sample: &str) -> Content {
    let content = factor.content(reading(weighed), Some(reading(sample)));
    content.unwrap()
}

/// The weights of the time, and how their results are named in a row.
fn tables() -> [(&'static str, AtomicWeights); 2] {
    [("", weights()), ("_with_1917_weights", with(&OF_1917))]
}

pub(crate) fn gravimetric_factor(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let (analyte, weighed) = (example.text("analyte"), example.text("weighed"));
    let table = weights();
    if example.has("analyte_mg") {
        let printed = over(
            &number(example.text("weighed_mg")),
            &number(example.text("analyte_mg")),
        );
        put(&mut answers, "factor_weighed_per_analyte", printed);
        let theory = factor(weighed, analyte, &table).value().clone();
        put(&mut answers, "theory", theory);
        return answers;
    }
    let amounts = ["n_analyte", "n_weighed"].map(|key| example.inputs[key].as_i64().unwrap());
    let by_hand = stated(amounts, analyte, weighed, &table);
    if example.use_ == Use::SourceError {
        // Magnesium and phosphorus share no element: the proportion must be given.
        let error = GravimetricFactor::new(formula(analyte), formula(weighed), &table);
        assert_eq!(error.unwrap_err().code(), "ambiguous_factor");
    } else {
        let linked = factor(analyte, weighed, &table);
        assert_eq!(linked.sought_per_weighed(), &amounts.map(Ratio::from));
        assert_eq!(linked.value(), by_hand.value());
    }
    put(&mut answers, "factor", by_hand.value().clone());
    answers
}

pub(crate) fn precipitation(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let table = weights();
    let (precipitate, mass) = (example.text("precipitate"), example.text("precipitate_g"));
    if example.has("tablets") {
        let iron = factor(example.text("analyte"), precipitate, &table);
        let found = iron.content(reading(mass), None).unwrap();
        let tablets = Ratio::from(example.inputs["tablets"].as_i64().unwrap());
        let one = over(&number(example.text("tablets_g")), &tablets);
        let share = over(&one, &number(example.text("powder_g")));
        put(
            &mut answers,
            "analyte_g_per_tablet",
            found.sought_mass() * share,
        );
        return answers;
    }
    let sample = example.text("sample_g");
    if example.has("analyte") {
        let found = content(
            &factor(example.text("analyte"), precipitate, &table),
            mass,
            sample,
        );
        assert_eq!(found.warnings(), []);
        put(&mut answers, "analyte_g", found.sought_mass().clone());
        put(&mut answers, "percent", found.percent().unwrap().clone());
    }
    // Which percentages are asked for stands in their names.
    for key in example.expected.as_object().unwrap().keys() {
        let Some(sought) = key.strip_prefix("percent_") else {
            continue;
        };
        let found = content(&factor(sought, precipitate, &table), mass, sample);
        let share = found.percent().unwrap().clone();
        let codes: Vec<_> = found
            .warnings()
            .iter()
            .map(effloresce::Note::code)
            .collect();
        let doubted = share > hundred();
        assert_eq!(
            codes == ["percent_above_100"],
            doubted,
            "{}: {key}",
            example.id
        );
        if doubted {
            put(&mut answers, "analyte_g", found.sought_mass().clone());
        }
        put(&mut answers, key, share);
    }
    answers
}

pub(crate) fn volatilization(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let (before, after) = (
        example.text("residue_before_HF_g"),
        example.text("residue_after_HF_g"),
    );
    // The loss of the residue is silica.
    let run = dehydrate("SiO2", &net(before, after), Method::new());
    let lost = run.water.unwrap();
    let same = factor("SiO2", "SiO2", &weights());
    let found = content(&same, &lost.to_string(), example.text("sample_g"));
    put(&mut answers, "SiO2_g", found.sought_mass().clone());
    put(&mut answers, "percent", found.percent().unwrap().clone());
    answers
}

/// The stages of a solid that leaves these residues.
#[track_caller]
pub(crate) fn stages(start: &str, residues: &[&str]) -> Stages {
    let stages = Stages::of(formula(start), &weights()).unwrap();
    let then = |stages: Stages, residue: &&str| stages.then(formula(residue)).unwrap();
    residues.iter().fold(stages, then)
}

/// What a stage loses: `2 H2O + 1 CO`.
pub(crate) fn gases(stage: &Stage) -> String {
    let gases = stage.gases().iter();
    let gases: Vec<String> = gases
        .map(|(gas, number)| format!("{number} {gas}"))
        .collect();
    gases.join(" + ")
}

pub(crate) fn thermogravimetry(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let compound = example.text("compound");
    let sample = number(example.text("sample_mg"));
    let stages = stages(compound, &["MgC2O4", "MgO"]);
    let whole = molar(compound);
    let losses = example.list("losses_mg");
    for (index, (stage, loss)) in stages.stages().iter().zip(losses).enumerate() {
        let key = |what: &str| format!("step{}_{what}", index + 1);
        let found = percent(&number(loss), &sample);
        put(
            &mut answers,
            &key("percent_theory"),
            stage.percent_lost().clone(),
        );
        put(
            &mut answers,
            &key("molar_loss"),
            over(&(&found * &whole), &hundred()),
        );
        put(&mut answers, &key("percent"), found);
        text(&mut answers, &key("gas"), stage.lost().unwrap());
    }
    answers
}

pub(crate) fn thermogravimetry_theory(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let compound = example.text("compound");
    let lost = example.text("step").strip_prefix("loss of ").unwrap();
    let residues: &[&str] = match lost {
        "2 H2O" => &["CuSO4·3H2O"],
        "4 H2O" => &["CuSO4·H2O"],
        "5 H2O" => &["CuSO4"],
        "CO" => &["CaC2O4", "CaCO3"],
        other => panic!("{}: {other}", example.id),
    };
    let stages = stages(compound, residues);
    let last = stages.stages().last().unwrap();
    assert_eq!(gases(last).trim_start_matches("1 "), lost, "{}", example.id);
    put(
        &mut answers,
        "percent_of_original",
        last.percent_lost().clone(),
    );
    answers
}

#[track_caller]
fn mixed(components: [Component; 2], weighings: &Weighings, table: &AtomicWeights) -> Mixture {
    let method = Method::new().weights(table.clone());
    method.mixture(components, weighings).unwrap()
}

#[track_caller]
fn component(text: &str, residue: &str) -> Component {
    Component::new(formula(text), formula(residue)).unwrap()
}

/// A component that a reagent turns into the same number of formula units of another substance.
#[track_caller]
fn one_to_one(text: &str, product: &str) -> Component {
    Component::in_proportion(formula(text), formula(product), Ratio::ONE).unwrap()
}

pub(crate) fn mixture(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let table = weights();
    match example.kind.as_str() {
        "mixture_loss_on_drying" => {
            let parts = [component("BaCl2·2H2O", "BaCl2"), component("KCl", "KCl")];
            let heated = net(example.text("sample_g"), example.text("after_drying_g"));
            let mixture = mixed(parts, &heated, &table);
            let [barium, potassium] = mixture.fractions();
            let share = |element: &str, salt: &str, fraction: &Ratio| {
                factor(element, salt, &table).value() * fraction
            };
            let chlorine = share("Cl", "BaCl2·2H2O", barium) + share("Cl", "KCl", potassium);
            put(
                &mut answers,
                "percent_Ba",
                share("Ba", "BaCl2·2H2O", barium),
            );
            put(&mut answers, "percent_K", share("K", "KCl", potassium));
            put(&mut answers, "percent_Cl", chlorine);
        }
        "mixture_from_reagent" => {
            // The reagent used up takes the place of a residue.
            let parts = [one_to_one("NaCl", "AgNO3"), one_to_one("KCl", "AgNO3")];
            let used = net(example.text("sample_g"), example.text("AgNO3_g"));
            let mixture = mixed(parts, &used, &table);
            let [sodium, potassium] = mixture.left_of_each();
            put(&mut answers, "AgNO3_per_g_NaCl", sodium.clone());
            put(&mut answers, "AgNO3_per_g_KCl", potassium.clone());
            put(&mut answers, "percent_NaCl", mixture.fractions()[0].clone());
        }
        _ => {
            let parts = [component("AgCl", "AgCl"), one_to_one("AgI", "AgCl")];
            let (before, after) = (
                example.text("AgCl_plus_AgI_g"),
                example.text("after_conversion_AgCl_g"),
            );
            let mixture = mixed(parts, &net(before, after), &table);
            let [chloride, iodide] = mixture.masses().unwrap();
            let sample = number(example.text("sample_g"));
            let share = |element: &str, salt: &str, mass: &Ratio| {
                percent(&(factor(element, salt, &table).value() * mass), &sample)
            };
            put(&mut answers, "percent_Cl", share("Cl", "AgCl", &chloride));
            put(&mut answers, "percent_I", share("I", "AgI", &iodide));
        }
    }
    answers
}

/// A problem of Talbot's, with the weights of 2021 and with his.
pub(crate) fn problem(example: &Example) -> Answers {
    let mut answers = Answers::new();
    for (suffix, table) in tables() {
        for (key, value) in problem_with(example, &table) {
            put(&mut answers, &format!("{key}{suffix}"), value);
        }
    }
    answers
}

fn problem_with(example: &Example, table: &AtomicWeights) -> Vec<(&'static str, Ratio)> {
    let given = |key: &str| number(example.text(key));
    // The mass of a reagent in grams, as the millilitres of its solution.
    let volume = |grams: Ratio, density: &str, content: &str| {
        let in_one = over(&(given(density) * given(content)), &hundred());
        over(&grams, &in_one)
    };
    let of = |amounts: [i64; 2], sought: &str, weighed: &str| {
        stated(amounts, sought, weighed, table).value().clone()
    };
    match example.id.as_str() {
        "f-tal-88" => vec![("sample_g", factor("Fe3O4", "Fe2O3", table).value().clone())],
        "f-tal-91" => {
            let parts = [component("MgCO3", "MgO"), component("CaCO3", "CaO")];
            let residue = given("sample_g") - given("CO2_g");
            let heated = net(example.text("sample_g"), &residue.to_string());
            let mixture = mixed(parts, &heated, table);
            let [magnesium, calcium] = mixture.fractions();
            vec![
                (
                    "percent_MgO",
                    factor("MgO", "MgCO3", table).value() * magnesium,
                ),
                (
                    "percent_CaO",
                    factor("CaO", "CaCO3", table).value() * calcium,
                ),
            ]
        }
        "f-tal-98" => {
            let lead = factor("Pb", "PbO2", table).value() * given("PbO2_g");
            // The copper weighs as much as the pyrophosphate, so both metals are proportional to it.
            let zinc = factor("Zn", "Zn2P2O7", table).value().clone();
            let copper = over(&(given("sample_g") - &lead), &(&zinc + 1));
            let share = |mass: Ratio| percent(&mass, &given("sample_g"));
            vec![
                ("percent_Zn", share(&copper * zinc)),
                ("percent_Cu", share(copper)),
                ("percent_Pb", share(lead)),
            ]
        }
        "f-tal-84" => {
            let chromium = factor("K2Cr2O7", "Cr2O3", table);
            let found = chromium
                .content(reading(example.text("Cr2O3_g")), None)
                .unwrap();
            let litres = over(found.sought_mass(), &given("K2Cr2O7_g_per_L"));
            vec![("volume_mL", litres * 1000)]
        }
        "f-tal-80" => {
            let acid = of([2, 6], "HNO3", "FeSO4·7H2O") * given("FeSO4·7H2O_g");
            vec![("volume_mL", volume(acid, "HNO3_density", "HNO3_percent"))]
        }
        "f-tal-83" => {
            let gas = of([1, 2], "SO2", "KFe(SO4)2·12H2O") * given("KFe(SO4)2·12H2O_g");
            vec![("volume_mL", over(&(gas * 1000), &given("SO2_g_per_L")))]
        }
        "f-tal-81" => {
            // Three for the iron, one for the acid.
            let iron = of([3, 1], "NH3", "Fe(NO3)3·9H2O") * given("Fe(NO3)3·9H2O_g");
            let solution = given("HCl_mL") * given("HCl_density");
            let acid = over(&(solution * given("HCl_percent")), &hundred());
            let ammonia = iron + of([1, 1], "NH3", "HCl") * acid;
            vec![("volume_mL", volume(ammonia, "NH3_density", "NH3_percent"))]
        }
        other => panic!("{other} is not a problem that is known"),
    }
}

/// A rule for constant mass: two weighings that differ by the limit agree, and by a tenth more they do
/// not.
pub(crate) fn criterion(example: &Example) -> Answers {
    let mut answers = Answers::new();
    let unit = example.expected["unit"].as_str().unwrap();
    let limit = example.expected["limit"].as_str().unwrap();
    let in_grams = match unit {
        "mg in total" | "mg per g of substance taken" => 1000,
        "g (constant to the nearest)" => 1,
        other => panic!("{}: {other}", example.id),
    };
    let grams = over(&number(limit), &Ratio::from(in_grams));
    let per_gram = unit.contains("per g");
    // One gram was taken, so that a rule for each gram is one in total.
    let agree = |apart: &Ratio| {
        let first = number("20.5") + apart;
        let masses = [first.to_string(), "20.5".to_owned()];
        let weighings = Weighings::new(
            reading("20.0000"),
            reading("21.0000"),
            masses.iter().map(|text| reading(text)),
        );
        let criterion = reading(&grams.to_string());
        let rule = match per_gram {
            true => ConstantMass::PerGram(criterion),
            false => ConstantMass::Absolute(criterion),
        };
        let loss = Method::new()
            .constant_mass(rule)
            .loss_on_drying(&weighings)
            .unwrap();
        let constancy = loss.constant_mass().unwrap().clone();
        (constancy.reached().unwrap(), constancy.criterion().clone())
    };
    let (reached, used) = agree(&grams);
    let (beyond, _) = agree(&(&grams * number("1.1")));
    assert_eq!((reached, beyond), (true, false), "{}", example.id);
    put(&mut answers, "limit", used * Ratio::from(in_grams));
    text(&mut answers, "unit", unit);
    answers
}
