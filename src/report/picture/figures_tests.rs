//! The figures of the documentation. Each is drawn here and held to its file: `RENEW=1` writes the files.

use std::path::Path;

use super::super::block::Picture;
use super::plan_picture;
use crate::gravimetry::Method;

/// Asserts that a file of the documentation has this picture.
#[track_caller]
pub(super) fn is_in_the_docs(file: &str, picture: &Picture) {
    let style = "<svg style=\"max-width:100%;height:auto\"";
    let drawn = picture.svg.replacen("<svg", style, 1);
    // A blank line would end it in Markdown.
    assert!(!drawn.contains("\n\n"));
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(file);
    if std::env::var_os("RENEW").is_some() {
        std::fs::write(&path, &drawn).unwrap();
    }
    let there = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        there == drawn,
        "{file} is another picture; RENEW=1 writes it"
    );
}

#[test]
fn the_plan_of_the_docs_is_what_is_drawn() {
    let issued = "MgSO4·7H2O".parse().unwrap();
    let plan = Method::new().plan(&issued, "0.01".parse().unwrap());
    is_in_the_docs(
        "src/report/plan.svg",
        &plan_picture(&plan.unwrap()).unwrap(),
    );
}
