//! Equations to balance.
//!
//! Textbook knowledge (from memory). These are also in Flowers et al., Chemistry 2e, 4.1 to 4.3: the oxidation of
//! nitrogen and of aluminium, the combustion of ethane, butane and octane, magnesium hydroxide, sodium in water,
//! iron(III) oxide with carbon monoxide, silicon carbide, and the half-reactions of permanganate, water and sulfite.
//! Iodate with iodide, and the ignition of ammonium magnesium phosphate, are in Talbot, Quantitative Chemical Analysis. A
//! test balances every equation and finds the same coefficients.

/// An equation to balance.
#[derive(Debug, Clone, Copy)]
pub(crate) struct EquationRow {
    /// The balanced equation in the smallest whole coefficients.
    pub(crate) equation: &'static str,
    /// The event: "the complete combustion of methane".
    pub(crate) event: &'static str,
    /// The difficulty, 1 to 3.
    ///
    /// It is 1, and one more for each of these: a coefficient from 4 on, a coefficient from 7 on, five species
    /// or more, charges (our own rule).
    pub(crate) level: u8,
}

const fn row(level: u8, equation: &'static str, event: &'static str) -> EquationRow {
    EquationRow {
        equation,
        event,
        level,
    }
}

#[rustfmt::skip]
pub(crate) const EQUATIONS: &[EquationRow] = &[
    row(1, "CH4 + 2O2 -> CO2 + 2H2O", "the complete combustion of methane"),
    row(1, "2Mg + O2 -> 2MgO", "the burning of magnesium in oxygen"),
    row(2, "4Al + 3O2 -> 2Al2O3", "the burning of aluminium in oxygen"),
    row(1, "N2 + 3H2 -> 2NH3", "the synthesis of ammonia"),
    row(2, "C3H8 + 5O2 -> 3CO2 + 4H2O", "the complete combustion of propane"),
    row(3, "2C4H10 + 13O2 -> 8CO2 + 10H2O", "the complete combustion of butane"),
    row(1, "MgCl2 + 2NaOH -> Mg(OH)2 + 2NaCl", "the precipitation of magnesium hydroxide"),
    row(2, "Ag^+ + Cl^- -> AgCl", "the precipitation of silver chloride"),
    row(1, "Zn + 2HCl -> ZnCl2 + H2", "the reaction of zinc with hydrochloric acid"),
    row(2, "Zn + 2Ag^+ -> Zn^2+ + 2Ag", "the reaction of zinc with silver ions"),
    row(2, "4Fe + 3O2 -> 2Fe2O3", "the oxidation of iron"),
    row(1, "2Na + 2H2O -> 2NaOH + H2", "the reaction of sodium with water"),
    row(1, "2H2O2 -> 2H2O + O2", "the decomposition of hydrogen peroxide"),
    row(1, "Fe2O3 + 3CO -> 2Fe + 3CO2", "the reduction of iron(III) oxide by carbon monoxide"),
    row(1, "2Al + 3CuCl2 -> 2AlCl3 + 3Cu", "the reaction of aluminium with copper(II) chloride"),
    row(3, "2C2H6 + 7O2 -> 4CO2 + 6H2O", "the complete combustion of ethane"),
    row(1, "C2H4 + 3O2 -> 2CO2 + 2H2O", "the complete combustion of ethene"),
    row(3, "2C8H18 + 25O2 -> 16CO2 + 18H2O", "the complete combustion of octane"),
    row(1, "C2H6O + 3O2 -> 2CO2 + 3H2O", "the complete combustion of ethanol"),
    row(2, "C6H12O6 + 6O2 -> 6CO2 + 6H2O", "the respiration of glucose"),
    row(2, "6CO2 + 6H2O -> C6H12O6 + 6O2", "photosynthesis"),
    row(1, "C6H12O6 -> 2C2H6O + 2CO2", "the fermentation of glucose"),
    row(3, "C12H22O11 + 12O2 -> 12CO2 + 11H2O", "the complete combustion of sucrose"),
    row(2, "2C2H2 + 5O2 -> 4CO2 + 2H2O", "the complete combustion of ethyne"),
    row(2, "2CH4O + 3O2 -> 2CO2 + 4H2O", "the complete combustion of methanol"),
    row(3, "C5H12 + 8O2 -> 5CO2 + 6H2O", "the complete combustion of pentane"),
    row(3, "2C6H14 + 19O2 -> 12CO2 + 14H2O", "the complete combustion of hexane"),
    row(3, "C7H16 + 11O2 -> 7CO2 + 8H2O", "the complete combustion of heptane"),
    row(3, "2C3H6 + 9O2 -> 6CO2 + 6H2O", "the complete combustion of propene"),
    row(2, "C4H8 + 6O2 -> 4CO2 + 4H2O", "the complete combustion of butene"),
    row(3, "C6H12 + 9O2 -> 6CO2 + 6H2O", "the complete combustion of cyclohexane"),
    row(3, "2C3H8O + 9O2 -> 6CO2 + 8H2O", "the complete combustion of propan-1-ol"),
    row(2, "C3H6O + 4O2 -> 3CO2 + 3H2O", "the complete combustion of propanone"),
    row(1, "C2H4O2 + 2O2 -> 2CO2 + 2H2O", "the complete combustion of acetic acid"),
    row(3, "C10H16 + 14O2 -> 10CO2 + 8H2O", "the complete combustion of limonene"),
    row(1, "2CO + O2 -> 2CO2", "the burning of carbon monoxide"),
    row(1, "2H2 + O2 -> 2H2O", "the burning of hydrogen"),
    row(1, "2SO2 + O2 -> 2SO3", "the oxidation of sulfur dioxide"),
    row(2, "4NH3 + 5O2 -> 4NO + 6H2O", "the catalytic oxidation of ammonia"),
    row(2, "4NH3 + 3O2 -> 2N2 + 6H2O", "the burning of ammonia"),
    row(1, "2NO + O2 -> 2NO2", "the oxidation of nitrogen monoxide"),
    row(2, "4NO2 + O2 + 2H2O -> 4HNO3", "the making of nitric acid"),
    row(2, "2N2 + 5O2 -> 2N2O5", "the oxidation of nitrogen to dinitrogen pentoxide"),
    row(3, "4FeS2 + 11O2 -> 2Fe2O3 + 8SO2", "the roasting of pyrite"),
    row(1, "2ZnS + 3O2 -> 2ZnO + 2SO2", "the roasting of zinc blende"),
    row(2, "CaCO3 + 2HCl -> CaCl2 + CO2 + H2O", "the reaction of limestone with hydrochloric acid"),
    row(2, "Na2CO3 + 2HCl -> 2NaCl + CO2 + H2O", "the reaction of washing soda with hydrochloric acid"),
    row(1, "2NaHCO3 -> Na2CO3 + CO2 + H2O", "the heating of sodium hydrogencarbonate"),
    row(2, "2Al + 6HCl -> 2AlCl3 + 3H2", "the reaction of aluminium with hydrochloric acid"),
    row(1, "CaO + H2O -> Ca(OH)2", "the slaking of lime"),
    row(1, "Ca + 2H2O -> Ca(OH)2 + H2", "the reaction of calcium with water"),
    row(1, "Li3N + 3H2O -> 3LiOH + NH3", "the reaction of lithium nitride with water"),
    row(1, "3Mg + N2 -> Mg3N2", "the reaction of magnesium with nitrogen"),
    row(2, "Mg3N2 + 6H2O -> 3Mg(OH)2 + 2NH3", "the reaction of magnesium nitride with water"),
    row(2, "3Fe + 4H2O -> Fe3O4 + 4H2", "the reaction of hot iron with steam"),
    row(1, "3Fe + 2O2 -> Fe3O4", "the burning of iron wool"),
    row(1, "H2SO4 + 2NaOH -> Na2SO4 + 2H2O", "the neutralisation of sulfuric acid"),
    row(1, "H3PO4 + 3NaOH -> Na3PO4 + 3H2O", "the neutralisation of phosphoric acid"),
    row(2, "P4O10 + 6H2O -> 4H3PO4", "the reaction of phosphorus(V) oxide with water"),
    row(2, "3H2SO4 + 2Al(OH)3 -> Al2(SO4)3 + 6H2O", "the reaction of aluminium hydroxide with sulfuric acid"),
    row(1, "BaCl2 + Na2SO4 -> BaSO4 + 2NaCl", "the precipitation of barium sulfate"),
    row(1, "FeCl3 + 3NaOH -> Fe(OH)3 + 3NaCl", "the precipitation of iron(III) hydroxide"),
    row(2, "3CaCl2 + 2Na3PO4 -> Ca3(PO4)2 + 6NaCl", "the precipitation of calcium phosphate"),
    row(1, "2AgNO3 + CaCl2 -> 2AgCl + Ca(NO3)2", "the precipitation of silver chloride from calcium chloride"),
    row(2, "Ca^2+ + CO3^2- -> CaCO3", "the precipitation of calcium carbonate"),
    row(2, "Ca^2+ + 2F^- -> CaF2", "the precipitation of calcium fluoride"),
    row(2, "Fe^3+ + 3OH^- -> Fe(OH)3", "the precipitation of iron(III) hydroxide from its ions"),
    row(2, "3Ca^2+ + 2PO4^3- -> Ca3(PO4)2", "the precipitation of calcium phosphate from its ions"),
    row(2, "2Al + 3Cu^2+ -> 2Al^3+ + 3Cu", "the reaction of aluminium with copper(II) ions"),
    row(2, "Mg + 2H^+ -> Mg^2+ + H2", "the reaction of magnesium with an acid"),
    row(3, "2Al + 6H^+ -> 2Al^3+ + 3H2", "the reaction of aluminium with an acid"),
    row(3, "CaCO3 + 2H^+ -> Ca^2+ + CO2 + H2O", "the reaction of limestone with an acid"),
    row(2, "2Fe^3+ + Cu -> 2Fe^2+ + Cu^2+", "the etching of copper by iron(III) ions"),
    row(2, "2Fe^3+ + 2I^- -> 2Fe^2+ + I2", "the oxidation of iodide by iron(III) ions"),
    row(2, "I2 + 2S2O3^2- -> 2I^- + S4O6^2-", "the titration of iodine with thiosulfate"),
    row(3, "MnO4^- + 5Fe^2+ + 8H^+ -> Mn^2+ + 5Fe^3+ + 4H2O", "the titration of iron(II) ions with permanganate"),
    row(3, "2MnO4^- + 5H2C2O4 + 6H^+ -> 2Mn^2+ + 10CO2 + 8H2O", "the titration of oxalic acid with permanganate"),
    row(3, "IO3^- + 5I^- + 6H^+ -> 3I2 + 3H2O", "the reaction of iodate with iodide"),
    row(3, "H2O2 + 2I^- + 2H^+ -> I2 + 2H2O", "the oxidation of iodide by hydrogen peroxide"),
    row(3, "H2O2 + 2Fe^2+ + 2H^+ -> 2Fe^3+ + 2H2O", "the oxidation of iron(II) ions by hydrogen peroxide"),
    row(3, "ClO^- + 2I^- + 2H^+ -> Cl^- + I2 + H2O", "the oxidation of iodide by hypochlorite"),
    row(3, "2Al + 2OH^- + 6H2O -> 2[Al(OH)4]^- + 3H2", "the reaction of aluminium with an alkali"),
    row(3, "5SO2 + 2MnO4^- + 2H2O -> 5SO4^2- + 2Mn^2+ + 4H^+", "the oxidation of sulfur dioxide by permanganate"),
    row(3, "MnO4^- + 8H^+ + 5e^- -> Mn^2+ + 4H2O", "the reduction of permanganate to manganese(II) ions"),
    row(3, "O2 + 4H^+ + 4e^- -> 2H2O", "the reduction of oxygen in an acid"),
    row(3, "2H2O -> O2 + 4H^+ + 4e^-", "the oxidation of water to oxygen"),
    row(3, "SO3^2- + H2O -> SO4^2- + 2H^+ + 2e^-", "the oxidation of sulfite to sulfate"),
    row(3, "MgSO4·7H2O -> MgSO4 + 7H2O", "the heating of magnesium sulfate heptahydrate"),
    row(1, "CaSO4·2H2O -> CaSO4 + 2H2O", "the heating of gypsum"),
    row(1, "2CaSO4·2H2O -> 2CaSO4·0.5H2O + 3H2O", "the making of plaster from gypsum"),
    row(1, "BaCl2·2H2O -> BaCl2 + 2H2O", "the heating of barium chloride dihydrate"),
    row(3, "Na2CO3·10H2O -> Na2CO3 + 10H2O", "the heating of sodium carbonate decahydrate"),
    row(2, "MgO + H2SO4 + 6H2O -> MgSO4·7H2O", "the making of magnesium sulfate heptahydrate"),
    row(3, "2NH4MgPO4·6H2O -> Mg2P2O7 + 2NH3 + 13H2O", "the ignition of ammonium magnesium phosphate"),
    row(3, "MgCl2·6H2O + 2NaOH -> Mg(OH)2 + 2NaCl + 6H2O", "the precipitation of magnesium hydroxide from a hydrate"),
    row(3, "2Al + 2KOH + 4H2SO4 + 22H2O -> 2KAl(SO4)2·12H2O + 3H2", "the making of alum from aluminium"),
    row(2, "2Cu2O + Cu2S -> 6Cu + SO2", "the smelting of copper"),
    row(1, "3Fe2O3 + H2 -> 2Fe3O4 + H2O", "the reduction of iron(III) oxide to magnetite"),
    row(2, "4Fe + 3O2 + 6H2O -> 4Fe(OH)3", "the rusting of iron"),
    row(1, "SiO2 + 3C -> SiC + 2CO", "the making of silicon carbide"),
];
