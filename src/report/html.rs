//! Blocks as a page of HTML that needs no other file. The templates are in `templates`.

use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::fmt::{self, Display, Formatter, Write};

use askama::Template;
use askama::filters::{Escaper, Html, HtmlSafe};

use super::block::{AnswerPlace, Block, Lead};
use super::table::{Align, TextTable, VisibleColumn};
use super::working::as_table;
use crate::formula::formula_in;
use crate::text::{direction_runs, visible_line, with_no_break_spaces};
use crate::working::{Expression, Step, Working};

/// Draws the blocks as a whole page. The first block is its title.
pub(super) fn write(blocks: &[Block], out: &mut impl Write) -> fmt::Result {
    write_page(blocks, false, Maths::Subscripts, out)
}

/// Draws the blocks as a page whose formulas and steps of working are `MathML`.
pub(super) fn write_with_mathml(blocks: &[Block], out: &mut impl Write) -> fmt::Result {
    write_page(blocks, false, Maths::MathMl, out)
}

/// Draws the blocks as a page that is read from the other end of a classroom.
pub(super) fn write_large(blocks: &[Block], out: &mut impl Write) -> fmt::Result {
    write_page(blocks, true, Maths::Subscripts, out)
}

fn write_page(blocks: &[Block], is_large: bool, maths: Maths, out: &mut impl Write) -> fmt::Result {
    let (title, blocks) = match blocks {
        [Block::Title(title), rest @ ..] => (visible_line(title), rest),
        _ => (String::new(), blocks),
    };
    let mut benches = blocks.iter();
    let page = Page {
        title,
        contents: benches.any(|block| matches!(block, Block::Bench(..))),
        is_large,
        body: Body {
            blocks,
            below: String::new(),
            maths,
        },
    };
    page.render_into(out).map_err(|_| fmt::Error)?;
    // A template ends without one.
    out.write_str("\n")
}

/// How formulas and steps of working are drawn.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Maths {
    /// Formulas with subscripts, steps as they are written.
    Subscripts,
    /// Presentation `MathML`, with words for those who hear it.
    MathMl,
}

#[derive(Template)]
#[template(path = "page.html")]
struct Page<'a> {
    title: String,
    /// Whether the page has a list of its parts.
    contents: bool,
    is_large: bool,
    body: Body<'a>,
}

#[derive(Template)]
#[template(path = "blocks.html")]
struct Body<'a> {
    blocks: &'a [Block],
    /// The headings that they are below, for the names of parts that are moved sideways.
    below: String,
    maths: Maths,
}

#[derive(Template)]
#[template(path = "table.html")]
struct HtmlTable<'a> {
    caption: &'a str,
    /// The headings that it is below, if several tables have one caption.
    below: &'a str,
    columns: Vec<VisibleColumn<'a>>,
    rows: &'a [Vec<String>],
    maths: Maths,
}

/// A text with its formulas as they are printed, and with nothing in it that HTML reads as its own.
struct Prose<'a>(&'a str, Maths);

/// A step of working as a formula.
struct StepMaths<'a>(&'a Step);

/// A text with names, which has no formulas: H2 is a place in the room.
struct Names<T>(T);

/// A heading, escaped already.
struct Heading {
    level: u8,
    title: String,
}

// What they write is escaped already.
impl HtmlSafe for Body<'_> {}
impl HtmlSafe for HtmlTable<'_> {}
impl HtmlSafe for Prose<'_> {}
impl HtmlSafe for Heading {}
impl HtmlSafe for StepMaths<'_> {}
impl<T: AsRef<str>> HtmlSafe for Names<T> {}

