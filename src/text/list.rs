//! Several things in one sentence.

use alloc::string::String;
use alloc::vec::Vec;

/// Returns `one, two and three`.
pub(crate) fn list<I: IntoIterator<Item = S>, S: AsRef<str>>(items: I) -> String {
    let items: Vec<S> = items.into_iter().collect();
    let mut out = String::new();
    for (index, item) in items.iter().enumerate() {
        if index > 0 {
            out.push_str(if index + 1 == items.len() {
                " and "
            } else {
                ", "
            });
        }
        out.push_str(item.as_ref());
    }
    out
}
