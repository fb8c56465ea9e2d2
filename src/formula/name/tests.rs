use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::salt::{Cation, Salt};
use crate::formula::ions::{ANIONS, CATIONS, METALS};
use crate::formula::{ErrorKind, Formula};

#[track_caller]
fn reads(name: &str, formula: &str, codes: &[&str]) {
    let (read, notes) = Formula::from_name(name).unwrap_or_else(|e| panic!("{name}: {e}"));
    assert_eq!(read.to_string(), formula, "{name}");
    let found: Vec<&str> = notes.iter().map(crate::Note::code).collect();
    assert_eq!(found, codes, "{name}");
}

#[track_caller]
fn refuses(name: &str, message: &str, place: &str, help: &str) {
    let error = Formula::from_name(name).unwrap_err();
    assert_eq!(error.to_string(), message, "{name}");
    assert_eq!(error.kind(), ErrorKind::BadName, "{name}");
    let span = error.span().unwrap();
    assert_eq!(&name[span.start..span.end], place, "{name}");
    assert_eq!(error.help(), Some(help), "{name}");
}

#[track_caller]
fn is_named(formula: &str, name: &str, systematic: &str) {
    let named = Formula::read(formula).unwrap().0.name();
    let named = named.unwrap_or_else(|e| panic!("{formula}: {e}"));
    assert_eq!((named.name(), named.systematic()), (name, systematic));
}

#[track_caller]
fn is_unnamed(formula: &str, message: &str) {
    let error = Formula::read(formula).unwrap().0.name().unwrap_err();
    assert_eq!(error.to_string(), message);
    assert_eq!(error.kind(), ErrorKind::BadName);
    assert!(error.help().is_some());
}

#[test]
fn oxides_of_metals_as_cations() {
    for (name, formula) in [
        ("uranyl nitrate hexahydrate", "UO2(NO3)2·6H2O"),
        ("uranyl acetate dihydrate", "UO2(C2H3O2)2·2H2O"),
        ("vanadyl sulfate pentahydrate", "VOSO4·5H2O"),
        ("titanyl sulfate monohydrate", "TiOSO4·H2O"),
        ("zirconyl chloride octahydrate", "ZrOCl2·8H2O"),
        ("oxalic acid dihydrate", "H2C2O4·2H2O"),
    ] {
        reads(name, formula, &[]);
        assert_eq!(
            Formula::from_name(name).unwrap().0.name().unwrap().name(),
            name
        );
    }
}

#[test]
fn a_name_that_bottles_use_otherwise_is_noted() {
    let noted = |name: &str| Formula::from_name(name).unwrap();
    let (formula, notes) = noted("cadmium sulfate octahydrate");
    assert_eq!(formula.to_string(), "CdSO4·8H2O");
    assert_eq!(notes.len(), 1);
    assert_eq!(
        notes[0].to_string(),
        "Suppliers give this name to 3CdSO4·8H2O, too. Compare the formula on the bottle."
    );
    assert!(noted("cadmium sulfate—water (3/8)").1.is_empty());
    assert!(noted("cadmium sulfate monohydrate").1.is_empty());
}

#[test]
fn names_of_hydrates() {
    reads("magnesium sulfate heptahydrate", "MgSO4·7H2O", &[]);
    reads("Copper (II) Sulfate pentahydrate", "CuSO4·5H2O", &[]);
    reads("IRON(iii)CHLORIDE HEXAHYDRATE.", "FeCl3·6H2O", &[]);
    reads("iron(2+) sulfate heptahydrate", "FeSO4·7H2O", &[]);
    reads("calcium sulfate hemihydrate", "CaSO4·0.5H2O", &[]);
    reads("potassium carbonate sesquihydrate", "K2CO3·1.5H2O", &[]);
    reads("cadmium chloride hemipentahydrate", "CdCl2·2.5H2O", &[]);
    reads("sodium phosphate dodecahydrate", "Na3PO4·12H2O", &[]);
    reads("lithium hydroxide monohydrate", "LiOH·H2O", &[]);
    reads("barium hydroxide octahydrate", "Ba(OH)2·8H2O", &[]);
    reads("nickel sulfate hexahydrate", "NiSO4·6H2O", &[]);
    reads("mercury(I) nitrate dihydrate", "Hg2(NO3)2·2H2O", &[]);
    reads("ammonium oxalate monohydrate", "(NH4)2C2O4·H2O", &[]);
    reads("zinc acetate dihydrate", "Zn(C2H3O2)2·2H2O", &[]);
    reads("sodium thiosulfate pentahydrate", "Na2S2O3·5H2O", &[]);
    reads("anhydrous copper(II) sulfate", "CuSO4", &[]);
    reads("copper(II) sulfate, anhydrous", "CuSO4", &[]);
    reads("copper(II) sulfate hydrate", "CuSO4·xH2O", &["open_degree"]);
    reads("copper(II) sulfate x-hydrate", "CuSO4·xH2O", &[]);
}

