//! Text to [`Equation`]: the arrow and the signs that join are found, then each species is read.

// The attributes `inline` and `cold` in this module, taken together, make reading and balancing an
// equation 10 % faster (`benches/balance.rs`).

use alloc::format;
use alloc::vec::Vec;
use core::str::FromStr;

use smallvec::SmallVec;

use super::coefficient;
use super::equation::{Arrow, Equation, Side, Species};
use super::error::{Error, ErrorKind};
use super::plus::{Plus, plus};
use crate::formula::{Formula, inside_brackets};
use crate::number::Ratio;
use crate::text::{Detail, Note, Span, digit, is_minus, is_plus, is_space};

/// The longest text that is read as an equation, in bytes.
const MOST_BYTES: usize = 16_384;
const WATER: &str = "H2O";
/// The most species on both sides together.
const MOST_SPECIES: usize = 64;

impl Equation {
    /// Reads an equation leniently and returns notes about what may have another meaning.
    ///
    /// The notes are those of [`Formula::read`], each with the value `species`. The note
    /// `coefficient_of_all` says that a number right before a hydrate was read as the coefficient of
    /// the whole species (`2CuSO4·5H2O`). The note `number_of_waters` says that it was read as the
    /// number of waters, because they come before the salt (`7H2O·MgSO4`). [`FromStr`] is strict: it refuses what the strict reader
    /// of [`Formula`] refuses.
    ///
    /// # Errors
    /// If the text is not an equation, or has two possible meanings of which neither may be
    /// preferred. The span is that in the equation's text.
    ///
    /// ```
    /// use effloresce::reaction::Equation;
    /// let (equation, notes) = Equation::read("2CuSO4·5H2O -> 2CuSO4 + 10H2O")?;
    /// assert_eq!(equation.reactants()[0].formula().to_string(), "CuSO4·5H2O");
    /// assert_eq!(notes[0].code(), "coefficient_of_all");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn read(text: &str) -> Result<(Equation, Vec<Note>), Error> {
        let mut notes = Vec::new();
        let equation = read(text, Some(&mut notes))?;
        Ok((equation, notes))
    }

    /// Returns the equation of these formulas, each with its coefficient.
    ///
    /// # Errors
    /// `bad_equation` if a side is empty, a coefficient is not positive, or a formula cannot be in an
    /// equation (`3H2O` as one formula); `too_large` if there are too many species.
    ///
    /// ```
    /// use effloresce::reaction::{Arrow, Equation};
    /// use effloresce::Ratio;
    /// let with = |text: &str| Ok::<_, effloresce::Error>((None::<Ratio>, text.parse()?));
    /// let left = [with("H2")?, with("O2")?];
    /// let equation = Equation::new(left, Arrow::Forward, [with("H2O")?])?;
    /// assert_eq!(equation.to_string(), "H2 + O2 -> H2O");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn new(
        reactants: impl IntoIterator<Item = (Option<Ratio>, Formula)>,
        arrow: Arrow,
        products: impl IntoIterator<Item = (Option<Ratio>, Formula)>,
    ) -> Result<Equation, Error> {
        let mut species = Vec::new();
        let mut add = |side, (coefficient, formula)| {
            species.push(Species {
                formula,
                coefficient,
                side,
                text: SmallVec::new(),
                span: Span::new(0, 0),
                formula_at: 0,
            });
        };
        reactants
            .into_iter()
            .for_each(|one| add(Side::Reactants, one));
        products
            .into_iter()
            .for_each(|one| add(Side::Products, one));
        let made = Equation {
            text: "".into(),
            species,
            arrow,
        };
        // An equation is possible if its own text reads back as the same equation.
        match read(&made.to_plain(), None) {
            Ok(read) if read == made => Ok(read),
            Err(error) if error.kind() == ErrorKind::TooLarge => Err(error),
            _ => Err(Error::new(
                ErrorKind::BadEquation,
                Detail::new("these formulas and coefficients cannot be written as an equation")
                    .help("give each side a species and each species a positive coefficient; begin no formula with a number"),
            )),
        }
    }
}

impl FromStr for Equation {
    type Err = Error;

    /// Reads an equation strictly.
    fn from_str(text: &str) -> Result<Equation, Error> {
        read(text, None)
    }
}

#[cfg(feature = "serde")]
impl<'de> serde::Deserialize<'de> for Equation {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        crate::text::read_text(deserializer, "an equation as text", str::parse)
    }
}

