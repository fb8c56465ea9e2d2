//! Rules of the notation that are held by many cases rather than by a sentence.

use super::*;
use crate::Ratio;
use crate::element::{Atom, Element};

fn formula(text: &str) -> Formula {
    match text.parse() {
        Ok(formula) => formula,
        Err(error) => panic!("{text:?}: {error}"),
    }
}

fn count(text: &str, symbol: &str) -> Ratio {
    let element = Element::from_symbol(symbol).unwrap();
    formula(text).composition().unwrap().count(element.into())
}

#[test]
fn every_count_to_2000_in_each_place() {
    for n in 1..=2000_i128 {
        let expected = Ratio::from(n);
        assert_eq!(count(&format!("C{n}H4"), "C"), expected, "C{n}H4");
        assert_eq!(count(&format!("HC_{n}"), "C"), expected);
        assert_eq!(count(&format!("Fe(OH){n}"), "H"), expected);
        assert_eq!(count(&format!("{n}NaCl"), "Na"), expected);
        assert_eq!(formula(&format!("NaCl·{n}H2O")).waters(), Some(expected));
    }
    reads("C10", "C10");
    reads("C100", "C100");
    reads("C1000H2002", "C1000H2002");
}

#[test]
fn noughts_are_refused() {
    for (text, span) in [
        ("C0", (1, 2)),
        ("C00", (1, 2)),
        ("C01", (1, 2)),
        ("C0O2", (1, 2)),
        ("C_0", (1, 3)),
        ("C_{05}", (1, 6)),
        ("C₀", (1, 4)),
        ("C₀₅", (1, 7)),
        ("C0.0", (1, 4)),
        ("(OH)02", (4, 5)),
        ("NaCl·0H2O", (6, 7)),
        ("NaCl·05H2O", (6, 8)),
        ("NaCl·0.0H2O", (6, 9)),
        ("NaCl·0/3H2O", (6, 9)),
        ("NaCl·1/03H2O", (6, 10)),
        ("NaCl·1/0H2O", (6, 9)),
        ("C０", (1, 4)),
    ] {
        let error = Formula::read(text).unwrap_err();
        assert_eq!(error.code(), "bad_formula", "{text}: {error}");
        assert_eq!(error.span(), Some(Span::new(span.0, span.1)), "{text}");
        assert!(error.help().is_some(), "{text}");
    }
}

#[test]
fn dots_join_what_is_no_water() {
    reads("CuSO4·4NH3", "CuSO4·4NH3");
    reads("CuSO4.4NH3", "CuSO4·4NH3");
    reads("Na2CO3·1.5H2O2", "Na2CO3·1.5H2O2");
    reads("2Na2CO3.3H2O2", "2Na2CO3·3H2O2");
    reads("SbCl5·PCl5", "SbCl5·PCl5");
    reads("ICl3.PCl5", "ICl3·PCl5");
    reads("C6H5NH2·HCl", "C6H5NH2·HCl");
    reads("C10H16N2.2HCl", "C10H16N2·2HCl");
    noted(
        "AlCl3.2PCl5",
        "AlCl3·2PCl5",
        &["ambiguous_dot"],
        "ambiguous_notation",
    );
    // Digits, a full stop, digits, a capital: never 2.6 of the group.
    assert_eq!(count("Zn(NO3)2.6H2O", "N"), Ratio::from(2));
    assert_eq!(formula("Zn(NO3)2.6H2O").waters(), Some(Ratio::from(6)));
}

#[test]
fn fractions_are_exact() {
    let half = Ratio::new(1, 2).unwrap();
    for text in ["CaSO4·½H2O", "CaSO4·1/2H2O", "CaSO4·0.5H2O", "CaSO4.0.5H2O"] {
        assert_eq!(formula(text).waters(), Some(half.clone()), "{text}");
    }
    let thirds = Ratio::new(8, 3).unwrap();
    assert_eq!(formula("CdSO4·8/3H2O").waters(), Some(thirds));
    // Three thirds are one, and not 0.999…
    assert_eq!(count("3(NaO1/3)", "O"), Ratio::ONE);
    assert_eq!(formula("CaSO4·½H2O").to_unicode(), "CaSO₄·½H₂O");
    assert!(formula("CaSO4·½H2O").to_latex().contains("1/2"));
    reads("Fe0.00009O", "Fe0.00009O");
    reads("FeO·0.000001H2O", "FeO·0.000001H2O");
    reads("CdSO4·0.33333333H2O", "CdSO4·0.33333333H2O");
    reads("CdSO4·1/512000H2O", "CdSO4·1/512000H2O");
}

#[test]
fn water_counted_behind() {
    for text in ["CoCl2·(H2O)7", "CoCl2(H2O)7", "CoCl2.(H2O)7"] {
        let (read, _) = Formula::read(text).unwrap();
        assert_eq!(read, formula("CoCl2·7H2O"), "{text}");
    }
    let both = formula("[Cu(H2O)4]SO4·H2O");
    assert_eq!(both.waters(), Some(Ratio::ONE));
    assert_eq!(both.waters_coordinated(), Some(Ratio::from(4)));
}

