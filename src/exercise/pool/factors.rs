//! Substances sought and the forms in which they are weighed.
//!
//! The forms are the classical ones of gravimetric analysis: the factor tables of handbooks, Skoog et al.,
//! Fundamentals of Analytical Chemistry, and Harvey, Modern Analytical Chemistry; magnesium sulfate as barium
//! sulfate is Flowers et al., Chemistry 2e, 4.5, and nickel as the dimethylglyoximate is Villavecchia, Treatise on
//! Applied Analytical Chemistry. Those with 8-hydroxyquinoline, tetraphenylborate and thiocyanate are from
//! memory. The samples and the ranges are common practice, no source.

/// A substance sought, the form that is weighed, and a sample.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FactorRow {
    /// The formula of the substance sought, in canonical plain text.
    pub(crate) sought: &'static str,
    /// Its name.
    pub(crate) sought_name: &'static str,
    /// The formula of the form that is weighed.
    pub(crate) weighed: &'static str,
    /// Its name.
    pub(crate) weighed_name: &'static str,
    /// The symbol of the element that links them.
    pub(crate) element: &'static str,
    /// The sample, with its article: "a garden fertiliser".
    pub(crate) sample: &'static str,
    /// The least and the greatest percentage by mass of the substance sought in the sample.
    pub(crate) percent: [u8; 2],
}

