//! The form of the files: identifiers, formulas, feedback, the archive, and the key.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Cursor;

use effloresce::exercise::{Exercises, Kind, OwnSalts, Template};
use effloresce::qti::{Package, read_items};

use super::body::seen;
use super::opened::{Opened, OpenedItem, problems, written};
use super::sets::samples;
use super::value::{Value, is_identifier};
use super::xml::Element;

const MATHML: &str = "http://www.w3.org/1998/Math/MathML";

/// The identifiers that a document gives, and those that it speaks of.
fn identifiers(element: &Element) -> Vec<&str> {
    let names = [
        "identifier",
        "response-identifier",
        "outcome-identifier",
        "identifierref",
    ];
    let all = element.all().into_iter();
    let values = all.flat_map(|element| names.map(|name| element.attribute(name)));
    let mut found: Vec<&str> = values.flatten().collect();
    let stated = element.named("qti-base-value").into_iter();
    let stated = stated.filter(|value| value.attribute("base-type") == Some("identifier"));
    let stated: Vec<&str> = stated.filter_map(|value| text_of(value)).collect();
    found.extend(stated);
    found
}

fn text_of(element: &Element) -> Option<&str> {
    element.content.iter().find_map(|content| match content {
        super::xml::Content::Text(text) => Some(text.as_str()),
        super::xml::Content::Element(_) => None,
    })
}

#[test]
fn identifiers_are_lawful_unique_and_say_nothing() {
    for sample in samples() {
        let opened = &sample.opened;
        let mut all = BTreeSet::new();
        for (problem, item) in sample.pairs() {
            assert!(
                all.insert(item.item.identifier.clone()),
                "{}",
                item.item.identifier
            );
            let codes = problem
                .options()
                .iter()
                .filter_map(|option| option.wrong_step());
            let codes: Vec<String> = codes.map(|code| code.replace('_', "")).collect();
            for identifier in identifiers(&item.xml) {
                assert!(is_identifier(identifier), "{identifier}");
                let plain = identifier.to_lowercase().replace(['_', '-'], "");
                let tells = codes.iter().any(|code| plain.contains(code.as_str()));
                assert!(!tells, "{identifier} tells its code");
                // A feedback that says so may be named so. An option may not.
                let option = item
                    .body
                    .entries
                    .iter()
                    .any(|entry| entry.options.iter().any(|(name, _)| name == identifier));
                let words = [
                    "right", "correct", "wrong", "answer", "key", "true", "false",
                ];
                assert!(
                    !option || !words.iter().any(|word| plain.contains(word)),
                    "{identifier}"
                );
            }
            unique_in(item);
        }
        for document in [&opened.manifest, &opened.test] {
            let all = document.all().into_iter();
            let given = all.filter(|element| !element.name.starts_with("qti-set-"));
            let given = given.filter_map(|element| element.attribute("identifier"));
            let given: Vec<&str> = given.collect();
            let unique: BTreeSet<&str> = given.iter().copied().collect();
            assert_eq!(unique.len(), given.len(), "{given:?}");
            assert!(
                given.iter().all(|identifier| is_identifier(identifier)),
                "{given:?}"
            );
        }
    }
}

/// An entry that stands alone may be asked for by the prompt; one of several says what it is.
#[test]
fn each_of_several_entries_has_a_label() {
    for sample in samples() {
        for (problem, item) in sample
            .pairs()
            .filter(|(problem, _)| problem.kind() != Kind::Balance)
        {
            let labels: Vec<&String> = item.body.entries.iter().map(|entry| &entry.label).collect();
            let several = labels.len() > 1;
            assert!(
                !several || labels.iter().all(|label| !label.is_empty()),
                "{}: {labels:?}",
                problem.id()
            );
        }
    }
}

/// Options are unique within their choice, and feedback within its outcome.
fn unique_in(item: &OpenedItem) {
    for entry in &item.body.entries {
        let names: BTreeSet<&String> = entry.options.iter().map(|(name, _)| name).collect();
        assert_eq!(names.len(), entry.options.len());
        let texts: BTreeSet<&String> = entry.options.iter().map(|(_, text)| text).collect();
        assert_eq!(texts.len(), entry.options.len(), "{:?}", entry.options);
    }
    let feedback = item.body.feedback.iter();
    let feedback: BTreeSet<(&str, &str)> =
        feedback.map(|f| (&*f.outcome, &*f.identifier)).collect();
    assert_eq!(feedback.len(), item.body.feedback.len());
}

