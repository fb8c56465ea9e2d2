//! What a teacher reads and hands back: working, the key for a class as plain text or as Markdown,
//! a gradebook, a strip of feedback for each pupil, who changes when a class is marked again.
//!
//! Texts are written into a [`core::fmt::Write`], so a `String` will do; the gradebook, which is
//! bytes, into a [`std::io::Write`].

mod bench;
mod block;
mod changes;
mod during;
mod feedback;
mod gradebook;
mod key;
mod markdown;
mod picture;
mod plain;
mod table;
mod working;

pub use changes::{write_changes, write_changes_markdown};
pub use during::write_during;
pub use feedback::write_feedback;
pub use gradebook::write_marks;
pub use key::{write_key, write_key_markdown};
pub use working::write_working;
