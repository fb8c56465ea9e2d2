//! A salt as its ions with their counts, from which both its formula and its name follow.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use num_integer::Integer;

use super::ions::{ANIONS, CATIONS, DIMERCURY, Ion, LOOSE, Metal, OF_DOUBLE_SALTS, Usage};
use super::numbers;

/// A cation with its charge.
#[derive(Debug, Clone, Copy)]
pub(super) enum Cation {
    Metal(&'static Metal, u8),
    Ion(&'static Ion),
    /// A metal with so many waters bound to it.
    Aqua(&'static Metal, u8, u32),
}

#[derive(Debug, Clone)]
pub(super) struct Salt {
    /// One or two, in the order of the text.
    pub(super) cations: Vec<(Cation, u32)>,
    pub(super) anion: &'static Ion,
    pub(super) anions: u32,
}

/// Why charges alone do not give the counts.
pub(super) enum Open {
    /// Several ratios may be meant: the first two of them.
    Tie(String, String),
    /// None within reach.
    None,
}

/// The most of one cation beside another that is tried.
const MOST_BESIDE: u32 = 6;

const ROMAN: [&str; 8] = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII"];

pub(super) fn roman(number: u8) -> &'static str {
    let index = usize::from(number).checked_sub(1);
    index.and_then(|at| ROMAN.get(at)).copied().unwrap_or("0")
}

/// The number that a word in Roman digits is, up to eight.
pub(super) fn from_roman(word: &str) -> Option<u8> {
    let at = ROMAN.iter().position(|r| r.eq_ignore_ascii_case(word))?;
    u8::try_from(at + 1).ok()
}

impl Cation {
    /// A metal's ion of this charge: of mercury(I) the pair.
    pub(super) fn metal(metal: &'static Metal, charge: u8) -> Cation {
        let pair = CATIONS.iter().find(|ion| ion.formula == DIMERCURY);
        match pair {
            Some(pair) if (metal.symbol, charge) == ("Hg", 1) => Cation::Ion(pair),
            _ => Cation::Metal(metal, charge),
        }
    }

    pub(super) fn charge(self) -> u32 {
        match self {
            Cation::Metal(_, charge) | Cation::Aqua(_, charge, _) => charge.into(),
            Cation::Ion(ion) => ion.charge.into(),
        }
    }

    /// Whether the ion has no other charge.
    fn is_fixed(self) -> bool {
        match self {
            Cation::Metal(metal, _) => !metal.numbered,
            Cation::Ion(ion) => ion.formula != DIMERCURY,
            Cation::Aqua(..) => false,
        }
    }

    /// How many metal atoms the ion has.
    fn atoms(self) -> u32 {
        match self {
            Cation::Ion(ion) if ion.formula == DIMERCURY => 2,
            _ => 1,
        }
    }

    /// How many ions so many of the metal's atoms are.
    pub(super) fn units(self, atoms: u32) -> Option<u32> {
        let each = self.atoms();
        (atoms % each == 0).then_some(atoms / each)
    }

    fn is_bound(self) -> bool {
        matches!(self, Cation::Aqua(..))
    }

    pub(super) fn name(self) -> String {
        let numbered = |metal: &Metal, charge| match metal.numbered {
            true => format!("{}({})", metal.name(), roman(charge)),
            false => metal.name().to_string(),
        };
        match self {
            Cation::Metal(metal, charge) => numbered(metal, charge),
            Cation::Ion(ion) => ion.name.into(),
            Cation::Aqua(metal, charge, waters) => {
                let term = match waters {
                    1 => String::new(),
                    _ => numbers::term(waters).unwrap_or_default(),
                };
                format!("{term}aqua{}", numbered(metal, charge))
            }
        }
    }

    /// The formula of so many of it.
    fn formula(self, count: u32) -> String {
        match self {
            Cation::Metal(metal, _) => counted(metal.symbol, count),
            Cation::Ion(ion) => group(ion, count),
            Cation::Aqua(metal, _, waters) => {
                let water = counted("(H2O)", waters);
                counted(&format!("[{}{water}]", metal.symbol), count)
            }
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
    let whole = count == 1 || ion.is_atom() || ion.formula.starts_with('[');
    match whole {
        true => counted(ion.formula, count),
        false => format!("({}){count}", ion.formula),
    }
}

impl Salt {
    /// The salt in the simplest ratio in which the charges cancel; of two cations only where that
    /// is the rule, or where there is one of each ion.
    pub(super) fn simplest(cations: &[Cation], anion: &'static Ion) -> Result<Salt, Open> {
        let below = u32::from(anion.charge);
        match cations {
            [one] => {
                let common = one.charge().lcm(&below);
                Ok(Salt {
                    cations: [(*one, common / one.charge())].into(),
                    anion,
                    anions: common / below,
                })
            }
            [first, second] => {
                let mut found: Vec<Salt> = Vec::new();
                for a in 1..=MOST_BESIDE {
                    for b in 1..=MOST_BESIDE {
                        let above = a * first.charge() + b * second.charge();
                        if above % below == 0 && a.gcd(&b).gcd(&(above / below)) == 1 {
                            found.push(Salt {
                                cations: [(*first, a), (*second, b)].into(),
                                anion,
                                anions: above / below,
                            });
                        }
                    }
                }
                found.sort_by_key(Salt::size);
                let mut found = found.into_iter();
                match (found.next(), found.next()) {
                    (Some(first), Some(second)) => {
                        let simple = OF_DOUBLE_SALTS.contains(&anion.formula) || first.size() == 3;
                        match simple && first.size() < second.size() {
                            true => Ok(first),
                            false => Err(Open::Tie(first.formula(), second.formula())),
                        }
                    }
                    (first, _) => first.ok_or(Open::None),
                }
            }
            _ => Err(Open::None),
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
        let above = charges.fold(0, u32::saturating_add);
        u32::from(self.anion.charge).checked_mul(self.anions) == Some(above)
    }

    /// The salts for which its name is used, where there are several.
    pub(super) fn loosely(&self) -> Option<(&'static str, &'static str)> {
        let formula = self.formula();
        let mut loose = LOOSE.iter().filter(|(_, own, _)| *own == formula);
        loose.next().map(|(_, own, other)| (*own, *other))
    }

    /// Whether the name says the same as the formula. Of a metal with several charges a peroxide
    /// cannot be told from an oxide.
    pub(super) fn is_plain(&self) -> bool {
        self.anion.formula != "O2" || self.cations.iter().all(|(cation, _)| cation.is_fixed())
    }

    /// Whether both cations are of one metal, or one ion: no name tells them apart.
    pub(super) fn repeats(&self) -> bool {
        matches!(self.cations.as_slice(), [(a, _), (b, _)] if a.formula(1) == b.formula(1))
    }

    pub(super) fn formula(&self) -> String {
        let mut out = String::new();
        for (cation, count) in &self.cations {
            out.push_str(&cation.formula(*count));
        }
        out.push_str(&group(self.anion, self.anions));
        out
    }

    /// The name, cations in alphabetical order; with counts where charges alone do not give them.
    pub(super) fn name(&self) -> Option<String> {
        let counted = !self.follows_from_charges();
        let bound = |(cation, count): &(Cation, u32)| *count > 1 && cation.is_bound();
        if counted && self.cations.iter().any(bound) {
            return None;
        }
        let mut cations: Vec<(String, u32)> = self
            .cations
            .iter()
            .map(|(cation, count)| (cation.name(), count * cation.atoms()))
            .collect();
        cations.sort();
        let mut out = String::new();
        for (name, count) in &cations {
            if counted && *count > 1 {
                out.push_str(&numbers::of_ions(*count)?);
            }
            out.push_str(name);
            out.push(' ');
        }
        match (counted && self.anions > 1, self.anion.is_atom()) {
            (false, _) => out.push_str(self.anion.name),
            (true, true) => {
                out.push_str(&numbers::of_ions(self.anions)?);
                out.push_str(self.anion.name);
            }
            (true, false) => {
                let times = numbers::multiplier(self.anions)?;
                out.push_str(&format!("{times}({})", self.anion.name));
            }
        }
        Some(out)
    }

    fn follows_from_charges(&self) -> bool {
        let cations: Vec<Cation> = self.cations.iter().map(|(cation, _)| *cation).collect();
        Salt::simplest(&cations, self.anion).is_ok_and(|simplest| {
            let count = |salt: &Salt| -> Vec<u32> {
                let cations = salt.cations.iter().map(|(_, count)| *count);
                cations.chain([salt.anions]).collect()
            };
            count(&simplest) == count(self)
        })
    }
}

/// The anion of this name, and how it is used; letters may be of either case.
pub(super) fn anion(name: &str) -> Option<(&'static Ion, Usage)> {
    ANIONS.iter().find_map(|ion| {
        if ion.name.eq_ignore_ascii_case(name) {
            return Some((ion, Usage::Current));
        }
        let other = ion.names.iter();
        let mut other = other.filter(|(other, _)| other.eq_ignore_ascii_case(name));
        other.next().map(|(_, usage)| (ion, *usage))
    })
}
