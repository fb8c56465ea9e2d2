//! Reactions for limiting reactants and yields.
//!
//! Precipitations, displacements, reactions of acids and preparations as schools do them (common practice, no
//! source). Two are also in Flowers et al., Chemistry 2e, 4.3: magnesium hydroxide from magnesium chloride, and
//! magnesium with hydrochloric acid. Every equation is balanced; a test compares.

/// How a product is collected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Collected {
    /// It is a precipitate.
    Filtered,
    /// It crystallises from the solution.
    Crystallised,
    /// The solution is evaporated to dryness.
    Evaporated,
    /// It is what heating or burning leaves.
    Left,
    /// It is a gas.
    Gas,
    /// It stays mixed with the others, so that its mass is only calculated.
    NotSeparated,
}

/// A reaction.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ReactionRow {
    /// The balanced equation, with states.
    pub(crate) equation: &'static str,
    /// The reactants by name, in the order of the equation. Each fits after "2.00 g of". Those that the equation
    /// has as `(aq)` are dissolved: "silver nitrate solution", "a solution of 2.00 g of silver nitrate".
    pub(crate) reactants: &'static [&'static str],
    /// The formula of the product that is asked for, in canonical plain text.
    pub(crate) product: &'static str,
    /// Its name.
    pub(crate) product_name: &'static str,
    /// How it is collected.
    pub(crate) collected: Collected,
}

impl ReactionRow {
    /// True if the product is a solid that is weighed, so that a yield can be found. The first reactant is
    /// weighed, and there is enough of the others.
    pub(crate) const fn gives_a_yield(&self) -> bool {
        !matches!(self.collected, Collected::Gas | Collected::NotSeparated)
    }
}

const fn row(
    equation: &'static str,
    reactants: &'static [&'static str],
    product: &'static str,
    product_name: &'static str,
    collected: Collected,
) -> ReactionRow {
    ReactionRow {
        equation,
        reactants,
        product,
        product_name,
        collected,
    }
}

use Collected::{Crystallised, Evaporated, Filtered, Gas, Left, NotSeparated};

