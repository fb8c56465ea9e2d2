//! Names that were probably meant by a misspelt one.

/// The library's own file, which is not public.
#[path = "../../src/text/distance.rs"]
mod distance;

pub(crate) use distance::likely;

/// The help for a word that is not among the names.
pub(crate) fn help(word: &str, names: &[&str], introduction: &str) -> String {
    match likely(word, names) {
        Some(name) => format!("did you mean `{name}`?"),
        None => format!("{introduction} {}", quoted(names)),
    }
}

/// The names in a list: `` `a`, `b`, `c` ``.
pub(crate) fn quoted(names: &[&str]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    names.join(", ")
}

/// The help for a field that is missing, with a value as a request has it.
pub(crate) fn adding(field: &str) -> String {
    let example = match field {
        "formula" | "issued" | "hydrate" => "\"MgSO4·7H2O\"",
        "salt" => "\"MgSO4\"",
        "equation" => "\"CaCO3 -> CaO + CO2\"",
        "readability" => "\"0.001\"",
        "seed" => "3",
        "crucible" => "\"21.352\"",
        "crucible_hydrate" => "\"24.018\"",
        "heated" => "[\"22.701\", \"22.656\"]",
        "hydrate_mass" | "sample_mass" => "\"2.666\"",
        "residue_mass" => "\"1.303\"",
        _ => return format!("add `{field}`"),
    };
    format!("add `{field}`, such as {example}")
}
