//! The programs for teachers, run as a teacher runs them, and the files that they read and write.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

use crate::program::built;

/// What a program printed, and how it ended.
pub(crate) struct Ran {
    program: &'static str,
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Ran {
    pub(crate) fn of(program: &'static str, output: Output) -> Ran {
        Ran {
            program,
            status: output.status.code().expect("it ends by itself"),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    /// The output of a run that succeeded and printed nothing on standard error.
    #[track_caller]
    pub(crate) fn quiet(self) -> String {
        assert_eq!((self.status, self.err.as_str()), (0, ""));
        self.out
    }

    /// Asserts that the run failed with one plain sentence on standard error.
    #[track_caller]
    pub(crate) fn complains(&self, with: &str) {
        assert_ne!(self.status, 0, "{}", self.err);
        let lines: Vec<&str> = self.err.lines().collect();
        let [line] = lines[..] else {
            panic!("not one sentence: {:?}", self.err);
        };
        let sentence = line.strip_prefix(self.program).expect(line);
        let sentence = sentence.strip_prefix(": ").expect(line);
        assert!(sentence.contains(with), "{sentence}");
        for jargon in ["Err", "Some(", "None", "panicked", "src/", "::", "{", "}"] {
            assert!(!sentence.contains(jargon), "{sentence}");
        }
    }
}

pub(crate) fn run_program(program: &'static str, arguments: &[&str]) -> Ran {
    let output = Command::new(built(program, program))
        .args(arguments)
        .output()
        .expect("the program starts");
    Ran::of(program, output)
}

/// The words of a text, each after one space.
pub(crate) fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<&str>>().join(" ")
}

/// Writes a sheet to a file.
pub(crate) fn sheet(name: &str, text: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::write(&path, text).unwrap();
    path
}

/// An empty folder for one test.
pub(crate) fn folder(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&path);
    fs::create_dir_all(&path).unwrap();
    path
}

pub(crate) fn names_in(folder: &PathBuf) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}
