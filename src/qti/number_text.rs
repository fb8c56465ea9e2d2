//! Numbers with a decimal comma: a response that is a text, and rules that build its value.
//!
//! A response of the base type float has a decimal point, so that `51,17` must be a text. The rules tell the digits of
//! the text by patterns. Four patterns a digit, one for each of 8, 4, 2 and 1, are fewer than one for each digit. The
//! digits are counted from the first that is not zero, and a few more patterns tell where the decimal mark is.

use alloc::borrow::Cow;
use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::rule::{ResponseRule, RuleValue};
use crate::number::{DecimalMark, Ratio, Reading};

/// The fewest figures that are read, also of an entry whose answer has one or two.
const FEWEST_FIGURES: i32 = 7;
/// The number of figures that are read after those of the answer.
const MORE_FIGURES: i32 = 3;
/// The most figures that a float holds exactly.
const MOST_FIGURES: i32 = 15;

/// The parts that figures are sums of, and the figures that have each part.
const PARTS: [(i128, &str); 4] = [(8, "[89]"), (4, "[4-7]"), (2, "[2367]"), (1, "[13579]")];

/// The numbers that are read from a text, and how exactly.
///
/// A number is a sign or none, and digits with at most one comma or point, with spaces around. At least eight whole
/// digits are read, and at least six zeros between the mark and the first figure. A number with more of them is not
/// read, so that it is never taken for another. Figures after the last that is read are cut off.
pub(super) struct NumberReach {
    figures: i32,
    /// The number of bits in which the places before the last whole digit are counted.
    whole_bits: u32,
    /// The number of bits in which the places after the mark are counted.
    decimal_bits: u32,
}

impl NumberReach {
    /// Returns the reach for an answer as printed, and for numbers that are a hundred times too large or too small.
    pub(super) fn of(printed: &str) -> NumberReach {
        let answer = Reading::read(printed, DecimalMark::CommaOrPoint).ok();
        let decimal_places = answer.as_ref().map_or(0, Reading::decimal_places);
        let exponent = answer.and_then(|answer| answer.value().decimal_exponent());
        let exponent = exponent.unwrap_or(0);
        let figures = exponent + 1 + decimal_places + MORE_FIGURES;
        let bits = |places: i32| i32::BITS - (places + 2).clamp(7, 255).leading_zeros();
        NumberReach {
            figures: figures.clamp(FEWEST_FIGURES, MOST_FIGURES),
            whole_bits: bits(exponent),
            decimal_bits: bits(-exponent),
        }
    }

    /// Returns the number that is read if this one is entered: without the figures that are cut off. The limits of a
    /// range are compared with what is read, so that a number in the range is never outside.
    pub(super) fn cut(&self, number: &Ratio) -> Ratio {
        let Some(exponent) = number.decimal_exponent() else {
            return Ratio::ZERO;
        };
        let last_place = Ratio::power_of_ten(exponent - self.figures + 1);
        let units = number.abs().checked_div(&last_place).unwrap_or_default();
        let cut = units.floor() * last_place;
        if number.is_negative() { -cut } else { cut }
    }

    /// Returns a pattern of all texts that are numbers within reach.
    fn numbers(&self) -> String {
        let whole = (1_u32 << self.whole_bits) - 1;
        let zeros = (1_u32 << self.decimal_bits) - 2;
        format!(
            " *[+\\-–−]? *(0*[1-9][0-9]{{0,{whole}}}([,.][0-9]*)?|0+[,.]?|0*[,.](0+|0{{0,{zeros}}}[1-9][0-9]*)) *"
        )
    }

