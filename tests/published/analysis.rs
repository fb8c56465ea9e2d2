//! Gravimetric analysis: factors, precipitates, mixtures, stages of heating and rules for constant mass.

use crate::example::{Difference, Tally, run};

pub(crate) const SHELF: &str = "analysis";

const LOGARITHMS: &str = "weights to one decimal and four-place logarithms";

const ILL_CONDITIONED: &str = "the same, and the two carbonates lose similar fractions, so that the weights \
                               change the result by a tenth";

const DIFFERENCES: &[Difference] = &[
    Difference::new(
        "f-mac-01",
        "analyte_g",
        "0.000021",
        "the book's molar masses, 231.54 and 159.69",
    ),
    Difference::new(
        "f-sk-03",
        "percent_NH4Al(SO4)2",
        "0.0094",
        "from the rounded mass: 0.9308 g of 0.910 g",
    ),
    Difference::new(
        "f-mix-03",
        "AgNO3_per_g_KCl",
        "0.00012",
        "the molar masses that the row gives (74.56, 169.89)",
    ),
    Difference::new(
        "f-mix-03",
        "AgNO3_per_g_NaCl",
        "0.00072",
        "an older molar mass of NaCl, 58.46; the row gives 58.5, from which 2.9041 would follow",
    ),
    Difference::new("f-tal-88", "sample_g", "0.00011", LOGARITHMS),
    Difference::new("f-tal-91", "percent_MgO", "0.079", ILL_CONDITIONED),
    Difference::new("f-tal-91", "percent_CaO", "0.087", ILL_CONDITIONED),
    Difference::new("f-tal-98", "percent_Cu", "0.0053", LOGARITHMS),
    Difference::new("f-tal-98", "percent_Zn", "0.011", LOGARITHMS),
    Difference::new(
        "f-tal-98",
        "percent_Pb",
        "0.0052",
        "from a mass of lead that was rounded to 0.0026 g",
    ),
    Difference::new("f-tal-84", "volume_mL", "0.0098", LOGARITHMS),
    Difference::new("f-tal-81", "volume_mL", "0.0078", LOGARITHMS),
    Difference::new(
        "f-fac-01",
        "factor",
        "0.000052",
        "weights of the time; 0.20315 with those of 2021",
    ),
    Difference::new(
        "f-fac-02",
        "factor",
        "0.0186",
        "2 MgO for 1 P2O5 are 0.568; the source's factor is not explained",
    ),
    Difference::new(
        "f-fac-m04",
        "factor",
        "0.000052",
        "older weights (Cl 35.457, Ag 107.880) give 0.24737",
    ),
    Difference::new(
        "f-fac-m08",
        "factor",
        "0.000055",
        "weights of 1961 (Mg 24.312) give 0.27833",
    ),
    Difference::new(
        "f-fac-m12",
        "factor",
        "0.000052",
        "weights of 1961 (Pb 207.19, S 32.064) give 0.68323",
    ),
];

#[test]
fn every_row() {
    let tally = run(SHELF, DIFFERENCES);
    let expected = Tally {
        exact: 24,
        tolerance: 12,
        source_error: 1,
        definition: 4,
        printed: 60,
        recomputed: 78,
    };
    assert_eq!(tally, expected);
}