/// Reads a text leniently if there are notes to fill, and strictly otherwise.
fn read(text: &str, notes: Option<&mut Vec<Note>>) -> Result<Equation, Error> {
    if text.len() > MOST_BYTES {
        let message = format!("the text is longer than {MOST_BYTES} bytes");
        return Err(Error::too_large(Span::new(0, text.len()), message));
    }
    let mut reader = EquationReader {
        text,
        notes,
        species: Vec::with_capacity(8),
        side: Side::Reactants,
        arrow: None,
    };
    reader.read()?;
    reader.finish()
}

struct EquationReader<'a, 'n> {
    text: &'a str,
    notes: Option<&'n mut Vec<Note>>,
    species: Vec<Species>,
    side: Side,
    arrow: Option<Arrow>,
}

impl EquationReader<'_, '_> {
    fn read(&mut self) -> Result<(), Error> {
        let (mut i, mut start, mut depth) = (0, 0, 0_usize);
        let bytes = self.text.as_bytes();
        while let Some(byte) = bytes.get(i) {
            match byte {
                b'(' | b'[' | b'{' => depth += 1,
                b')' | b']' | b'}' => depth = depth.saturating_sub(1),
                b'-' | b'=' | b'<' | 0x80.. => {
                    if let Some((arrow, length)) = read_arrow(self.text, i)? {
                        self.add_species(start, i)?;
                        self.set_arrow(arrow, Span::new(i, i + length))?;
                        i += length;
                        (start, depth) = (i, 0);
                        continue;
                    }
                    let c = self.text.get(i..).and_then(|rest| rest.chars().next());
                    if c.is_some_and(is_plus) && depth == 0 {
                        (i, start) = self.read_plus(i, start)?;
                        continue;
                    }
                    // If a run of signs is not an arrow, no part of it is one.
                    let rest = self.text.get(i..).unwrap_or_default();
                    let after = match c {
                        Some('=') => rest.trim_start_matches('='),
                        Some(c) if is_minus(c) => rest.trim_start_matches(is_minus),
                        _ => rest.get(c.map_or(1, char::len_utf8)..).unwrap_or_default(),
                    };
                    i = self.text.len() - after.len();
                    continue;
                }
                b'+' if depth == 0 => {
                    (i, start) = self.read_plus(i, start)?;
                    continue;
                }
                _ => {}
            }
            i += 1;
        }
        self.add_species(start, self.text.len())
    }

    /// Reads a `+` at `i`. Returns where to go on, and where the current species begins.
    fn read_plus(&mut self, i: usize, start: usize) -> Result<(usize, usize), Error> {
        match plus(self.text, start, i)? {
            Plus::Charges { end } => Ok((end, start)),
            Plus::Joins { at, end } => {
                self.add_species(start, at)?;
                Ok((end, end))
            }
        }
    }

    fn set_arrow(&mut self, arrow: Arrow, span: Span) -> Result<(), Error> {
        if self.arrow.is_some() {
            return Err(Error::bad(
                span,
                "there is a second arrow",
                "write each step as an equation of its own",
            ));
        }
        self.arrow = Some(arrow);
        self.side = Side::Products;
        Ok(())
    }

    /// Reads the species between two signs.
    #[inline]
    fn add_species(&mut self, start: usize, end: usize) -> Result<(), Error> {
        let between = self.text.get(start..end).unwrap_or_default();
        let trimmed = between.trim_start_matches(is_space);
        let at = start + (between.len() - trimmed.len());
        let text = trimmed.trim_end_matches(is_space);
        if text.is_empty() {
            return Err(self.no_species(start, end));
        }
        let span = Span::new(at, at + text.len());
        if self.species.len() == MOST_SPECIES {
            let message = format!("the equation has more than {MOST_SPECIES} species");
            return Err(Error::too_large(span, message));
        }
        let number = coefficient::read(text, at)?;
        let (mut coefficient, mut after, mut spaced) = (None, text, true);
        if let Some(number) = number {
            let rest = text.get(number.length..).unwrap_or_default();
            after = rest.trim_start_matches(is_space);
            spaced = after.len() < rest.len();
            coefficient = Some(number.value);
        }
        let mut note = None;
        let is_unspaced = coefficient.is_some() && !spaced;
        let may_be_water = is_unspaced && after.len() > WATER.len() && after.starts_with(WATER);
        if may_be_water && Formula::is_water_before_salt(after) {
            note = Some(number_of_waters(text, after));
            (coefficient, after) = (None, text);
        }
        let formula_at = at + (text.len() - after.len());
        if after.is_empty() {
            return Err(Error::bad(
                Span::new(formula_at, formula_at),
                "there is no formula after the coefficient",
                "write the formula after its coefficient, such as `2H2O`",
            ));
        }
        let formula = match &mut self.notes {
            None => match after.parse() {
                Ok(formula) => formula,
                Err(error) => return Err(no_formula(after, formula_at, &error)),
            },
            Some(notes) => read_formula_leniently(after, formula_at, notes)?,
        };
        if let Some(notes) = self.notes.as_deref_mut() {
            notes.extend(note);
        }
        if coefficient.is_some() {
            self.check_coefficient(&formula, after, formula_at, span, spaced)?;
        }
        self.species.push(Species {
            formula,
            coefficient,
            side: self.side,
            text: text.as_bytes().into(),
            span,
            formula_at,
        });
        Ok(())
    }

