//! Packages of QTI 3.0: written, read back, and refused if something is wrong with them.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{Cursor, Read, Write};

use effloresce::exercise::{ExerciseSet, Exercises, Kind, Level};
use effloresce::qti::{Error, ErrorKind, Package, PackagedItem, read_items};
use effloresce::visible;
use serde_json::{Value, json};
use zip::{ZipArchive, ZipWriter, write::SimpleFileOptions};

type Files = Vec<(String, Vec<u8>)>;

fn versions() -> Vec<ExerciseSet> {
    let exercises = Exercises::new(7).kinds([Kind::PercentWater, Kind::Yield]);
    exercises.level(Level::OneStep).versions(3, 3).unwrap()
}

fn zip_of(package: &Package<'_>) -> Vec<u8> {
    let mut zip = Vec::new();
    package.write(&mut zip).unwrap();
    zip
}

fn read(zip: &[u8]) -> Result<Vec<PackagedItem>, Error> {
    read_items(Cursor::new(zip))
}

fn unzipped(zip: &[u8]) -> Files {
    let mut archive = ZipArchive::new(Cursor::new(zip)).unwrap();
    let file = |index| {
        let mut file = archive.by_index(index).unwrap();
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes).unwrap();
        (file.name().to_owned(), bytes)
    };
    (0..ZipArchive::new(Cursor::new(zip)).unwrap().len())
        .map(file)
        .collect()
}

fn zipped(files: &Files) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        zip.start_file(name, SimpleFileOptions::DEFAULT).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// A text from a file of a package that is well-formed: an attribute of the root.
fn attribute_of_root(bytes: &[u8], name: &str) -> String {
    use quick_xml::events::Event;
    let text = std::str::from_utf8(bytes).unwrap();
    let mut reader = quick_xml::Reader::from_str(text);
    let mut found = None;
    loop {
        match reader.read_event().unwrap() {
            Event::Start(start) if found.is_none() => {
                let attribute = start.try_get_attribute(name).unwrap().unwrap();
                let version = quick_xml::XmlVersion::Implicit1_0;
                found = Some(attribute.normalized_value(version).unwrap().into_owned());
            }
            Event::Eof => return found.unwrap(),
            _ => {}
        }
    }
}

#[test]
fn a_package_is_read_back_as_it_was_written() {
    let sets = versions();
    let package = Package::new(&sets).unwrap();
    let items = package.items();
    assert_eq!(read(&zip_of(&package)).unwrap(), items);
    let sections: Vec<usize> = items.iter().map(PackagedItem::section).collect();
    assert_eq!(sections, [1, 1, 1, 2, 2, 2, 3, 3, 3]);
    for (index, item) in items.iter().enumerate() {
        let problem = &sets[index % 3].problems()[index / 3];
        assert_eq!(item.identifier(), problem.id());
        assert_eq!(
            (item.kind(), item.level()),
            (problem.kind(), problem.level())
        );
        assert_eq!(
            (item.form(), item.skills()),
            (problem.form(), problem.skills())
        );
        assert_eq!(item.marks(), 1);
    }
    let one = Exercises::new(3).set(15).unwrap();
    let one = std::slice::from_ref(&one);
    let package = Package::new(one).unwrap().with_options();
    assert_eq!(read(&zip_of(&package)).unwrap(), package.items());
}

#[test]
fn the_same_choices_give_the_same_bytes() {
    let made = || {
        let sets = versions();
        let package = Package::new(&sets)
            .unwrap()
            .title("Water")
            .select(2)
            .unwrap();
        let mut key = Vec::new();
        package.write_key(&mut key).unwrap();
        (zip_of(&package), key)
    };
    let (zip, key) = made();
    assert_eq!((zip.clone(), key), made());
    let names: Vec<String> = unzipped(&zip).into_iter().map(|(name, _)| name).collect();
    assert_eq!(
        names[..3],
        ["imsmanifest.xml", "test.xml", "items/percent_water-7-1.xml"]
    );
    assert_eq!(names.len(), 11);
    let mut archive = ZipArchive::new(Cursor::new(zip)).unwrap();
    for index in 0..archive.len() {
        let file = archive.by_index(index).unwrap();
        assert_eq!(file.compression(), zip::CompressionMethod::Stored);
        assert_eq!(file.last_modified(), Some(zip::DateTime::DEFAULT));
        assert_eq!(file.unix_mode(), Some(0o100_644));
    }
}

