//! The paper for a lesson: the plan for the teacher, what pupils get, the answers, and an empty sheet.

// Files in order; each uses only those before it:
//   lesson_paper  a plan, and how the lesson is run
//   teacher_plan  the plan for the teacher
//   bench_cards   the blank table, and a card for each bench
//   questions     questions before the lesson, and their answers
//   pupil_pages   all that pupils get, and the answers for the teacher
//   empty_sheet   the class sheet without readings
//   files         everything, as files

mod bench_cards;
mod empty_sheet;
mod files;
mod lesson_paper;
mod pupil_pages;
mod questions;
mod teacher_plan;

pub use files::PaperFile;
pub use lesson_paper::{BalanceTime, LessonPaper};