    /// Checks what a coefficient leaves open: whether it counts for all of an adduct, and whether
    /// another number after it belongs to the formula.
    #[inline]
    fn check_coefficient(
        &mut self,
        formula: &Formula,
        after: &str,
        at: usize,
        span: Span,
        spaced: bool,
    ) -> Result<(), Error> {
        let first = after.chars().next();
        let second_number = first.is_some_and(|c| digit(c).is_some() || !c.is_ascii())
            && coefficient::read(after, at)?.is_some();
        let text = self.text.get(span.start..span.end).unwrap_or_default();
        if second_number && !formula.is_adduct() {
            return Err(Error::bad(
                span,
                "there are two numbers before one formula",
                "write one coefficient, such as `5/2 O2` or `2.5 O2`",
            ));
        }
        if second_number {
            let digits = after.trim_start_matches(|c| digit(c).is_some());
            if digits.starts_with(['/', '\u{2044}'])
                || first.is_some_and(|c| crate::formula::vulgar_fraction(c).is_some())
            {
                return Err(Error::say(
                    ErrorKind::AmbiguousNotation,
                    span,
                    format!(
                        "`{text}` has two possible meanings: a mixed number as coefficient, or a coefficient and a formula that begins with a fraction"
                    ),
                    "write the fraction as a decimal",
                ));
            }
        }
        let is_bracketed = || inside_brackets(after).is_some();
        if !spaced && !second_number && formula.is_adduct() && !is_bracketed() {
            if let Some(notes) = self.notes.as_deref_mut() {
                let note = format!(
                    "The number before `{after}` was read as the coefficient of the whole species. In the formula `{text}` it would count for the first part only."
                );
                notes.push(Note::new("coefficient_of_all", note).with("species", text));
            }
        }
        Ok(())
    }

    #[cold]
    fn no_species(&self, start: usize, end: usize) -> Error {
        let all = self.text.trim_matches(is_space);
        if all.is_empty() {
            return Error::bad(
                Span::new(0, self.text.len()),
                "the text is empty",
                "write an equation such as `2H2 + O2 -> 2H2O`",
            );
        }
        let before = self.text.get(..start).unwrap_or_default();
        let next = self.text.get(end..).unwrap_or_default();
        let plus_next = next.starts_with(is_plus);
        let after_plus = before.ends_with(is_plus);
        let message = match (after_plus, end == self.text.len(), self.side) {
            (true, true, _) => "there is no species after the last `+`",
            (true, false, _) => "there is no species between two signs",
            (false, true, _) => "there is no species after the arrow",
            (false, false, Side::Reactants) if !plus_next => "there is no species before the arrow",
            (false, false, Side::Reactants) => "there is no species before the first `+`",
            (false, false, Side::Products) => "there is no species right after the arrow",
        };
        Error::bad(
            Span::new(start, end),
            message,
            "write a species there, or delete the sign",
        )
    }

    fn finish(self) -> Result<Equation, Error> {
        let Some(arrow) = self.arrow else {
            return Err(Error::bad(
                Span::new(0, self.text.len()),
                "there is no arrow between reactants and products",
                "write `->`, `→`, `=`, `⇌` or `<=>` between them",
            ));
        };
        Ok(Equation {
            text: self.text.into(),
            species: self.species,
            arrow,
        })
    }
}