#[test]
fn degrees_in_digits() {
    for name in [
        "sodium sulfate 10-hydrate",
        "sodium sulfate-10-water",
        "sodium sulfate–10–water",
        "sodium sulfate 10 hydrate",
        "sodium sulfate, 10-hydrate",
        "sodium sulfate deca-hydrate",
        "sodium sulfate１０-hydrate",
    ] {
        reads(name, "Na2SO4·10H2O", &[]);
    }
    reads("calcium sulfate 0.5-hydrate", "CaSO4·0.5H2O", &[]);
    reads("calcium sulfate 0,5-hydrate", "CaSO4·0.5H2O", &[]);
    reads("calcium sulfate ½-hydrate", "CaSO4·0.5H2O", &[]);
    reads("calcium sulfate 1/2-hydrate", "CaSO4·0.5H2O", &[]);
    reads("cadmium sulfate 8/3-hydrate", "CdSO4·8/3H2O", &[]);
}

#[test]
fn adducts() {
    for dash in ["—", "–", "-", " - ", " — ", "--"] {
        let name = format!("sodium sulfate{dash}water (1/10)");
        reads(&name, "Na2SO4·10H2O", &[]);
    }
    reads("cadmium sulfate—water (3/8)", "3CdSO4·8H2O", &[]);
    reads("calcium sulfate—water (2/1)", "2CaSO4·H2O", &[]);
    reads("cobalt(III) oxide—water (1/n)", "Co2O3·nH2O", &[]);
    refuses(
        "sodium sulfate—water",
        "`—`, after `sodium sulfate`, has no meaning in a name",
        "—",
        "write an adduct with its proportion: `sodium sulfate—water (1/10)`",
    );
    refuses(
        "sodium sulfate—water (1/2/3)",
        "the number of components is 2, but the proportion has 3 numbers",
        "1/2/3",
        "give each component one number: `sodium sulfate—water (1/10)`",
    );
    refuses(
        "sodium sulfate—water (1/0)",
        "`0` is not a number of a proportion",
        "0",
        "write the proportion in positive numbers: `sodium sulfate—water (1/10)`",
    );
}

#[test]
fn other_names() {
    reads("ferric chloride hexahydrate", "FeCl3·6H2O", &["old_name"]);
    reads(
        "ferrous sulphate heptahydrate",
        "FeSO4·7H2O",
        &["old_name", "other_name"],
    );
    reads("mercurous nitrate", "Hg2(NO3)2", &["old_name"]);
    reads("sodium bicarbonate", "NaHCO3", &["old_name"]);
    reads(
        "aluminum chloride hexahydrate",
        "AlCl3·6H2O",
        &["other_name"],
    );
    reads("cesium chloride", "CsCl", &["other_name"]);
    reads(
        "sodium ethanoate trihydrate",
        "NaC2H3O2·3H2O",
        &["other_name"],
    );
    reads("potassium manganate(VII)", "KMnO4", &["other_name"]);
    reads("potassium dichromate(VI)", "K2Cr2O7", &["other_name"]);
    reads("copper II sulfate", "CuSO4", &["bare_number"]);
    reads(
        "potassium hexacyanoferrate(II) trihydrate",
        "K4[Fe(CN)6]·3H2O",
        &["other_name"],
    );
    reads("Mohr's salt", "(NH4)2Fe(SO4)2·6H2O", &["trivial_name"]);
    reads("potassium alum", "KAl(SO4)2·12H2O", &["trivial_name"]);
    let (_, notes) = Formula::from_name("ferric chloride").unwrap();
    assert_eq!(notes[0].text(), "`ferric` is an older name of iron(III).");
    let values: Vec<_> = notes[0].values().collect();
    assert_eq!(values, [("name", "ferric"), ("read_as", "iron(III)")]);
}

