//! Counting the atoms of a formula in whole numbers over one denominator.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::packed::{MOST_WORDS, Token, Tokens};
use super::{Count, Formula, parse};
use crate::element::{Atom, Element};
use crate::number::Ratio;

/// How many atoms of each kind there are, in whole numbers over one denominator.
#[derive(Debug, Clone)]
pub(super) struct Tally {
    /// Natural atoms: the elements by atomic number in order of appearance, and how many there are
    /// of each; nought where only labelled atoms have appeared. The first row is for what is no atom.
    elements: [u8; ROWS],
    numbers: [u64; ROWS],
    /// The last row in use.
    last: usize,
    /// Labelled atoms, and those of elements for which no row was left; the ones of an element stand
    /// together, in their order.
    others: SmallVec<[(Atom, u64); 2 * ROWS]>,
    pub(super) denominator: u64,
}

/// A power of two. Few formulas have as many elements.
const ROWS: usize = 16;

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

impl Formula {
    /// Counts the atoms. Where a count is left open, `open` is taken in its place, if given.
    pub(super) fn tally(&self, open: Option<Count>) -> Result<Tally, Uncounted> {
        let mut tally = Tally::new();
        self.tally_into(&mut tally, open).map(|()| tally)
    }

    /// The same into an empty tally, which is too large to be handed about.
    #[inline]
    pub(super) fn tally_into(
        &self,
        tally: &mut Tally,
        open: Option<Count>,
    ) -> Result<(), Uncounted> {
        match tally.count(self.packed.tokens(), open) {
            Ok(()) if tally.denominator == 1 => Ok(()),
            Ok(()) => {
                tally.shorten();
                Ok(())
            }
            Err(Uncounted::TooMany) => {
                *tally = self.tally_in_fractions(open)?;
                Ok(())
            }
            Err(open) => Err(open),
        }
    }
}

/// The count, or what is taken in its place where it is left open.
fn known(count: Count, open: Option<Count>) -> Result<(u32, u32), Uncounted> {
    match (count, open) {
        (Count::Known(above, below), _) | (_, Some(Count::Known(above, below))) => {
            Ok((above, below))
        }
        _ => Err(Uncounted::Open),
    }
}

/// How often the group is counted whose inside begins here.
fn times(inside: Tokens<'_>) -> Count {
    let mut depth = 0_usize;
    for token in inside {
        match token {
            Token::Open(_) => depth += 1,
            Token::Close(_, count) if depth == 0 => return count,
            Token::Close(..) => depth -= 1,
            _ => {}
        }
    }
    Count::ONE
}

/// What is known while atoms are counted.
struct Counting {
    /// The row of each element that has one, by the sign of its word; nought for all others.
    rows: [u8; SIGNS],
    /// How often an atom counts, by the brackets around it: at first the denominator, then the
    /// coefficient, then one for each bracket; at last a place that nobody reads.
    factors: [u64; FACTORS],
    depth: usize,
    /// What is taken for a count that is left open.
    open: Option<Count>,
}

/// Powers of two, more than there are signs and brackets.
const SIGNS: usize = 128;
const FACTORS: usize = 32;

const _: () = assert!(parse::MOST_DEPTH + 2 < FACTORS - 1);

#[allow(
    clippy::indexing_slicing,
    reason = "every place is taken modulo the length"
)]
impl Tally {
    pub(super) const fn new() -> Tally {
        Tally {
            elements: [0; ROWS],
            numbers: [0; ROWS],
            last: 0,
            others: SmallVec::new_const(),
            denominator: 1,
        }
    }

    /// Counts the atoms of an empty tally.
    ///
    /// What comes next in a formula cannot be foretold, and a processor that guesses wrong loses
    /// more time than all of this takes: no branch goes by what a word is.
    #[inline(always)]
    fn count(&mut self, mut tokens: Tokens<'_>, open: Option<Count>) -> Result<(), Uncounted> {
        let mut counting = Counting {
            rows: [0; SIGNS],
            factors: [1; FACTORS],
            depth: 1,
            open,
        };
        while let Some(step) = tokens.step() {
            let word = match step {
                Ok(word) => word,
                Err(token) => {
                    let token = token.ok_or(Uncounted::TooMany)?;
                    self.count_token(token, &tokens, &mut counting)?;
                    continue;
                }
            };
            let Counting {
                rows,
                factors,
                depth,
                ..
            } = &mut counting;
            let effect = word.effect;
            let factor = factors[(*depth & usize::from(effect.within)) % FACTORS];
            let number = factor.checked_mul(word.count.into());
            let number = number.filter(|number| *number <= MOST / MOST_WORDS);
            let number = number.ok_or(Uncounted::TooMany)?;
            let row = &mut rows[usize::from(word.sign) % SIGNS];
            // One for an element without a row.
            let fresh = (row.wrapping_sub(1) >> 7) & effect.atom;
            if self.last + usize::from(fresh) == ROWS {
                self.add(word.atom(), number)?;
                continue;
            }
            self.last += usize::from(fresh);
            *row |= fresh.wrapping_neg() & self.last as u8;
            let row = usize::from(*row) % ROWS;
            self.elements[row] = word.sign;
            self.numbers[row] += number;
            *depth += usize::from(effect.opens);
            factors[(*depth | usize::from(effect.alone)) % FACTORS] = number;
            *depth = depth.wrapping_sub(effect.closes.into());
        }
        Ok(())
    }

