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
