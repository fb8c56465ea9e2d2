//! Blocks as Markdown. Tables have pipes, which most programs that show Markdown can read.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::block::{AnswerPlace, Block, Item, LETTERS, Lead};
use super::table::{Align, TextTable};
use super::working::as_table;
use crate::text::{visible_line, with_no_break_spaces};

/// A line to write on.
const WRITE_LINE: &str = "\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_";

/// Draws the blocks with an empty line between them.
pub(super) fn write(blocks: &[Block], out: &mut impl Write) -> fmt::Result {
    for (index, block) in blocks.iter().enumerate() {
        if index > 0 {
            out.write_str("\n")?;
        }
        match block {
            Block::Title(title) => writeln!(out, "# {}", escaped(title))?,
            Block::Section(title) => writeln!(out, "## {}", escaped(title))?,
            Block::Paragraph(text) => writeln!(out, "{}", prose(text))?,
            Block::List(items) => {
                for item in items {
                    self::item(item, out)?;
                }
            }
            Block::Table(table) => self::table(table, out)?,
            Block::Working(working) => self::table(&as_table(working), out)?,
            Block::Command(command) => writeln!(out, "    {}", visible_line(command))?,
            Block::Bench(title, blocks) => {
                writeln!(out, "## {}\n", escaped(title))?;
                write(blocks, out)?;
            }
            Block::Card(title, blocks) => {
                writeln!(out, "### {}\n", escaped(title))?;
                write(blocks, out)?;
            }
            Block::Picture(picture) => {
                writeln!(out, "![{}]({})", escaped(&picture.words), picture.file)?;
            }
            Block::Problem(title, blocks) => {
                writeln!(out, "### {}\n", escaped(title))?;
                write(blocks, out)?;
            }
            Block::Options(options) => {
                for (letter, option) in LETTERS.zip(options) {
                    writeln!(out, "- **{letter}** {}", prose(option))?;
                }
            }
            Block::WriteLine(name, unit) => {
                writeln!(
                    out,
                    "{}",
                    format!("{name}: {WRITE_LINE} {}", prose(unit)).trim_end()
                )?;
            }
            Block::AnswerGrid(places) => grid(places, out)?,
            Block::NewPage => writeln!(out, "---")?,
            Block::Framed(title, blocks) => {
                let mut inner = format!("**{}**\n\n", escaped(title));
                write(blocks, &mut inner)?;
                for line in inner.lines() {
                    writeln!(out, "{}", format!("> {line}").trim_end())?;
                }
            }
        }
    }
    Ok(())
}

fn item(item: &Item, out: &mut impl Write) -> fmt::Result {
    let text = prose(&item.text);
    match &item.lead {
        Lead::Dash => writeln!(out, "- {text}"),
        Lead::Warning => writeln!(out, "- **Warning:** {text}"),
        Lead::Marks(marks) => writeln!(out, "- **\\[{}\\]** {text}", escaped(marks)),
    }
}

fn row(out: &mut dyn Write, cells: &[String]) -> fmt::Result {
    out.write_str("|")?;
    for cell in cells {
        write!(out, " {cell} |")?;
    }
    writeln!(out)
}

fn grid(places: &[AnswerPlace], out: &mut impl Write) -> fmt::Result {
    writeln!(out, "**{}**\n", AnswerPlace::CAPTION)?;
    row(out, &AnswerPlace::HEADING.map(String::from))?;
    row(out, &[":---", ":---"].map(String::from))?;
    for place in places {
        let boxes = place.letters().map(|letter| format!("\\[ \\] {letter} "));
        let answer = match place.options {
            0 => format!("{WRITE_LINE} {}", escaped(&place.unit)),
            _ => boxes.collect(),
        };
        row(out, &[escaped(&place.name), answer.trim_end().into()])?;
    }
    Ok(())
}

fn table(table: &TextTable, out: &mut impl Write) -> fmt::Result {
    let columns = table.visible();
    let names: Vec<String> = columns.iter().map(|c| escaped(c.name)).collect();
    row(out, &names)?;
    let rule = |align| match align {
        Align::Left => ":---",
        Align::Right => "---:",
    };
    let rules: Vec<String> = columns.iter().map(|c| rule(c.align).into()).collect();
    row(out, &rules)?;
    for cells in table.rows() {
        let cell = |index: usize| cells.get(index).map_or_else(String::new, |c| escaped(c));
        let cells: Vec<String> = columns.iter().map(|c| cell(c.index)).collect();
        row(out, &cells)?;
    }
    Ok(())
}

