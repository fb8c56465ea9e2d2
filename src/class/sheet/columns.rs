//! What each column of a sheet means, by its header.

use alloc::borrow::Cow;
use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;

use super::one_line::{flat, shown};
use crate::class::{Error, ErrorKind};
use crate::gravimetry::Quantity;
use crate::text::{Detail, is_minus, is_space};

/// What a column holds. The order is that of a printed sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum SheetColumn {
    Bench,
    Pupil,
    Balance,
    Period,
    Issued,
    Readability,
    StandIn,
    Crucible,
    CrucibleHydrate,
    Heated(u32),
    Hydrate,
    Residue,
    Reported(Quantity),
    Notes,
}

impl SheetColumn {
    /// The column of a normalised header.
    fn named(name: &str) -> Option<SheetColumn> {
        Some(match name {
            "bench" => SheetColumn::Bench,
            "pupil" => SheetColumn::Pupil,
            "balance" => SheetColumn::Balance,
            "period" => SheetColumn::Period,
            "issued" => SheetColumn::Issued,
            "readability_g" => SheetColumn::Readability,
            "stand_in" => SheetColumn::StandIn,
            "notes" => SheetColumn::Notes,
            "crucible_g" => SheetColumn::Crucible,
            "crucible_hydrate_g" => SheetColumn::CrucibleHydrate,
            "hydrate_g" => SheetColumn::Hydrate,
            "residue_g" => SheetColumn::Residue,
            "reported_hydrate_g" => SheetColumn::Reported(Quantity::HydrateMass),
            "reported_residue_g" => SheetColumn::Reported(Quantity::ResidueMass),
            "reported_water_g" => SheetColumn::Reported(Quantity::WaterMass),
            "reported_percent_water" => SheetColumn::Reported(Quantity::PercentWater),
            "reported_mol_salt" => SheetColumn::Reported(Quantity::MolSalt),
            "reported_mol_water" => SheetColumn::Reported(Quantity::MolWater),
            "reported_ratio" => SheetColumn::Reported(Quantity::Ratio),
            "reported_formula" => SheetColumn::Reported(Quantity::Formula),
            _ => {
                let number = name.strip_prefix("heated_")?.strip_suffix("_g")?;
                if !number.bytes().all(|b| b.is_ascii_digit()) {
                    return None;
                }
                SheetColumn::Heated(number.parse().ok()?)
            }
        })
    }

    /// The header that the documentation uses.
    pub(super) fn name(self) -> Cow<'static, str> {
        Cow::Borrowed(match self {
            SheetColumn::Bench => "bench",
            SheetColumn::Pupil => "pupil",
            SheetColumn::Balance => "balance",
            SheetColumn::Period => "period",
            SheetColumn::Issued => "issued",
            SheetColumn::Readability => "readability_g",
            SheetColumn::StandIn => "stand_in",
            SheetColumn::Notes => "notes",
            SheetColumn::Crucible => "crucible_g",
            SheetColumn::CrucibleHydrate => "crucible_hydrate_g",
            SheetColumn::Heated(number) => return Cow::Owned(format!("heated_{number}_g")),
            SheetColumn::Hydrate => "hydrate_g",
            SheetColumn::Residue => "residue_g",
            SheetColumn::Reported(quantity) => match quantity {
                Quantity::HydrateMass => "reported_hydrate_g",
                Quantity::ResidueMass => "reported_residue_g",
                Quantity::WaterMass => "reported_water_g",
                Quantity::PercentWater => "reported_percent_water",
                Quantity::MolSalt => "reported_mol_salt",
                Quantity::MolWater => "reported_mol_water",
                Quantity::Ratio => "reported_ratio",
                Quantity::Formula => "reported_formula",
            },
        })
    }

    pub(super) fn is_reading(self) -> bool {
        matches!(
            self,
            SheetColumn::Crucible
                | SheetColumn::CrucibleHydrate
                | SheetColumn::Heated(_)
                | SheetColumn::Hydrate
                | SheetColumn::Residue
        )
    }
}

/// The form in which headers are compared.
pub(super) fn normal(header: &str) -> String {
    let mut out = String::with_capacity(header.len());
    let joins = |c: char| c == '_' || is_space(c) || is_minus(c);
    for c in header.trim_matches(is_space).chars() {
        if !joins(c) {
            out.extend(c.to_lowercase());
        } else if !out.ends_with('_') {
            out.push('_');
        }
    }
    out
}

/// The caller's own headers.
#[derive(Debug, Default)]
pub(super) struct HeaderMapping(pub(super) BTreeMap<String, (String, SheetColumn)>);

impl HeaderMapping {
    pub(super) fn new(pairs: &[(String, String)]) -> Result<HeaderMapping, Error> {
        let mut map = BTreeMap::new();
        for (theirs, ours) in pairs {
            let bad = |message: String, help: &'static str| {
                Error::new(ErrorKind::BadMapping, Detail::new(message).help(help))
            };
            let column = SheetColumn::named(&normal(ours)).ok_or_else(|| {
                bad(
                    format!(
                        "the header `{}` is mapped to `{}`, which is no column of a class sheet",
                        shown(theirs),
                        shown(ours)
                    ),
                    "map it to a column such as `bench`, `crucible_g`, `heated_1_g` or \
                     `reported_ratio`",
                )
            })?;
            if flat(theirs).is_empty() {
                return Err(bad(
                    format!("a blank header is mapped to `{}`", column.name()),
                    "name the header as the sheet has it",
                ));
            }
            match map.insert(normal(theirs), (theirs.clone(), column)) {
                Some((_, before)) if before != column => {
                    return Err(bad(
                        format!(
                            "the header `{}` is mapped to `{}` and to `{}`",
                            shown(theirs),
                            before.name(),
                            column.name()
                        ),
                        "map each header once",
                    ));
                }
                _ => {}
            }
        }
        Ok(HeaderMapping(map))
    }

    /// What a header means, the caller's word first.
    pub(super) fn column(&self, header: &str) -> Option<SheetColumn> {
        let name = normal(header);
        match self.0.get(&name) {
            Some((_, column)) => Some(*column),
            None => SheetColumn::named(&name),
        }
    }

    /// The columns of one row of headers, each with its first place.
    pub(super) fn columns<'a>(
        &self,
        cells: impl Iterator<Item = &'a str>,
    ) -> BTreeMap<SheetColumn, usize> {
        let mut at = BTreeMap::new();
        for (index, cell) in cells.enumerate() {
            if let Some(column) = self.column(cell) {
                at.entry(column).or_insert(index);
            }
        }
        at
    }
}
