//! One way through a formula, which tells how often each atom counts.

use super::packed::{self, MOST_WORDS, Token, Tokens};
use super::{Count, parse};
use crate::element::Atom;

/// Who counts the atoms: in whole numbers over one denominator, which is 1 at first.
pub(super) trait Counter {
    /// Takes up so many natural atoms of the element with this number.
    fn plain(&mut self, z: u8, number: u64) -> Result<(), Uncounted>;

    /// Takes up so many of an atom that does not say all in one word.
    fn other(&mut self, atom: Atom, number: u64) -> Result<(), Uncounted>;

    /// Makes the denominator so many times finer, and every number so many times larger.
    fn refine(&mut self, finer: u64) -> Result<(), Uncounted>;
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

/// As many atoms as one word may count, with all the brackets around it. As many as there are words
/// come to no more than [`MOST`].
const MOST_OF_A_WORD: u64 = MOST / MOST_WORDS;

/// A power of two, more than there are brackets.
const FACTORS: usize = 32;

const _: () = assert!(parse::MOST_DEPTH + 2 <= FACTORS);

/// How often an atom counts, by the brackets around it: at first the denominator, then the
/// coefficient, then one for each bracket.
type Factors = [u64; FACTORS];

/// Goes through the tokens. Where a count is left open, `open` is taken in its place, if given.
#[allow(
    clippy::indexing_slicing,
    reason = "every place is taken modulo the length"
)]
#[inline(always)]
pub(super) fn walk<C: Counter>(
    mut tokens: Tokens<'_>,
    open: Option<Count>,
    mut counter: C,
) -> Result<C, Uncounted> {
    let mut factors: Factors = [1; FACTORS];
    let mut depth = 1;
    let mut factor = 1;
    while let Some(word) = tokens.word() {
        let (sign, count) = packed::apart(word);
        if count >= packed::MORE || sign == packed::LABELLED {
            (tokens, depth, counter) = odd(word, tokens, open, &mut factors, depth, counter)?;
            factor = factors[depth % FACTORS];
            continue;
        }
        match sign {
            packed::CHARGE => {}
            1..packed::LABELLED => counter.plain(sign as u8, times_around(factor, count)?)?,
            packed::LABELLED..packed::CLOSE => {
                depth += 1;
                factor = times_around(factor, count)?;
                factors[depth % FACTORS] = factor;
            }
            packed::CLOSE..packed::DOT => {
                depth = depth.wrapping_sub(1);
                factor = factors[depth % FACTORS];
            }
            _ => {
                // A part begins, or its coefficient is told.
                factor = times_around(factors[0], count)?;
                factors[1] = factor;
            }
        }
    }
    Ok(counter)
}

/// A count times what is around it. Each factor is small enough that the product cannot overflow.
#[inline(always)]
fn times_around(factor: u64, count: u16) -> Result<u64, Uncounted> {
    const { assert!(MOST_OF_A_WORD.checked_mul(packed::MORE as u64).is_some()) };
    small(factor * u64::from(count))
}

/// What the words to come may still be multiplied with.
#[inline(always)]
fn small(factor: u64) -> Result<u64, Uncounted> {
    let small = Some(factor).filter(|factor| *factor <= MOST_OF_A_WORD);
    small.ok_or(Uncounted::TooMany)
}

/// Goes over what does not say all in one word.
#[cold]
#[inline(never)]
fn odd<'t, C: Counter>(
    word: u16,
    mut tokens: Tokens<'t>,
    open: Option<Count>,
    factors: &mut Factors,
    mut depth: usize,
    mut counter: C,
) -> Result<(Tokens<'t>, usize, C), Uncounted> {
    let token = tokens.token(word).ok_or(Uncounted::TooMany)?;
    let (count, around) = match token {
        Token::Atom(_, count) => (count, depth),
        Token::Coefficient(count) => (count, 0),
        Token::Open(_) => (times(tokens.clone()), depth),
        Token::Close(..) => return Ok((tokens, depth.saturating_sub(1), counter)),
        Token::Charge(_) | Token::Dot => return Ok((tokens, depth, counter)),
    };
    let (above, below) = known(count, open)?;
    let around = factors.get(around).copied().unwrap_or(1);
    // What is around may be counted finely enough. (The fraction has its lowest terms.)
    let shared = match around {
        1 => 1,
        _ => num_integer::gcd(around, below.into()).max(1),
    };
    let number = product(around / shared, above.into())?;
    let finer = u64::from(below) / shared;
    if finer > 1 {
        for factor in factors.iter_mut().take(depth + 1) {
            *factor = small(product(*factor, finer)?)?;
        }
        counter.refine(finer)?;
    }
    if let Token::Atom(atom, _) = token {
        counter.other(atom, number)?;
        return Ok((tokens, depth, counter));
    }
    depth += usize::from(matches!(token, Token::Open(_)));
    if let Some(factor) = factors.get_mut(depth) {
        *factor = small(number)?;
    }
    Ok((tokens, depth, counter))
}

/// The count, or what is taken in its place where it is left open.
pub(super) fn known(count: Count, open: Option<Count>) -> Result<(u32, u32), Uncounted> {
    match (count, open) {
        (Count::Known(above, below), _) | (_, Some(Count::Known(above, below))) => {
            Ok((above, below))
        }
        _ => Err(Uncounted::Open),
    }
}

/// How often the group is counted whose inside begins here.
pub(super) fn times(inside: Tokens<'_>) -> Count {
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

/// A product that is counted.
pub(super) fn product(a: u64, b: u64) -> Result<u64, Uncounted> {
    let product = a.checked_mul(b).filter(|product| *product <= MOST);
    product.ok_or(Uncounted::TooMany)
}