#[test]
fn acid_salts_in_one_word_and_in_two() {
    for name in [
        "hydrogencarbonate",
        "hydrogen carbonate",
        "hydrogen  Carbonate",
    ] {
        reads(&format!("sodium {name}"), "NaHCO3", &[]);
    }
    reads("sodium dihydrogen phosphate dihydrate", "NaH2PO4·2H2O", &[]);
    reads(
        "disodium hydrogen phosphate dodecahydrate",
        "Na2HPO4·12H2O",
        &[],
    );
    reads(
        "calcium dihydrogenphosphate monohydrate",
        "Ca(H2PO4)2·H2O",
        &[],
    );
}

#[test]
fn counts_in_words() {
    reads("iron trichloride", "FeCl3", &[]);
    reads("iron dichloride", "FeCl2", &[]);
    reads("dialuminium trioxide", "Al2O3", &[]);
    reads("vanadium(V) oxide", "V2O5", &[]);
    reads("divanadium pentoxide", "V2O5", &[]);
    reads("dimercury dichloride", "Hg2Cl2", &[]);
    reads(
        "aluminium potassium bis(sulfate) dodecahydrate",
        "AlK(SO4)2·12H2O",
        &[],
    );
    reads("dipotassium sodium phosphate", "K2NaPO4", &[]);
    refuses(
        "sodium dichloride",
        "the charges of `sodium dichloride` do not cancel",
        "sodium dichloride",
        "check the numbers, or leave them out: `sodium sulfate`",
    );
    refuses(
        "iron pentachloride",
        "`iron` forms several ions: iron(II) and iron(III)",
        "iron",
        "write which one you mean: iron(II) or iron(III)",
    );
}

#[test]
fn double_salts() {
    let simplest = &["simplest_ratio"];
    reads(
        "potassium aluminium sulfate dodecahydrate",
        "KAl(SO4)2·12H2O",
        simplest,
    );
    reads(
        "ammonium iron(II) sulfate hexahydrate",
        "(NH4)2Fe(SO4)2·6H2O",
        simplest,
    );
    reads(
        "ammonium iron(III) sulfate dodecahydrate",
        "NH4Fe(SO4)2·12H2O",
        simplest,
    );
    reads(
        "magnesium potassium trichloride hexahydrate",
        "MgKCl3·6H2O",
        &[],
    );
    for (open, may_mean) in [
        ("ammonium copper(II) chloride", "NH4CuCl3 or (NH4)2CuCl4"),
        ("potassium iron(III) oxalate", "KFe(C2O4)2 or K3Fe(C2O4)3"),
    ] {
        let message = format!("the name may mean {may_mean}");
        let help = "write how many of each: `dipotassium sodium phosphate`";
        refuses(open, &message, open, help);
    }
    reads(
        "tripotassium iron(III) oxalate trihydrate",
        "K3Fe(C2O4)3·3H2O",
        &[],
    );
    reads(
        "potassium sodium tartrate tetrahydrate",
        "KNaC4H4O6·4H2O",
        simplest,
    );
    refuses(
        "potassium sodium phosphate",
        "the name may mean KNa2PO4 or K2NaPO4",
        "potassium sodium phosphate",
        "write how many of each: `dipotassium sodium phosphate`",
    );
}

#[test]
fn bound_water() {
    reads("hexaaquanickel(II) chloride", "[Ni(H2O)6]Cl2", &[]);
    reads(
        "tetraaquacopper(II) sulfate monohydrate",
        "[Cu(H2O)4]SO4·H2O",
        &[],
    );
    is_named(
        "[Cu(H2O)4]SO4·H2O",
        "tetraaquacopper(II) sulfate monohydrate",
        "tetraaquacopper(II) sulfate—water (1/1)",
    );
}

