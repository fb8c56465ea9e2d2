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
