//! The water of crystallization of a formula.

use alloc::vec::Vec;

use super::count::Count;
use super::formula::Formula;
use super::part::Part;
use super::spans::ShortSpan;
use super::tokens::Token;
use crate::element::Element;
use crate::number::Ratio;

impl Formula {
    /// Returns the water of crystallization, in moles for each mole of the formula. It is the coefficient
    /// of H2O after a dot. `None` if there is no such water, or an unknown number of it.
    #[must_use]
    #[doc(alias = "degree of hydration")]
    pub fn waters(&self) -> Option<Ratio> {
        let mut sum = None;
        for part in self.parts().iter().skip(1).filter(|part| part.is_water()) {
            sum = Some(sum.unwrap_or(Ratio::ZERO) + part.coefficient.ratio()?);
        }
        sum
    }

    /// Returns whether the formula has water after a dot, be its number known or not.
    #[must_use]
    pub fn is_hydrate(&self) -> bool {
        self.parts().iter().skip(1).any(Part::is_water)
    }

    /// Returns the formula without its water of crystallization, or `None` if nothing is left.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let hydrate: Formula = "CuSO4·xH2O".parse()?;
    /// assert_eq!(hydrate.anhydrous().unwrap().to_string(), "CuSO4");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn anhydrous(&self) -> Option<Formula> {
        let parts = self.dry_parts()?;
        Some(Formula::from_parts(&parts, self.state()))
    }

    /// Whether the first part is water in its usual spelling, and another part follows.
    pub(in crate::formula) fn begins_with_water(&self) -> bool {
        let mut tokens = self.packed.tokens().peekable();
        tokens.next_if(|token| matches!(token, Token::Coefficient(_)));
        let mut is_next = |element: Element, count| {
            tokens.next() == Some(Token::Atom(element.into(), Count::Known(count, 1)))
        };
        is_next(Element::HYDROGEN, 2)
            && is_next(Element::OXYGEN, 1)
            && matches!(tokens.next(), Some(Token::Dot(_)))
    }

    /// The parts without water of crystallization, or `None` if nothing is left.
    pub(in crate::formula) fn dry_parts(&self) -> Option<Vec<Part>> {
        let parts = self.parts().into_iter().enumerate();
        let dry = parts.filter(|(index, part)| *index == 0 || !part.is_water());
        let dry: Vec<Part> = dry.map(|(_, part)| part).collect();
        (!dry.iter().all(Part::is_water)).then_some(dry)
    }

    /// Returns one formula unit of the anhydrous salt of a hydrate, and its waters. Those of
    /// `3CdSO4·8H2O` are `CdSO4` and 8/3. A salt of several parts is one unit as it is. `None` if the
    /// formula is not a hydrate with a known number of waters.
    ///
    /// ```
    /// # use effloresce::Formula;
    /// let mineral: Formula = "3CdSO4·8H2O".parse()?;
    /// let (salt, waters) = mineral.one_formula_unit().unwrap();
    /// assert_eq!((salt.to_string(), waters.to_string()), ("CdSO4".into(), "8/3".into()));
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn one_formula_unit(&self) -> Option<(Formula, Ratio)> {
        let waters = self.waters()?;
        let mut parts = self.dry_parts()?;
        let mut units = Ratio::ONE;
        if let [part] = parts.as_mut_slice() {
            units = part.coefficient.ratio()?;
            part.coefficient = Count::ONE;
        }
        let salt = Formula::from_parts(&parts, self.state());
        Some((salt, waters.checked_div(&units)?))
    }

    /// The hydrate with all the water that is inside round brackets after the dot: `CuSO4·5H2O` for
    /// `[Cu(H2O)4]SO4·H2O`. `None` if there is no such water, or an unknown number.
    pub(crate) fn with_bound_water_after_dot(&self) -> Option<Formula> {
        let bound = self.waters_coordinated()?;
        let after = match self.is_hydrate() {
            true => self.waters()?,
            false => Ratio::ZERO,
        };
        let mut parts = self.dry_parts()?;
        for part in &mut parts {
            part.remove_bound_water();
        }
        let is_empty = parts.iter().any(|part| part.terms.is_empty());
        let salt = (!is_empty).then(|| Formula::from_parts(&parts, self.state()))?;
        salt.with_waters(&(after + bound))
    }

    /// Returns the hydrate of this formula with a number of waters after the dot. Zero waters give the
    /// anhydrous formula. `None` if the number is negative or its fraction too long to write.
    ///
    /// ```
    /// use effloresce::{Formula, Ratio};
    /// let plaster: Formula = "CaSO4".parse()?;
    /// let half = Ratio::new(1, 2).unwrap();
    /// assert_eq!(plaster.with_waters(&half).unwrap().to_string(), "CaSO4·0.5H2O");
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn with_waters(&self, waters: &Ratio) -> Option<Formula> {
        let mut hydrate = self.anhydrous()?;
        if !waters.is_zero() {
            hydrate.push_part(Count::from_ratio(waters)?, ShortSpan::NONE);
            hydrate.push_water();
        }
        Some(hydrate)
    }
}
