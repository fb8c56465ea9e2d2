//! Writing a formula, one form a file. Whatever the parser accepts is written: only the place that
//! is written to can refuse.

mod display;
mod hill;
mod html;
mod latex;
mod mathml;
mod mhchem;
mod plain;
mod spoken;
#[cfg(test)]
mod tests;
mod unicode;

use alloc::format;
use alloc::string::String;
use core::fmt;

use super::repr::{Count, Formula, Part, Term};
use crate::element::Atom;

pub(super) use plain::plain_part;

/// A form that stands in one line, piece by piece in the order of the formula.
trait Line {
    /// What joins two parts.
    const DOT: &'static str = "·";

    fn coefficient(out: &mut dyn fmt::Write, count: Count) -> fmt::Result;
    fn atom(out: &mut dyn fmt::Write, atom: Atom) -> fmt::Result;
    /// Never called for a count of one.
    fn count(out: &mut dyn fmt::Write, counted: Counted<'_>) -> fmt::Result;
    /// Never called for a charge of nought.
    fn charge(out: &mut dyn fmt::Write, charge: Charge) -> fmt::Result;

    fn bracket(out: &mut dyn fmt::Write, bracket: char) -> fmt::Result {
        out.write_char(bracket)
    }

    fn formula(out: &mut dyn fmt::Write, formula: &Formula) -> fmt::Result {
        Self::parts(out, formula)?;
        match formula.state() {
            Some(state) => out.write_str(state.label()),
            None => Ok(()),
        }
    }

    fn parts(out: &mut dyn fmt::Write, formula: &Formula) -> fmt::Result {
        for (index, part) in formula.parts().iter().enumerate() {
            if index > 0 {
                out.write_str(Self::DOT)?;
            }
            if !part.coefficient.is_one() {
                Self::coefficient(out, part.coefficient)?;
            }
            Self::terms(out, part)?;
        }
        Ok(())
    }

    /// The part without its coefficient.
    fn terms(out: &mut dyn fmt::Write, part: &Part) -> fmt::Result {
        line_of_terms::<Self>(out, part)
    }
}

fn line_of_terms<L: Line + ?Sized>(out: &mut dyn fmt::Write, part: &Part) -> fmt::Result {
    if part.terms.is_empty() {
        out.write_char('e')?;
    }
    for (index, term) in part.terms.iter().enumerate() {
        let (symbol, count) = match term {
            Term::Atom(atom, count) => {
                L::atom(out, *atom)?;
                (atom.element().symbol(), *count)
            }
            Term::Open(bracket) => {
                L::bracket(out, bracket.open())?;
                continue;
            }
            Term::Close(bracket, count) => {
                L::bracket(out, bracket.close())?;
                ("", *count)
            }
        };
        if !count.is_one() {
            let last = index + 1 == part.terms.len() && part.charge == 0;
            L::count(
                out,
                Counted {
                    symbol,
                    count,
                    last,
                },
            )?;
        }
    }
    match Charge::of(part.charge) {
        Some(charge) => L::charge(out, charge),
        None => Ok(()),
    }
}

/// A count and what it stands behind.
#[derive(Clone, Copy)]
struct Counted<'a> {
    /// Of the atom before it, if it is no bracket.
    symbol: &'a str,
    count: Count,
    /// Whether nothing but a dot, a label or the end follows.
    last: bool,
}

/// A charge as it is shown: a size, which is not written where it is one, and a sign.
#[derive(Clone, Copy)]
struct Charge {
    size: u32,
    negative: bool,
}

impl Charge {
    fn of(charge: i32) -> Option<Charge> {
        (charge != 0).then_some(Charge {
            size: charge.unsigned_abs(),
            negative: charge < 0,
        })
    }

    /// The digits of the size, if they are written.
    fn digits(self) -> String {
        match self.size {
            1 => String::new(),
            size => format!("{size}"),
        }
    }

    fn sign(self) -> char {
        if self.negative { '-' } else { '+' }
    }

    /// The sign with the minus of typography.
    fn typographic_sign(self) -> char {
        if self.negative { '\u{2212}' } else { '+' }
    }
}

/// The fractions that have a sign and a name of their own.
struct Vulgar {
    sign: &'static str,
    line: &'static str,
    words: &'static str,
}

fn vulgar(count: Count) -> Option<Vulgar> {
    let (sign, line, words) = match count {
        Count::Known(1, 2) => ("½", "1/2", "one half"),
        Count::Known(1, 3) => ("⅓", "1/3", "one third"),
        Count::Known(2, 3) => ("⅔", "2/3", "two thirds"),
        Count::Known(1, 4) => ("¼", "1/4", "one quarter"),
        Count::Known(3, 4) => ("¾", "3/4", "three quarters"),
        _ => return None,
    };
    Some(Vulgar { sign, line, words })
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

/// What is written, as a text of its own. A `String` takes everything.
fn text(write: impl FnOnce(&mut String) -> fmt::Result) -> String {
    let mut out = String::with_capacity(64);
    let written = write(&mut out);
    debug_assert!(written.is_ok(), "a text refused what was written to it");
    out
}
