use alloc::string::ToString;
use alloc::vec::Vec;

use super::{Arrow, Equation, ErrorKind};

mod balancing;

fn plain(text: &str) -> alloc::string::String {
    match text.parse::<Equation>() {
        Ok(equation) => equation.to_string(),
        Err(error) => panic!("{}", error.caret(text)),
    }
}

#[track_caller]
fn refused(text: &str, kind: ErrorKind, at: &str) -> alloc::string::String {
    let error = text.parse::<Equation>().expect_err(text);
    assert_eq!(error.kind(), kind, "{text}: {error}");
    let span = error.span().expect(text);
    assert_eq!(&text[span.start..span.end], at, "{text}: {error}");
    assert!(error.help().is_some(), "{text}");
    error.to_string()
}

#[test]
fn arrows_people_type() {
    for arrow in ["->", "→", "-->", "⟶", "=>", "==>", "−>", "–>", "⇒"] {
        let text = alloc::format!("2H2 + O2 {arrow} 2H2O");
        assert_eq!(plain(&text), "2H2 + O2 -> 2H2O", "{arrow}");
    }
    for arrow in ["⇌", "<=>", "<->", "⟷", "↔", "<-->", "<==>", "⇄"] {
        let text = alloc::format!("2H2 + O2 {arrow} 2H2O");
        assert_eq!(plain(&text), "2H2 + O2 <=> 2H2O", "{arrow}");
    }
    for text in ["H2O(l)=H2O(g)", "H2O (l) == H2O (g)"] {
        let equation: Equation = text.parse().unwrap();
        assert_eq!(equation.arrow(), Arrow::Equals);
        assert_eq!(equation.to_string(), "H2O(l) = H2O(g)");
    }
    assert_eq!(plain("2Cl^- ->Cl2+2e^-"), "2Cl^- -> Cl2 + 2e^-");
}

#[test]
fn a_plus_joins_or_charges() {
    for (text, read) in [
        ("Fe3+ + 3OH- -> Fe(OH)3", "Fe^3+ + 3OH^- -> Fe(OH)3"),
        ("Cu2+ + 2e- -> Cu", "Cu^2+ + 2e^- -> Cu"),
        ("H2+O2->H2O", "H2 + O2 -> H2O"),
        ("Na +Cl2 -> NaCl", "Na + Cl2 -> NaCl"),
        (
            "Na+(aq) + Cl-(aq) -> NaCl(s)",
            "Na^+(aq) + Cl^-(aq) -> NaCl(s)",
        ),
        (
            "Na+ (aq) + Cl- (aq) = NaCl (s)",
            "Na^+(aq) + Cl^-(aq) = NaCl(s)",
        ),
        ("Ca++ + CO3-- -> CaCO3", "Ca^2+ + CO3^2- -> CaCO3"),
        ("Fe^3+ + 3OH^- -> Fe(OH)3", "Fe^3+ + 3OH^- -> Fe(OH)3"),
        ("Fe^3++3OH^-->Fe(OH)3", ""),
        ("Fe^3++3OH^- -> Fe(OH)3", "Fe^3+ + 3OH^- -> Fe(OH)3"),
        ("Fe³⁺+3OH⁻ → Fe(OH)₃", "Fe^3+ + 3OH^- -> Fe(OH)3"),
        ("Ag(+) + Cl(-) -> AgCl", "Ag^+ + Cl^- -> AgCl"),
        (
            "[Ag(NH3)2]+ + e- -> Ag + 2NH3",
            "[Ag(NH3)2]^+ + e^- -> Ag + 2NH3",
        ),
        ("NH4+ + OH- -> NH3 + H2O", "NH4^+ + OH^- -> NH3 + H2O"),
        ("[Fe]+2 + H2 -> Fe", "[Fe]^2+ + H2 -> Fe"),
    ] {
        if read.is_empty() {
            refused(text, ErrorKind::AmbiguousNotation, "-->");
        } else {
            assert_eq!(plain(text), read, "{text}");
        }
    }
    let said = refused("Cu2+Cl2 -> CuCl2", ErrorKind::AmbiguousNotation, "+");
    assert_eq!(
        said,
        "`+` has two possible meanings: it joins `Cu2` and `Cl2`, or it is the charge of `Cu2`"
    );
    for text in ["Na+Cl- -> NaCl", "H2+ O2 -> H2O", "Na+ Cl2 -> NaCl"] {
        refused(text, ErrorKind::AmbiguousNotation, "+");
    }
    let said = refused("Zn->Zn2++2e-", ErrorKind::AmbiguousNotation, "++");
    assert_eq!(
        said,
        "`++` has two possible meanings: it joins `Zn2+` and `2e-`, or it is the charge of `Zn2`"
    );
    refused("Na++Cl- -> NaCl", ErrorKind::AmbiguousNotation, "++");
    refused("SO42- + Ba2+ -> BaSO4", ErrorKind::AmbiguousNotation, "42-");
}

