//! Spellings that people bring along: decimals in counts, water first, a letter x for the dot, names,
//! abbreviations, and capitals in the wrong place.

use super::*;

#[track_caller]
fn told(text: &str, code: &str, span: (usize, usize), message: &str, help: &str) {
    refused(text, code, span, message);
    helped(text, help);
}

/// Noted as written in the wrong case, and refused strictly, with a correction.
#[track_caller]
fn doubted(text: &str, canonical: &str, corrected: &str) {
    noted(text, canonical, &["suspect_case"], "ambiguous_notation");
    let error = text.parse::<Formula>().unwrap_err();
    assert_eq!(error.help(), Some(&*format!("write `{corrected}`")));
    assert!(corrected.parse::<Formula>().is_ok(), "{corrected}");
}

#[test]
fn a_lone_one_or_zero_begins_a_decimal() {
    reads("La1.85Sr0.15CuO4", "La_{1.85}Sr0.15CuO4");
    reads("Cu1.8S", "Cu_{1.8}S");
    reads("Cu1.8S(s)", "Cu_{1.8}S(s)");
    reads("Na1.5(NH4)1.5PO4", "Na_{1.5}(NH4)_{1.5}PO4");
    reads("LaC1.85Sr2", "LaC_{1.85}Sr2");
    reads("Na0.5K0.5NbO3", "Na0.5K0.5NbO3");
    // Where a solvate is counted, the full stop is a dot.
    reads("Na1.5H2O", "Na·5H2O");
    reads("MgSO4.1.5H2O", "MgSO4·1.5H2O");
    assert_eq!(
        "NaC1.5H2O".parse::<Formula>().unwrap_err().code(),
        "ambiguous_notation"
    );
}

#[test]
fn a_count_that_begins_with_its_point_is_noted() {
    let code = "ambiguous_notation";
    let twice = ["ambiguous_dot"; 2];
    noted("Ba.5Sr.5TiO3", "Ba·5Sr·5TiO3", &twice, code);
    let (_, notes) = Formula::read("Ba.5Sr.5TiO3").unwrap();
    assert_eq!(
        notes[0].text(),
        "The full stop in `Ba.5Sr` was read as an adduct dot. It could also be a decimal point."
    );
    assert_eq!(
        "Ba.5Sr.5TiO3".parse::<Formula>().unwrap_err().help(),
        Some("write an adduct dot: `Ba·5Sr.5TiO3`, or a zero before the decimal point")
    );
    noted("CaO.2Al2O3", "CaO·2Al2O3", &["ambiguous_dot"], code);
    told(
        "(Ba.5Sr0.5)TiO3",
        "bad_formula",
        (3, 4),
        "a full stop inside brackets",
        "write a zero before a decimal point: `(Ba0.5Sr0.5)TiO3`",
    );
}

/// No note speaks of bytes, which mean nothing to a person.
#[test]
fn a_full_stop_is_shown_with_its_neighbours() {
    for (text, shown) in [
        ("Al2O3.2SiO2.2H2O", "O3.2Si"),
        ("Ca(OH)2.3NaCl", ")2.3Na"),
        ("H₂O₂.3NaCl", "O₂.3Na"),
        ("K2.2(NH4)3", "K2.2("),
    ] {
        let (_, notes) = Formula::read(text).unwrap();
        let sentence = format!(
            "The full stop in `{shown}` was read as an adduct dot. It could also be a decimal point."
        );
        assert_eq!(notes[0].text(), sentence);
    }
}

