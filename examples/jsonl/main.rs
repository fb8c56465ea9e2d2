//! A filter for programs in any language: one JSON object a line in, one JSON object a line out.
//!
//! ```text
//! $ echo '{"id": 1, "op": "formula", "formula": "CuSO4.5H2O"}' | cargo run --example jsonl
//! ```
//!
//! Replies are in the order of the requests and are flushed whenever the input pauses. A line that
//! cannot be read gets an error reply, and the filter goes on. An empty line is skipped.

#![cfg_attr(fuzzing, no_main)]

extern crate alloc;

mod balance;
mod check;
mod class;
mod dehydration;
mod empirical;
mod exercise;
mod factor;
mod formula;
#[cfg(fuzzing)]
#[path = "../../tests/fuzz/fuzz_targets/filter.rs"]
mod fuzz;
mod heat;
mod identify;
mod json;
#[path = "../shared/json.rs"]
mod json_text;
mod limiting;
mod lines;
mod mark;
mod marking;
mod mixture;
mod name;
mod numbers;
mod options;
mod plan;
mod policy;
mod re_mark;
mod read_sheet;
mod reply;
mod round;
mod stages;
mod stand_in;
mod statistics;
mod suggest;

use std::io::{self, BufWriter, ErrorKind, IsTerminal, Write};
use std::process::ExitCode;

use clap::Command;

use json::{Json, Object};
use json_text::visible_json;
use lines::{Line, Lines};
use reply::{Failure, Reply, send, shorten};

/// A function that answers a request.
type Operation = fn(&Object<'_>) -> Result<Reply, Failure>;

/// The operations that this version answers.
const OPERATIONS: [(&str, Operation); 21] = [
    ("balance", balance::run),
    ("check", check::run),
    ("class", class::run),
    ("dehydration", dehydration::run),
    ("empirical", empirical::run),
    ("exercise", exercise::run),
    ("factor", factor::run),
    ("formula", formula::run),
    ("heat", heat::run),
    ("identify", identify::run),
    ("limiting", limiting::run),
    ("mark", mark::run),
    ("mixture", mixture::run),
    ("name", name::run),
    ("plan", plan::run),
    ("re_mark", re_mark::run),
    ("read_sheet", read_sheet::run),
    ("round", round::run),
    ("stages", stages::run),
    ("stand_in", stand_in::run),
    ("statistics", statistics::run),
];

/// The file with every operation, its fields, and lines to try.
const DOCUMENTATION: &str = "examples/jsonl/README.md";

/// A request for somebody who has none yet.
const EXAMPLE: &str = r#"{"id": 1, "op": "formula", "formula": "CuSO4.5H2O"}"#;

fn main() -> ExitCode {
    // Prints the help, the version, or why an argument is refused.
    command().get_matches();
    let input = io::stdin();
    if input.is_terminal() {
        // Nothing is lost if this cannot be shown.
        let _ = writeln!(
            io::stderr(),
            "jsonl waits for requests: one JSON object on a line, such as\n{EXAMPLE}\n\
             `jsonl --help` says more. The input ends with Ctrl-D (Ctrl-Z on Windows)."
        );
    }
    match filter(input, io::stdout()) {
        Ok(()) => ExitCode::SUCCESS,
        // The reader of the replies has stopped reading.
        Err(error) if error.kind() == ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("jsonl: {error}");
            ExitCode::FAILURE
        }
    }
}

/// The arguments, of which there are none but `--help` and `--version`.
fn command() -> Command {
    let names = OPERATIONS.map(|(name, _)| name).join(", ");
    Command::new("jsonl")
        .version(env!("CARGO_PKG_VERSION"))
        .about(
            "A filter for programs in any language. It reads one JSON object from each line of standard \
             input, and writes one reply for each to standard output, in the same order.",
        )
        .override_usage("jsonl < requests > replies")
        .after_help(format!(
            "Example:\n  echo '{EXAMPLE}' | jsonl\n\nOperations (`op`):\n  {names}\n\n\
             Every operation with its fields, its reply and lines to try: {DOCUMENTATION}\n\
             in the package effloresce."
        ))
}

fn filter(input: impl io::Read, output: impl Write) -> io::Result<()> {
    let mut lines = Lines::new(input, lines::LONGEST);
    let mut output = BufWriter::with_capacity(1 << 16, output);
    let mut first = true;
    while let Some(line) = lines.next(|| output.flush())? {
        match line {
            Line::TooLong => {
                let message = format!("the line is longer than {} bytes", lines::LONGEST);
                let failure = Failure::new("too_large", message)
                    .help("send smaller requests, each on its own line");
                send(&mut output, "null", 0, Err(failure))?;
            }
            Line::Whole(bytes) => {
                // A byte-order mark may begin the first line of a file.
                let bytes = match bytes.strip_prefix("\u{FEFF}".as_bytes()) {
                    Some(rest) if first => rest,
                    _ => bytes,
                };
                if !bytes.trim_ascii().is_empty() {
                    answer(bytes, &mut output)?;
                }
            }
        }
        first = false;
    }
    output.flush()
}

fn answer(line: &[u8], output: &mut impl Write) -> io::Result<()> {
    let read = std::str::from_utf8(line)
        .map_err(|error| {
            Failure::new("bad_json", format!("the line is not UTF-8: {error}"))
                .help("write the line in UTF-8")
        })
        .and_then(Json::read)
        .and_then(|line| Ok((line, line.object()?)));
    let (line, request) = match read {
        Ok(read) => read,
        Err(failure) => return send(output, "null", 0, Err(failure)),
    };
    // A fault may be in the `id` itself, which is then not repeated.
    let id = request
        .id()
        .filter(|id| id.check_keys_and_depth(json::MAX_DEPTH - 1).is_ok());
    // Some readers of lines end a line at a carriage return. In JSON it is only white space.
    let sent = id.map_or("null", Json::raw).replace('\r', " ");
    let id = visible_json(&sent);
    let request_length = line.raw().len();
    if id.len() > sent.len() + reply::MOST_ESCAPED {
        let message = "the `id` has too many characters that a reply writes as escapes";
        let failure = Failure::new("too_large", message).within("id");
        let failure = failure.help("send a shorter `id`, or one without hidden characters");
        return send(output, "null", request_length, Err(failure));
    }
    let outcome = line
        .check_keys_and_depth(json::MAX_DEPTH)
        .and_then(|()| run(&request));
    send(output, &id, request_length, outcome)
}

fn run(request: &Object<'_>) -> Result<Reply, Failure> {
    let names = OPERATIONS.map(|(name, _)| name);
    let op = request.required("op", Json::text);
    let op =
        op.map_err(|failure| failure.help(suggest::help("", &names, "this version answers")))?;
    if let Some((_, run)) = OPERATIONS.iter().find(|(name, _)| *name == op) {
        return run(request);
    }
    let message = format!("there is no operation `{}` here", shorten(&op));
    Err(Failure::new("unknown_op", message)
        .within("op")
        .help(suggest::help(&op, &names, "this version answers")))
}