/// Texts that other people write. All of them stand in the package as they are shown.
#[test]
fn hostile_texts_are_said_again() {
    let long = "\u{1f9ea}<&\"".repeat(1_000);
    let texts = [
        "<script>alert(1)</script>",
        "]]>",
        "\"' & &amp; &#0;",
        "\u{202e}\u{200f}שלום",
        "\u{1f9ea} 塩",
        "\0\u{1b}[31m\u{fffe}\u{ffff}\n\t",
        " ",
        &long,
    ];
    let saved = serde_json::to_value(&versions()[0]).unwrap();
    let mut identifiers = Vec::new();
    for text in texts {
        let mut saved = saved.clone();
        for problem in saved["problems"].as_array_mut().unwrap() {
            for member in ["id", "form"] {
                problem[member] = json!(format!("{text}x"));
            }
            let prompt = problem["prompt"].as_str().unwrap();
            problem["prompt"] = json!(format!("{text} {prompt}"));
            for option in problem["options"].as_array_mut().unwrap() {
                option["feedback"] = json!(text);
            }
        }
        let set: ExerciseSet = serde_json::from_value(saved).unwrap();
        let set = std::slice::from_ref(&set);
        let package = Package::new(set).unwrap().title(text).with_options();
        let zip = zip_of(&package);
        let items = read(&zip).unwrap();
        assert_eq!(items, package.items());
        assert_eq!(items[0].form(), visible(&format!("{text}x")));
        let files: BTreeMap<String, Vec<u8>> = unzipped(&zip).into_iter().collect();
        let title = attribute_of_root(&files["test.xml"], "title");
        match text.trim() {
            "" => assert_eq!(title, "Problems"),
            _ => assert_eq!(title, visible(text)),
        }
        for bytes in files.values() {
            let text = std::str::from_utf8(bytes).unwrap();
            let is_allowed =
                |c: char| c == '\n' || !(c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}'));
            assert!(text.chars().all(is_allowed));
        }
        identifiers.extend(items.into_iter().map(|item| item.identifier().to_owned()));
        package.write_key(Vec::new()).unwrap();
    }
    for name in identifiers {
        assert!(
            name.bytes()
                .all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_')
        );
        assert!(
            name.starts_with(|first: char| first.is_ascii_alphabetic()),
            "{name}"
        );
    }
}

#[track_caller]
fn refused(result: Result<impl std::fmt::Debug, Error>, kind: ErrorKind, words: &str) {
    let error = result.unwrap_err();
    assert_eq!(error.kind(), kind);
    assert!(error.to_string().contains(words), "{error}");
    assert!(error.help().is_some_and(|help| !help.is_empty()));
}

#[test]
fn sets_must_be_alike_and_selections_possible() {
    refused(Package::new(&[]), ErrorKind::Sets, "cannot have 0 items");
    let exercises = Exercises::new(1).level(Level::OneStep);
    let set = |kinds: [Kind; 2], count| exercises.clone().kinds(kinds).set(count).unwrap();
    let one = set([Kind::PercentWater, Kind::Yield], 2);
    let other = set([Kind::PercentWater, Kind::MolarMass], 2);
    let sets = [one.clone(), other];
    refused(
        Package::new(&sets),
        ErrorKind::Sets,
        "place 2: the problem of set 2 is `molar_mass`",
    );
    let sets = [one, set([Kind::PercentWater, Kind::Yield], 3)];
    refused(Package::new(&sets), ErrorKind::Sets, "set 2 has 3 problems");
    // Sets of other seeds are siblings as well.
    let of_seed = |seed| {
        Exercises::new(seed)
            .kinds([Kind::PercentWater])
            .level(Level::OneStep)
            .set(1)
    };
    let sets: Vec<ExerciseSet> = (0..4).map(|seed| of_seed(seed).unwrap()).collect();
    let package = Package::new(&sets).unwrap();
    assert_eq!(package.items().len(), 4);
    for siblings in [0, 5, usize::MAX] {
        refused(
            package.clone().select(siblings),
            ErrorKind::Selection,
            "of 4 siblings",
        );
    }
    assert!(package.select(4).is_ok());
}

