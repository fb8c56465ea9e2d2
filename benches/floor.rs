//! The baseline of the parse bench: one pass over the bytes, written by hand, with exact whole numbers and
//! without any error message.
//!
//! It knows the plain notation of ASCII and the raised dot, and nothing else: no notes, no spans, no names,
//! no limits. For any other text it returns `None`.

use effloresce::element::nuclide_mass;
use effloresce::{AtomicWeights, Element, Ratio};

/// Weights are kept in units of 10⁻¹¹, the last decimal place of a nuclide's mass, divided by a number
/// that all fractions in use divide.
const PLACES: u32 = 11;
const PARTS: u64 = 600;

pub(crate) struct Weights {
    /// By the capital letter and the small one. Zero if there is no such element.
    by_letters: [[u64; 27]; 26],
    nuclides: Vec<(u8, u16, u64)>,
}

/// The unit of the whole numbers.
pub(crate) fn unit() -> Ratio {
    let below = i128::from(PARTS) * 10_i128.pow(PLACES);
    Ratio::new(1, below).expect("not zero")
}

fn whole(weight: &Ratio) -> u64 {
    let units = weight.checked_div(&unit()).expect("not zero");
    units
        .to_i128()
        .expect("no more places")
        .try_into()
        .expect("no larger")
}

fn column(small: Option<u8>) -> usize {
    small.map_or(0, |small| usize::from(small - b'a') + 1)
}

impl Weights {
    pub(crate) fn new(weights: &AtomicWeights) -> Weights {
        let mut by_letters = [[0; 27]; 26];
        let mut nuclides = Vec::new();
        for element in Element::ALL {
            let letters = element.symbol().as_bytes();
            if let Ok(weight) = weights.weight(element) {
                let row = usize::from(letters[0] - b'A');
                by_letters[row][column(letters.get(1).copied())] = whole(weight.value());
            }
            for mass_number in 1..=300 {
                if let Some((mass, _)) = nuclide_mass(element, mass_number) {
                    nuclides.push((element.number(), mass_number, whole(&mass.value())));
                }
            }
        }
        let nuclide = |z: u8, a: u16| nuclides.iter().find(|n| (n.0, n.1) == (z, a)).map(|n| n.2);
        by_letters[3][0] = nuclide(1, 2).expect("deuterium");
        by_letters[19][0] = nuclide(1, 3).expect("tritium");
        Weights {
            by_letters,
            nuclides,
        }
    }

    fn nuclide(&self, letters: &[u8], mass_number: u64) -> Option<u64> {
        let element = Element::from_symbol(std::str::from_utf8(letters).ok()?)?;
        let found = |n: &&(u8, u16, u64)| (n.0, u64::from(n.1)) == (element.number(), mass_number);
        self.nuclides.iter().find(found).map(|n| n.2)
    }
}

/// The molar mass in [`unit`]s.
pub(crate) fn mass(text: &[u8], weights: &Weights) -> Option<u64> {
    let mut groups = [0_u64; 16];
    let mut depth = 0;
    let mut sum = 0_u64;
    let mut part = 0_u64;
    let mut coefficient = (1, 1);
    let mut i = 0;
    let mut starts = true;
    let at = |i: usize| text.get(i).copied().unwrap_or(0);
    while i < text.len() {
        if starts {
            coefficient = (1, 1);
            while at(i) == b' ' {
                i += 1;
            }
            if at(i).is_ascii_digit() {
                coefficient = count(text, &mut i, true)?;
            }
            while at(i) == b' ' {
                i += 1;
            }
            starts = false;
        }
        let mut one = 0;
        match at(i) {
            capital @ b'A'..=b'Z' => {
                i += 1;
                let small = at(i).is_ascii_lowercase().then(|| at(i));
                i += usize::from(small.is_some());
                one = weights.by_letters[usize::from(capital - b'A')][column(small)];
                if one == 0 {
                    return None;
                }
            }
            b'[' if at(i + 1).is_ascii_digit() => {
                i += 1;
                one = nuclide(text, &mut i, weights)?;
                i += 1;
            }
            b'^' => {
                i += 1;
                let number = i;
                while at(i).is_ascii_digit() {
                    i += 1;
                }
                if at(i).is_ascii_uppercase() {
                    i = number;
                    one = nuclide(text, &mut i, weights)?;
                } else {
                    // A charge weighs nothing.
                    i += 1;
                }
            }
            b'(' | b'[' | b'{' => {
                i += 1;
                *groups.get_mut(depth)? = part;
                depth += 1;
                part = 0;
                continue;
            }
            b')' | b']' | b'}' => {
                i += 1;
                one = part;
                depth = depth.checked_sub(1)?;
                part = groups[depth];
            }
            b'.' | b'*' | b' ' | 0xC2 => {
                if depth > 0 || (at(i) == 0xC2 && at(i + 1) != 0xB7) {
                    return None;
                }
                i += if at(i) == 0xC2 { 2 } else { 1 };
                if at(i - 1) != b' ' {
                    sum += times(part, coefficient)?;
                    part = 0;
                    starts = true;
                }
                continue;
            }
            _ => return None,
        }
        part += if at(i).is_ascii_digit() {
            times(one, count(text, &mut i, false)?)?
        } else {
            one
        };
    }
    (depth == 0).then_some(sum + times(part, coefficient)?)
}

fn times(mass: u64, (n, d): (u64, u64)) -> Option<u64> {
    let product = mass.checked_mul(n)?;
    if d == 1 {
        return Some(product);
    }
    (product % d == 0).then(|| product / d)
}

/// Reads the symbol after `[18` or `^18`.
fn nuclide(text: &[u8], i: &mut usize, weights: &Weights) -> Option<u64> {
    let number = digits(text, i);
    let start = *i;
    while text.get(*i).is_some_and(u8::is_ascii_alphabetic) && *i - start < 2 {
        if *i > start && text[*i].is_ascii_uppercase() {
            break;
        }
        *i += 1;
    }
    weights.nuclide(&text[start..*i], number)
}

fn digits(text: &[u8], i: &mut usize) -> u64 {
    let mut value = 0;
    while let Some(digit) = text.get(*i).filter(|c| c.is_ascii_digit()) {
        value = value * 10 + u64::from(digit - b'0');
        *i += 1;
    }
    value
}

/// `5`, `0.5`, `8/3`. After an atom a point is an adduct dot if a capital or a bracket follows
/// its digits.
fn count(text: &[u8], i: &mut usize, coefficient: bool) -> Option<(u64, u64)> {
    let whole = digits(text, i);
    match text.get(*i) {
        Some(b'/') => {
            *i += 1;
            Some((whole, digits(text, i))).filter(|(_, d)| *d > 0)
        }
        Some(b'.') if text.get(*i + 1).is_some_and(u8::is_ascii_digit) => {
            let mut after = *i + 1;
            let decimals = digits(text, &mut after);
            let adduct = text
                .get(after)
                .is_some_and(|c| c.is_ascii_uppercase() || *c == b'(');
            if adduct && !coefficient && whole > 0 {
                return Some((whole, 1));
            }
            let scale = 10_u64.pow(u32::try_from(after - *i - 1).ok()?);
            *i = after;
            Some((whole * scale + decimals, scale))
        }
        _ => Some((whole, 1)),
    }
}
