//! The manifest of a package: its files, and what the problems are.

use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io;

use super::packaged_item::PackagedItem;
use super::test;
use super::xml::{Attribute, Xml};

/// The name of the file. The standard sets it.
pub(super) const FILE: &str = "imsmanifest.xml";
/// The namespace of manifests.
pub(super) const NAMESPACE: &str = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1";
const ITEM_METADATA: &str = "http://www.imsglobal.org/xsd/imsqti_metadata_v3p0";
/// Learning object metadata (IEEE 1484.12.3).
const OBJECT_METADATA: &str = "http://ltsc.ieee.org/xsd/LOM";
/// The types of resources.
pub(super) const TEST: &str = "imsqti_test_xmlv3p0";
pub(super) const ITEM: &str = "imsqti_item_xmlv3p0";
/// How a pupil answers, in the words of the standard.
pub(super) const CHOOSE: &str = "choiceInteraction";
pub(super) const ENTER: &str = "textEntryInteraction";

/// The names of our lists of terms. The metadata of each item have terms of them.
pub(super) const KIND: &str = "effloresce kind";
pub(super) const LEVEL: &str = "effloresce level";
pub(super) const FORM: &str = "effloresce form";
pub(super) const SKILL: &str = "effloresce skill";

/// What a manifest says of the package as a whole.
pub(super) struct PackageFacts<'a> {
    pub(super) identifier: &'a str,
    pub(super) test: &'a str,
    pub(super) title: &'a str,
    /// What the sets were made from: names and texts.
    pub(super) origin: &'a [(String, String)],
}

/// Writes the manifest.
pub(super) fn write(package: &PackageFacts<'_>, items: &[PackagedItem]) -> io::Result<Vec<u8>> {
    let mut xml = Xml::document()?;
    let attributes = [
        ("xmlns", NAMESPACE),
        ("xmlns:qmd", ITEM_METADATA),
        ("xmlns:lom", OBJECT_METADATA),
        ("identifier", package.identifier),
    ];
    xml.element("manifest", &attributes, |xml| {
        xml.new_line()?;
        xml.element("metadata", &[], |xml| {
            xml.leaf("schema", &[], "QTI Package")?;
            xml.leaf("schemaversion", &[], "3.0.0")?;
            xml.element("lom:lom", &[], |xml| {
                write_general(package.title, xml)?;
                for (name, text) in package.origin {
                    write_term("idea", name, text, xml)?;
                }
                Ok(())
            })
        })?;
        xml.new_line()?;
        xml.empty("organizations", &[])?;
        xml.new_line()?;
        xml.element("resources", &[], |xml| {
            xml.new_line()?;
            let attributes = resource(TEST, package.test, test::FILE);
            xml.element("resource", &attributes, |xml| {
                xml.empty("file", &[("href", test::FILE)])?;
                items.iter().try_for_each(|item| {
                    xml.empty("dependency", &[("identifierref", &*item.identifier)])
                })
            })?;
            xml.new_line()?;
            items.iter().try_for_each(|item| write_item(item, xml))
        })?;
        xml.new_line()
    })?;
    Ok(xml.finish())
}

fn resource<'a>(resource_type: &'a str, identifier: &'a str, file: &'a str) -> [Attribute<'a>; 3] {
    [
        ("identifier", identifier),
        ("type", resource_type),
        ("href", file),
    ]
}

fn write_item(item: &PackagedItem, xml: &mut Xml) -> io::Result<()> {
    let file = item.file();
    let attributes = resource(ITEM, &item.identifier, &file);
    xml.element("resource", &attributes, |xml| {
        xml.element("metadata", &[], |xml| {
            write_item_metadata(item, xml)?;
            xml.element("lom:lom", &[], |xml| {
                write_general(&item.title, xml)?;
                write_term("discipline", KIND, item.kind.code(), xml)?;
                let level = item.level.number().to_string();
                write_term("skill level", LEVEL, &level, xml)?;
                write_term("idea", FORM, &item.form, xml)?;
                let mut skills = item.skills.iter();
                skills.try_for_each(|skill| write_term("competency", SKILL, skill.code(), xml))
            })
        })?;
        xml.empty("file", &[("href", &*file)])
    })?;
    xml.new_line()
}

fn write_item_metadata(item: &PackagedItem, xml: &mut Xml) -> io::Result<()> {
    let interactions = [(CHOOSE, item.is_chosen), (ENTER, item.is_entered)];
    xml.element("qmd:qtiMetadata", &[], |xml| {
        xml.leaf("qmd:timeDependent", &[], "false")?;
        for (name, is_used) in interactions {
            if is_used {
                xml.leaf("qmd:interactionType", &[], name)?;
            }
        }
        xml.leaf("qmd:feedbackType", &[], "nonadaptive")?;
        xml.leaf("qmd:scoringMode", &[], "responseprocessing")
    })
}

fn write_general(title: &str, xml: &mut Xml) -> io::Result<()> {
    xml.element("lom:general", &[], |xml| {
        xml.element("lom:title", &[], |xml| {
            xml.leaf("lom:string", &[("language", "en")], title)
        })?;
        xml.leaf("lom:language", &[], "en")
    })
}

/// Writes a term of one of our lists. The purpose is one of the standard's words.
fn write_term(purpose: &str, list: &str, term: &str, xml: &mut Xml) -> io::Result<()> {
    xml.element("lom:classification", &[], |xml| {
        xml.element("lom:purpose", &[], |xml| {
            xml.leaf("lom:source", &[], "LOMv1.0")?;
            xml.leaf("lom:value", &[], purpose)
        })?;
        xml.element("lom:taxonPath", &[], |xml| {
            xml.element("lom:source", &[], |xml| {
                xml.leaf("lom:string", &[("language", "en")], list)
            })?;
            xml.element("lom:taxon", &[], |xml| xml.leaf("lom:id", &[], term))
        })
    })
}
