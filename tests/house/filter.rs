//! The example program `jsonl`, run as a program.

use std::io::Write;
use std::process::{Child, Command, Stdio};
use std::thread;

use serde_json::Value;

use crate::program::built;

pub(crate) fn start() -> Child {
    Command::new(built("jsonl", "jsonl"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the filter starts")
}

/// The replies of the filter to this input, one a line.
#[track_caller]
pub(crate) fn answers(input: impl Into<Vec<u8>>) -> Vec<String> {
    let input = input.into();
    let mut child = start();
    let mut stdin = child.stdin.take().expect("its input is ours");
    // Input and output are handled together, because a pipe holds less than the whole input.
    let writer = thread::spawn(move || stdin.write_all(&input));
    let output = child.wait_with_output().expect("the filter ends");
    writer
        .join()
        .expect("the writer ends")
        .expect("the filter reads its input to the end");
    assert!(output.status.success(), "exit: {}", output.status);
    assert_eq!(
        String::from_utf8_lossy(&output.stderr),
        "",
        "standard error is silent"
    );
    let text = String::from_utf8(output.stdout).expect("replies are UTF-8");
    assert!(text.is_empty() || text.ends_with('\n'));
    text.lines().map(str::to_owned).collect()
}

#[track_caller]
pub(crate) fn replies(input: impl Into<Vec<u8>>) -> Vec<Value> {
    answers(input)
        .iter()
        .map(|line| serde_json::from_str(line).expect("a reply is JSON"))
        .collect()
}

#[track_caller]
pub(crate) fn reply(request: &Value) -> Value {
    let mut replies = replies(format!("{request}\n"));
    assert_eq!(replies.len(), 1);
    replies.remove(0)
}

/// The exit status, standard output and standard error of the filter with one argument.
fn with_argument(argument: &str) -> (Option<i32>, String, String) {
    let mut command = Command::new(built("jsonl", "jsonl"));
    let output = command.arg(argument).stdin(Stdio::null()).output();
    let output = output.expect("the filter starts");
    let text = |bytes| String::from_utf8(bytes).expect("text is UTF-8");
    (
        output.status.code(),
        text(output.stdout),
        text(output.stderr),
    )
}

#[test]
fn it_says_what_it_is() {
    let (status, help, complaint) = with_argument("--help");
    assert_eq!((status, &*complaint), (Some(0), ""));
    for part in [
        "reads one JSON object from each line",
        "examples/jsonl/README.md",
        "read_sheet",
    ] {
        assert!(help.contains(part), "{part}: {help}");
    }
    // The example in it is a line that is answered.
    let (_, rest) = help.split_once("echo '").expect("an example");
    let (line, _) = rest.split_once('\'').expect("a quoted line");
    assert_eq!(replies(line)[0]["result"]["molar_mass"], "249.677");

    let version = format!("jsonl {}\n", env!("CARGO_PKG_VERSION"));
    assert_eq!(
        with_argument("--version"),
        (Some(0), version, String::new())
    );
    for unknown in ["--strict", "requests.jsonl"] {
        let (status, out, complaint) = with_argument(unknown);
        assert_eq!((status, &*out), (Some(2), ""));
        assert!(
            complaint.contains(unknown) && complaint.contains("--help"),
            "{complaint}"
        );
    }
}

#[cfg(target_os = "linux")]
#[test]
fn on_a_terminal_it_says_what_it_waits_for() {
    // `script` runs a program on a terminal of its own.
    let program = built("jsonl", "jsonl");
    let program = program.to_str().expect("a path in UTF-8");
    let mut command = Command::new("script");
    let command = command
        .args(["-qec", program, "/dev/null"])
        .stdin(Stdio::null());
    let output = command.output().expect("`script` of util-linux starts");
    let shown = String::from_utf8_lossy(&output.stdout);
    assert!(
        shown.starts_with("jsonl waits for requests: one JSON object on a line"),
        "{shown}"
    );
    assert!(shown.contains("jsonl --help"), "{shown}");
}
