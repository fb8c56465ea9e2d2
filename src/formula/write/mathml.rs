//! Presentation `MathML` 3.

use alloc::string::String;
use alloc::vec::Vec;
use core::fmt;

use super::pieces::{Charge, plain_count, to_text, vulgar};
use crate::element::Atom;
use crate::formula::repr::{Count, Formula, Part, Term};

/// The namespace of `MathML` (W3C, 1998), the same in every version.
const NAMESPACE: &str = "http://www.w3.org/1998/Math/MathML";

impl Formula {
    /// Returns the formula as presentation `MathML` 3: upright symbols, one `msub` for each count, `mmultiscripts` for a
    /// labelled atom, and the [spoken form](Formula::to_spoken) as `alttext`.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let water: Formula = "H2O".parse()?;
    /// assert_eq!(water.to_mathml(), concat!(
    ///     r#"<math xmlns="http://www.w3.org/1998/Math/MathML" alttext="H 2 O"><mrow>"#,
    ///     r#"<msub><mi mathvariant="normal">H</mi><mn>2</mn></msub>"#,
    ///     r#"<mi mathvariant="normal">O</mi></mrow></math>"#,
    /// ));
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn to_mathml(&self) -> String {
        to_text(|out| self.write_mathml(out))
    }

    /// Writes what [`to_mathml`](Formula::to_mathml) gives.
    ///
    /// # Errors
    /// Returns the error of `out` if it refuses the text.
    pub fn write_mathml(&self, out: &mut impl fmt::Write) -> fmt::Result {
        // The spoken form has no sign that XML would read as markup.
        write!(out, "<math xmlns=\"{NAMESPACE}\" alttext=\"")?;
        self.write_spoken(out)?;
        out.write_str("\">")?;
        self.write_mathml_row(out)?;
        out.write_str("</math>")
    }

    /// Writes the formula as a part of a larger one.
    pub(crate) fn write_mathml_row(&self, out: &mut dyn fmt::Write) -> fmt::Result {
        for (index, part) in self.parts().iter().enumerate() {
            if index > 0 {
                out.write_str("<mo>·</mo>")?;
            }
            out.write_str("<mrow>")?;
            write_part(out, part)?;
            out.write_str("</mrow>")?;
        }
        if let Some(state) = self.state() {
            write!(out, "<mtext>{}</mtext>", state.label())?;
        }
        Ok(())
    }
}

fn write_part(out: &mut dyn fmt::Write, part: &Part) -> fmt::Result {
    if !part.coefficient.is_one() {
        write_number(out, part.coefficient, vulgar(part.coefficient).is_some())?;
    }
    let charge = Charge::of(part.charge);
    if part.terms.is_empty() {
        let scripts = Scripts {
            charge,
            ..Scripts::of(Count::ONE)
        };
        return scripts.around(out, |out| write_symbol(out, "e"));
    }
    let charged = part.charged_term();
    let mut groups = Vec::new();
    for (index, term) in part.terms.iter().enumerate() {
        let charge = charge.filter(|_| index == charged);
        match term {
            Term::Atom(atom, count) => {
                let scripts = Scripts {
                    charge,
                    mass_number: atom.mass_number(),
                    ..Scripts::of(*count)
                };
                scripts.around(out, |out| write_atom(out, *atom))?;
            }
            Term::Open(bracket) => {
                let scripts = Scripts {
                    charge,
                    ..Scripts::of(part.closing(index).map_or(Count::ONE, |(_, count)| count))
                };
                scripts.open(out)?;
                out.write_str("<mrow>")?;
                write_bracket(out, bracket.open())?;
                groups.push(scripts);
            }
            Term::Close(bracket, _) => {
                write_bracket(out, bracket.close())?;
                out.write_str("</mrow>")?;
                if let Some(scripts) = groups.pop() {
                    scripts.close(out)?;
                }
            }
        }
    }
    Ok(())
}

