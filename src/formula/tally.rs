//! Counting the atoms of a formula in whole numbers over one denominator.

use smallvec::SmallVec;

use super::packed::Token;
use super::{Count, Formula};
use crate::element::Atom;

/// How many atoms of each kind there are, in order of appearance; labelled atoms stand right after
/// their element.
#[derive(Debug, Clone)]
pub(super) struct Tally {
    pub(super) counts: SmallVec<[(Atom, u64); 12]>,
    pub(super) denominator: u64,
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

/// A count on the way: numerator and denominator.
type Times = (u64, u64);

const ONCE: Times = (1, 1);

fn times((a, b): Times, count: Count, open: Option<Count>) -> Result<Times, Uncounted> {
    match (count, open) {
        (Count::Known(n, 1), _) => Ok((product(a, n.into())?, b)),
        (Count::Known(n, d), _) => {
            let (n, d) = (product(a, n.into())?, product(b, d.into())?);
            let divisor = num_integer::gcd(n, d).max(1);
            Ok((n / divisor, d / divisor))
        }
        (Count::Unknown(_), Some(instead)) => times((a, b), instead, None),
        (Count::Unknown(_), None) => Err(Uncounted::Open),
    }
}

fn product(a: u64, b: u64) -> Result<u64, Uncounted> {
    let product = a.checked_mul(b).filter(|product| *product <= MOST);
    product.ok_or(Uncounted::TooMany)
}

impl Formula {
    /// Counts the atoms. Where a count is left open, `open` is taken in its place, if given.
    pub(super) fn tally(&self, open: Option<Count>) -> Result<Tally, Uncounted> {
        let mut tally = Tally {
            counts: SmallVec::new(),
            denominator: 1,
        };
        let mut groups = SmallVec::<[Times; 4]>::new();
        let mut factor = ONCE;
        for token in self.packed.tokens() {
            match token {
                Token::Dot => factor = ONCE,
                Token::Coefficient(count) => factor = times(ONCE, count, open)?,
                Token::Open(_, count) => {
                    groups.push(factor);
                    factor = times(factor, count, open)?;
                }
                Token::Close(_) => factor = groups.pop().unwrap_or(ONCE),
                Token::Atom(atom, count) => tally.add(atom, times(factor, count, open)?)?,
                Token::Charge(_) => {}
            }
        }
        Ok(tally)
    }
}

impl Tally {
    fn add(&mut self, atom: Atom, (numerator, denominator): Times) -> Result<(), Uncounted> {
        let mut count = numerator;
        if denominator != self.denominator {
            let common = num_integer::lcm(u128::from(denominator), u128::from(self.denominator));
            let common = u64::try_from(common).map_err(|_| Uncounted::TooMany)?;
            let (by, own) = (common / denominator, common / self.denominator);
            count = product(count, by)?;
            for (_, kept) in &mut self.counts {
                *kept = product(*kept, own)?;
            }
            self.denominator = product(common, 1)?;
        }
        if let Some((_, kept)) = self.counts.iter_mut().find(|(a, _)| *a == atom) {
            *kept = product(*kept + count, 1)?;
            return Ok(());
        }
        let at = self.place_of(atom);
        self.counts.insert(at, (atom, count));
        Ok(())
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
