//! Rounding against digits worked by hand: strings of digits, dropped and carried as on paper.

use effloresce::number::{Rounded, TieRule};
use effloresce::{Ratio, Reading};

use crate::draws::Draws;

/// A number on paper: its digits, the number of them after the point, its sign.
#[derive(Debug, Clone)]
struct Paper {
    negative: bool,
    digits: Vec<u8>,
    places: i32,
    /// Whether more follows than is written: then nothing is half-way.
    more: bool,
}

/// The result of rounding on paper.
#[derive(Debug, PartialEq, Eq)]
struct OnPaper {
    text: String,
    places: i32,
    ties_differ: bool,
    carried: bool,
}

fn all_zero(digits: &[u8]) -> bool {
    digits.iter().all(|digit| *digit == 0)
}

impl Paper {
    /// The number as it is written, with at least one digit before the point.
    fn text(&self) -> String {
        show(self.negative, &self.digits, self.places)
    }

    fn to_places(&self, places: i32, ties: TieRule) -> OnPaper {
        let (mut kept, mut dropped) = (self.digits.clone(), Vec::new());
        for _ in places..self.places {
            // A leading zero can always be dropped.
            dropped.insert(0, kept.pop().unwrap_or(0));
        }
        kept.extend((self.places..places).map(|_| 0));
        let half = dropped.first() == Some(&5) && all_zero(&dropped[1..]) && !self.more;
        let odd = kept.last().is_some_and(|digit| digit % 2 == 1);
        let up = match (half, dropped.first()) {
            (true, _) => odd || ties == TieRule::AwayFromZero,
            (false, Some(first)) => *first >= 5,
            (false, None) => false,
        };
        let length = kept.len();
        if up {
            add_one(&mut kept);
        }
        OnPaper {
            text: show(self.negative, &kept, places),
            places,
            ties_differ: half && !odd,
            carried: kept.len() > length || (up && kept.last() == Some(&0)),
        }
    }

    fn to_figures(&self, figures: usize, ties: TieRule) -> OnPaper {
        let figures_wide = i32::try_from(figures).unwrap();
        let Some(first) = self.digits.iter().position(|digit| *digit != 0) else {
            return self.to_places(figures_wide - 1, ties);
        };
        let behind = i32::try_from(self.digits.len() - first).unwrap();
        let places = self.places - behind + figures_wide;
        let rounded = self.to_places(places, ties);
        let digits = rounded.text.trim_start_matches(['-', '0', '.']);
        let written = digits.chars().filter(char::is_ascii_digit).count();
        let zeros = usize::try_from(-places).unwrap_or(0);
        if written - zeros > figures {
            // A carry made one figure too many: its last is a zero.
            return OnPaper {
                ties_differ: rounded.ties_differ,
                carried: true,
                ..self.to_places(places - 1, ties)
            };
        }
        rounded
    }
}

fn add_one(digits: &mut Vec<u8>) {
    for digit in digits.iter_mut().rev() {
        if *digit < 9 {
            *digit += 1;
            return;
        }
        *digit = 0;
    }
    digits.insert(0, 1);
}

fn show(negative: bool, digits: &[u8], places: i32) -> String {
    let mut text: String = digits.iter().map(|d| char::from(b'0' + d)).collect();
    text.extend((places..0).map(|_| '0'));
    let behind = usize::try_from(places).unwrap_or(0);
    let mut text = format!("{text:0>width$}", width = behind + 1);
    let point = text.len() - behind;
    // There is no leading zero but one before the point.
    let lead = text[..point].len() - text[..point].trim_start_matches('0').len();
    let lead = lead.min(point - 1);
    if behind > 0 {
        text.insert(point, '.');
    }
    let sign = if negative && !all_zero(digits) {
        "-"
    } else {
        ""
    };
    format!("{sign}{}", &text[lead..])
}

/// A number with many nines, fives and zeros, which are the hard cases of rounding.
fn draw(draws: &mut Draws) -> Paper {
    const DIGITS: [u8; 16] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 9, 9, 9, 5, 0, 0];
    let length = 1 + draws.below(12);
    let mut digits: Vec<u8> = (0..length)
        .map(|_| DIGITS[draws.below(16) as usize])
        .collect();
    if draws.below(3) == 0 {
        digits.push(5);
    }
    Paper {
        negative: draws.below(4) == 0,
        places: i32::try_from(draws.below(15)).unwrap(),
        digits,
        more: false,
    }
}