#[test]
fn what_is_not_read_says_why() {
    refuses(
        "copper(II) sulfrate pentahydrate",
        "`sulfrate`, after `copper(II)`, is not a known word",
        "sulfrate",
        "did you mean `sulfate`?",
    );
    refuses(
        "cobolt chloride",
        "`cobolt` is not a known word",
        "cobolt",
        "did you mean `cobalt`?",
    );
    refuses(
        "cobalt chloride hexahydrate",
        "`cobalt` forms several ions: cobalt(II) and cobalt(III)",
        "cobalt",
        "write which one you mean: cobalt(II) or cobalt(III)",
    );
    refuses(
        "magnesium(III) sulfate",
        "magnesium(III) is not a known ion",
        "magnesium(III)",
        "write magnesium(II)",
    );
    refuses(
        "iron(II,III) oxide",
        "`(II,III)` is not the charge of one ion",
        "(II,III)",
        "write the charge as a Roman numeral from I to VIII: `iron(III)`",
    );
    refuses(
        "ferric(II) chloride",
        "`ferric(II)` gives two charges",
        "ferric(II)",
        "write iron(II) alone",
    );
    refuses(
        "magnesium sulfate septahydrate",
        "`septa` is not a numerical prefix",
        "septa",
        "write `heptahydrate`, or the number in digits: `7-hydrate`",
    );
    refuses(
        "magnesium sulfate manyhydrate",
        "`many` is not a numerical prefix",
        "many",
        "write the number in digits: `7-hydrate`",
    );
    refuses(
        "magnesium sulfate 0-hydrate",
        "`0` is not a degree of hydration",
        "0-hydrate",
        "write a positive number of at most 6 digits: `0.5-hydrate`",
    );
    refuses(
        "anhydrous copper(II) sulfate pentahydrate",
        "an anhydrous salt has no water of crystallization",
        "anhydrous",
        "leave out `anhydrous` or the water",
    );
    refuses(
        "magnesium",
        "no anion follows `magnesium`",
        "magnesium",
        "write a cation and an anion: `magnesium sulfate`",
    );
    refuses(
        "sulfate",
        "no cation comes before `sulfate`",
        "sulfate",
        "write the metal first: `magnesium sulfate`",
    );
    refuses(
        "heptahydrate",
        "the name contains no salt",
        "heptahydrate",
        "write a cation and an anion: `magnesium sulfate`",
    );
    refuses(
        " ",
        "the name is empty",
        " ",
        "write a name such as magnesium sulfate heptahydrate",
    );
    refuses(
        "copper(II) carbonate hydroxide",
        "a name does not give the ratio of two anions",
        "hydroxide",
        "write the formula instead",
    );
    refuses(
        "iron(III) peroxide",
        "a peroxide cannot be distinguished from an oxide if the metal has several charges",
        "iron(III) peroxide",
        "write the formula instead",
    );
    refuses(
        "sodium borate decahydrate",
        "`borate` may mean BO3^3-, BO2^- or B4O7^2-",
        "borate",
        "write orthoborate, metaborate or tetraborate",
    );
    refuses(
        "ammonium molybdate tetrahydrate",
        "`ammonium molybdate` may mean (NH4)2MoO4 or (NH4)6Mo7O24",
        "ammonium molybdate",
        "write the formula instead",
    );
    refuses(
        "calcium carbonate (calcite)",
        "`(`, after `calcium carbonate`, has no meaning in a name",
        "(",
        "write an adduct with its proportion: `sodium sulfate—water (1/10)`",
    );
    refuses(
        "potassium hydrogen phthalate",
        "`hydrogen phthalate`, after `potassium`, is not a known word",
        "hydrogen phthalate",
        "use English names of ions: `cobalt(II) chloride hexahydrate`",
    );
    let long = "a".repeat(3000);
    let error = Formula::from_name(&long).unwrap_err();
    assert_eq!(error.to_string(), "the name exceeds 2048 bytes");
    assert_eq!(error.kind(), ErrorKind::TooLarge);
}