#[test]
fn coefficients_stand_apart() {
    for (text, read) in [
        ("H2 + 1/2 O2 -> H2O", "H2 + 0.5O2 -> H2O"),
        ("H2 + ½O2 -> H2O", "H2 + 0.5O2 -> H2O"),
        ("H2 + 0.5 O2 -> H2O", "H2 + 0.5O2 -> H2O"),
        (
            "C2H6 + 3½ O2 -> 2 CO2 + 3 H2O",
            "C2H6 + 3.5O2 -> 2CO2 + 3H2O",
        ),
        ("10FeSO4 + 1/3 O2 -> Fe", "10FeSO4 + 1/3O2 -> Fe"),
        (
            "2CuSO4·5H2O -> 2CuSO4 + 10H2O",
            "2CuSO4·5H2O -> 2CuSO4 + 10H2O",
        ),
        (
            "1 3CdSO4·8H2O -> 3CdSO4 + 8H2O",
            "1 3CdSO4·8H2O -> 3CdSO4 + 8H2O",
        ),
        ("２H2 + O2 -> 2H2O", "2H2 + O2 -> 2H2O"),
        // One unit, though as a formula it is two of a group.
        (
            "2(CN)2 + 3(H2O)2 -> (OH)2(g) + (CN)½",
            "2(CN)2 + 3(H2O)2 -> (OH)2(g) + (CN)0.5",
        ),
    ] {
        assert_eq!(plain(text), read, "{text}");
    }
    let hydrate: Equation = "3CdSO4·8H2O -> CdSO4 + H2O".parse().unwrap();
    assert_eq!(hydrate.species()[0].formula().to_string(), "CdSO4·8H2O");
    let (_, notes) = Equation::read("2 CuSO4·5H2O -> 2CuSO4 + 10H2O").unwrap();
    assert!(notes.is_empty());
    refused("Mg + 02 -> MgO", ErrorKind::BadEquation, "02");
    refused("0H2 + O2 -> H2O", ErrorKind::BadEquation, "0");
    refused("2 3H2 + O2 -> H2O", ErrorKind::BadEquation, "2 3H2");
    refused("H2 + 0,5 O2 -> H2O", ErrorKind::BadEquation, "0,");
    refused(
        "2 1/2CdSO4·4H2O -> H2O",
        ErrorKind::AmbiguousNotation,
        "2 1/2CdSO4·4H2O",
    );
    refused("H2 + 1/0 O2 -> H2O", ErrorKind::BadEquation, "1/0");
}

