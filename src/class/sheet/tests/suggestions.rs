//! Headers in other words: what is suggested, and that nothing is read by it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::class::{ErrorKind, Sheet};

/// The options that are suggested for one more column of a sheet.
fn suggested(header: &str) -> Vec<String> {
    let text = format!("bench;\"{header}\";crucible_hydrate_g;crucible_g\nHeron;1;2;1\n");
    let sheet = Sheet::read(text.as_bytes()).unwrap();
    let notes = sheet.notes().iter();
    let notes = notes.filter(|note| note.code() == "column_suggested");
    let options = notes.map(|note| note.text().split_once("with ").unwrap().1);
    options
        .map(|option| option.trim_end_matches('.').into())
        .collect()
}

#[test]
fn a_header_in_other_words_is_suggested_as_an_option() {
    for (header, column) in [
        ("weighing 2", "heated_2_g"),
        ("Mass of crucible after 3rd heating (g)", "heated_3_g"),
        ("Crucible + residue", "heated_1_g"),
        ("Mass of residue (g)", "residue_g"),
        ("anhydrous salt / g", "residue_g"),
        ("Sample mass", "hydrate_g"),
        ("student name", "pupil"),
        ("% water", "reported_percent_water"),
        ("moles of water", "reported_mol_water"),
        ("mol anhydrous salt", "reported_mol_salt"),
        ("mass of water lost", "reported_water_g"),
        ("mole ratio", "reported_ratio"),
        ("Formula of hydrate", "reported_formula"),
        ("reportd_ratio", "reported_ratio"),
        ("pupil's name", "pupil"),
        ("nach dem 1. Erhitzen", "heated_1_g"),
        ("Tiegel nach 2. Erhitzen / g", "heated_2_g"),
        ("Salt", "issued"),
        ("Salz", "issued"),
        ("Mass of salt", "hydrate_g"),
        ("Masse Hydrat", "hydrate_g"),
        ("Einwaage vor dem Erhitzen", "hydrate_g"),
        ("Rückstand in g", "residue_g"),
        ("Anteil Wasser in %", "reported_percent_water"),
        ("Stoffmenge Wasser", "reported_mol_water"),
        ("Stoffmenge Salz (wasserfrei)", "reported_mol_salt"),
        ("Masse Wasser", "reported_water_g"),
        ("Verhältnis", "reported_ratio"),
        ("Summenformel", "reported_formula"),
        ("Schüler", "pupil"),
        ("Klasse", "period"),
        ("Bemerkungen", "notes"),
    ] {
        let quoted = header.replace('\'', "'\\''");
        let option = format!("--map '{quoted}={column}'");
        assert_eq!(suggested(header), [option], "{header}");
    }
    for header in [
        "colour",
        "crucible number",
        "temperature",
        "Group",
        "Mass of crucible",
        "ratio\u{202e}",
        "",
    ] {
        let none: [String; 0] = [];
        assert_eq!(suggested(header), none, "{header}");
    }
}

#[test]
fn a_sheet_that_cannot_be_read_suggests_the_whole_mapping() {
    let text = "Monday's lesson\nGroup;Mass of crucible (g);Crucible with sample;weighing 1;x\n1;21,352;24,018;22,655;7\n";
    let error = Sheet::read(text.as_bytes()).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::NoHeader);
    let help = error.help().unwrap();
    let options = "such as --map 'Group=bench' --map 'Mass of crucible (g)=crucible_g' \
                   --map 'Crucible with sample=crucible_hydrate_g' --map 'weighing 1=heated_1_g' \
                   --map 'x=reported_ratio'";
    assert!(help.ends_with(options), "{help}");
    // What is suggested can be read.
    let reader = Sheet::reader()
        .map_column("Group", "bench")
        .map_column("Mass of crucible (g)", "crucible_g")
        .map_column("Crucible with sample", "crucible_hydrate_g")
        .map_column("weighing 1", "heated_1_g");
    assert!(reader.read(text.as_bytes()).is_ok());

    let text = "Platz;Tiegel;Tiegel mit Salz;nach dem 1. Erhitzen;nach dem 2. Erhitzen;x\n\
                1;21,352;24,018;22,656;22,655;7\n";
    let error = Sheet::read(text.as_bytes()).unwrap_err();
    let options = "such as --map 'Platz=bench' --map 'Tiegel=crucible_g' \
                   --map 'Tiegel mit Salz=crucible_hydrate_g' \
                   --map 'nach dem 1. Erhitzen=heated_1_g' \
                   --map 'nach dem 2. Erhitzen=heated_2_g' --map 'x=reported_ratio'";
    let help = error.help().unwrap();
    assert!(help.ends_with(options), "{help}");

    let text = "bench,crucible_g,Tiegel mit Einwaage\nHeron,21.352,24.018\n";
    let error = Sheet::read(text.as_bytes()).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::MissingColumn);
    assert_eq!(
        error.help(),
        Some(
            "add the column, or map the sheet's own header to it, such as \
             --map 'Tiegel mit Einwaage=crucible_hydrate_g'"
        )
    );
}
