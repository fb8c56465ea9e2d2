//! Formulas as they are misread by somebody who overlooks a subscript or a bracket.

use alloc::vec::Vec;

use super::repr::{Count, Formula, Part, Term};

impl Formula {
    /// Returns every formula that this one is misread as, by one mistake: a subscript is overlooked, or
    /// the count of a bracket is. Or that count is given to the first or last atom in the bracket alone.
    ///
    /// ```
    /// use effloresce::Formula;
    /// let alum: Formula = "Al2(SO4)3".parse()?;
    /// let misread: Vec<String> = alum.misreadings().iter().map(ToString::to_string).collect();
    /// assert_eq!(misread, ["Al(SO4)3", "Al2(SO)3", "Al2(SO4)", "Al2(S3O4)", "Al2(SO12)"]);
    /// # Ok::<(), effloresce::formula::Error>(())
    /// ```
    #[must_use]
    pub fn misreadings(&self) -> Vec<Formula> {
        let mut all = Vec::new();
        let parts = self.parts();
        for (index, part) in parts.iter().enumerate() {
            for part in part.misreadings() {
                let mut parts = parts.clone();
                if let Some(misread) = parts.get_mut(index) {
                    *misread = part;
                }
                let formula = Formula::from_parts(&parts, self.state());
                if formula != *self && !all.contains(&formula) {
                    all.push(formula);
                }
            }
        }
        all
    }

    /// Returns every formula with one atom of one element more or fewer, without those of
    /// [`misreadings`](Formula::misreadings).
    pub(crate) fn miscounts(&self) -> Vec<Formula> {
        let Ok(composition) = self.composition() else {
            return Vec::new();
        };
        let misread: Vec<_> = self
            .misreadings()
            .iter()
            .map(Formula::composition)
            .collect();
        let mut all = Vec::new();
        for (atom, _) in &composition {
            for change in [1, -1] {
                let mut part = Part::empty();
                for (other, count) in &composition {
                    let count = if other == atom {
                        count + change
                    } else {
                        count.clone()
                    };
                    let count = Count::from_ratio(&count);
                    part.terms
                        .extend(count.map(|count| Term::Atom(other, count)));
                }
                let formula = Formula::from_parts(&[part], self.state());
                if !misread.contains(&formula.composition()) {
                    all.push(formula);
                }
            }
        }
        all
    }
}

impl Part {
    fn misreadings(&self) -> Vec<Part> {
        let mut all = Vec::new();
        for (index, term) in self.terms.iter().enumerate() {
            let Some(forgotten) = self.with_count(index, Count::ONE) else {
                continue;
            };
            let Term::Close(_, count) = term else {
                all.push(forgotten);
                continue;
            };
            all.push(forgotten.clone());
            let inside = self.group_before(index);
            let atoms = || {
                let within = inside
                    .clone()
                    .filter_map(|at| self.terms.get(at).map(|t| (at, t)));
                within.filter(|(_, term)| matches!(term, Term::Atom(..)))
            };
            let ends = [atoms().next(), atoms().next_back()];
            for (at, atom) in ends.into_iter().flatten() {
                let times = atom.count().and_then(|own| own.times(*count));
                all.extend(times.and_then(|times| forgotten.with_count(at, times)));
            }
        }
        all
    }

    /// The indices of the terms inside the bracket that closes at `close`.
    fn group_before(&self, close: usize) -> core::ops::Range<usize> {
        let mut depth = 0_usize;
        for at in (0..close).rev() {
            match self.terms.get(at) {
                Some(Term::Close(..)) => depth += 1,
                Some(Term::Open(_)) if depth == 0 => return at + 1..close,
                Some(Term::Open(_)) => depth -= 1,
                _ => {}
            }
        }
        0..close
    }

    /// The part with another count at one term.
    fn with_count(&self, index: usize, count: Count) -> Option<Part> {
        let mut part = self.clone();
        match part.terms.get_mut(index)? {
            Term::Atom(_, own) | Term::Close(_, own) => *own = count,
            Term::Open(_) => return None,
        }
        Some(part)
    }
}

impl Term {
    fn count(&self) -> Option<Count> {
        match self {
            Term::Atom(_, count) | Term::Close(_, count) => Some(*count),
            Term::Open(_) => None,
        }
    }
}
