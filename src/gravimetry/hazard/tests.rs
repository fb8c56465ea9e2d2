use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::finding::{Findings, all_rules};
use super::pairs;
use super::rule::MEMORY;
use super::toxic::TOXIC;
use super::{HeatingSafety, cautions};
use crate::formula::Formula;
use crate::gravimetry::Severity::{self, Care, Forbidden, FumeCupboard, Ordinary};
use crate::gravimetry::salt_facts;
use crate::gravimetry::{Method, Net, Weighings};
use crate::text::Note;

fn formula(text: &str) -> Formula {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// The names of the rules that speak.
fn rules(text: &str) -> Vec<String> {
    let findings = Findings::of(&formula(text)).found;
    let names = findings.iter().filter_map(|finding| {
        let (_, name) = finding.note.values().find(|(name, _)| *name == "rule")?;
        Some(name.to_string())
    });
    names.collect()
}

/// A formula, the least severity, and the rules that must speak.
#[rustfmt::skip]
const SPOKEN_OF: &[(&str, Severity, &[&str])] = &[
    // Chromates, in every spelling.
    ("Na2Cr2O7·2H2O", Forbidden, &["chromate"]),
    ("K2CrO4", Forbidden, &["chromate"]),
    ("Na2CrO4·4H2O", Forbidden, &["chromate", "melting"]),
    ("Na2CrO4·10H2O", Forbidden, &["chromate"]),
    ("K2[CrO4]", Forbidden, &["chromate"]),
    ("(NH4)2Cr2O7", Forbidden, &["chromate", "oxidizer_with_fuel", "ammonium"]),
    ("Cr2H8N2O7", Forbidden, &["chromate", "oxidizer_with_fuel"]),
    ("PbCrO4", Forbidden, &["chromate", "lead"]),
    ("CrO3", Forbidden, &["chromate"]),
    ("K2Cr3O10", Forbidden, &["chromate"]),
    ("MgCrO4·5H2O", Forbidden, &["chromate"]),
    ("[Mg(H2O)6]CrO4", Forbidden, &["chromate"]),
    // Chlorine and its oxygen.
    ("Mg(ClO4)2·6H2O", Forbidden, &["perchlorate"]),
    ("[Mg(H2O)6](ClO4)2", Forbidden, &["perchlorate"]),
    ("NaClO4·H2O", Forbidden, &["perchlorate"]),
    ("LiClO4·3H2O", Forbidden, &["perchlorate", "melting"]),
    ("Cl2H12MgO14", Forbidden, &["perchlorate"]),
    ("NH4ClO4", Forbidden, &["perchlorate", "oxidizer_with_fuel"]),
    ("[Co(NH3)6](ClO4)3", Forbidden, &["perchlorate", "oxidizer_with_fuel", "cobalt"]),
    ("KClO3", Forbidden, &["chlorate"]),
    ("Ba(ClO3)2·H2O", Forbidden, &["chlorate", "barium"]),
    ("NaClO2·3H2O", Forbidden, &["chlorate"]),
    ("Ca(ClO)2", Forbidden, &["hypochlorite"]),
    ("Ca(OCl)2·3H2O", Forbidden, &["hypochlorite"]),
    ("NaOCl·5H2O", Forbidden, &["hypochlorite"]),
    ("CaCl2O2", Forbidden, &["hypochlorite"]),
    ("HClO4·2H2O", Forbidden, &["perchlorate", "acid"]),
    // Dry, they react violently with water.
    ("AlCl3·6H2O", FumeCupboard, &["water_reactive", "halide"]),
    ("TiCl4", FumeCupboard, &["water_reactive"]),
    ("CaC2", Forbidden, &["water_reactive"]),
    // Other oxidisers.
    ("NaMnO4·3H2O", Forbidden, &["permanganate"]),
    ("Ba(BrO3)2·H2O", Forbidden, &["bromate", "barium"]),
    ("Ca(IO3)2·6H2O", FumeCupboard, &["iodate"]),
    ("BaO2·8H2O", FumeCupboard, &["peroxide", "barium"]),
    ("2Na2CO3·3H2O2", FumeCupboard, &["peroxide"]),
    ("NaBO3·4H2O", FumeCupboard, &["peroxide"]),
    ("(NH4)2S2O8", Forbidden, &["oxidizer_with_fuel"]),
    // Nitrates, alone and with something that burns.
    ("Cu(NO3)2·3H2O", FumeCupboard, &["nitrate", "melting"]),
    ("CuH6N2O9", FumeCupboard, &["nitrate"]),
    ("Ca(NO3)2·4H2O", FumeCupboard, &["nitrate"]),
    ("[Ni(H2O)6](NO3)2", FumeCupboard, &["nitrate", "nickel"]),
    ("Fe(NO3)3·9H2O", FumeCupboard, &["nitrate"]),
    ("NaNO3", FumeCupboard, &["nitrate"]),
    ("NH4NO3", Forbidden, &["oxidizer_with_fuel", "nitrate", "ammonium"]),
    ("H4N2O3", Forbidden, &["oxidizer_with_fuel"]),
    ("(NH4)2Ce(NO3)6", Forbidden, &["oxidizer_with_fuel"]),
    ("[Cu(NH3)4](NO3)2", Forbidden, &["oxidizer_with_fuel"]),
    ("NH4NO2", Forbidden, &["oxidizer_with_fuel", "nitrite"]),
    ("NaNO2", FumeCupboard, &["nitrite"]),
    ("Ba(NO2)2·H2O", FumeCupboard, &["nitrite", "barium"]),
    ("Na3[Co(NO2)6]", FumeCupboard, &["nitrite", "cobalt"]),
    ("Pb(NO3)2", FumeCupboard, &["nitrate", "lead"]),
    // What explodes.
    ("Pb(N3)2", Forbidden, &["azide", "lead"]),
    ("NaN3", Forbidden, &["azide"]),
    ("BaN6", Forbidden, &["azide", "barium"]),
    ("N2H6SO4", Forbidden, &["hydrazine"]),
    ("(NH3OH)2SO4", Forbidden, &["hydrazine"]),
    ("Hg(CNO)2", Forbidden, &["fulminate", "mercury"]),
    // Toxic metals.
    ("BeSO4·4H2O", Forbidden, &["beryllium"]),
    ("[Be(H2O)4]SO4", Forbidden, &["beryllium"]),
    ("Na2HAsO4·7H2O", Forbidden, &["arsenic", "melting"]),
    ("Na3AsO4·12H2O", Forbidden, &["arsenic"]),
    ("CdSO4·8/3H2O", Forbidden, &["cadmium"]),
    ("3CdSO4·8H2O", Forbidden, &["cadmium"]),
    ("CdCl2·2.5H2O", Forbidden, &["cadmium", "overheated_halide"]),
    ("HgCl2", Forbidden, &["mercury"]),
    ("Hg(NO3)2·H2O", Forbidden, &["mercury", "nitrate"]),
    ("Hg2(NO3)2·2H2O", Forbidden, &["mercury", "nitrate"]),
    ("TlNO3", Forbidden, &["thallium", "nitrate"]),
    ("Tl2SO4", Forbidden, &["thallium"]),
    ("UO2(NO3)2·6H2O", Forbidden, &["uranium", "nitrate"]),
    ("UO2(CH3COO)2·2H2O", Forbidden, &["uranium", "organic"]),
    ("Th(NO3)4·5H2O", Forbidden, &["radioactive", "nitrate"]),
    ("Pb(CH3COO)2·3H2O", FumeCupboard, &["lead", "organic", "melting"]),
    ("VOSO4·5H2O", FumeCupboard, &["vanadium"]),
    ("NiSO4·6H2O", FumeCupboard, &["nickel"]),
    ("[Ni(H2O)6]SO4", FumeCupboard, &["nickel"]),
    ("NiCl2·6H2O", FumeCupboard, &["nickel", "overheated_halide"]),
    ("CoSO4·7H2O", FumeCupboard, &["cobalt"]),
    ("CoCl2·6H2O", FumeCupboard, &["cobalt", "overheated_halide"]),
    ("[CoCl2(H2O)4]·2H2O", FumeCupboard, &["cobalt", "overheated_halide"]),
    ("K(SbO)C4H4O6·0.5H2O", FumeCupboard, &["antimony", "organic"]),
    ("Na2SeO4·10H2O", FumeCupboard, &["selenium"]),
    ("BaCl2·2H2O", Care, &["barium"]),
    ("Ba(OH)2·8H2O", Care, &["barium", "strong_base", "melting"]),
    // Cyanides and their kin.
    ("KCN", Forbidden, &["cyanide"]),
    ("Hg(CN)2", Forbidden, &["cyanide", "mercury"]),
    ("K2[Ni(CN)4]·H2O", Forbidden, &["cyanide", "nickel"]),
    ("Na2[Fe(CN)5NO]·2H2O", Forbidden, &["cyanide"]),
    ("K3[Fe(CN)6]", FumeCupboard, &["hexacyanoferrate"]),
    ("K4[Fe(CN)6]·3H2O", FumeCupboard, &["hexacyanoferrate"]),
    ("K4Fe(CN)6·3H2O", FumeCupboard, &["hexacyanoferrate"]),
    ("C6FeK4N6", FumeCupboard, &["hexacyanoferrate"]),
    ("KSCN", Forbidden, &["thiocyanate"]),
    ("Ba(SCN)2·3H2O", Forbidden, &["thiocyanate", "barium"]),
    ("Co(NCS)2·3H2O", Forbidden, &["thiocyanate", "cobalt"]),
    ("NH4SCN", Forbidden, &["thiocyanate", "ammonium"]),
    // Sulfides, fluorides, phosphinates.
    ("Na2S·9H2O", FumeCupboard, &["sulfide", "melting"]),
    ("NaHS·2H2O", FumeCupboard, &["sulfide"]),
    ("FeS2", FumeCupboard, &["sulfide"]),
    ("KF·2H2O", Forbidden, &["fluoride", "melting"]),
    ("AlF3·3H2O", Forbidden, &["fluoride"]),
    ("NH4HF2", Forbidden, &["fluoride", "ammonium"]),
    ("CuSiF6·4H2O", Forbidden, &["fluoride"]),
    ("Cu(BF4)2·6H2O", Forbidden, &["fluoride"]),
    ("NaH2PO2·H2O", Forbidden, &["phosphine"]),
    // Sulfur dioxide.
    ("Na2S2O3·5H2O", FumeCupboard, &["sulfite", "melting"]),
    ("Na2SO3·7H2O", FumeCupboard, &["sulfite"]),
    ("Na2S2O4·2H2O", Forbidden, &["dithionite", "sulfite"]),
    ("BaS2O6·2H2O", FumeCupboard, &["sulfite", "barium"]),
    ("NaHSO4·H2O", FumeCupboard, &["hydrogensulfate"]),
    // Oxalates and organic salts, in every spelling.
    ("H2C2O4·2H2O", FumeCupboard, &["oxalate", "organic"]),
    ("(COOH)2·2H2O", FumeCupboard, &["oxalate", "organic"]),
    ("C2H2O4·2H2O", FumeCupboard, &["oxalate"]),
    ("C2H6O6", FumeCupboard, &["oxalate"]),
    ("HOOCCOOH·2H2O", FumeCupboard, &["oxalate"]),
    ("CaC2O4·H2O", FumeCupboard, &["oxalate"]),
    ("Ca(COO)2·H2O", FumeCupboard, &["oxalate"]),
    ("K3[Fe(C2O4)3]·3H2O", FumeCupboard, &["oxalate"]),
    ("KHC2O4·H2C2O4·2H2O", FumeCupboard, &["oxalate"]),
    ("Cu(HCOO)2·2H2O", FumeCupboard, &["formate", "organic"]),
    ("NaCH3CO2·3H2O", FumeCupboard, &["organic", "melting"]),
    ("CH3COONa·3H2O", FumeCupboard, &["organic", "melting"]),
    ("NaC2H3O2·3H2O", FumeCupboard, &["organic", "melting"]),
    ("KNaC4H4O6·4H2O", FumeCupboard, &["organic"]),
    ("C6H8O7·H2O", FumeCupboard, &["organic"]),
    ("Zn(CH3COO)2·2H2O", FumeCupboard, &["organic"]),
    // Ammonium.
    ("(NH4)2Fe(SO4)2·6H2O", FumeCupboard, &["ammonium"]),
    ("NH4Al(SO4)2·12H2O", FumeCupboard, &["ammonium", "melting"]),
    ("MgNH4PO4·6H2O", FumeCupboard, &["ammonium"]),
    ("[Cu(NH3)4]SO4·H2O", FumeCupboard, &["ammonium"]),
    // Chlorides that lose hydrogen chloride.
    ("MgCl2·6H2O", FumeCupboard, &["halide", "melting"]),
    ("[Mg(H2O)6]Cl2", FumeCupboard, &["halide"]),
    ("AlCl3·6H2O", FumeCupboard, &["halide"]),
    ("FeCl3·6H2O", FumeCupboard, &["halide"]),
    ("CrCl3·6H2O", FumeCupboard, &["halide"]),
    ("[CrCl2(H2O)4]Cl·2H2O", FumeCupboard, &["halide"]),
    ("SnCl2·2H2O", FumeCupboard, &["halide"]),
    ("ZrOCl2·8H2O", FumeCupboard, &["halide"]),
    ("LaCl3·7H2O", FumeCupboard, &["halide"]),
    ("KMgCl3·6H2O", FumeCupboard, &["halide"]),
    ("KCl·MgCl2·6H2O", FumeCupboard, &["halide"]),
    ("HAuCl4·3H2O", FumeCupboard, &["halide"]),
    ("MgBr2·6H2O", FumeCupboard, &["halide"]),
    ("CuCl2·2H2O", FumeCupboard, &["overheated_halide"]),
    ("MnCl2·4H2O", FumeCupboard, &["overheated_halide", "melting"]),
    // What melts in its own water, and hydroxides.
    ("KAl(SO4)2·12H2O", Care, &["melting"]),
    ("AlK(SO4)2·12H2O", Care, &["melting"]),
    ("K2SO4·Al2(SO4)3·24H2O", Care, &["melting"]),
    ("CrK(SO4)2·12H2O", Care, &["melting"]),
    ("Na2HPO4·12H2O", Care, &["melting"]),
    ("CaCl2·6H2O", Care, &["melting"]),
    ("Na2B4O7·10H2O", Care, &["melting"]),
    ("Na2CO3·10H2O", Care, &["melting"]),
    ("Na2CO3·xH2O", Care, &["melting"]),
    ("NaOH·H2O", Care, &["strong_base"]),
    ("Sr(OH)2·8H2O", Care, &["strong_base", "melting"]),
    ("H2SO4·H2O", FumeCupboard, &["acid"]),
    ("NaI·2H2O", FumeCupboard, &["iodide"]),
    ("Cu2(OH)2CO3", Ordinary, &["hydroxide", "carbonate"]),
    ("Na2CO3·NaHCO3·2H2O", Ordinary, &["hydrogencarbonate"]),
    ("NaH2PO4·2H2O", Ordinary, &["hydrogenphosphate"]),
    ("CaHPO4·2H2O", Ordinary, &["hydrogenphosphate"]),
    ("KOCN", FumeCupboard, &["cyanate"]),
    ("Ni(CO)4", Forbidden, &["carbonyl", "nickel"]),
    ("NaBH4", Forbidden, &["hydride"]),
    ("LiNH2", Forbidden, &["hydride"]),
    ("Li3N", FumeCupboard, &["nitride"]),
    // Other spellings of salts that the catalogue knows.
    ("[Cu(H2O)4]SO4·H2O", Care, &[]),
    ("CuSO4(H2O)5", Care, &[]),
    ("Na2[B4O5(OH)4]·8H2O", Care, &["melting", "hydroxide"]),
    ("FeSO4·H2O", Care, &[]),
    ("K2OsO4·2H2O", Forbidden, &["osmium"]),
    // Double salts of copper, zinc and manganese, which no row classifies.
    ("K2Cu(SO4)2·6H2O", Care, &["copper"]),
    ("CuSO4·K2SO4·6H2O", Care, &["copper"]),
    ("CuK2O8S2", Care, &["copper"]),
    ("CuBr2·4H2O", Care, &["copper"]),
    ("K2Zn(SO4)2·6H2O", Care, &["zinc"]),
    ("K2Mn(SO4)2·4H2O", Care, &["manganese"]),
    ("MnBr2·4H2O", Care, &["manganese"]),
    // Borates, in every spelling.
    ("NaBO2·4H2O", Care, &["boron"]),
    ("LiBO2·2H2O", Care, &["boron"]),
    ("K2B4O7·4H2O", Care, &["boron"]),
    ("B(OH)3", Care, &["boron"]),
    ("H3BO3", Care, &["boron"]),
    ("NaBO3·4H2O", FumeCupboard, &["boron"]),
    // What may explode, in formulas that only count atoms.
    ("PbC6HN3O8·H2O", Forbidden, &["explosive", "lead"]),
    ("C6H3N3O7", Forbidden, &["explosive"]),
    ("C6H6N4O7", Forbidden, &["explosive"]),
    ("C12H4CaN6O14", Forbidden, &["explosive"]),
    ("C7H5N3O6", Forbidden, &["explosive"]),
    ("C5H8N4O12", Forbidden, &["explosive"]),
    ("C3H6N6O6", Forbidden, &["explosive"]),
    ("C3H5N3O9", Forbidden, &["explosive"]),
    ("C3H5N3O9·H2O", Forbidden, &["explosive"]),
    ("CH3NO3·H2O", Forbidden, &["oxidizer_with_fuel"]),
    ("NI3", Forbidden, &["nitrogen_halide"]),
    ("NI3·NH3", Forbidden, &["nitrogen_halide"]),
    ("NCl3", Forbidden, &["nitrogen_halide"]),
    ("Na2C5FeN6O·2H2O", Forbidden, &["cyanide"]),
    // Halogens with oxygen, and phosphorus with halogens.
    ("H5IO6·H2O", FumeCupboard, &["iodate"]),
    ("I2O5", FumeCupboard, &["iodate"]),
    ("CaOCl2·H2O", Forbidden, &["hypochlorite"]),
    ("PCl5·H2O", FumeCupboard, &["halide"]),
    ("NaPF6·H2O", Forbidden, &["fluoride"]),
    ("CaF2·H2O", Care, &["calcium_fluoride"]),
    ("Na2O8S2·2H2O", FumeCupboard, &["peroxide"]),
    ("H8N2O8S2", Forbidden, &["oxidizer_with_fuel"]),
    ("Cl2·8H2O", FumeCupboard, &["halogen"]),
    ("Br2·10H2O", FumeCupboard, &["halogen"]),
    // Sulfides that dissolve.
    ("BaS·6H2O", Forbidden, &["sulfide", "barium"]),
    ("KHS·0.5H2O", Forbidden, &["sulfide"]),
    ("Na2S4·H2O", Forbidden, &["sulfide"]),
    ("NaHS·2H2O", Forbidden, &["sulfide"]),
    ("(NH4)2S", Forbidden, &["sulfide"]),
    // Metals in a high oxidation state.
    ("NaBiO3·2H2O", FumeCupboard, &["high_oxide"]),
    ("K2FeO4·H2O", FumeCupboard, &["high_oxide"]),
    ("Ce(SO4)2·4H2O", FumeCupboard, &["high_oxide"]),
    ("Na4XeO6·8H2O", Forbidden, &["xenon"]),
    // Halides and hypohalites of bromine and iodine.
    ("CoBr2·6H2O", FumeCupboard, &["cobalt", "overheated_halide"]),
    ("NiI2·6H2O", FumeCupboard, &["nickel", "overheated_halide", "iodide"]),
    ("NaBrO·5H2O", Forbidden, &["hypobromite"]),
    ("Ca(OBr)2·H2O", Forbidden, &["hypobromite"]),
    ("NaBrO2·3H2O", Forbidden, &["bromate"]),
    // Metals, and oxides that react with water.
    ("Na", Forbidden, &["water_reactive"]),
    ("Ca", Forbidden, &["water_reactive"]),
    ("Al", Care, &["metal"]),
    ("Fe", Care, &["metal"]),
    ("P4O10", FumeCupboard, &["water_reactive"]),
    ("Na2O", FumeCupboard, &["water_reactive"]),
    // Complex ions and amines.
    ("[Co(C2H8N2)3]Cl3·3H2O", FumeCupboard, &["cobalt", "organic"]),
    ("Na(C2H5)2NCS2·3H2O", FumeCupboard, &["carbon_disulfide", "organic"]),
    ("H2PtCl6·6H2O", FumeCupboard, &["platinum", "halide"]),
    ("K2[PtCl4]·H2O", FumeCupboard, &["platinum"]),
    ("[N(CH3)4]OH·5H2O", FumeCupboard, &["strong_base", "organic"]),
    ("NaAl(OH)4", Care, &["strong_base"]),
    // Alums.
    ("CsAl(SO4)2·12H2O", Care, &["melting"]),
    ("RbAl(SO4)2·12H2O", Care, &["melting"]),
    ("NaFe(SO4)2·12H2O", Care, &["melting"]),
];

#[test]
fn ions_are_spoken_of_in_every_spelling() {
    assert!(SPOKEN_OF.len() >= 120, "{}", SPOKEN_OF.len());
    for (text, least, names) in SPOKEN_OF {
        let severity = HeatingSafety::of(&formula(text)).severity();
        assert!(severity >= *least, "{text}: {severity}");
        let found = rules(text);
        for name in *names {
            assert!(
                found.iter().any(|own| own == name),
                "{text}: {found:?} without {name}"
            );
        }
    }
}

/// A formula, and rules that must not speak: false friends.
#[rustfmt::skip]
const NOT_SPOKEN_OF: &[(&str, &[&str])] = &[
    ("Cr2(SO4)3·18H2O", &["chromate", "oxidizer_with_fuel"]),
    ("Cr2H36O30S3", &["chromate"]),
    ("CrK(SO4)2·12H2O", &["chromate"]),
    ("Cr(NO3)3·9H2O", &["chromate", "oxidizer_with_fuel"]),
    ("CrCl3·6H2O", &["chromate", "hypochlorite"]),
    ("Cr2O3", &["chromate"]),
    ("Na2SO4·10H2O", &["sulfite", "sulfide", "strong_base"]),
    ("NaCl", &["halide", "overheated_halide", "hypochlorite", "chlorate"]),
    ("KCl", &["halide", "chlorate", "perchlorate"]),
    ("BaCl2·2H2O", &["halide", "overheated_halide"]),
    ("CaCl2·2H2O", &["halide", "overheated_halide"]),
    ("SrCl2·6H2O", &["halide", "overheated_halide"]),
    ("BaSO4", &["barium"]),
    ("BiOCl", &["hypochlorite"]),
    ("ZrOCl2·8H2O", &["hypochlorite"]),
    ("K3[Fe(CN)6]", &["cyanide"]),
    ("K4[Fe(CN)6]·3H2O", &["cyanide"]),
    ("Fe4[Fe(CN)6]3", &["cyanide"]),
    ("CoSO4·7H2O", &["oxalate", "organic", "carbonate"]),
    ("CoCO3", &["oxalate", "organic"]),
    ("Na2CO3·10H2O", &["oxalate", "organic", "carbonate"]),
    ("CNa2O3", &["organic", "oxalate"]),
    ("MnSO4·H2O", &["permanganate", "cobalt"]),
    ("MnO2", &["peroxide", "permanganate"]),
    ("SnO2", &["peroxide"]),
    ("UO2SO4·3H2O", &["peroxide", "nitrate"]),
    ("MgSO4·7H2O", &["halide", "melting", "mercury"]),
    ("CuSO4·5H2O", &["uranium", "copper", "oxalate"]),
    ("Mg3N2", &["azide"]),
    ("Na2CO3·H2O", &["melting"]),
    ("CuSO4·5H2O", &["sulfite", "sulfide", "thiocyanate"]),
    ("NaH2PO4·2H2O", &["phosphine"]),
    ("CaHPO4·2H2O", &["phosphine"]),
    ("Zn(CH3COO)2·2H2O", &["oxalate"]),
    ("CsCl", &["cyanide", "sulfide"]),
    ("Sc2(SO4)3", &["thiocyanate", "sulfide", "organic"]),
    ("NbOCl3", &["hypochlorite"]),
    ("FeCr2O4", &["chromate"]),
    ("Na2[B4O5(OH)4]·8H2O", &["strong_base"]),
    ("Na2HPO4·12H2O", &["strong_base", "hydride"]),
    ("KHSO4", &["hydride", "acid"]),
    ("InCl3·4H2O", &["iodide", "azide"]),
    ("[Co(NH3)6]Cl3", &["oxidizer_with_fuel"]),
    ("(NH4)2SO4", &["oxidizer_with_fuel", "nitrate"]),
    ("CuH6N2O9", &["oxidizer_with_fuel", "ammonium"]),
    ("K2SO4", &["peroxide"]),
    ("Ag2SO4", &["arsenic"]),
    ("Na2C5FeN6O·2H2O", &["hexacyanoferrate"]),
    ("C3H5N3O9", &["cyanide"]),
    ("PCl5·H2O", &["phosphine"]),
    ("Na2SO4·10H2O", &["peroxide"]),
    ("NaCl", &["halogen"]),
    ("NaPF6", &["phosphine"]),
    ("H5IO6", &["perchlorate"]),
    ("I2O5", &["perchlorate"]),
    ("CaF2", &["fluoride"]),
    ("H3BO3", &["acid", "hydroxide"]),
    ("B(OH)3", &["acid", "hydroxide"]),
    ("Na2B4O7·10H2O", &["boron"]),
    ("ZnSO4·7H2O", &["zinc"]),
    ("CuO", &["copper"]),
    ("CuS", &["copper"]),
    ("NH4I", &["nitrogen_halide"]),
    ("C10H14N2Na2O8·2H2O", &["explosive"]),
    ("(NH4)3C6H5O7", &["explosive"]),
    ("CO(NH2)2", &["explosive"]),
    ("C2H5NO2", &["explosive"]),
    ("CH5NO3", &["explosive"]),
    ("(NH4)2C2O4·H2O", &["explosive"]),
    ("K4[Fe(CN)6]·3H2O", &["explosive"]),
    ("K3[Fe(C2O4)3]·3H2O", &["explosive"]),
    ("[Co(C2H8N2)3]Cl3·3H2O", &["cyanide"]),
    ("C2H8N2·H2O", &["cyanide"]),
    ("Na(C2H5)2NCS2·3H2O", &["cyanide", "thiocyanate"]),
    ("NaBrO2·3H2O", &["perchlorate"]),
    ("KSb(OH)6·H2O", &["strong_base"]),
    ("Na2[Sn(OH)6]·H2O", &["strong_base"]),
    ("Cu(HCOO)2·2H2O", &["oxalate"]),
    ("KAl(SO4)2", &["melting"]),
];

#[test]
fn false_friends_are_not_spoken_of() {
    for (text, names) in NOT_SPOKEN_OF {
        let found = rules(text);
        for name in *names {
            assert!(!found.iter().any(|own| own == name), "{text}: {found:?}");
        }
    }
}

fn codes(text: &str) -> Vec<String> {
    let notes = cautions(&formula(text));
    notes.iter().map(|note| note.code().to_string()).collect()
}

#[test]
fn the_most_severe_comes_first() {
    for (text, code) in [
        ("MgCl2·6H2O", "hazard"),
        ("Cu(NO3)2·3H2O", "hazard"),
        ("FeSO4·7H2O", "unfit_salt"),
        ("NH4Al(SO4)2·12H2O", "hazard"),
        ("Na2CO3·10H2O", "poor_salt"),
        ("Na2CO3·xH2O", "poor_salt"),
        ("Na2CO3·H2O", "hazard"),
        ("Na2S2O3·5H2O", "hazard"),
        ("CoCl2·6H2O", "toxic_salt"),
        ("H2C2O4·2H2O", "hazard"),
        ("CuSO4·5H2O", "hazard"),
        ("BaCl2·2H2O", "toxic_salt"),
        ("NiSO4·6H2O", "toxic_salt"),
        ("MgSO4·7H2O", "eye_protection"),
        ("MgSO4·xH2O", "eye_protection"),
        ("RbCl·2H2O", "unknown_salt"),
        ("(NH4)2Cr2O7", "forbidden_salt"),
        ("Pb(N3)2", "forbidden_salt"),
        ("BeSO4·4H2O", "forbidden_salt"),
    ] {
        assert_eq!(codes(text)[0], code, "{text}");
    }
    for (text, _, names) in SPOKEN_OF {
        let notes = cautions(&formula(text));
        let severities = notes.iter().filter_map(|note| {
            let (_, code) = note.values().find(|(name, _)| *name == "hazard")?;
            Some(code.parse::<Severity>().unwrap())
        });
        let severities: Vec<Severity> = severities.collect();
        assert!(names.is_empty() || !severities.is_empty(), "{text}");
        assert!(severities.is_sorted_by(|a, b| a >= b), "{text}");
        let safety = HeatingSafety::of(&formula(text));
        if let Some(first) = severities.first() {
            let is_unknown = safety.severity() == Severity::Unknown;
            assert!(*first == safety.severity() || is_unknown, "{text}");
            assert!(
                notes[0].values().any(|(name, _)| name == "hazard"),
                "{text}"
            );
        }
        if safety.severity() == Forbidden {
            let first = notes[0].text();
            assert!(
                first.contains("must not be heated in a school at all"),
                "{first}"
            );
            assert!(
                notes.iter().all(|note| note.code() != "gentle_then_strong"),
                "{text}"
            );
            assert_eq!(safety.suitable(), Some(false), "{text}");
        }
    }
}

#[cfg(feature = "report")]
#[test]
fn several_salts_are_ordered_together() {
    let salts = ["MgSO4·7H2O", "BaCl2·2H2O", "KCN"].map(formula);
    let salts = salts.each_ref().map(|salt| (salt, None));
    let notes = super::safety::cautions_for(salts);
    let codes: Vec<&str> = notes.iter().map(Note::code).collect();
    assert_eq!(codes[..2], ["forbidden_salt", "toxic_salt"]);
    let general = codes.iter().filter(|code| **code == "eye_protection");
    assert_eq!(general.count(), 1);
    let own = super::safety::own_cautions_for(salts);
    let rest = super::safety::general_cautions_for(salts);
    let together: Vec<Note> = own.iter().chain(&rest).cloned().collect();
    assert_eq!(together, notes);
    assert_eq!(rest[0].code(), "eye_protection");
    let unknown = [formula("RbCl"), formula("MgSO4·7H2O")];
    let unknown = unknown.each_ref().map(|salt| (salt, None));
    let own = super::safety::own_cautions_for(unknown);
    assert_eq!(own[0].code(), "unknown_salt");
}

#[test]
fn water_never_goes_back_to_what_reacts_violently_with_it() {
    for text in ["AlCl3·6H2O", "AlCl3", "TiCl4·2H2O", "CaC2·2H2O"] {
        let notes = cautions(&formula(text));
        assert!(
            notes.iter().all(|note| note.code() != "water_back"),
            "{text}"
        );
        let says = |note: &Note| note.text().contains("Do not add water");
        assert!(notes.iter().any(says), "{text}");
    }
    assert!(codes("FeCl3·6H2O").contains(&"water_back".to_string()));
    let safety = HeatingSafety::of(&formula("AlCl3·6H2O"));
    let has_statement = |note: &Note| note.text().contains("(H314)");
    assert!(safety.cautions().iter().any(has_statement));
}

#[test]
fn a_hazard_statement_asks_for_care() {
    for text in [
        "Li2SO4·H2O",
        "K2CO3·1.5H2O",
        "Na2MoO4·2H2O",
        "KCr(SO4)2·12H2O",
        "Na2CO3·H2O",
        "CaCl2·H2O",
    ] {
        let severity = HeatingSafety::of(&formula(text)).severity();
        assert!(severity >= Care, "{text}: {severity}");
    }
}

/// The codes of the hazard statements, as the caution prints them.
fn statements(text: &str) -> Vec<String> {
    let notes = cautions(&formula(text));
    let mut values = notes.iter().flat_map(Note::values);
    let (_, codes) = values.find(|(name, _)| *name == "codes").unwrap();
    codes.split(' ').map(String::from).collect()
}

#[test]
fn the_stronger_of_two_hazard_statements_is_printed_once() {
    for (text, present, absent) in [
        ("Ni(NO3)2·6H2O", "H318 H350i H410", "H319 H350"),
        ("NiSO4·6H2O", "H301 H315 H350i H360D", "H302 H350 H360 H361"),
        ("CoCl2·6H2O", "H350i H360F", "H360"),
        ("Pb(CH3COO)2·3H2O", "H351 H360Df", "H360"),
        ("NiC2O4·2H2O", "H302 H317 H350i H372 H410", "H350"),
        ("MnCl2·4H2O", "H301 H318 H373 H411", "H302 H319"),
        ("Fe2(SO4)3·9H2O", "H302 H315 H318", "H319"),
        ("Co(CH3COO)2·4H2O", "H317 H334 H350i H360F H410", "H411"),
        ("Zn(CH3COO)2·2H2O", "H302 H318 H411", "H319"),
        ("MnSO4·H2O", "H318 H373 H411", "H319"),
        ("Sr(NO3)2·4H2O", "H272 H318", "H319"),
    ] {
        let printed = statements(text);
        let has = |code: &str| printed.iter().any(|own| own == code);
        assert!(present.split(' ').all(has), "{text}: {printed:?}");
        assert!(!absent.split(' ').any(has), "{text}: {printed:?}");
        let once = printed
            .iter()
            .collect::<alloc::collections::BTreeSet<_>>()
            .len();
        assert_eq!(once, printed.len(), "{text}");
    }
}

#[test]
fn statements_from_memory_are_named() {
    for (text, words) in [
        ("MnCl2·4H2O", " From memory: H301, H318, H373, H411. "),
        ("MnSO4·H2O", " From memory: H318. "),
        ("Zn(CH3COO)2·2H2O", " From memory: H318. "),
        ("Fe2(SO4)3·9H2O", " From memory: H290, H302, H315, H318. "),
    ] {
        let notes = cautions(&formula(text));
        let found = notes.iter().any(|note| note.to_string().contains(words));
        assert!(found, "{text}: {notes:#?}");
    }
}

#[test]
fn a_reason_is_that_of_the_salt() {
    for (text, words) in [
        ("H5IO6", "hot iodide"),
        ("I2O5", "hot iodide"),
        ("CaC2O4·H2O", "organic vapours"),
        ("FeC2O4·2H2O", "organic vapours"),
        ("HCOONa", "Oxalates"),
        ("CaC2", "Organic ions"),
        ("MgCl2·6H2O", "from memory"),
        ("MgBr2·6H2O", "HCl"),
        ("MgBr2·6H2O", "chloride"),
        ("CoBr2·6H2O", "chlor"),
        ("NiBr2·3H2O", "Cl2"),
        ("CuBr2·4H2O", "HCl"),
        ("CoI2·6H2O", "Cl2"),
        ("NaBrO·5H2O", "Cl2"),
        ("NaIO·5H2O", "Chlorine"),
    ] {
        let notes = cautions(&formula(text));
        let rules: Vec<&Note> = notes
            .iter()
            .filter(|note| note.values().any(|(name, _)| name == "rule"))
            .collect();
        assert!(!rules.is_empty(), "{text}");
        for note in rules {
            assert!(!note.text().contains(words), "{text}: {}", note.text());
        }
    }
    let notes = cautions(&formula("MgBr2·6H2O"));
    let gas = |note: &Note| note.text().contains("Besides water, HBr may leave");
    assert!(notes.iter().any(gas));
    // Another organic ion beside the oxalate still chars.
    assert!(rules("Ca2C2O4(CH3COO)2").contains(&"organic".to_string()));
}

#[test]
fn a_limit_below_a_burner_says_how_to_keep_to_it() {
    for text in ["Na2S2O3·5H2O", "K4[Fe(CN)6]·3H2O", "CuCl2·2H2O"] {
        let limit = note(text, "safe_up_to");
        assert!(
            limit.text().contains("hot plate with a thermometer"),
            "{text}"
        );
    }
    let residue = HeatingSafety::leaving(&formula("CuSO4·5H2O"), &formula("CuSO4·H2O"));
    let limit = residue
        .cautions()
        .iter()
        .find(|note| note.code() == "safe_up_to");
    assert!(limit.unwrap().text().contains("hot plate"));
    assert!(
        !note("MgSO4·7H2O", "safe_up_to")
            .text()
            .contains("hot plate")
    );
}

/// The temperatures are those of rows of the catalogue, which name their sources.
#[test]
fn a_limit_agrees_with_the_stages() {
    let limit = |text: &str| {
        let note = note(text, "safe_up_to");
        let celsius = note.values().find(|(name, _)| *name == "celsius");
        celsius.unwrap().1.to_string()
    };
    let magnesium = note("MgCO3·3H2O", "no_safe_stage");
    assert!(
        magnesium
            .text()
            .contains("as soon as the last water has left")
    );
    assert_eq!(limit("CH3COONa·3H2O"), "250");
    assert_eq!(limit("CaC2O4·H2O"), "398");
    let iron = note("FeC2O4·2H2O", "no_safe_stage");
    assert!(iron.text().contains("near 190 °C"));
}

#[test]
fn usual_inert_matter_is_known() {
    for text in ["NaCl", "KCl", "Al2O3", "SiO2", "Fe2O3"] {
        let safety = HeatingSafety::of(&formula(text));
        assert_eq!(safety.severity(), Ordinary, "{text}");
        assert!(!codes(text).contains(&"unknown_salt".to_string()), "{text}");
    }
    let solids = ["NaHCO3", "NaCl"].map(formula);
    let safety = HeatingSafety::of_mixture(&solids.each_ref().map(|own| (own, None)));
    assert_eq!(safety.severity(), Ordinary);
}

#[test]
fn a_residue_that_catches_fire_is_no_solid_waste() {
    let waste = note("FeC2O4·2H2O", "waste");
    assert!(waste.text().contains("can catch fire in air"));
    assert!(waste.values().any(|own| own == ("route", "catches_fire")));
}

/// Words that say how to heat.
const HOW_TO_HEAT: [&str; 5] = [
    "Heat it",
    "heat it",
    "only in a fume cupboard",
    "Heat gently",
    "Take particular care",
];

#[track_caller]
fn says_nothing_of_how_to_heat(of: &str, notes: &[Note]) {
    for note in notes {
        let says = HOW_TO_HEAT.iter().any(|words| note.text().contains(words));
        assert!(!says && note.code() != "poor_salt", "{of}: {}", note.text());
    }
}

#[test]
fn no_sentence_says_how_to_heat_what_is_forbidden() {
    let more = ["Cd(CH3COO)2·2H2O", "(NH4)2Ce(NO3)6·2H2O", "Co(ClO4)2·6H2O"];
    let texts = SPOKEN_OF.iter().map(|(text, ..)| *text).chain(more);
    let mut forbidden = 0;
    for text in texts {
        let safety = HeatingSafety::of(&formula(text));
        if safety.severity() == Forbidden {
            says_nothing_of_how_to_heat(text, safety.cautions());
            forbidden += 1;
        }
    }
    assert!(forbidden > 50, "{forbidden}");
}

/// Solids in one crucible, the severity, and the rule that comes first.
#[rustfmt::skip]
const TOGETHER: &[(&[&str], Severity, &str)] = &[
    (&["MgSO4·7H2O", "K2Cr2O7"], Forbidden, "chromate"),
    (&["Na2SO4·10H2O", "HgCl2"], Forbidden, "mercury"),
    (&["CuSO4·5H2O", "KClO4"], Forbidden, "perchlorate"),
    (&["Na2CO3·10H2O", "Pb(N3)2"], Forbidden, "azide"),
    (&["C6H8O7·H2O", "KClO3"], Forbidden, "oxidizer_with_fuel"),
    (&["C6H12O6·H2O", "KNO3"], Forbidden, "oxidizer_with_fuel"),
    (&["NaC2H3O2·3H2O", "NaNO3"], Forbidden, "oxidizer_with_fuel"),
    (&["(NH4)2SO4", "Ca(NO3)2·4H2O"], Forbidden, "oxidizer_with_fuel"),
    (&["NaNO3", "NaC2H3O2·3H2O"], Forbidden, "oxidizer_with_fuel"),
    (&["Mg", "KNO3"], Forbidden, "oxidizer_with_fuel"),
    (&["Al", "Fe2O3"], Forbidden, "thermite"),
    (&["CuO", "Mg"], Forbidden, "thermite"),
    (&["MgSO4·7H2O", "KNO3"], FumeCupboard, "nitrate"),
    (&["NaHCO3", "NaCl"], Ordinary, "hydrogencarbonate"),
    // An acid with an ion that gives a toxic gas.
    (&["K4[Fe(CN)6]·3H2O", "KHSO4"], Forbidden, "acid_with_salt"),
    (&["NaHSO4·H2O", "K3[Fe(CN)6]"], Forbidden, "acid_with_salt"),
    (&["H2C2O4·2H2O", "K4[Fe(CN)6]·3H2O"], Forbidden, "acid_with_salt"),
    (&["C6H8O7·H2O", "K4[Fe(CN)6]·3H2O"], Forbidden, "acid_with_salt"),
    (&["CaF2", "NaHSO4·H2O"], Forbidden, "acid_with_salt"),
    (&["FeS", "NaHSO4·H2O"], Forbidden, "acid_with_salt"),
    (&["NaHSO4·H2O", "NaCl"], FumeCupboard, "acid_with_salt"),
    (&["KHSO4", "Na2SO3·7H2O"], FumeCupboard, "acid_with_salt"),
    // Metals and dry solids with the water of a hydrate.
    (&["CuSO4·5H2O", "Al"], Forbidden, "metal_with_water"),
    (&["Mg", "LiOH·H2O"], Forbidden, "metal_with_water"),
    (&["CuSO4·5H2O", "K"], Forbidden, "metal_with_water"),
    (&["P4O10", "MgSO4·7H2O"], Forbidden, "water_reactive"),
    (&["CaC2", "MgSO4·7H2O"], Forbidden, "water_reactive"),
    (&["KNO3", "S"], Forbidden, "oxidizer_with_fuel"),
    (&["CuSO4·5H2O", "Cu"], Care, "metal"),
    // A hydrate does not react with the water of another one.
    (&["AlCl3·6H2O", "MgSO4·7H2O"], FumeCupboard, "water_reactive"),
];

#[test]
fn solids_in_one_crucible_are_judged_together() {
    for (solids, severity, rule) in TOGETHER {
        let solids: Vec<Formula> = solids.iter().map(|text| formula(text)).collect();
        let safety =
            HeatingSafety::of_mixture(&solids.iter().map(|own| (own, None)).collect::<Vec<_>>());
        assert!(safety.severity() >= *severity, "{solids:?}");
        let mut rules = safety.cautions().iter().flat_map(Note::values);
        let first = rules.find(|(name, _)| *name == "rule");
        assert_eq!(first, Some(("rule", *rule)), "{solids:?}");
        let first = &safety.cautions()[0];
        assert_eq!(safety.severity() == Forbidden, *severity == Forbidden);
        if *severity == Forbidden {
            assert_eq!(first.code(), "forbidden_salt", "{solids:?}");
            says_nothing_of_how_to_heat(rule, safety.cautions());
            assert_eq!(safety.suitable(), Some(false));
        }
    }
    let solids = ["C6H8O7·H2O", "KClO3"].map(formula);
    let safety = HeatingSafety::of_mixture(&solids.each_ref().map(|own| (own, None)));
    assert_eq!(
        safety.cautions()[0].text(),
        "C6H8O7 and KClO3 must not be heated together in a school at all. One is an oxidiser, and one burns. The \
         mixture can catch fire or explode when it is heated."
    );
}

#[track_caller]
fn suitable(text: &str, expected: Option<bool>) {
    let safety = HeatingSafety::of(&formula(text));
    assert_eq!(safety.suitable(), expected, "{text}");
    if expected == Some(false) {
        assert!(!safety.reasons().is_empty(), "{text}");
    }
}

#[test]
fn suitability_has_three_values() {
    suitable("MgCl2·6H2O", Some(false));
    suitable("FeSO4·7H2O", Some(false));
    suitable("Cu(NO3)2·3H2O", Some(false));
    suitable("BeSO4·4H2O", Some(false));
    suitable("RbCl·2H2O", None);
    suitable("H2O", None);
}

fn note(issued: &str, code: &str) -> Note {
    let notes = cautions(&formula(issued));
    let found = notes.into_iter().find(|note| note.code() == code);
    found.unwrap_or_else(|| panic!("{issued}: no {code}"))
}

#[test]
fn borax_is_one_salt_in_every_spelling() {
    let hazard = |text: &str| {
        let notes = cautions(&formula(text));
        let mut notes = notes.iter().map(|note| note.text().to_string());
        notes
            .find(|text| text.contains("H360FD"))
            .unwrap_or_default()
    };
    let [shown, usual] = ["Na2[B4O5(OH)4]·8H2O", "Na2B4O7·10H2O"].map(hazard);
    assert_eq!(shown.replace("Na2[B4O5(OH)4]", "Na2B4O7"), usual);
    assert!(!usual.is_empty());
}

#[test]
fn whole_sentences() {
    assert_eq!(
        note("K2CrO4", "forbidden_salt").text(),
        "K2CrO4 must not be heated in a school at all. Dust of chromates and dichromates causes cancer of the lung. It \
         harms the skin."
    );
    assert_eq!(
        note("BeSO4·4H2O", "forbidden_salt").text(),
        "BeSO4 must not be heated in a school at all. Salts of beryllium are toxic. They may cause cancer. Their dust is \
         fatal if it is inhaled."
    );
    assert_eq!(
        note("NiBr2·6H2O", "toxic_salt").text(),
        "Salts of nickel are toxic. Their dust may cause cancer and asthma if it is inhaled. They may cause allergy of \
         the skin. Avoid skin contact and dust, and collect the waste separately. Heat it only in a fume cupboard."
    );
    assert_eq!(
        note("RbNO3", "unfit_salt").text(),
        "RbNO3 is not well suited to this method. Nitrates decompose and give off oxides of nitrogen, which are toxic. \
         Besides water, NO2 and O2 may leave. Heat it only in a fume cupboard."
    );
    assert_eq!(
        note("Cu(HCOO)2·2H2O", "unfit_salt").text(),
        "Cu(HCOO)2 is not well suited to this method. Formates give off carbon monoxide, which is toxic and has \
         no smell. Besides water, CO and CO2 may leave. Heat it only in a fume cupboard. (This is from memory.)"
    );
    assert_eq!(
        note("RbCl", "unknown_salt").text(),
        "Nothing is known here of heating RbCl. No rule for its ions and no row of the catalogue speaks of that. Read its \
         safety data sheet first, and ask the person in charge of the laboratory."
    );
    assert_eq!(
        note("CsI", "unfit_salt").text(),
        "CsI is not well suited to this method. Air sets free iodine from a hot iodide. The vapour is harmful. Besides \
         water, I2 may leave. Heat it only in a fume cupboard. (This is from memory.)"
    );
}

#[test]
fn what_is_not_a_hydrate_is_called_forbidden_too() {
    let plan = |issued: &str| {
        let plan = Method::new().plan(&formula(issued), "0.01".parse().unwrap());
        plan.unwrap_err().to_string()
    };
    for issued in ["(NH4)2Cr2O7", "KClO3"] {
        let error = plan(issued);
        assert!(
            error.contains("must not be heated in a school at all"),
            "{error}"
        );
    }
    assert!(!plan("CuSO4").contains("school"));
}

#[test]
fn what_is_no_hydrate_with_a_known_number_of_waters_says_how_to_write_it() {
    let plan = |issued: &str| {
        let plan = Method::new().plan(&formula(issued), "0.01".parse().unwrap());
        plan.unwrap_err()
    };
    for (issued, usual) in [
        ("[Cu(H2O)4]SO4·H2O", "CuSO4·5H2O"),
        ("[Cu(H2O)5]SO4", "CuSO4·5H2O"),
        ("[Co(H2O)6]Cl2", "CoCl2·6H2O"),
        ("[Ni(H2O)6]SO4", "NiSO4·6H2O"),
        ("[FeCl2(H2O)4]Cl·2H2O", "FeCl3·6H2O"),
        ("[Rb(H2O)2]Cl", "RbCl·2H2O"),
        ("3[Cd(H2O)2]SO4·2H2O", "CdSO4·8/3H2O"),
        ("[[Cu(H2O)4](H2O)]SO4", "CuSO4·5H2O"),
        ("[(H2O)]Cl", "Cl·H2O"),
    ] {
        let error = plan(issued);
        assert_eq!(error.code(), "bad_request", "{issued}");
        let help = format!("write all its water after a dot: {usual}");
        assert_eq!(error.help(), Some(help.as_str()), "{issued}");
    }
    let salt = |text: &str| {
        let bench = Weighings::net(
            "2.000".parse().unwrap(),
            "1.280".parse().unwrap(),
            Net::Tared,
        );
        Method::new().dehydration(&formula(text), &bench)
    };
    for text in ["[Cu(H2O)4]SO4", "[Cu(H2O)4]SO4·xH2O"] {
        let error = salt(text).unwrap_err();
        let found = (error.code(), error.help());
        let help = "give the anhydrous salt, CuSO4";
        assert_eq!(found, ("bad_request", Some(help)), "{text}");
    }
    assert!(
        plan("CoCl2·6D2O")
            .help()
            .unwrap()
            .starts_with("only H2O counts")
    );
    // Nothing but water is left out.
    let water = plan("[(H2O)6]");
    assert!(
        water.help().unwrap().starts_with("give the hydrate"),
        "{water}"
    );
    for issued in ["CuSO4·xH2O", "CuSO4·nH2O"] {
        assert_eq!(plan(issued).code(), "unknown_degree", "{issued}");
    }
}

#[test]
fn cobalt_chloride_gives_chlorine_in_air() {
    let texts = |salt: &str| -> Vec<String> {
        let notes = cautions(&formula(salt));
        notes.iter().map(|note| note.text().to_string()).collect()
    };
    let chlorine = |text: &String| text.contains("Cl2 and HCl may leave");
    assert!(texts("CoCl2·6H2O").iter().any(chlorine));
    for salt in ["CoCl2·6H2O", "NiCl2·6H2O"] {
        let toxic = note(salt, "toxic_salt");
        assert!(toxic.text().contains("cancer") && toxic.text().contains("inhaled"));
    }
    for salt in ["CuCl2·2H2O", "ZnSO4·7H2O", "MnSO4·H2O", "CuSO4·5H2O"] {
        assert!(
            texts(salt).iter().any(|text| text.contains("(H318)")),
            "{salt}"
        );
    }
}

/// The temperatures are those of rows of the catalogue, which name their sources.
#[test]
fn too_much_heat_is_named() {
    assert_eq!(
        note("CuSO4·5H2O", "too_hot").text(),
        "If CuSO4 is heated too far, it leaves CuO and gives off SO3, SO2, O2, markedly from about 560 °C. A sign of \
         this: it turns grey, then black. Colour is a hint, not the end point."
    );
    assert_eq!(
        note("CaSO4·2H2O", "too_hot").text(),
        "If CaSO4 is heated too far, it leaves CaO and gives off SO2, O2, markedly from about 1250 °C. You will \
         not see any change, because the sulfate and the oxide are both white."
    );
    // Each residue has its own temperature.
    let magnesium = note("MgCl2·6H2O", "too_hot");
    let steps = "leaves Mg(OH)Cl (markedly from about 167 °C), then MgO (markedly from about 415 °C) and gives off HCl";
    assert!(magnesium.text().contains(steps), "{}", magnesium.text());
    let values: Vec<_> = magnesium
        .values()
        .filter(|(name, _)| *name != "source")
        .collect();
    assert_eq!(
        values,
        [
            ("residue", "MgO"),
            ("gases", "HCl"),
            ("celsius", "415"),
            ("first_residue", "Mg(OH)Cl"),
            ("first_celsius", "167")
        ]
    );
    let oxalate = note("CaC2O4·H2O", "too_hot");
    assert!(
        oxalate
            .text()
            .contains("CaCO3 (markedly from about 479 °C), then CaO (markedly from about 684 °C)")
    );
    // No row has a temperature for the oxide.
    let copper = note("CuCl2·2H2O", "too_hot");
    assert!(
        copper
            .text()
            .contains("CuCl (markedly from about 300 °C), then CuO and gives off")
    );
    assert!(copper.values().all(|(name, _)| name != "celsius"));
    assert!(note("BaCl2·2H2O", "heat").text().contains("961 °C"));
}

#[test]
fn the_hottest_safe_stage_is_named_with_its_source() {
    let magnesium = note("MgSO4·7H2O", "safe_up_to");
    assert_eq!(
        magnesium.text(),
        "Do not heat MgSO4 above about 800 °C. Up to there, it does not decompose."
    );
    let facts = salt_facts(&"MgSO4".parse().unwrap()).unwrap();
    let source = facts.safe_up_to_celsius().unwrap().source();
    let values: Vec<(&str, &str)> = magnesium.values().collect();
    assert_eq!(values, [("celsius", "800"), ("source", source)]);
    let cyanide = note("K4[Fe(CN)6]·3H2O", "safe_up_to");
    assert!(cyanide.text().contains("above about 100 °C"));
    assert_eq!(
        note("MgCl2·6H2O", "no_safe_stage").text(),
        "No stage leaves anhydrous MgCl2 whole, because hydrogen chloride leaves with the last water."
    );
    // A burner leaves barium chloride whole. Nothing says how to heat what must not be heated.
    for salt in ["BaCl2·2H2O", "Pb(CH3COO)2·3H2O"] {
        let has_limit = cautions(&salt.parse().unwrap())
            .iter()
            .any(|note| note.code() == "safe_up_to");
        assert!(!has_limit, "{salt}");
    }
}

#[test]
fn every_rule_is_tried_and_speaks_plainly() {
    let rules = all_rules().map(|rule| (rule.name, rule.reason, rule.source));
    let toxic = TOXIC.iter().map(|row| (row.name, row.reason, row.source));
    let pairs = pairs::RULES.iter();
    let pairs = pairs.map(|rule| (rule.name, rule.reason, rule.source));
    let all: Vec<_> = toxic.chain(rules).chain(pairs).collect();
    for (name, reason, source) in &all {
        let tried = SPOKEN_OF.iter().any(|(.., names)| names.contains(name));
        let tried = tried || TOGETHER.iter().any(|(.., own)| own == name);
        assert!(tried, "{name}");
        for sentence in reason.split(". ") {
            assert!(sentence.split(' ').count() <= 20, "{name}: {sentence}");
        }
        assert!(!source.is_empty() && reason.ends_with('.'), "{name}");
    }
    let recalled = all.iter().filter(|(.., source)| *source == MEMORY).count();
    assert!(
        recalled * 5 <= all.len(),
        "{recalled} of {} from memory",
        all.len()
    );
}

#[test]
fn a_lower_hydrate_may_not_become_as_hot_as_the_salt() {
    let notes = |issued: &str, residue: &str| {
        let safety = HeatingSafety::leaving(&formula(issued), &formula(residue));
        let notes = safety.cautions().iter();
        let notes = notes.filter(|note| {
            ["safe_up_to", "limit_unknown", "no_safe_stage", "heat"].contains(&note.code())
        });
        let celsius = |note: &Note| {
            let found = note.values().find(|(name, _)| *name == "celsius");
            found.map_or(note.code().to_string(), |(_, value)| value.to_string())
        };
        notes.map(celsius).collect::<Vec<String>>()
    };
    // The temperatures are those of rows of the catalogue, which name their sources.
    assert_eq!(notes("CuSO4·5H2O", "CuSO4·H2O"), ["200"]);
    assert_eq!(notes("MgSO4·7H2O", "MgSO4·H2O"), ["340"]);
    assert_eq!(notes("Na2CO3·10H2O", "Na2CO3·H2O"), ["63"]);
    assert_eq!(notes("K2Cu(SO4)2·6H2O", "K2Cu(SO4)2·2H2O"), ["153"]);
    assert_eq!(notes("MgCl2·6H2O", "MgCl2·2H2O"), ["167"]);
    // No row begins with these.
    assert_eq!(notes("CaSO4·2H2O", "CaSO4·0.5H2O"), ["limit_unknown"]);
    assert_eq!(notes("ZnSO4·7H2O", "ZnSO4"), ["500"]);
    assert_eq!(notes("BaCl2·2H2O", "BaCl2"), ["heat"]);
}

#[test]
fn what_is_unknown_of_one_is_unknown_of_all() {
    let of = |solids: [&str; 2]| {
        let solids = solids.map(formula);
        HeatingSafety::of_mixture(&solids.each_ref().map(|own| (own, None)))
    };
    for solids in [
        ["BaCl2·2H2O", "Ho2(SO4)3·8H2O"],
        ["CuSO4·5H2O", "RbCl"],
        ["RbCl", "MgSO4·7H2O"],
    ] {
        let safety = of(solids);
        assert_eq!(safety.severity(), Severity::Unknown, "{solids:?}");
        assert_eq!(safety.cautions()[0].code(), "unknown_salt", "{solids:?}");
    }
    let (_, hazard) = of(["RbCl", "MgSO4·7H2O"]).cautions()[0]
        .values()
        .find(|(name, _)| *name == "hazard")
        .map(|(name, value)| (name, value.to_string()))
        .unwrap();
    assert_eq!(hazard, "unknown");
    // Something worse is known.
    assert_eq!(of(["NiSO4·6H2O", "RbCl"]).severity(), FumeCupboard);
    assert_eq!(of(["KCN", "RbCl"]).severity(), Forbidden);
    // One acid salt is not an acid with itself.
    let alone = of(["NaHSO4·H2O", "SiO2"]);
    let mut rules = alone.cautions().iter().flat_map(Note::values);
    assert!(rules.all(|own| own != ("rule", "acid_with_salt")));
}

#[test]
fn words_of_the_catalogue_are_shown_beside_the_codes() {
    for (text, words, code) in [
        ("FeCl3·6H2O", "above 200 °C it gives off chlorine", "H302"),
        ("Co(NO3)2·6H2O", "makes other matter burn", "H350"),
        ("BaCl2·2H2O", "the heart", "H301"),
    ] {
        let notes = cautions(&formula(text));
        let says = |words: &str| notes.iter().any(|note| note.text().contains(words));
        assert!(says(words) && says(code), "{text}");
    }
    // Words that say no more than the codes are no row.
    for text in ["CuSO4·5H2O", "CuCl2·2H2O", "CoCl2·6H2O", "MnCl2·4H2O"] {
        let facts = salt_facts(&formula(text)).unwrap();
        assert!(facts.hazard_words().is_none(), "{text}");
    }
}

#[test]
fn a_ban_by_a_row_says_where_its_reasons_are() {
    let first = &cautions(&formula("Pb(CH3COO)2·3H2O"))[0];
    assert_eq!(first.code(), "forbidden_salt");
    assert!(
        first.text().contains("The notes after this one say why."),
        "{}",
        first.text()
    );
}

#[test]
fn waste_of_what_reacts_with_water_stays_dry() {
    let waste = note("AlCl3·6H2O", "waste");
    assert!(waste.text().contains("Keep it dry") && !waste.text().contains("rinse"));
}
