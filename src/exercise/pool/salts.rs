//! Hydrates, and which of them a school may heat.
//!
//! The degrees of hydration are those of the catalogue of salts, each with its source there. Those that are
//! usually sold come first (common practice, no source). Copper(II) sulfate is not here: authors name it if
//! they want it.

/// A hydrate.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SaltRow {
    /// The formula of the hydrate, in canonical plain text.
    pub(crate) hydrate: &'static str,
    /// The compositional name.
    pub(crate) name: &'static str,
    /// True if a school may heat it on the bench to find its water. The hazard rules decide; a test compares.
    pub(crate) heated: bool,
}

const fn heated(hydrate: &'static str, name: &'static str) -> SaltRow {
    SaltRow {
        hydrate,
        name,
        heated: true,
    }
}

const fn kept_cold(hydrate: &'static str, name: &'static str) -> SaltRow {
    SaltRow {
        hydrate,
        name,
        heated: false,
    }
}

#[rustfmt::skip]
pub(crate) const SALTS: &[SaltRow] = &[
    heated("MgSO4·7H2O", "magnesium sulfate heptahydrate"),
    heated("BaCl2·2H2O", "barium chloride dihydrate"),
    heated("Na2CO3·10H2O", "sodium carbonate decahydrate"),
    heated("CaSO4·2H2O", "calcium sulfate dihydrate"),
    heated("ZnSO4·7H2O", "zinc sulfate heptahydrate"),
    heated("MnSO4·H2O", "manganese(II) sulfate monohydrate"),
    heated("KAl(SO4)2·12H2O", "aluminium potassium sulfate dodecahydrate"),
    heated("Na2SO4·10H2O", "sodium sulfate decahydrate"),
    heated("CaCl2·2H2O", "calcium chloride dihydrate"),
    heated("SrCl2·6H2O", "strontium chloride hexahydrate"),
    heated("Li2SO4·H2O", "lithium sulfate monohydrate"),
    heated("K2CO3·1.5H2O", "potassium carbonate sesquihydrate"),
    heated("Na2HPO4·12H2O", "sodium hydrogenphosphate dodecahydrate"),
    heated("NaH2PO4·2H2O", "sodium dihydrogenphosphate dihydrate"),
    heated("Na3PO4·12H2O", "sodium phosphate dodecahydrate"),
    heated("Na2B4O7·10H2O", "sodium tetraborate decahydrate"),
    heated("NaBr·2H2O", "sodium bromide dihydrate"),
    heated("LiCl·H2O", "lithium chloride monohydrate"),
    heated("Al2(SO4)3·18H2O", "aluminium sulfate octadecahydrate"),
    heated("Fe2(SO4)3·9H2O", "iron(III) sulfate nonahydrate"),
    heated("KCr(SO4)2·12H2O", "chromium(III) potassium sulfate dodecahydrate"),
    heated("K2Mg(SO4)2·6H2O", "magnesium potassium sulfate hexahydrate"),
    heated("K2Zn(SO4)2·6H2O", "potassium zinc sulfate hexahydrate"),
    heated("Na2MoO4·2H2O", "sodium molybdate dihydrate"),
    heated("Na2WO4·2H2O", "sodium tungstate dihydrate"),
    heated("BaBr2·2H2O", "barium bromide dihydrate"),
    heated("LiBr·H2O", "lithium bromide monohydrate"),
    heated("Na2CO3·H2O", "sodium carbonate monohydrate"),
    heated("MnSO4·4H2O", "manganese(II) sulfate tetrahydrate"),
    heated("CaCl2·6H2O", "calcium chloride hexahydrate"),
    heated("SrCl2·2H2O", "strontium chloride dihydrate"),
    heated("Na2HPO4·2H2O", "sodium hydrogenphosphate dihydrate"),
    heated("Na2HPO4·7H2O", "sodium hydrogenphosphate heptahydrate"),
    heated("NaH2PO4·H2O", "sodium dihydrogenphosphate monohydrate"),
    heated("Na2B4O7·5H2O", "sodium tetraborate pentahydrate"),
    heated("Al2(SO4)3·16H2O", "aluminium sulfate hexadecahydrate"),
    heated("MgSO4·H2O", "magnesium sulfate monohydrate"),
    heated("ZnSO4·H2O", "zinc sulfate monohydrate"),
    kept_cold("CoCl2·6H2O", "cobalt(II) chloride hexahydrate"),
    kept_cold("NiSO4·6H2O", "nickel(II) sulfate hexahydrate"),
    kept_cold("FeSO4·7H2O", "iron(II) sulfate heptahydrate"),
    kept_cold("MgCl2·6H2O", "magnesium chloride hexahydrate"),
    kept_cold("FeCl3·6H2O", "iron(III) chloride hexahydrate"),
    kept_cold("CuCl2·2H2O", "copper(II) chloride dihydrate"),
    kept_cold("MnCl2·4H2O", "manganese(II) chloride tetrahydrate"),
    kept_cold("Na2S2O3·5H2O", "sodium thiosulfate pentahydrate"),
    kept_cold("Na3C6H5O7·2H2O", "sodium citrate dihydrate"),
    kept_cold("KNaC4H4O6·4H2O", "potassium sodium tartrate tetrahydrate"),
    kept_cold("CoSO4·7H2O", "cobalt(II) sulfate heptahydrate"),
    kept_cold("NiCl2·6H2O", "nickel(II) chloride hexahydrate"),
    kept_cold("Zn(NO3)2·6H2O", "zinc nitrate hexahydrate"),
    kept_cold("Mg(NO3)2·6H2O", "magnesium nitrate hexahydrate"),
    kept_cold("Ca(NO3)2·4H2O", "calcium nitrate tetrahydrate"),
    kept_cold("Cu(NO3)2·3H2O", "copper(II) nitrate trihydrate"),
    kept_cold("Co(NO3)2·6H2O", "cobalt(II) nitrate hexahydrate"),
    kept_cold("Fe(NO3)3·9H2O", "iron(III) nitrate nonahydrate"),
    kept_cold("Al(NO3)3·9H2O", "aluminium nitrate nonahydrate"),
    kept_cold("AlCl3·6H2O", "aluminium chloride hexahydrate"),
    kept_cold("H2C2O4·2H2O", "oxalic acid dihydrate"),
    kept_cold("CaC2O4·H2O", "calcium oxalate monohydrate"),
    kept_cold("Ba(OH)2·8H2O", "barium hydroxide octahydrate"),
    kept_cold("LiOH·H2O", "lithium hydroxide monohydrate"),
    kept_cold("Sr(OH)2·8H2O", "strontium hydroxide octahydrate"),
    kept_cold("(NH4)2Fe(SO4)2·6H2O", "ammonium iron(II) sulfate hexahydrate"),
    kept_cold("NH4Al(SO4)2·12H2O", "aluminium ammonium sulfate dodecahydrate"),
    kept_cold("NH4MgPO4·6H2O", "ammonium magnesium phosphate hexahydrate"),
    kept_cold("CaHPO4·2H2O", "calcium hydrogenphosphate dihydrate"),
    kept_cold("Na2SO3·7H2O", "sodium sulfite heptahydrate"),
    kept_cold("NaC2H3O2·3H2O", "sodium acetate trihydrate"),
    kept_cold("Cu(C2H3O2)2·H2O", "copper(II) acetate monohydrate"),
    kept_cold("Zn(C2H3O2)2·2H2O", "zinc acetate dihydrate"),
    kept_cold("Mg(C2H3O2)2·4H2O", "magnesium acetate tetrahydrate"),
    kept_cold("(NH4)2C2O4·H2O", "ammonium oxalate monohydrate"),
    kept_cold("SnCl2·2H2O", "tin(II) chloride dihydrate"),
];
