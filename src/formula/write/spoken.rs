//! The words of a screen reader: symbols by themselves, words for the rest.

use alloc::format;
use alloc::string::String;
use core::fmt;

use super::pieces::{Charge, plain_count, to_text, vulgar};
use crate::formula::repr::{Bracket, Count, Formula, Part, State, Term};

impl Formula {
    /// Returns the formula for a screen reader: every symbol by itself, words for dots, brackets,
    /// charges, fractions and states, and a comma for each pause.
    ///
    /// The words are a rule of this crate: `Cu S O 4, dot, 5 H 2 O`. The pause keeps `4, dot, 5`
    /// from being heard as 4.5, and the charge of `S O 4, 2 minus` from its count. There is nothing
    /// in it but letters, digits, spaces, commas, hyphens and decimal points.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let spoken = |text: &str| text.parse::<Formula>().map(|formula| formula.to_spoken());
    /// assert_eq!(spoken("CaSO4·½H2O")?, "Ca S O 4, dot, one half H 2 O");
    /// assert_eq!(spoken("[Fe(CN)6]^3-")?, "open square bracket Fe open bracket C N \
    ///     close bracket 6 close square bracket, 3 minus");
    /// assert_eq!(spoken("[13C]O2(g)")?, "carbon-13 O 2, gas");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    #[doc(alias = "accessibility")]
    pub fn to_spoken(&self) -> String {
        to_text(|out| self.write_spoken(out))
    }

    /// Writes what [`to_spoken`](Formula::to_spoken) gives.
    ///
    /// # Errors
    /// Returns the error of `out` if it refuses the text.
    pub fn write_spoken(&self, out: &mut impl fmt::Write) -> fmt::Result {
        if self.is_electron() {
            return out.write_str("electron");
        }
        let mut voice = Voice { out, begun: false };
        for (index, part) in self.parts().iter().enumerate() {
            if index > 0 {
                voice.pause()?;
                voice.say("dot")?;
                voice.pause()?;
            }
            voice.part(part)?;
        }
        if let Some(state) = self.state() {
            voice.pause()?;
            voice.say(state.word())?;
        }
        Ok(())
    }
}

/// Words one after another, with a space between them.
struct Voice<'o> {
    out: &'o mut dyn fmt::Write,
    begun: bool,
}

impl Voice<'_> {
    fn say(&mut self, word: &str) -> fmt::Result {
        if self.begun {
            self.out.write_char(' ')?;
        }
        self.begun = true;
        self.out.write_str(word)
    }

    fn pause(&mut self) -> fmt::Result {
        self.out.write_char(',')
    }

    fn part(&mut self, part: &Part) -> fmt::Result {
        match (part.coefficient, vulgar(part.coefficient)) {
            (Count::ONE, _) => {}
            (_, Some((_, words))) => self.say(words)?,
            (count, None) => self.say(&number(count))?,
        }
        for (index, term) in part.terms.iter().enumerate() {
            self.term(*term, part.needs_one(index))?;
        }
        match Charge::of(part.charge) {
            Some(charge) => self.charge(charge),
            None => Ok(()),
        }
    }

    fn term(&mut self, term: Term, needs_one: bool) -> fmt::Result {
        let count = match term {
            Term::Open(bracket) => return self.bracket("open", bracket),
            Term::Close(bracket, count) => {
                self.bracket("close", bracket)?;
                count
            }
            Term::Atom(atom, count) => {
                match atom.mass_number() {
                    None => self.say(atom.element().symbol())?,
                    Some(mass) => self.say(&format!("{}-{mass}", atom.element().name()))?,
                }
                if atom.mass_number().is_some() && (needs_one || !count.is_one()) {
                    // Two numbers would run into one.
                    self.say("sub")?;
                }
                count
            }
        };
        if count.is_one() && !needs_one {
            return Ok(());
        }
        self.say(&number(count))
    }

    fn bracket(&mut self, verb: &str, bracket: Bracket) -> fmt::Result {
        self.say(verb)?;
        self.say(match bracket {
            Bracket::Round => "bracket",
            Bracket::Square => "square bracket",
            Bracket::Curly => "brace",
        })
    }

    fn charge(&mut self, charge: Charge) -> fmt::Result {
        self.pause()?;
        if charge.size != 1 {
            self.say(&charge.digits())?;
        }
        self.say(if charge.negative { "minus" } else { "plus" })
    }
}

/// A decimal if it ends, otherwise `8 over 3`.
fn number(count: Count) -> String {
    plain_count(count).replace('/', " over ")
}

impl State {
    const fn word(self) -> &'static str {
        match self {
            State::Solid => "solid",
            State::Liquid => "liquid",
            State::Gas => "gas",
            State::Aqueous => "aqueous",
        }
    }
}