impl Body<'_> {
    /// What is inside a block of these.
    fn within<'a>(&self, blocks: &'a [Block]) -> Body<'a> {
        Body {
            blocks,
            below: self.below.clone(),
            maths: self.maths,
        }
    }

    /// What is inside a problem at this index.
    fn within_problem<'a>(&self, index: &usize, title: &str, blocks: &'a [Block]) -> Body<'a> {
        let before = self.blocks.iter().take(*index).rev();
        let section = before.map(|block| match block {
            Block::Section(section) => Some(section.as_str()),
            _ => None,
        });
        let headings = section.flatten().take(1).chain([title]);
        Body {
            below: headings.map(visible_line).collect::<Vec<_>>().join(", "),
            ..self.within(blocks)
        }
    }

    fn prose<'a>(&self, text: &'a str) -> Prose<'a> {
        Prose(text, self.maths)
    }

    fn table<'b>(&'b self, table: &'b TextTable) -> HtmlTable<'b> {
        HtmlTable {
            below: &self.below,
            maths: self.maths,
            ..HtmlTable::new(table)
        }
    }

    fn has_mathml(&self) -> bool {
        self.maths == Maths::MathMl
    }

    /// Whether the first bench has this index. All of them are listed before it.
    fn begins_benches(&self, index: &usize) -> bool {
        let mut blocks = self.blocks.iter();
        blocks.position(|block| matches!(block, Block::Bench(..))) == Some(*index)
    }

    fn steps(&self, working: &Working) -> TextTable {
        as_table(working)
    }

    fn line(&self, text: &str) -> String {
        visible_line(text)
    }

    /// The heading of a part that may be below the heading of a section.
    fn heading(&self, title: &str) -> Heading {
        let mut blocks = self.blocks.iter();
        let is_below = blocks.any(|block| matches!(block, Block::Section(_)));
        Heading {
            level: if is_below { 3 } else { 2 },
            title: Names(title).to_string(),
        }
    }
}

/// The number of rows that surely fit on a page.
const TALL: usize = 20;
/// The number of columns that fit beside one another on a phone.
const NARROW: usize = 3;
/// The number of columns that fit beside one another on paper, in letters of the usual size.
const LARGE_PRINT: usize = 7;
/// The longest word that is not broken, in characters: of a name, and of our own texts.
const LONGEST: [usize; 2] = [10, 16];

impl<'a> HtmlTable<'a> {
    fn new(table: &'a TextTable) -> Self {
        HtmlTable {
            caption: table.caption(),
            below: "",
            columns: table.visible(),
            rows: table.rows(),
            maths: Maths::Subscripts,
        }
    }

    fn prose<'b>(&self, text: &'b str) -> Prose<'b> {
        Prose(text, self.maths)
    }

    /// Whether the table is moved sideways on a narrow screen.
    fn is_wide(&self) -> bool {
        // A formula as MathML is not broken.
        let narrow = NARROW - usize::from(self.maths == Maths::MathMl);
        self.columns.len() > narrow
    }

    /// Whether the columns fit on paper only in small print.
    fn is_dense(&self) -> bool {
        self.columns.len() > LARGE_PRINT
    }

    /// Whether the table goes on on the next page.
    fn is_tall(&self) -> bool {
        self.rows.len() > TALL
    }

    fn is_filled_in(&self) -> bool {
        self.columns.iter().any(|column| column.to_fill_in)
    }
}

impl VisibleColumn<'_> {
    fn is_number(&self) -> bool {
        self.align == Align::Right
    }

    /// The class of a cell, for the style.
    fn class(&self, cell: &str) -> Option<&'static str> {
        if self.is_number() {
            return Some("n");
        }
        let [name, own] = LONGEST;
        let longest = if self.has_names { name } else { own };
        let mut words = cell.split_whitespace();
        let is_long = words.any(|word| word.chars().count() > longest);
        is_long.then_some("long")
    }

    fn cell<'a>(&self, row: &'a [String]) -> &'a str {
        row.get(self.index).map_or("", String::as_str)
    }
}

impl Display for Prose<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        words(self.0, |text, f| word(text, self.1, f), f)
    }
}

impl Display for Heading {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let Heading { level, title } = self;
        write!(f, "\n<h{level}>{title}</h{level}>")
    }
}

impl Display for StepMaths<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let StepMaths(step) = self;
        let whole = step.equation();
        let Some(expression) = Expression::of_step(step) else {
            return Prose(&whole, Maths::MathMl).fmt(f);
        };
        f.write_str("<math xmlns=\"http://www.w3.org/1998/Math/MathML\" alttext=\"")?;
        Html.write_escaped_str(&mut *f, &visible_line(&whole))?;
        f.write_str("\"><mrow displaystyle=\"true\">")?;
        expression.write_mathml_row(&|text, out| Html.write_escaped_str(out, text), f)?;
        f.write_str("</mrow></math>")
    }
}