fn write_atom(out: &mut dyn fmt::Write, atom: Atom) -> fmt::Result {
    write_symbol(out, atom.element().symbol())
}

fn write_symbol(out: &mut dyn fmt::Write, symbol: &str) -> fmt::Result {
    write!(out, "<mi mathvariant=\"normal\">{symbol}</mi>")
}

fn write_bracket(out: &mut dyn fmt::Write, bracket: char) -> fmt::Result {
    write!(out, "<mo stretchy=\"false\">{bracket}</mo>")
}

/// A number, as a fraction if `as_fraction` says so or if its decimal does not end.
fn write_number(out: &mut dyn fmt::Write, count: Count, as_fraction: bool) -> fmt::Result {
    let plain = plain_count(count);
    match count {
        Count::Unknown(letter) => write!(out, "<mi>{letter}</mi>"),
        Count::Known(n, d) if as_fraction || plain.contains('/') => {
            write!(out, "<mfrac><mn>{n}</mn><mn>{d}</mn></mfrac>")
        }
        Count::Known(..) => write!(out, "<mn>{plain}</mn>"),
    }
}

/// The scripts of an atom or a group: the count and the charge after it, the mass number before
/// it.
struct Scripts {
    count: Count,
    charge: Option<Charge>,
    mass_number: Option<u16>,
}

impl Scripts {
    const fn of(count: Count) -> Scripts {
        Scripts {
            count,
            charge: None,
            mass_number: None,
        }
    }

    fn element(&self) -> Option<&'static str> {
        match (self.mass_number, self.count.is_one(), self.charge) {
            (Some(_), ..) => Some("mmultiscripts"),
            (None, false, Some(_)) => Some("msubsup"),
            (None, false, None) => Some("msub"),
            (None, true, Some(_)) => Some("msup"),
            (None, true, None) => None,
        }
    }

    fn around(
        &self,
        out: &mut dyn fmt::Write,
        base: impl FnOnce(&mut dyn fmt::Write) -> fmt::Result,
    ) -> fmt::Result {
        self.open(out)?;
        base(out)?;
        self.close(out)
    }

    fn open(&self, out: &mut dyn fmt::Write) -> fmt::Result {
        match self.element() {
            Some(name) => write!(out, "<{name}>"),
            None => Ok(()),
        }
    }

    fn close(&self, out: &mut dyn fmt::Write) -> fmt::Result {
        let Some(name) = self.element() else {
            return Ok(());
        };
        // Only mmultiscripts needs an element for a script that is absent.
        let behind = !self.count.is_one() || self.charge.is_some();
        let empty = self.mass_number.is_some() && behind;
        if !self.count.is_one() {
            write_number(out, self.count, false)?;
        } else if empty {
            out.write_str("<none/>")?;
        }
        match self.charge {
            Some(charge) => write_charge(out, charge)?,
            None if empty => out.write_str("<none/>")?,
            None => {}
        }
        if let Some(mass_number) = self.mass_number {
            write!(out, "<mprescripts/><none/><mn>{mass_number}</mn>")?;
        }
        write!(out, "</{name}>")
    }
}

fn write_charge(out: &mut dyn fmt::Write, charge: Charge) -> fmt::Result {
    let sign = charge.typographic_sign();
    match charge.size {
        1 => write!(out, "<mo>{sign}</mo>"),
        size => write!(out, "<mrow><mn>{size}</mn><mo>{sign}</mo></mrow>"),
    }
}

impl Part {
    /// The term that has the charge: the last atom, or the opening of the group that ends the part.
    fn charged_term(&self) -> usize {
        let mut depth = 0_usize;
        for (index, term) in self.terms.iter().enumerate().rev() {
            match term {
                Term::Close(..) => depth += 1,
                Term::Open(_) => depth = depth.saturating_sub(1),
                Term::Atom(..) => {}
            }
            if depth == 0 {
                return index;
            }
        }
        0
    }
}
