//! `Formula::read`, `FromStr`, and the top of the parser: the cursor reads a part, the draft finishes it.

use alloc::string::{String, ToString};
use alloc::vec::Vec;
use core::str::FromStr;

use super::ambiguity::Ambiguity;
use super::draft::Draft;
use super::parse::{ChargeNotation, Cursor, PartEnd};
use crate::formula::error::Error;
use crate::formula::lex::{self, Typo};
use crate::formula::limits::{MOST_BYTES, MOST_PARTS};
use crate::formula::repr::{Formula, PackedState, State};
use crate::text::{Note, Span, is_minus, is_space, superscript_sign};

impl Formula {
    /// Reads a formula. Each note says what else its text can mean, or what was left out of it.
    ///
    /// | note | about |
    /// | --- | --- |
    /// | `ambiguous_dot` | a full stop that was read as an adduct dot and could be a decimal point |
    /// | `suspect_case` | two capitals that may be a metal (`CUSO4`, `TIO2`), or `CaCo3` and `NaNo3` with a small o |
    /// | `suspect_zero` | `H20` or `K20`, with a zero |
    /// | `suspect_count` | `MgSO4·H2O7`, with the number of waters after the water |
    /// | `suspect_one` | `NaC1` or `CaC12`, with the digit 1 for a small l |
    /// | `suspect_letter` | `NaCI`, with a capital I for a small l |
    /// | `suspect_dot` | `MgSO47H2O`, without the dot |
    /// | `full_stop` | a full stop at the end, which was left out |
    /// | `bracketed_water` | water in brackets at the end, which was read as water of crystallization |
    ///
    /// [`FromStr`] is strict. It refuses a text with any of these notes but the last.
    ///
    /// # Errors
    /// Returns an error if the text is not a formula, or if it has two meanings of which neither is likelier.
    ///
    /// ```
    /// use effloresce::Formula;
    /// let (clay, notes) = Formula::read("Al2O3.2SiO2.2H2O")?;
    /// assert_eq!(clay.to_string(), "Al2O3·2SiO2·2H2O");
    /// assert_eq!(notes[0].code(), "ambiguous_dot");
    /// assert!("Al2O3.2SiO2.2H2O".parse::<Formula>().is_err());
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    pub fn read(text: &str) -> Result<(Formula, Vec<Note>), Error> {
        let (mut formula, mut notes) = (Formula::new(), Vec::new());
        formula.fill(text, Some(&mut notes))?;
        Ok((formula, notes))
    }

    /// Reads a formula as [`read`](Formula::read) does, and returns whether another formula may have
    /// been meant, because of a probable typing error.
    #[cfg(feature = "class")]
    pub(crate) fn read_with_doubt(text: &str) -> Result<(Formula, Vec<Note>, bool), Error> {
        let mut formula = Formula::new();
        let mut draft = Draft::new(text, &mut formula);
        draft.read()?;
        let mut ambiguities = draft.ambiguities.iter();
        let doubtful = ambiguities.any(|a| matches!(a, Ambiguity::Typo(_)));
        let notes = draft.notes();
        Ok((formula, notes, doubtful))
    }

    /// Whether a text has water before its salt, `H2O·MgSO4`, so that a number before it counts the water.
    #[cold]
    pub(crate) fn is_water_before_salt(text: &str) -> bool {
        let Some((first, _)) = text.split_once(lex::is_dot) else {
            return false;
        };
        let is_water = |(formula, _): (Formula, _)| formula == Formula::water();
        Formula::read(first).is_ok_and(is_water)
            && Formula::read(text).is_ok_and(|(formula, _)| !formula.begins_with_water())
    }

    /// The formula that was probably meant, if this one looks like a typing error.
    #[cold]
    pub(crate) fn perhaps_meant(&self) -> Option<String> {
        let text = self.plain_with_typos();
        let mut formula = Formula::new();
        let mut draft = Draft::new(&text, &mut formula);
        draft.read().ok()?;
        let mut found = draft.ambiguities.iter();
        let is_typo = found.any(|found| matches!(found, Ambiguity::Typo(_)));
        is_typo.then(|| draft.corrected())
    }

    /// Reads a text into an empty formula. What the text leaves open is noted, or refused without `notes`.
    pub(in crate::formula) fn fill(
        &mut self,
        text: &str,
        notes: Option<&mut Vec<Note>>,
    ) -> Result<(), Error> {
        let mut draft = Draft::new(text, self);
        draft.read().map_err(with_readable_help)?;
        if draft.ambiguities.is_empty() {
            return Ok(());
        }
        match notes {
            Some(notes) => *notes = draft.notes(),
            None => draft.refusal().map_or(Ok(()), Err)?,
        }
        Ok(())
    }
}

impl FromStr for Formula {
    type Err = Error;

    /// Reads a formula strictly. It refuses most of what [`Formula::read`] only notes.
    #[inline]
    fn from_str(text: &str) -> Result<Formula, Error> {
        let mut formula = Formula::new();
        formula.fill(text, None)?;
        Ok(formula)
    }
}

