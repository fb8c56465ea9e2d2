//! The parts of a line that are written from right to left.

use alloc::vec::Vec;

/// Words of a line that are written in one direction.
pub(crate) struct DirectionRun<'a> {
    pub(crate) text: &'a str,
    pub(crate) from_right_to_left: bool,
}

/// Cuts a line where its direction changes. What is written from right to left does not turn what follows it, not even
/// a mark of the sentence.
pub(crate) fn direction_runs(line: &str) -> Vec<DirectionRun<'_>> {
    let line = line.trim_end();
    let words: Vec<&str> = line.split_inclusive([' ', '\u{A0}']).collect();
    let mut runs = Vec::new();
    let (mut written, mut end) = (0, 0);
    for part in words.chunk_by(|one, next| is_turned(one) == is_turned(next)) {
        end += part.iter().map(|word| word.len()).sum::<usize>();
        let from_right_to_left = part.first().is_some_and(|word| is_turned(word));
        let text = line.get(written..end).unwrap_or_default();
        let text = match from_right_to_left {
            true => text.trim_end_matches([' ', '\u{A0}', ',', ';', ':', '.']),
            false => text,
        };
        written += text.len();
        runs.push(DirectionRun {
            text,
            from_right_to_left,
        });
    }
    let text = line.get(written..).unwrap_or_default();
    if !text.is_empty() {
        runs.push(DirectionRun {
            text,
            from_right_to_left: false,
        });
    }
    runs
}

fn is_turned(word: &str) -> bool {
    word.contains(runs_from_right_to_left)
}

/// Whether a letter is written from right to left: the ranges that Unicode keeps for such scripts
/// (`DerivedBidiClass.txt` of the Unicode Character Database, the classes R and AL).
fn runs_from_right_to_left(c: char) -> bool {
    matches!(
        u32::from(c),
        0x590..=0x8FF | 0xFB1D..=0xFDFF | 0xFE70..=0xFEFF | 0x1_0800..=0x1_0FFF | 0x1_E800..=0x1_EFFF
    )
}
