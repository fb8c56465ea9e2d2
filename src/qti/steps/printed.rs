//! A number as a line of working prints it.

use alloc::string::String;

use crate::number::Ratio;

/// A number with its unit.
pub(super) struct PrintedNumber<'t> {
    pub(super) value: Ratio,
    /// Half a unit of the last place.
    pub(super) half: Ratio,
    /// Empty if it has none.
    pub(super) unit: &'t str,
}

impl<'t> PrintedNumber<'t> {
    /// Reads a text such as `2.19 g`; `None` if it is something else.
    pub(super) fn read(text: &'t str) -> Option<PrintedNumber<'t>> {
        let text = text.trim_matches([' ', '\u{a0}']);
        let (number, unit) = text.split_once([' ', '\u{a0}']).unwrap_or((text, ""));
        let number = number.replace('−', "-");
        let digits = number.strip_prefix('-').unwrap_or(&number);
        if !digits.starts_with(|c: char| c.is_ascii_digit())
            || digits.contains(|c: char| !c.is_ascii_digit() && c != '.')
        {
            return None;
        }
        let decimals = digits.split_once('.').map_or(0, |(_, after)| after.len());
        let places = i32::try_from(decimals).ok()?;
        Some(PrintedNumber {
            value: number.parse().ok()?,
            half: Ratio::power_of_ten(-places) * Ratio::new(1, 2)?,
            unit,
        })
    }

    /// Whether a value is printed like this.
    pub(super) fn is_of(&self, exact: &Ratio) -> bool {
        (exact - &self.value).abs() <= self.half
    }
}

/// A text with points in place of decimal commas.
pub(super) fn with_points(text: &str) -> String {
    let bytes = text.as_bytes();
    let digit = |at: Option<usize>| {
        let byte = at.and_then(|at| bytes.get(at));
        byte.is_some_and(u8::is_ascii_digit)
    };
    let letters = text.char_indices().map(|(at, letter)| {
        let is_mark = letter == ',' && digit(at.checked_sub(1)) && digit(Some(at + 1));
        if is_mark { '.' } else { letter }
    });
    letters.collect()
}

#[cfg(test)]
mod tests {
    use alloc::string::ToString;

    use super::*;

    #[test]
    fn numbers_are_read_with_their_units() {
        for (text, value, unit) in [
            ("2.19 g", "2.19", "g"),
            ("−170.72\u{a0}kJ/mol", "-170.72", "kJ/mol"),
            ("-0.33068 kJ", "-0.33068", "kJ"),
            ("100 %", "100", "%"),
            ("187.2 J/(mol·K)", "187.2", "J/(mol·K)"),
            ("7", "7", ""),
        ] {
            let read = PrintedNumber::read(text).unwrap();
            assert_eq!((read.value.to_string().as_str(), read.unit), (value, unit));
        }
        for text in ["", "g", "1/2 g", "1e3", "n(Fe)", "−", "MgSO4·7H2O", ".5"] {
            assert!(PrintedNumber::read(text).is_none(), "{text}");
        }
        assert_eq!(
            with_points("n(Fe) / 1 = 0,1157 mol, n(Zn) / 1 = 2 mol"),
            "n(Fe) / 1 = 0.1157 mol, n(Zn) / 1 = 2 mol"
        );
    }
}
