use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::*;
use crate::gravimetry::{Error, Method, Net, Weighings};

fn component(formula: &str, residue: &str) -> Component {
    Component::new(formula.parse().unwrap(), residue.parse().unwrap()).unwrap()
}

fn net(sample: &str, residue: &str) -> Weighings {
    Weighings::net(
        sample.parse().unwrap(),
        residue.parse().unwrap(),
        Net::Tared,
    )
}

fn mixture(parts: [(&str, &str); 2], weighings: &Weighings) -> Result<Mixture, Error> {
    let parts = parts.map(|(formula, residue)| component(formula, residue));
    Method::new().mixture(parts, weighings)
}

const BICARBONATE: [(&str, &str); 2] = [("NaHCO3", "Na2CO3"), ("Na2CO3", "Na2CO3")];

fn shown(mixture: &Mixture) -> String {
    let [one, other] = mixture.fractions();
    format!(
        "{one:.4} {other:.4} ± {:.4}",
        mixture.standard_uncertainty()
    )
}

#[test]
fn by_hand() {
    // 1.600/2.000 = 0.8; half of 105.988 over 84.006 is 0.630836; 0.2/0.369164. Each reading has 0.001/√12 g:
    // 100 · 0.000289 · √(1 + 0.8²)/(2 · 0.369164) = 0.0501.
    let found = mixture(BICARBONATE, &net("2.000", "1.600")).unwrap();
    assert_eq!(shown(&found), "54.1764 45.8236 ± 0.0501");
    let masses = found.masses().unwrap();
    assert_eq!(
        format!("{:.4} {:.4}", masses[0], masses[1]),
        "1.0835 0.9165"
    );
    // The other way round, with the same uncertainty.
    let [one, other] = BICARBONATE;
    let turned = mixture([other, one], &net("2.000", "1.600")).unwrap();
    assert_eq!(shown(&turned), "45.8236 54.1764 ± 0.0501");
    // Two hydrates: 0.51165 and 0.36077 of them leave; (1.3/3 − 0.36077)/(0.51165 − 0.36077). The readings have
    // 0.0733, and with the atomic weights it is 0.0746.
    let hydrates = [("MgSO4·7H2O", "MgSO4"), ("CuSO4·5H2O", "CuSO4")];
    let found = mixture(hydrates, &net("3.000", "1.700")).unwrap();
    assert_eq!(shown(&found), "48.0939 51.9061 ± 0.0746");
}

#[test]
fn weighings_of_a_container_and_percentages() {
    let weighings = Weighings::new(
        "20.000".parse().unwrap(),
        "22.000".parse().unwrap(),
        ["21.601", "21.600"].map(|text| text.parse().unwrap()),
    );
    let found = mixture(BICARBONATE, &weighings).unwrap();
    let [one, other] = found.fractions();
    assert_eq!(format!("{one:.4} {other:.4}"), "54.1764 45.8236");
    assert_eq!(found.constant_mass().unwrap().reached(), Some(true));
    let inputs: Vec<&str> = found
        .budget()
        .contributions()
        .iter()
        .map(crate::number::Contribution::input)
        .collect();
    assert_eq!(
        inputs[..4],
        [
            "empty container",
            "container with hydrate",
            "the last weighing after heating",
            "constant-mass criterion"
        ]
    );
    let percent = Weighings::percent_water("20.00".parse().unwrap());
    let found = mixture(BICARBONATE, &percent).unwrap();
    assert_eq!(format!("{:.4}", found.fractions()[0]), "54.1764");
    assert_eq!(found.masses(), None);
    let falling = Weighings::new(
        "20.000".parse().unwrap(),
        "22.000".parse().unwrap(),
        ["21.700", "21.600"].map(|text| text.parse().unwrap()),
    );
    let [warning] = mixture(BICARBONATE, &falling)
        .unwrap()
        .warnings()
        .to_vec()
        .try_into()
        .unwrap();
    assert_eq!(
        warning.text(),
        "The mass still fell by 0.100 g between the last two weighings. More may be lost."
    );
}

#[test]
fn what_no_mixture_gives() {
    let said = |parts, sample, residue| {
        let error: Error = mixture(parts, &net(sample, residue)).unwrap_err();
        format!("{}: {error}", error.code())
    };
    assert_eq!(
        said(BICARBONATE, "2.000", "1.200"),
        "impossible_masses: a residue of 1.200 g from 2.000 g is less than any mixture leaves: NaHCO3 alone leaves \
         1.262 g, and Na2CO3 alone leaves 2.000 g"
    );
    assert_eq!(
        said(BICARBONATE, "2.000", "2.050"),
        "impossible_masses: a residue of 2.050 g from 2.000 g is more than any mixture leaves: NaHCO3 alone leaves \
         1.262 g, and Na2CO3 alone leaves 2.000 g"
    );
    assert_eq!(
        said(BICARBONATE, "0", "1.200"),
        "impossible_masses: a sample of 0 g cannot leave a residue of 1.200 g"
    );
    assert_eq!(
        said(
            [("CuSO4·5H2O", "CuSO4"), ("CuSO4·5H2O", "CuSO4")],
            "2.000",
            "1.500"
        ),
        "bad_request: CuSO4·5H2O and CuSO4·5H2O lose the same fraction of their mass, so the loss cannot distinguish \
         them"
    );
    assert_eq!(
        said([("NaCl", "NaCl"), ("SiO2", "SiO2")], "2.000", "2.000"),
        "bad_request: NaCl and SiO2 lose the same fraction of their mass, so the loss cannot distinguish them"
    );
    let foreign = Component::new("AgI".parse().unwrap(), "AgCl".parse().unwrap()).unwrap_err();
    assert_eq!(
        foreign.to_string(),
        "AgCl cannot arise from AgI: it has chlorine, and neither AgI nor the air has, and it may only be heated in a fume \
         cupboard"
    );
}