#[test]
fn errors_stand_in_the_equations_own_text() {
    refused("", ErrorKind::BadEquation, "");
    refused("H2 + O2", ErrorKind::BadEquation, "H2 + O2");
    refused("H2 + -> H2O", ErrorKind::BadEquation, " ");
    refused("H2 + O2 ->", ErrorKind::BadEquation, "");
    refused("-> H2", ErrorKind::BadEquation, "");
    refused("A2 -> B -> C", ErrorKind::UnknownElement, "A");
    refused("H2 -> H2O -> C", ErrorKind::BadEquation, "->");
    refused("H2O <- H2 + O2", ErrorKind::BadEquation, "<-");
    refused("H2 + O2 -> H2Xx", ErrorKind::UnknownElement, "Xx");
    refused("CuS04 -> Cu", ErrorKind::BadFormula, "0");
    refused("H2 + (OH -> H2O", ErrorKind::UnbalancedBracket, "(");
    refused("H2 + 2 -> H2O", ErrorKind::BadEquation, "");
    for (text, at, said) in [
        ("CaCO3 → CaO + CO2↑", "↑", "`↑` is not a state label"),
        (
            "Zn - 2e- -> Zn2+",
            "-",
            "there is a minus between two species",
        ),
        ("-> H2O", "", "there is no species before the arrow"),
        (
            "+ H2 -> H2O",
            "",
            "there is no species before the first `+`",
        ),
        ("H2 -> H2O +", "", "there is no species after the last `+`"),
    ] {
        assert_eq!(refused(text, ErrorKind::BadEquation, at), said);
    }
    let error = "H2 + O2 -> H2Xx".parse::<Equation>().unwrap_err();
    assert!(
        error
            .caret("H2 + O2 -> H2Xx")
            .to_string()
            .starts_with("H2 + O2 -> H2Xx\n             ^^\n")
    );
    let many = ["H2"; 70].join(" + ") + " -> H2";
    assert_eq!(
        many.parse::<Equation>().unwrap_err().kind(),
        ErrorKind::TooLarge
    );
    let long = "H2 -> H2".to_string() + &" ".repeat(20_000);
    assert_eq!(
        long.parse::<Equation>().unwrap_err().kind(),
        ErrorKind::TooLarge
    );
}

#[test]
fn every_writer() {
    let text = "Cr2O7^2-(aq) + 14H^+ + 6e^- ⇌ 2Cr^3+ + 7H2O(l)";
    let equation: Equation = text.parse().unwrap();
    assert_eq!(
        equation.to_unicode(),
        "Cr₂O₇²⁻(aq) + 14H⁺ + 6e⁻ ⇌ 2Cr³⁺ + 7H₂O(l)"
    );
    assert_eq!(equation.to_unicode().parse::<Equation>().unwrap(), equation);
    assert_eq!(equation.to_string().parse::<Equation>().unwrap(), equation);
    assert_eq!(
        equation.to_mhchem(),
        "\\ce{Cr2O7^2-(aq) + 14 H^+ + 6 e^- <=> 2 Cr^3+ + 7 H2O(l)}"
    );
    let half: Equation = "H2 + ½O2 -> H2O".parse().unwrap();
    assert_eq!(half.to_unicode(), "H₂ + ½O₂ → H₂O");
    assert_eq!(half.to_unicode().parse::<Equation>().unwrap(), half);
    assert_eq!(
        half.to_latex(),
        "\\mathrm{H_{2}} + \\tfrac{1}{2}\\,\\mathrm{O_{2}} \\rightarrow \\mathrm{H_{2}O}"
    );
    assert_eq!(
        half.to_html(),
        "H<sub>2</sub> + ½O<sub>2</sub> → H<sub>2</sub>O"
    );
    let spoken = half.to_spoken();
    assert!(
        spoken.contains("one half O") && spoken.contains(", gives "),
        "{spoken}"
    );
    let mathml = half.to_mathml();
    assert!(mathml.contains("<mo>→</mo>") && mathml.ends_with("</math>"));
    assert!(mathml.contains(&spoken) && mathml.matches("<math").count() == 1);
    assert!(mathml.contains("<mfrac><mn>1</mn><mn>2</mn></mfrac><mrow>"));
}