#[test]
fn a_charge_is_no_count() {
    let iron = |text: &str| {
        let iron = formula(text);
        (iron.charge(), count(text, "Fe").to_string())
    };
    assert_eq!(iron("Fe3+"), (Some(3), "1".into()));
    assert_eq!(iron("Fe3"), (Some(0), "3".into()));
    for (text, charge) in [
        ("SO4--", -2),
        ("SO4(2-)", -2),
        ("[SO4]2-", -2),
        ("[Co(NH3)6]+2", 2),
        ("[Co(NH3)6]3+", 3),
    ] {
        let ion = formula(text);
        assert_eq!(ion.charge(), Some(charge), "{text}");
        for written in [ion.to_string(), ion.to_unicode()] {
            assert_eq!(formula(&written), ion, "{text} → {written}");
        }
    }
}

#[test]
fn a_charge_of_fractional_parts_is_exact() {
    for (text, whole, exact) in [
        ("0.25SO4^2-·0.25SO4^2-", Some(-1), "-1"),
        ("1/3SO4^2-", None, "-2/3"),
        ("1/3SO4^2-·2/3SO4^2-", Some(-2), "-2"),
        ("0.5Na^+·1/3Cl^-", None, "1/6"),
        ("xH2O·2Na^+", Some(2), "2"),
        ("½Na^+·½Cl^-", Some(0), "0"),
    ] {
        let ion = formula(text);
        assert_eq!(ion.charge(), whole, "{text}");
        assert_eq!(ion.exact_charge(), Some(exact.parse().unwrap()), "{text}");
    }
    let unknown = formula("xNa^+·Cl^-");
    assert_eq!((unknown.charge(), unknown.exact_charge()), (None, None));
}

#[test]
fn two_isotopes_stay_apart() {
    for text in [
        "[12C][13C]O2",
        "[35Cl][37Cl]",
        "HDO",
        "H[2H]TO",
        "¹⁶O¹⁸O^2-",
    ] {
        let labelled = formula(text);
        for written in [labelled.to_string(), labelled.to_unicode()] {
            let again = formula(&written);
            assert_eq!(again, labelled, "{text} → {written}");
            assert_eq!(again.charge(), labelled.charge(), "{text}");
            let composition = |f: &Formula| f.composition().unwrap().hill();
            assert_eq!(composition(&again), composition(&labelled));
        }
    }
    let chlorine = formula("[35Cl][37Cl]").composition().unwrap();
    let element = Element::from_symbol("Cl").unwrap();
    for number in [35, 37] {
        let atom = Atom::labelled(element, number).unwrap();
        assert_eq!(chlorine.count(atom), Ratio::ONE);
    }
    assert_eq!(chlorine.count(element.into()), Ratio::ZERO);
    assert_ne!(formula("[35Cl]2"), formula("[37Cl]2"));
    assert_ne!(formula("[35Cl]2"), formula("Cl2"));
}

#[test]
fn a_symbol_is_one_of_118() {
    let mut elements = 0;
    for first in 'A'..='Z' {
        for second in core::iter::once(None).chain(('a'..='z').map(Some)) {
            let text: String = core::iter::once(first).chain(second).collect();
            let read = Formula::read(&text);
            if let Some(element) = Element::from_symbol(&text) {
                elements += 1;
                let composition = read.unwrap().0.composition().unwrap();
                assert_eq!(composition.count(element.into()), Ratio::ONE, "{text}");
            } else if let Ok((formula, _)) = read {
                // Heavy hydrogen, and an open count behind a letter.
                let heavy = matches!(text.as_str(), "D" | "T");
                let open = text.ends_with(['x', 'n']) && formula.composition().is_err();
                assert!(heavy || open, "{text}");
            }
        }
    }
    assert_eq!(elements, 118);
}

#[test]
fn retired_symbols() {
    for (old, now) in [
        ("Uub", "copernicium, Cn"),
        ("Uut", "nihonium, Nh"),
        ("Uuq", "flerovium, Fl"),
        ("Uup", "moscovium, Mc"),
        ("Uuh", "livermorium, Lv"),
        ("Uus", "tennessine, Ts"),
        ("Uuo", "oganesson, Og"),
    ] {
        let message = format!("`{old}` is not the symbol of an element");
        let (name, symbol) = now.split_once(", ").unwrap();
        assert_eq!(Element::from_name(name), Element::from_symbol(symbol));
        for text in [format!("{old}O2"), format!("H2{old}")] {
            let at = text.find("Uu").unwrap();
            refused(&text, "unknown_element", (at, at + 3), &message);
            helped(&text, &format!("the element was renamed to {now}"));
        }
    }
}

#[test]
fn no_character_is_dropped() {
    let whole = "MgSO4·7H2O";
    let mut tried = 0;
    for stray in "!#$%&,/:;<=>?@\\|~€→≡é\u{0}\u{7}\u{301}°×".chars() {
        for (at, _) in whole.char_indices().chain([(whole.len(), ' ')]) {
            let text = format!("{}{stray}{}", &whole[..at], &whole[at..]);
            assert!(Formula::read(&text).is_err(), "{text:?}");
            tried += 1;
        }
    }
    assert_eq!(tried, 26 * 11);
}

