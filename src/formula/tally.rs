//! Counting the atoms of a formula in whole numbers over one denominator.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::packed::Token;
use super::{Count, Formula};
use crate::element::Atom;
use crate::number::Ratio;

/// How many atoms of each kind there are, in order of appearance; labelled atoms stand right after
/// their element.
#[derive(Debug, Clone)]
pub(super) struct Tally {
    pub(super) counts: SmallVec<[(Atom, u64); 12]>,
    pub(super) denominator: u64,
    /// Whether any atom is labelled, so that order matters.
    labelled: bool,
}

/// Why atoms cannot be counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Uncounted {
    /// A count is left open.
    Open,
    /// More atoms, or finer fractions of them, than are counted.
    TooMany,
}

/// No count, in whole numbers over the denominator of all, is larger; nor is that denominator.
/// With a weight of any nuclide in units of 10⁻¹² that leaves room for the sum of all in 128 bits.
const MOST: u64 = 1_000_000_000_000_000_000;

#[inline]
fn product(a: u64, b: u64) -> Result<u64, Uncounted> {
    let product = a.checked_mul(b).filter(|product| *product <= MOST);
    product.ok_or(Uncounted::TooMany)
}

/// What atoms are counted in, one by one as they come: the same kind may come again.
trait Counter {
    /// How many were counted.
    fn counted(&self) -> usize;

    fn push(&mut self, atom: Atom, count: Count, open: Option<Count>) -> Result<(), Uncounted>;

    /// Multiplies what was counted from `start` on.
    fn multiply(&mut self, start: usize, by: Count, open: Option<Count>) -> Result<(), Uncounted>;
}

impl Formula {
    /// Counts the atoms. Where a count is left open, `open` is taken in its place, if given.
    pub(super) fn tally(&self, open: Option<Count>) -> Result<Tally, Uncounted> {
        match self.tally_in_whole_numbers(open) {
            Err(Uncounted::TooMany) => self.tally_in_fractions(open),
            counted => counted,
        }
    }

    fn tally_in_whole_numbers(&self, open: Option<Count>) -> Result<Tally, Uncounted> {
        let mut tally = Tally::new();
        self.count_into(&mut tally, open)?;
        tally.gather()?;
        if tally.denominator > 1 {
            tally.shorten();
        }
        Ok(tally)
    }

    /// What outgrows whole numbers on the way may not do so in the end.
    #[cold]
    fn tally_in_fractions(&self, open: Option<Count>) -> Result<Tally, Uncounted> {
        let mut fractions = Fractions(Vec::new());
        self.count_into(&mut fractions, open)?;
        fractions.tally()
    }

    #[inline]
    fn count_into(&self, counter: &mut impl Counter, open: Option<Count>) -> Result<(), Uncounted> {
        let mut groups = SmallVec::<[usize; 8]>::new();
        // How many atoms were counted before this part.
        let mut before = 0;
        let mut coefficient = Count::ONE;
        for token in self.packed.tokens() {
            match token {
                Token::Atom(atom, count) => counter.push(atom, count, open)?,
                Token::Open(_) => groups.push(counter.counted()),
                Token::Close(_, count) => {
                    let start = groups.pop().unwrap_or_default();
                    counter.multiply(start, count, open)?;
                }
                Token::Coefficient(count) => coefficient = count,
                Token::Charge(_) => {}
                Token::Dot => {
                    counter.multiply(before, coefficient, open)?;
                    before = counter.counted();
                    coefficient = Count::ONE;
                }
            }
        }
        counter.multiply(before, coefficient, open)
    }
}

impl Counter for Tally {
    #[inline]
    fn counted(&self) -> usize {
        self.counts.len()
    }

    #[inline(always)]
    fn push(&mut self, atom: Atom, count: Count, open: Option<Count>) -> Result<(), Uncounted> {
        self.labelled |= atom.mass_number().is_some();
        if let Count::Known(whole, 1) = count {
            let count = product(self.denominator, whole.into())?;
            self.counts.push((atom, count));
            return Ok(());
        }
        let at = self.counts.len();
        self.counts.push((atom, self.denominator));
        self.multiply_by_fraction(at, count, open)
    }

    #[inline(always)]
    fn multiply(&mut self, start: usize, by: Count, open: Option<Count>) -> Result<(), Uncounted> {
        match by {
            Count::Known(1, 1) => Ok(()),
            Count::Known(whole, 1) => {
                for (_, count) in self.counts.get_mut(start..).unwrap_or_default() {
                    *count = product(*count, whole.into())?;
                }
                Ok(())
            }
            _ => self.multiply_by_fraction(start, by, open),
        }
    }
}

impl Tally {
    const fn new() -> Tally {
        Tally {
            counts: SmallVec::new_const(),
            denominator: 1,
            labelled: false,
        }
    }