impl Draft<'_> {
    /// Reads the text.
    #[inline(always)]
    fn read(&mut self) -> Result<(), Error> {
        let text = self.text;
        if is_electron(text) {
            *self.formula = Formula::electron();
            return Ok(());
        }
        if let Err(error) = self.read_parts(Cursor::new(text)) {
            self.read_inside_brackets(error)?;
        }
        if lex::may_begin_with_metal(text)
            || (!self.has_small_letters && lex::may_be_in_capitals(text))
        {
            lex::metals_in_capitals(text, |pair| {
                self.note(Ambiguity::Typo(Typo::MetalInCapitals(pair)));
            });
        }
        if self.maybe_typo || lex::may_end_in_typo(text) {
            lex::each_typo(text, |typo| self.note(Ambiguity::Typo(typo)));
        }
        if self.ambiguities.is_empty() && self.is_small_by_counts() {
            return Ok(());
        }
        self.finish()
    }

    #[inline(always)]
    fn read_parts(&mut self, mut cursor: Cursor<'_>) -> Result<(), Error> {
        let text = self.text;
        if text.len() > MOST_BYTES {
            return Err(text_too_long(text));
        }
        for _ in 0..MOST_PARTS {
            let goes_on = match cursor.part(self)? {
                PartEnd::Plain { dot } => {
                    self.finish_part(cursor.at, cursor.last_outermost())?;
                    cursor.at += dot;
                    dot > 0
                }
                PartEnd::Rare(charge) => self.finish_rare_part(&mut cursor, charge)?,
            };
            if !goes_on {
                if self.part.offset > 0 && self.formula.packed.may_begin_with_water() {
                    self.put_water_last();
                }
                return Ok(());
            }
        }
        Err(Error::too_large(
            cursor.here(),
            "the number of parts",
            MOST_PARTS,
        ))
    }

    /// Reads a text that is one adduct in brackets, `(3CdSO4·8H2O)`, and was not read as it is.
    #[cold]
    fn read_inside_brackets(&mut self, error: Error) -> Result<(), Error> {
        let whole = self.text;
        let inside = lex::inside_brackets(whole);
        let inside = inside.and_then(|span| Some((span, whole.get(..span.end)?)));
        let Some((inside, text)) = inside.filter(|(_, text)| text.contains(lex::is_dot)) else {
            return Err(error);
        };
        self.restart(text);
        let mut cursor = Cursor::new(text);
        cursor.at = inside.start;
        self.read_parts(cursor)?;
        if self.formula.state().is_some() || !self.formula.is_adduct() {
            return Err(error);
        }
        self.text = whole;
        let (_, state) = State::split_label(whole.trim_end_matches(is_space));
        self.formula.state = PackedState::of(state);
        Ok(())
    }

    /// Moves water before the salt to the end: `7H2O·MgSO4` is MgSO4·7H2O. Water alone stays as it is.
    #[cold]
    fn put_water_last(&mut self) {
        if !self.formula.begins_with_water() {
            return;
        }
        let mut parts = self.formula.parts();
        let waters = parts.iter().take_while(|part| part.is_water()).count();
        if waters < parts.len() {
            parts.rotate_left(waters);
            self.formula.packed = Formula::from_parts(&parts, None).packed;
        }
    }

    /// Finishes a part after which something rare follows. Whether another part follows that.
    #[cold]
    fn finish_rare_part(
        &mut self,
        cursor: &mut Cursor<'_>,
        charge: Option<ChargeNotation>,
    ) -> Result<bool, Error> {
        let (end, opened) = (cursor.at, cursor.last_outermost());
        match charge {
            None => self.finish_part(end, opened)?,
            Some(charge) => self.finish_charged_part(end, opened, charge)?,
        }
        cursor.next_part(self)
    }

    /// Looks at the whole formula once more if it is ambiguous or may be too large.
    #[cold]
    fn finish(&mut self) -> Result<(), Error> {
        if !self.ambiguities.is_empty() {
            self.check_parts()?;
            // The note about a full stop at the end comes last.
            self.ambiguities
                .sort_by_key(|ambiguity| matches!(ambiguity, Ambiguity::FullStop(_)));
        }
        self.check_size()
    }
}

/// The error without a corrected text in its help, if that cannot be read.
#[cold]
fn with_readable_help(error: Error) -> Error {
    let Some((say, rest)) = error.help().and_then(|help| help.split_once(": `")) else {
        return error;
    };
    let corrected = rest.split('`').next().unwrap_or_default();
    let mut formula = Formula::new();
    if Draft::new(corrected, &mut formula).read().is_ok() {
        return error;
    }
    let span = error.span().unwrap_or(Span::new(0, 0));
    Error::say(error.kind(), span, error.to_string(), String::from(say))
}

#[cold]
fn text_too_long(text: &str) -> Error {
    let limit = alloc::format!("{MOST_BYTES} bytes");
    Error::too_large(Span::new(0, text.len()), "the text", limit)
}

#[inline(always)]
fn is_electron(text: &str) -> bool {
    // Nearly every formula begins with another sign.
    let first = text.as_bytes().first();
    first.is_some_and(|first| *first == b'e' || !first.is_ascii_graphic())
        && is_electron_alone(text)
}

fn is_electron_alone(text: &str) -> bool {
    let text = text.trim_matches(is_space);
    let Some(sign) = text.strip_prefix('e') else {
        return false;
    };
    let raised = sign.strip_prefix('^');
    let braced = raised.and_then(|sign| sign.strip_prefix('{')?.strip_suffix('}'));
    let mut sign = braced.or(raised).unwrap_or(sign).chars();
    sign.next()
        .is_some_and(|c| is_minus(c) || superscript_sign(c) == Some(true))
        && sign.next().is_none()
}
