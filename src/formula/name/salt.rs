//! A salt as its ions with their counts, which give both its formula and its name.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use num_integer::Integer;

use super::numbers;
use crate::formula::ions::{AMBIGUOUS_NAMES, CATIONS, DIMERCURY, Ion, Metal, OF_DOUBLE_SALTS};

/// What a cation is, apart from its charge.
#[derive(Clone, Copy)]
pub(super) enum CationKind {
    /// A metal with the number of waters that are bound to it.
    Metal(&'static Metal, u32),
    Ion(&'static Ion),
}

/// A cation with its charge.
#[derive(Clone, Copy)]
pub(super) struct Cation {
    kind: CationKind,
    charge: u8,
}

pub(super) struct Salt {
    /// One or two, in the order of the text.
    pub(super) cations: Vec<(Cation, u32)>,
    pub(super) anion: &'static Ion,
    pub(super) anions: u32,
}

/// Why charges alone do not give the counts.
pub(super) enum UnknownRatio {
    /// The first two of several ratios.
    Several(String, String),
    /// No ratio that is tried.
    None,
}

/// The largest count of each of two cations that is tried.
const MOST_OF_A_CATION: u32 = 6;

const ROMAN: [&str; 8] = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII"];

/// The number that a Roman numeral stands for, up to eight.
pub(super) fn from_roman(word: &str) -> Option<u8> {
    let at = ROMAN.iter().position(|r| r.eq_ignore_ascii_case(word))?;
    u8::try_from(at + 1).ok()
}

/// A metal's ion by its Stock number: `iron(III)`.
pub(super) fn stock_name(metal: &Metal, charge: u8) -> String {
    let index = usize::from(charge).checked_sub(1);
    let roman = index.and_then(|index| ROMAN.get(index)).unwrap_or(&"0");
    format!("{}({roman})", metal.name())
}

impl CationKind {
    /// The cation in each of its charges.
    pub(super) fn cations(self) -> Vec<Cation> {
        match self {
            CationKind::Ion(ion) => [Cation::ion(ion)].into(),
            // A pair of mercury atoms is an ion in its own right.
            CationKind::Metal(metal, waters) => metal
                .charges()
                .map(|charge| Cation::metal(metal, waters, charge))
                .filter(|cation| !cation.is_pair())
                .collect(),
        }
    }
}

impl Cation {
    pub(super) fn ion(ion: &'static Ion) -> Cation {
        Cation {
            kind: CationKind::Ion(ion),
            charge: ion.charge,
        }
    }

    /// A metal's ion of this charge. For mercury(I) it is the pair.
    pub(super) fn metal(metal: &'static Metal, waters: u32, charge: u8) -> Cation {
        let pair = CATIONS.iter().find(|ion| ion.formula == DIMERCURY);
        match pair {
            Some(pair) if (metal.symbol, waters, charge) == ("Hg", 0, 1) => Cation::ion(pair),
            _ => Cation {
                kind: CationKind::Metal(metal, waters),
                charge,
            },
        }
    }

    pub(super) fn charge(self) -> u32 {
        self.charge.into()
    }

    /// Whether this is mercury(I), which is a pair of atoms.
    fn is_pair(self) -> bool {
        matches!(self.kind, CationKind::Ion(ion) if ion.formula == DIMERCURY)
    }

    /// Whether the ion has no other charge.
    fn has_one_charge(self) -> bool {
        match self.kind {
            CationKind::Metal(metal, waters) => !metal.numbered && waters == 0,
            CationKind::Ion(_) => !self.is_pair(),
        }
    }

    /// How many metal atoms the ion has.
    fn atoms(self) -> u32 {
        if self.is_pair() { 2 } else { 1 }
    }

    /// How many ions have this number of metal atoms.
    pub(super) fn ions_of(self, atoms: u32) -> Option<u32> {
        let each = self.atoms();
        (atoms % each == 0).then_some(atoms / each)
    }

    fn has_bound_water(self) -> bool {
        matches!(self.kind, CationKind::Metal(_, 1..))
    }

    pub(super) fn name(self) -> String {
        let (metal, waters) = match self.kind {
            CationKind::Ion(ion) => return ion.name.into(),
            CationKind::Metal(metal, waters) => (metal, waters),
        };
        let aqua = match waters {
            0 => String::new(),
            1 => "aqua".into(),
            _ => numbers::term(waters).unwrap_or_default() + "aqua",
        };
        match metal.numbered {
            true => aqua + &stock_name(metal, self.charge),
            false => aqua + metal.name(),
        }
    }

    /// The formula of this number of cations.
    fn formula(self, count: u32) -> String {
        match self.kind {
            CationKind::Metal(metal, 0) => counted(metal.symbol, count),
            CationKind::Metal(metal, waters) => {
                let water = counted("(H2O)", waters);
                counted(&format!("[{}{water}]", metal.symbol), count)
            }
            CationKind::Ion(ion) => group(ion, count),
        }
    }
}

fn counted(text: &str, count: u32) -> String {
    match count {
        1 => text.into(),
        _ => format!("{text}{count}"),
    }
}

fn group(ion: &Ion, count: u32) -> String {
    let needs_no_brackets = count == 1 || ion.is_atom() || ion.formula.starts_with('[');
    match needs_no_brackets {
        true => counted(ion.formula, count),
        false => format!("({}){count}", ion.formula),
    }
}

impl Salt {
    /// The salt in the simplest ratio in which the charges cancel. For two cations only if that is
    /// the rule for the anion, or if there is one of each ion.
    pub(super) fn simplest(cations: &[Cation], anion: &'static Ion) -> Result<Salt, UnknownRatio> {
        let charge = u32::from(anion.charge);
        match cations {
            [one] => {
                let common = one.charge().lcm(&charge);
                Ok(Salt {
                    cations: [(*one, common / one.charge())].into(),
                    anion,
                    anions: common / charge,
                })
            }
            [first, second] => {
                let mut salts: Vec<Salt> = Vec::new();
                for a in 1..=MOST_OF_A_CATION {
                    for b in 1..=MOST_OF_A_CATION {
                        let positive = a * first.charge() + b * second.charge();
                        let anions = positive / charge;
                        if positive % charge == 0 && a.gcd(&b).gcd(&anions) == 1 {
                            let salt = Salt {
                                cations: [(*first, a), (*second, b)].into(),
                                anion,
                                anions,
                            };
                            let smaller = |other: &Salt| other.size() <= salt.size();
                            salts.insert(salts.partition_point(smaller), salt);
                        }
                    }
                }
                let mut salts = salts.into_iter();
                let first = salts.next().ok_or(UnknownRatio::None)?;
                let is_rule = OF_DOUBLE_SALTS.contains(&anion.formula) || first.size() == 3;
                match salts.next() {
                    Some(second) if !is_rule || first.size() == second.size() => {
                        Err(UnknownRatio::Several(first.formula(), second.formula()))
                    }
                    _ => Ok(first),
                }
            }
            _ => Err(UnknownRatio::None),
        }
    }

    /// How many ions a formula unit has.
    fn size(&self) -> u32 {
        let cations: u32 = self.cations.iter().map(|(_, count)| count).sum();
        cations + self.anions
    }

    pub(super) fn is_neutral(&self) -> bool {
        let charges = self
            .cations
            .iter()
            .map(|(cation, count)| cation.charge().saturating_mul(*count));
        let positive = charges.fold(0, u32::saturating_add);
        u32::from(self.anion.charge).checked_mul(self.anions) == Some(positive)
    }

    /// The two salts that sellers call by this salt's name, if there are two.
    pub(super) fn salts_of_this_name(&self) -> Option<(&'static str, &'static str)> {
        let formula = self.formula();
        let row = AMBIGUOUS_NAMES.iter().find(|(_, own, _)| *own == formula);
        row.map(|(_, own, other)| (*own, *other))
    }

    /// Whether this may be an oxide just as well as a peroxide, because the metal has several
    /// charges.
    pub(super) fn may_be_oxide(&self) -> bool {
        self.anion.formula == "O2" && !self.cations.iter().all(|(ion, _)| ion.has_one_charge())
    }

    /// Whether both cations are of one metal, or one ion. No name distinguishes them.
    pub(super) fn repeats_cation(&self) -> bool {
        matches!(self.cations.as_slice(), [(a, _), (b, _)] if a.formula(1) == b.formula(1))
    }

    pub(super) fn formula(&self) -> String {
        let mut out = String::new();
        for (cation, count) in &self.cations {
            out.push_str(&cation.formula(*count));
        }
        out + &group(self.anion, self.anions)
    }

    /// The name, cations in alphabetical order, with counts if charges alone do not give them.
    pub(super) fn name(&self) -> Option<String> {
        let counted = !self.follows_from_charges();
        let bound = |(cation, count): &(Cation, u32)| *count > 1 && cation.has_bound_water();
        if counted && self.cations.iter().any(bound) {
            return None;
        }
        let mut cations: Vec<(String, u32)> = self
            .cations
            .iter()
            .map(|(cation, count)| (cation.name(), count * cation.atoms()))
            .collect();
        cations.sort_unstable();
        let mut out = String::new();
        for (name, count) in &cations {
            if counted && *count > 1 {
                out.push_str(&numbers::of_ions(*count)?);
            }
            out.push_str(name);
            out.push(' ');
        }
        let anion = match (counted && self.anions > 1, self.anion.is_atom()) {
            (false, _) => self.anion.name.to_string(),
            (true, true) => numbers::of_ions(self.anions)? + self.anion.name,
            (true, false) => {
                format!("{}({})", numbers::multiplier(self.anions)?, self.anion.name)
            }
        };
        Some(out + &anion)
    }

    fn follows_from_charges(&self) -> bool {
        let cations: Vec<Cation> = self.cations.iter().map(|(cation, _)| *cation).collect();
        Salt::simplest(&cations, self.anion).is_ok_and(|simplest| {
            let pairs = simplest.cations.iter().zip(&self.cations);
            simplest.anions == self.anions && pairs.into_iter().all(|((_, a), (_, b))| a == b)
        })
    }
}
