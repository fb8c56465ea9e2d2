//! What each column of a sheet means, by its header.

use alloc::borrow::Cow;
use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::cell_text::shown;
use super::remark::SheetRemark;
use crate::class::{Error, ErrorKind};
use crate::gravimetry::Quantity;
use crate::text::{Detail, Note, is_minus, is_space, one_line};

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

/// The columns without a number or a quantity.
pub(super) const PLAIN: [SheetColumn; 12] = [
    SheetColumn::Bench,
    SheetColumn::Pupil,
    SheetColumn::Balance,
    SheetColumn::Period,
    SheetColumn::Issued,
    SheetColumn::Readability,
    SheetColumn::StandIn,
    SheetColumn::Crucible,
    SheetColumn::CrucibleHydrate,
    SheetColumn::Hydrate,
    SheetColumn::Residue,
    SheetColumn::Notes,
];

impl SheetColumn {
    /// Returns the column with this normal header.
    fn named(name: &str) -> Option<SheetColumn> {
        let known = PLAIN.into_iter();
        let mut known = known.chain(Quantity::ALL.map(SheetColumn::Reported));
        if let Some(column) = known.find(|column| column.name() == name) {
            return Some(column);
        }
        let number = name.strip_prefix("heated_")?.strip_suffix("_g")?;
        if !number.bytes().all(|b| b.is_ascii_digit()) {
            return None;
        }
        number.parse().ok().map(SheetColumn::Heated)
    }

    /// Returns the quantity of an answer.
    pub(super) fn quantity(self) -> Option<Quantity> {
        match self {
            SheetColumn::Reported(quantity) => Some(quantity),
            _ => None,
        }
    }

    /// Returns the header that the documentation uses.
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
}

/// Returns a header in the form in which headers are compared.
pub(in crate::class) fn normal(header: &str) -> String {
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
pub(super) struct HeaderMapping(BTreeMap<String, (String, SheetColumn)>);

impl HeaderMapping {
    pub(super) fn new(pairs: &[(String, String)]) -> Result<HeaderMapping, Error> {
        let bad = |message: String, help: &'static str| {
            Error::new(ErrorKind::BadMapping, Detail::new(message).help(help))
        };
        let mut map = BTreeMap::new();
        for (theirs, ours) in pairs {
            let Some(column) = SheetColumn::named(&normal(ours)) else {
                return Err(bad(
                    format!(
                        "the header `{}` is mapped to `{}`, which is not a column of a class sheet",
                        shown(theirs),
                        shown(ours)
                    ),
                    "map it to a column such as `bench`, `crucible_g`, `heated_1_g` or \
                     `reported_ratio`",
                ));
            };
            let name = column.name();
            if one_line(theirs).is_empty() {
                return Err(bad(
                    format!("a blank header is mapped to `{name}`"),
                    "name the header as the sheet has it",
                ));
            }
            let old = map.insert(normal(theirs), (theirs.clone(), column));
            if let Some((_, old)) = old.filter(|(_, old)| *old != column) {
                return Err(bad(
                    format!(
                        "the header `{}` is mapped to `{}` and to `{name}`",
                        shown(theirs),
                        old.name()
                    ),
                    "map each header once",
                ));
            }
        }
        Ok(HeaderMapping(map))
    }

    /// Adds a note for each header that no cell has.
    pub(super) fn remark_on_unused(&self, cells: &[String], notes: &mut Vec<Note>) {
        for (name, (header, column)) in &self.0 {
            if !cells.iter().any(|cell| normal(cell) == *name) {
                notes.push(SheetRemark::MappingUnused(header, column.name()).into());
            }
        }
    }

    /// Returns what a header means, by the caller's mapping first.
    pub(super) fn column(&self, header: &str) -> Option<SheetColumn> {
        let name = normal(header);
        match self.0.get(&name) {
            Some((_, column)) => Some(*column),
            None => SheetColumn::named(&name),
        }
    }

    /// Returns the columns of one row of headers, each with its first index.
    pub(super) fn columns<'a>(
        &self,
        cells: impl Iterator<Item = &'a str>,
    ) -> BTreeMap<SheetColumn, usize> {
        let mut indices = BTreeMap::new();
        for (index, cell) in cells.enumerate() {
            if let Some(column) = self.column(cell) {
                indices.entry(column).or_insert(index);
            }
        }
        indices
    }
}