/// Each change makes a package that is refused, with the name of the file in the message.
#[test]
fn a_package_that_contradicts_itself_is_refused() {
    let sets = versions();
    let files = unzipped(&zip_of(&Package::new(&sets).unwrap()));
    let changed = |name: &str, from: &str, to: &str| {
        let mut files = files.clone();
        let (_, bytes) = files.iter_mut().find(|(one, _)| one == name).unwrap();
        let text = String::from_utf8(bytes.clone()).unwrap();
        assert!(text.contains(from), "{from}: {text}");
        *bytes = text.replacen(from, to, 1).into_bytes();
        zipped(&files)
    };
    let (manifest, test, item) = ("imsmanifest.xml", "test.xml", "items/yield-7-2.xml");
    for (file, from, to, words) in [
        (manifest, "3.0.0", "2.2", "schema version"),
        (
            manifest,
            "<resource identifier=\"yield-7-2\"",
            "<resource identifier=\"yield-7-9\"",
            "depend",
        ),
        (
            manifest,
            "<resource identifier=\"yield-7-2\"",
            "<resource identifier=\"yield-7-2-B\"",
            "appears twice",
        ),
        (
            manifest,
            "<resource identifier=\"yield-7-2\"",
            "<resource identifier=\"7\"",
            "`7` is not an identifier",
        ),
        (
            manifest,
            "<file href=\"items/yield-7-2.xml\"/>",
            "",
            "exactly its own file",
        ),
        (
            manifest,
            "imsqti_item_xmlv3p0",
            "webcontent",
            "the type `webcontent`",
        ),
        (
            manifest,
            "imsqti_test_xmlv3p0",
            "imsqti_item_xmlv3p0",
            "exactly one test",
        ),
        (
            manifest,
            "<lom:id>percent_water</lom:id>",
            "<lom:id>guess</lom:id>",
            "guess",
        ),
        (
            manifest,
            "<lom:id>percent_water</lom:id>",
            "",
            "`percent_water-7-1`",
        ),
        (
            manifest,
            "effloresce kind<",
            "other kind<",
            "exactly one `effloresce kind`",
        ),
        (
            manifest,
            "imscp_v1p1\"",
            "imscp_v1p2\"",
            "its root is not `manifest`",
        ),
        (
            manifest,
            "<manifest ",
            "<!DOCTYPE m [<!ENTITY a \"b\">]><manifest ",
            "document type",
        ),
        (manifest, "3.0.0", "&lol;", "it is not XML"),
        (manifest, "</manifest>", "", "it ends too early"),
        (
            manifest,
            "</manifest>",
            "</manifest><manifest/>",
            "two roots",
        ),
        (
            test,
            "select=\"1\"",
            "select=\"4\"",
            "section 1 does not select",
        ),
        (
            test,
            "select=\"1\"",
            "select=\"0\"",
            "section 1 does not select",
        ),
        (
            test,
            "identifier=\"yield-7-2\"",
            "identifier=\"yield-7-2-C\"",
            "appears twice",
        ),
        (
            test,
            "identifier=\"yield-7-2\"",
            "identifier=\"yield-7-8\"",
            "does not have the item `yield-7-2`",
        ),
        (
            test,
            "href=\"items/yield-7-2.xml\"",
            "href=\"items/yield-7-2-B.xml\"",
            "not that of the manifest",
        ),
        (
            test,
            "</qti-test-part>",
            "<qti-assessment-section><qti-assessment-item-ref identifier=\"a\"/></qti-assessment-section></qti-test-part>",
            "its item `a` is not in the manifest",
        ),
        (
            test,
            "identifier=\"test-",
            "identifier=\"tess-",
            "its identifier is not `test-",
        ),
        (
            item,
            "identifier=\"yield-7-2\"",
            "identifier=\"yield-7-3\"",
            "its identifier is not `yield-7-2`",
        ),
        (
            item,
            "qti-assessment-item",
            "assessment-item",
            "it is not XML",
        ),
        (item, " title=\"", " title=\"No ", "its title"),
        (
            item,
            "response-identifier=\"ENTRY_1\"",
            "response-identifier=\"ENTRY_2\"",
            "`ENTRY_2` of an entry is not declared",
        ),
        (
            item,
            "<qti-text-entry-interaction",
            "<qti-text-entry",
            "`ENTRY_1` has no entry",
        ),
        (
            item,
            "<qti-item-body>",
            "<qti-item-body>\u{0}",
            "U+0000, which XML forbids",
        ),
        (
            item,
            "<qti-item-body>",
            "<qti-item-body><!-- \u{b} -->",
            "U+000B",
        ),
        (item, "<qti-item-body>", "<qti-item-body>&#1;", "U+0001"),
        (
            item,
            "<qti-item-body>",
            "<qti-item-body><p class=\"&#xFFFE;\"/>",
            "U+FFFE",
        ),
        (
            item,
            "<qti-item-body>",
            &("<p>".repeat(300) + "<qti-item-body>"),
            "too deep",
        ),
    ] {
        refused(read(&changed(file, from, to)), ErrorKind::BadPackage, words);
        if !words.starts_with("its title") {
            refused(
                read(&changed(file, from, to)),
                ErrorKind::BadPackage,
                &format!("{file}: "),
            );
        }
    }
    for name in ["qti-item-body", "qti-response-processing"] {
        let mut without = files.clone();
        let (_, bytes) = without.iter_mut().find(|(one, _)| one == item).unwrap();
        let text = String::from_utf8(bytes.clone()).unwrap();
        *bytes = text.replace(name, "p").into_bytes();
        refused(
            read(&zipped(&without)),
            ErrorKind::BadPackage,
            &format!("{item}: it does not have exactly one `{name}`"),
        );
    }
    for (index, (name, _)) in files.iter().enumerate() {
        let mut without = files.clone();
        without.remove(index);
        refused(
            read(&zipped(&without)),
            ErrorKind::BadPackage,
            &format!("{name}: the file is missing"),
        );
    }
}

