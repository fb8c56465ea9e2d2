//! Blocks as one document of LaTeX that `pdflatex` compiles. It needs the class `article` and the packages
//! `inputenc`, `geometry`, `array` and `longtable`, which every installation has. Formulas may ask for `mhchem`.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::{self, Write};

use super::block::{AnswerPlace, Block, Item, Lead};
use super::latex_table::TableLayout;
use super::latex_text::{LatexFormulas, escaped};
use super::table::TextTable;
use crate::working::{Expression, Step, ValuePart, pieces};

/// Draws the blocks as a whole document.
pub(super) fn write(
    blocks: &[Block],
    formulas: LatexFormulas,
    out: &mut impl Write,
) -> fmt::Result {
    write!(out, "{BEGINNING}{}{PREAMBLE}", formulas.package())?;
    formulas.write_blocks(blocks, false, out)?;
    out.write_str("\\end{document}\n")
}

const BEGINNING: &str = r"\documentclass[11pt,a4paper]{article}
\usepackage[utf8]{inputenc}
\usepackage[margin=20mm]{geometry}
\usepackage{array}
\usepackage{longtable}
";

const PREAMBLE: &str = r"\pagestyle{plain}
\setlength{\parindent}{0pt}
\setlength{\parskip}{4pt}
\setlength{\LTleft}{0pt}
\setlength{\LTpre}{6pt}
\setlength{\LTpost}{6pt}
\renewcommand{\arraystretch}{1.15}
\setlength{\fboxsep}{6pt}
% The usual sign would need another font.
\renewcommand{\labelitemi}{$\bullet$}
% A part that stays on one page.
\newenvironment{whole}{\par\addvspace{10pt}\begin{minipage}{\linewidth}%
  \raggedright\setlength{\parskip}{4pt}}{\end{minipage}\par\addvspace{10pt}}
\newsavebox{\framedpart}
\newenvironment{framed}{\par\addvspace{10pt}\begin{lrbox}{\framedpart}%
  \begin{minipage}{\dimexpr\linewidth-2\fboxsep-2\fboxrule\relax}\raggedright\setlength{\parskip}{4pt}}%
  {\end{minipage}\end{lrbox}\fbox{\usebox{\framedpart}}\par\addvspace{10pt}}
