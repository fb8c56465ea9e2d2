//! Separators, encodings, headers, mappings, and files that are not sheets.

use std::io;

use super::super::limits::MOST_ROWS;
use super::*;

#[test]
fn three_separators() {
    lead(&clean(LEAD));
    lead(&clean(&LEAD.replace(',', ";")));
    lead(&clean(&LEAD.replace(',', "\t")));
    lead(&clean(&LEAD.replace(',', ";").replace('.', ",")));
    lead(&clean(&LEAD.replace(',', "\t").replace('.', ",")));
    // Both marks in one sheet.
    lead(&clean(&LEAD.replace(',', ";").replacen('.', ",", 2)));
}

#[test]
fn line_ends_of_every_system() {
    lead(&clean(&LEAD.replace('\n', "\r\n")));
    lead(&clean(&LEAD.replace('\n', "\r")));
    lead(&clean(LEAD.trim_end()));
}

#[test]
fn headers_in_any_spelling_and_order() {
    lead(&clean(
        "HEATED 3 G; Heated-1-g ;Bench;heated_2_g;crucible hydrate\u{A0}g;\"Crucible\u{2013}g\"\n\
         22.655;22.701;Heron;22.656;24.018;21.352\n",
    ));
}

#[test]
fn heatings_go_by_number() {
    let sheet = clean(
        "bench,heated_10_g,crucible_g,crucible_hydrate_g,heated_9_g,heated_2_g\n\
         Heron,1.10,1,2,1.9,1.2\n",
    );
    assert_eq!(all(sheet.rows()[0].heated()), ["1.2", "1.9", "1.10"]);
    // Beyond any count of heatings it is a column like any other.
    let sheet = clean("bench,hydrate_g,residue_g,heated_99999999999_g\nHeron,2,1,x\n");
    assert_eq!(sheet.extra_columns(), ["heated_99999999999_g"]);
}

#[test]
fn gaps_in_heatings_are_skipped() {
    let sheet = clean(
        "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g\n\
         Heron,21.352,24.018,22.701,,22.655\n\
         Wren,21.352,24.018,-,,\n",
    );
    assert_eq!(all(sheet.rows()[0].heated()), ["22.701", "22.655"]);
    assert!(sheet.rows()[1].heated().is_empty());
    assert!(sheet.rows()[1].has_readings());
}

#[test]
fn net_masses() {
    let sheet = clean("bench,residue_g,hydrate_g\nHeron,1.303,2.666\n");
    let row = &sheet.rows()[0];
    assert_eq!(written(row.hydrate_mass()), "2.666");
    assert_eq!(written(row.residue_mass()), "1.303");
    assert_eq!(row.crucible(), None);
}

#[test]
fn words_of_a_row() {
    let sheet = clean(
        "bench,pupil,balance,period,issued,readability_g,notes,hydrate_g,residue_g\n\
         Heron, a\u{A0}b ,B1,3,MgSO4·7H2O,0.002,\"one\ntwo\",2.666,1.303\n\
         Wren,-,—,,,,,2.666,1.303\n",
    );
    let row = &sheet.rows()[0];
    assert_eq!(
        [
            row.pupil(),
            row.balance(),
            row.period(),
            row.issued(),
            row.notes()
        ],
        [
            Some("a b"),
            Some("B1"),
            Some("3"),
            Some("MgSO4·7H2O"),
            Some("one\ntwo")
        ]
    );
    assert_eq!(written(row.readability()), "0.002");
    let row = &sheet.rows()[1];
    assert_eq!(
        (row.pupil(), row.balance(), row.notes()),
        (None, None, None)
    );
    assert_eq!(row.line(), 4);
}

