//! Every public function that returns a `Result` has `# Errors` in its documentation.

use crate::source;

/// The functions that return a `Result` without documented errors, and the number that return one.
fn silent(text: &str) -> (Vec<String>, usize) {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let (mut silent, mut fallible) = (Vec::new(), 0);
    for (at, line) in lines.iter().enumerate() {
        let Some(rest) = line
            .strip_prefix("pub fn ")
            .or(line.strip_prefix("pub const fn "))
        else {
            continue;
        };
        let ends = |line: &&&str| line.contains('{') || line.ends_with(';');
        let more = lines[at..].iter().position(|line| ends(&line)).unwrap_or(0);
        let signature = lines[at..=at + more].join(" ");
        let returns = signature.split(" -> ").last().unwrap_or_default();
        if !signature.contains(" -> ") || !returns.contains("Result") {
            continue;
        }
        fallible += 1;
        let before = lines[..at].iter().rev();
        let mut docs = before.take_while(|line| line.starts_with("///") || line.starts_with("#["));
        if !docs.any(|line| line.starts_with("/// # Errors")) {
            silent.push(rest.split('(').next().unwrap_or_default().to_owned());
        }
    }
    (silent, fallible)
}

#[test]
fn errors_are_documented() {
    let mut fallible = 0;
    for (path, text) in source::sources() {
        let (silent, count) = silent(&text);
        assert_eq!(silent, Vec::<String>::new(), "{path}");
        fallible += count;
    }
    assert!(fallible >= 60, "only {fallible} functions were looked at");
}

#[test]
fn a_planted_function_without_errors_is_found() {
    let planted = "\
/// Reads.
///
/// # Errors
/// Returns an error if it is none.
pub fn told(text: &str) -> Result<(), Error> {}
/// Reads.
pub fn untold<R: Read>(
    from: R,
) -> Result<(), Error> {}
/// Counts.
pub fn sure(results: &[Result<(), Error>]) -> usize {}
";
    assert_eq!(silent(planted), (vec!["untold<R: Read>".to_owned()], 2));
}
