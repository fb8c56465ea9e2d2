//! What the laws are tried on: exact fractions, readings, benches, and formulas as meanings that
//! can be spelt in many ways.

use std::collections::BTreeMap;

use effloresce::element::Atom;
use effloresce::gravimetry::Weighings;
use effloresce::{AtomicWeights, Element, Ratio, Reading};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

pub(crate) fn ratio_of(numerator: i128, denominator: i128) -> Ratio {
    Ratio::new(numerator, denominator).unwrap()
}

/// Ten to a power, without the crate's own.
pub(crate) fn ten_to(exponent: i32) -> Ratio {
    let ten = Ratio::from(10);
    let power = (0..exponent.abs()).fold(Ratio::ONE, |power, _| &power * &ten);
    if exponent < 0 {
        Ratio::ONE.checked_div(&power).unwrap()
    } else {
        power
    }
}

// --- exact fractions ---------------------------------------------------------------------

/// Whole numbers, most of them where something may go wrong.
fn whole() -> impl Strategy<Value = i128> {
    prop_oneof![
        4 => -1000_i128..1000,
        2 => any::<i64>().prop_map(i128::from),
        2 => any::<i128>(),
        1 => (0_i128..40).prop_map(|near| i128::MAX - near),
        1 => (0_i128..40).prop_map(|near| i128::MIN + near),
        1 => (0_u32..39).prop_map(|power| 10_i128.pow(power)),
        1 => (0_u32..127).prop_map(|power| -(1_i128 << power)),
    ]
}

/// Fractions on both sides of what two `i128` can hold.
pub(crate) fn ratio() -> impl Strategy<Value = Ratio> {
    let one = || {
        (
            whole(),
            whole().prop_filter("no zero below the line", |d| *d != 0),
        )
            .prop_map(|(n, d)| ratio_of(n, d))
    };
    prop_oneof![
        4 => one(),
        1 => (one(), one()).prop_map(|(a, b)| &a * &b),
        1 => (one(), one()).prop_map(|(a, b)| &a + &b),
    ]
}

// --- readings ----------------------------------------------------------------------------

/// A whole number of units of the last place, written out.
pub(crate) fn written(units: i128, places: u32) -> String {
    let width = places as usize + 1;
    let digits = format!("{:0>width$}", units.unsigned_abs());
    let (above, below) = digits.split_at(digits.len() - places as usize);
    let sign = if units < 0 { "-" } else { "" };
    if places == 0 {
        format!("{sign}{above}")
    } else {
        format!("{sign}{above}.{below}")
    }
}

pub(crate) fn reading(units: i128, places: u32) -> Reading {
    written(units, places).parse().unwrap()
}

/// One bench: whole numbers of the smallest step that its balance shows.
#[derive(Debug, Clone)]
pub(crate) struct Bench {
    pub(crate) salt: Salt,
    pub(crate) places: u32,
    pub(crate) container: i128,
    pub(crate) hydrate: i128,
    /// What was left after each heating, without the container.
    pub(crate) left: Vec<i128>,
}

impl Bench {
    pub(crate) fn with_hydrate(&self) -> i128 {
        self.container + self.hydrate
    }

    pub(crate) fn heated(&self) -> impl Iterator<Item = i128> {
        self.left.iter().map(|left| self.container + left)
    }

    pub(crate) fn last(&self) -> i128 {
        *self.left.last().unwrap()
    }

    /// The readings, each as `shown` writes it.
    pub(crate) fn weighings_by(&self, shown: impl Fn(i128) -> Reading) -> Weighings {
        let heated: Vec<Reading> = self.heated().map(&shown).collect();
        Weighings::new(shown(self.container), shown(self.with_hydrate()), heated)
    }

    pub(crate) fn weighings(&self) -> Weighings {
        self.weighings_by(|units| reading(units, self.places))
    }
}

/// A salt, and what is in it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Salt {
    pub(crate) formula: &'static str,
    pub(crate) atoms: &'static [(&'static str, u32)],
}

pub(crate) const WATER: Salt = Salt {
    formula: "H2O",
    atoms: &[("H", 2), ("O", 1)],
};