#[test]
fn byte_order_marks() {
    lead(&clean(&format!("\u{FEFF}{LEAD}")));
    lead(&clean(&format!("\u{FEFF}\u{FEFF}\"bench\"{}", &LEAD[5..])));
    for big in [false, true] {
        let unit = |u: u16| {
            if big {
                u.to_be_bytes()
            } else {
                u.to_le_bytes()
            }
        };
        let text = format!("\u{FEFF}{LEAD}");
        let bytes: Vec<u8> = text.encode_utf16().flat_map(unit).collect();
        let sheet = Sheet::read(&bytes[..]).unwrap();
        lead(&sheet);
        notes(&sheet, &[]);
    }
}

/// As some spreadsheets export "Unicode text".
#[test]
fn utf_16_without_its_mark() {
    let titled = format!("Класс 9б\n{}", LEAD.replace(',', "\t"));
    for (text, notes) in [(LEAD.to_string(), 1), (titled, 2)] {
        let (low, high) = (text.encode_utf16().map(u16::to_le_bytes), u16::to_be_bytes);
        let high = text.encode_utf16().map(high);
        for (bytes, name) in [
            (low.flatten().collect::<Vec<u8>>(), "UTF-16LE"),
            (high.flatten().collect(), "UTF-16BE"),
        ] {
            let sheet = Sheet::read(&bytes[..]).unwrap();
            lead(&sheet);
            assert_eq!(sheet.notes().len(), notes);
            let note = &sheet.notes()[0];
            assert_eq!(note.code(), "encoding");
            assert_eq!(
                note.text(),
                format!("The sheet has no byte-order mark and was read as {name}.")
            );
        }
    }
}

#[test]
fn windows_1252_is_said() {
    let sheet = Sheet::read(&b"bench,hydrate_g,residue_g\nB\xFChl,2.666,1.303\n"[..]).unwrap();
    assert_eq!(sheet.rows()[0].bench(), "Bühl");
    notes(
        &sheet,
        &[(
            "encoding",
            "The sheet is not UTF-8 and was read as Windows-1252. Check the names with accents.",
        )],
    );
}

#[test]
fn damaged_text_is_said() {
    let mut bytes = b"\xEF\xBB\xBFbench,hydrate_g,residue_g\nB\xFChl,2.666,1.303\n".to_vec();
    let sheet = Sheet::read(&bytes[..]).unwrap();
    notes(
        &sheet,
        &[(
            "encoding",
            "Some bytes of the sheet are not valid UTF-8. They are shown as \u{FFFD}.",
        )],
    );
    bytes.truncate(3);
    assert_eq!(
        Sheet::read(&bytes[..]).unwrap_err().kind(),
        ErrorKind::Empty
    );
}

#[test]
fn titles_and_blank_lines() {
    let sheet = clean(
        "sep=;\n\"Water of crystallization; period 3\";;\n\n;;\r\n  \nBench 1 to 9;;\n\
         bench;hydrate_g;residue_g\n\n;;\n - ; — \
         ;\nHeron;2,666;1,303\n\n\n\nWren;2,666;1,303\n;;;;;;\n",
    );
    let lines: Vec<u64> = sheet.rows().iter().map(Row::line).collect();
    assert_eq!(lines, [11, 15]);
    notes(
        &sheet,
        &[
            (
                "title_line",
                "Line 2 is above the header and was read as a title: `Water of \
                 crystallization; period 3`.",
            ),
            (
                "title_line",
                "Line 6 is above the header and was read as a title: `Bench 1 to 9`.",
            ),
        ],
    );
}

#[test]
fn an_open_quote_in_a_title_is_harmless() {
    lead(&clean(&format!("\"Lesson 3\n{LEAD}")));
}

