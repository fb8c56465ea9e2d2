//! Typing errors that make another formula: the digit 1 or a capital I for the small l of chlorine, a
//! small o for oxygen in a carbonate, and a missing dot before the water.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::adduct;
use super::capitals::{CapitalPair, metal_in_capitals, metal_of_salt};
use super::digits::{split_first_digit, vulgar_fraction};
use super::marks::state_label;
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
    /// The small o of `CaCo3`: cobalt, but carbonate is likelier.
    SmallO(ShortSpan),
    /// The capitals in `CUSO4`: two elements, but a metal is likelier.
    MetalInCapitals(CapitalPair),
}

/// Calls `tell` with each typing error in the text of a formula, in the order of the text. Nearly every
/// text is only scanned byte by byte.
#[inline]
pub(crate) fn each_typo(text: &str, tell: impl FnMut(Typo)) {
    let bytes = text.as_bytes();
    let mut bytes_with_offsets = bytes.iter().enumerate();
    if bytes_with_offsets
        .any(|(at, byte)| matches!(byte, b'1' | b'I' | b'H' | b'o') && may_be_typo(bytes, at))
    {
        search(text, tell);
    }
}

/// Whether a typing error may be here: `C1`, `CI`, `T1`, `Co3`, or two digits before an H that count a symbol or
/// a bracket.
fn may_be_typo(bytes: &[u8], at: usize) -> bool {
    let (before, after) = bytes.split_at_checked(at).unwrap_or_default();
    match (before, after) {
        ([.., b'C'], [b'1', b'2'..=b'4', next, ..]) => !next.is_ascii_alphanumeric(),
        ([.., b'C' | b'T'], [b'1', next, ..]) => !next.is_ascii_digit() || after.len() == 2,
        ([.., b'C' | b'T'], [b'1']) | ([.., b'C'], [b'I', ..] | [b'o', b'3', ..]) => true,
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
            b'H' => find_missing_dot(before, after, &mut tell),
            _ => {}
        }
    }
}

fn without_digits(text: &str) -> &str {
    text.trim_end_matches(|c: char| c.is_ascii_digit())
}

/// The symbol at the end of a text.
fn last_symbol(text: &str) -> Option<&str> {
    text.get(text.rfind(|c: char| c.is_ascii_uppercase())?..)
}

fn ends_with_metal(text: &str) -> Option<Element> {
    Element::from_symbol(last_symbol(text)?).filter(|element| element.is_metal())
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

/// `NaCI`: a metal, a carbon that is not counted, an iodine. `CI4` is carbon's iodide.
fn is_capital_i_for_l(before: &str, after: &str) -> bool {
    let iodine = !after.starts_with(|c: char| c.is_ascii_lowercase());
    let metal = before.strip_suffix('C').map(without_digits);
    iodine && metal.and_then(ends_with_metal).is_some()
}

/// The charges of the commonest cations of carbonates. No solid of them with three cobalts is made.
const CATIONS: [(&str, u8); 23] = [
    ("H", 1),
    ("NH4", 1),
    ("(NH4)", 1),
    ("Li", 1),
    ("Na", 1),
    ("K", 1),
    ("Rb", 1),
    ("Cs", 1),
    ("Ag", 1),
    ("Tl", 1),
    ("Mg", 2),
    ("Ca", 2),
    ("Sr", 2),
    ("Ba", 2),
    ("Zn", 2),
    ("Cd", 2),
    ("Hg", 2),
    ("Cu", 2),
    ("Pb", 2),
    ("Mn", 2),
    ("Fe", 2),
    ("Co", 2),
    ("Ni", 2),
];

/// `CaCo3`, `NaHCo3`, `Al2(Co3)3`: the cations balance a carbonate, or a bracket holds nothing else.
fn is_small_o(before: &str, after: &str) -> bool {
    let (Some(head), Some(rest)) = (before.strip_suffix('C'), after.strip_prefix('3')) else {
        return false;
    };
    let without_hydrogen = head.strip_suffix('H');
    let group = without_hydrogen.unwrap_or(head).strip_suffix('(');
    if rest.starts_with(')') {
        return group.is_some_and(|salt| salt.ends_with(|c: char| c.is_ascii_alphanumeric()));
    }
    let charge = |cation: &str| {
        let cation = part_before(cation).trim_start_matches(|c: char| c.is_ascii_digit());
        CATIONS
            .iter()
            .find_map(|(ion, charge)| match cation.strip_prefix(ion)? {
                "" => Some(*charge),
                "2" => Some(2 * charge),
                _ => None,
            })
    };
    let is_acid = without_hydrogen.and_then(charge) == Some(1);
    ends_part(rest) && (is_acid || charge(head) == Some(2))
}

/// `O47H2O`: two or three digits after oxygen, a halogen or a bracket, and water at the end of the part.
/// The first digit may be a subscript, the others a number of waters.
fn find_missing_dot(before: &str, after: &str, tell: &mut impl FnMut(Typo)) {
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

impl Typo {
    /// The span of what would be corrected.
    pub(crate) fn span(self) -> Span {
        match self {
            Typo::OneForL(span)
            | Typo::CapitalIForL(span)
            | Typo::SmallO(span)
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
    while let Some(pair) = metal_in_capitals(canonical).or_else(|| metal_of_salt(canonical)) {
        canonical.insert(pair.span().start + 1, '1');
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
            _ => {}
        }
        let digits = canonical.get(start..).unwrap_or_default();
        let length = digits.len() - digits.trim_start_matches(|c| digit(c).is_some()).len();
        canonical.insert(start + length, '}');
        canonical.insert_str(start, "_{");
    }
}