/// An escaped text that is wrapped wherever it is shown.
fn prose(text: &str) -> String {
    escaped_line(&with_no_break_spaces(text))
}

/// A text as it is: each sign that Markdown would read as its own has a backslash before it.
fn escaped(text: &str) -> String {
    escaped_line(&visible_line(text))
}

fn escaped_line(line: &str) -> String {
    let mut out = String::with_capacity(line.len());
    let digits = line.bytes().take_while(u8::is_ascii_digit).count();
    for (index, c) in line.char_indices() {
        let begins_a_list = index == 0 && matches!(c, '+' | '-' | '=' | ':');
        let ends_a_number = index > 0 && index == digits && matches!(c, '.' | ')');
        let rest = line.get(index + 1..).unwrap_or_default();
        let numbers = ends_a_number && (rest.is_empty() || rest.starts_with(' '));
        // Many programs make a link of an address that is not in brackets, too.
        let begins_a_link = match c {
            ':' => rest.starts_with("//"),
            '.' => ends_with_www(line.get(..index).unwrap_or_default()),
            _ => false,
        };
        let is_sign = "\\`*_{}[]<>#|~&$^".contains(c);
        if begins_a_list || numbers || begins_a_link || is_sign {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

fn ends_with_www(text: &str) -> bool {
    let last = text.get(text.len().saturating_sub(3)..);
    last.is_some_and(|last| last.eq_ignore_ascii_case("www"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn drawn(blocks: &[Block], expected: &str) {
        let mut out = String::new();
        write(blocks, &mut out).unwrap();
        assert_eq!(out, expected);
    }

    #[test]
    fn a_table_stays_a_table() {
        let mut table = TextTable::new("").left(["Bench", "Empty"]).right(["x"]);
        table.row(["A|B *x*\n_y_".into(), String::new(), "7.00".into()]);
        drawn(
            &[Block::Table(table)],
            "| Bench | x |\n| :--- | ---: |\n| A\\|B \\*x\\* \\_y\\_ | 7.00 |\n",
        );
    }

    #[test]
    fn formulas_and_numbers_stay_as_they_are() {
        for text in [
            "MgSO4·7H2O",
            "2.308 g − 1.127 g = 1.181 g",
            "0.10",
            "100 % × 3 / 4",
        ] {
            assert_eq!(escaped(text), text);
        }
        assert_eq!(escaped("K3[Fe(CN)6]"), "K3\\[Fe(CN)6\\]");
    }

    #[test]
    fn nothing_in_a_name_is_read_as_markdown() {
        let blocks = [
            Block::Title("# a".into()),
            Block::section("<b>\n## x"),
            Block::paragraph("1. one"),
            Block::dashes(["- two", "a\\|b", "`c` &amp; [d](e)"]),
        ];
        drawn(
            &blocks,
            "# \\# a\n\n## \\<b\\> \\#\\# x\n\n1\\. one\n\n- \\- two\n- a\\\\\\|b\n\
             - \\`c\\` \\&amp; \\[d\\](e)\n",
        );
    }

    #[test]
    fn an_address_is_no_link() {
        for (text, expected) in [
            ("https://a.example/b", "https\\://a.example/b"),
            ("see WWW.a.example", "see WWW\\.a.example"),
            ("www", "www"),
            ("1 : 7.00", "1 : 7.00"),
            ("ß.x", "ß.x"),
        ] {
            assert_eq!(escaped(text), expected);
        }
    }

    #[test]
    fn marks_and_warnings_lead() {
        let items = [
            Item::warning("warm"),
            Item {
                lead: Lead::Marks("1/2".into()),
                text: "mole ratio 7.0: correct".into(),
            },
        ];
        drawn(
            &[Block::List(items.into())],
            "- **Warning:** warm\n- **\\[1/2\\]** mole ratio 7.0: correct\n",
        );
    }

    #[test]
    fn problems_have_places_for_answers() {
        drawn(
            &Block::problems(),
            &[
                "> **Weights**\n>\n> H 1.008\n\n### Problem 1\n\nHow much H2O?\n\n- **A** 1\u{A0}g\n- **B** 2\u{A0}g\n\n\
                 ### Problem 2\n\nAnswer: ", WRITE_LINE, " g\n\n**Your answers**\n\n| Problem | Answer |\n\
                 | :--- | :--- |\n| 1 | \\[ \\] A \\[ \\] B |\n| 2 | ", WRITE_LINE, " g |\n",
            ]
            .concat(),
        );
    }
}