#[test]
fn extra_columns_are_kept_and_said() {
    let sheet = clean(
        "Colour,bench,,hydrate_g,,residue_g,colour,\n\
         white,Heron,,2.666,lid on,1.303,,\nblue,Wren,,2.666,,1.303,grey\n",
    );
    assert_eq!(sheet.extra_columns(), ["Colour", "column 5", "colour"]);
    let kept: Vec<(&str, &str)> = sheet.rows()[0].extra().collect();
    assert_eq!(kept, [("Colour", "white"), ("column 5", "lid on")]);
    let kept: Vec<(&str, &str)> = sheet.rows()[1].extra().collect();
    assert_eq!(kept, [("Colour", "blue"), ("colour", "grey")]);
    assert_eq!(sheet.notes().len(), 3);
    assert_eq!(
        sheet.notes()[0].text(),
        "The column `Colour` has no meaning here. Its cells are kept and not used."
    );
}

#[test]
fn a_header_said_twice() {
    let sheet = clean(&format!("{LEAD}\n{}", LEAD.replace("Heron", "Wren")));
    assert_eq!(sheet.rows().len(), 2);
    notes(
        &sheet,
        &[(
            "header_repeated",
            "Line 4 repeats the header and was skipped.",
        )],
    );
    refused(
        format!("{LEAD}pupil,bench,hydrate_g,residue_g\na,Wren,2,1\n"),
        ErrorKind::SecondHeader,
        "line 3 is a second header, with other columns",
        "give each table a file of its own",
    );
    // A bench of that name is not a header.
    assert_eq!(clean(&LEAD.replace("Heron", "bench")).rows().len(), 1);
}

#[test]
fn mapped_headers() {
    let sheet = Sheet::reader()
        .map_column("Probe\n(g)", "hydrate g")
        .map_column("PLATZ", "bench")
        .map_column("Rest", "Residue-G")
        .map_column("Waage", "balance")
        .read("Platz;\"Probe\n(g)\";rest;notes\nHeron;2,666;1,303;dry\n".as_bytes())
        .unwrap();
    let row = &sheet.rows()[0];
    assert_eq!((row.bench(), row.line()), ("Heron", 3));
    assert_eq!(written(row.hydrate_mass()), "2.666");
    notes(
        &sheet,
        &[(
            "mapping_unused",
            "No column has the header `Waage`, which was mapped to `balance`.",
        )],
    );
}

#[test]
fn the_mapping_comes_before_the_name() {
    let sheet = Sheet::reader()
        .map_column("notes", "bench")
        .read("notes,hydrate_g,residue_g\nHeron,2.666,1.303\n".as_bytes())
        .unwrap();
    assert_eq!(sheet.rows()[0].bench(), "Heron");
}

#[test]
fn bad_mappings() {
    refused_by(
        &Sheet::reader().map_column("Platz", "seat"),
        LEAD,
        ErrorKind::BadMapping,
        "the header `Platz` is mapped to `seat`, which is not a column of a class sheet",
        "map it to a column such as `bench`, `crucible_g`, `heated_1_g` or `reported_ratio`",
    );
    refused_by(
        &Sheet::reader()
            .map_column("Platz", "bench")
            .map_column("platz ", "pupil"),
        LEAD,
        ErrorKind::BadMapping,
        "the header `platz ` is mapped to `bench` and to `pupil`"
            .replace("z `", "z`")
            .as_str(),
        "map each header once",
    );
    refused_by(
        &Sheet::reader().map_column(" ", "bench"),
        LEAD,
        ErrorKind::BadMapping,
        "a blank header is mapped to `bench`",
        "name the header as the sheet has it",
    );
}

