use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::*;
use crate::element::AtomicWeights;
use crate::gravimetry::Error;

fn stages(start: &str, residues: &[&str]) -> Result<Stages, Error> {
    let start = Stages::of(start.parse().unwrap(), &AtomicWeights::default())?;
    let mut residues = residues.iter();
    residues.try_fold(start, |stages, residue| {
        stages.then(residue.parse().unwrap())
    })
}

/// `per_start residue: number gas + …, taken up: …`.
fn described(start: &str, residues: &[&str]) -> Vec<String> {
    let stages = stages(start, residues).unwrap();
    let describe = |stage: &Stage| {
        let gases = stage.gases().iter();
        let gases: Vec<String> = gases
            .map(|(gas, number)| format!("{number} {gas}"))
            .collect();
        let lost = match gases.is_empty() {
            true => stage.lost().unwrap_or_else(|| "nothing".into()),
            false => gases.join(" + "),
        };
        let taken_up = stage.taken_up().map(|gas| format!(", takes up {gas}"));
        let (units, residue) = (stage.per_start(), stage.residue());
        format!("{units} {residue}: {lost}{}", taken_up.unwrap_or_default())
    };
    stages.stages().iter().map(describe).collect()
}

#[test]
fn sequences_by_hand() {
    assert_eq!(
        described(
            "CuSO4·5H2O",
            &[
                "CuSO4·3H2O",
                "CuSO4·H2O",
                "CuSO4",
                "CuO·CuSO4",
                "CuO",
                "Cu2O"
            ]
        ),
        [
            "1 CuSO4·3H2O: 2 H2O",
            "1 CuSO4·H2O: 2 H2O",
            "1 CuSO4: 1 H2O",
            "0.5 CuO·CuSO4: 0.5 SO3",
            "1 CuO: 0.5 SO3",
            "0.5 Cu2O: 0.25 O2",
        ]
    );
    for (start, residue, expected) in [
        ("MgC2O4", "MgO", "1 MgO: 1 CO + 1 CO2"),
        ("NiC2O4·2H2O", "Ni", "1 Ni: 2 H2O + 2 CO2"),
        (
            "FeSO4·7H2O",
            "Fe2O3",
            "0.5 Fe2O3: 7 H2O + 0.5 SO2 + 0.5 SO3",
        ),
        (
            "FeSO4",
            "Fe(OH)SO4",
            "1 Fe(OH)SO4: nothing, takes up H2O + O2",
        ),
        ("MgCl2·6H2O", "Mg(OH)Cl", "1 Mg(OH)Cl: 5 H2O + 1 HCl"),
        ("MgCl2·6H2O", "MgO", "1 MgO: 5 H2O + 2 HCl"),
        (
            "CoCl2·6H2O",
            "Co3O4",
            "1/3 Co3O4: 5 H2O + 2 HCl, takes up O2",
        ),
        ("CuCl2", "CuO", "1 CuO: 1 Cl2, takes up O2"),
        ("CuCl2", "CuCl", "1 CuCl: 0.5 Cl2"),
        ("Cu(NO3)2·3H2O", "CuO", "1 CuO: 3 H2O + 2 NO2 + 0.5 O2"),
        ("(NH4)2Cr2O7", "Cr2O3", "1 Cr2O3: 4 H2O + 1 N2"),
        (
            "NH4Al(SO4)2·12H2O",
            "Al2O3",
            "0.5 Al2O3: 12.5 H2O + 1 NH3 + 2 SO3",
        ),
        (
            "KAl(SO4)2·12H2O",
            "K2SO4·Al2O3",
            "0.5 K2SO4·Al2O3: 12 H2O + 1.5 SO3",
        ),
        (
            "(NH4)2Fe(SO4)2·6H2O",
            "Fe2O3",
            "0.5 Fe2O3: 7 H2O + 2 NH3 + 0.5 SO2 + 1.5 SO3",
        ),
        ("Na2HPO4·12H2O", "Na4P2O7", "0.5 Na4P2O7: 12.5 H2O"),
        ("NaHCO3", "Na2CO3", "0.5 Na2CO3: 0.5 H2O + 0.5 CO2"),
        ("Na2S2O3", "3Na2SO4·Na2S5", "0.25 3Na2SO4·Na2S5: nothing"),
        ("3CdSO4·8H2O", "CdSO4", "3 CdSO4: 8 H2O"),
        ("CaO", "CaCO3", "1 CaCO3: nothing, takes up CO2"),
        ("CuSO4", "CuSO4·5H2O", "1 CuSO4·5H2O: nothing, takes up H2O"),
        ("PbO", "Pb3O4", "1/3 Pb3O4: nothing, takes up O2"),
        ("H2C2O4·2H2O", "H2C2O4", "1 H2C2O4: 2 H2O"),
        (
            "Nd(C9H7O4)3(N2H4)2·H2O",
            "Nd(C9H7O4)3",
            "1 Nd(C9H7O4)3: 1 H2O + 2 N2H4",
        ),
        // No mixture of known gases.
        ("Ca(CH3CO2)2", "CaCO3", "1 CaCO3: C3H6O"),
        ("KAl(SO4)2", "Al2O3", "0.5 Al2O3: K2O13S4"),
        ("CuSO4·5D2O", "CuSO4", "1 CuSO4: [2H]10O5"),
        ("NaK", "Na2O2", "0.5 Na2O2: K, takes up O"),
    ] {
        assert_eq!(described(start, &[residue]), [expected], "{start}");
    }
}

