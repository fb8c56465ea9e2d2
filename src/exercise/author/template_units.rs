//! The units that the fields of requests and results have, and whether a template keeps to them.

use alloc::format;
use alloc::string::String;

use super::own_quantity::{OwnQuantity, OwnValues, UNITS};
use super::template_text::{Placeholder, TemplateText};
use crate::text::{Detail, list};

/// Fields of the JSON-lines contract with the units that their numbers may have.
const FIELDS: [(&[&str], &[&str]); 10] = [
    (
        &[
            "mass",
            "masses",
            "sample",
            "combustion",
            "sample_mass",
            "residue_mass",
            "hydrate_mass",
            "weighed_mass",
            "water_mass",
            "crucible",
            "crucible_hydrate",
            "heated",
            "readability",
            "mass_initial",
            "mass_final",
            "mass_change",
            "sought_mass",
            "expected_residue_mass",
            "restoring_water",
        ],
        &["g"],
    ),
    (
        &["mol", "mol_initial", "mol_final", "mol_change", "extent"],
        &["mol"],
    ),
    (&["volume"], &["L", "dm³"]),
    (&["concentration"], &["mol/L", "mol/dm³"]),
    (
        &[
            "percent",
            "percent_water",
            "expected_percent_water",
            "purity_percent",
            "percent_yield",
            "mass_percent",
            "percent_lost",
            "percent_total",
            "percent_residue",
        ],
        &["%"],
    ),
    (&["molar_mass"], &["g/mol"]),
    (&["heat"], &["kJ"]),
    (&["enthalpy"], &["kJ/mol"]),
    (&["temperature_rise"], &["°C"]),
    (&["ratio", "factor", "multiplier", "waters"], &[""]),
];

/// Returns the units that the numbers of a field may have; `None` for a field that is not a number with a known
/// unit.
pub(super) fn of_field(name: &str) -> Option<&'static [&'static str]> {
    let mut rows = FIELDS.iter();
    let row = rows.find(|(names, _)| names.contains(&name));
    row.map(|(_, units)| *units)
}

/// Refuses an answer in another unit than the result has.
pub(super) fn check_answer(pointer: &str, unit: &str) -> Result<(), Detail> {
    let name = pointer
        .rsplit('/')
        .find(|step| step.contains(|c: char| !c.is_ascii_digit()));
    let units = name.and_then(of_field).unwrap_or_default();
    if units.is_empty() || units.contains(&unit) {
        return Ok(());
    }
    let message = format!("`{pointer}` is {}, not {}", with_in(units), spoken(unit));
    let help = match units {
        [""] => "remove `unit`".into(),
        _ => format!("write {}", to_write(units)),
    };
    Err(Detail::new(message).help(help))
}

/// Refuses a quantity in another unit than the field of the request has.
pub(super) fn check_field(
    quantity: &OwnQuantity,
    name: &str,
    units: &[&str],
) -> Result<(), Detail> {
    let is_number = matches!(
        quantity.values,
        OwnValues::Range { .. } | OwnValues::Numbers(_)
    );
    if !is_number || units.contains(&quantity.unit) {
        return Ok(());
    }
    let message = format!(
        "`{name}` is {}, and the quantity `{}` is {}",
        with_in(units),
        quantity.name,
        spoken(quantity.unit)
    );
    let help = match units {
        [""] => format!("remove `unit` from the quantity `{}`", quantity.name),
        _ => format!(
            "give the quantity `{}` its numbers in this unit, and {}",
            quantity.name,
            to_write(units)
        ),
    };
    Err(Detail::new(message).help(help))
}

/// Refuses a unit after a placeholder that is printed with its unit.
pub(super) fn check_wording<'q>(
    wording: &TemplateText,
    quantity: impl Fn(&str) -> Option<&'q OwnQuantity>,
) -> Result<(), Detail> {
    for (placeholder, after) in wording.followed() {
        let Placeholder { name, part } = placeholder;
        let unit = quantity(name).map_or("", |quantity| quantity.unit);
        let word = after.split_whitespace().next().unwrap_or_default();
        let word = word.trim_end_matches([',', '.', ';', ':', '?', ')']);
        if part.is_none() && !unit.is_empty() && !word.is_empty() && UNITS.contains(&word) {
            let message =
                format!("`{{{name}}}` is printed with its unit, and `{word}` is after it");
            return Err(Detail::new(message).help(format!("remove `{word}` from the wording")));
        }
    }
    Ok(())
}

fn with_in(units: &[&str]) -> String {
    match units {
        [""] => spoken(""),
        _ => format!("in {}", list(units).replace(" and ", " or ")),
    }
}

fn spoken(unit: &str) -> String {
    match unit {
        "" => "without a unit".into(),
        _ => format!("in {unit}"),
    }
}

fn to_write(units: &[&str]) -> String {
    let units = units.iter().map(|unit| format!("`unit = \"{unit}\"`"));
    list(units).replace(" and ", " or ")
}