#[test]
fn rules_and_feedback_name_the_same_outcomes() {
    for sample in samples() {
        let opened = &sample.opened;
        for item in &opened.items {
            let settable: BTreeSet<(&str, &str)> = item.item.settable().into_iter().collect();
            let feedback = item.body.feedback.iter();
            let shown: BTreeSet<(&str, &str)> =
                feedback.map(|f| (&*f.outcome, &*f.identifier)).collect();
            assert_eq!(settable, shown, "{}", item.item.identifier);
            for feedback in &item.body.feedback {
                assert!(!feedback.text.is_empty(), "{}", item.item.identifier);
            }
        }
    }
}

#[test]
fn no_text_holds_a_code_or_a_foreign_attribute() {
    for sample in samples() {
        let opened = &sample.opened;
        for (problem, item) in sample.pairs() {
            for element in item.xml.all() {
                for (name, _) in &element.attributes {
                    assert!(
                        !name.starts_with("data-") && !name.starts_with("on"),
                        "{name}"
                    );
                }
            }
            let everything = everything(&item.xml);
            let codes = problem
                .options()
                .iter()
                .filter_map(|option| option.wrong_step());
            for code in codes.filter(|code| code.contains('_')) {
                assert!(!everything.contains(code), "{}: {code}", problem.id());
            }
        }
        for element in opened.manifest.all().into_iter().chain(opened.test.all()) {
            assert!(
                element
                    .attributes
                    .iter()
                    .all(|(name, _)| !name.starts_with("data-"))
            );
        }
    }
}

/// All texts and all values of attributes.
fn everything(element: &Element) -> String {
    let mut all = String::new();
    for element in element.all() {
        all.push_str(&element.own_text());
        all.push('\n');
        for (_, value) in &element.attributes {
            all.push_str(value);
            all.push('\n');
        }
    }
    all
}

/// Whoever hears a formula hears its text, and whoever has no `MathML` reads it.
#[test]
fn formulas_are_mathml_with_a_text() {
    for sample in samples() {
        for (problem, item) in sample.pairs() {
            let mut maths = item.xml.named("math");
            maths.extend(item.xml.named("m:math"));
            for math in maths {
                assert_eq!(math.attribute("xmlns"), Some(MATHML), "{}", problem.id());
                let text = math.attribute("alttext").unwrap_or_default();
                assert!(!text.trim().is_empty(), "{}", problem.id());
                let known = [
                    "math", "mrow", "mi", "mn", "mo", "msub", "msup", "msubsup", "mfrac", "mtext",
                    "mspace", "mfenced", "mstyle",
                ];
                for inner in math.all() {
                    assert!(known.contains(&inner.name.as_str()), "{}", inner.name);
                }
            }
        }
    }
}

#[test]
fn choices_are_the_options_of_the_problem_in_their_order() {
    let mut checked = 0;
    for sample in samples().iter().filter(|sample| sample.options) {
        for (problem, item) in sample
            .pairs()
            .filter(|(problem, _)| !problem.options().is_empty())
        {
            assert_eq!(item.count(), 1, "{}", problem.id());
            let shown: Vec<&str> = item.body.entries[0]
                .options
                .iter()
                .map(|(_, text)| &**text)
                .collect();
            let options: Vec<String> = problem
                .options()
                .iter()
                .map(|option| seen(option.text()))
                .collect();
            assert_eq!(shown, options, "{}", problem.id());
            checked += 1;
        }
    }
    assert!(checked > 1_000, "{checked}");
}

#[test]
fn the_same_choices_give_the_same_bytes() {
    let exercises = Exercises::new(9);
    let one = exercises.versions(8, 2).unwrap();
    let again = exercises.versions(8, 2).unwrap();
    let make = |sets| {
        Package::new(sets)
            .unwrap()
            .title("Salts")
            .select(1)
            .unwrap()
    };
    let bytes = written(&make(&one));
    assert_eq!(bytes, written(&make(&again)));
    assert_eq!(key(&make(&one)), key(&make(&again)));
    let mut archive = zip::ZipArchive::new(Cursor::new(&bytes)).unwrap();
    let mut names = BTreeSet::new();
    let mut times = BTreeSet::new();
    for index in 0..archive.len() {
        let file = archive.by_index(index).unwrap();
        assert_eq!(
            file.compression(),
            zip::CompressionMethod::Stored,
            "{}",
            file.name()
        );
        assert!(names.insert(file.name().to_owned()));
        let name = file.name();
        let safe = !name.starts_with('/')
            && !name.contains("..")
            && !name.contains('\\')
            && name.is_ascii();
        assert!(safe, "{name}");
        times.insert(format!("{:?}", file.last_modified()));
        assert!(file.extra_data().is_none_or(<[u8]>::is_empty), "{name}");
    }
    assert_eq!(times.len(), 1, "{times:?}");
}

