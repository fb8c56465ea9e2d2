//! Typing errors that make another formula: the digit 1 or a capital I for the small l of chlorine, a
//! small o or a zero for oxygen, a missing dot before the water, and its count after it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::adduct;
use super::digits::{any_digit, split_first_digit, vulgar_fraction};
use super::marks::state_label;
use super::salt::{CapitalPair, is_salt, metals_in_capitals};
use crate::element::Element;
use crate::formula::repr::ShortSpan;
use crate::text::{Span, digit, is_space};

/// What is a formula, and nearly always a typing error.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Typo {
    /// The 1 of `NaC1` and `CaC12`: carbon, but chlorine is likelier. Also thallium's, `T1`.
    OneForL(ShortSpan),
    /// The I of `NaCI`: iodine, but the l of chlorine is likelier.
    CapitalIForL(ShortSpan),
    /// The count in `MgSO47H2O`: a subscript and the number of waters run together.
    MissingDot(ShortSpan),
    /// The small o of `CaCo3`, `NaNo3` or `Na3Po4`: a metal, but an oxoanion is likelier.
    SmallO(ShortSpan),
    /// The zero of `H20` or `K20`: a count, but the letter O is likelier.
    Zero(ShortSpan),
    /// The `H2O7` of `MgSO4·H2O7`: a molecule, but seven waters are likelier.
    CountAfterWater(ShortSpan),
    /// The capitals in `CUSO4`: two elements, but a metal is likelier.
    MetalInCapitals(CapitalPair),
}

/// Calls `tell` with each typing error in the text of a formula, in the order of the text. Nearly every
/// text is only scanned byte by byte.
#[inline]
pub(crate) fn each_typo(text: &str, tell: impl FnMut(Typo)) {
    let bytes = text.as_bytes();
    let mut bytes_with_offsets = bytes.iter().enumerate();
    if bytes_with_offsets.any(|(at, byte)| {
        matches!(byte, b'0' | b'1' | b'I' | b'H' | b'o') && may_be_typo(bytes, at)
    }) {
        search(text, tell);
    }
}

/// Whether a text ends with plain counts that may be a typing error: `K20`, `·H2O7`.
#[inline]
pub(crate) fn may_end_in_typo(text: &str) -> bool {
    let bytes = text.as_bytes();
    match bytes {
        [.., b'2', b'0'] | [.., b'2', b'O', b'3'..=b'9'] => true,
        [.., b'2', b'O', tens, ones] => tens.is_ascii_digit() && ones.is_ascii_digit(),
        _ => false,
    }
}

/// Whether a typing error may be here: `C1`, `CI`, `T1`, `Co3`, `No3`, `Po4`, `20`, or two digits before an H that count a symbol or
/// a bracket.
fn may_be_typo(bytes: &[u8], at: usize) -> bool {
    let (before, after) = bytes.split_at_checked(at).unwrap_or_default();
    match (before, after) {
        ([.., b'C'], [b'1', b'2'..=b'4', next, ..]) => !next.is_ascii_alphanumeric(),
        ([.., b'C' | b'T'], [b'1', next, ..]) => !next.is_ascii_digit() || after.len() == 2,
        ([.., b'C' | b'T'], [b'1'])
        | ([.., b'C'], [b'I', ..])
        | ([.., b'C' | b'N'], [b'o', b'3', ..])
        | ([.., b'P'], [b'o', b'4', ..])
        | ([.., b'2'], [b'0', ..]) => true,
        (_, [b'H', b'2', b'O', b'1'..=b'9', ..]) => true,
        ([.., mark, b'0'..=b'9', b'0'..=b'9'], [b'H', ..]) => {
            (mark.is_ascii_alphanumeric() && *mark != b'C') || matches!(mark, b')' | b']' | b'}')
        }
        _ => false,
    }
}