    /// Counts what does not say all in one word.
    #[cold]
    fn count_token(
        &mut self,
        token: Token,
        behind: &Tokens<'_>,
        counting: &mut Counting,
    ) -> Result<(), Uncounted> {
        let depth = counting.depth % FACTORS;
        let (count, around) = match token {
            Token::Atom(_, count) => (count, depth),
            Token::Coefficient(count) => (count, 0),
            Token::Open(_) => (times(behind.clone()), depth),
            Token::Close(..) => {
                counting.depth = depth.saturating_sub(1);
                return Ok(());
            }
            Token::Charge(_) | Token::Dot => return Ok(()),
        };
        let (above, below) = known(count, counting.open)?;
        let number = product(counting.factors[around % FACTORS], above.into())?;
        let shared = num_integer::gcd(number, below.into()).max(1);
        let (number, finer) = (number / shared, u64::from(below) / shared);
        if finer > 1 {
            let factors = counting.factors.iter_mut();
            let (numbers, others) = (self.numbers.iter_mut(), self.others.iter_mut());
            let all = factors
                .chain(numbers)
                .chain(others.map(|(_, number)| number));
            for number in all.chain([&mut self.denominator]) {
                *number = product(*number, finer)?;
            }
        }
        if let Token::Atom(atom, _) = token {
            let last = self.last;
            self.add(atom, number)?;
            if self.last > last {
                counting.rows[usize::from(atom.element().number()) % SIGNS] = self.last as u8;
            }
            return Ok(());
        }
        counting.depth += usize::from(matches!(token, Token::Open(_)));
        counting.factors[counting.depth % FACTORS] = number;
        Ok(())
    }

    /// Adds so many atoms over the denominator.
    #[cold]
    fn add(&mut self, atom: Atom, number: u64) -> Result<(), Uncounted> {
        let z = atom.element().number();
        let mut elements = self.elements.iter().take(self.last + 1).skip(1);
        let row = match elements.position(|known| *known == z) {
            Some(at) => Some(at + 1),
            None if self.last + 1 < ROWS => {
                self.last += 1;
                self.elements[self.last % ROWS] = z;
                Some(self.last)
            }
            None => None,
        };
        let sum = match row {
            Some(row) if atom.mass_number().is_none() => self.numbers.get_mut(row),
            _ => {
                let at = self.place_of(atom);
                if self.others.get(at).is_none_or(|(known, _)| *known != atom) {
                    self.others.insert(at, (atom, 0));
                }
                self.others.get_mut(at).map(|(_, sum)| sum)
            }
        };
        let sum = sum.ok_or(Uncounted::TooMany)?;
        *sum = product(sum.saturating_add(number), 1)?;
        Ok(())
    }

    /// Where among the others an atom stands, or would stand.
    fn place_of(&self, atom: Atom) -> usize {
        let same = |(other, _): &(Atom, u64)| other.element() == atom.element();
        let Some(first) = self.others.iter().position(same) else {
            return self.others.len();
        };
        let behind = self.others.iter().enumerate().skip(first);
        let mut later = behind.filter(|(_, pair)| !same(pair) || pair.0 >= atom);
        later.next().map_or(self.others.len(), |(index, _)| index)
    }

    /// Each kind of atom with its number, in order of appearance; labelled atoms stand right after
    /// their element, by mass number.
    pub(super) fn counts(&self) -> impl Iterator<Item = (Atom, u64)> {
        let of_row = |(element, number): (Element, u64)| {
            let natural = (number > 0).then_some((element.into(), number));
            let others = self.others.iter().copied();
            let labelled = others.filter(move |(atom, _)| atom.element() == element);
            natural.into_iter().chain(labelled)
        };
        let without_row = |(atom, _): &(Atom, u64)| {
            let mut rows = self.rows();
            !rows.any(|(element, _)| element == atom.element())
        };
        let rest = self.others.iter().copied().filter(without_row);
        self.rows().flat_map(of_row).chain(rest)
    }

    /// Each element that has a row with the number of its natural atoms, which may be nought.
    #[inline]
    pub(super) fn rows(&self) -> impl Iterator<Item = (Element, u64)> {
        let elements = self.elements.get(1..=self.last).unwrap_or_default();
        let numbers = self.numbers.get(1..=self.last).unwrap_or_default();
        let rows = elements.iter().zip(numbers);
        rows.filter_map(|(z, number)| Some((Element::from_number(*z)?, *number)))
    }

    /// Each other atom with its number.
    #[inline]
    pub(super) fn others(&self) -> impl Iterator<Item = (Atom, u64)> {
        self.others.iter().copied()
    }