    #[cold]
    fn multiply_by_fraction(
        &mut self,
        start: usize,
        by: Count,
        open: Option<Count>,
    ) -> Result<(), Uncounted> {
        let (numerator, denominator) = match (by, open) {
            (Count::Known(n, d), _) => (u64::from(n), u64::from(d)),
            (Count::Unknown(_), Some(instead)) => return self.multiply(start, instead, None),
            (Count::Unknown(_), None) => return Err(Uncounted::Open),
        };
        self.denominator = product(self.denominator, denominator)?;
        for (index, (_, count)) in self.counts.iter_mut().enumerate() {
            let factor = if index < start {
                denominator
            } else {
                numerator
            };
            *count = product(*count, factor)?;
        }
        self.shorten();
        Ok(())
    }

    /// Takes out what all counts and the denominator share.
    fn shorten(&mut self) {
        let counts = self.counts.iter().map(|(_, count)| *count);
        let shared = counts.fold(self.denominator, num_integer::gcd).max(1);
        self.denominator /= shared;
        self.counts
            .iter_mut()
            .for_each(|(_, count)| *count /= shared);
    }

    /// Puts atoms of one kind together; labelled ones right after their element.
    #[inline(always)]
    fn gather(&mut self) -> Result<(), Uncounted> {
        let mut kinds = 0;
        let counts = self.counts.as_mut_slice();
        for index in 0..counts.len() {
            let (gathered, coming) = counts.split_at_mut(index);
            let Some((atom, count)) = coming.first().copied() else {
                break;
            };
            let mut known = gathered.iter_mut().take(kinds);
            if let Some((_, sum)) = known.find(|(kind, _)| *kind == atom) {
                *sum = product(*sum + count, 1)?;
                continue;
            }
            if let Some(place) = counts.get_mut(kinds) {
                *place = (atom, count);
            }
            kinds += 1;
        }
        self.counts.truncate(kinds);
        if self.labelled {
            self.order_labelled();
        }
        Ok(())
    }

    #[cold]
    fn order_labelled(&mut self) {
        let kinds = core::mem::take(&mut self.counts);
        for (atom, count) in kinds {
            let at = self.place_of(atom);
            self.counts.insert(at, (atom, count));
        }
    }

    /// Where a kind of atom goes that is not there yet.
    fn place_of(&self, atom: Atom) -> usize {
        let same = |(other, _): &(Atom, u64)| other.element() == atom.element();
        let Some(first) = self.counts.iter().position(same) else {
            return self.counts.len();
        };
        // Within one element: natural first, then by mass number.
        let behind = self.counts.iter().enumerate().skip(first);
        let mut later = behind.filter(|(_, pair)| !same(pair) || pair.0 > atom);
        later.next().map_or(self.counts.len(), |(index, _)| index)
    }
}

/// Atoms counted in exact fractions.
struct Fractions(Vec<(Atom, Ratio)>);

impl Counter for Fractions {
    fn counted(&self) -> usize {
        self.0.len()
    }

    fn push(&mut self, atom: Atom, count: Count, open: Option<Count>) -> Result<(), Uncounted> {
        self.0.push((atom, fraction(count, open)?));
        Ok(())
    }

    fn multiply(&mut self, start: usize, by: Count, open: Option<Count>) -> Result<(), Uncounted> {
        let by = fraction(by, open)?;
        for (_, count) in self.0.get_mut(start..).unwrap_or_default() {
            *count = &*count * &by;
        }
        Ok(())
    }
}

fn fraction(count: Count, open: Option<Count>) -> Result<Ratio, Uncounted> {
    let known = count.ratio().or_else(|| open?.ratio());
    known.ok_or(Uncounted::Open)
}

impl Fractions {
    /// The same in whole numbers over the least denominator of all.
    fn tally(self) -> Result<Tally, Uncounted> {
        let mut kinds: Vec<(Atom, Ratio)> = Vec::new();
        for (atom, count) in self.0 {
            match kinds.iter_mut().find(|(kind, _)| *kind == atom) {
                Some((_, sum)) => *sum = &*sum + &count,
                None => kinds.push((atom, count)),
            }
        }
        let mut tally = Tally::new();
        for (_, count) in &kinds {
            let (_, below) = small_parts(count)?;
            let shared = num_integer::gcd(tally.denominator, below).max(1);
            tally.denominator = product(tally.denominator, below / shared)?;
        }
        for (atom, count) in &kinds {
            let (above, below) = small_parts(count)?;
            let whole = product(above, tally.denominator / below.max(1))?;
            tally.counts.push((*atom, whole));
        }
        tally.order_labelled();
        Ok(tally)
    }
}

fn small_parts(count: &Ratio) -> Result<(u64, u64), Uncounted> {
    let (above, below) = count.to_parts().ok_or(Uncounted::TooMany)?;
    let small = |n: i128| u64::try_from(n).map_err(|_| Uncounted::TooMany);
    Ok((small(above)?, small(below)?))
}
