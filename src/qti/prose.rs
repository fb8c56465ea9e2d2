//! Texts for people as XHTML, with their formulas and equations as `MathML`.

use alloc::string::String;
use alloc::vec::Vec;
use std::io;

use super::mathml::{write_equation, write_expression, write_formula};
use super::xml::{Attribute, Xml};
use crate::exercise::{PromptBlock, PromptTable, as_printed, prompt_blocks};
use crate::formula::formula_in;
use crate::reaction::Equation;
use crate::text::{direction_runs, with_no_break_spaces};
use crate::working::{Expression, Step};

/// Writes the paragraphs, lists and tables of a text.
pub(super) fn write_blocks(xml: &mut Xml, text: &str) -> io::Result<()> {
    for block in prompt_blocks(text) {
        match block {
            PromptBlock::Paragraph(text) => write_line("p", &[], &text, xml)?,
            PromptBlock::Dashes(items) => xml.element("ul", &[], |xml| {
                let mut items = items.iter();
                items.try_for_each(|item| write_line("li", &[], item, xml))
            })?,
            PromptBlock::Table(table) => write_table(&table, xml)?,
        }
        xml.new_line()?;
    }
    Ok(())
}

/// Writes a text as a part of a line.
pub(super) fn write_inline(xml: &mut Xml, text: &str) -> io::Result<()> {
    write_printed(xml, &as_printed(text))
}

/// Writes the numbers and the result of a step of working.
pub(super) fn write_step(xml: &mut Xml, step: &Step) -> io::Result<()> {
    let mut step = step.clone();
    step.rewrite(as_printed);
    match Expression::of_step(&step) {
        Some(expression) => write_expression(xml, &step.equation(), &expression),
        None => write_printed(xml, &step.equation()),
    }
}