#[test]
fn a_metal_in_capitals_before_its_anion_is_noted() {
    for (text, canonical, corrected) in [
        ("COCl2·6H2O", "C1OCl2·6H2O", "CoCl2·6H2O"),
        ("COCl2.6H2O", "C1OCl2·6H2O", "CoCl2.6H2O"),
        ("COCl2·6H2O(s)", "C1OCl2·6H2O(s)", "CoCl2·6H2O(s)"),
        ("COSO4·7H2O", "C1OSO4·7H2O", "CoSO4·7H2O"),
        ("CO(NO3)2", "C1O(NO3)2", "Co(NO3)2"),
        ("CO(CH3COO)2·4H2O", "C1O(CH3COO)2·4H2O", "Co(CH3COO)2·4H2O"),
        ("SNCl2·2H2O", "S1NCl2·2H2O", "SnCl2·2H2O"),
        ("SNCl4(l)", "S1NCl4(l)", "SnCl4(l)"),
        ("NICl2·6H2O", "N1ICl2·6H2O", "NiCl2·6H2O"),
        ("CSCl", "C1SCl", "CsCl"),
        ("BI(NO3)3·5H2O", "B1I(NO3)3·5H2O", "Bi(NO3)3·5H2O"),
    ] {
        doubted(text, canonical, corrected);
    }
    let bracketed = Formula::read("COCl2(H2O)6").unwrap().1;
    let codes: Vec<&str> = bracketed.iter().map(Note::code).collect();
    assert_eq!(codes, ["bracketed_water", "suspect_case"]);
    assert_eq!(
        Formula::read("COSO4·7H2O").unwrap().1[0].text(),
        "`CO` was read as two elements. Perhaps Co was meant."
    );
    let error = "SNCl2·2H2O".parse::<Formula>().unwrap_err();
    assert_eq!(
        error.to_string(),
        "`SN` is two elements, but it looks like Sn typed in capitals"
    );
    assert_eq!(error.span(), Some(Span::new(0, 2)));
}

#[test]
fn an_oxide_sulfate_is_written_as_it_was() {
    for text in ["TiOSO4·2H2O", "ZrOSO4·4H2O", "VOSO4·5H2O", "CuOSO4"] {
        let formula: Formula = text.parse().unwrap();
        assert_eq!(formula.to_string(), text);
    }
}

#[test]
fn a_carbonate_with_a_small_o_is_noted() {
    for (text, canonical, corrected) in [
        ("NaHCo3", "NaHCo_{3}", "NaHCO3"),
        ("CaCo3", "CaCo_{3}", "CaCO3"),
        ("2CaCo3", "2CaCo_{3}", "2CaCO3"),
        ("Na2Co3·10H2O", "Na2Co_{3}·10H2O", "Na2CO3·10H2O"),
        ("Na2Co3.10H2O", "Na2Co_{3}·10H2O", "Na2CO3.10H2O"),
        ("(NH4)2Co3", "(NH4)2Co_{3}", "(NH4)2CO3"),
        ("NH4HCo3(s)", "NH4HCo_{3}(s)", "NH4HCO3(s)"),
        ("H2Co3", "H2Co_{3}", "H2CO3"),
        ("Ca(HCo3)2", "Ca(HCo_{3})2", "Ca(HCO3)2"),
        ("Al2(Co3)3", "Al2(Co_{3})3", "Al2(CO3)3"),
    ] {
        doubted(text, canonical, corrected);
    }
    assert_eq!(
        Formula::read("NaHCo3").unwrap().1[0].text(),
        "`Co3` was read as three cobalts. Perhaps CO3 was meant, with the capital letter O."
    );
    assert_eq!(
        "CaCo3".parse::<Formula>().unwrap_err().to_string(),
        "`Co3` is three cobalts, but it looks like CO3 with a small o for the capital O"
    );
}

#[test]
fn what_is_real_is_not_noted() {
    for text in [
        "COCl2",
        "COBr2",
        "COF2",
        "COS",
        "CO",
        "CO2",
        "CO(NH2)2",
        "CO(OH)2",
        "CO3^2-",
        "HF",
        "HOF",
        "HOCl",
        "HOBr",
        "NI3",
        "INO3",
        "ICl3",
        "IBr",
        "CSCl2",
        "CSF2",
        "CS2",
        "CSe2",
        "POCl3",
        "SO2Cl2",
        "NSF3",
        "NOCl",
        "NO2F",
        "BIBr2",
        "SnCl2",
        "CoCl2·6H2O",
        "Co3O4",
        "CoCO3",
        "NaCoO2",
        "Ni(CO)4",
        "Co2(CO)8",
        "SmCo5",
        "YCo3",
        "GdCo3",
        "PtCo3",
        "Co3",
        "[Co3(CO)9]",
        "CoCl3",
        "CuSO4",
        "PbSO4",
        "PCl3",
        "SCl2",
        "No",
        "HoCl3",
        "InCl3",
        "OsO4",
        "Ac2O3",
        "AcCl3",
        "Ac(OH)3",
        "AcOCl",
        "[3H]HF",
        "HT",
        "TF",
    ] {
        assert_eq!(text.parse::<Formula>().err(), None, "{text}");
    }
}

