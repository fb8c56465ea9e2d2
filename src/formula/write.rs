//! Writing a formula back: plain, Unicode, HTML, LaTeX, Hill order.

use alloc::format;
use alloc::string::String;

use super::{Composition, Count, Formula, Part, Term, resolve};
use crate::element::{Atom, Element};
use crate::number::Ratio;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Style {
    Plain,
    Unicode,
    Html,
    Latex,
}

pub(super) fn write(formula: &Formula, style: Style) -> String {
    let mut out = String::new();
    for (index, part) in formula.parts().iter().enumerate() {
        if index > 0 {
            out.push_str(if style == Style::Latex {
                "\\cdot "
            } else {
                "·"
            });
        }
        style.part(&mut out, part);
    }
    if style == Style::Plain {
        resolve::part_suspects(&mut out);
    }
    if let Some(state) = formula.state {
        out.push_str(state.label());
    }
    if style == Style::Latex {
        return format!("\\mathrm{{{out}}}");
    }
    out
}

/// The text of one part without its coefficient.
pub(super) fn plain_part(part: &Part) -> String {
    let mut out = String::new();
    Style::Plain.terms(&mut out, part);
    out
}

impl Style {
    fn part(self, out: &mut String, part: &Part) {
        if !part.coefficient.is_one() {
            out.push_str(&self.coefficient(part.coefficient));
        }
        self.terms(out, part);
    }

    fn terms(self, out: &mut String, part: &Part) {
        if part.terms.is_empty() {
            out.push('e');
        }
        if let (Style::Plain, [Term::Atom(atom, Count::Known(20, 1))], 0) =
            (self, part.terms.as_slice(), part.charge)
        {
            if *atom == Atom::natural(Element::HYDROGEN) {
                // Twenty hydrogens, not water with a zero.
                out.push_str("H_{20}");
                return;
            }
        }
        for (index, term) in part.terms.iter().enumerate() {
            let last = index + 1 == part.terms.len() && part.charge == 0;
            match term {
                Term::Atom(atom, count) => {
                    self.atom(out, *atom);
                    self.count(out, atom.element().symbol(), *count, last);
                }
                Term::Open(bracket) => self.bracket(out, bracket.open()),
                Term::Close(bracket, count) => {
                    self.bracket(out, bracket.close());
                    self.count(out, "", *count, last);
                }
            }
        }
        self.charge(out, part.charge);
    }

    fn bracket(self, out: &mut String, bracket: char) {
        if self == Style::Latex && matches!(bracket, '{' | '}') {
            out.push('\\');
        }
        out.push(bracket);
    }

    fn atom(self, out: &mut String, atom: Atom) {
        let symbol = atom.element().symbol();
        match (atom.mass_number(), self) {
            (None, _) => out.push_str(symbol),
            (Some(_), Style::Plain) => out.push_str(&format!("{atom}")),
            (Some(number), Style::Unicode) => {
                out.extend(format!("{number}").chars().map(raised));
                out.push_str(symbol);
            }
            (Some(number), Style::Html) => out.push_str(&format!("<sup>{number}</sup>{symbol}")),
            (Some(number), Style::Latex) => out.push_str(&format!("{{}}^{{{number}}}{symbol}")),
        }
    }

    fn count(self, out: &mut String, symbol: &str, count: Count, last: bool) {
        if count.is_one() {
            return;
        }
        let text = plain_count(count);
        // `Cn` would be copernicium, not carbon in an open count.
        let open = matches!(count, Count::Unknown(_))
            && Element::from_symbol(&format!("{symbol}{text}")).is_some();
        match self {
            Style::Plain if open => out.push_str(&format!("_{{{text}}}")),
            // A full stop with a formula behind it would be read as an adduct dot.
            Style::Plain if !last && text.contains('.') && !text.starts_with("0.") => {
                out.push_str(&format!("_{{{text}}}"));
            }
            Style::Plain => out.push_str(&text),
            Style::Unicode => out.extend(text.chars().map(lowered)),
            Style::Html => out.push_str(&format!("<sub>{text}</sub>")),
            Style::Latex => out.push_str(&format!("_{{{text}}}")),
        }
    }

    fn coefficient(self, count: Count) -> String {
        let vulgar = match count {
            Count::Known(1, 2) => Some(("½", "1/2")),
            Count::Known(1, 3) => Some(("⅓", "1/3")),
            Count::Known(2, 3) => Some(("⅔", "2/3")),
            Count::Known(1, 4) => Some(("¼", "1/4")),
            Count::Known(3, 4) => Some(("¾", "3/4")),
            _ => None,
        };
        match (vulgar, self) {
            (Some((sign, _)), Style::Unicode | Style::Html) => sign.into(),
            (Some((_, text)), Style::Latex) => text.into(),
            _ => plain_count(count),
        }
    }

    fn charge(self, out: &mut String, charge: i32) {
        if charge == 0 {
            return;
        }
        let size = match charge.unsigned_abs() {
            1 => String::new(),
            size => format!("{size}"),
        };
        let minus = charge < 0;
        match self {
            Style::Plain => out.push_str(&format!("^{size}{}", if minus { '-' } else { '+' })),
            Style::Unicode => {
                out.extend(size.chars().map(raised));
                out.push(if minus { '⁻' } else { '⁺' });
            }
            Style::Html => {
                let sign = if minus { '\u{2212}' } else { '+' };
                out.push_str(&format!("<sup>{size}{sign}</sup>"));
            }
            Style::Latex => out.push_str(&format!("^{{{size}{}}}", if minus { '-' } else { '+' })),
        }
    }
}

/// A decimal where it ends, else `p/q`; never an exponent.
fn plain_count(count: Count) -> String {
    match (count, count.ratio()) {
        (Count::Unknown(letter), _) => letter.into(),
        (_, Some(ratio)) => {
            // Written back as digits, a long decimal would be longer than a count may be.
            let text = format!("{ratio}");
            match count {
                Count::Known(n, d) if text.len() > 10 => format!("{n}/{d}"),
                _ => text,
            }
        }
        (_, None) => String::new(),
    }
}

fn lowered(c: char) -> char {
    match c {
        '0'..='9' => char::from_u32(0x2080 + (c as u32 - '0' as u32)).unwrap_or(c),
        'x' => '\u{2093}',
        'n' => '\u{2099}',
        '/' => '\u{2044}',
        _ => c,
    }
}

fn raised(c: char) -> char {
    match c {
        '1' => '\u{00B9}',
        '2' => '\u{00B2}',
        '3' => '\u{00B3}',
        '0' | '4'..='9' => char::from_u32(0x2070 + (c as u32 - '0' as u32)).unwrap_or(c),
        _ => c,
    }
}

impl Composition {
    /// In Hill order: carbon and hydrogen first where there is carbon, else all by symbol.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let complex: Formula = "[Cu(NH3)4]SO4·H2O".parse()?;
    /// assert_eq!(complex.composition()?.hill(), "CuH14N4O5S");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn hill(&self) -> String {
        let mut out = String::new();
        for (atom, count) in self.hill_order() {
            out.push_str(&format!("{atom}"));
            if *count != Ratio::ONE {
                out.push_str(&format!("{count}"));
            }
        }
        out
    }
}
