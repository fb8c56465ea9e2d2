//! The example program `jsonl`, run as a program.

use std::env;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::SystemTime;

use serde_json::Value;

/// The example program, which `cargo test` builds before it runs any test.
fn program() -> PathBuf {
    let mut path = env::current_exe().expect("this test program has a path");
    path.pop();
    if path.ends_with("deps") {
        path.pop();
    }
    path.push("examples");
    path.push(format!("jsonl{}", env::consts::EXE_SUFFIX));
    assert!(
        path.is_file(),
        "there is no {}: run `cargo test`, or `cargo build --example jsonl` first",
        path.display()
    );
    let built = changed(&path);
    let sources = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    assert!(
        ["src", "examples/jsonl"]
            .iter()
            .all(|folder| newest(&sources.join(folder)) <= built),
        "{} is older than its source: run `cargo test`, or `cargo build --example jsonl` first",
        path.display()
    );
    path
}

fn changed(path: &Path) -> SystemTime {
    let metadata = path.metadata().expect("a file that is there");
    metadata.modified().expect("files have times")
}

fn newest(folder: &Path) -> SystemTime {
    let entries = folder.read_dir().expect("a folder of sources");
    entries
        .map(|entry| entry.expect("an entry of a folder").path())
        // Unit tests are no part of the program, so changing them does not build it anew.
        .filter(|path| path.file_stem().is_none_or(|name| name != "tests"))
        .map(|path| {
            if path.is_dir() {
                newest(&path)
            } else {
                changed(&path)
            }
        })
        .max()
        .unwrap_or(SystemTime::UNIX_EPOCH)
}

pub(crate) fn start() -> Child {
    Command::new(program())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the filter starts")
}

/// All that the filter answers to this input, a line each.
#[track_caller]
pub(crate) fn answers(input: impl Into<Vec<u8>>) -> Vec<String> {
    let input = input.into();
    let mut child = start();
    let mut stdin = child.stdin.take().expect("its input is ours");
    // Both ends at once: a pipe holds less than the whole input.
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
