//! The test of a package: a section for each place, with its siblings.

use alloc::format;
use alloc::string::ToString;
use alloc::vec::Vec;
use std::io;

use super::item::NAMESPACE;
use super::packaged_item::PackagedItem;
use super::xml::Xml;

/// The name of the file of the test in the package.
pub(super) const FILE: &str = "test.xml";
/// What the items and the test count.
const SUMS: [&str; 2] = ["SCORE", "MAXSCORE"];

/// Writes the test. `select` items of each section are shown to a pupil. The items are in order of their sections.
pub(super) fn write(
    identifier: &str,
    title: &str,
    select: usize,
    items: &[PackagedItem],
) -> io::Result<Vec<u8>> {
    let mut xml = Xml::document()?;
    let attributes = [
        ("xmlns", NAMESPACE),
        ("identifier", identifier),
        ("title", title),
        ("tool-name", "effloresce"),
    ];
    xml.element("qti-assessment-test", &attributes, |xml| {
        xml.new_line()?;
        for sum in SUMS {
            let attributes = [
                ("identifier", sum),
                ("cardinality", "single"),
                ("base-type", "float"),
            ];
            xml.element("qti-outcome-declaration", &attributes, |xml| {
                xml.element("qti-default-value", &[], |xml| {
                    xml.leaf("qti-value", &[], "0")
                })
            })?;
            xml.new_line()?;
        }
        let attributes = [
            ("identifier", "PART_1"),
            ("navigation-mode", "nonlinear"),
            ("submission-mode", "individual"),
        ];
        xml.element("qti-test-part", &attributes, |xml| {
            // What an entry is told is feedback.
            xml.empty("qti-item-session-control", &[("show-feedback", "true")])?;
            xml.new_line()?;
            for siblings in items.chunk_by(|one, next| one.section == next.section) {
                write_section(siblings, select, xml)?;
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