/// Returns the note about a number that counts the water after it, which is written before its salt.
fn number_of_waters(text: &str, after: &str) -> Note {
    let sentence = format!("The number before `{after}` was read as the number of waters.");
    Note::new("number_of_waters", sentence).with("species", text)
}

fn read_formula_leniently(text: &str, at: usize, notes: &mut Vec<Note>) -> Result<Formula, Error> {
    let (formula, found) = Formula::read(text).map_err(|error| no_formula(text, at, &error))?;
    notes.extend(found.into_iter().map(|note| note.with("species", text)));
    Ok(formula)
}

/// Returns the error of a text that is not a formula, but may be something else that people write in
/// equations.
#[cold]
fn no_formula(text: &str, at: usize, error: &crate::formula::Error) -> Error {
    if let Some((offset, c)) = text.char_indices().find(|(_, c)| matches!(c, '↑' | '↓')) {
        let (what, label) = match c {
            '↑' => ("a gas", "(g)"),
            _ => ("a precipitate", "(s)"),
        };
        let before = text.get(..offset).unwrap_or_default();
        let formula = before.trim_end_matches(is_space);
        let label = if formula.ends_with(')') && formula.ends_with(label) {
            ""
        } else {
            label
        };
        return Error::bad(
            Span::new(at + offset, at + offset + c.len_utf8()),
            format!("`{c}` is not a state label"),
            format!("write `{formula}{label}` for {what}"),
        );
    }
    let minus = text.char_indices().find(|(offset, c)| {
        let (before, after) = text.split_at(*offset);
        let after = after.chars().nth(1);
        is_minus(*c) && before.ends_with(is_space) && after.is_some_and(is_space)
    });
    if let Some((offset, c)) = minus {
        return Error::bad(
            Span::new(at + offset, at + offset + c.len_utf8()),
            "there is a minus between two species",
            "write what is taken away among the products, such as `Zn -> Zn^2+ + 2e^-`",
        );
    }
    Error::of_formula(error, at)
}

/// Returns the arrow that begins at `i`, and its length in bytes.
#[inline]
fn read_arrow(text: &str, i: usize) -> Result<Option<(Arrow, usize)>, Error> {
    let rest = text.get(i..).unwrap_or_default();
    let Some(first) = rest.chars().next() else {
        return Ok(None);
    };
    let one = |arrow| Ok(Some((arrow, first.len_utf8())));
    match first {
        '→' | '⟶' | '⇒' | '⟹' | '➝' | '➔' | '➞' => one(Arrow::Forward),
        '⇌' | '⇋' | '⇄' | '⇆' | '↔' | '⟷' | '⇔' | '⟺' => one(Arrow::BothWays),
        '\u{FF1D}' => one(Arrow::Equals),
        '←' | '⟵' | '⇐' => Err(backwards(Span::new(i, i + first.len_utf8()))),
        '=' => {
            let after = rest.trim_start_matches('=');
            let length = rest.len() - after.len();
            match after.starts_with('>') {
                true => Ok(Some((Arrow::Forward, length + 1))),
                false if length <= 2 => Ok(Some((Arrow::Equals, length))),
                false => Ok(None),
            }
        }
        '<' => {
            let inside = rest.get(1..).unwrap_or_default();
            let after = inside.trim_start_matches(|c| c == '=' || is_minus(c));
            let length = 1 + inside.len() - after.len();
            match after.starts_with('>') && length > 1 {
                true => Ok(Some((Arrow::BothWays, length + 1))),
                false if length > 1 => Err(backwards(Span::new(i, i + length))),
                false => Ok(None),
            }
        }
        c if is_minus(c) => {
            let after = rest.trim_start_matches(is_minus);
            if !after.starts_with('>') {
                return Ok(None);
            }
            let length = rest.len() - after.len() + 1;
            let before = text.get(..i).unwrap_or_default();
            let attached = !before.is_empty() && !before.ends_with(is_space);
            let several = rest.chars().take_while(|c| is_minus(*c)).count() > 1;
            if attached && several {
                return Err(Error::say(
                    ErrorKind::AmbiguousNotation,
                    Span::new(i, i + length),
                    "the first minus may be a charge or a part of the arrow",
                    "write a space before the arrow, such as `e^- -> …`",
                ));
            }
            Ok(Some((Arrow::Forward, length)))
        }
        _ => Ok(None),
    }
}

#[cold]
fn backwards(span: Span) -> Error {
    Error::bad(
        span,
        "the arrow points to the left",
        "write the reactants first, then `->`, then the products",
    )
}