impl<T: AsRef<str>> Display for Names<T> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        words(
            self.0.as_ref(),
            |word, f| Html.write_escaped_str(f, word),
            f,
        )
    }
}

/// Writes a text word by word.
fn words<W: Write>(
    text: &str,
    write_word: impl Fn(&str, &mut W) -> fmt::Result,
    out: &mut W,
) -> fmt::Result {
    for run in direction_runs(&with_no_break_spaces(text)) {
        let (before, after) = match run.from_right_to_left {
            true => ("<bdi>", "</bdi>"),
            false => ("", ""),
        };
        out.write_str(before)?;
        for word in run.text.split_inclusive([' ', '\u{A0}']) {
            let bare = word.trim_end_matches([' ', '\u{A0}']);
            write_word(bare, out)?;
            out.write_str(word.get(bare.len()..).unwrap_or_default())?;
        }
        out.write_str(after)?;
    }
    Ok(())
}

/// Writes a word, as a formula if it is one.
fn word(word: &str, maths: Maths, out: &mut impl Write) -> fmt::Result {
    let Some(found) = formula_in(word) else {
        return Html.write_escaped_str(out, word);
    };
    Html.write_escaped_str(&mut *out, found.before)?;
    match maths {
        Maths::Subscripts => found.formula.write_html(out)?,
        Maths::MathMl => found.formula.write_mathml(out)?,
    }
    Html.write_escaped_str(out, found.after)
}

#[cfg(test)]
mod tests {
    use super::super::block::Item;
    use super::*;

    #[test]
    fn formulas_have_subscripts_and_nothing_else_has() {
        for (text, html) in [
            ("MgSO4·7H2O", "MgSO<sub>4</sub>·7H<sub>2</sub>O"),
            (
                "(of Fe2O3, O2).",
                "(of Fe<sub>2</sub>O<sub>3</sub>, O<sub>2</sub>).",
            ),
            (
                "(CuSO4) (K3[Fe(CN)6])",
                "(CuSO<sub>4</sub>) (K<sub>3</sub>[Fe(CN)<sub>6</sub>])",
            ),
            ("H318: Bench B1, 2.50 g", "H318: Bench B1, 2.50\u{A0}g"),
            ("a 7 H2O", "a 7\u{A0}H<sub>2</sub>O"),
            ("x is 1 : 6.99", "x is 1\u{A0}:\u{A0}6.99"),
        ] {
            assert_eq!(Prose(text, Maths::Subscripts).to_string(), html);
        }
    }

    #[test]
    fn only_a_long_word_is_broken() {
        let mut table = TextTable::new("Benches")
            .names(["Bench"])
            .left(["Verdict"])
            .right(["Marks"]);
        table.row(["Agate", "correct", "1"].map(String::from));
        let columns = table.visible();
        let class = |column: usize, cell| columns[column].class(cell);
        assert_eq!(class(0, "Dolomite by the window"), None);
        assert_eq!(class(0, "Dolomitewindow"), Some("long"));
        assert_eq!(class(1, "0.14: unexplained [0]"), None);
        assert_eq!(class(1, "<script>alert(1)</script>"), Some("long"));
        assert_eq!(class(2, "not marked"), Some("n"));
    }

