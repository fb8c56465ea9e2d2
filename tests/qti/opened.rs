//! A package, opened: its files, its manifest, its test and its items.

use std::io::{Cursor, Read};

use effloresce::exercise::{Exercise, ExerciseSet};
use effloresce::qti::Package;

use super::body::Body;
use super::evaluator::Item;
use super::xml::Element;

pub(crate) struct Opened {
    pub(crate) manifest: Element,
    pub(crate) test: Element,
    /// Section by section, sibling by sibling.
    pub(crate) items: Vec<OpenedItem>,
}

pub(crate) struct OpenedItem {
    pub(crate) item: Item,
    pub(crate) body: Body,
    pub(crate) xml: Element,
}

pub(crate) fn written(package: &Package<'_>) -> Vec<u8> {
    let mut bytes = Vec::new();
    package.write(&mut bytes).expect("a package is written");
    bytes
}

/// The problems in the order of the items: place by place, sibling by sibling.
pub(crate) fn problems(sets: &[ExerciseSet]) -> Vec<&Exercise> {
    let places = 0..sets[0].problems().len();
    let problems = places.flat_map(|place| sets.iter().map(move |set| &set.problems()[place]));
    problems.collect()
}

impl Opened {
    pub(crate) fn of(package: &Package<'_>) -> Opened {
        Opened::read(&written(package)).unwrap_or_else(|error| panic!("{error}"))
    }

    pub(crate) fn read(bytes: &[u8]) -> Result<Opened, String> {
        let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|e| e.to_string())?;
        let mut files = Vec::new();
        for index in 0..archive.len() {
            let mut file = archive.by_index(index).map_err(|e| e.to_string())?;
            let mut content = Vec::new();
            file.read_to_end(&mut content).map_err(|e| e.to_string())?;
            files.push((file.name().to_owned(), content));
        }
        let content = |name: &str| {
            let found = files.iter().find(|(file, _)| file == name);
            found
                .map(|(_, content)| content)
                .ok_or_else(|| format!("no file `{name}`"))
        };
        let manifest = Element::read(content("imsmanifest.xml")?)?;
        let resources = manifest.named("resource");
        let of_type = |wanted: &str| -> Result<Vec<&str>, String> {
            let of_type = resources
                .iter()
                .filter(|r| r.attribute("type") == Some(wanted));
            of_type.map(|resource| resource.needed("href")).collect()
        };
        let tests = of_type("imsqti_test_xmlv3p0")?;
        let [test] = tests[..] else {
            return Err(format!("the tests {tests:?}"));
        };
        let folder = test.rsplit_once('/').map_or("", |(folder, _)| folder);
        let test = Element::read(content(test)?)?;
        let mut items = Vec::new();
        for reference in test.named("qti-assessment-item-ref") {
            let href = reference.needed("href")?;
            let name = match folder {
                "" => href.to_owned(),
                folder => format!("{folder}/{href}"),
            };
            let bytes = content(&name)?;
            let item = Item::read(bytes).map_err(|error| format!("{name}: {error}"))?;
            let body = Body::of(&item).map_err(|error| format!("{name}: {error}"))?;
            let xml = Element::read(bytes)?;
            items.push(OpenedItem { item, body, xml });
        }
        if items.len() != of_type("imsqti_item_xmlv3p0")?.len() || files.len() != items.len() + 2 {
            return Err("a file that is not in the test".into());
        }
        Ok(Opened {
            manifest,
            test,
            items,
        })
    }
}