fn key(package: &Package<'_>) -> String {
    let mut out = Vec::new();
    package.write_key(&mut out).unwrap();
    String::from_utf8(out).unwrap()
}

#[test]
fn the_sections_of_a_test_hold_the_siblings() {
    let sets = Exercises::new(4).versions(6, 3).unwrap();
    let package = Package::new(&sets).unwrap().select(2).unwrap();
    let opened = Opened::of(&package);
    let sections = opened.test.named("qti-assessment-section");
    let sections: Vec<_> = sections
        .into_iter()
        .filter(|section| {
            section
                .elements()
                .any(|e| e.name == "qti-assessment-item-ref")
        })
        .collect();
    assert_eq!(sections.len(), 6);
    for section in &sections {
        let selection = section.child("qti-selection").unwrap();
        assert_eq!(selection.attribute("select"), Some("2"));
        assert_ne!(selection.attribute("with-replacement"), Some("true"));
        let siblings = section
            .elements()
            .filter(|e| e.name == "qti-assessment-item-ref");
        assert_eq!(siblings.count(), 3);
    }
    for (problem, item) in problems(&sets).into_iter().zip(&opened.items) {
        let prompt = item
            .body
            .prompt
            .lines()
            .map(seen)
            .collect::<Vec<_>>()
            .join(" ");
        assert!(prompt.contains(&seen(problem.prompt())), "{}", problem.id());
    }
    let read = read_items(Cursor::new(written(&package))).unwrap();
    assert_eq!(read, package.items());
    assert_eq!(read.len(), 18);
    for ((problem, item), read) in problems(&sets).into_iter().zip(&opened.items).zip(&read) {
        assert_eq!(read.identifier(), item.item.identifier);
        assert_eq!(
            (read.kind(), read.level(), read.form()),
            (problem.kind(), problem.level(), problem.form())
        );
        assert_eq!(read.skills(), problem.skills());
    }
    assert!(Package::new(&sets).unwrap().select(4).is_err());
    assert!(Package::new(&sets).unwrap().select(0).is_err());
}

/// Kind, level, form and skills stand in the manifest.
#[test]
fn the_manifest_describes_each_item() {
    let sets = [Exercises::new(4).set(15).unwrap()];
    let opened = Opened::of(&Package::new(&sets).unwrap());
    let resources = opened.manifest.named("resource");
    for (problem, item) in problems(&sets).into_iter().zip(&opened.items) {
        let own =
            |resource: &&&Element| resource.attribute("identifier") == Some(&item.item.identifier);
        let resource = resources.iter().find(own);
        let described = everything(resource.unwrap());
        let skills = problem.skills().iter().map(|skill| skill.code().to_owned());
        for wanted in skills.chain([problem.kind().code().to_owned(), problem.form().to_owned()]) {
            assert!(
                described.contains(&wanted),
                "{}: {wanted}\n{described}",
                problem.id()
            );
        }
    }
}

const HOSTILE: &str =
    "</title><script>alert(1)</script> & \" ' ]]> \u{1}\u{0}\u{fffe} <!-- \u{202e}abc =1+1 Ω 🧪";

#[test]
fn hostile_titles_and_names_are_only_text() {
    let sets = [Exercises::new(4).set(3).unwrap()];
    let plain = Opened::of(&Package::new(&sets).unwrap());
    for title in [HOSTILE, "", " ", &"x".repeat(100_000), "\u{0}"] {
        let opened = Opened::of(&Package::new(&sets).unwrap().title(title));
        let names = |opened: &Opened| -> Vec<String> {
            let all = opened.test.all().into_iter().chain(opened.manifest.all());
            all.map(|element| element.name.clone()).collect()
        };
        assert_eq!(names(&opened), names(&plain));
        assert_eq!(opened.items.len(), 3);
    }
    let title = Opened::of(&Package::new(&sets).unwrap().title(HOSTILE)).test;
    let title = title.attribute("title").unwrap();
    assert!(
        title.contains("</title><script>alert(1)</script> & \" ' ]]>"),
        "{title}"
    );
    assert!(
        !title.contains('\u{1}') && !title.contains('\u{202e}'),
        "{title:?}"
    );
    let list = "hydrate,name\nCuSO4.5H2O,\"<b onload='x'> & \"\"blue\"\" ]]>\"\n";
    let salts = OwnSalts::read(list.as_bytes());
    if let Ok(salts) = salts {
        let sets = [Exercises::new(4)
            .kinds([Kind::PercentWater])
            .own_salts(salts)
            .set(4)
            .unwrap()];
        let opened = Opened::of(&Package::new(&sets).unwrap());
        for (problem, item) in problems(&sets).into_iter().zip(&opened.items) {
            assert!(
                seen(&item.body.prompt).contains(&seen(problem.prompt())),
                "{}",
                problem.id()
            );
        }
    }
}

