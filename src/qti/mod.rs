//! Problem sets as packages of QTI 3.0, the standard in which course platforms exchange questions.
//!
//! A package is a ZIP file with a manifest, a test and an item for each problem. What a pupil enters is marked by
//! the response rules of the item.

// Files in order; each uses only those before it:
//   error        what can be wrong with a package
//   xml          writing XML
//   mathml       formulas, equations and lines of working as MathML
//   prose        texts for people as XHTML
//   entry        what a pupil enters or chooses, and what counts as right
//   spelling     the spellings of a formula, and the x of a hydrate
//   answer       the answer of a problem as one entry
//   coefficients the coefficients of an equation as entries
//   parts        the parts of an answer as choices
//   steps        a working as entries
//   rule         response rules, and the rules as XML
//   number_text  a number with a decimal comma, read by rules
//   marking      the rules that mark the entries of an item
//   item         an item as XML
//   identifier   lawful and unique identifiers from any text
//   packaged_item what a package says of an item
//   test         the test: a section for each place
//   manifest     what a package has, and what its items are
//   answer_key   the key as CSV
//   archive      ZIP files
//   package      the test and its items in a ZIP file
//   xml_tree     a document read into a tree
//   read         a package read back and checked

mod answer;
mod answer_key;
mod archive;
mod coefficients;
mod entry;
mod error;
mod identifier;
mod item;
mod manifest;
mod marking;
mod mathml;
#[cfg(test)]
mod mathml_tests;
mod number_text;
mod package;
mod packaged_item;
mod parts;
mod prose;
mod read;
mod rule;
mod spelling;
mod steps;
mod test;
mod xml;
mod xml_tree;

pub use error::{Error, ErrorKind};
pub use package::Package;
pub use packaged_item::PackagedItem;
pub use read::read_items;