    #[test]
    fn nothing_in_a_text_is_read_as_html() {
        let mut table = TextTable::new("\"t\" > 1")
            .left(["<th>"])
            .names(["Name"])
            .left(["&"])
            .blank(["Write \"here\""]);
        table.row(["a & b\n<c>".into(), "<i>".into(), "'".into(), String::new()]);
        let blocks = [
            Block::Title("<script>alert('x')</script>".into()),
            Block::section("<hr>"),
            Block::Table(table),
            Block::List([Item::warning("1 < 2")].into()),
            Block::Card("Bench \u{202e}1".into(), [Block::dashes(["&amp;"])].into()),
        ];
        let mut out = String::new();
        write(&blocks, &mut out).unwrap();
        let (head, body) = out.split_once("<body>\n").unwrap();
        assert_eq!(
            body,
            "<header>\n<h1>&#60;script&#62;alert(&#39;x&#39;)&#60;/script&#62;</h1>\n</header>\n\
             <main>\n<h2 id=\"part-1\">&#60;hr&#62;</h2>\n\
             <div class=\"wide\" role=\"region\" aria-label=\"&#34;t&#34; &#62; 1\" tabindex=\"0\">\n\
             <table class=\"fill\">\n<caption>&#34;t&#34; &#62; 1</caption>\n<thead>\n\
             <tr><th scope=\"col\">&#60;th&#62;</th><th scope=\"col\">Name</th><th scope=\"col\">&#38;</th>\
             <th scope=\"col\">Write &#34;here&#34;</th></tr>\n</thead>\n<tbody>\n\
             <tr><th scope=\"row\">a &#38; b &#60;c&#62;</th><td><bdi>&#60;i&#62;</bdi></td><td>&#39;</td>\
             <td class=\"blank\"></td></tr>\n</tbody>\n</table>\n</div>\n\
             <ul>\n<li><strong>Warning:</strong> 1 &#60; 2</li>\n</ul>\n\
             <section class=\"card\">\n<h3>Bench \\u{202e}1</h3>\n<ul>\n<li>&#38;amp;</li>\n</ul>\n</section>\n\
             </main>\n</body>\n</html>\n"
        );
        assert!(head.contains("<title>&#60;script&#62;"), "{head}");
    }

    #[test]
    fn a_name_from_right_to_left_does_not_turn_what_follows() {
        for (text, html) in [
            (
                "\u{5d0}\u{5d1}, x is 2",
                "<bdi>\u{5d0}\u{5d1}</bdi>, x is 2",
            ),
            (
                "of \u{633} \u{627} and B",
                "of <bdi>\u{633} \u{627}</bdi> and B",
            ),
            ("\u{633}, (\u{627}):", "<bdi>\u{633}, (\u{627})</bdi>:"),
            ("\u{627} ", "<bdi>\u{627}</bdi>"),
            ("é \u{202e}", "é \\u{202e}"),
        ] {
            assert_eq!(Prose(text, Maths::Subscripts).to_string(), html);
        }
    }

    #[test]
    fn problems_have_mathml_and_places_for_answers() {
        let mut out = String::new();
        write_with_mathml(&Block::problems(), &mut out).unwrap();
        let (_, body) = out.split_once("<main>").unwrap();
        for part in [
            "<section class=\"frame\">\n<h2>Weights</h2>\n<p>H 1.008</p>\n</section>",
            "<section class=\"problem\">\n<h2>Problem 1</h2>\n<p>How much <math ",
            "alttext=\"H 2 O\">",
            "<ol type=\"A\">\n<li>1\u{A0}g</li>\n<li>2\u{A0}g</li>\n</ol>",
            "<p class=\"answer\">Answer: <span class=\"line\"></span> g</p>",
            "<span class=\"choice\"><span class=\"box\"></span> B</span> </td>",
        ] {
            assert!(body.contains(part), "{part} in {body}");
        }
    }

    #[test]
    fn a_step_is_mathml_with_its_text() {
        let step = Step::new("", "", "1.5 g / m(<i>)".into(), "2".into(), "");
        let drawn = StepMaths(&step).to_string();
        assert_eq!(
            drawn,
            "<math xmlns=\"http://www.w3.org/1998/Math/MathML\" alttext=\"1.5 g / m(&#60;i&#62;) = 2\">\
             <mrow displaystyle=\"true\"><mfrac><mrow><mn>1.5</mn><mspace width=\"0.25em\"></mspace>\
             <mtext>g</mtext></mrow><mrow><mi>m</mi><mtext>(</mtext><mtext>&#60;i&#62;</mtext><mtext>)</mtext></mrow>\
             </mfrac><mo>=</mo><mn>2</mn></mrow></math>"
        );
        let step = Step::new("", "", "1 : 2 & 3".into(), "CH2O".into(), "").concluded();
        let drawn = StepMaths(&step).to_string();
        assert!(
            drawn.starts_with("1\u{A0}:\u{A0}2 &#38; 3: <math "),
            "{drawn}"
        );
    }
}