    /// Returns rules that add the figures as a whole number.
    fn figures(&self, text: &RuleText<'_>) -> Vec<ResponseRule> {
        let mut rules = Vec::new();
        for place in 0..self.figures {
            let before: Cow<'_, str> = match place {
                0 => "[^1-9]*".into(),
                1 => "[^1-9]*[1-9][,.]?".into(),
                2 => "[^1-9]*[1-9][,.]?[0-9][,.]?".into(),
                _ => format!("[^1-9]*[1-9]([,.]?[0-9]){{{}}}[,.]?", place - 1).into(),
            };
            let unit = Ratio::power_of_ten(self.figures - 1 - place);
            for (part, class) in PARTS {
                let sum = vec![text.value(), RuleValue::Float(&unit * part)];
                rules.push(text.change(format!("{before}{class}.*"), RuleValue::Sum(sum)));
            }
        }
        rules
    }

    /// Returns rules that put the decimal mark where it is in the text. Until the first quotient the value is whole,
    /// so that a float holds it exactly.
    fn mark(&self, text: &RuleText<'_>) -> Vec<ResponseRule> {
        let mut rules = Vec::new();
        for bit in 0..self.whole_bits {
            let places = 1 << bit;
            let more = more(bit, self.whole_bits, "[0-9]");
            let pattern = format!(
                "[^1-9,.]*[1-9]{more}[0-9]{{{places},{}}}([^0-9].*)?",
                2 * places - 1
            );
            rules.push(text.change(
                pattern,
                RuleValue::Product(vec![text.value(), ten_to(places)]),
            ));
        }
        rules.push(text.set(quotient(text.value(), ten_to(self.figures - 1))));
        for bit in 0..self.decimal_bits {
            let places = 1 << bit;
            let more = more(bit, self.decimal_bits, "0");
            let pattern = format!(
                "[^1-9]*[,.]{more}0{{{},{}}}[1-9].*",
                places - 1,
                2 * places - 2
            );
            rules.push(text.change(pattern, quotient(text.value(), ten_to(places))));
        }
        rules
    }
}

/// Returns rules that give the outcome the value of the response: a text within reach. If it is not such a text, the
/// outcome is NULL.
///
/// The value is that of the figures up to the last that is read, with an error of at most five roundings of a float: a
/// part in 10¹⁵. Of a number from one to 10⁸ it is the nearest float.
pub(super) fn value_rules(response: &str, outcome: &str, reach: &NumberReach) -> Vec<ResponseRule> {
    let text = RuleText { response, outcome };
    let mut rules = vec![text.set(RuleValue::Float(Ratio::ZERO))];
    rules.extend(reach.figures(&text));
    rules.extend(reach.mark(&text));
    let negative = RuleValue::Product(vec![text.value(), RuleValue::Float(-Ratio::ONE)]);
    rules.push(text.change(".*[\\-–−].*".into(), negative));
    let number = text.fits(reach.numbers());
    vec![ResponseRule::Branch(
        vec![(number, rules)],
        vec![text.set(RuleValue::Null)],
    )]
}

/// Returns the distances of the limits below and above a key, as decimals that are a little larger.
///
/// They are rounded up to the 13th figure of the largest of the three numbers, and one unit is added. Who compares floats
/// rounds the key, the entry, the distance and a sum, each by at most a part in 2⁵³ of that number. Together they are
/// less than a hundredth of the unit, so that an entry on the limit is within it. An entry that is beyond by two units
/// is not.
pub(super) fn outward(low: &Ratio, key: &Ratio, high: &Ratio) -> (Ratio, Ratio) {
    let exponent = [low, key, high]
        .into_iter()
        .filter_map(Ratio::decimal_exponent)
        .max();
    let unit = Ratio::power_of_ten(exponent.unwrap_or(0) - 12);
    let up = |distance: Ratio| {
        let units = distance.checked_div(&unit).unwrap_or_default().ceil();
        (units.max(Ratio::ZERO) + Ratio::ONE) * &unit
    };
    (up(key - low), up(high - key))
}

/// The text of a response, and the outcome that becomes its value.
struct RuleText<'a> {
    response: &'a str,
    outcome: &'a str,
}

impl RuleText<'_> {
    fn value(&self) -> RuleValue {
        RuleValue::Variable(self.outcome.into())
    }

    fn set(&self, value: RuleValue) -> ResponseRule {
        ResponseRule::Set(self.outcome.into(), value)
    }

    fn fits(&self, pattern: String) -> RuleValue {
        RuleValue::Pattern(pattern, Box::new(RuleValue::Variable(self.response.into())))
    }

    /// Returns a rule that sets the value if the text fits the pattern.
    fn change(&self, pattern: String, value: RuleValue) -> ResponseRule {
        ResponseRule::Branch(
            vec![(self.fits(pattern), vec![self.set(value)])],
            Vec::new(),
        )
    }
}

