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
        ("2Na20", "2Na2O"),
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
