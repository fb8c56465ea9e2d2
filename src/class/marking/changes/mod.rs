//! What marking again changes: who gains, who loses, and why.

// Files in order; each uses only those before it:
//   pairing       which row of one marking is which of another
//   reason        why a mark changes
//   mark_changes  every change between two markings

mod mark_changes;
mod pairing;
mod reason;
#[cfg(test)]
mod tests;

pub use mark_changes::{Change, MarkChanges, RowChange};