#[test]
fn a_zip_file_with_something_else_is_refused() {
    let sets = versions();
    let zip = zip_of(&Package::new(&sets).unwrap());
    let files = unzipped(&zip);
    let with = |name: &str| {
        let mut files = files.clone();
        files.push((name.to_owned(), b"a".to_vec()));
        zipped(&files)
    };
    refused(
        read(&with("more.txt")),
        ErrorKind::BadPackage,
        "more.txt: the manifest does not name",
    );
    for name in [
        "../a",
        "/a",
        "a//b",
        "C:/a",
        "a\\b",
        ".a",
        "items/.a",
        "\u{202e}a",
        "",
    ] {
        refused(
            read(&with(name)),
            ErrorKind::BadPackage,
            "not the name of a file in a package",
        );
    }
    // A folder is no file.
    assert!(read(&with("items/")).is_ok());
    // The name of one file becomes that of another.
    let twice = |bytes: &[u8]| {
        let (from, to) = (b"items/yield-7-2-C.xml", b"items/yield-7-2-B.xml");
        let mut bytes = bytes.to_vec();
        for at in 0..bytes.len() - from.len() {
            let before = &bytes[at.saturating_sub(46)..at];
            let is_name = before
                .windows(4)
                .any(|four| four == b"PK\x03\x04" || four == b"PK\x01\x02");
            if is_name && bytes[at..].starts_with(from) {
                bytes[at..at + to.len()].copy_from_slice(to);
            }
        }
        bytes
    };
    refused(read(&twice(&zip)), ErrorKind::BadPackage, "the same name");
    // The compression of a file is in its two headers.
    let compressed = |bytes: &[u8]| {
        let mut bytes = bytes.to_vec();
        let central = bytes
            .windows(4)
            .position(|four| four == b"PK\x01\x02")
            .unwrap();
        (bytes[8], bytes[central + 10]) = (8, 8);
        bytes
    };
    refused(read(&compressed(&zip)), ErrorKind::BadPackage, "compressed");
    let mut damaged = zip.clone();
    damaged[60] ^= 1;
    refused(read(&damaged), ErrorKind::BadPackage, "damaged");
    for more in [1, 22, 400] {
        let followed = [&zip[..], &vec![b'a'; more]].concat();
        refused(
            read(&followed),
            ErrorKind::BadPackage,
            "something follows the end of the package",
        );
    }
    refused(read(b""), ErrorKind::BadPackage, "not a ZIP file");
    refused(read(b"no package"), ErrorKind::BadPackage, "not a ZIP file");
}

/// Nothing that is cut off or changed in one byte is read as another package, and nothing panics.
#[test]
fn a_damaged_package_is_refused_or_is_the_same() {
    let exercises = Exercises::new(7).kinds([Kind::PercentWater]);
    let sets = exercises.level(Level::OneStep).versions(1, 2).unwrap();
    let package = Package::new(&sets).unwrap();
    let zip = zip_of(&package);
    for length in (0..zip.len()).step_by(101) {
        assert!(read(&zip[..length]).is_err(), "{length}");
    }
    let central = zip
        .windows(4)
        .position(|four| four == b"PK\x01\x02")
        .unwrap();
    for at in (0..central).step_by(37).chain(central..zip.len()) {
        for change in [0x01, 0x80, 0xFF] {
            let mut damaged = zip.clone();
            damaged[at] ^= change;
            if let Ok(items) = read(&damaged) {
                assert_eq!(items, package.items(), "{at}");
            }
        }
    }
}