const SALTS: [Salt; 10] = [
    Salt {
        formula: "MgSO4",
        atoms: &[("Mg", 1), ("S", 1), ("O", 4)],
    },
    Salt {
        formula: "CuSO4",
        atoms: &[("Cu", 1), ("S", 1), ("O", 4)],
    },
    Salt {
        formula: "CaSO4",
        atoms: &[("Ca", 1), ("S", 1), ("O", 4)],
    },
    Salt {
        formula: "BaCl2",
        atoms: &[("Ba", 1), ("Cl", 2)],
    },
    Salt {
        formula: "CuCl2",
        atoms: &[("Cu", 1), ("Cl", 2)],
    },
    Salt {
        formula: "Na2CO3",
        atoms: &[("Na", 2), ("C", 1), ("O", 3)],
    },
    Salt {
        formula: "CdSO4",
        atoms: &[("Cd", 1), ("S", 1), ("O", 4)],
    },
    Salt {
        formula: "KAl(SO4)2",
        atoms: &[("K", 1), ("Al", 1), ("S", 2), ("O", 8)],
    },
    Salt {
        formula: "Na2HPO4",
        atoms: &[("Na", 2), ("H", 1), ("P", 1), ("O", 4)],
    },
    Salt {
        formula: "ZrOCl2",
        atoms: &[("Zr", 1), ("O", 1), ("Cl", 2)],
    },
];

/// Benches with possible masses: sound ones, careless ones, and a few without any loss.
pub(crate) fn bench() -> impl Strategy<Value = Bench> {
    let heatings = prop_oneof![
        // As it goes: falling to a mass that stays.
        3 => (0.2_f64..0.95, vec(0_i128..4, 1..4)).prop_map(|(part, steps)| (part, steps, false)),
        // Any order.
        1 => (0.01_f64..=1.0, vec(0_i128..3000, 1..5)).prop_map(|(part, steps)| (part, steps, true)),
    ];
    (
        select(&SALTS[..]),
        0_u32..=4,
        0_i128..60_000,
        60_i128..30_000,
        heatings,
    )
        .prop_map(|(salt, places, container, hydrate, (part, steps, any))| {
            let end = ((hydrate as f64 * part) as i128).clamp(1, hydrate);
            let mut left: Vec<i128> = steps.iter().map(|step| (end + step).min(hydrate)).collect();
            if !any {
                left.sort_unstable_by(|a, b| b.cmp(a));
            }
            Bench {
                salt,
                places,
                container,
                hydrate,
                left,
            }
        })
}

// --- formulas ----------------------------------------------------------------------------

/// What a formula says, apart from how it is spelt.
#[derive(Debug, Clone)]
pub(crate) struct Meaning {
    pub(crate) parts: Vec<Part>,
    pub(crate) state: Option<&'static str>,
}

#[derive(Debug, Clone)]
pub(crate) struct Part {
    pub(crate) coefficient: Number,
    pub(crate) terms: Vec<Term>,
    pub(crate) charge: i32,
}

#[derive(Debug, Clone)]
pub(crate) enum Term {
    Atom(Atom, Number),
    Group([char; 2], Vec<Term>, Number),
}

/// How many, in lowest terms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Number {
    Of(u32, u32),
    Open(char),
}

impl Number {
    pub(crate) const ONE: Number = Number::Of(1, 1);

    pub(crate) fn ratio(self) -> Option<Ratio> {
        match self {
            Number::Of(n, d) => Some(ratio_of(n.into(), d.into())),
            Number::Open(_) => None,
        }
    }

    /// As a decimal, where it ends soon.
    fn decimal(self) -> Option<String> {
        match self {
            Number::Of(n, d) if d > 1 && 1000 % d == 0 => {
                let text = written((n * (1000 / d)).into(), 3);
                Some(text.trim_end_matches('0').into())
            }
            _ => None,
        }
    }
}

impl Part {
    pub(crate) fn is_water(&self) -> bool {
        let [Term::Atom(a, Number::Of(2, 1)), Term::Atom(b, Number::ONE)] = self.terms[..] else {
            return false;
        };
        self.charge == 0 && (a.to_string(), b.to_string()) == ("H".into(), "O".into())
    }

    /// Whether water in brackets right behind is water of crystallization.
    fn takes_water(&self) -> bool {
        self.coefficient == Number::ONE && self.charge == 0
    }

    fn is_one_group(&self) -> bool {
        matches!(self.terms[..], [Term::Group(..)])
    }
}

pub(crate) type Counts = BTreeMap<String, Ratio>;

impl Meaning {
    /// Counted here, without the crate; `None` where a count is open.
    pub(crate) fn counts(&self) -> Option<Counts> {
        let mut sum = Counts::new();
        for part in &self.parts {
            count(&part.terms, &part.coefficient.ratio()?, &mut sum)?;
        }
        Some(sum)
    }
}