#[cold]
fn search(text: &str, mut tell: impl FnMut(Typo)) {
    // Whoever types carets for charges knows where the l is on the keyboard.
    if text.contains('^') {
        return;
    }
    let single = lone_ones(text) == 1;
    for (at, byte) in text.bytes().enumerate() {
        let (Some(before), Some(after)) = (text.get(..at), text.get(at + 1..)) else {
            continue;
        };
        let span = ShortSpan::new(at, at + 1);
        match byte {
            b'1' if (single && is_one_for_l(before, after))
                || is_one_for_l_of_chloride(before, after) =>
            {
                tell(Typo::OneForL(span));
            }
            b'I' if is_capital_i_for_l(before, after) => tell(Typo::CapitalIForL(span)),
            b'o' if is_small_o(before, after) => tell(Typo::SmallO(span)),
            b'0' if is_zero_for_o(before, after) => tell(Typo::Zero(span)),
            b'H' => find_missing_dot(before, after, &mut tell),
            _ => {}
        }
    }
}

fn without_digits(text: &str) -> &str {
    text.trim_end_matches(|c: char| c.is_ascii_digit())
}

fn without_leading_digits(text: &str) -> &str {
    text.trim_start_matches(|c: char| c.is_ascii_digit())
}

/// The symbol at the end of a text.
pub(crate) fn last_symbol(text: &str) -> Option<&str> {
    text.get(text.rfind(|c: char| c.is_ascii_uppercase())?..)
}

/// The end of a text that belongs to one part. (A decimal point ends the part, too. Then fewer errors
/// are found.)
fn part_before(before: &str) -> &str {
    before
        .rsplit(adduct::is_dot)
        .next()
        .unwrap_or_default()
        .trim_start()
}

/// Whether a part ends here: nothing, a dot or a label follows, and no decimals.
fn ends_part(after: &str) -> bool {
    if let Some(rest) = after.strip_prefix('.') {
        return !rest.starts_with(|c: char| c.is_ascii_digit()) || adduct::is_adduct_point(rest);
    }
    let rest = after.trim_start_matches(is_space);
    rest.is_empty() || rest.starts_with(adduct::is_dot) || state_label(rest).is_ok()
}

/// The number of counts of one that are written after a symbol. A program that writes every one writes
/// more than one of them.
fn lone_ones(text: &str) -> usize {
    let alone = |run: &&[u8]| {
        matches!(run, [before, b'1', after]
            if before.is_ascii_alphabetic() && !after.is_ascii_digit())
    };
    let bytes = text.as_bytes();
    let last = matches!(bytes, [.., before, b'1'] if before.is_ascii_alphabetic());
    bytes.windows(3).filter(alone).count() + usize::from(last)
}

/// Whether these decimals follow a lone 1 and its point, because no solvate is counted here.
fn begins_decimals_after_one(after: &str) -> bool {
    after.starts_with(|c: char| c.is_ascii_digit()) && !adduct::counts_solvate(after)
}

/// The 1 after a C that does not begin its part (as `C1H4` does) or after the T of heavy hydrogen.
/// `C1U` and `C1I` are written so on purpose.
fn is_one_for_l(before: &str, after: &str) -> bool {
    let goes_on = after.starts_with(|c: char| c.is_ascii_digit() || c == '/')
        || after.starts_with(|c| vulgar_fraction(c).is_some())
        || after
            .strip_prefix('.')
            .is_some_and(begins_decimals_after_one);
    if goes_on {
        return false;
    }
    if before.ends_with('T') {
        return true;
    }
    let mut next = after.chars();
    let on_purpose = matches!(next.next(), Some('U' | 'I'))
        && !next.next().is_some_and(|c| c.is_ascii_lowercase());
    before.strip_suffix('C').is_some_and(|before| {
        let atoms = |c: char| c.is_ascii_alphabetic() || c == ')';
        !on_purpose && without_digits(part_before(before)).ends_with(atoms)
    })
}

/// `CaC12`: no carbide has as much carbon, except those of graphite with alkali metals.
fn is_one_for_l_of_chloride(before: &str, after: &str) -> bool {
    let Some(rest) = after
        .strip_prefix(['2', '3', '4'])
        .filter(|rest| ends_part(rest))
    else {
        return false;
    };
    let Some(salt) = before.strip_suffix('C').filter(|_| !rest.starts_with('/')) else {
        return false;
    };
    let part = part_before(salt).trim_start_matches(|c: char| c.is_ascii_digit());
    let metal = Element::from_symbol(without_digits(part));
    metal.is_some_and(|metal| {
        let alkali = matches!(metal.number(), 3 | 11 | 19 | 37 | 55 | 87);
        metal.is_metal() && !alkali
    })
}

