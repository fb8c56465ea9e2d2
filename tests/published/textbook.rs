//! Textbooks, from 1854 to now.

use crate::example::{Difference, Tally, run};

pub(crate) const SHELF: &str = "textbook";

const OF_1990S: &str = "weights of the 1990s (H 1.00794, S 32.066, Cl 35.4527)";

const DIFFERENCES: &[Difference] = &[
    Difference::new(
        "a2-47",
        "mol_water",
        "0.0012",
        "rounded on the way: 0.6789 stands as 0.680",
    ),
    Difference::new(
        "a2-47",
        "mol_salt",
        "0.0006",
        "rounded on the way: 0.1055 stands as 0.105",
    ),
    Difference::new(
        "a2-47",
        "ratio",
        "0.066",
        "the quotient of the two rounded amounts; 6.43 without rounding",
    ),
    Difference::new(
        "a2-47",
        "ratio_integers",
        "",
        "taken from 6.5; no hydrate holds 13 waters for two",
    ),
    Difference::new(
        "a2-59",
        "calculated_percent",
        "0.17",
        "equivalents of 1854; 62.88 with the weights of 2021",
    ),
    Difference::new(
        "a2-63",
        "percent_water",
        "0.009",
        "12.329 stands as 12.32 so that three percentages add up to 100.00",
    ),
    Difference::new(
        "a2-74",
        "calculated_residue_percent",
        "0.029",
        "equivalents of 1854: CaO 28, CaCO3 50",
    ),
    Difference::new("a2-83", "fraction", "0.0009", "cut off: 0.2059"),
    Difference::new("a2-83", "percent_water", "0.089", "cut off: 20.59"),
    Difference::new(
        "a2-106",
        "anhydrous_parts",
        "1.3",
        "equivalents of 1854: FeO 450, SO3 500, HO 112.5",
    ),
    Difference::new("b-os-mm-02", "molar_mass_g_per_mol", "0.001", OF_1990S),
    Difference::new("b-os-mm-03", "molar_mass_g_per_mol", "0.023", OF_1990S),
    Difference::new("b-os-mm-05", "molar_mass_g_per_mol", "0.002", OF_1990S),
    Difference::new("b-os-mm-06", "molar_mass_g_per_mol", "0.004", OF_1990S),
    Difference::new(
        "b-os-mm-07",
        "molar_mass_g_per_mol",
        "0.005",
        "weights of the 1990s give 257.162; the last digit is the source's",
    ),
    Difference::new("b-os-mm-10", "molar_mass_g_per_mol", "0.002", OF_1990S),
    Difference::new("b-os-mm-16", "molar_mass_g_per_mol", "0.006", OF_1990S),
    Difference::new(
        "b-os-mm-18",
        "molar_mass_g_per_mol",
        "0.009",
        "cut off: the same book prints 180.159 for it a section later",
    ),
    Difference::new("c-x-05", "percent/H", "0.0012", "weights with H 1.0079"),
    Difference::new(
        "c-x-05",
        "percent/O",
        "0.0007",
        "by difference from the two other percentages, with H 1.0079",
    ),
    Difference::new(
        "c-x-09",
        "molar_mass",
        "0.027",
        "the source's sum of rounded weights; 288.917 with the weights of 2021",
    ),
];

#[test]
fn every_row() {
    let tally = run(SHELF, DIFFERENCES);
    let expected = Tally {
        exact: 67,
        tolerance: 13,
        source_error: 2,
        definition: 0,
        printed: 148,
        recomputed: 275,
    };
    assert_eq!(tally, expected);
}