#[test]
fn sheets_that_are_none() {
    for text in ["", "\u{FEFF}", " \n\r\n\t\n"] {
        refused(
            text,
            ErrorKind::Empty,
            "the sheet is empty",
            "give a header and at least one row",
        );
    }
    let help = "name the columns `bench` and either `crucible_g` and `crucible_hydrate_g` or \
                `hydrate_g` and `residue_g`, or map the sheet's own headers to these";
    let likely = format!("{help}, such as --map 'Tiegel=crucible_g'");
    for (text, help) in [
        ("21.352,24.018\n", help),
        ("Bench;Tiegel;Probe\nHeron;21,3;24,0\n", &likely),
        (";;;\n", help),
    ] {
        refused(
            text,
            ErrorKind::NoHeader,
            "no line of the sheet is a header with the columns that are needed",
            help,
        );
    }
    refused(
        b"PK\x03\x04\x00\x00",
        ErrorKind::NotText,
        "the file is not text: it may be a workbook",
        "export the sheet from the spreadsheet as CSV (UTF-8)",
    );
    let deep = format!("{}{LEAD}", "x\n".repeat(100));
    assert_eq!(
        Sheet::read(deep.as_bytes()).unwrap_err().kind(),
        ErrorKind::NoHeader
    );
    lead(&clean(&deep[2..]));
}

#[test]
fn missing_columns() {
    let lacks = |header: &str, what: &str| {
        refused(
            format!("Title\n{header}\n"),
            ErrorKind::MissingColumn,
            &format!("the header in line 2 lacks {what}"),
            "add the column, or map the sheet's own header to it",
        );
    };
    lacks("crucible_g,crucible_hydrate_g", "`bench`");
    lacks("bench,crucible_g", "`crucible_hydrate_g`");
    lacks("bench,residue_g,notes", "`hydrate_g`");
    lacks("hydrate_g,notes", "`bench`, and `residue_g`");
    lacks(
        "bench,reported_ratio",
        "`crucible_g` and `crucible_hydrate_g`, or `hydrate_g` and `residue_g`",
    );
    lacks(
        "bench,crucible_g,residue_g",
        "`crucible_hydrate_g`, or `hydrate_g`",
    );
    // Before the first heating.
    assert!(
        clean("bench,crucible_g,crucible_hydrate_g\n")
            .rows()
            .is_empty()
    );
}

#[test]
fn repeated_columns() {
    refused(
        "bench,hydrate_g,residue_g,Hydrate g\n",
        ErrorKind::RepeatedColumn,
        "columns 2 (`hydrate_g`) and 4 (`Hydrate g`) of the header in line 1 are both `hydrate_g`",
        "rename or remove one of them",
    );
    refused_by(
        &Sheet::reader().map_column("Probe", "hydrate_g"),
        "bench,hydrate_g,residue_g,Probe\n",
        ErrorKind::RepeatedColumn,
        "columns 2 (`hydrate_g`) and 4 (`Probe`) of the header in line 1 are both `hydrate_g`",
        "rename or remove one of them",
    );
}

#[test]
fn sheets_without_end() {
    let columns = |count: usize| format!("bench,hydrate_g,residue_g{}\n", ",x".repeat(count - 3));
    assert_eq!(read(&columns(1000)).extra_columns().len(), 997);
    for text in [columns(1001), columns(100_000)] {
        refused(
            text,
            ErrorKind::TooLarge,
            "the header in line 1 has more than 1000 columns or is longer than 128 KiB",
            "leave out the columns that do not belong to the class sheet",
        );
    }
    let error = Sheet::read(io::repeat(b'x')).unwrap_err();
    assert_eq!(error.to_string(), "the sheet is larger than 16 MiB");
    assert_eq!(
        (error.kind(), error.code()),
        (ErrorKind::TooLarge, "too_large")
    );
    let rows = format!("bench,hydrate_g,residue_g\n{}", "a,2,1\n".repeat(MOST_ROWS));
    assert_eq!(read(&rows).rows().len(), MOST_ROWS);
    refused(
        format!("{rows}a,2,1\n"),
        ErrorKind::TooLarge,
        "the sheet has more than 100000 rows or 100000 problems, from line 100002 on",
        "give one file for each class, and check that this is a class sheet",
    );
}

struct Broken;

impl Read for Broken {
    fn read(&mut self, _: &mut [u8]) -> io::Result<usize> {
        Err(io::Error::other("the stick was pulled out"))
    }
}

