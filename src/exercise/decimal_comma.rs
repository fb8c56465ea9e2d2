//! Decimal commas in a text for people.

use alloc::string::String;

/// Returns the text with a comma in each decimal number. A point in a formula, such as that of
/// `CaSO4·0.5H2O`, stays.
pub(super) fn with_commas(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for word in text.split_inclusive(char::is_whitespace) {
        let formula = word.chars().any(|c| c.is_alphabetic() || c == '·');
        let bytes = word.as_bytes();
        for (at, letter) in word.char_indices() {
            let digit = |at: Option<usize>| {
                at.and_then(|at| bytes.get(at))
                    .is_some_and(u8::is_ascii_digit)
            };
            let point = letter == '.' && digit(at.checked_sub(1)) && digit(Some(at + 1));
            out.push(if point && !formula { ',' } else { letter });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_become_commas_in_numbers_only() {
        let text =
            "Heat 2.50\u{a0}g of CaSO4·0.5H2O to 120\u{a0}°C. It loses 0.155\u{a0}g (6.2\u{a0}%).";
        let comma =
            "Heat 2,50\u{a0}g of CaSO4·0.5H2O to 120\u{a0}°C. It loses 0,155\u{a0}g (6,2\u{a0}%).";
        assert_eq!(with_commas(text), comma);
    }
}