/// Each identifier of an option and of an error is in the key, with its code.
#[test]
fn the_key_maps_each_identifier() {
    for sample in samples() {
        let text = key(&sample.package());
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let header: Vec<String> = reader.headers().unwrap().iter().map(String::from).collect();
        let rows: Vec<BTreeMap<String, String>> = reader
            .records()
            .map(|row| {
                header
                    .iter()
                    .cloned()
                    .zip(row.unwrap().iter().map(String::from))
                    .collect()
            })
            .collect();
        for (problem, item) in sample.pairs() {
            let own = rows
                .iter()
                .filter(|row| row["item"] == item.item.identifier);
            let own: Vec<_> = own.collect();
            let find = |entry: &str, identifier: &str| {
                own.iter()
                    .find(|row| row["entry"] == entry && row["identifier"] == identifier)
            };
            for (index, entry) in item.body.entries.iter().enumerate() {
                for (name, shown) in &entry.options {
                    let row = find(&entry.response, name);
                    let row = row.unwrap_or_else(|| panic!("{}: {name}\n{text}", problem.id()));
                    let right = item.item.declarations.responses[&entry.response].correct
                        == Value::Identifier(name.clone());
                    assert_eq!(row["right"] == "yes", right, "{}: {row:?}", problem.id());
                    let option = problem
                        .options()
                        .iter()
                        .find(|option| seen(option.text()) == *shown);
                    if let Some(option) = option {
                        assert_eq!(
                            row["error"],
                            option.wrong_step().unwrap_or_default(),
                            "{row:?}"
                        );
                    }
                }
                let outcome = format!("SAYS_{}", index + 1);
                let errors = item.body.feedback.iter().filter(|feedback| {
                    feedback.outcome == outcome && feedback.identifier.starts_with("ERROR_")
                });
                for error in errors {
                    let options: Vec<_> = problem
                        .options()
                        .iter()
                        .filter(|option| seen(option.feedback()) == error.text)
                        .collect();
                    let row = match entry.options.is_empty() {
                        true => find(&entry.response, &error.identifier),
                        false => continue,
                    };
                    let row = row.unwrap_or_else(|| {
                        panic!("{}: {}\n{text}", problem.id(), error.identifier)
                    });
                    let codes: Vec<_> = options
                        .iter()
                        .filter_map(|option| option.wrong_step())
                        .collect();
                    assert!(
                        codes.contains(&row["error"].as_str()) || codes.is_empty(),
                        "{row:?} {codes:?}"
                    );
                    assert!(!row["error"].is_empty(), "{row:?}");
                }
                assert!(
                    own.iter()
                        .any(|row| row["entry"] == entry.response && row["right"] == "yes"),
                    "{}",
                    problem.id()
                );
            }
        }
    }
}

/// Problems from a template, and of a course that avoids a salt, are packaged like others.
#[test]
fn templates_versions_and_avoided_salts_are_packaged() {
    let template = Template::read(include_str!("../../examples/data/template_water.toml")).unwrap();
    let exercises = [
        Exercises::new(3).templates([template]),
        Exercises::new(3)
            .kinds([Kind::PercentWater, Kind::FormulaFromMasses])
            .avoid(["CuSO4".parse().unwrap()]),
        Exercises::new(3).decimal_comma(),
    ];
    for exercises in exercises {
        let sets = exercises.versions(6, 3).unwrap();
        let opened = Opened::of(&Package::new(&sets).unwrap().select(1).unwrap());
        assert_eq!(opened.items.len(), 18);
        for item in &opened.items {
            let marked = item.mark(&item.all_right());
            assert_eq!(
                marked.total(),
                item.count() as f64,
                "{}",
                item.item.identifier
            );
        }
    }
}

/// What is read of a text: a table has no signs between its cells, and a list none before its points.
fn words(text: &str) -> String {
    let text = seen(text);
    let words = text.split(' ').filter(|word| !matches!(*word, "|" | "-"));
    words.collect::<Vec<_>>().join(" ")
}

/// Read in order, with the text of each formula, an item is the prompt of its problem and nothing more. So whoever
/// hears it hears nothing twice.
#[test]
fn the_prompt_is_read_once() {
    for sample in samples() {
        for (problem, item) in sample.pairs() {
            let (prompt, wanted) = (words(&item.body.prompt), words(problem.prompt()));
            assert!(
                prompt.starts_with(&wanted),
                "{}\n{prompt}\n{wanted}",
                problem.id()
            );
        }
    }
}