/// Every identifier of an item that the key names is in the item, and the item names no error.
#[test]
fn the_key_names_what_the_items_have() {
    let set = Exercises::new(5).set(30).unwrap();
    for with_options in [false, true] {
        let package = Package::new(std::slice::from_ref(&set)).unwrap();
        let package = match with_options {
            true => package.with_options(),
            false => package,
        };
        let files: BTreeMap<String, Vec<u8>> = unzipped(&zip_of(&package)).into_iter().collect();
        let mut key = Vec::new();
        package.write_key(&mut key).unwrap();
        let text = String::from_utf8(key).unwrap();
        let mut reader = csv::Reader::from_reader(text.trim_start_matches('\u{feff}').as_bytes());
        let mut rights = BTreeMap::new();
        let records: Vec<_> = reader.records().map(Result::unwrap).collect();
        // The name of a bench is an option, and it is its own code.
        let shown: BTreeSet<&str> = records.iter().map(|record| &record[5]).collect();
        for record in &records {
            let [item, entry, _, _, identifier, _, right, error] =
                std::array::from_fn(|cell| &record[cell]);
            let file = String::from_utf8(files[&format!("items/{item}.xml")].clone()).unwrap();
            assert!(file.contains(&format!("\"{entry}\"")), "{item} {entry}");
            if !identifier.is_empty() {
                assert!(
                    file.contains(&format!("\"{identifier}\"")),
                    "{item} {identifier}"
                );
            }
            assert!(error.is_empty() || right == "no");
            assert!(
                error.is_empty() || shown.contains(error) || !file.contains(error),
                "{item} {error}"
            );
            *rights.entry(format!("{item} {entry}")).or_insert(0) += usize::from(right == "yes");
        }
        let entries: usize = package.items().iter().map(PackagedItem::marks).sum();
        assert_eq!(rights.len(), entries);
        assert!(rights.values().all(|count| *count == 1), "{rights:?}");
    }
}

/// An option has a line, and so has the feedback that it gets. Numbers have the decimal mark of the set.
#[test]
fn the_key_says_which_error_an_option_and_a_feedback_are() {
    let exercises = Exercises::new(5).kinds([Kind::PercentWater]);
    let exercises = exercises.level(Level::OneStep).decimal_comma();
    let set = exercises.set(1).unwrap();
    let problem = &set.problems()[0];
    let package = Package::new(std::slice::from_ref(&set)).unwrap();
    let key_of = |package: &Package<'_>| {
        let mut key = Vec::new();
        package.write_key(&mut key).unwrap();
        String::from_utf8(key).unwrap()
    };
    let entered = key_of(&package);
    assert!(
        entered.contains(&format!("\"{} (", problem.answer())),
        "{entered}"
    );
    assert!(!entered.contains('.'), "{entered}");
    let chosen = key_of(&package.with_options()).replace(['\u{a0}', '"'], " ");
    for (option, letter) in problem.options().iter().zip('A'..) {
        let (right, error) = match option.wrong_step() {
            None => ("yes", ""),
            Some(code) => ("no", code),
        };
        let text = option.text().replace('\u{a0}', " ");
        let lines: Vec<&str> = chosen.lines().filter(|line| line.contains(&text)).collect();
        let [line] = lines[..] else {
            panic!("{text}: {chosen}")
        };
        assert!(line.contains(&format!(",CHOICE_{letter},")), "{line}");
        assert!(line.ends_with(&format!(",{right},{error}")), "{line}");
        let feedback = format!(",CHOICE_{letter},no,{error}\n");
        assert_eq!(chosen.contains(&feedback), right == "no", "{chosen}");
    }
}

/// The metadata say what the set was made from.
#[test]
fn the_manifest_says_what_the_set_was_made_from() {
    let exercises = Exercises::new(42)
        .avoid(["BaCl2".parse().unwrap()])
        .decimal_comma();
    let set = exercises.kinds([Kind::PercentWater]).set(1).unwrap();
    let package = Package::new(std::slice::from_ref(&set)).unwrap();
    let (_, manifest) = unzipped(&zip_of(&package)).remove(0);
    let manifest = String::from_utf8(manifest).unwrap();
    let said = serde_json::to_value(&set).unwrap();
    let generator: &Value = &said["generator"];
    for text in [
        generator.as_str().unwrap(),
        "42",
        "BaCl2",
        "IUPAC 2024, abridged",
    ] {
        assert!(
            manifest.contains(&format!("<lom:id>{text}</lom:id>")),
            "{text}"
        );
    }
}
