//! The paper for a lesson as texts and as files.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::{self, Write};
use std::io;

use super::super::block::Block;
use super::super::{html, markdown, plain};
use super::lesson_paper::LessonPaper;
use crate::text::Note;

/// One file of the paper for a lesson.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaperFile {
    name: &'static str,
    bytes: Vec<u8>,
}

impl PaperFile {
    /// The name of the file.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.name
    }

    /// The content of the file.
    #[must_use]
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    fn text(
        name: &'static str,
        write: impl FnOnce(&mut String) -> fmt::Result,
    ) -> io::Result<Self> {
        let mut text = String::new();
        write(&mut text).map_err(io::Error::other)?;
        let bytes = text.into_bytes();
        Ok(PaperFile { name, bytes })
    }
}

impl LessonPaper {
    /// Writes the plan for the teacher as plain text. The cautions come first.
    ///
    /// # Errors
    /// Returns an error if `out` fails.
    pub fn write_plan(&self, out: &mut impl Write) -> fmt::Result {
        plain::write(&self.plan_blocks(None), out)
    }

    /// Returns all files: the plan and the answers for the teacher, the pages for pupils, each as Markdown
    /// and as HTML that needs no other file, the picture of the plan, and the empty class sheet as CSV.
    ///
    /// There is only the plan if loss on heating does not give the x of the salt, if nothing says whether it does, or if
    /// a usual crucible does not hold the samples. The plan says why.
    ///
    /// # Errors
    /// Returns an error if the salt must not be heated in a school, or if a file cannot be written in memory.
    pub fn files(&self) -> io::Result<Vec<PaperFile>> {
        if self.is_forbidden() {
            let cautions = self.safety.cautions();
            let why = cautions.first().map_or("", Note::text);
            let text = format!("{why} So there is no paper for it; choose another salt");
            return Err(io::Error::new(io::ErrorKind::Unsupported, text));
        }
        let plan = self.plan_blocks(self.picture());
        let mut pages = Vec::from([("plan.md", "plan.html", &plan)]);
        let (pupils, key) = (self.pupil_blocks(), self.key_blocks());
        let has_pages = self.no_pages().is_none();
        if has_pages {
            pages.push(("pupils.md", "pupils.html", &pupils));
            pages.push(("key.md", "key.html", &key));
        }
        let mut files = Vec::new();
        for (markdown_name, html_name, blocks) in pages {
            files.push(PaperFile::text(markdown_name, |out| {
                markdown::write(blocks, out)
            })?);
            files.push(PaperFile::text(html_name, |out| html::write(blocks, out))?);
        }
        let pictures = plan.iter().filter_map(|block| match block {
            Block::Picture(picture) => Some(picture),
            _ => None,
        });
        files.extend(pictures.map(|picture| PaperFile {
            name: picture.file,
            bytes: picture.as_file().into_bytes(),
        }));
        if has_pages {
            files.push(PaperFile {
                name: "class_sheet.csv",
                bytes: self.empty_sheet()?,
            });
        }
        Ok(files)
    }
}