impl Part {
    /// As a formula of its own, once.
    pub(crate) fn alone(&self) -> Meaning {
        let one = Part {
            coefficient: Number::ONE,
            ..self.clone()
        };
        Meaning {
            parts: vec![one],
            state: None,
        }
    }
}

fn count(terms: &[Term], factor: &Ratio, sum: &mut Counts) -> Option<()> {
    for term in terms {
        match term {
            Term::Atom(atom, number) => {
                let entry = sum.entry(atom.to_string()).or_default();
                *entry = &*entry + &(factor * &number.ratio()?);
            }
            Term::Group(_, inside, number) => count(inside, &(factor * &number.ratio()?), sum)?,
        }
    }
    Some(())
}

fn number() -> impl Strategy<Value = Number> {
    prop_oneof![
        6 => Just(Number::ONE),
        6 => (2_u32..13).prop_map(|n| Number::Of(n, 1)),
        1 => (1_u32..=2000).prop_map(|n| Number::Of(n, 1)),
        2 => select(vec![
            (1, 2), (3, 2), (5, 2), (1, 4), (3, 4), (1, 8), (19, 10), (33, 100), (693, 100),
        ]).prop_map(|(n, d)| Number::Of(n, d)),
        1 => select(vec![(1, 3), (2, 3), (8, 3), (5, 6), (3, 7)])
            .prop_map(|(n, d)| Number::Of(n, d)),
    ]
}

fn open_number() -> impl Strategy<Value = Number> {
    prop_oneof![
        4 => number(),
        1 => select(vec!['x', 'n']).prop_map(Number::Open),
    ]
}

fn with_weight() -> Vec<Element> {
    let weights = AtomicWeights::default();
    let all = Element::ALL.into_iter();
    all.filter(|element| weights.weight(*element).is_ok())
        .collect()
}

fn atom() -> impl Strategy<Value = Atom> {
    let common = [
        "H", "C", "N", "O", "S", "Cl", "Na", "Mg", "K", "Ca", "Cu", "Fe", "Co", "U",
    ];
    let common: Vec<Element> = common.iter().map(|s| s.parse().unwrap()).collect();
    let labelled = [
        ("H", 2),
        ("H", 3),
        ("Li", 6),
        ("B", 10),
        ("C", 13),
        ("N", 15),
        ("O", 18),
        ("S", 34),
        ("Cl", 37),
        ("Fe", 57),
    ];
    let labelled: Vec<Atom> = labelled
        .iter()
        .map(|(symbol, mass)| Atom::labelled(symbol.parse().unwrap(), *mass).unwrap())
        .collect();
    prop_oneof![
        6 => select(common).prop_map(Atom::natural),
        3 => select(with_weight()).prop_map(Atom::natural),
        1 => select(labelled),
    ]
}

fn terms<N: Strategy<Value = Number> + Clone + 'static>(
    number: N,
) -> impl Strategy<Value = Vec<Term>> {
    let leaf = (atom(), number.clone()).prop_map(|(atom, number)| Term::Atom(atom, number));
    let term = leaf.prop_recursive(3, 10, 3, move |inner| {
        let brackets = select(vec![['(', ')'], ['(', ')'], ['[', ']'], ['{', '}']]);
        (brackets, vec(inner, 1..4), number.clone())
            .prop_map(|(brackets, inside, number)| Term::Group(brackets, inside, number))
    });
    vec(term, 1..5)
}

fn water() -> Vec<Term> {
    let natural = |symbol: &str| Atom::natural(symbol.parse().unwrap());
    vec![
        Term::Atom(natural("H"), Number::Of(2, 1)),
        Term::Atom(natural("O"), Number::ONE),
    ]
}

fn part<N: Strategy<Value = Number> + Clone + 'static>(number: N) -> impl Strategy<Value = Part> {
    let charge = prop_oneof![5 => Just(0), 1 => -4..=4, 1 => -120..=120];
    (number.clone(), terms(number), charge).prop_map(|(coefficient, terms, charge)| {
        let part = Part {
            coefficient,
            terms,
            charge,
        };
        // Whether a charge behind (…)2 is that of each or of both, the text does not say.
        let charge = if part.is_one_group() { 0 } else { charge };
        Part { charge, ..part }
    })
}