/// `NaCI`, `CHCI3`: a carbon that is not counted and an iodine. Carbon with four of them, or with hydrogen
/// for some, is real, as is the group CI3.
fn is_capital_i_for_l(before: &str, after: &str) -> bool {
    let Some(head) = before.strip_suffix('C') else {
        return false;
    };
    if after.starts_with(|c: char| c.is_ascii_lowercase()) {
        return false;
    }
    let count = |text: &str| match text.as_bytes() {
        [digit @ b'1'..=b'9', next, ..] if !next.is_ascii_digit() => Some(digit - b'0'),
        [digit @ b'1'..=b'9'] => Some(digit - b'0'),
        [b'0'..=b'9', ..] => None,
        _ => Some(1),
    };
    let iodines = count(after).unwrap_or_default();
    let group = without_leading_digits(part_before(head));
    let group = group.rsplit(['(', '[', '{']).next().unwrap_or_default();
    match group.strip_prefix('H') {
        _ if group.is_empty() => !matches!(iodines, 3 | 4),
        Some(rest) if without_digits(rest).is_empty() => {
            count(rest).is_none_or(|hydrogens| hydrogens + iodines != 4)
        }
        _ => true,
    }
}

/// The cations of the commonest carbonates. Other metals form alloys with three cobalts.
const OF_CARBONATES: [&str; 21] = [
    "H", "N", "Li", "Na", "K", "Rb", "Cs", "Ag", "Tl", "Mg", "Ca", "Sr", "Ba", "Zn", "Cd", "Hg",
    "Cu", "Pb", "Mn", "Fe", "Ni",
];

/// `CaCo3`, `NaNo3`, `Ca3(Po4)2`: the part is a salt with the capital letter.
fn is_small_o(before: &str, after: &str) -> bool {
    let start = before.len() - part_before(before).len();
    let head = before.get(start..).unwrap_or_default();
    let end = after.find(adduct::is_dot).unwrap_or(after.len());
    let tail = after.get(..end).unwrap_or_default();
    let is_alloy = || {
        let salt = head.trim_start_matches(|c: char| c.is_ascii_digit() || c == '(');
        let cation = salt.trim_end_matches(|c: char| !c.is_ascii_lowercase());
        head.ends_with('C')
            && !head.contains('(')
            && !OF_CARBONATES
                .iter()
                .any(|known| *known == cation || salt.starts_with(known))
    };
    let corrected = format!("{head}O{tail}")
        .replace("Co3", "CO3")
        .replace("No3", "NO3");
    is_salt(&corrected.replace("Po4", "PO4")) && !is_alloy()
}

/// `H20`, `(H20)7`, `K20`: water, N2O or K2O, alone in its part or in brackets. The fullerene `C20`
/// and `S20` are real.
fn is_zero_for_o(before: &str, after: &str) -> bool {
    let Some(symbol) = before.strip_suffix('2') else {
        return false;
    };
    if symbol.ends_with("(H") {
        return after.starts_with(')');
    }
    let symbol =
        part_before(symbol).trim_start_matches(|c: char| c.is_ascii_digit() || is_space(c));
    matches!(symbol, "H" | "N" | "K") && ends_part(after)
}

/// `O47H2O`: two or three digits after oxygen, a halogen or a bracket, and water at the end of the part.
/// The first digit may be a subscript, the others a number of waters.
fn find_missing_dot(before: &str, after: &str, tell: &mut impl FnMut(Typo)) {
    // `MgSO4·H2O7`: no molecule of a solvate has as much oxygen.
    if let Some(count) = after
        .strip_prefix("2O")
        .filter(|_| before.ends_with(adduct::is_dot))
    {
        let more = matches!(
            count.as_bytes(),
            [b'3'..=b'9', ..] | [b'1'..=b'9', b'0'..=b'9', ..]
        );
        if more && ends_part(without_leading_digits(count)) {
            let end = before.len() + 1 + after.len() - without_leading_digits(count).len();
            tell(Typo::CountAfterWater(ShortSpan::new(before.len(), end)));
        }
        return;
    }
    if !after.strip_prefix("2O").is_some_and(ends_part) {
        return;
    }
    let counted = without_digits(before);
    let digits = before.get(counted.len()..).unwrap_or_default();
    let (_, waters) = split_first_digit(digits);
    if !matches!(digits.len(), 2 | 3) || waters.starts_with('0') {
        return;
    }
    let halogen = matches!(last_symbol(counted), Some("O" | "F" | "Cl" | "Br" | "I"));
    if halogen || counted.ends_with([')', ']', '}']) {
        tell(Typo::MissingDot(ShortSpan::new(
            counted.len(),
            before.len(),
        )));
    }
}