#[test]
fn what_cannot_arise() {
    for (start, residues, expected) in [
        (
            "CuSO4·5H2O",
            &["CuCl2"][..],
            "CuCl2 cannot arise from CuSO4·5H2O: it has chlorine, and neither CuSO4·5H2O nor the air has",
        ),
        // The sulfur left with an earlier stage.
        (
            "CuSO4·5H2O",
            &["CuO", "CuSO4"],
            "CuSO4 cannot arise from CuO: it has sulfur, and neither CuO nor the air has",
        ),
        (
            "MgSO4·7H2O",
            &["Na2CO3·NaCl"],
            "Na2CO3·NaCl cannot arise from MgSO4·7H2O: it has sodium and chlorine, and neither MgSO4·7H2O nor the air has",
        ),
        (
            "CuSO4·5H2O",
            &["H2O"],
            "H2O has only elements that the air has, too, so its amount from CuSO4·5H2O is not fixed",
        ),
        ("e^-", &[], "e^- is not a solid"),
    ] {
        let error = stages(start, residues).unwrap_err();
        assert_eq!(
            (error.code(), error.to_string().as_str()),
            ("bad_request", expected)
        );
        assert!(error.help().is_some());
    }
    let code = |start: &str, residues: &[&str]| stages(start, residues).unwrap_err().code();
    assert_eq!(code("CuSO4·xH2O", &[]), "unknown_degree");
    assert_eq!(code("CuSO4·5H2O", &["CuSO4·xH2O"]), "unknown_degree");
    assert_eq!(code("Tc2O7", &[]), "no_standard_weight");
}

#[test]
fn what_is_taken_up_is_said() {
    let stages = stages("FeSO4", &["Fe(OH)SO4", "Fe2O3"]).unwrap();
    let notes = stages.notes();
    let notes: Vec<(&str, &str)> = notes
        .iter()
        .map(|note| (note.code(), note.text()))
        .collect();
    assert_eq!(
        notes,
        [(
            "taken_up",
            "FeSO4 takes up H2O + O2 from the air when it turns into Fe(OH)SO4. What is taken up counts as a negative \
             loss. The mass rises."
        )]
    );
    let first = &stages.stages()[0];
    // 100 % × 17.007/151.901.
    assert_eq!(format!("{:.3}", first.percent_lost()), "-11.196");
    assert_eq!(format!("{:.3}", first.percent_residue()), "111.196");
}

