//! Texts for teachers and pupils: working, the key for a class as plain text or Markdown, the report on a class
//! as a page of HTML, a page for the wall, a gradebook, a strip of feedback for each pupil, the changes when a
//! class is marked again, the paper for a lesson, and problem sets with their keys.
//!
//! The names in a class sheet are written by others. Every text shows them with [`visible`](crate::visible),
//! so that none can colour a terminal or write lines of its own.
//!
//! Texts are written into a [`core::fmt::Write`], such as a `String`. The gradebook is bytes and is
//! written into a [`std::io::Write`].
//!
//! # The picture of a plan
//!
//! The paper for a lesson shows how certain x is, by the mass of hydrate and the balance. This is the picture for
//! MgSO4·7H2O on a balance that shows 0.01 g:
//!
#![doc = include_str!("plan.svg")]

// Files in order; each uses only those before it:
//   numbers    numbers as the texts show them
//   row        a row's name, its marks, what each answer earns
//   wrap       texts on one line, and paragraphs broken at spaces
//   table      a table, and its columns in plain text
//   working    steps of working as lines of text
//   block      the parts of a text, before it is drawn
//   plain      the parts drawn as plain text
//   markdown   the parts drawn as Markdown
//   html       the parts drawn as a page of HTML
//   latex_text  texts and formulas for LaTeX
//   latex_table the widths of columns for LaTeX
//   latex      the parts drawn as a document of LaTeX
//   bench_names  the names of the benches, or numbers that name nobody
//   picture    pictures of a plan and of a class
//   class_pictures  those of a class, as blocks
//   faults     what may have gone wrong at a bench
//   mistyped   the benches of which a reading may be mistyped
//   overview   the class as a whole, in the key
//   bench      one bench in the key
//   key        the key for a class
//   see_first  whom to see first
//   class_report  the report on a class, as a page
//   wall       the page for the wall, without pupils
//   changes    whose marks change when a class is marked again
//   during     what each bench should do now
//   strips     a strip for each pupil
//   gradebook  the marks as CSV
//   open_answers  a file for the marks by hand, to be filled in
//   identification  the hydrates that an unknown may be
//   lesson     the paper for a lesson that was planned
//   exercise   the paper of a problem set

mod bench;
mod bench_names;
mod block;
mod changes;
mod class_pictures;
mod class_report;
mod during;
mod exercise;
mod faults;
mod gradebook;
mod html;
mod identification;
mod key;
mod latex;
mod latex_table;
mod latex_text;
mod lesson;
mod markdown;
mod mistyped;
mod numbers;
mod open_answers;
mod overview;
#[cfg(not(target_family = "wasm"))]
mod picture;
mod plain;
mod row;
mod see_first;
mod strips;
mod table;
mod wall;
mod working;
mod wrap;

pub use changes::{write_changes, write_changes_markdown};
pub use class_report::write_report_html;
pub use during::write_during;
pub use exercise::{PaperFormat, ProblemPaper};
pub use gradebook::write_marks;
pub use identification::write_identification;
pub use key::{write_key, write_key_markdown};
pub use latex_text::LatexFormulas;
pub use lesson::{BalanceTime, LessonPaper, PaperFile};
pub use open_answers::write_open_answers;
pub use strips::{write_feedback, write_feedback_html};
pub use wall::write_wall_page;
pub use working::write_working;