#[track_caller]
fn agree(rounded: &Rounded, expected: &OnPaper, of: &str) {
    let found = (
        rounded.to_string(),
        rounded.decimal_places(),
        rounded.ties_differ(),
    );
    let paper = (expected.text.clone(), expected.places, expected.ties_differ);
    assert_eq!(found, paper, "{of}");
    let value: Ratio = expected.text.parse().unwrap();
    assert_eq!(rounded.value(), value, "{of}");
}

const RULES: [TieRule; 2] = [TieRule::Even, TieRule::AwayFromZero];

/// Scientific notation holds the same figures, and is read back with them.
#[track_caller]
fn comes_back(rounded: &Rounded, figures: usize) {
    let text = rounded.to_scientific();
    let read: Reading = text.parse().unwrap();
    assert_eq!(read.value(), rounded.value(), "{text}");
    assert_eq!(read.decimal_places(), rounded.decimal_places(), "{text}");
    if !read.value().is_zero() {
        assert_eq!(read.figures().at_least() as usize, figures, "{text}");
        assert!(read.figures().is_certain(), "{text}");
    }
}

#[test]
fn the_cases_on_paper() {
    let paper = |digits: &[u8], places| Paper {
        negative: false,
        digits: digits.to_vec(),
        places,
        more: false,
    };
    let text = |found: OnPaper| found.text;
    for rule in RULES {
        assert_eq!(text(paper(&[9, 5], 2).to_figures(1, rule)), "1");
        assert_eq!(text(paper(&[9, 9, 9, 5], 3).to_figures(3, rule)), "10.0");
        assert_eq!(text(paper(&[4, 2], 0).to_places(2, rule)), "42.00");
        assert_eq!(
            text(paper(&[0, 0, 1, 2, 3, 4], 6).to_figures(2, rule)),
            "0.0012"
        );
        assert_eq!(text(paper(&[9, 9, 6], 0).to_figures(2, rule)), "1000");
    }
    let tie = paper(&[2, 3, 4, 5], 3);
    assert_eq!(text(tie.to_places(2, TieRule::Even)), "2.34");
    assert_eq!(text(tie.to_places(2, TieRule::AwayFromZero)), "2.35");
}

#[test]
fn decimals() {
    let mut draws = Draws::new(95);
    let (mut carried, mut differ, mut small, mut longer) = (0, 0, 0, 0);
    for _ in 0..20_000 {
        let paper = draw(&mut draws);
        let text = paper.text();
        let value: Ratio = text.parse().unwrap();
        let places = i32::try_from(draws.below(16)).unwrap() - 3;
        let figures = 1 + draws.below(8);
        for rule in RULES {
            let expected = paper.to_places(places, rule);
            agree(&value.to_places(places, rule), &expected, &text);
            longer += usize::from(places > paper.places);
            let expected = paper.to_figures(figures as usize, rule);
            let rounded = value.to_figures(figures, rule);
            agree(&rounded, &expected, &text);
            comes_back(&rounded, figures as usize);
            carried += usize::from(expected.carried);
            differ += usize::from(expected.ties_differ);
            small += usize::from(expected.text.contains("0.00"));
        }
    }
    // The draws contain carries, ties, leading zeros and added decimal places.
    for (reached, least) in [
        (carried, 2_000),
        (differ, 400),
        (small, 2_000),
        (longer, 5_000),
    ] {
        assert!(reached > least, "{carried} {differ} {small} {longer}");
    }
}

/// Fractions by long division: digit after digit, and whether anything is left.
#[test]
fn fractions() {
    let mut draws = Draws::new(42);
    for _ in 0..5_000 {
        let (above, below) = (draws.below(100_000), 1 + draws.below(999));
        let mut digits: Vec<u8> = Vec::new();
        let whole = (above / below).to_string();
        digits.extend(whole.bytes().map(|b| b - b'0'));
        let mut rest = above % below;
        for _ in 0..12 {
            digits.push(u8::try_from(rest * 10 / below).unwrap());
            rest = rest * 10 % below;
        }
        let paper = Paper {
            negative: draws.below(2) == 0,
            digits,
            places: 12,
            more: rest != 0,
        };
        let value = Ratio::new(above.into(), below.into()).unwrap();
        let value = if paper.negative { -&value } else { value };
        let of = format!("{above}/{below}");
        let places = i32::try_from(draws.below(12)).unwrap();
        let figures = 1 + draws.below(7);
        for rule in RULES {
            agree(
                &value.to_places(places, rule),
                &paper.to_places(places, rule),
                &of,
            );
            // Twelve places hold eleven figures of whatever is not below a tenth.
            if above >= below {
                let expected = paper.to_figures(figures as usize, rule);
                agree(&value.to_figures(figures, rule), &expected, &of);
            }
        }
    }
}