#[test]
fn equality_is_of_the_meaning() {
    let same = ["1H2 + 1/2O2 -> H2O", "H2 + 0.5 O2 → 1 H₂O"];
    let same: Vec<Equation> = same.iter().map(|t| t.parse().unwrap()).collect();
    assert_eq!(same[0], same[1]);
    let others = ["O2 + H2 -> H2O", "H2 + 1/2O2 = H2O", "H2 + O2 -> H2O"];
    for other in others {
        assert_ne!(same[0], other.parse().unwrap(), "{other}");
    }
    let once: Equation = "H2(g) + O2 -> H2O + H2".parse().unwrap();
    let hydrogen = "H2".parse().unwrap();
    assert_eq!(once.indices_of(&hydrogen).collect::<Vec<_>>(), [0, 3]);
    assert_eq!(once.reversed().to_string(), "H2O + H2 -> H2(g) + O2");
}

/// A run of signs that is no arrow has none inside, however long it is.
#[test]
fn runs_of_signs() {
    for text in ["H2 === O2", "H2 --- O2"] {
        let kind = ErrorKind::BadFormula;
        assert_eq!(refused(text, kind, " "), "a space inside the formula");
    }
    for (text, arrow) in [("H2 ==> H2", Arrow::Forward), ("H2 == H2", Arrow::Equals)] {
        assert_eq!(text.parse::<Equation>().unwrap().arrow(), arrow);
    }
}

#[test]
fn an_adduct_in_brackets_is_a_species() {
    let (equation, notes) = Equation::read("2(3CdSO4·8H2O) -> 6CdSO4 + 16H2O").unwrap();
    assert_eq!(notes, []);
    let mineral = "3CdSO4·8H2O".parse().unwrap();
    assert_eq!(equation.reactants()[0].formula(), &mineral);
    assert!(equation.check().unwrap().is_balanced());
    let one: Equation = "(3CdSO4·8H2O) -> CdSO4 + H2O".parse().unwrap();
    assert_eq!(one.reactants()[0].formula(), &mineral);
    let balanced = one.balance().unwrap();
    assert_eq!(balanced.coefficients(), [1, 3, 8].map(crate::Ratio::from));
    // A bracket that is no more than the first group leaves the number in doubt.
    let (_, notes) = Equation::read("2(NH4)2SO4·H2O -> (NH4)2SO4 + H2O").unwrap();
    assert_eq!(notes[0].code(), "coefficient_of_all");
}

#[test]
fn a_number_before_water_counts_the_water() {
    let (equation, notes) = Equation::read("MgSO4 + 7H2O -> 7H2O·MgSO4").unwrap();
    assert_eq!(equation.to_string(), "MgSO4 + 7H2O -> MgSO4·7H2O");
    let notes: Vec<_> = notes
        .iter()
        .map(|note| (note.code(), note.text()))
        .collect();
    let sentence = "The number before `H2O·MgSO4` was read as the number of waters.";
    assert_eq!(notes, [("number_of_waters", sentence)]);
    assert_eq!(plain("2 7H2O·MgSO4 = H2O"), "2MgSO4·7H2O = H2O");
    assert_eq!(plain("2H2O·H2O = H2O"), "2H2O·H2O = H2O");
    for text in [
        "CuSO4 x 5H2O -> CuSO4 + 5H2O",
        "CuSO4·5,0H2O -> CuSO4 + 5H2O",
    ] {
        assert_eq!(plain(text), "CuSO4·5H2O -> CuSO4 + 5H2O");
    }
}

#[test]
fn a_balance_tells_of_typing_errors() {
    let (equation, _) = Equation::read("CaCo3 -> CaO + CO2").unwrap();
    let error = equation.balance().unwrap_err();
    assert_eq!(
        error.to_string(),
        "the equation has no balance: `CaCo_{3}` may be a typing error for `CaCO3`"
    );
    assert_eq!(error.help(), Some("write `CaCO3`"));
    assert_eq!(error.reasons()[0].code(), "suspect_formula");
}
