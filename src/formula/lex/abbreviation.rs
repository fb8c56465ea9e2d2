//! Abbreviations of groups, solvents and ligands, and names of molecules, which are not formulas.

use alloc::format;
use alloc::string::String;

use super::digits::any_digit;
use crate::text::Span;

/// What people write in place of a formula.
pub(crate) struct ShortForm {
    written: &'static str,
    name: &'static str,
    formula: &'static str,
    kind: ShortFormKind,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum ShortFormKind {
    /// Letters of which no small one follows.
    Abbreviation,
    /// Small letters, which are a ligand if they are alone in their brackets.
    Ligand,
    /// A word, in small letters or capitals.
    Name,
}

const fn short(written: &'static str, name: &'static str, formula: &'static str) -> ShortForm {
    let kind = ShortFormKind::Abbreviation;
    ShortForm {
        written,
        name,
        formula,
        kind,
    }
}

const fn ligand(written: &'static str, name: &'static str, formula: &'static str) -> ShortForm {
    ShortForm {
        kind: ShortFormKind::Ligand,
        ..short(written, name, formula)
    }
}

const fn name(written: &'static str, formula: &'static str) -> ShortForm {
    ShortForm {
        kind: ShortFormKind::Name,
        ..short(written, written, formula)
    }
}

/// They are general nomenclature and need no source. Of two that begin alike the longer comes first.
const ALL: &[ShortForm] = &[
    short("OAc", "acetate", "CH3COO"),
    short("EDTA", "ethylenediaminetetraacetic acid", "C10H16N2O8"),
    short("TFA", "trifluoroacetic acid", "CF3COOH"),
    short("DCM", "dichloromethane", "CH2Cl2"),
    short("iPr", "isopropyl", "C3H7"),
    short("tBu", "tert-butyl", "C4H9"),
    short("OtBu", "tert-butoxide", "OC4H9"),
    short("Ts", "tosyl", "CH3C6H4SO2"),
    short("DMSO", "dimethyl sulfoxide", "C2H6OS"),
    short("DMF", "dimethylformamide", "C3H7NO"),
    short("THF", "tetrahydrofuran", "C4H8O"),
    short("Ac", "acetyl", "CH3CO"),
    short("Bn", "benzyl", "C7H7"),
    short("Bu", "butyl", "C4H9"),
    short("Bz", "benzoyl", "C7H5O"),
    short("Cp", "cyclopentadienyl", "C5H5"),
    short("Et", "ethyl", "C2H5"),
    short("Me", "methyl", "CH3"),
    short("Ph", "phenyl", "C6H5"),
    ligand("acac", "acetylacetonate", "C5H7O2"),
    ligand("bipy", "2,2′-bipyridine", "C10H8N2"),
    ligand("bpy", "2,2′-bipyridine", "C10H8N2"),
    ligand("dmf", "dimethylformamide", "C3H7NO"),
    ligand("dmso", "dimethyl sulfoxide", "C2H6OS"),
    ligand("en", "ethane-1,2-diamine", "C2H8N2"),
    ligand("ox", "oxalate", "C2O4"),
    ligand("phen", "1,10-phenanthroline", "C12H8N2"),
    ligand("py", "pyridine", "C5H5N"),
    ligand("thf", "tetrahydrofuran", "C4H8O"),
    name("ammonia", "NH3"),
    name("water", "H2O"),
];

/// The number of letters of the longest of them.
const LONGEST: usize = 7;

impl ShortForm {
    pub(crate) fn is_name(&self) -> bool {
        self.kind == ShortFormKind::Name
    }

    /// The name of what is abbreviated.
    pub(crate) fn name(&self) -> &'static str {
        self.name
    }

    /// Whether it is written at the start of `rest`, after `before`.
    fn is_at(&self, before: &str, rest: &str) -> bool {
        let Some((word, after)) = rest.split_at_checked(self.written.len()) else {
            return false;
        };
        match self.kind {
            ShortFormKind::Abbreviation => {
                word == self.written && !after.starts_with(|c: char| c.is_ascii_lowercase())
            }
            ShortFormKind::Ligand => {
                word == self.written && before.ends_with('(') && after.starts_with(')')
            }
            ShortFormKind::Name => {
                let letter = |c: char| c.is_ascii_alphabetic();
                word.eq_ignore_ascii_case(self.written)
                    && !before.ends_with(letter)
                    && !after.starts_with(letter)
            }
        }
    }

    /// The help that writes it out, in the whole text with all others.
    pub(crate) fn help(&self, text: &str) -> String {
        let formula = written_out(text);
        let formula = formula.trim();
        match self.kind {
            ShortFormKind::Name => format!("write its formula: `{formula}`"),
            _ => format!(
                "`{}` is the abbreviation of {}. Write it out: `{formula}`",
                self.written, self.name
            ),
        }
    }
}

/// The short form of which a letter is at an offset, and its span.
pub(crate) fn short_form_at(text: &str, at: usize) -> Option<(&'static ShortForm, Span)> {
    let starts = at.saturating_sub(LONGEST - 1)..=at;
    starts.into_iter().find_map(|start| {
        let (before, rest) = text.split_at_checked(start)?;
        let form = ALL.iter().find(|form| form.is_at(before, rest))?;
        let end = start + form.written.len();
        (end > at).then_some((form, Span::new(start, end)))
    })
}

/// The abbreviation that the symbols at an offset are likelier to be: `AcOH`, `NaOAc`, `THF`.
pub(crate) fn likely_short_form(text: &str, at: usize) -> Option<(&'static ShortForm, Span)> {
    let (before, rest) = text.split_at_checked(at)?;
    let letter = |c: char| c.is_ascii_alphabetic();
    let counted = |c: char| any_digit(c).is_some() || c == '_';
    let is_likely = if let Some(after) = rest.strip_prefix("THF") {
        !before.ends_with(letter) && !after.starts_with(letter) && !after.starts_with(counted)
    } else if matches!(rest, "TsOH" | "TsCl" | "AcCl") {
        before.is_empty()
    } else if let Some(after) = rest.strip_prefix("Ac") {
        let small = |c: char| c.is_ascii_lowercase();
        let alcohol = after.strip_prefix("OH");
        let is_acid = |after: &str| !after.starts_with(counted) && !after.starts_with(small);
        before.ends_with('O') || alcohol.is_some_and(is_acid)
    } else {
        false
    };
    match is_likely {
        true => short_form_at(text, at),
        false => None,
    }
}

/// The text with a formula in place of each short form. One that is counted comes in brackets.
fn written_out(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let before = text.get(..text.len() - rest.len()).unwrap_or_default();
        let form = ALL.iter().find(|form| form.is_at(before, rest));
        let length = form.map_or(c.len_utf8(), |form| form.written.len());
        let (word, after) = rest.split_at_checked(length).unwrap_or((rest, ""));
        match form {
            Some(form) if after.starts_with(|c: char| c.is_ascii_digit()) => {
                out.push_str(&format!("({})", form.formula));
            }
            Some(form) => out.push_str(form.formula),
            None => out.push_str(word),
        }
        rest = after;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Formula;

    #[test]
    fn each_is_written_out_as_a_formula() {
        assert_eq!(
            ALL.iter().map(|form| form.written.len()).max(),
            Some(LONGEST)
        );
        for form in ALL {
            assert!(form.formula.parse::<Formula>().is_ok(), "{}", form.written);
            let text = match form.kind {
                ShortFormKind::Ligand => format!("Co({})3", form.written),
                _ => format!("{}·2H2O", form.written),
            };
            assert!(written_out(&text).parse::<Formula>().is_ok(), "{text}");
        }
    }
}
