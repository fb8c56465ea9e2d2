//! What was probably meant: formulas that are lawful but improbable, and real ones that look like them.

use super::*;

/// The text is read with this note and refused strictly. The help corrects it, and the correction is read.
#[track_caller]
fn meant(text: &str, code: &str, corrected: &str) {
    let (_, notes) = Formula::read(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert!(
        notes.iter().any(|note| note.code() == code),
        "{text}: {notes:?}"
    );
    let write = |note: &Note| note.values().any(|value| value == ("write", corrected));
    assert!(notes.iter().any(write), "{text}: {notes:?}");
    let error = text.parse::<Formula>().expect_err(text);
    assert_eq!(error.code(), "ambiguous_notation", "{text}");
    assert_eq!(
        error.help(),
        Some(&*format!("write `{corrected}`")),
        "{text}"
    );
    assert_eq!(corrected.parse::<Formula>().err(), None, "{corrected}");
}

#[test]
fn metals_in_capitals_with_d_or_t() {
    for (text, corrected) in [
        ("TIO2", "TiO2"),
        ("TICl4", "TiCl4"),
        ("CDSO4·8H2O", "CdSO4·8H2O"),
        ("3CDSO4·8H2O", "3CdSO4·8H2O"),
        ("CDCl2·2H2O", "CdCl2·2H2O"),
        ("DY2O3", "Dy2O3"),
        ("DYCl3·6H2O", "DyCl3·6H2O"),
        ("THO2", "ThO2"),
        ("TH(NO3)4·4H2O", "Th(NO3)4·4H2O"),
        ("NDCl3", "NdCl3"),
        ("TIN", "TiN"),
        ("TB4O7", "Tb4O7"),
    ] {
        meant(text, "suspect_case", corrected);
    }
    for heavy in [
        "CDCl3", "C6D6", "D2O", "CD3OD", "LiAlD4", "NaBD4", "DCl", "TiD2", "CD2Cl2", "CD3CN",
        "ND3", "ND4Cl", "CD4", "HD", "HT", "DI", "TI", "D2SO4", "NaOD", "PD3", "CDBr3", "(CD3)2SO",
        "CD3NO2",
    ] {
        assert_eq!(heavy.parse::<Formula>().err(), None, "{heavy}");
    }
}

#[test]
fn more_metals_in_capitals() {
    for (text, corrected) in [
        ("CO3(PO4)2", "Co3(PO4)2"),
        ("CO2O3", "Co2O3"),
        ("CO3O4", "Co3O4"),
        ("[CO(NH3)6]Cl3", "[Co(NH3)6]Cl3"),
        ("K3CO(NO2)6", "K3Co(NO2)6"),
        ("CS2CO3", "Cs2CO3"),
        ("CS2SO4", "Cs2SO4"),
        ("IN2O3", "In2O3"),
        ("SC2O3", "Sc2O3"),
        ("CUFeS2", "CuFeS2"),
        ("PBCrO4", "PbCrO4"),
        ("PBTIO3", "PbTiO3"),
        ("KNBO3", "KNbO3"),
        ("CUO", "CuO"),
        ("SIO2", "SiO2"),
    ] {
        meant(text, "suspect_case", corrected);
    }
    meant("[CO(H2O)6]^2+", "suspect_case", "[Co(H2O)6]^2+");
}

/// After a group such as `(CH3)4` or `H3` no metal begins a salt.
#[test]
fn real_compounds_of_boron_and_nitrogen_are_not_noted() {
    for text in [
        "(CH3)2SBH3",
        "H3NBH3",
        "(C2H5)3NBH3",
        "C5H5NBH3",
        "H3NBF3",
        "(CH3)3NBF3",
        "(CH3)4NBF4",
        "(C2H5)4NBF4",
        "(CH3)2NBH2",
        "(CH3)3PBH3",
        "(C6H5)3PBH3",
        "H3PBH3",
        "SNF",
        "SNO",
        "CH3SNO",
        "CF3SNH2",
        "C6H5SNH2",
        "YBO3",
        "SCN",
        "HSCN",
        "HOCN",
        "HNCO",
        "INO3",
        "COS",
        "CO(NH2)2",
        "CO(CN)2",
        "CO(OH)2",
        "CO(N3)2",
        "C6H5NO2",
        "CSCl2",
        "POCl3",
        "NSF3",
        "NSCl",
        "S4N4",
    ] {
        assert_eq!(text.parse::<Formula>().err(), None, "{text}");
    }
}

#[test]
fn roman_numerals_are_refused() {
    for (text, span, without, ion) in [
        ("Fe(III)", (2, 7), "Fe", "Fe^3+"),
        ("Cu(II)", (2, 6), "Cu", "Cu^2+"),
        ("Fe(II)SO4·7H2O", (2, 6), "FeSO4·7H2O", "Fe^2+"),
        ("Mn(IV)O2", (2, 6), "MnO2", "Mn^4+"),
        ("Cu(I)Cl", (2, 5), "CuCl", "Cu^+"),
        ("Cr(VI)O3", (2, 6), "CrO3", "Cr^6+"),
        ("FeIII", (2, 5), "Fe", "Fe^3+"),
        ("CoII", (2, 4), "Co", "Co^2+"),
    ] {
        let error = Formula::read(text).expect_err(text);
        assert_eq!(error.code(), "ambiguous_notation", "{text}");
        assert_eq!(error.span(), Some(Span::new(span.0, span.1)), "{text}");
        let help = format!(
            "leave the numeral out: `{without}`. The charge of an ion is written as `{ion}`"
        );
        assert_eq!(error.help(), Some(&*help), "{text}");
        assert_eq!(ion.parse::<Formula>().err(), None);
    }
    for iodine in [
        "FeI3", "Fe(I)2", "KI", "VI3", "Co(I3)2", "Cu2I2", "AgI", "HI", "I2", "ICl", "Fe(I1)",
        "CoI1I",
    ] {
        assert_eq!(iodine.parse::<Formula>().err(), None, "{iodine}");
    }
}

#[test]
fn small_letters_in_oxoanions() {
    for (text, corrected) in [
        ("NaNo3", "NaNO3"),
        ("KNo3", "KNO3"),
        ("Mg(No3)2", "Mg(NO3)2"),
        ("Ca3(Po4)2", "Ca3(PO4)2"),
        ("Na3Po4·12H2O", "Na3PO4·12H2O"),
        ("NH4No3", "NH4NO3"),
    ] {
        meant(text, "suspect_case", corrected);
    }
    for (text, corrected) in [
        ("MgSo4", "MgSO4"),
        ("CuSo4·5H2O", "CuSO4·5H2O"),
        ("Na2So4", "Na2SO4"),
        ("NaOh", "NaOH"),
        ("Al(Oh)3", "Al(OH)3"),
    ] {
        let error = text.parse::<Formula>().expect_err(text);
        assert_eq!(
            error.help(),
            Some(&*format!("write `{corrected}`")),
            "{text}"
        );
    }
}

#[test]
fn zeros_for_oxygen() {
    for (text, corrected) in [
        ("MgSO4(H20)7", "MgSO4(H2O)7"),
        ("MgSO4·7(H20)", "MgSO4·7(H2O)"),
        ("N20", "N2O"),
        ("K20", "K2O"),
        ("2K20", "2K2O"),
    ] {
        meant(text, "suspect_zero", corrected);
    }
    meant("MgSO4·H2O7", "suspect_count", "MgSO4·7H2O");
    for honest in [
        "C20",
        "S20",
        "C6H20",
        "B20",
        "Na2CO3·H2O2",
        "H2O2",
        "N_{20}",
        "K21",
    ] {
        assert_eq!(honest.parse::<Formula>().err(), None, "{honest}");
    }
}

#[test]
fn capital_i_in_chlorine() {
    for (text, corrected) in [
        ("CCI4", "CCl4"),
        ("PCI5", "PCl5"),
        ("SiCI4", "SiCl4"),
        ("CI2", "Cl2"),
        ("CIO2", "ClO2"),
        ("HCIO4", "HClO4"),
        ("HCI", "HCl"),
        ("CHCI3", "CHCl3"),
        ("NH4CI", "NH4Cl"),
    ] {
        meant(text, "suspect_letter", corrected);
    }
    for honest in [
        "CI4", "HCI3", "H2CI2", "CHI3", "CH3I", "C2H5I", "CF3I", "C2I4", "ICN", "CI3COOH", "(CI3)2",
    ] {
        assert_eq!(honest.parse::<Formula>().err(), None, "{honest}");
    }
}

/// Only water and salts are counted by what was the count of a bracket.
#[test]
fn groups_keep_their_brackets() {
    for text in [
        "(COOH)2·2H2O",
        "(CN)2",
        "(CONH2)2",
        "(SCN)2",
        "(NPCl2)3",
        "(SN)4",
    ] {
        reads(text, text);
    }
    reads("(H2O)5", "5H2O");
    reads("5(CN)", "5CN");
}

#[test]
fn words_are_names() {
    for (text, formula) in [
        ("carbon dioxide", Some("CO2")),
        ("Epsom salt", Some("MgSO4·7H2O")),
        ("washing soda", Some("Na2CO3·10H2O")),
        ("methane", None),
        ("sugar", None),
        ("sodium chloride", None),
        ("Potassium nitrate", None),
    ] {
        let error = Formula::read(text).expect_err(text);
        assert_eq!(
            error.to_string(),
            format!("`{text}` is a name, not a formula")
        );
        assert_eq!(error.span(), Some(Span::new(0, text.len())));
        let help = error.help().unwrap_or_default();
        let offered = formula.map(|formula| format!("write its formula: `{formula}`"));
        assert!(
            offered.is_none_or(|offered| offered == help),
            "{text}: {help}"
        );
    }
    helped(
        "uranium-235",
        "write its mass number in square brackets: `[235U]`",
    );
    for name in ["water", "ammonia", "hydrogen peroxide"] {
        assert!(Formula::from_name(name).is_ok(), "{name}");
    }
}

#[test]
fn other_signs_for_the_dot() {
    let help = "write an adduct dot before water: `CuSO4·5H2O`";
    for text in [
        "CuSO4, 5H2O",
        "CuSO4:5H2O",
        "CuSO4;5H2O",
        "CuSO4(5H2O)",
        "CuSO4-5H2O",
        "CuSO4+5H2O",
        "CuSO4x5H2O",
    ] {
        helped(text, help);
    }
    helped(
        "CH3-CH3",
        "leave a bond out: `CH3CH3`. A charge is written last",
    );
}

#[test]
fn short_forms_of_acids_and_solvents() {
    for (text, formula) in [
        ("TsOH", "CH3C6H4SO2OH"),
        ("AcCl", "CH3COCl"),
        ("EDTA", "C10H16N2O8"),
        ("TFA", "CF3COOH"),
        ("DCM", "CH2Cl2"),
        ("iPrOH", "C3H7OH"),
        ("KOtBu", "KOC4H9"),
    ] {
        let error = Formula::read(text).expect_err(text);
        let help = error.help().unwrap_or_default();
        assert!(
            help.ends_with(&format!("Write it out: `{formula}`")),
            "{text}: {help}"
        );
    }
    for real in ["Ac2O3", "AcF3", "AcCl3", "PrCl3", "PrOH", "Ts2", "[Ts]"] {
        assert_eq!(real.parse::<Formula>().err(), None, "{real}");
    }
}

/// A corrected text in a help is a formula.
#[test]
fn each_correction_in_a_help_is_a_formula() {
    let mut tried = 0;
    for text in [
        "SO4 2-",
        "MgSO4 heptahydrate",
        "5H2O x CuSO4",
        "DMSO-d6",
        "5H2O CuSO4",
        "MgSo4",
        "CaCo3",
        "NaNo3",
        "MgSO47H2O",
        "NaC1·MgSO47H2O",
        "PBTIO3",
        "Na Cl",
        "Na Cl x",
        "CuSO4 5H2 O",
        "Н2О x",
        "\"NaCl\"x",
        "C0",
        "Ca((OH)2",
        "((OH)2",
        "(OH))2",
        "A1Cl3x",
        "BaCl2·lH2O",
        "(Ba.5Sr0.5)TiO3",
        "MeOH-d4",
        "Na Cl Cl Cl",
        "CUSO4(H2O)5.",
        "CuSO4 x H2O",
        "Fe(II)SO4·7H2O",
        "Mn(IV)O2",
        "U-235",
        "water 5",
        "Epsom salt",
        "CuSO4(5H2O)",
        "CH3-CH3",
        "CH3-CH2-CH3",
        "MgSO4;7H2O",
        "HCl(conc)",
        "H2SO4(aq.)",
        "NaC1.5H2O",
        "MgSO4·H2O7",
        "K20",
        "Al(Oh)3",
        "Na2So4.10H2O",
        "COCl2(H2O)6",
        "TH(NO3)4·4H20",
    ] {
        let Err(error) = text.parse::<Formula>() else {
            continue;
        };
        let help = error.help().unwrap_or_default();
        let offered = help.rsplit_once(": `").or(help.split_once("write `"));
        let Some((_, formula)) = offered else {
            continue;
        };
        let formula = formula.split('`').next().unwrap_or_default();
        let read = Formula::read(formula);
        assert!(read.is_ok(), "{text}: {help}");
        assert!(
            read.unwrap().0.composition().is_ok() || formula.contains('x'),
            "{text}: {help}"
        );
        tried += 1;
    }
    assert!(tried > 25, "{tried}");
    helped("SO4 2-", "write the charge after a caret: `SO4^2-`");
    helped(
        "5H2O CuSO4",
        "put an adduct dot in place of the space: `5H2O·CuSO4`",
    );
    helped("MgSO4 heptahydrate", "take the space out");
}

#[test]
fn names_tell_of_typing_errors() {
    for (text, meant) in [("CaCo3", "CaCO3"), ("COCl2·6H2O", "CoCl2·6H2O")] {
        let (formula, _) = Formula::read(text).unwrap();
        let error = formula.name().unwrap_err();
        assert_eq!(error.help(), Some(&*format!("perhaps `{meant}` was meant")));
    }
}

/// Water beside a word in capitals does not make a salt of it.
#[test]
fn what_was_typed_is_not_its_own_correction() {
    for text in [
        "MGSO4.7H2O",
        "FESO4.7H2O",
        "BACl2.2H2O",
        "Qq·7H2O",
        "MGSO4·NaCl",
    ] {
        let error = text.parse::<Formula>().expect_err(text);
        let help = error.help().unwrap_or_default();
        assert!(!help.starts_with("write "), "{text}: {help}");
    }
}
