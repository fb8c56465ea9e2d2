//! Blocks as a page of HTML that needs no other file.

use alloc::string::{String, ToString};
use core::fmt::{self, Write};

use super::block::{Block, Item, Lead};
use super::table::{Align, TextTable};
use super::working::as_table;
use super::wrap::{one_line, with_no_break_spaces};
use crate::formula::Formula;

/// Black on white, on a screen and on paper. A card or a table is not torn by the end of a page.
const STYLE: &str = "\
@page{size:A4;margin:15mm}\
body{font:11pt/1.4 sans-serif;color:#000;background:#fff;max-width:46em;margin:1em auto;padding:0 1em}\
h1{font-size:1.5em}h2{font-size:1.2em;margin-top:1.5em;border-bottom:1px solid #000}\
h1,h2,h3{line-height:1.2;break-after:avoid}\
section{border:1px dashed #000;padding:0 1em 1em;margin:1em 0;break-inside:avoid}\
table{border-collapse:collapse;margin:.8em 0;break-inside:avoid}\
.fill{width:100%}th,td{border:1px solid #000;padding:.25em .5em;text-align:left;vertical-align:top}\
.n{text-align:right}.blank{min-width:7em;height:2.2em}\
svg{max-width:100%;height:auto}figure{margin:1em 0;break-inside:avoid}\
@media print{body{max-width:none;margin:0;padding:0 1px}}";

/// Draws the blocks as a whole page. Its title is the first one of the blocks.
pub(super) fn write(blocks: &[Block], out: &mut impl Write) -> fmt::Result {
    let title = blocks.iter().find_map(|block| match block {
        Block::Title(title) => Some(title.as_str()),
        _ => None,
    });
    write!(
        out,
        "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n",
        escaped(&one_line(title.unwrap_or_default()))
    )?;
    body(blocks, out)?;
    out.write_str("</body>\n</html>\n")
}

fn body(blocks: &[Block], out: &mut impl Write) -> fmt::Result {
    for block in blocks {
        match block {
            Block::Title(title) => writeln!(out, "<h1>{}</h1>", prose(title))?,
            Block::Section(title) => writeln!(out, "<h2>{}</h2>", prose(title))?,
            Block::Paragraph(text) => writeln!(out, "<p>{}</p>", prose(text))?,
            Block::List(items) => {
                out.write_str("<ul>\n")?;
                for item in items {
                    self::item(item, out)?;
                }
                out.write_str("</ul>\n")?;
            }
            Block::Table(table) => self::table(table, out)?,
            Block::Working(working) => self::table(&as_table(working), out)?,
            Block::Command(command) => {
                writeln!(
                    out,
                    "<pre><code>{}</code></pre>",
                    escaped(&one_line(command))
                )?;
            }
            Block::Card(title, blocks) => {
                writeln!(out, "<section>\n<h3>{}</h3>", prose(title))?;
                // Cards are not nested.
                body(blocks, out)?;
                out.write_str("</section>\n")?;
            }
            Block::Picture(picture) => {
                writeln!(out, "<figure>\n{}</figure>", picture.svg)?;
            }
        }
    }
    Ok(())
}

fn item(item: &Item, out: &mut impl Write) -> fmt::Result {
    let text = prose(&item.text);
    match &item.lead {
        Lead::Dash => writeln!(out, "<li>{text}</li>"),
        Lead::Warning => writeln!(out, "<li><strong>Warning:</strong> {text}</li>"),
        Lead::Marks(marks) => {
            let marks = escaped(&one_line(marks));
            writeln!(out, "<li><strong>[{marks}]</strong> {text}</li>")
        }
    }
}

