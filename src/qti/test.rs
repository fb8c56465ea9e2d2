//! The test of a package: a section for each place, with its siblings.

use alloc::format;
use alloc::string::ToString;
use alloc::vec::Vec;
use std::io;

use super::item::{NAMESPACE, outcome};
use super::packaged_item::PackagedItem;
use super::xml::Xml;
use crate::exercise::SetNote;

/// The name of the file of the test in the package.
pub(super) const FILE: &str = "test.xml";
/// What the items and the test count.
const SUMS: [&str; 2] = ["SCORE", "MAXSCORE"];

/// What a test says of itself.
pub(super) struct TestFacts<'a> {
    pub(super) identifier: &'a str,
    pub(super) title: &'a str,
    /// How many items of each section a pupil is shown.
    pub(super) select: usize,
    /// What pupils read with the problems.
    pub(super) notes: Vec<SetNote>,
}

/// Writes the test. The items are in order of their sections.
pub(super) fn write(test: &TestFacts<'_>, items: &[PackagedItem]) -> io::Result<Vec<u8>> {
    let mut xml = Xml::document()?;
    let attributes = [
        ("xmlns", NAMESPACE),
        ("identifier", test.identifier),
        ("title", test.title),
        ("tool-name", "effloresce"),
    ];
    xml.element("qti-assessment-test", &attributes, |xml| {
        xml.new_line()?;
        SUMS.iter()
            .try_for_each(|sum| outcome(xml, sum, "float", Some("0"), &[]))?;
        let attributes = [
            ("identifier", "PART_1"),
            ("navigation-mode", "nonlinear"),
            ("submission-mode", "individual"),
        ];
        xml.element("qti-test-part", &attributes, |xml| {
            // What an entry is told is feedback.
            xml.empty("qti-item-session-control", &[("show-feedback", "true")])?;
            xml.new_line()?;
            for note in &test.notes {
                write_note(note, xml)?;
            }
            for siblings in items.chunk_by(|one, next| one.section == next.section) {
                write_section(siblings, test.select, xml)?;
            }
            Ok(())
        })?;
        xml.new_line()?;
        xml.element("qti-outcome-processing", &[], |xml| {
            SUMS.iter().try_for_each(|sum| write_sum(sum, xml))
        })?;
        xml.new_line()
    })?;
    Ok(xml.finish())
}

/// Writes what pupils read with the problems.
fn write_note(note: &SetNote, xml: &mut Xml) -> io::Result<()> {
    let attributes = [("use", "instructions"), ("view", "candidate")];
    xml.element("qti-rubric-block", &attributes, |xml| {
        xml.element("qti-content-body", &[], |xml| {
            xml.element("p", &[], |xml| xml.leaf("strong", &[], note.heading))?;
            let mut paragraphs = note.paragraphs.iter();
            paragraphs.try_for_each(|paragraph| xml.leaf("p", &[], paragraph))?;
            match note.items.is_empty() {
                true => Ok(()),
                false => xml.element("ul", &[], |xml| {
                    let mut items = note.items.iter();
                    items.try_for_each(|item| xml.leaf("li", &[], item))
                }),
            }
        })
    })?;
    xml.new_line()
}

fn write_section(siblings: &[PackagedItem], select: usize, xml: &mut Xml) -> io::Result<()> {
    let Some(first) = siblings.first() else {
        return Ok(());
    };
    let identifier = format!("SECTION_{}", first.section);
    let title = format!("{}. {}", first.section, first.title);
    let attributes = [
        ("identifier", &*identifier),
        ("title", &*title),
        ("visible", "true"),
    ];
    xml.element("qti-assessment-section", &attributes, |xml| {
        let select = select.to_string();
        let attributes = [("select", &*select), ("with-replacement", "false")];
        xml.empty("qti-selection", &attributes)?;
        xml.empty("qti-ordering", &[("shuffle", "true")])?;
        xml.new_line()?;
        for item in siblings {
            let file = item.file();
            let attributes = [("identifier", &*item.identifier), ("href", &*file)];
            xml.empty("qti-assessment-item-ref", &attributes)?;
            xml.new_line()?;
        }
        Ok(())
    })?;
    xml.new_line()
}

/// Writes the rule that adds up an outcome of the items that a pupil has.
fn write_sum(outcome: &str, xml: &mut Xml) -> io::Result<()> {
    xml.element("qti-set-outcome-value", &[("identifier", outcome)], |xml| {
        xml.element("qti-sum", &[], |xml| {
            let attributes = [("variable-identifier", outcome), ("base-type", "float")];
            xml.empty("qti-test-variables", &attributes)
        })
    })
}
