//! A filter for programs in any language: one JSON object a line in, one JSON object a line out.
//!
//! ```text
//! $ echo '{"id": 1, "op": "formula", "formula": "CuSO4.5H2O"}' | cargo run --example jsonl
//! ```
//!
//! Replies stand in the order of the requests and are flushed whenever the input pauses. A line
//! that cannot be read gets an error reply, and the filter goes on; an empty line is skipped.

mod balance;
mod check;
mod class;
mod dehydration;
mod empirical;
mod formula;
mod json;
mod limiting;
mod lines;
mod mark;
mod marking;
mod name;
mod options;
mod policy;
mod re_mark;
mod read_sheet;
mod reply;
mod round;
mod stand_in;
mod statistics;

use std::io::{self, BufWriter, ErrorKind, Write};
use std::process::ExitCode;

use serde_json::value::RawValue;

use json::{Json, Object};
use lines::{Line, Lines};
use reply::{Failure, Reply, shown};

/// An operation's work: from the fields of the request to its result as JSON text.
type Run = fn(&Object<'_>) -> Result<Box<RawValue>, Failure>;

/// The operations that this version answers.
const OPERATIONS: [(&str, Run); 14] = [
    ("balance", balance::run),
    ("check", check::run),
    ("class", class::run),
    ("dehydration", dehydration::run),
    ("empirical", empirical::run),
    ("formula", formula::run),
    ("limiting", limiting::run),
    ("mark", mark::run),
    ("name", name::run),
    ("re_mark", re_mark::run),
    ("read_sheet", read_sheet::run),
    ("round", round::run),
    ("stand_in", stand_in::run),
    ("statistics", statistics::run),
];

fn main() -> ExitCode {
    match filter(io::stdin(), io::stdout()) {
        Ok(()) => ExitCode::SUCCESS,
        // Whoever read the replies has read enough.
        Err(error) if error.kind() == ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("jsonl: {error}");
            ExitCode::FAILURE
        }
    }
}

fn filter(input: impl io::Read, output: impl Write) -> io::Result<()> {
    let mut lines = Lines::new(input, lines::LONGEST);
    let mut output = BufWriter::with_capacity(1 << 16, output);
    let mut first = true;
    while let Some(line) = lines.next(|| output.flush())? {
        match line {
            Line::TooLong => write(
                &mut output,
                RawValue::NULL,
                Err(Failure::new(
                    "too_large",
                    format!("the line is longer than {} bytes", lines::LONGEST),
                )
                .help("send smaller requests, one a line")),
            )?,
            Line::Whole(bytes) => {
                // A byte-order mark at the start of a file says nothing.
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
        Err(failure) => return write(output, RawValue::NULL, Err(failure)),
    };
    let outcome = line.inspect(json::DEEPEST).and_then(|()| run(&request));
    let id = match outcome {
        Ok(_) => request.id(),
        // What is wrong with the line may be its `id`, which then stands for nothing.
        Err(_) => request
            .id()
            .filter(|id| id.inspect(json::DEEPEST - 1).is_ok()),
    };
    let raw = id.map_or(RawValue::NULL, Json::raw);
    if raw.get().contains('\r') {
        // Between tokens it is only white space, but some readers of lines end a line there.
        let plain = RawValue::from_string(raw.get().replace('\r', " "))?;
        return write(output, &plain, outcome);
    }
    write(output, raw, outcome)
}

fn write(
    output: &mut impl Write,
    id: &RawValue,
    outcome: Result<Box<RawValue>, Failure>,
) -> io::Result<()> {
    serde_json::to_writer(&mut *output, &Reply::new(id, outcome))?;
    output.write_all(b"\n")
}

fn run(request: &Object<'_>) -> Result<Box<RawValue>, Failure> {
    let op = request.required("op", Json::text)?;
    if let Some((_, run)) = OPERATIONS.iter().find(|(name, _)| *name == op) {
        return run(request);
    }
    let names = OPERATIONS.map(|(name, _)| name);
    let answered = format!("this version answers {}", json::quoted(&names));
    Err(Failure::new(
        "unknown_op",
        format!("there is no operation `{}` here", shown(&op)),
    )
    .within("op")
    .help(match json::likely(&op, &names) {
        Some(name) => format!("did you mean `{name}`? {answered}"),
        None => answered,
    }))
}
