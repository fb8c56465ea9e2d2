//! Counting the atoms of a formula in whole numbers over one denominator.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::walk::{Counter, Uncounted, count_of_group, count_or, product, walk};
use crate::element::{ATOMIC_NUMBERS, Atom, Element};
use crate::formula::repr::{Count, Packed, Token, Tokens};
use crate::number::Ratio;

/// How many atoms of each kind there are, in whole numbers over one denominator.
#[derive(Debug, Clone)]
pub(crate) struct Tally {
    /// The atomic numbers of the elements in order of appearance, and the number of natural atoms of
    /// each, which is zero if all are labelled. The first row stays empty.
    elements: [u8; ROWS],
    numbers: [u64; ROWS],
    /// The last row in use.
    last: usize,
    /// Labelled atoms, and those of elements for which no row was left. Those of one element are
    /// neighbours, in their order.
    rare_atoms: SmallVec<[(Atom, u64); 2 * ROWS]>,
    pub(crate) denominator: u64,
}

/// A power of two. Few formulas have as many elements.
const ROWS: usize = 16;

impl Packed {
    /// Counts the atoms. `unknown` is used in place of an unknown count, if it is given.
    pub(crate) fn tally(&self, unknown: Option<Count>) -> Result<Tally, Uncounted> {
        let mut tally = Tally::new();
        self.tally_into(&mut tally, unknown).map(|()| tally)
    }

    /// Counts the atoms into an empty tally, which is too large to be moved.
    #[inline]
    pub(crate) fn tally_into(
        &self,
        tally: &mut Tally,
        unknown: Option<Count>,
    ) -> Result<(), Uncounted> {
        match tally.count(self.tokens(), unknown) {
            Ok(()) if tally.denominator == 1 => {}
            Ok(()) => tally.shorten(),
            Err(Uncounted::TooMany) => *tally = self.tally_in_fractions(unknown)?,
            Err(unknown) => return Err(unknown),
        }
        Ok(())
    }
}

/// A tally while atoms are counted.
struct Counting<'t> {
    tally: &'t mut Tally,
    /// The row of each element that has one, by atomic number, and zero for the others.
    rows: [u8; ATOMIC_NUMBERS],
}

#[allow(
    clippy::indexing_slicing,
    reason = "every index is taken modulo the length"
)]
impl Counter for Counting<'_> {
    #[inline(always)]
    fn add_natural(&mut self, z: u8, number: u64) -> Result<(), Uncounted> {
        let tally = &mut *self.tally;
        let row = &mut self.rows[usize::from(z) % ATOMIC_NUMBERS];
        if *row == 0 {
            if tally.last + 1 == ROWS {
                let element = Element::from_number(z).ok_or(Uncounted::TooMany)?;
                return tally.add(element.into(), number);
            }
            tally.last += 1;
            tally.elements[tally.last % ROWS] = z;
            *row = tally.last as u8;
        }
        tally.numbers[usize::from(*row) % ROWS] += number;
        Ok(())
    }

    fn add_atom(&mut self, atom: Atom, number: u64) -> Result<(), Uncounted> {
        let last = self.tally.last;
        self.tally.add(atom, number)?;
        if self.tally.last > last {
            self.rows[usize::from(atom.element().number()) % ATOMIC_NUMBERS] =
                self.tally.last as u8;
        }
        Ok(())
    }

    fn multiply_all(&mut self, factor: u64) -> Result<(), Uncounted> {
        let tally = &mut *self.tally;
        let (numbers, rare_atoms) = (tally.numbers.iter_mut(), tally.rare_atoms.iter_mut());
        let all = numbers.chain(rare_atoms.map(|(_, number)| number));
        for number in all.chain([&mut tally.denominator]) {
            *number = product(*number, factor)?;
        }
        Ok(())
    }
}

#[allow(
    clippy::indexing_slicing,
    reason = "every index is taken modulo the length"
)]
impl Tally {
    pub(crate) const fn new() -> Tally {
        Tally {
            elements: [0; ROWS],
            numbers: [0; ROWS],
            last: 0,
            rare_atoms: SmallVec::new_const(),
            denominator: 1,
        }
    }

    /// Counts the atoms of an empty tally.
    #[inline]
    fn count(&mut self, tokens: Tokens<'_>, unknown: Option<Count>) -> Result<(), Uncounted> {
        let rows = [0; ATOMIC_NUMBERS];
        walk(tokens, unknown, Counting { tally: self, rows }).map(|_| ())
    }