    /// Takes out what all counts and the denominator share.
    #[cold]
    fn shorten(&mut self) {
        let shared = self.counts().map(|(_, count)| count);
        let shared = shared.fold(self.denominator, num_integer::gcd).max(1);
        self.denominator /= shared;
        self.numbers.iter_mut().for_each(|number| *number /= shared);
        let others = self.others.iter_mut();
        others.for_each(|(_, number)| *number /= shared);
    }
}

impl Formula {
    /// What outgrows whole numbers on the way may not do so in the end.
    #[cold]
    fn tally_in_fractions(&self, open: Option<Count>) -> Result<Tally, Uncounted> {
        let fraction = |count: Count| {
            let (above, below) = known(count, open)?;
            Ratio::new(above.into(), below.into()).ok_or(Uncounted::TooMany)
        };
        let mut kinds: Vec<(Atom, Ratio)> = Vec::new();
        let mut factors = alloc::vec![Ratio::ONE];
        let mut tokens = self.packed.tokens();
        while let Some(token) = tokens.next() {
            let factor = factors.last().cloned().unwrap_or(Ratio::ONE);
            match token {
                Token::Atom(atom, count) => {
                    let count = &factor * &fraction(count)?;
                    match kinds.iter_mut().find(|(kind, _)| *kind == atom) {
                        Some((_, sum)) => *sum = &*sum + &count,
                        None => kinds.push((atom, count)),
                    }
                }
                Token::Open(_) => factors.push(&factor * &fraction(times(tokens.clone()))?),
                Token::Close(..) => {
                    factors.pop();
                }
                Token::Coefficient(count) => factors = alloc::vec![fraction(count)?],
                Token::Dot => factors = alloc::vec![Ratio::ONE],
                Token::Charge(_) => {}
            }
        }
        Tally::of(&kinds)
    }
}

impl Tally {
    /// Exact counts in whole numbers over the least denominator of all.
    fn of(kinds: &[(Atom, Ratio)]) -> Result<Tally, Uncounted> {
        let mut tally = Tally::new();
        for (_, count) in kinds {
            let (_, below) = small_parts(count)?;
            let shared = num_integer::gcd(tally.denominator, below).max(1);
            tally.denominator = product(tally.denominator, below / shared)?;
        }
        for (atom, count) in kinds {
            let (above, below) = small_parts(count)?;
            tally.add(*atom, product(above, tally.denominator / below.max(1))?)?;
        }
        Ok(tally)
    }
}

fn small_parts(count: &Ratio) -> Result<(u64, u64), Uncounted> {
    let (above, below) = count.to_parts().ok_or(Uncounted::TooMany)?;
    let small = |n: i128| u64::try_from(n).map_err(|_| Uncounted::TooMany);
    Ok((small(above)?, small(below)?))
}

fn product(a: u64, b: u64) -> Result<u64, Uncounted> {
    let product = a.checked_mul(b).filter(|product| *product <= MOST);
    product.ok_or(Uncounted::TooMany)
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::String;

    /// Counted in whole numbers and in fractions, which do not know of one another.
    #[test]
    fn both_ways_of_counting_agree() {
        let every: String = Element::ALL.iter().map(|e| e.symbol()).collect();
        let with_label = alloc::format!("{every}·[2H]2O·{every}");
        let deep = "(H2(OH(Na3(K(Li2(C(N2(O3)2)3)2)2)2)2)2)3";
        let texts = [
            "Mg",
            "MgSO4·7H2O",
            "CaSO4·0.5H2O",
            "CuSO4·xH2O",
            "D2O",
            "DHO[18O]",
            "2Na0.33WO3·1.5H2O",
            "[Co{(OH)2Co(NH3)4}3]Br6",
            "K4[Fe(CN)6]^4-·3H2O",
            "(NH4)0.5(H2O)1/3Fe",
            "C12000H600",
            deep,
            &every,
            &with_label,
        ];
        for text in texts {
            let (formula, _) = Formula::read(text).unwrap();
            let sorted = |tally: Result<Tally, Uncounted>| {
                let mut tally = tally.unwrap();
                tally.shorten();
                let mut counts: Vec<(Atom, u64)> = tally.counts().collect();
                counts.sort();
                (tally.denominator, counts)
            };
            let open = Some(Count::Known(5, 2));
            let mut whole = Tally::new();
            whole.count(formula.packed.tokens(), open).unwrap();
            let fractions = formula.tally_in_fractions(open);
            assert_eq!(sorted(Ok(whole)), sorted(fractions), "{text}");
        }
    }

    #[test]
    fn elements_without_a_row_keep_their_order() {
        let every: String = Element::ALL.iter().map(|e| e.symbol()).collect();
        let (formula, _) = Formula::read(&alloc::format!("{every}[238U]O")).unwrap();
        let tally = formula.tally(None).unwrap();
        let counts: Vec<(Atom, u64)> = tally.counts().collect();
        assert_eq!(counts.len(), 119);
        let symbols: String = counts
            .iter()
            .map(|(atom, _)| alloc::format!("{atom}"))
            .collect();
        assert_eq!(symbols, every.replace("UNp", "U[238U]Np"));
        assert_eq!(counts[7].1, 2);
    }
}