#[test]
fn nearly_pure_is_said() {
    // 1.261 g instead of 1.2617 g.
    let found = mixture(BICARBONATE, &net("2.000", "1.261")).unwrap();
    let [warning] = found.warnings() else {
        panic!("one warning");
    };
    assert_eq!(
        warning.text(),
        "The readings give 0.09 % more NaHCO3 than the whole mixture has. This is within the uncertainty, so the \
         mixture may be pure NaHCO3."
    );
    assert!(found.fractions()[1].is_negative());
    // 36.08 % and 36.25 % of them leave.
    let alike = [("CuSO4·5H2O", "CuSO4"), ("FeCl2·4H2O", "FeCl2")];
    let found = mixture(alike, &net("2.00", "1.277")).unwrap();
    assert_eq!(found.warnings()[0].code(), "hardly_distinguished");
}

#[test]
fn a_gain_and_a_component_that_leaves_nothing() {
    // Each gram of iron becomes 1.42973 g of oxide: 0.215/0.42973.
    let found = mixture([("Fe", "Fe2O3"), ("SiO2", "SiO2")], &net("1.000", "1.215")).unwrap();
    assert_eq!(format!("{:.2}", found.fractions()[0]), "50.03");
    let parts = [
        Component::leaving_nothing("NH4Cl".parse().unwrap()).unwrap(),
        Component::inert("NaCl".parse().unwrap()).unwrap(),
    ];
    let found = Method::new()
        .mixture(parts, &net("1.000", "0.400"))
        .unwrap();
    assert_eq!(found.fractions(), &[60.into(), 40.into()]);
    assert_eq!(found.left_of_each()[0], crate::Ratio::ZERO);
}

#[test]
fn working_by_hand() {
    let found = mixture(BICARBONATE, &net("2.000", "1.600")).unwrap();
    let working = found.working();
    let steps: Vec<String> = working
        .steps()
        .iter()
        .map(|s| {
            format!(
                "{} = {} = {} {}",
                s.symbols(),
                s.numbers(),
                s.result(),
                s.unit()
            )
        })
        .collect();
    assert_eq!(
        steps,
        [
            "r(NaHCO3) = 0.5 × M(Na2CO3) / M(NaHCO3) = 0.5 × 105.988 g/mol / 84.006 g/mol = 0.63084 ",
            "r(Na2CO3) = M(Na2CO3) / M(Na2CO3) = 105.988 g/mol / 105.988 g/mol = 1.0000 ",
            "w(NaHCO3) = 100 % × (m(residue) / m(sample) − r(Na2CO3)) / (r(NaHCO3) − r(Na2CO3)) = 100 % × (1.600 g / \
             2.000 g − 1.0000) / (0.63084 − 1.0000) = 54.18 %",
            "w(Na2CO3) = 100 % − w(NaHCO3) = 100 % − 54.18 % = 45.82 %",
        ]
    );
}

#[test]
fn the_limit_is_that_of_the_residue() {
    let parts = [("CuSO4·5H2O", "CuSO4·H2O"), ("SiO2", "SiO2")];
    let cautions = mixture(parts, &net("2.000", "1.700")).unwrap().cautions();
    let mut limits = cautions.iter().filter(|note| note.code() == "safe_up_to");
    let limit = limits.next().unwrap().text();
    assert!(limit.contains("CuSO4·H2O above about 200 °C"), "{limit}");
    assert!(limits.next().is_none());
}

#[test]
fn what_cannot_be_worked_out_still_says_that_it_is_dangerous() {
    for ([one, other], residue) in [
        ([("KNO3", "KNO3"), ("S", "S")], "2.000"),
        ([("KClO3", "KClO3"), ("MnO2", "MnO2")], "2.000"),
        ([("Al", "Al"), ("Fe2O3", "Fe2O3")], "2.000"),
        (
            [("K4[Fe(CN)6]·3H2O", "K4[Fe(CN)6]"), ("KHSO4", "KHSO4")],
            "0.100",
        ),
    ] {
        let error = mixture([one, other], &net("2.000", residue)).unwrap_err();
        let said = "and they must not be heated together in a school at all";
        assert!(error.to_string().ends_with(said), "{error}");
    }
    let harmless = mixture([("NaCl", "NaCl"), ("SiO2", "SiO2")], &net("2.000", "2.000"));
    assert!(!harmless.unwrap_err().to_string().contains("school"));
    let component = Component::new("KClO3".parse().unwrap(), "NaCl".parse().unwrap());
    let error = component.unwrap_err();
    assert!(error.to_string().contains("must not be heated"), "{error}");
}