const fn row(
    [sought, sought_name]: [&'static str; 2],
    [weighed, weighed_name]: [&'static str; 2],
    element: &'static str,
    sample: &'static str,
    percent: [u8; 2],
) -> FactorRow {
    FactorRow {
        sought,
        sought_name,
        weighed,
        weighed_name,
        element,
        sample,
        percent,
    }
}

const BARIUM_SULFATE: [&str; 2] = ["BaSO4", "barium sulfate"];
const SILVER_CHLORIDE: [&str; 2] = ["AgCl", "silver chloride"];
const MAGNESIUM_DIPHOSPHATE: [&str; 2] = ["Mg2P2O7", "magnesium diphosphate"];
const CALCIUM_CARBONATE: [&str; 2] = ["CaCO3", "calcium carbonate"];
const DIMETHYLGLYOXIMATE: [&str; 2] = ["Ni(C4H7N2O2)2", "nickel dimethylglyoximate"];
const IRON_OXIDE: [&str; 2] = ["Fe2O3", "iron(III) oxide"];
const ZINC_DIPHOSPHATE: [&str; 2] = ["Zn2P2O7", "zinc diphosphate"];
const ALUMINIUM_QUINOLINATE: [&str; 2] = ["Al(C9H6NO)3", "aluminium quinolin-8-olate"];
const TETRAPHENYLBORATE: [&str; 2] = ["KB(C6H5)4", "potassium tetraphenylborate"];

#[rustfmt::skip]
pub(crate) const FACTORS: &[FactorRow] = &[
    row(["SO4^2-", "sulfate"], BARIUM_SULFATE, "S", "a lawn fertiliser", [20, 60]),
    row(["Cl^-", "chloride"], SILVER_CHLORIDE, "Cl", "a rock salt", [40, 60]),
    row(["Fe", "iron"], IRON_OXIDE, "Fe", "an iron ore", [30, 65]),
    row(["Mg", "magnesium"], MAGNESIUM_DIPHOSPHATE, "Mg", "a dolomite", [8, 13]),
    row(["Ca", "calcium"], CALCIUM_CARBONATE, "Ca", "an eggshell", [30, 39]),
    row(["MgSO4", "magnesium sulfate"], BARIUM_SULFATE, "S", "a bath salt", [30, 95]),
    row(["Ni", "nickel"], DIMETHYLGLYOXIMATE, "Ni", "a stainless steel", [5, 15]),
    row(["NaCl", "sodium chloride"], SILVER_CHLORIDE, "Cl", "a seasoning salt", [25, 90]),
    row(["P2O5", "phosphorus(V) oxide"], MAGNESIUM_DIPHOSPHATE, "P", "a garden fertiliser", [5, 30]),
    row(["Ca", "calcium"], ["CaO", "calcium oxide"], "Ca", "a limestone", [25, 39]),
    row(["Al", "aluminium"], ["Al2O3", "aluminium oxide"], "Al", "a clay", [8, 20]),
    row(["S", "sulfur"], BARIUM_SULFATE, "S", "a rubber", [1, 5]),
    row(["Fe3O4", "iron(II,III) oxide"], IRON_OXIDE, "Fe", "a magnetite ore", [40, 95]),
    row(["K", "potassium"], TETRAPHENYLBORATE, "K", "a potash fertiliser", [10, 45]),
    row(["Zn", "zinc"], ZINC_DIPHOSPHATE, "Zn", "a brass", [10, 40]),
    row(["CaO", "calcium oxide"], ["CaC2O4·H2O", "calcium oxalate monohydrate"], "Ca", "a cement", [58, 67]),
    row(["KCl", "potassium chloride"], SILVER_CHLORIDE, "Cl", "a salt substitute", [30, 90]),
    row(["Na2SO4", "sodium sulfate"], BARIUM_SULFATE, "S", "a washing powder", [10, 40]),
    row(["P", "phosphorus"], MAGNESIUM_DIPHOSPHATE, "P", "a bone meal", [6, 14]),
    row(["FeSO4·7H2O", "iron(II) sulfate heptahydrate"], IRON_OXIDE, "Fe", "a moss killer", [20, 90]),
    row(["Mn", "manganese"], ["Mn2P2O7", "manganese(II) diphosphate"], "Mn", "a manganese ore", [20, 55]),
    row(["Cu", "copper"], ["CuSCN", "copper(I) thiocyanate"], "Cu", "a bronze coin", [75, 95]),
    row(["KBr", "potassium bromide"], ["AgBr", "silver bromide"], "Br", "a mixture of salts", [20, 80]),
    row(["MgO", "magnesium oxide"], MAGNESIUM_DIPHOSPHATE, "Mg", "a magnesite", [30, 46]),
    row(["Ba", "barium"], BARIUM_SULFATE, "Ba", "a barium mineral", [30, 69]),
    row(["Al2O3", "aluminium oxide"], ALUMINIUM_QUINOLINATE, "Al", "a bauxite", [40, 60]),
    row(["ZnO", "zinc oxide"], ZINC_DIPHOSPHATE, "Zn", "a zinc ointment", [10, 40]),
    row(["Si", "silicon"], ["SiO2", "silicon dioxide"], "Si", "a cast iron", [1, 4]),
    row(["KI", "potassium iodide"], ["AgI", "silver iodide"], "I", "a mixture of salts", [20, 80]),
    row(["SO3", "sulfur trioxide"], BARIUM_SULFATE, "S", "a cement", [2, 4]),
    row(["Sr", "strontium"], ["SrSO4", "strontium sulfate"], "Sr", "a strontium mineral", [30, 59]),
    row(["K2O", "potassium oxide"], TETRAPHENYLBORATE, "K", "a wood ash", [5, 15]),
    row(["MgCl2", "magnesium chloride"], SILVER_CHLORIDE, "Cl", "a de-icing salt", [15, 46]),
    row(["CuO", "copper(II) oxide"], ["CuSCN", "copper(I) thiocyanate"], "Cu", "a blue glaze", [2, 8]),
    // Two elements are in both, and one of them is lost or comes from the reagent.
    row(["CaC2O4·H2O", "calcium oxalate monohydrate"], CALCIUM_CARBONATE, "Ca", "a kidney stone", [30, 90]),
    row(["K2CO3", "potassium carbonate"], TETRAPHENYLBORATE, "K", "a wood ash", [10, 40]),
    row(["KHCO3", "potassium hydrogencarbonate"], TETRAPHENYLBORATE, "K", "a mixture of salts", [20, 80]),
    row(["KNaC4H4O6·4H2O", "potassium sodium tartrate tetrahydrate"], TETRAPHENYLBORATE, "K", "a mixture of salts", [30, 90]),
    row(["K3C6H5O7·H2O", "potassium citrate monohydrate"], TETRAPHENYLBORATE, "K", "an effervescent powder", [10, 60]),
    row(["NiCO3", "nickel(II) carbonate"], DIMETHYLGLYOXIMATE, "Ni", "a mixture of salts", [20, 80]),
    row(["Ni(C2H3O2)2·4H2O", "nickel(II) acetate tetrahydrate"], DIMETHYLGLYOXIMATE, "Ni", "a mixture of salts", [30, 90]),
    row(["Ca(C3H5O3)2", "calcium lactate"], CALCIUM_CARBONATE, "Ca", "a calcium tablet", [20, 80]),
    row(["CaC4H4O4", "calcium succinate"], CALCIUM_CARBONATE, "Ca", "a mixture of salts", [30, 90]),
];
