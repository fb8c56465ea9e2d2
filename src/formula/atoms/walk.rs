//! The way through the words of a formula on which every counter counts its atoms.

use crate::element::Atom;
use crate::formula::limits::{MOST_COUNTED, MOST_DEPTH};
use crate::formula::repr::words::{self, MOST_WORDS};
use crate::formula::repr::{Count, Token, Tokens};

/// Counts atoms in whole numbers over one denominator, which is 1 at first.
pub(crate) trait Counter {
    /// Adds natural atoms of the element with an atomic number.
    fn add_natural(&mut self, z: u8, number: u64) -> Result<(), Uncounted>;

    /// Adds atoms that need more than one word.
    fn add_atom(&mut self, atom: Atom, number: u64) -> Result<(), Uncounted>;

    /// Multiplies the denominator and every number.
    fn multiply_all(&mut self, factor: u64) -> Result<(), Uncounted>;
}

/// Why atoms cannot be counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Uncounted {
    /// A count is unknown.
    UnknownCount,
    /// There are more atoms, or finer fractions of them, than are counted.
    TooMany,
}

/// The most atoms that one word may count, with all brackets around it. All words of a formula together
/// then count no more than [`MOST_COUNTED`].
const MOST_OF_A_WORD: u64 = MOST_COUNTED / MOST_WORDS;

/// The most times that a part or the inside of a bracket may count, and the largest denominator. Up to it
/// no atom needs a check if its word holds its count.
const MOST_AROUND: u64 = MOST_OF_A_WORD / words::LEAST_LONG_COUNT as u64;

/// How often an atom counts, by the brackets around it: the denominator, then the factor of the part,
/// then one for each bracket.
type Factors = [u64; MOST_DEPTH + 2];

/// Goes through the tokens. `unknown` is used in place of an unknown count, if it is given.
#[inline(always)]
pub(crate) fn walk<C: Counter>(
    mut tokens: Tokens<'_>,
    unknown: Option<Count>,
    mut counter: C,
) -> Result<C, Uncounted> {
    let mut factors: Factors = [1; MOST_DEPTH + 2];
    let mut depth = 1;
    let mut factor = 1;
    while let Some(word) = tokens.word() {
        if words::holds_its_count(word) {
            let (tag, count) = words::split(word);
            match tag {
                1..=words::LAST_ATOM => {
                    counter.add_natural(tag as u8, factor * u64::from(count))?;
                    continue;
                }
                words::OPEN.. => {
                    // A bracket opens or closes, or a part begins. Arithmetic finds out which, because
                    // the processor would often guess a branch wrongly.
                    let closes = usize::from((words::CLOSE..words::DOT).contains(&tag));
                    let inside = usize::from(tag < words::DOT).wrapping_neg();
                    let around = (depth & inside).wrapping_sub(closes);
                    let count = if closes == 1 { 1 } else { count };
                    factor = checked_factor(*factor_at(&mut factors, around)? * u64::from(count))?;
                    depth = around + 1 - closes;
                    *factor_at(&mut factors, depth)? = factor;
                    continue;
                }
                words::CHARGE => continue,
                words::LABELLED => {}
            }
        }
        // Copies go by reference, so that the originals may stay in registers.
        let (mut rest, mut held) = (tokens.clone(), counter);
        depth = rare_word(word, &mut rest, unknown, &mut factors, depth, &mut held)?;
        (tokens, counter) = (rest, held);
        factor = *factor_at(&mut factors, depth)?;
    }
    Ok(counter)
}

/// The factor at a depth. The reader and the builder nest no formula deeper than there are factors.
#[inline(always)]
fn factor_at(factors: &mut Factors, depth: usize) -> Result<&mut u64, Uncounted> {
    factors.get_mut(depth).ok_or(Uncounted::TooMany)
}

/// A factor that the words to come may still be multiplied with.
#[inline(always)]
fn checked_factor(factor: u64) -> Result<u64, Uncounted> {
    let checked = Some(factor).filter(|factor| *factor <= MOST_AROUND);
    checked.ok_or(Uncounted::TooMany)
}

/// Counts what needs more than one word, or whose count does. Returns the depth after it.
#[cold]
#[inline(never)]
fn rare_word<C: Counter>(
    word: u16,
    tokens: &mut Tokens<'_>,
    unknown: Option<Count>,
    factors: &mut Factors,
    depth: usize,
    counter: &mut C,
) -> Result<usize, Uncounted> {
    if let (words::LABELLED, count @ 0..words::LEAST_LONG_COUNT) = words::split(word) {
        let atom = tokens.labelled().ok_or(Uncounted::TooMany)?;
        counter.add_atom(atom, *factor_at(factors, depth)? * u64::from(count))?;
        return Ok(depth);
    }
    let token = tokens.token(word).ok_or(Uncounted::TooMany)?;
    let (count, around) = match token {
        Token::Atom(_, count) => (count, depth),
        Token::Dot(count) | Token::Coefficient(count) => (count, 0),
        Token::Open(_) => (count_of_group(tokens.clone()), depth),
        Token::Close(..) => return Ok(depth.saturating_sub(1)),
        Token::Charge(_) => return Ok(depth),
    };
    let (above, below) = count_or(count, unknown)?;
    let around = *factor_at(factors, around)?;
    // The factor around may already have the denominator. (The fraction is in lowest terms.)
    let shared = match around {
        1 => 1,
        _ => num_integer::gcd(around, below.into()).max(1),
    };
    let number = product(around / shared, above.into())?;
    let finer = u64::from(below) / shared;
    if finer > 1 {
        for factor in factors.iter_mut().take(depth + 1) {
            *factor = checked_factor(product(*factor, finer)?)?;
        }
        counter.multiply_all(finer)?;
    }
    if let Token::Atom(atom, _) = token {
        counter.add_atom(atom, number)?;
        return Ok(depth);
    }
    let depth = depth + usize::from(matches!(token, Token::Open(_)));
    *factor_at(factors, depth)? = checked_factor(number)?;
    Ok(depth)
}

/// The count, or what is used in its place if it is unknown.
pub(crate) fn count_or(count: Count, unknown: Option<Count>) -> Result<(u32, u32), Uncounted> {
    match (count, unknown) {
        (Count::Known(above, below), _) | (_, Some(Count::Known(above, below))) => {
            Ok((above, below))
        }
        _ => Err(Uncounted::UnknownCount),
    }
}

/// The count of the group whose inside begins here.
pub(crate) fn count_of_group(inside: Tokens<'_>) -> Count {
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

/// The product, if so much is counted.
pub(crate) fn product(a: u64, b: u64) -> Result<u64, Uncounted> {
    let product = a.checked_mul(b).filter(|product| *product <= MOST_COUNTED);
    product.ok_or(Uncounted::TooMany)
}
