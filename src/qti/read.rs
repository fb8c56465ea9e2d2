//! A package read back and checked.

use alloc::collections::{BTreeMap, BTreeSet};
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io::{Read, Seek};

use super::archive::read_files;
use super::error::{Error, bad_file};
use super::identifier::is_lawful;
use super::packaged_item::PackagedItem;
use super::xml_tree::XmlNode;
use super::{item, manifest};
use crate::exercise::{Kind, Level, Skill};

/// What the manifest says of a file.
struct Resource<'a> {
    identifier: &'a str,
    file: &'a str,
    node: &'a XmlNode,
}

/// What the test says of an item.
struct Reference<'a> {
    section: usize,
    file: &'a str,
}

/// Reads the list of items of a package that [`Package`](super::Package) wrote, and checks the package.
///
/// The checks:
/// - Every file that the manifest names is there, and no other file is.
/// - Each file is XML, and has the identifier that the manifest and the test have for it.
/// - No identifier appears twice.
/// - An item has a body and response processing. Each response has one entry in the body, and no entry lacks its response.
/// - The test has every item once, and selects at most as many as there are.
///
/// How the items mark answers is not checked.
///
/// # Errors
/// Returns an error that says which file is wrong. Files that are compressed are refused, and so is a package of more
/// than 512 MB.
pub fn read_items(package: impl Read + Seek) -> Result<Vec<PackagedItem>, Error> {
    let mut files = read_files(package)?;
    let root = document(&mut files, manifest::FILE, "manifest", manifest::NAMESPACE)?;
    let (test, items) = resources(&root)?;
    let root = document(
        &mut files,
        test.file,
        "qti-assessment-test",
        item::NAMESPACE,
    )?;
    check_identifier(&test, &root)?;
    let references = references(&root, test.file)?;
    let mut described = BTreeMap::new();
    for (name, resource) in &items {
        let root = document(
            &mut files,
            resource.file,
            "qti-assessment-item",
            item::NAMESPACE,
        )?;
        check_identifier(resource, &root)?;
        check_item(&root).map_err(|what| bad_file(resource.file, what))?;
        let Some((order, reference)) = references.get(name) else {
            return Err(bad_file(
                test.file,
                format!("it does not have the item `{name}`"),
            ));
        };
        if reference.file != resource.file {
            let what = format!("its file of the item `{name}` is not that of the manifest");
            return Err(bad_file(test.file, what));
        }
        described.insert(*order, describe(resource, reference.section, &root)?);
    }
    if let Some(name) = references.keys().find(|name| !items.contains_key(*name)) {
        return Err(bad_file(
            test.file,
            format!("its item `{name}` is not in the manifest"),
        ));
    }
    match files.keys().next() {
        Some(name) => Err(bad_file(name, "the manifest does not name this file")),
        None => Ok(described.into_values().collect()),
    }
}

/// Takes a file out of the package and reads it.
fn document(
    files: &mut BTreeMap<String, Vec<u8>>,
    file: &str,
    root: &str,
    namespace: &str,
) -> Result<XmlNode, Error> {
    let Some(bytes) = files.remove(file) else {
        return Err(bad_file(file, "the file is missing, or is named twice"));
    };
    let node = XmlNode::read(&bytes).map_err(|why| bad_file(file, why))?;
    match node.name == root && node.namespace == namespace {
        true => Ok(node),
        false => Err(bad_file(
            file,
            format!("its root is not `{root}` of QTI 3.0"),
        )),
    }
}

/// The resource of the test, and those of the items by their identifiers.
fn resources(root: &XmlNode) -> Result<(Resource<'_>, BTreeMap<&str, Resource<'_>>), Error> {
    let bad = |what: String| bad_file(manifest::FILE, what);
    if root.text_at(&["metadata", "schemaversion"]) != "3.0.0" {
        return Err(bad("its schema version is not 3.0.0".into()));
    }
    let mut tests = Vec::new();
    let mut items = BTreeMap::new();
    for node in root.at(&["resources", "resource"]) {
        let resource = Resource {
            identifier: node.attribute("identifier"),
            file: node.attribute("href"),
            node,
        };
        let name = resource.identifier;
        if !is_lawful(name) {
            return Err(bad(format!("`{name}` is not an identifier")));
        }
        let mut files = node.children("file").map(|file| file.attribute("href"));
        if files.next() != Some(resource.file) || files.next().is_some() {
            return Err(bad(format!(
                "the resource `{name}` does not have exactly its own file"
            )));
        }
        match node.attribute("type") {
            manifest::TEST => tests.push(resource),
            manifest::ITEM => {
                if items.insert(name, resource).is_some() {
                    return Err(bad(format!("the identifier `{name}` appears twice")));
                }
            }
            other => {
                return Err(bad(format!(
                    "the type `{other}` of `{name}` is not that of a test or an item"
                )));
            }
        }
    }
    let mut tests = tests.into_iter();
    let (Some(test), None) = (tests.next(), tests.next()) else {
        return Err(bad("it does not have exactly one test".into()));
    };
    let dependencies = test.node.children("dependency");
    let dependencies: BTreeSet<&str> = dependencies
        .map(|one| one.attribute("identifierref"))
        .collect();
    match dependencies.iter().eq(items.keys()) && !items.contains_key(test.identifier) {
        true => Ok((test, items)),
        false => Err(bad("the test does not depend on exactly the items".into())),
    }
}

