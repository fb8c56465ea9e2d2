//! One way through a formula, which tells how often each atom counts.

use crate::element::Atom;
use crate::formula::limits::{MOST_COUNTED, MOST_DEPTH};
use crate::formula::repr::words::{self, MOST_WORDS};
use crate::formula::repr::{Count, Token, Tokens};

/// Who counts the atoms: in whole numbers over one denominator, which is 1 at first.
pub(crate) trait Counter {
    /// Takes up so many natural atoms of the element with this number.
    fn plain(&mut self, z: u8, number: u64) -> Result<(), Uncounted>;

    /// Takes up so many of an atom that does not say all in one word.
    fn other(&mut self, atom: Atom, number: u64) -> Result<(), Uncounted>;

    /// Makes the denominator so many times finer, and every number so many times larger.
    fn refine(&mut self, finer: u64) -> Result<(), Uncounted>;
}

/// Why atoms cannot be counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Uncounted {
    /// A count is left open.
    Open,
    /// More atoms, or finer fractions of them, than are counted.
    TooMany,
}

/// As many atoms as one word may count whose count it holds itself, with all the brackets around it.
/// As many as there are words come to no more than [`MOST_COUNTED`].
const MOST_OF_A_WORD: u64 = MOST_COUNTED / MOST_WORDS;

/// As often as a part or the inside of a bracket may count, and the largest denominator: then no atom
/// whose word holds its count needs a look.
const MOST_AROUND: u64 = MOST_OF_A_WORD / words::MORE as u64;

/// How often an atom counts, by the brackets around it: at first the denominator, then the
/// coefficient, then one for each bracket.
type Factors = [u64; MOST_DEPTH + 2];

/// Goes through the tokens. Where a count is left open, `open` is taken in its place, if given.
#[inline(always)]
pub(crate) fn walk<C: Counter>(
    mut tokens: Tokens<'_>,
    open: Option<Count>,
    mut counter: C,
) -> Result<C, Uncounted> {
    let mut factors: Factors = [1; MOST_DEPTH + 2];
    let mut depth = 1;
    let mut factor = 1;
    while let Some(word) = tokens.word() {
        if words::holds_its_count(word) {
            let (sign, count) = words::split(word);
            match sign {
                1..=words::LAST_ATOM => {
                    counter.plain(sign as u8, factor * u64::from(count))?;
                    continue;
                }
                words::OPEN.. => {
                    // A bracket opens or closes, or a part begins: which of them is worked out, for a
                    // branch on it would often be guessed wrongly.
                    let closes = usize::from((words::CLOSE..words::DOT).contains(&sign));
                    let inside = usize::from(sign < words::DOT).wrapping_neg();
                    let around = (depth & inside).wrapping_sub(closes);
                    let count = if closes == 1 { 1 } else { count };
                    factor = small(*place(&mut factors, around)? * u64::from(count))?;
                    depth = around + 1 - closes;
                    *place(&mut factors, depth)? = factor;
                    continue;
                }
                words::CHARGE => continue,
                words::LABELLED => {}
            }
        }
        // Held elsewhere meanwhile, so that both may stay in registers else.
        let (mut rest, mut held) = (tokens.clone(), counter);
        depth = odd(word, &mut rest, open, &mut factors, depth, &mut held)?;
        (tokens, counter) = (rest, held);
        factor = *place(&mut factors, depth)?;
    }
    Ok(counter)
}

/// No text is nested deeper than there are places; what is, is counted in fractions.
#[inline(always)]
fn place(factors: &mut Factors, depth: usize) -> Result<&mut u64, Uncounted> {
    factors.get_mut(depth).ok_or(Uncounted::TooMany)
}

/// What the words to come may still be multiplied with.
#[inline(always)]
fn small(factor: u64) -> Result<u64, Uncounted> {
    let small = Some(factor).filter(|factor| *factor <= MOST_AROUND);
    small.ok_or(Uncounted::TooMany)
}

/// Goes over what does not say all in one word, and tells how deep it is behind it.
#[cold]
#[inline(never)]
fn odd<C: Counter>(
    word: u16,
    tokens: &mut Tokens<'_>,
    open: Option<Count>,
    factors: &mut Factors,
    depth: usize,
    counter: &mut C,
) -> Result<usize, Uncounted> {
    if let (words::LABELLED, count @ 0..words::MORE) = words::split(word) {
        let atom = tokens.labelled().ok_or(Uncounted::TooMany)?;
        counter.other(atom, *place(factors, depth)? * u64::from(count))?;
        return Ok(depth);
    }
    let token = tokens.token(word).ok_or(Uncounted::TooMany)?;
    let (count, around) = match token {
        Token::Atom(_, count) => (count, depth),
        Token::Dot(count) | Token::Coefficient(count) => (count, 0),
        Token::Open(_) => (times(tokens.clone()), depth),
        Token::Close(..) => return Ok(depth.saturating_sub(1)),
        Token::Charge(_) => return Ok(depth),
    };
    let (above, below) = known(count, open)?;
    let around = *place(factors, around)?;
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
        return Ok(depth);
    }
    let depth = depth + usize::from(matches!(token, Token::Open(_)));
    *place(factors, depth)? = small(number)?;
    Ok(depth)
}

/// The count, or what is taken in its place where it is left open.
pub(crate) fn known(count: Count, open: Option<Count>) -> Result<(u32, u32), Uncounted> {
    match (count, open) {
        (Count::Known(above, below), _) | (_, Some(Count::Known(above, below))) => {
            Ok((above, below))
        }
        _ => Err(Uncounted::Open),
    }
}

/// How often the group is counted whose inside begins here.
pub(crate) fn times(inside: Tokens<'_>) -> Count {
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
pub(crate) fn product(a: u64, b: u64) -> Result<u64, Uncounted> {
    let product = a.checked_mul(b).filter(|product| *product <= MOST_COUNTED);
    product.ok_or(Uncounted::TooMany)
}