#[test]
fn formulas_are_named() {
    is_named(
        "CoCl2·6H2O",
        "cobalt(II) chloride hexahydrate",
        "cobalt(II) chloride—water (1/6)",
    );
    is_named(
        "CaSO4·1/2H2O",
        "calcium sulfate hemihydrate",
        "calcium sulfate—water (2/1)",
    );
    is_named(
        "3CdSO4·8H2O",
        "cadmium sulfate—water (3/8)",
        "cadmium sulfate—water (3/8)",
    );
    is_named(
        "CdSO4·8/3H2O",
        "cadmium sulfate 8/3-hydrate",
        "cadmium sulfate—water (3/8)",
    );
    is_named(
        "CuSO4·xH2O",
        "copper(II) sulfate hydrate",
        "copper(II) sulfate—water (1/x)",
    );
    is_named(
        "CuSO4·nH2O",
        "copper(II) sulfate n-hydrate",
        "copper(II) sulfate—water (1/n)",
    );
    is_named(
        "KAl(SO4)2·12H2O",
        "aluminium potassium sulfate dodecahydrate",
        "aluminium potassium sulfate—water (1/12)",
    );
    is_named(
        "(NH4)2Fe(SO4)2·6H2O",
        "ammonium iron(II) sulfate hexahydrate",
        "ammonium iron(II) sulfate—water (1/6)",
    );
    is_named(
        "K2Mg2(SO4)3",
        "dimagnesium dipotassium tris(sulfate)",
        "dimagnesium dipotassium tris(sulfate)",
    );
    for acetate in ["NaC2H3O2", "CH3COONa", "NaCH3COO", "Na(CH3COO)"] {
        is_named(acetate, "sodium acetate", "sodium acetate");
    }
    is_named(
        "(CH3COO)2Ca·H2O",
        "calcium acetate monohydrate",
        "calcium acetate—water (1/1)",
    );
    is_named(
        "KMgCl3·6H2O",
        "magnesium potassium trichloride hexahydrate",
        "magnesium potassium trichloride—water (1/6)",
    );
    is_named("Hg2Cl2", "mercury(I) chloride", "mercury(I) chloride");
    is_named("BaO2", "barium peroxide", "barium peroxide");
    is_named("MnO2", "manganese(IV) oxide", "manganese(IV) oxide");
    is_named("KMnO4", "potassium permanganate", "potassium permanganate");
    is_named("K2MnO4", "potassium manganate", "potassium manganate");
    is_named(
        "K4Fe(CN)6·3H2O",
        "potassium hexacyanidoferrate(II) trihydrate",
        "potassium hexacyanidoferrate(II)—water (1/3)",
    );
    is_named(
        "NaNH4[HPO4]",
        "ammonium sodium hydrogenphosphate",
        "ammonium sodium hydrogenphosphate",
    );
    is_named(
        "Al2Cl6",
        "dialuminium hexachloride",
        "dialuminium hexachloride",
    );
}

#[test]
fn what_has_no_name_says_why() {
    let salt = |part: &str| format!("`{part}` is not a salt of known ions");
    for part in [
        "[Cr(H2O)4Cl2]Cl",
        "K3[Fe(C2O4)3]",
        "Fe3O4",
        "H2SO4",
        "NaKLiPO4",
        "FeCl4",
        "HgCl",
        "C6H12O6",
        "Mg(OH)Cl",
        "FeS2",
        "[2H]Cl",
        "Na0.5Cl",
        "Zn3",
        "Cu(NH3)4SO4",
        "FeFeCl5",
        "Na_xCl",
        "(NH4)2WO4",
        "(NH4)6Mo7O24",
    ] {
        let formula = Formula::read(part).unwrap().0;
        is_unnamed(part, &salt(&formula.to_string()));
    }
    is_unnamed("H2O", &salt("H2O"));
    is_unnamed("NH3", &salt("NH3"));
    is_unnamed("SO4^2-", "`SO4^2-` is an ion, not a salt");
    is_unnamed("2NaCl", "`2NaCl` is more than one formula unit");
    is_unnamed(
        "CaSO4·1/1234H2O",
        "the parts have no proportion in short whole numbers",
    );
}