\newcommand{\heading}[1]{\textbf{#1}\par}
\newcounter{option}
\newenvironment{options}{\begin{list}{\textbf{\Alph{option}}}{\usecounter{option}%
  \setlength{\itemsep}{2pt}\setlength{\parsep}{0pt}\setlength{\topsep}{2pt}}}{\end{list}}
\newcommand{\writeline}{\rule[-3pt]{5cm}{0.4pt}}
\newcommand{\tickbox}[1]{{\setlength{\fboxsep}{3pt}\framebox[11pt]{\rule{0pt}{6pt}}}~#1\hspace{1.2em}}
\begin{document}
\raggedright
";

/// The most rows of a table that is not continued on the next page.
const MOST_ROWS: usize = 24;

impl LatexFormulas {
    /// Draws the blocks. A part that stays on one page cannot hold a table that goes on on the next.
    fn write_blocks(self, blocks: &[Block], is_whole: bool, out: &mut impl Write) -> fmt::Result {
        for block in blocks {
            match block {
                Block::Title(title) => {
                    writeln!(
                        out,
                        "{{\\Large\\bfseries {}\\par}}\\medskip",
                        self.prose(title)
                    )?;
                }
                Block::Section(title) => writeln!(out, "\\section*{{{}}}", self.prose(title))?,
                Block::Paragraph(text) => writeln!(out, "{}\n", self.prose(text))?,
                Block::List(items) => self.list(items, out)?,
                Block::Table(table) => self.table(table, is_whole, out)?,
                Block::Working(working) => {
                    for step in working.steps() {
                        self.step(step, out)?;
                    }
                }
                Block::Command(command) => writeln!(out, "\\texttt{{{}}}\n", escaped(command))?,
                Block::Problem(title, blocks) | Block::Bench(title, blocks) => {
                    self.part("whole", title, blocks, out)?;
                }
                Block::Framed(title, blocks) | Block::Card(title, blocks) => {
                    self.part("framed", title, blocks, out)?;
                }
                Block::Options(options) => {
                    out.write_str("\\begin{options}\n")?;
                    for option in options {
                        writeln!(out, "\\item {}", self.prose(option))?;
                    }
                    out.write_str("\\end{options}\n")?;
                }
                Block::WriteLine(name, unit) => {
                    writeln!(out, "\\medskip {name}: \\writeline~{}\n", self.prose(unit))?;
                }
                Block::AnswerGrid(places) => self.grid(places, is_whole, out)?,
                Block::NewPage => out.write_str("\\newpage\n")?,
                Block::Picture(picture) => writeln!(out, "{}\n", self.prose(&picture.words))?,
            }
        }
        Ok(())
    }

    fn part(
        self,
        environment: &str,
        title: &str,
        blocks: &[Block],
        out: &mut impl Write,
    ) -> fmt::Result {
        writeln!(out, "\\begin{{{environment}}}")?;
        writeln!(out, "\\heading{{{}}}", escaped(title))?;
        let mut inner = String::new();
        self.write_blocks(blocks, true, &mut inner)?;
        writeln!(out, "{}\n\\end{{{environment}}}\n", inner.trim_end())
    }

    fn list(self, items: &[Item], out: &mut impl Write) -> fmt::Result {
        out.write_str("\\begin{itemize}\\setlength{\\itemsep}{2pt}\\setlength{\\parskip}{0pt}\n")?;
        for item in items {
            let text = self.prose(&item.text);
            match &item.lead {
                Lead::Dash => writeln!(out, "\\item {text}")?,
                Lead::Warning => writeln!(out, "\\item \\textbf{{Warning:}} {text}")?,
                Lead::Marks(marks) => {
                    writeln!(out, "\\item[{{\\textbf{{[{}]}}}}] {text}", escaped(marks))?;
                }
            }
        }
        out.write_str("\\end{itemize}\n")
    }

    fn table(self, table: &TextTable, is_whole: bool, out: &mut impl Write) -> fmt::Result {
        let columns = table.visible();
        let is_short = is_whole || table.rows().len() <= MOST_ROWS;
        let layout = TableLayout::new(table, &columns, is_short);
        let names = columns.iter().map(|column| self.prose(column.name));
        let mut rows = Vec::from([names.collect::<Vec<_>>()]);
        for row in table.rows() {
            let cell = |index: usize| row.get(index).map_or("", String::as_str);
            let cells = columns.iter().map(|column| match column.has_names {
                true => escaped(cell(column.index)),
                false => self.prose(cell(column.index)),
            });
            rows.push(cells.collect());
        }
        write!(out, "{{{}", layout.size)?;
        write_rows(&layout.columns, &rows, is_short, out)?;
        out.write_str("}\n")
    }

    fn grid(self, places: &[AnswerPlace], is_whole: bool, out: &mut impl Write) -> fmt::Result {
        let mut rows = Vec::from([AnswerPlace::HEADING.map(String::from).into()]);
        for place in places {
            let boxes = place.letters();
            let answer = match place.options {
                0 => format!("\\writeline~{}", self.prose(&place.unit)),
                _ => boxes
                    .map(|letter| format!("\\tickbox{{{letter}}}"))
                    .collect(),
            };
            let name = format!("\\rule[-8pt]{{0pt}}{{22pt}}{}", self.prose(&place.name));
            rows.push(Vec::from([name, answer]));
        }
        let is_short = is_whole || places.len() <= MOST_ROWS;
        writeln!(
            out,
            "\\par\\medskip\\heading{{{}}}\\nopagebreak\\smallskip",
            AnswerPlace::CAPTION
        )?;
        write_rows("|p{2.5cm}|p{7cm}|", &rows, is_short, out)
    }

    fn step(self, step: &Step, out: &mut impl Write) -> fmt::Result {
        let maths = match Expression::of_step(step) {
            Some(expression) => format!("$\\displaystyle {}$", self.expression(&expression)),
            None => self.prose(&step.equation()),
        };
        writeln!(out, "{}: {maths}\n", self.prose(step.what()))
    }

    fn expression(self, expression: &Expression) -> String {
        match expression {
            Expression::Value(value) => self.value(value),
            Expression::Joined(before, sign, after) => {
                let sign = match sign {
                    '×' => "\\times",
                    '−' => "-",
                    '+' => "+",
                    _ => "=",
                };
                let [before, after] = [before, after].map(|part| self.expression(part));
                format!("{before} {sign} {after}")
            }
            Expression::Quotient(above, below) => {
                let inner = |part: &Expression| self.expression(part.without_brackets());
                format!("\\frac{{{}}}{{{}}}", inner(above), inner(below))
            }
            Expression::Bracket(inner) => format!("\\left({}\\right)", self.expression(inner)),
        }
    }

    /// A value in maths mode.
    fn value(self, value: &str) -> String {
        let pieces = pieces(value).into_iter().map(|piece| match piece {
            ValuePart::Space => "~".into(),
            ValuePart::Symbol(symbol) => match symbol.is_ascii() {
                true => symbol.into(),
                false => escaped(symbol).replace('$', ""),
            },
            ValuePart::Number(text) | ValuePart::Text(text) => {
                format!("\\mbox{{{}}}", escaped(text))
            }
            ValuePart::Formula(found) => {
                let formula = self.formula_in_maths(&found.formula);
                let [before, after] = [found.before, found.after].map(escaped);
                format!("\\mbox{{{before}}}{formula}\\mbox{{{after}}}")
            }
        });
        pieces.collect()
    }
}

/// Writes a table with lines around its cells, and its first row again on each page.
fn write_rows(
    layout: &str,
    rows: &[Vec<String>],
    is_short: bool,
    out: &mut impl Write,
) -> fmt::Result {
    let name = if is_short { "tabular" } else { "longtable" };
    writeln!(out, "\\begin{{{name}}}{{{layout}}}\n\\hline")?;
    for (index, row) in rows.iter().enumerate() {
        let cells: Vec<String> = match index {
            0 => row
                .iter()
                .map(|cell| format!("\\textbf{{{cell}}}"))
                .collect(),
            _ => row.clone(),
        };
        let end = match index {
            0 if !is_short => "\n\\endhead",
            _ => "",
        };
        writeln!(out, "{} \\\\ \\hline{end}", cells.join(" & "))?;
    }
    writeln!(out, "\\end{{{name}}}\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn drawn(blocks: &[Block], expected: &str) {
        let mut out = String::new();
        LatexFormulas::Maths
            .write_blocks(blocks, false, &mut out)
            .unwrap();
        assert_eq!(out, expected);
    }

    #[test]
    fn a_document_is_whole() {
        let mut out = String::new();
        let blocks = [Block::paragraph("Heat MgSO4·7H2O.")];
        write(&blocks, LatexFormulas::Mhchem, &mut out).unwrap();
        assert!(
            out.starts_with("\\documentclass[11pt,a4paper]{article}\n"),
            "{out}"
        );
        assert!(out.contains("\\usepackage[version=4]{mhchem}\n"), "{out}");
        assert!(
            out.ends_with("Heat \\ce{MgSO4 * 7H2O}.\n\n\\end{document}\n"),
            "{out}"
        );
        let mut out = String::new();
        write(&blocks, LatexFormulas::Maths, &mut out).unwrap();
        assert!(!out.contains("mhchem"), "{out}");
    }

    #[test]
    fn a_problem_is_one_box() {
        let options = ["51.2\u{A0}%", "x & y"].map(String::from);
        let problem = Block::Problem(
            "Problem 1".into(),
            Vec::from([
                Block::paragraph("50 % of H2O?"),
                Block::Options(options.into()),
            ]),
        );
        drawn(
            &[problem, Block::WriteLine("Answer", "g".into())],
            "\\begin{whole}\n\\heading{Problem 1}\n50~\\% of $\\mathrm{H_{2}O}$?{}\n\n\\begin{options}\n\
             \\item 51.2~\\%\n\\item x \\& y\n\\end{options}\n\\end{whole}\n\n\
             \\medskip Answer: \\writeline~g\n\n",
        );
    }

    #[test]
    fn a_long_table_goes_on_on_the_next_page_unless_it_is_in_a_box() {
        let mut table = TextTable::new("").right(["x"]);
        for number in 0..=MOST_ROWS {
            table.row([format!("{number}")]);
        }
        let inner = Block::Problem("P".into(), Vec::from([Block::Table(table.clone())]));
        for (block, name) in [(Block::Table(table), "longtable"), (inner, "tabular")] {
            let mut out = String::new();
            LatexFormulas::Maths
                .write_blocks(&[block], false, &mut out)
                .unwrap();
            assert!(out.contains(&format!("\\begin{{{name}}}")), "{out}");
            assert_eq!(out.contains("\\endhead"), name == "longtable");
        }
    }

    #[test]
    fn a_quotient_has_a_line() {
        let step = Step::new(
            "share",
            "",
            "100 % × (1.5 g − 1,2 g) / m(MgSO4)".into(),
            "20.0".into(),
            "%",
        );
        let mut out = String::new();
        LatexFormulas::Maths.step(&step, &mut out).unwrap();
        assert_eq!(
            out,
            "share: $\\displaystyle \\frac{\\mbox{100}~\\mbox{\\%} \\times \
             \\left(\\mbox{1.5}~\\mbox{g} - \\mbox{1,2}~\\mbox{g}\\right)}\
             {m\\mbox{(}\\mbox{}\\mathrm{MgSO_{4}}\\mbox{}\\mbox{)}} = \\mbox{20.0}~\\mbox{\\%}$\n\n"
        );
    }
}