#[test]
fn abbreviations_are_written_out() {
    let not_a_symbol = |short: &str| format!("`{short}` is not the symbol of an element");
    let two_meanings = |short: &str, name: &str| {
        format!("`{short}` has two possible meanings: elements, or {name}")
    };
    for (text, span, short, name, formula) in [
        ("MeOH", (0, 2), "Me", "methyl", "CH3OH"),
        ("EtOH", (0, 2), "Et", "ethyl", "C2H5OH"),
        ("Ph3P", (0, 2), "Ph", "phenyl", "(C6H5)3P"),
        ("Ni(PPh3)4", (4, 6), "Ph", "phenyl", "Ni(P(C6H5)3)4"),
        ("SiMe4", (2, 4), "Me", "methyl", "Si(CH3)4"),
        ("MeOEt", (0, 2), "Me", "methyl", "CH3OC2H5"),
        ("DMSO", (0, 4), "DMSO", "dimethyl sulfoxide", "C2H6OS"),
        (
            "[Co(en)3]Cl3",
            (4, 6),
            "en",
            "ethane-1,2-diamine",
            "[Co(C2H8N2)3]Cl3",
        ),
        (
            "Fe(acac)3",
            (3, 7),
            "acac",
            "acetylacetonate",
            "Fe(C5H7O2)3",
        ),
    ] {
        let help = format!("`{short}` is the abbreviation of {name}. Write it out: `{formula}`");
        told(text, "unknown_element", span, &not_a_symbol(short), &help);
        assert!(formula.parse::<Formula>().is_ok(), "{formula}");
    }
    for (text, span, short, name, formula) in [
        ("AcOH", (0, 2), "Ac", "acetyl", "CH3COOH"),
        ("NaOAc", (2, 5), "OAc", "acetate", "NaCH3COO"),
        (
            "Pb(OAc)2·3H2O",
            (3, 6),
            "OAc",
            "acetate",
            "Pb(CH3COO)2·3H2O",
        ),
        ("THF", (0, 3), "THF", "tetrahydrofuran", "C4H8O"),
        (
            "CrCl3·3THF",
            (8, 11),
            "THF",
            "tetrahydrofuran",
            "CrCl3·3C4H8O",
        ),
        (
            "MgCl2(THF)2",
            (6, 9),
            "THF",
            "tetrahydrofuran",
            "MgCl2(C4H8O)2",
        ),
    ] {
        let help = format!("`{short}` is the abbreviation of {name}. Write it out: `{formula}`");
        told(
            text,
            "ambiguous_notation",
            span,
            &two_meanings(short, name),
            &help,
        );
        assert!(formula.parse::<Formula>().is_ok(), "{formula}");
    }
}

#[test]
fn actinium_is_written_so_that_it_reads_back() {
    reads("Ac1OH", "Ac1OH");
    reads("NaO1Ac", "NaO1Ac");
    reads("AcOH2", "Ac1OH2");
    reads("AcHO", "AcHO");
    reads("Ac2O", "Ac2O");
    let hydroxide: Formula = "Ac1OH".parse().unwrap();
    assert_eq!(hydroxide.to_unicode(), "Ac₁OH");
    assert_eq!(hydroxide.to_spoken(), "Ac 1 O H");
    reads("^18O1Ac", "[18O]1Ac");
    assert_eq!(hydroxide.to_unicode().parse(), Ok(hydroxide));
}

#[test]
fn names_get_their_formula() {
    for (text, span, name, formula) in [
        ("water", (0, 5), "water", "H2O"),
        ("Water", (0, 5), "Water", "H2O"),
        ("WATER", (0, 5), "WATER", "H2O"),
        (" ammonia ", (1, 8), "ammonia", "NH3"),
        ("CuSO4·5water", (8, 13), "water", "CuSO4·5H2O"),
    ] {
        let message = format!("`{name}` is a name, not a formula");
        let help = format!("write its formula: `{formula}`");
        told(text, "unknown_element", span, &message, &help);
    }
    for (text, nuclide) in [
        ("U-235", "[235U]"),
        ("C−14", "[14C]"),
        ("Co-60(s)", "[60Co](s)"),
        ("2H-3", "2[3H]"),
    ] {
        let error = Formula::read(text).unwrap_err();
        assert_eq!(error.code(), "ambiguous_notation", "{text}");
        let help = format!("write its mass number in square brackets: `{nuclide}`");
        assert_eq!(error.help(), Some(help.as_str()));
        assert!(nuclide.parse::<Formula>().is_ok(), "{nuclide}");
    }
    refused(
        "U-235",
        "ambiguous_notation",
        (0, 5),
        "`U-235` is the name of a nuclide, not a formula",
    );
}

