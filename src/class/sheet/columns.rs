//! What each column of a sheet means, by its header.

use alloc::borrow::Cow;
use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;

use super::cell::{flat, shown};
use crate::class::{Error, ErrorKind};
use crate::gravimetry::Quantity;
use crate::text::{Detail, is_minus, is_space};

/// What a column holds. The order is that of a printed sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Column {
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

impl Column {
    /// The column of a normalised header.
    fn named(name: &str) -> Option<Column> {
        Some(match name {
            "bench" => Column::Bench,
            "pupil" => Column::Pupil,
            "balance" => Column::Balance,
            "period" => Column::Period,
            "issued" => Column::Issued,
            "readability_g" => Column::Readability,
            "stand_in" => Column::StandIn,
            "notes" => Column::Notes,
            "crucible_g" => Column::Crucible,
            "crucible_hydrate_g" => Column::CrucibleHydrate,
            "hydrate_g" => Column::Hydrate,
            "residue_g" => Column::Residue,
            "reported_hydrate_g" => Column::Reported(Quantity::HydrateMass),
            "reported_residue_g" => Column::Reported(Quantity::ResidueMass),
            "reported_water_g" => Column::Reported(Quantity::WaterMass),
            "reported_percent_water" => Column::Reported(Quantity::PercentWater),
            "reported_mol_salt" => Column::Reported(Quantity::MolSalt),
            "reported_mol_water" => Column::Reported(Quantity::MolWater),
            "reported_ratio" => Column::Reported(Quantity::Ratio),
            "reported_formula" => Column::Reported(Quantity::Formula),
            _ => {
                let number = name.strip_prefix("heated_")?.strip_suffix("_g")?;
                if !number.bytes().all(|b| b.is_ascii_digit()) {
                    return None;
                }
                Column::Heated(number.parse().ok()?)
            }
        })
    }

    /// The header that the documentation uses.
    pub(super) fn name(self) -> Cow<'static, str> {
        Cow::Borrowed(match self {
            Column::Bench => "bench",
            Column::Pupil => "pupil",
            Column::Balance => "balance",
            Column::Period => "period",
            Column::Issued => "issued",
            Column::Readability => "readability_g",
            Column::StandIn => "stand_in",
            Column::Notes => "notes",
            Column::Crucible => "crucible_g",
            Column::CrucibleHydrate => "crucible_hydrate_g",
            Column::Heated(number) => return Cow::Owned(format!("heated_{number}_g")),
            Column::Hydrate => "hydrate_g",
            Column::Residue => "residue_g",
            Column::Reported(quantity) => match quantity {
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
            Column::Crucible
                | Column::CrucibleHydrate
                | Column::Heated(_)
                | Column::Hydrate
                | Column::Residue
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
pub(super) struct Mapping(pub(super) BTreeMap<String, (String, Column)>);

impl Mapping {
    pub(super) fn new(pairs: &[(String, String)]) -> Result<Mapping, Error> {
        let mut map = BTreeMap::new();
        for (theirs, ours) in pairs {
            let bad = |message: String, help: &'static str| {
                Error::new(ErrorKind::BadMapping, Detail::new(message).help(help))
            };
            let column = Column::named(&normal(ours)).ok_or_else(|| {
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
        Ok(Mapping(map))
    }

    /// What a header means, the caller's word first.
    pub(super) fn column(&self, header: &str) -> Option<Column> {
        let name = normal(header);
        match self.0.get(&name) {
            Some((_, column)) => Some(*column),
            None => Column::named(&name),
        }
    }

    /// The columns of one row of headers, each with its first place.
    pub(super) fn columns<'a>(
        &self,
        cells: impl Iterator<Item = &'a str>,
    ) -> BTreeMap<Column, usize> {
        let mut at = BTreeMap::new();
        for (index, cell) in cells.enumerate() {
            if let Some(column) = self.column(cell) {
                at.entry(column).or_insert(index);
            }
        }
        at
    }
}