#[test]
fn pasted_text() {
    for text in [
        "MgSO₄·7H₂O",
        "MgSO４·７H２O",
        "MgSO_4·7H_2O",
        "MgSO_{4}·7H_{2}O",
        "\u{FEFF}MgSO4·7H2O",
        "MgSO4\u{200B}·\u{2060}7H2O",
        "MgSO4\u{3000}·\u{3000}7H2O\u{3000}",
        "\tMgSO4\u{202F}•\u{2009}7\u{A0}H2O\r\n",
    ] {
        reads(text, "MgSO4·7H2O");
    }
    for minus in [
        "-", "\u{2010}", "\u{2011}", "\u{2012}", "–", "−", "\u{FE63}", "－",
    ] {
        reads(&format!("OH{minus}"), "OH^-");
        reads(&format!("SO4^2{minus}"), "SO4^2-");
    }
    reads("Na＋", "Na^+");
    for (label, state) in [
        ("(s)", State::Solid),
        ("(l)", State::Liquid),
        ("(g)", State::Gas),
        ("(aq)", State::Aqueous),
    ] {
        for text in [format!("NaCl{label}"), format!("NaCl {label} ")] {
            assert_eq!(formula(&text).state(), Some(state), "{text}");
        }
        reads(&format!("Na+{label}"), &format!("Na^+{label}"));
    }
    noted("NaCl.", "NaCl", &["full_stop"], "bad_formula");
}

#[test]
fn hill_order() {
    for (text, hill) in [
        ("H2SO4", "H2O4S"),
        ("HCl", "ClH"),
        ("NaOH", "HNaO"),
        ("NH3", "H3N"),
        ("KMnO4", "KMnO4"),
        ("BrHZn", "BrHZn"),
        ("CH3COONa", "C2H3NaO2"),
        ("NaHCO3", "CHNaO3"),
        ("CO2", "CO2"),
        ("CaC2", "C2Ca"),
        ("CHBr3", "CHBr3"),
        ("MgSO4·7H2O", "H14MgO11S"),
        ("C6H12O6", "C6H12O6"),
    ] {
        assert_eq!(formula(text).composition().unwrap().hill(), hill, "{text}");
    }
}

#[test]
fn nothing_is_reduced() {
    for text in [
        "C6H12O6", "Hg2Cl2", "H2O2", "Na2C2O4", "P4O10", "Cl^-", "2Cl^-",
    ] {
        reads(text, text);
    }
    assert_eq!(count("Cl^-", "Cl"), Ratio::ONE);
    assert_ne!(formula("C6H12O6"), formula("6CH2O"));
    assert_ne!(formula("Hg2Cl2"), formula("2HgCl"));
}

/// Worked by hand from the abridged weights, Cu ± 0.003, S ± 0.02, O ± 0.001 and H ± 0.0002:
/// 1, 1, 9 and 10 atoms give √((0.003² + 0.02² + 0.009² + 0.002²)/3) = √(494·10⁻⁶/3) = 0.012832.
#[test]
fn atoms_of_an_element_deviate_together() {
    let weights = AtomicWeights::default();
    let uncertainty = |text: &str| formula(text).molar_mass(&weights).unwrap().uncertainty();
    let whole = uncertainty("CuSO4·5H2O");
    assert!((whole - 0.012_832).abs() < 5e-7, "{whole}");
    // Salt and water, each with an oxygen of its own, would seem surer than they are.
    let salt = uncertainty("CuSO4");
    let water = 5.0 * uncertainty("H2O");
    let apart = libm::sqrt(salt * salt + water * water);
    assert!(whole > apart + 0.000_5, "{whole} {apart}");
    // Nine oxygens deviate nine times as far as one.
    let one = uncertainty("O");
    assert!((uncertainty("O9") - 9.0 * one).abs() < 1e-12);
    assert_eq!(whole, uncertainty("H10CuSO9"));
}

/// The inline array ends somewhere in each of these texts: in an atom, a bracket, a dot, after all.
#[test]
fn a_formula_reads_the_same_where_its_room_ends() {
    for potassiums in 80..=110 {
        let salt = "K".repeat(potassiums);
        for (behind, canonical) in [
            ("", ""),
            ("(OH)2", "(OH)2"),
            ("[Fe(CN)6]^4-", "[Fe(CN)6]^4-"),
            ("(HO)2·(H2O)3", "(HO)2·3H2O"),
            ("·12HOH", "·12H2O"),
            ("(C2O4)0.5*2NaCl", "(C2O4)0.5·2NaCl"),
        ] {
            let canonical = format!("{salt}{canonical}");
            reads(&format!("{salt}{behind}"), &canonical);
            assert_eq!(count(&canonical, "K"), Ratio::from(potassiums as u64));
        }
    }
    for closed in [")", "]"] {
        let text = format!("{}(H{closed}K", "K".repeat(98));
        assert_eq!(text.parse::<Formula>().is_ok(), closed == ")");
    }
}