#[rustfmt::skip]
pub(crate) const REACTIONS: &[ReactionRow] = &[
    row("Zn(s) + 2AgNO3(aq) -> 2Ag(s) + Zn(NO3)2(aq)", &["zinc powder", "silver nitrate"], "Ag", "silver", Filtered),
    row("CaCl2(aq) + Na2CO3(aq) -> CaCO3(s) + 2NaCl(aq)", &["calcium chloride", "sodium carbonate"], "CaCO3", "calcium carbonate", Filtered),
    row("BaCl2(aq) + Na2SO4(aq) -> BaSO4(s) + 2NaCl(aq)", &["barium chloride", "sodium sulfate"], "BaSO4", "barium sulfate", Filtered),
    row("Mg(s) + 2HCl(aq) -> MgCl2(aq) + H2(g)", &["magnesium ribbon", "hydrogen chloride"], "H2", "hydrogen", Gas),
    row("MgCl2(aq) + 2NaOH(aq) -> Mg(OH)2(s) + 2NaCl(aq)", &["magnesium chloride", "sodium hydroxide"], "Mg(OH)2", "magnesium hydroxide", Filtered),
    row("AgNO3(aq) + NaCl(aq) -> AgCl(s) + NaNO3(aq)", &["silver nitrate", "sodium chloride"], "AgCl", "silver chloride", Filtered),
    row("2Mg(s) + O2(g) -> 2MgO(s)", &["magnesium ribbon", "oxygen"], "MgO", "magnesium oxide", Left),
    row("CaCl2·2H2O(aq) + K2C2O4·H2O(aq) -> CaC2O4·H2O(s) + 2KCl(aq) + 2H2O(l)", &["calcium chloride dihydrate", "potassium oxalate monohydrate"], "CaC2O4·H2O", "calcium oxalate monohydrate", Filtered),
    row("Fe(s) + CuCl2(aq) -> Cu(s) + FeCl2(aq)", &["iron filings", "copper(II) chloride"], "Cu", "copper", Filtered),
    row("CaCO3(s) + 2HCl(aq) -> CaCl2(aq) + H2O(l) + CO2(g)", &["marble chips", "hydrogen chloride"], "CO2", "carbon dioxide", Gas),
    row("SrCl2·6H2O(aq) + Na2CO3(aq) -> SrCO3(s) + 2NaCl(aq) + 6H2O(l)", &["strontium chloride hexahydrate", "sodium carbonate"], "SrCO3", "strontium carbonate", Filtered),
    row("K2SO4(aq) + MgSO4·7H2O(aq) -> K2Mg(SO4)2·6H2O(s) + H2O(l)", &["potassium sulfate", "magnesium sulfate heptahydrate"], "K2Mg(SO4)2·6H2O", "magnesium potassium sulfate hexahydrate", Crystallised),
    row("Cu(s) + 2AgNO3(aq) -> 2Ag(s) + Cu(NO3)2(aq)", &["copper turnings", "silver nitrate"], "Ag", "silver", Filtered),
    row("NaHCO3(s) + HCl(aq) -> NaCl(aq) + H2O(l) + CO2(g)", &["sodium hydrogencarbonate", "hydrogen chloride"], "NaCl", "sodium chloride", Evaporated),
    row("C7H6O3(s) + C4H6O3(l) -> C9H8O4(s) + C2H4O2(l)", &["salicylic acid", "acetic anhydride"], "C9H8O4", "aspirin", Crystallised),
    row("NaHCO3(s) + C2H4O2(aq) -> NaC2H3O2(aq) + H2O(l) + CO2(g)", &["sodium hydrogencarbonate", "acetic acid"], "CO2", "carbon dioxide", Gas),
    row("BaCl2·2H2O(aq) + MgSO4·7H2O(aq) -> BaSO4(s) + MgCl2(aq) + 9H2O(l)", &["barium chloride dihydrate", "magnesium sulfate heptahydrate"], "BaSO4", "barium sulfate", Filtered),
    row("FeSO4·7H2O(aq) + (NH4)2SO4(aq) -> (NH4)2Fe(SO4)2·6H2O(s) + H2O(l)", &["iron(II) sulfate heptahydrate", "ammonium sulfate"], "(NH4)2Fe(SO4)2·6H2O", "ammonium iron(II) sulfate hexahydrate", Crystallised),
    row("AgNO3(aq) + KBr(aq) -> AgBr(s) + KNO3(aq)", &["silver nitrate", "potassium bromide"], "AgBr", "silver bromide", Filtered),
    row("Zn(s) + CuCl2(aq) -> Cu(s) + ZnCl2(aq)", &["zinc powder", "copper(II) chloride"], "Cu", "copper", Filtered),
    row("SrCl2(aq) + Na2SO4(aq) -> SrSO4(s) + 2NaCl(aq)", &["strontium chloride", "sodium sulfate"], "SrSO4", "strontium sulfate", Filtered),
    row("3BaCl2·2H2O(aq) + 2Na3PO4·12H2O(aq) -> Ba3(PO4)2(s) + 6NaCl(aq) + 30H2O(l)", &["barium chloride dihydrate", "sodium phosphate dodecahydrate"], "Ba3(PO4)2", "barium phosphate", Filtered),
    row("CuCl2(aq) + 2NaOH(aq) -> Cu(OH)2(s) + 2NaCl(aq)", &["copper(II) chloride", "sodium hydroxide"], "Cu(OH)2", "copper(II) hydroxide", NotSeparated),
    row("NH4HCO3(aq) + NaCl(aq) -> NaHCO3(s) + NH4Cl(aq)", &["ammonium hydrogencarbonate", "sodium chloride"], "NaHCO3", "sodium hydrogencarbonate", Crystallised),
    row("Zn(s) + 2HCl(aq) -> ZnCl2(aq) + H2(g)", &["granulated zinc", "hydrogen chloride"], "H2", "hydrogen", Gas),
    row("2AgNO3(aq) + CaCl2(aq) -> 2AgCl(s) + Ca(NO3)2(aq)", &["silver nitrate", "calcium chloride"], "AgCl", "silver chloride", Filtered),
    row("FeCl3(aq) + 3NaOH(aq) -> Fe(OH)3(s) + 3NaCl(aq)", &["iron(III) chloride", "sodium hydroxide"], "Fe(OH)3", "iron(III) hydroxide", NotSeparated),
    row("BaCl2(aq) + Na2CO3(aq) -> BaCO3(s) + 2NaCl(aq)", &["barium chloride", "sodium carbonate"], "BaCO3", "barium carbonate", Filtered),
    row("K2SO4(aq) + ZnSO4·7H2O(aq) -> K2Zn(SO4)2·6H2O(s) + H2O(l)", &["potassium sulfate", "zinc sulfate heptahydrate"], "K2Zn(SO4)2·6H2O", "potassium zinc sulfate hexahydrate", Crystallised),
    row("Ca(OH)2(aq) + Na2CO3(aq) -> CaCO3(s) + 2NaOH(aq)", &["calcium hydroxide", "sodium carbonate"], "CaCO3", "calcium carbonate", Filtered),
    row("4Fe(s) + 3O2(g) -> 2Fe2O3(s)", &["iron wool", "oxygen"], "Fe2O3", "iron(III) oxide", NotSeparated),
    row("MnCl2(aq) + Na2CO3(aq) -> MnCO3(s) + 2NaCl(aq)", &["manganese(II) chloride", "sodium carbonate"], "MnCO3", "manganese(II) carbonate", Filtered),
    row("AgNO3(aq) + KI(aq) -> AgI(s) + KNO3(aq)", &["silver nitrate", "potassium iodide"], "AgI", "silver iodide", Filtered),
    row("CaO(s) + H2O(l) -> Ca(OH)2(s)", &["quicklime", "water"], "Ca(OH)2", "calcium hydroxide", NotSeparated),
    row("Fe(s) + 2HCl(aq) -> FeCl2(aq) + H2(g)", &["iron filings", "hydrogen chloride"], "H2", "hydrogen", Gas),
    row("Na2CO3(s) + 2HCl(aq) -> 2NaCl(aq) + H2O(l) + CO2(g)", &["sodium carbonate", "hydrogen chloride"], "CO2", "carbon dioxide", Gas),
    row("3CaCl2(aq) + 2Na3PO4(aq) -> Ca3(PO4)2(s) + 6NaCl(aq)", &["calcium chloride", "sodium phosphate"], "Ca3(PO4)2", "calcium phosphate", NotSeparated),
    row("2Al(s) + 6HCl(aq) -> 2AlCl3(aq) + 3H2(g)", &["aluminium foil", "hydrogen chloride"], "H2", "hydrogen", Gas),
    row("MgSO4·7H2O(aq) + 2NaOH(aq) -> Mg(OH)2(s) + Na2SO4(aq) + 7H2O(l)", &["magnesium sulfate heptahydrate", "sodium hydroxide"], "Mg(OH)2", "magnesium hydroxide", Filtered),
    row("Al2(SO4)3(aq) + 3Ca(OH)2(aq) -> 2Al(OH)3(s) + 3CaSO4(s)", &["aluminium sulfate", "calcium hydroxide"], "Al(OH)3", "aluminium hydroxide", NotSeparated),
    // One reactant, or three and more.
    row("2NaHCO3(s) -> Na2CO3(s) + H2O(g) + CO2(g)", &["sodium hydrogencarbonate"], "Na2CO3", "sodium carbonate", Left),
    row("MgO(s) + H2SO4(aq) + 6H2O(l) -> MgSO4·7H2O(s)", &["magnesium oxide", "sulfuric acid", "water"], "MgSO4·7H2O", "magnesium sulfate heptahydrate", Crystallised),
    row("2Al(s) + 2KOH(aq) + 4H2SO4(aq) + 22H2O(l) -> 2KAl(SO4)2·12H2O(s) + 3H2(g)", &["aluminium foil", "potassium hydroxide", "sulfuric acid", "water"], "KAl(SO4)2·12H2O", "aluminium potassium sulfate dodecahydrate", Crystallised),
    row("MgCO3(s) -> MgO(s) + CO2(g)", &["magnesium carbonate"], "MgO", "magnesium oxide", Left),
    row("ZnO(s) + H2SO4(aq) + 6H2O(l) -> ZnSO4·7H2O(s)", &["zinc oxide", "sulfuric acid", "water"], "ZnSO4·7H2O", "zinc sulfate heptahydrate", Crystallised),
    row("Fe(s) + H2SO4(aq) + 7H2O(l) -> FeSO4·7H2O(s) + H2(g)", &["iron filings", "sulfuric acid", "water"], "FeSO4·7H2O", "iron(II) sulfate heptahydrate", Crystallised),
    row("MgCl2·6H2O(aq) + Na2HPO4·12H2O(aq) + NH3(aq) -> NH4MgPO4·6H2O(s) + 2NaCl(aq) + 12H2O(l)", &["magnesium chloride hexahydrate", "sodium hydrogenphosphate dodecahydrate", "ammonia"], "NH4MgPO4·6H2O", "ammonium magnesium phosphate hexahydrate", Filtered),
    row("KHCO3(s) + HCl(aq) -> KCl(aq) + H2O(l) + CO2(g)", &["potassium hydrogencarbonate", "hydrogen chloride"], "KCl", "potassium chloride", Evaporated),
    row("Al2(SO4)3·18H2O(aq) + K2SO4(aq) + 6H2O(l) -> 2KAl(SO4)2·12H2O(s)", &["aluminium sulfate octadecahydrate", "potassium sulfate", "water"], "KAl(SO4)2·12H2O", "aluminium potassium sulfate dodecahydrate", Crystallised),
    row("2KHCO3(s) -> K2CO3(s) + H2O(g) + CO2(g)", &["potassium hydrogencarbonate"], "K2CO3", "potassium carbonate", Left),
];