#[test]
fn masses_and_working() {
    let stages = stages("CuSO4·5H2O", &["CuSO4", "CuO"]).unwrap();
    let stages = stages.sample("2.500".parse().unwrap()).unwrap();
    let masses: Vec<String> = stages
        .stages()
        .iter()
        .map(|stage| format!("{:.4}", stage.mass().unwrap()))
        .collect();
    // 2.500 g · 159.602/249.677, and 2.500 g · 79.545/249.677.
    assert_eq!(masses, ["1.5981", "0.7965"]);
    let working = stages.working();
    let steps: Vec<String> = working
        .steps()
        .iter()
        .map(|s| {
            format!(
                "{} {} {} {}",
                s.numbers(),
                s.relation(),
                s.result(),
                s.unit()
            )
        })
        .collect();
    assert_eq!(
        steps,
        [
            "100 % × (249.677 g/mol − 159.602 g/mol) / 249.677 g/mol = 36.08 %",
            "by difference so 5 H2O ",
            "100 % × (159.602 g/mol − 79.545 g/mol) / 249.677 g/mol = 32.06 %",
            "by difference so SO3 ",
        ]
    );
    let refused = stages.sample("0".parse().unwrap()).unwrap_err();
    assert_eq!(refused.code(), "impossible_masses");
}

/// The losses are 14.43, 14.43, 7.22 and 32.06 % of CuSO4·5H2O, 68.14 % of it to `CuO`, 62.24 % of MgCl2·6H2O,
/// −11.20 and 58.63 % of `FeSO4`, and 18.73 % of 3CdSO4·8H2O. The distance is the root of the mean square.
#[test]
fn sequences_that_fit() {
    let fits = |hydrate: &str, observed: &[&str]| -> Vec<String> {
        let observed: Vec<_> = observed.iter().map(|text| text.parse().unwrap()).collect();
        let fits = Stages::fitting(
            &hydrate.parse().unwrap(),
            &observed,
            &AtomicWeights::default(),
        );
        let fits = fits.unwrap().into_iter();
        fits.map(|fit| {
            let residues = fit.stages().stages().iter();
            let residues: Vec<String> = residues.map(|s| s.residue().to_string()).collect();
            format!("{} {:.2}", residues.join(" "), fit.distance())
        })
        .collect()
    };
    let copper = fits("CuSO4·5H2O", &["14.4", "14.4", "7.2", "32.1"]);
    assert_eq!(copper[0], "CuSO4·3H2O CuSO4·H2O CuSO4 CuO 0.03");
    assert_eq!(fits("CuSO4·5H2O", &["68.1"])[0], "CuO 0.04");
    assert_eq!(fits("MgCl2·6H2O", &["62.2"])[0], "Mg(OH)Cl 0.04");
    // The salt takes up oxygen and water.
    assert_eq!(fits("FeSO4", &["-11", "58.6"])[0], "Fe(OH)SO4 Fe2O3 0.14");
    assert_eq!(fits("CuSO4·5H2O", &[]), [""; 0]);
    assert_eq!(fits("NaCl", &["5"]), [""; 0]);
    assert_eq!(fits("3CdSO4·8H2O", &["18.7"])[0], "CdSO4 0.03");
    assert!(fits("CuSO4·5H2O", &["1"; 9]).is_empty());
    let error = Stages::fitting(
        &"CuSO4·5H2O".parse().unwrap(),
        &["36".parse().unwrap(), "64".parse().unwrap()],
        &AtomicWeights::default(),
    );
    let error = error.unwrap_err();
    assert_eq!(error.code(), "impossible_masses");
    assert_eq!(
        error.to_string(),
        "the losses add up to 100 %, and then no solid is left"
    );
}