/// What is refused before the first row of a stream, and after it.
#[test]
fn a_stream_is_refused_where_it_is_no_sheet() {
    let kind = |bytes: &[u8]| Sheet::stream(bytes).unwrap_err().kind();
    assert_eq!(kind(b" \n"), ErrorKind::Empty);
    assert_eq!(kind(b"21.352,24.018\n"), ErrorKind::NoHeader);
    assert_eq!(kind(b"bench,crucible_g\n"), ErrorKind::MissingColumn);
    assert_eq!(kind(b"PK\x03\x04\x00\x00"), ErrorKind::NotText);
    assert_eq!(
        Sheet::stream(io::repeat(b'x')).unwrap_err().kind(),
        ErrorKind::NoHeader
    );
    let open = format!("bench,hydrate_g,\"residue_g{}", "x".repeat(2 << 20));
    assert_eq!(kind(open.as_bytes()), ErrorKind::TooLarge);

    let long = format!("bench,hydrate_g,residue_g\n{}", "a,2,1\n".repeat(300_000));
    let fails = |source: &mut dyn Read| {
        let mut rows = Sheet::stream(source).unwrap();
        loop {
            match rows.next_row() {
                Ok(row) => assert!(row.is_some()),
                Err(error) => break error.kind(),
            }
        }
    };
    for (end, expected) in [
        (&b"a,\0,1\n"[..], ErrorKind::NotText),
        (
            b"bench,crucible_g,crucible_hydrate_g\n",
            ErrorKind::SecondHeader,
        ),
    ] {
        assert_eq!(fails(&mut long.as_bytes().chain(end)), expected);
    }
    assert_eq!(
        fails(&mut long.as_bytes().chain(Broken)),
        ErrorKind::Unreadable
    );
}

/// The first characters that are not ASCII show the encoding, however late they come.
#[test]
fn a_late_accent_tells_the_encoding() {
    let long = format!("bench,hydrate_g,residue_g\n{}", "a,2,1\n".repeat(200_000));
    let last = |end: &[u8]| {
        let mut rows = Sheet::stream(long.as_bytes().chain(end)).unwrap();
        let mut bench = String::new();
        while let Some((row, _)) = rows.next_row().unwrap() {
            bench = row.bench().to_string();
        }
        let notes: Vec<&str> = rows.notes().iter().map(Note::text).collect();
        (bench, notes.join("\n"))
    };
    let expected = |bench: &str, note: &str| (bench.to_string(), note.to_string());
    assert_eq!(last("Bühl,2,1\n".as_bytes()), expected("Bühl", ""));
    let note = "The sheet is not UTF-8 and was read as Windows-1252. Check the names with \
                accents.";
    assert_eq!(last(b"B\xFChl,2,1\n"), expected("Bühl", note));
    let note = "Some bytes of the sheet are not valid UTF-8. They are shown as \u{FFFD}.";
    let both = [
        "ü,2,1\n".as_bytes(),
        &b"x,2,1\n".repeat(20_000),
        b"B\xFChl,2,1\n",
    ]
    .concat();
    assert_eq!(last(&both), expected("B\u{FFFD}hl", note));
}

#[test]
fn a_source_that_fails() {
    let error = Sheet::read(Broken).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the sheet could not be read: the stick was pulled out"
    );
    assert_eq!(error.kind(), ErrorKind::Unreadable);
}

#[test]
fn french_headers_are_suggested() {
    let text = "poste;creuset_vide;creuset_plein;apres_chauffe_1\n1;21,352;24,018;22,656\n";
    let error = Sheet::read(text.as_bytes()).unwrap_err();
    let help = error.help().unwrap_or_default();
    for option in [
        "'poste=bench'",
        "'creuset_vide=crucible_g'",
        "'creuset_plein=crucible_hydrate_g'",
        "'apres_chauffe_1=heated_1_g'",
    ] {
        assert!(help.contains(option), "{help}");
    }
}