/// Returns a pattern of the digits that leave a bit of their number as it is: any multiple of twice its value. The
/// greatest bit needs none.
fn more(bit: u32, bits: u32, digit: &str) -> String {
    match bit + 1 < bits {
        true => format!("({digit}{{{}}})*", 2 << bit),
        false => String::new(),
    }
}

fn ten_to(exponent: i32) -> RuleValue {
    RuleValue::Float(Ratio::power_of_ten(exponent))
}

fn quotient(dividend: RuleValue, divisor: RuleValue) -> RuleValue {
    RuleValue::Quotient(Box::new(dividend), Box::new(divisor))
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;
    use std::sync::LazyLock;

    use proptest::prelude::*;
    use regex::Regex;

    use super::*;
    use crate::qti::xml::Xml;

    /// Runs rules on one response. Patterns are compiled once for a whole test.
    struct Run<'a> {
        patterns: &'a HashMap<String, Regex>,
        text: &'a str,
        outcome: Option<f64>,
    }

    impl Run<'_> {
        fn all(&mut self, rules: &[ResponseRule]) {
            for rule in rules {
                match rule {
                    ResponseRule::Set(_, value) => self.outcome = self.value(value),
                    ResponseRule::Branch(branches, otherwise) => {
                        let taken = branches.iter().find(|(condition, _)| self.fits(condition));
                        self.all(taken.map_or(otherwise, |(_, rules)| rules));
                    }
                }
            }
        }

        fn fits(&self, condition: &RuleValue) -> bool {
            match condition {
                RuleValue::Pattern(pattern, _) => self.patterns[pattern].is_match(self.text),
                _ => unreachable!(),
            }
        }

        fn value(&self, value: &RuleValue) -> Option<f64> {
            Some(match value {
                RuleValue::Null => return None,
                RuleValue::Variable(_) => self.outcome?,
                RuleValue::Float(number) => number.to_plain().parse().unwrap(),
                RuleValue::Sum(parts) => self.value(&parts[0])? + self.value(&parts[1])?,
                RuleValue::Product(parts) => self.value(&parts[0])? * self.value(&parts[1])?,
                RuleValue::Quotient(a, b) => self.value(a)? / self.value(b)?,
                _ => unreachable!(),
            })
        }
    }

    struct Reader {
        reach: NumberReach,
        rules: Vec<ResponseRule>,
        patterns: HashMap<String, Regex>,
    }

    impl Reader {
        fn of(printed: &str) -> Reader {
            let reach = NumberReach::of(printed);
            let rules = value_rules("ENTRY_1", "VALUE_1", &reach);
            let mut patterns = HashMap::new();
            gather(&rules, &mut patterns);
            Reader {
                reach,
                rules,
                patterns,
            }
        }

        fn read(&self, text: &str) -> Option<f64> {
            // An outcome that is a number begins with zero.
            let mut run = Run {
                patterns: &self.patterns,
                text,
                outcome: Some(0.0),
            };
            run.all(&self.rules);
            run.outcome
        }
    }

    fn gather(rules: &[ResponseRule], patterns: &mut HashMap<String, Regex>) {
        for rule in rules {
            if let ResponseRule::Branch(branches, _) = rule {
                for (condition, rules) in branches {
                    if let RuleValue::Pattern(pattern, _) = condition {
                        let whole = Regex::new(&format!("^(?:{pattern})$")).unwrap();
                        patterns.insert(pattern.clone(), whole);
                    }
                    gather(rules, patterns);
                }
            }
        }
    }

    fn ratio(text: &str) -> Ratio {
        text.parse().unwrap()
    }

    #[track_caller]
    fn reads(printed: &str, cases: &[(&str, &str)]) {
        let reader = Reader::of(printed);
        for (text, value) in cases {
            let value: f64 = value.parse().unwrap();
            let found = reader.read(text).unwrap_or(f64::NAN);
            assert!(
                (found - value).abs() <= 1e-15 * value.abs(),
                "{text}: {found} for {value}"
            );
        }
    }

    #[test]
    fn commas_and_points_are_read() {
        reads(
            "51,17",
            &[
                ("51,17", "51.17"),
                ("51.17", "51.17"),
                ("  51,17 ", "51.17"),
                ("+51,17", "51.17"),
                ("-51,17", "-51.17"),
                ("− 51,17", "-51.17"),
                ("–51.17", "-51.17"),
                ("00051,170", "51.17"),
                ("51", "51"),
                ("51,", "51"),
                (",5", "0.5"),
                ("0", "0"),
                ("-0,000", "0"),
                ("0,00000000000000000", "0"),
                ("0,0000001", "0.0000001"),
                ("99999999", "99999990"),
                ("10000009", "10000000"),
                ("51,1749999999", "51.17499"),
                ("1000,5", "1000.5"),
            ],
        );
        reads(
            "0,000012",
            &[("0,0000129", "0.0000129"), ("0,00000012", "0.00000012")],
        );
        reads(
            "123456789",
            &[("12345678912", "12345678912"), ("0,5", "0.5")],
        );
    }

    #[test]
    fn what_is_not_a_number_or_out_of_reach_has_no_value() {
        let reader = Reader::of("51,17");
        let texts = [
            "",
            " ",
            "-",
            ",",
            ".",
            "+,",
            "51,1,7",
            "1.234,5",
            "51,17 g",
            "51 17",
            "5e1",
            "1,5E-03",
            "--5",
            "5-",
            "x",
            "½",
            "٥١",
            "５１",
            "1\n",
            "100000000",
            "0,00000001",
            "NaN",
            "INF",
            "0x10",
            "5%",
        ];
        for text in texts {
            assert_eq!(reader.read(text), None, "{text:?}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(20_000))]

        #[test]
        fn a_number_has_the_value_that_was_typed(
            sign in "[-+−–]?",
            whole in "0{0,3}[0-9]{1,8}",
            decimals in proptest::option::of("([0-9]{0,7}|0{0,6}[1-9][0-9]{0,12})"),
            mark in "[,.]",
            spaces in " {0,2}",
        ) {
            static READER: LazyLock<Reader> = LazyLock::new(|| Reader::of("51,17"));
            let decimals = decimals.map(|decimals| format!("{mark}{decimals}")).unwrap_or_default();
            let text = format!("{spaces}{sign}{whole}{decimals}{spaces}");
            let minus = if matches!(&*sign, "" | "+") { "" } else { "-" };
            let plain = format!("{minus}{whole}{decimals}").replace(',', ".");
            let typed = ratio(plain.trim_end_matches('.'));
            let expected = READER.reach.cut(&typed).to_f64();
            let found = READER.read(&text);
            prop_assert!(found.is_some_and(|found| (found - expected).abs() <= 1e-15 * expected.abs()),
                "{}: {:?} for {}", text, found, expected);
            if typed.abs() >= Ratio::ONE {
                prop_assert_eq!(found, Some(expected));
            }
        }

        #[test]
        fn a_text_has_the_value_of_a_number_or_none(text in "[ 0-9,.+−x-]{0,12}") {
            static READER: LazyLock<Reader> = LazyLock::new(|| Reader::of("0,0123"));
            let inside = text.trim_matches(' ');
            let inside = inside.strip_prefix(['+', '-', '−']).unwrap_or(inside).trim_start_matches(' ');
            let digits = inside.bytes().filter(u8::is_ascii_digit).count();
            let marks = inside.bytes().filter(|byte| matches!(byte, b',' | b'.')).count();
            let number = digits > 0 && marks <= 1 && digits + marks == inside.len();
            let found = READER.read(&text);
            // A number that is too large or too small may have none.
            prop_assert!(number || found.is_none(), "{:?}: {:?}", text, found);
            let whole = inside.find([',', '.']).unwrap_or(inside.len());
            if number && whole <= 8 && digits - whole.min(digits) <= 7 {
                prop_assert!(found.is_some(), "{:?}", text);
            }
        }

        #[test]
        fn a_limit_is_within_and_two_units_more_is_not(
            key in -10_000_000_i128..10_000_000,
            places in 0_i32..9,
            below in (0_i128..100_000, 1_i128..1_000),
            above in (0_i128..100_000, 1_i128..1_000),
        ) {
            let key = Ratio::power_of_ten(-places) * key;
            let low = &key - Ratio::new(below.0, below.1).unwrap();
            let high = &key + Ratio::new(above.0, above.1).unwrap();
            let (below, above) = outward(&low, &key, &high);
            let exponent = [&low, &key, &high].into_iter().filter_map(Ratio::decimal_exponent).max();
            let beyond = Ratio::power_of_ten(exponent.unwrap_or(0) - 12) * 3;
            prop_assert!(below > &key - &low && above > &high - &key);
            for (entered, right) in [
                (low.clone(), true),
                (high.clone(), true),
                (&low - &beyond, false),
                (&high + &beyond, false),
            ] {
                let float = |number: &Ratio| number.to_plain().parse::<f64>().unwrap();
                let (x, y, below, above) = (float(&key), float(&entered), float(&below), float(&above));
                prop_assert_eq!(x - below <= y && y <= x + above, right);
                prop_assert_eq!(x - y <= below && y - x <= above, right);
            }
        }

        /// A number in a range is in it as it is read.
        #[test]
        fn a_range_holds_what_is_read(a in -100_000_000_i128..100_000_000, parts in 1_i128..999_999, more in 0_i128..99) {
            let reach = NumberReach::of("51,17");
            let low = Ratio::new(a, parts).unwrap();
            let entered = &low + Ratio::new(more, 10_000_000).unwrap();
            let high = &entered + Ratio::new(1, parts).unwrap();
            let read = reach.cut(&entered);
            prop_assert!(reach.cut(&low) <= read && read <= reach.cut(&high));
        }
    }

    #[test]
    fn distances_are_short_decimals() {
        let plain = |low, key, high| {
            let (below, above) = outward(&ratio(low), &ratio(key), &ratio(high));
            (below.to_plain(), above.to_plain())
        };
        let point = |a: &str, b: &str| (String::from(a), String::from(b));
        assert_eq!(
            plain("51.165", "51.17", "51.175"),
            point("0.00500000001", "0.00500000001")
        );
        assert_eq!(
            plain("1/3", "0.333", "1/3"),
            point("0.0000000000001", "0.0003333333335")
        );
        assert_eq!(
            plain("0", "0", "0"),
            point("0.000000000001", "0.000000000001")
        );
        assert_eq!(
            plain("-5", "-4", "-4"),
            point("1.000000000001", "0.000000000001")
        );
    }

    #[test]
    fn figures_are_cut_toward_zero() {
        let reach = NumberReach::of("51,17");
        let cut = |text| reach.cut(&ratio(text)).to_plain();
        assert_eq!(cut("51.1666666666"), "51.16666");
        assert_eq!(cut("-2/3"), "-0.6666666");
        assert_eq!(cut("9.99999999"), "9.999999");
        assert_eq!(cut("0"), "0");
    }

    /// A pattern of XML Schema has no anchors, no assertions and no lazy repetition. `\d` would be a digit of any script.
    #[test]
    fn patterns_are_of_xml_schema() {
        let absent = ["\\", "^", "$", "&", "(?", "*?", "+?", "??", "}?"];
        for printed in ["51,17", "0,000012", "123456789", "x"] {
            for pattern in Reader::of(printed).patterns.keys() {
                let plain = pattern.replace("[^", "[").replace("\\-", "");
                assert!(!absent.iter().any(|part| plain.contains(part)), "{pattern}");
            }
        }
    }

    #[test]
    fn the_rules_of_an_entry_are_short() {
        let mut xml = Xml::document().unwrap();
        for rule in Reader::of("51,17").rules {
            rule.write(&mut xml).unwrap();
        }
        let bytes = xml.finish().len();
        assert!(bytes < 14_500, "{bytes}");
    }
}