#[test]
fn gases_that_harm_are_named_with_the_cautions() {
    use crate::gravimetry::{Severity, cautions};

    let found = |start: &str, residues: &[&str]| {
        let stages = stages(start, residues).unwrap();
        let notes = stages.cautions();
        let shown = notes
            .iter()
            .map(|note| (note.code(), note.text().to_string()));
        (stages.severity(), shown.collect::<Vec<_>>())
    };
    let usual = |start: &str| {
        let notes = cautions(&start.parse().unwrap());
        notes
            .iter()
            .map(|note| (note.code(), note.text().to_string()))
            .collect::<Vec<_>>()
    };
    let (severity, notes) = found("CuSO4·5H2O", &["CuSO4·H2O", "CuSO4"]);
    assert_eq!((severity, notes), (Severity::Care, usual("CuSO4·5H2O")));
    let (severity, notes) = found("CuSO4·5H2O", &["CuSO4", "CuO"]);
    assert_eq!(severity, Severity::FumeCupboard);
    let text = "The stage to CuO gives off SO3 (SO3 in part as SO2 and O2). This harms when it is breathed in. Heat \
                it only in a fume cupboard.";
    assert_eq!(notes[0], ("harmful_gas", text.to_string()));
    assert_eq!(notes[1..], usual("CuSO4·5H2O"));
    let (_, notes) = found("Ca(CH3CO2)2·H2O", &["Ca(CH3CO2)2", "CaCO3"]);
    assert_eq!(notes[0].0, "unknown_gas");
    // What must not be heated says so first, and nothing says how to heat it.
    let (severity, notes) = found("(NH4)2Cr2O7", &["Cr2O3"]);
    assert_eq!(
        (severity, notes),
        (Severity::Forbidden, usual("(NH4)2Cr2O7"))
    );
    let (severity, notes) = found("NH4ClO4·CaC2O4", &["CaCl2"]);
    assert_eq!(severity, Severity::Forbidden);
    let text =
        "Nothing is known here of what leaves in the stage to CaCl2. It may burn or be toxic.";
    assert_eq!(notes[1], ("unknown_gas", text.to_string()));
}

#[test]
fn the_catalogue_names_vapours() {
    for (start, residues, lost, gases) in [
        ("NaC2H3O2·3H2O", &["NaC2H3O2", "Na2CO3"], "C3H6O", "C3H6O"),
        ("CH3COONa", &["Na2CO3"], "C3H6O", "C3H6O"),
        (
            "Mg(C2H3O2)2·4H2O",
            &["Mg(C2H3O2)2", "MgO"],
            "C4H6O3",
            "C3H6O + CO2",
        ),
    ] as [(&str, &[&str], &str, &str); 3]
    {
        let stages = stages(start, residues).unwrap();
        let notes = stages.notes();
        assert_eq!(notes.len(), 1);
        assert_eq!(notes[0].code(), "vapours");
        let text = format!("{lost} is lost. It leaves as {gases}.");
        assert!(notes[0].text().ends_with(&text), "{}", notes[0]);
        let residue = residues.last().unwrap();
        let text = format!(
            "The stage to {residue} gives off {gases}. It may burn or be toxic. Heat it only in a fume cupboard."
        );
        assert_eq!(stages.cautions()[0].text(), text);
        assert!(stages.severity() >= crate::gravimetry::Severity::FumeCupboard);
    }
}

#[test]
fn the_limit_is_that_of_the_last_residue() {
    let limit = |residues: &[&str]| {
        let cautions = stages("CuSO4·5H2O", residues).unwrap().cautions();
        let limit = cautions.iter().find(|note| note.code() == "safe_up_to");
        limit.unwrap().text().to_string()
    };
    assert!(limit(&["CuSO4·H2O"]).contains("CuSO4·H2O above about 200 °C"));
    assert!(limit(&["CuSO4·H2O", "CuSO4"]).contains("CuSO4 above about 400 °C"));
}

#[test]
fn an_error_says_what_must_not_be_heated() {
    let weights = AtomicWeights::default();
    let stages = Stages::of("KClO3".parse().unwrap(), &weights).unwrap();
    let error = stages.then("NaCl".parse().unwrap()).unwrap_err();
    let said = ", and it must not be heated in a school at all";
    assert!(error.to_string().ends_with(said), "{error}");
}