    /// Adds a number of atoms over the denominator.
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
                let at = self.index_of(atom);
                if self
                    .rare_atoms
                    .get(at)
                    .is_none_or(|(known, _)| *known != atom)
                {
                    self.rare_atoms.insert(at, (atom, 0));
                }
                self.rare_atoms.get_mut(at).map(|(_, sum)| sum)
            }
        };
        let sum = sum.ok_or(Uncounted::TooMany)?;
        *sum = product(sum.saturating_add(number), 1)?;
        Ok(())
    }

    /// The index of an atom among the rare ones, or the one that it would get.
    fn index_of(&self, atom: Atom) -> usize {
        let same = |(other, _): &(Atom, u64)| other.element() == atom.element();
        let Some(first) = self.rare_atoms.iter().position(same) else {
            return self.rare_atoms.len();
        };
        let rest = self.rare_atoms.iter().enumerate().skip(first);
        let mut later = rest.filter(|(_, pair)| !same(pair) || pair.0 >= atom);
        later
            .next()
            .map_or(self.rare_atoms.len(), |(index, _)| index)
    }

    /// Each kind of atom with its number, in order of appearance. Labelled atoms come right after their
    /// element, by mass number.
    pub(crate) fn counts(&self) -> impl Iterator<Item = (Atom, u64)> {
        let of_row = |(element, number): (Element, u64)| {
            let natural = (number > 0).then_some((element.into(), number));
            let rare_atoms = self.rare_atoms.iter().copied();
            let labelled = rare_atoms.filter(move |(atom, _)| atom.element() == element);
            natural.into_iter().chain(labelled)
        };
        let without_row = |(atom, _): &(Atom, u64)| {
            let mut rows = self.rows();
            !rows.any(|(element, _)| element == atom.element())
        };
        let rest = self.rare_atoms.iter().copied().filter(without_row);
        self.rows().flat_map(of_row).chain(rest)
    }

    /// Each element that has a row with the number of its natural atoms, which may be zero.
    #[inline]
    pub(crate) fn rows(&self) -> impl Iterator<Item = (Element, u64)> {
        let elements = self.elements.get(1..=self.last).unwrap_or_default();
        let numbers = self.numbers.get(1..=self.last).unwrap_or_default();
        let rows = elements.iter().zip(numbers);
        rows.filter_map(|(z, number)| Some((Element::from_number(*z)?, *number)))
    }

    /// Each atom that has no row, with its number.
    #[inline]
    pub(crate) fn rare_atoms(&self) -> impl Iterator<Item = (Atom, u64)> {
        self.rare_atoms.iter().copied()
    }

    /// Divides all counts and the denominator by their common factor.
    #[cold]
    fn shorten(&mut self) {
        let shared = self.counts().map(|(_, count)| count);
        let shared = shared.fold(self.denominator, num_integer::gcd).max(1);
        self.denominator /= shared;
        self.numbers.iter_mut().for_each(|number| *number /= shared);
        let rare_atoms = self.rare_atoms.iter_mut();
        rare_atoms.for_each(|(_, number)| *number /= shared);
    }
}

impl Packed {
    /// Counts the atoms in fractions, for numbers that are too large only on the way.
    #[cold]
    fn tally_in_fractions(&self, unknown: Option<Count>) -> Result<Tally, Uncounted> {
        let fraction = |count: Count| {
            let (above, below) = count_or(count, unknown)?;
            Ratio::new(above.into(), below.into()).ok_or(Uncounted::TooMany)
        };
        let mut kinds: Vec<(Atom, Ratio)> = Vec::new();
        let mut factors = alloc::vec![Ratio::ONE];
        let mut tokens = self.tokens();
        while let Some(token) = tokens.next() {
            let factor = factors.last().cloned().unwrap_or(Ratio::ONE);
            match token {
                Token::Atom(atom, count) => {
                    let count = &factor * fraction(count)?;
                    match kinds.iter_mut().find(|(kind, _)| *kind == atom) {
                        Some((_, sum)) => *sum += count,
                        None => kinds.push((atom, count)),
                    }
                }
                Token::Open(_) => {
                    factors.push(&factor * &fraction(count_of_group(tokens.clone()))?);
                }
                Token::Close(..) => {
                    factors.pop();
                }
                Token::Dot(count) | Token::Coefficient(count) => {
                    factors = alloc::vec![fraction(count)?];
                }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Formula;
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
            let fractions = formula.packed.tally_in_fractions(open);
            assert_eq!(sorted(Ok(whole)), sorted(fractions), "{text}");
        }
    }

    #[test]
    fn elements_without_a_row_keep_their_order() {
        let every: String = Element::ALL.iter().map(|e| e.symbol()).collect();
        let (formula, _) = Formula::read(&alloc::format!("{every}[238U]O")).unwrap();
        let tally = formula.packed.tally(None).unwrap();
        let counts: Vec<(Atom, u64)> = tally.counts().collect();
        assert_eq!(counts.len(), 119);
        let symbols: String = counts
            .iter()
            .map(|(atom, _)| alloc::format!("{atom}"))
            .collect();
        assert_eq!(symbols, every.replace("UNp", "U[238U]Np"));
        assert_eq!(counts[7].1, 2);
    }

    /// Fine fractions and large counts beside one another: what does not fit is found out, by
    /// fractions where it fits in the end.
    #[test]
    fn no_product_overflows() {
        // Refused by the reader, but not before it is counted.
        for text in [
            "C_{1/999999937}H_{1/99999989}O508",
            "C_{1/999999937}H_{1/99999989}·508H2",
            "C_{1/999999937}H_{1/99999989}(OH)508",
            "C_{1/9999991}H_{1/9999973}·508C508",
            "C_{1/9999991}H_{1/9999973}·508(C508)508",
            "508(((C_{1/999999937})508)_{1/99999989})508O508",
            // Found by the fuzzer.
            "Nd4/444448886Nd4/484448886Nd486Nd4",
        ] {
            let refused = Formula::read(text).unwrap_err();
            assert_eq!(refused.code(), "too_large", "{text}");
        }
        let (formula, _) = Formula::read("Fe(C_{1/9973}H_{1/9967})2·508(C508)508").unwrap();
        let tally = formula.packed.tally(None).unwrap();
        assert_eq!(tally.denominator, 9973 * 9967);
        let carbon = tally
            .counts()
            .find(|(atom, _)| *atom == Element::CARBON.into());
        let whole = 508 * 508 * 508 * tally.denominator;
        assert_eq!(carbon.unwrap().1, whole + 2 * 9967);
        let mass = formula.molar_mass(&crate::AtomicWeights::default());
        assert!(mass.unwrap().uncertainty() > 0.0);
    }
}