fn table(table: &TextTable, out: &mut impl Write) -> fmt::Result {
    let columns = table.visible();
    let class = |align, to_fill_in| match (align, to_fill_in) {
        (_, true) => " class=\"blank\"",
        (Align::Right, _) => " class=\"n\"",
        (Align::Left, _) => "",
    };
    let fill = match columns.iter().any(|column| column.to_fill_in) {
        true => " class=\"fill\"",
        false => "",
    };
    write!(out, "<table{fill}>\n<thead><tr>")?;
    for column in &columns {
        let class = class(column.align, false);
        write!(out, "<th scope=\"col\"{class}>{}</th>", prose(column.name))?;
    }
    out.write_str("</tr></thead>\n<tbody>\n")?;
    for cells in table.rows() {
        out.write_str("<tr>")?;
        for column in &columns {
            let cell = cells.get(column.index).map_or("", String::as_str);
            let class = class(column.align, column.to_fill_in && cell.is_empty());
            write!(out, "<td{class}>{}</td>", prose(cell))?;
        }
        out.write_str("</tr>\n")?;
    }
    out.write_str("</tbody>\n</table>\n")
}

/// A text with its formulas as they are printed, and with nothing in it that HTML reads as its own.
fn prose(text: &str) -> String {
    let line = with_no_break_spaces(text);
    let mut out = String::with_capacity(line.len());
    for word in line.split_inclusive([' ', '\u{A0}']) {
        // A bracket may belong to the formula or to the sentence.
        let marks = |c: char| !(c.is_alphanumeric() || "()[]".contains(c));
        let bare = word.trim_matches(marks);
        let inner = [
            Some(bare),
            bare.strip_prefix('('),
            bare.strip_suffix(')'),
            bare.strip_prefix('(')
                .and_then(|rest| rest.strip_suffix(')')),
        ];
        let printed = inner.into_iter().flatten().find_map(|inner| {
            let (before, after) = word.split_once(inner)?;
            Some([escaped(before), printed(inner)?, escaped(after)].concat())
        });
        out.push_str(&printed.unwrap_or_else(|| escaped(word)));
    }
    out
}

/// Formulas that have one capital and are no codes, as H318 is one of a hazard.
const ELEMENTS: [&str; 4] = ["O2", "N2", "H2", "Cl2"];

/// A word with its subscripts, if it is surely a formula: it has two capitals and a digit, or it is an
/// element.
fn printed(word: &str) -> Option<String> {
    let capitals = word.chars().filter(char::is_ascii_uppercase).count();
    let digit = word.contains(|c: char| c.is_ascii_digit());
    let likely = (capitals > 1 && digit) || ELEMENTS.contains(&word);
    let formula: Option<Formula> = likely.then(|| word.parse().ok())?;
    // Another spelling stays as it was written.
    let formula = formula.filter(|formula| formula.to_string() == word)?;
    Some(formula.to_html())
}

/// A text with nothing in it that HTML or XML reads as its own.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            _ => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
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
            assert_eq!(prose(text), html);
        }
    }

    #[test]
    fn nothing_in_a_text_is_read_as_html() {
        let mut table = TextTable::new().left(["<th>"]).blank(["Write \"here\""]);
        table.row(["a & b\n<c>".into(), String::new()]);
        let blocks = [
            Block::Title("<script>alert('x')</script>".into()),
            Block::Table(table),
            Block::List([Item::warning("1 < 2")].into()),
            Block::Card("Bench \u{202e}1".into(), [Block::dashes(["&amp;"])].into()),
        ];
        let mut out = String::new();
        write(&blocks, &mut out).unwrap();
        let (_, body) = out.split_once("<body>\n").unwrap();
        assert_eq!(
            body,
            "<h1>&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;</h1>\n\
             <table class=\"fill\">\n<thead><tr><th scope=\"col\">&lt;th&gt;</th><th scope=\"col\">Write &quot;here&quot;</th></tr></thead>\n\
             <tbody>\n<tr><td>a &amp; b &lt;c&gt;</td><td class=\"blank\"></td></tr>\n</tbody>\n</table>\n\
             <ul>\n<li><strong>Warning:</strong> 1 &lt; 2</li>\n</ul>\n\
             <section>\n<h3>Bench \\u{202e}1</h3>\n<ul>\n<li>&amp;amp;</li>\n</ul>\n</section>\n\
             </body>\n</html>\n"
        );
        assert!(out.contains("<title>&lt;script&gt;"), "{out}");
    }
}