/// Refuses a file whose identifier is not that of the manifest.
fn check_identifier(resource: &Resource<'_>, root: &XmlNode) -> Result<(), Error> {
    match root.attribute("identifier") == resource.identifier {
        true => Ok(()),
        false => {
            let what = format!(
                "its identifier is not `{}`, as in the manifest",
                resource.identifier
            );
            Err(bad_file(resource.file, what))
        }
    }
}

/// Refuses an item that has nothing to answer, or nothing to mark it by.
fn check_item(root: &XmlNode) -> Result<(), String> {
    let the_only = |name: &'static str| {
        let mut nodes = root.children(name);
        match (nodes.next(), nodes.next()) {
            (Some(node), None) if !node.children.is_empty() => Ok(node),
            _ => Err(format!(
                "it does not have exactly one `{name}` with content"
            )),
        }
    };
    let body = the_only("qti-item-body")?;
    the_only("qti-response-processing")?;
    let mut responses = BTreeSet::new();
    for response in root.children("qti-response-declaration") {
        let name = response.attribute("identifier");
        if !responses.insert(name) {
            return Err(format!("the response `{name}` is declared twice"));
        }
    }
    let entries = body.inside();
    for entry in entries
        .iter()
        .filter(|node| node.name.ends_with("-interaction"))
    {
        let name = entry.attribute("response-identifier");
        if !responses.remove(name) {
            return Err(format!(
                "the response `{name}` of an entry is not declared, or has two entries"
            ));
        }
    }
    match responses.first() {
        None => Ok(()),
        Some(name) => Err(format!("the response `{name}` has no entry")),
    }
}

/// The items of the test by their identifiers, each with its place in the test.
fn references<'a>(
    root: &'a XmlNode,
    file: &str,
) -> Result<BTreeMap<&'a str, (usize, Reference<'a>)>, Error> {
    let mut references = BTreeMap::new();
    let sections = root.at(&["qti-test-part", "qti-assessment-section"]);
    for (section, node) in (1..).zip(sections) {
        let siblings: Vec<&XmlNode> = node.children("qti-assessment-item-ref").collect();
        let select = node.children("qti-selection").next();
        let select = select.map_or(Ok(siblings.len()), |one| one.attribute("select").parse());
        if !select.is_ok_and(|select| (1..=siblings.len()).contains(&select)) {
            let what = format!(
                "section {section} does not select at least 1 and at most {} of its items",
                siblings.len()
            );
            return Err(bad_file(file, what));
        }
        for sibling in siblings {
            let reference = Reference {
                section,
                file: sibling.attribute("href"),
            };
            let name = sibling.attribute("identifier");
            let order = references.len();
            if references.insert(name, (order, reference)).is_some() {
                return Err(bad_file(file, format!("the item `{name}` appears twice")));
            }
        }
    }
    Ok(references)
}

/// What the manifest and the file say of an item.
fn describe(
    resource: &Resource<'_>,
    section: usize,
    root: &XmlNode,
) -> Result<PackagedItem, Error> {
    let bad = |what: String| bad_file(manifest::FILE, format!("`{}`: {what}", resource.identifier));
    let metadata = |path: &[&'static str]| {
        let path: Vec<&str> = ["metadata"].iter().chain(path).copied().collect();
        resource.node.at(&path)
    };
    let interactions = metadata(&["qtiMetadata", "interactionType"]);
    let title = metadata(&["lom", "general", "title", "string"]);
    let title = title.first().map_or("", |title| &title.text);
    if title != root.attribute("title") {
        return Err(bad("its title is not that of its file".into()));
    }
    let paths = metadata(&["lom", "classification", "taxonPath"]);
    let terms = |list: &str| -> Vec<&str> {
        let of_list = paths
            .iter()
            .filter(|path| path.text_at(&["source", "string"]) == list);
        of_list.map(|path| path.text_at(&["taxon", "id"])).collect()
    };
    let the_term = |list: &str| match terms(list)[..] {
        [term] => Ok(term),
        _ => Err(bad(format!("it does not have exactly one `{list}`"))),
    };
    let level = the_term(manifest::LEVEL)?.parse().unwrap_or_default();
    let kind = the_term(manifest::KIND)?.parse::<Kind>();
    let skills = terms(manifest::SKILL).into_iter().map(str::parse::<Skill>);
    Ok(PackagedItem {
        identifier: resource.identifier.to_string(),
        section,
        title: title.to_string(),
        kind: kind.map_err(|error| bad(error.to_string()))?,
        level: Level::new(level).map_err(|error| bad(error.to_string()))?,
        form: the_term(manifest::FORM)?.to_string(),
        skills: skills
            .collect::<Result<_, _>>()
            .map_err(|error| bad(error.to_string()))?,
        marks: root.children("qti-response-declaration").count(),
        is_chosen: interactions.iter().any(|one| one.text == manifest::CHOOSE),
        is_entered: interactions.iter().any(|one| one.text == manifest::ENTER),
    })
}