fn write_line(
    name: &str,
    attributes: &[Attribute<'_>],
    line: &str,
    xml: &mut Xml,
) -> io::Result<()> {
    xml.element(name, attributes, |xml| write_printed(xml, line))
}

/// Writes a class sheet. The first cell of each row names it.
fn write_table(table: &PromptTable, xml: &mut Xml) -> io::Result<()> {
    xml.element("table", &[], |xml| {
        xml.leaf("caption", &[], PromptTable::CAPTION)?;
        xml.element("thead", &[], |xml| {
            xml.element("tr", &[], |xml| {
                let mut columns = table.columns.iter();
                columns.try_for_each(|column| {
                    write_line("th", &[("scope", "col")], &column.heading, xml)
                })
            })
        })?;
        xml.element("tbody", &[], |xml| {
            let mut rows = table.rows.iter();
            rows.try_for_each(|row| write_row(table, row, xml))
        })
    })
}

fn write_row(table: &PromptTable, row: &[String], xml: &mut Xml) -> io::Result<()> {
    xml.element("tr", &[], |xml| {
        let mut cells = row.iter().zip(&table.columns).enumerate();
        cells.try_for_each(|(index, (cell, column))| match index {
            0 => write_line("th", &[("scope", "row")], cell, xml),
            _ if column.has_numbers => write_line("td", &[("align", "right")], cell, xml),
            _ => write_line("td", &[], cell, xml),
        })
    })
}

/// Writes a line whose signs are as they are printed.
fn write_printed(xml: &mut Xml, line: &str) -> io::Result<()> {
    for run in direction_runs(&with_no_break_spaces(line)) {
        match run.from_right_to_left {
            true => xml.leaf("bdi", &[], run.text)?,
            false => write_words(xml, run.text)?,
        }
    }
    Ok(())
}

/// Writes words that have one direction.
fn write_words(xml: &mut Xml, text: &str) -> io::Result<()> {
    let words: Vec<&str> = text.split_inclusive(SPACES).collect();
    let mut rest = &*words;
    while !rest.is_empty() {
        let (run, after) = rest.split_at(equation_words(rest));
        match PrintedEquation::of(run) {
            Some(found) => {
                write_equation(xml, &found.equation)?;
                xml.text(&found.after)?;
            }
            None => run.iter().try_for_each(|word| write_word(xml, word))?,
        }
        rest = after;
    }
    Ok(())
}

/// Writes a word, as a formula if it is one.
fn write_word(xml: &mut Xml, word: &str) -> io::Result<()> {
    let bare = word.trim_end_matches(SPACES);
    let Some(found) = formula_in(bare) else {
        return xml.text(word);
    };
    xml.text(found.before)?;
    write_formula(xml, &found.formula)?;
    xml.text(found.after)?;
    xml.text(word.get(bare.len()..).unwrap_or_default())
}

const SPACES: [char; 2] = [' ', '\u{A0}'];
/// What ends a sentence or a part of it.
const MARKS: [char; 5] = [',', ';', ':', '.', '?'];

/// An equation in a text.
struct PrintedEquation {
    equation: Equation,
    /// What is after it: marks of the sentence and a space.
    after: String,
}

impl PrintedEquation {
    /// Reads words that are joined by signs. `None` if they are not written as an equation prints itself.
    fn of(words: &[&str]) -> Option<PrintedEquation> {
        let text = words.concat();
        let bare = text.trim_end_matches(SPACES).trim_end_matches(MARKS);
        let equation: Equation = (words.len() > 1).then(|| bare.parse().ok())??;
        (as_printed(&alloc::format!("{equation}")) == bare).then(|| PrintedEquation {
            equation,
            after: text.get(bare.len()..).unwrap_or_default().into(),
        })
    }
}

/// The number of words, at least one, that are joined by signs of an equation.
fn equation_words(words: &[&str]) -> usize {
    let is_sign = |word: &str| matches!(word, "+ " | "→ " | "⇌ ");
    let mut length = 1;
    while let Some([sign, _]) = words.get(length..length + 2) {
        let before = words.get(length - 1).copied().unwrap_or_default();
        // A mark of the sentence ends the equation.
        if !is_sign(sign) || before.trim_end_matches(SPACES).ends_with(MARKS) {
            break;
        }
        length += 2;
    }
    length
}

#[cfg(test)]
mod tests {
    use alloc::vec;

    use super::super::mathml_tests::drawn_maths;
    use super::*;
    use crate::exercise::Exercises;
    use crate::text::visible;

    fn written(write: impl FnOnce(&mut Xml) -> io::Result<()>) -> String {
        let mut xml = Xml::document().unwrap();
        xml.element("div", &[], write).unwrap();
        String::from_utf8(xml.finish()).unwrap()
    }

    fn says(markup: &str) -> Vec<String> {
        let (maths, _) = drawn_maths(markup);
        maths.into_iter().map(|math| math.says).collect()
    }

    #[test]
    fn a_text_has_paragraphs_a_list_and_a_table() {
        let text = "Two benches.\nbench | empty/g | note\nHazel | 6.99 | –\nRowan | – | x\nIt is:\n- one\n- two";
        let markup = written(|xml| write_blocks(xml, text));
        let (_, markup) = markup.split_once("<div>").unwrap();
        assert_eq!(
            markup,
            "<p>Two benches.</p>\n\
             <table><caption>Class sheet</caption>\
             <thead><tr><th scope=\"col\">bench</th><th scope=\"col\">empty/g</th><th scope=\"col\">note</th></tr></thead>\
             <tbody><tr><th scope=\"row\">Hazel</th><td align=\"right\">6.99</td><td>–</td></tr>\
             <tr><th scope=\"row\">Rowan</th><td align=\"right\">–</td><td>x</td></tr></tbody></table>\n\
             <p>It is:</p>\n<ul><li>one</li><li>two</li></ul>\n</div>\n"
        );
    }

    #[test]
    fn formulas_and_equations_of_a_text_are_maths() {
        for (text, maths) in [
            (
                "Heat MgSO4·7H2O, then (CuSO4).",
                vec!["MgSO4·7H2O", "CuSO4"],
            ),
            (
                "The equation is Cu + 2AgNO3 -> 2Ag + Cu(NO3)2. Weigh AgNO3.",
                vec!["Cu + 2AgNO3 → 2Ag + Cu(NO3)2", "AgNO3"],
            ),
            (
                "In Ag^+ + Cl^- -> AgCl, how much?",
                vec!["Ag^+ + Cl^- → AgCl"],
            ),
            ("N2 + 3H2 <=> 2NH3", vec!["N2 + 3H2 ⇌ 2NH3"]),
            // What does not print itself in the same way stays as it is written.
            ("x + 2 -> 3", vec![]),
            ("A + and + B2O3 -> ", vec!["B2O3"]),
            ("It is Na2O. + Cl2", vec!["Na2O", "Cl2"]),
            ("Bench H2O loses 3 g", vec!["H2O"]),
        ] {
            let markup = written(|xml| write_inline(xml, text));
            assert_eq!(says(&markup), maths, "{text}");
            let (_, drawn) = drawn_maths(&markup);
            assert_eq!(
                drawn.trim_matches('\n'),
                with_no_break_spaces(&as_printed(text)).trim_end(),
                "{markup}"
            );
        }
    }

    #[test]
    fn every_prompt_is_drawn_as_it_reads() {
        let bare = |text: &str| text.replace([' ', '\u{a0}', '\n', '|'], "");
        let mut equations = 0;
        for seed in 1..=4 {
            let set = Exercises::new(seed).set(60).unwrap();
            for problem in set.problems() {
                let prompt = problem.prompt();
                let markup = written(|xml| write_blocks(xml, prompt));
                let (maths, drawn) = drawn_maths(&markup);
                for math in &maths {
                    assert_eq!(math.says, math.draws, "{prompt}");
                }
                let drawn = bare(&drawn).replace(PromptTable::CAPTION, "");
                let drawn = drawn.replace("Classsheet", "");
                let read = bare(&as_printed(prompt).replace("\n- ", "\n"));
                assert_eq!(drawn, read, "{markup}");
                assert!(
                    !prompt.contains(" -> ") || says(&markup).iter().any(|it| it.contains('→')),
                    "{prompt}"
                );
                equations += usize::from(prompt.contains(" -> "));
            }
        }
        assert!(equations > 20, "{equations}");
    }

    #[test]
    fn steps_of_working_are_drawn_or_written() {
        for seed in 1..=2 {
            let set = Exercises::new(seed).set(60).unwrap();
            let problems = set.problems().iter();
            for step in problems.flat_map(|problem| problem.working().steps()) {
                let markup = written(|xml| write_step(xml, step));
                let (_, drawn) = drawn_maths(&markup);
                let bare = |text: &str| text.replace([' ', '\u{a0}', '\n'], "");
                assert_eq!(
                    bare(&drawn),
                    bare(&as_printed(&step.equation())),
                    "{markup}"
                );
            }
        }
    }

    #[test]
    fn hostile_texts_are_escaped() {
        let deep = alloc::format!("{}H2{}", "(".repeat(5000), ")2".repeat(5000));
        let sums = "A + ".repeat(2500) + "-> B2";
        let quotient = "1 / (2 + ".repeat(1200) + "1";
        for text in [
            "<b>&amp; \"x\" 'y' ]]> <!-- --> </p><script>",
            "a\u{0}b\u{1b}[31m\u{202e}c\u{200f}\u{fffe}\u{ffff}\u{85}",
            "\u{5d0}\u{5d1} <i>, MgSO4·7H2O \u{633}.",
            "<b> | <i>\n& | \"",
            "- <b>\n- </li>",
            "",
            " \n\u{a0}\n- \n",
            &"MgSO4·7H2O ".repeat(1000),
            &"x".repeat(10_000),
            &"H2 + ".repeat(2000),
            &" | ".repeat(3000),
            &deep,
            &sums,
            &quotient,
        ] {
            for markup in [
                written(|xml| write_blocks(xml, text)),
                written(|xml| write_inline(xml, text)),
            ] {
                let (_, drawn) = drawn_maths(&markup);
                let is_shown =
                    |c: char| !c.is_whitespace() && visible(&String::from(c)) == String::from(c);
                assert!(
                    drawn
                        .chars()
                        .all(|c| c == '\n' || c == ' ' || c == '\u{a0}' || is_shown(c)),
                    "{markup}"
                );
                assert!(
                    !markup.contains("<script") && !markup.contains("<b>"),
                    "{markup}"
                );
            }
        }
    }
}