/// The Roman numeral that an I of a text belongs to, with its brackets, and its number: `Fe(III)`, `CoII`. Nobody
/// writes iodine alone in brackets, or twice in a row without a count.
pub(crate) fn roman_numeral(text: &str, at: usize) -> Option<(Span, u8)> {
    const NUMERALS: [&str; 8] = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII"];
    let (before, after) = text.split_at_checked(at)?;
    let figure = |c: char| matches!(c, 'I' | 'V');
    let before = before.trim_end_matches(figure);
    let after = after.trim_start_matches(figure);
    let span = Span::new(before.len(), text.len() - after.len());
    let numeral = text.get(span.start..span.end)?;
    let number = NUMERALS.iter().position(|known| *known == numeral)? + 1;
    let counted = |text: &str| {
        text.starts_with(|c: char| c == '_' || c == 'x' || c == 'n' || any_digit(c).is_some())
    };
    let inside = before.strip_suffix('(').zip(after.strip_prefix(')'));
    let is_numeral = match inside {
        Some((symbol, after)) => {
            symbol.ends_with(|c: char| c.is_ascii_alphabetic()) && !counted(after)
        }
        None => {
            let metal = last_symbol(before).and_then(Element::from_symbol);
            let small = |c: char| c.is_ascii_lowercase();
            let is_cut = counted(after) || after.starts_with(small) || numeral.len() < 2;
            metal.is_some_and(Element::is_metal) && !is_cut
        }
    };
    let brackets = usize::from(inside.is_some());
    let span = Span::new(span.start - brackets, span.end + brackets);
    is_numeral.then_some((span, number as u8))
}

impl Typo {
    /// The span of what would be corrected.
    pub(crate) fn span(self) -> Span {
        match self {
            Typo::OneForL(span)
            | Typo::CapitalIForL(span)
            | Typo::SmallO(span)
            | Typo::Zero(span)
            | Typo::CountAfterWater(span)
            | Typo::MissingDot(span) => span.span(),
            Typo::MetalInCapitals(pair) => pair.span(),
        }
    }
}

/// The whole text with a correction in place of a span.
pub(crate) fn corrected(text: &str, span: Span, correction: &str) -> String {
    let before = text.get(..span.start).unwrap_or_default();
    let after = text.get(span.end..).unwrap_or_default();
    let corrected = format!("{before}{correction}{after}");
    corrected.trim().into()
}

/// Writes a canonical text so that nothing in it looks like a typing error: `C1UO2`, `C1I`, `C_{12}`,
/// `Co_{3}`, `O_{47}H2O`.
pub(crate) fn avoid_typos(canonical: &mut String) {
    let mut pairs = Vec::new();
    metals_in_capitals(canonical, |pair| pairs.push(pair.span().start + 1));
    for at in pairs.into_iter().rev() {
        canonical.insert(at, '1');
    }
    while let Some(after) = canonical
        .match_indices('I')
        .find_map(|(at, _)| roman_numeral(canonical, at).map(|_| at + 1))
    {
        canonical.insert(after, '1');
    }
    let mut found = Vec::new();
    each_typo(canonical, |typo| found.push(typo));
    // From the end, so that the spans before stay right.
    for typo in found.into_iter().rev() {
        let mut start = typo.span().start;
        match typo {
            Typo::CapitalIForL(_) => {
                canonical.insert(start, '1');
                continue;
            }
            // The digit after the letter.
            Typo::SmallO(_) => start += 1,
            // The digit before the zero.
            Typo::Zero(_) => start -= 1,
            // The digits after `H2O`.
            Typo::CountAfterWater(_) => start += 3,
            _ => {}
        }
        let digits = canonical.get(start..).unwrap_or_default();
        let length = digits.len() - digits.trim_start_matches(|c| digit(c).is_some()).len();
        canonical.insert(start + length, '}');
        canonical.insert_str(start, "_{");
    }
}