#[test]
fn water_may_come_before_its_salt() {
    for (text, canonical) in [
        ("7H2O·MgSO4", "MgSO4·7H2O"),
        ("7H2O.MgSO4", "MgSO4·7H2O"),
        ("7 H2O * MgSO4(s)", "MgSO4·7H2O(s)"),
        ("7OH2·MgSO4", "MgSO4·7H2O"),
        ("(H2O)7·MgSO4", "MgSO4·7H2O"),
        ("½H2O·CaSO4", "CaSO4·0.5H2O"),
        ("8H2O·3CdSO4", "3CdSO4·8H2O"),
        ("H2O·6H2O·MgSO4", "MgSO4·H2O·6H2O"),
        ("xH2O·CuSO4", "CuSO4·xH2O"),
        ("H2O·H2O", "H2O·H2O"),
    ] {
        reads(text, canonical);
    }
    let formula: Formula = "7H2O·MgSO4".parse().unwrap();
    assert_eq!(formula, "MgSO4·7H2O".parse().unwrap());
    assert_eq!(formula.waters(), Some(crate::Ratio::from(7)));
    assert_eq!(formula.anhydrous(), Some("MgSO4".parse().unwrap()));
    // Where the words of the formula are on the heap, too.
    let long = "K".repeat(120);
    reads(&format!("7H2O·{long}"), &format!("{long}·7H2O"));
}

/// Nothing but a decimal mark can be between the digits of a coefficient.
#[test]
fn a_coefficient_may_have_a_decimal_comma() {
    reads("CaSO4·0,5H2O", "CaSO4·0.5H2O");
    reads("CaSO4.0,5H2O", "CaSO4·0.5H2O");
    reads("CdCl2·2,5 H2O", "CdCl2·2.5H2O");
    reads("0,5H2O", "0.5H2O");
    let help = "write an adduct dot `·` before water, or a full stop in a decimal";
    let message = "a comma between digits";
    told("CuSO4,5H2O", "bad_formula", (5, 6), message, help);
    told("TiO1,9", "bad_formula", (4, 5), message, help);
    refused(
        "(Mg,Fe)2SiO4",
        "bad_formula",
        (3, 4),
        "`,` does not belong in a formula",
    );
}

#[test]
fn a_letter_x_may_be_the_dot() {
    for text in [
        "CuSO4 x 5H2O",
        "CuSO4 x 5 H2O",
        "CuSO4 X 5H2O",
        "CuSO4 x5H2O",
        "CuSO4 × 5H2O",
        "CuSO4×5H2O",
    ] {
        reads(text, "CuSO4·5H2O");
    }
    reads("CaSO4 x ½H2O", "CaSO4·0.5H2O");
    reads("Al2O3 x 2SiO2 x 2H2O", "Al2O3·2SiO2·2H2O");
    let message = "this x can be an adduct dot or an unknown number";
    let help = "write `CuSO4·H2O` or `CuSO4·xH2O`";
    for text in ["CuSO4 x H2O", "CuSO4 xH2O"] {
        told(text, "ambiguous_notation", (6, 7), message, help);
    }
    assert!(Formula::read("CuSO4 x NaCl").is_err());
}

#[test]
fn an_adduct_may_be_in_brackets() {
    reads("(3CdSO4·8H2O)", "3CdSO4·8H2O");
    reads(" ( CuSO4·5H2O ) ", "CuSO4·5H2O");
    reads("(CuSO4·5H2O)(s)", "CuSO4·5H2O(s)");
    let error = "(Al2O3.2SiO2.2H2O)".parse::<Formula>().unwrap_err();
    assert_eq!(error.span(), Some(Span::new(6, 7)));
    assert_eq!(
        error.help(),
        Some("write an adduct dot: `(Al2O3·2SiO2.2H2O)`")
    );
    refused(
        "(CuSO4·5Xx)",
        "unknown_element",
        (9, 11),
        "`Xx` is not the symbol of an element",
    );
    let never = "the bracket `(` is never closed";
    refused("(CuSO4·5H2O", "unbalanced_bracket", (0, 1), never);
    refused("(CuSO4·5H2O)2", "unbalanced_bracket", (0, 1), never);
    refused(
        "(NaCl(s)·H2O)",
        "bad_formula",
        (8, 10),
        "`·` does not belong in a formula",
    );
}