/// Every cation beside every anion, dry and at every degree: the name reads back to the formula,
/// and the formula to the name. If it can be read as two salts, the error says so.
#[test]
fn every_cation_with_every_anion() {
    let metals = METALS.iter().flat_map(|metal| {
        metal
            .charges()
            .map(|charge| Cation::metal(metal, 0, charge))
    });
    let cations = metals.chain(CATIONS.iter().map(Cation::ion));
    let cations: Vec<Cation> = cations
        .filter(|cation| cation.name() != "mercury(I)")
        .chain([Cation::ion(&CATIONS[1])])
        .collect();
    assert_eq!(cations.len(), 120);
    let degrees = [
        "", "·H2O", "·0.5H2O", "·1.5H2O", "·2.5H2O", "·7H2O", "·22H2O", "·8/3H2O", "·xH2O",
    ];
    let mut named = 0;
    let mut doubtful = Vec::new();
    for (place, cation) in cations.iter().enumerate() {
        for (row, anion) in ANIONS.iter().enumerate() {
            let Ok(salt) = Salt::simplest(&[*cation], anion) else {
                panic!("{} {}", cation.name(), anion.name);
            };
            if salt.may_be_oxide() || salt.salts_of_this_name().is_some() {
                assert!(Formula::from_name(&salt.name().unwrap()).is_err());
                continue;
            }
            let degree = degrees[(place + row) % degrees.len()];
            let formula: Formula = Formula::read(&(salt.formula() + degree)).unwrap().0;
            let found = match formula.name() {
                Ok(found) => found,
                Err(error) => {
                    assert!(
                        error.to_string().contains("can be read as"),
                        "{formula}: {error}"
                    );
                    assert!(error.to_string().contains(&salt.name().unwrap()));
                    doubtful.push(salt.formula());
                    continue;
                }
            };
            named += 1;
            assert!(
                found.name().starts_with(&salt.name().unwrap()),
                "{formula}: {found}"
            );
            let (again, _) = Formula::from_name(found.name()).unwrap();
            assert_eq!(again.to_string(), formula.to_string(), "{found}");
            assert_eq!(again, formula);
            // Proportions are whole: the adduct has the same salt and the same waters to each.
            let (adduct, _) = Formula::from_name(found.systematic()).unwrap();
            assert_eq!(adduct.one_formula_unit(), formula.one_formula_unit());
            assert_eq!(adduct.name().unwrap().systematic(), found.systematic());
        }
    }
    // Permanganate or manganate, hexacyanidoferrate(II) or (III): only the metal's charge tells.
    let known = |formula: &String| formula.contains("MnO4") || formula.contains("[Fe(CN)6]");
    assert!(doubtful.iter().all(known), "{doubtful:?}");
    assert_eq!((named, doubtful.len()), (10091, 59));
}

#[test]
fn every_degree() {
    for halves in 1..=198_u32 {
        for text in [format!("{halves}/2"), format!("{halves}/3")] {
            let formula: Formula = format!("MgSO4·{text}H2O").parse().unwrap();
            let name = formula.name().unwrap();
            assert_eq!(
                Formula::from_name(name.name()).unwrap().0,
                formula,
                "{name}"
            );
        }
    }
}

/// Formulas by which the fuzzer found that a name may give the same substance in another form: two
/// formula units of a half hydrate, other orders of the ions.
#[test]
fn a_name_may_give_another_form_of_the_same_substance() {
    let ratios = |formula: &Formula| {
        let composition = formula.composition().unwrap();
        let (_, first) = composition.iter().min_by_key(|(atom, _)| *atom).unwrap();
        let mut ratios: Vec<_> = composition
            .iter()
            .map(|(atom, count)| (atom, count.checked_div(first).unwrap()))
            .collect();
        ratios.sort();
        ratios
    };
    for text in ["Na2CO3·1.5H2O2", "CaSO4*0.5H2O", "CaSO4·½H2O", "K2Mg(SO4)2"] {
        let (formula, _) = Formula::read(text).unwrap();
        let named = formula.name().unwrap_or_else(|e| panic!("{text}: {e}"));
        for name in [named.name(), named.systematic()] {
            let (again, _) = Formula::from_name(name).unwrap_or_else(|e| panic!("{name}: {e}"));
            assert_eq!(ratios(&again), ratios(&formula), "{text}: {name}");
            assert!(again.name().is_ok(), "{text}: {name}");
        }
        let (again, _) = Formula::from_name(named.name()).unwrap();
        assert_eq!(again.name().unwrap().name(), named.name(), "{text}");
    }
}