fn meaning_of<N: Strategy<Value = Number> + Clone + 'static>(
    number: N,
) -> impl Strategy<Value = Meaning> {
    let waters = number.clone().prop_map(|coefficient| Part {
        coefficient,
        terms: water(),
        charge: 0,
    });
    let solvate = prop_oneof![3 => waters, 1 => part(number.clone())];
    let state = prop_oneof![
        4 => Just(None),
        1 => select(vec!["(s)", "(l)", "(g)", "(aq)"]).prop_map(Some),
    ];
    (part(number), vec(solvate, 0..3), state).prop_map(|(first, mut parts, state)| {
        parts.insert(0, first);
        Meaning { parts, state }
    })
}

/// Formulas whose every count is known and whose every atom has a mass.
pub(crate) fn meaning() -> impl Strategy<Value = Meaning> {
    meaning_of(number().boxed())
}

/// The same, with counts left open among them.
pub(crate) fn open_meaning() -> impl Strategy<Value = Meaning> {
    meaning_of(open_number().boxed())
}

/// The choices that a spelling makes, drawn from a number: the same one gives the same text.
pub(crate) struct Spelling(u64);

impl Spelling {
    pub(crate) fn new(seed: u64) -> Spelling {
        Spelling(seed)
    }

    fn choose(&mut self, among: usize) -> usize {
        // Nought, to which a failing case shrinks, is the plainest spelling.
        let choice = (self.0 >> 33) as usize % among;
        if self.0 != 0 {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005) | 1;
        }
        choice
    }

    fn among<'a>(&mut self, all: &[&'a str]) -> &'a str {
        all[self.choose(all.len())]
    }

    pub(crate) fn write(&mut self, meaning: &Meaning) -> String {
        let mut out: String = self.among(&["", "", "", " ", "\u{A0}"]).into();
        for (index, part) in meaning.parts.iter().enumerate() {
            if index > 0 {
                let before = &meaning.parts[index - 1];
                if part.is_water() && before.takes_water() && self.choose(6) == 5 {
                    let number = self.count(part.coefficient, false);
                    out.push_str(&format!("(H2O){number}"));
                    continue;
                }
                let mut dots = vec!["·", "•", "∙", "⋅", "*", " · ", "·\u{2009}", " * "];
                if part.is_water() {
                    // A full stop before water is an adduct dot, whatever stands before it.
                    dots.push(".");
                }
                let dot = self.among(&dots);
                out.push_str(dot);
                if dot == "." {
                    match part.coefficient {
                        Number::ONE => {}
                        Number::Open(letter) => out.push(letter),
                        Number::Of(n, 1) => out.push_str(&format!("{n}")),
                        Number::Of(n, d) => out.push_str(&format!("{n}/{d}")),
                    }
                    out.push_str("H2O");
                    continue;
                }
            }
            self.part(&mut out, part);
        }
        out.push_str(meaning.state.unwrap_or(""));
        out.push_str(self.among(&["", "", "", " "]));
        out
    }

    fn part(&mut self, out: &mut String, part: &Part) {
        if part.is_water() && self.choose(2) == 1 {
            let water = self.among(&["H2O", "OH2", "HOH", "H₂O", "(H2O)", "H_{2}O"]);
            // `(H2O)7` counts behind as well as before.
            if self.choose(3) == 1 {
                let number = self.count(part.coefficient, false);
                out.push_str(&format!("(H2O){number}"));
            } else {
                out.push_str(&self.coefficient(part.coefficient));
                out.push_str(water);
            }
            return;
        }
        out.push_str(&self.coefficient(part.coefficient));
        self.terms(out, &part.terms);
        out.push_str(&self.charge(part.charge));
    }

    fn terms(&mut self, out: &mut String, terms: &[Term]) {
        for term in terms {
            match term {
                Term::Atom(atom, number) => {
                    // `^2Hx` is not read yet, `[2H]x` is.
                    let open = matches!(number, Number::Open(_)) && atom.mass_number().is_some();
                    let spelt = match open {
                        true => atom.to_string(),
                        false => self.atom(*atom),
                    };
                    out.push_str(&spelt);
                    out.push_str(&self.count(*number, true));
                }
                Term::Group([open, close], inside, number) => {
                    out.push(*open);
                    self.terms(out, inside);
                    out.push(*close);
                    out.push_str(&self.count(*number, false));
                }
            }
        }
    }

    fn atom(&mut self, atom: Atom) -> String {
        let symbol = atom.element().symbol();
        let Some(number) = atom.mass_number() else {
            return symbol.into();
        };
        let raised: String = number.to_string().chars().map(raised).collect();
        let mut ways = vec![
            format!("[{number}{symbol}]"),
            format!("^{number}{symbol}"),
            format!("^{{{number}}}{symbol}"),
            format!("{raised}{symbol}"),
        ];
        match (symbol, number) {
            ("H", 2) => ways.push("D".into()),
            ("H", 3) => ways.push("T".into()),
            _ => {}
        }
        ways.swap_remove(self.choose(ways.len()))
    }

    /// The count behind an atom or a bracket.
    fn count(&mut self, number: Number, behind_atom: bool) -> String {
        let (n, d) = match number {
            Number::ONE => return self.among(&["", "", "", "", "", "1", "₁"]).into(),
            // `C_n` written `Cn` would be another element.
            Number::Open('n') if behind_atom => return self.among(&["_n", "_{n}", "ₙ"]).into(),
            Number::Open(letter) => {
                let lowered = if letter == 'x' { 'ₓ' } else { 'ₙ' };
                let ways = [
                    letter.to_string(),
                    format!("_{letter}"),
                    format!("_{{{letter}}}"),
                    lowered.to_string(),
                ];
                return ways[self.choose(4)].clone();
            }
            Number::Of(n, d) => (n, d),
        };
        let mut ways = Vec::new();
        if d == 1 {
            let wide: String = n.to_string().chars().map(full_width).collect();
            ways.extend([format!("{n}"), format!("_{n}"), format!("_{{{n}}}"), wide]);
            ways.push(lowered(&n.to_string()));
        } else {
            ways.extend([format!("{n}/{d}"), format!("_{{{n}/{d}}}")]);
            ways.push(lowered(&format!("{n}/{d}")));
            ways.extend(vulgar(n, d));
            if let Some(decimal) = number.decimal() {
                ways.extend([format!("_{{{decimal}}}"), lowered(&decimal)]);
                if decimal.starts_with("0.") {
                    ways.push(decimal);
                }
            }
        }
        ways.swap_remove(self.choose(ways.len()))
    }

    fn coefficient(&mut self, number: Number) -> String {
        let mut text = match number {
            Number::ONE => return self.among(&["", "", "", "", "1"]).into(),
            Number::Open(letter) => letter.to_string(),
            Number::Of(n, 1) => n.to_string(),
            Number::Of(n, d) => {
                let mut ways = vec![format!("{n}/{d}")];
                ways.extend(vulgar(n, d));
                ways.extend(number.decimal());
                ways.swap_remove(self.choose(ways.len()))
            }
        };
        text.push_str(self.among(&["", "", "", " ", "\u{A0}"]));
        text
    }

    fn charge(&mut self, charge: i32) -> String {
        if charge == 0 {
            return String::new();
        }
        let size = match charge.abs() {
            1 if self.choose(2) == 0 => String::new(),
            size => size.to_string(),
        };
        let (sign, raised_sign) = match (charge < 0, self.choose(2)) {
            (true, 0) => ('-', '⁻'),
            (true, _) => ('\u{2212}', '⁻'),
            (false, _) => ('+', '⁺'),
        };
        let raised: String = size.chars().map(raised).collect();
        let ways = [
            format!("^{size}{sign}"),
            format!("^{{{size}{sign}}}"),
            format!("{raised}{raised_sign}"),
            format!("({size}{sign})"),
        ];
        ways[self.choose(4)].clone()
    }
}

fn raised(digit: char) -> char {
    let raised = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    raised[digit.to_digit(10).unwrap() as usize]
}

fn full_width(digit: char) -> char {
    char::from_u32(0xFF10 + digit.to_digit(10).unwrap()).unwrap()
}

fn lowered(text: &str) -> String {
    let lower = |c: char| match c.to_digit(10) {
        Some(digit) => char::from_u32(0x2080 + digit).unwrap(),
        None if c == '/' => '\u{2044}',
        None => c,
    };
    text.chars().map(lower).collect()
}

/// With a fraction sign of its own: `½`, `2½`.
fn vulgar(n: u32, d: u32) -> Option<String> {
    let sign = match (n % d, d) {
        (1, 2) => '½',
        (1, 3) => '⅓',
        (2, 3) => '⅔',
        (1, 4) => '¼',
        (3, 4) => '¾',
        (1, 8) => '⅛',
        (5, 6) => '⅚',
        _ => return None,
    };
    Some(match n / d {
        0 => sign.to_string(),
        whole => format!("{whole}{sign}"),
    })
}
