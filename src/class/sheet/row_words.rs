//! The names and words of a row, one after the other in one text.

use alloc::string::String;

/// What a row says in words. The order is that in the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RowWord {
    Bench,
    Pupil,
    Balance,
    Period,
    Issued,
    Notes,
}

/// The number of kinds of words.
const KINDS: usize = RowWord::Notes as usize + 1;

/// The names and words of a row. Those that are not given are empty. A row is kept a hundred thousand
/// times, so they share one piece of memory.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub(super) struct RowWords {
    text: String,
    /// Where each of them ends in the text.
    ends: [u32; KINDS],
}

impl RowWords {
    /// Lets go of the words of another row.
    pub(super) fn clear(&mut self) {
        self.text.clear();
    }

    /// Adds the words that `write` writes after the others. All must be given, in order.
    #[inline]
    pub(super) fn add(&mut self, word: RowWord, write: impl FnOnce(&mut String)) {
        write(&mut self.text);
        // No row is longer than 16 MiB.
        let end = u32::try_from(self.text.len()).unwrap_or(u32::MAX);
        if let Some(own) = self.ends.get_mut(word as usize) {
            *own = end;
        }
    }

    #[inline]
    pub(super) fn get(&self, word: RowWord) -> &str {
        let end = |index: usize| self.ends.get(index).map_or(0, |end| *end as usize);
        let before = (word as usize).checked_sub(1);
        let range = before.map_or(0, end)..end(word as usize);
        self.text.get(range).unwrap_or_default()
    }
}
