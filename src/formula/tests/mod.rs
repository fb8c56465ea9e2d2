//! The notation, rule by rule. Which test holds which rule:
//!
//! | rule | tests |
//! | --- | --- |
//! | six adduct dots, with and without spaces; a missing count is 1 | `every_dot_with_and_without_spaces` |
//! | a `.` is a decimal point, an adduct dot, or noted; `Zn(NO3)2.6H2O` is no 2.6 | `the_full_stop_in_each_of_its_readings`, `rules::dots_join_what_is_no_water` |
//! | a lone count of 0 or 1 begins a decimal; `Ba.5` is noted | `spellings::a_lone_one_or_zero_begins_a_decimal`, `spellings::a_count_that_begins_with_its_point_is_noted` |
//! | x and × for the dot, water first, an adduct in brackets | `spellings::a_letter_x_may_be_the_dot`, `spellings::water_may_come_before_its_salt`, `spellings::an_adduct_may_be_in_brackets` |
//! | counts are integers, decimals, `1/2`, `½`, thirds; exact | `halves_thirds_and_mixed_numbers`, `rules::fractions_are_exact` |
//! | every count from 1 to 2,000; `C10`, `C100` | `rules::every_count_to_2000_in_each_place` |
//! | no zero as a count or in front of one | `rules::noughts_are_refused`, `typing_errors_are_explained` |
//! | an open count has no molar mass | `open_counts_have_no_mass`, `open_counts_are_written_so_that_they_read_back` |
//! | a coefficient counts for its part; `(H2O)7` at the end | `coefficients`, `water_in_brackets_at_the_end`, `rules::water_counted_behind` |
//! | coordinated and lattice water, both counts | `water_in_its_places` |
//! | brackets nested, closing in kind | `brackets`, `slips::doubled_brackets` |
//! | bounded depth, counts, length, parts | `limits_are_errors_at_once`, `laws::any_text::great_lengths_are_refused` |
//! | charges with one reading; with two, both named; none | `charges_with_one_reading`, `charges_with_two_readings_name_both`, `charges_that_are_none` |
//! | a charge is a charge and a count a count | `rules::a_charge_is_no_count` |
//! | `e-` is the electron | `charges_with_one_reading` |
//! | lowered, raised, full-width and `_{4}` digits; labels; spaces, minus signs | `rules::pasted_text` |
//! | quotation marks, primes, letters of other scripts are refused and explained | `slips::letters_of_other_scripts`, `slips::quotation_marks_and_primes` |
//! | labelled atoms; two isotopes stay apart | `labelled_atoms`, `rules::two_isotopes_stay_apart` |
//! | exactly 118 elements; retired symbols | `rules::a_symbol_is_one_of_118`, `rules::retired_symbols` |
//! | nothing is guessed, no character dropped | `rules::no_character_is_dropped` |
//! | the likely element, the missing bracket, the symbol's neighbours | `typing_errors_are_explained`, `slips` |
//! | abbreviations and names are explained | `spellings::abbreviations_are_written_out`, `spellings::names_get_their_formula` |
//! | lawful but improbable is noted, and refused strictly | `spellings`, `slips::digits_and_letters_for_l`, `slips::dots_left_out`, `typing_errors_are_explained` |
//! | canonical text: decimals where they end, else `p/q`; no exponent | `rules::fractions_are_exact`, `a_decimal_before_more_formula_is_written_so_that_it_reads_back` |
//! | print and read again keeps charge and isotopes | `writers`, `rules::two_isotopes_stay_apart`, `laws::formula` |
//! | Hill order; nothing is reduced | `rules::hill_order`, `rules::nothing_is_reduced` |
//! | equality, order and hash go by meaning | `order_equality_and_hash_go_by_meaning` |
//! | H and O of salt and water deviate together | `rules::atoms_of_an_element_deviate_together` |
//! | coefficients and arrows of equations | of the room for reactions |
//! | names of hydrates | not read here |

mod meant;
mod rules;
mod slips;
mod spellings;

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use core::cmp::Ordering;

use crate::element::AtomicWeights;
use crate::formula::*;
use crate::text::{Note, Span};

/// The text is read strictly and means the same as `canonical`, which it is printed as.
#[track_caller]
fn reads(text: &str, canonical: &str) {
    match text.parse::<Formula>() {
        Ok(formula) => {
            assert_eq!(formula.to_string(), canonical, "canonical text of {text:?}");
            assert_eq!(Ok(formula), canonical.parse(), "{text:?} read back");
        }
        Err(error) => panic!("{text:?}: {error}"),
    }
}

/// The text is read leniently with these notes, and refused strictly with this code.
#[track_caller]
fn noted(text: &str, canonical: &str, notes: &[&str], code: &str) {
    let (formula, found) = Formula::read(text).unwrap();
    assert_eq!(formula.to_string(), canonical);
    let codes: Vec<&str> = found.iter().map(Note::code).collect();
    assert_eq!(codes, notes, "notes of {text:?}");
    assert_eq!(text.parse::<Formula>().unwrap_err().code(), code);
    // What is canonical is no longer doubtful.
    assert_eq!(canonical.parse(), Ok(formula));
}

/// The text is refused, by both readers, with this code and sentence at this place; and it is
/// told what to do.
#[track_caller]
fn refused(text: &str, code: &str, span: (usize, usize), message: &str) {
    let error = Formula::read(text).unwrap_err();
    assert_eq!(error.to_string(), message, "message of {text:?}");
    assert_eq!(error.code(), code, "code of {text:?}");
    assert_eq!(
        error.span(),
        Some(Span::new(span.0, span.1)),
        "span of {text:?}"
    );
    assert!(
        error.help().is_some_and(|help| !help.is_empty()),
        "help of {text:?}"
    );
    assert_eq!(text.parse::<Formula>().unwrap_err(), error);
}

#[track_caller]
fn helped(text: &str, help: &str) {
    assert_eq!(Formula::read(text).unwrap_err().help(), Some(help));
}

#[test]
fn every_dot_with_and_without_spaces() {
    for dot in ["·", "•", "∙", "⋅", "*", "."] {
        for spaced in [
            format!("MgSO4{dot}7H2O"),
            format!("MgSO4 {dot} 7H2O"),
            format!("MgSO4 {dot}7 H2O"),
            format!("\u{00A0}MgSO4\u{2009}{dot}\u{202F}7\u{00A0}H2O "),
        ] {
            reads(&spaced, "MgSO4·7H2O");
        }
    }
    reads("MgSO4·H2O", "MgSO4·H2O");
    reads("CuSO4·4NH3·H2O", "CuSO4·4NH3·H2O");
}

/// Every ambiguity of a text is noted: those of its parts, then its typing errors, then its full stop.
#[test]
fn no_note_is_lost() {
    for (text, codes) in [
        ("MgSO47H2O", &["suspect_dot"][..]),
        ("MgSO4(H2O)4", &["bracketed_water"]),
        ("MgSO47H2O.", &["suspect_dot", "full_stop"]),
        (
            "CUSO4(H2O)5.",
            &["bracketed_water", "suspect_case", "full_stop"],
        ),
        (
            "Al2O3.2SiO2.Mg(OH)2(H2O)3.H20",
            &["ambiguous_dot", "bracketed_water", "suspect_zero"],
        ),
        ("NaC1·MgSO47H2O", &["suspect_one", "suspect_dot"]),
    ] {
        let (_, notes) = Formula::read(text).unwrap();
        let found: Vec<&str> = notes.iter().map(Note::code).collect();
        assert_eq!(found, codes, "{text}");
    }
}

#[test]
fn the_full_stop_in_each_of_its_readings() {
    reads("CuSO4.5H2O", "CuSO4·5H2O");
    reads("Na2CO3.10H2O", "Na2CO3·10H2O");
    reads("Zn(NO3)2.6H2O", "Zn(NO3)2·6H2O");
    reads("Na2CO3.1.5H2O2", "Na2CO3·1.5H2O2");
    reads("CaSO4.0.5H2O", "CaSO4·0.5H2O");
    reads("CaSO4.1/2H2O", "CaSO4·0.5H2O");
    reads("CdCl2·2.5H2O", "CdCl2·2.5H2O");
    reads("CuSO4.xH2O", "CuSO4·xH2O");
    reads("Na0.33WO3", "Na0.33WO3");
    reads("La0.67Sr0.33MnO3", "La0.67Sr0.33MnO3");
    reads("TiO1.9", "TiO1.9");
    reads("TiO1.9 (s)", "TiO1.9(s)");
    reads("YBa2Cu3O6.93", "YBa2Cu3O6.93");
    reads("CaCl2.6 H2O", "CaCl2·6H2O");
    reads("Na2SO4.10D2O", "Na2SO4·10[2H]2O");
    reads("NaHCO3.Na2CO3.2H2O", "NaHCO3·Na2CO3·2H2O");
    noted(
        "Al2O3.2SiO2.2H2O",
        "Al2O3·2SiO2·2H2O",
        &["ambiguous_dot"],
        "ambiguous_notation",
    );
    noted("MgSO4·7H2O.", "MgSO4·7H2O", &["full_stop"], "bad_formula");
    noted("CuSO4.5H2O.", "CuSO4·5H2O", &["full_stop"], "bad_formula");
}

#[test]
fn a_decimal_before_more_formula_is_written_so_that_it_reads_back() {
    reads("Li_{1.2}Ni0.4Mn0.4O2", "Li_{1.2}Ni0.4Mn0.4O2");
    reads("(UO2)_{1.5}(OH)", "(UO2)_{1.5}(OH)");
    reads("O_{1.5}^2-", "O_{1.5}^2-");
}

#[test]
fn halves_thirds_and_mixed_numbers() {
    for half in ["0.5", "1/2", "½", "1⁄2"] {
        reads(&format!("CaSO4·{half}H2O"), "CaSO4·0.5H2O");
    }
    reads("CdSO4·8/3H2O", "CdSO4·8/3H2O");
    reads("CdSO4·2⅔H2O", "CdSO4·8/3H2O");
    reads("CdCl2·2½H2O", "CdCl2·2.5H2O");
    reads("½H2O", "0.5H2O");
    reads("Na2CO3.1½H2O", "Na2CO3·1.5H2O");
    reads("Fe2/3O", "Fe2/3O");
}

#[test]
fn coefficients() {
    reads("3CdSO4·8H2O", "3CdSO4·8H2O");
    reads("2H2O", "2H2O");
    reads("CuSO4·5(H2O)", "CuSO4·5H2O");
    reads("CuSO4·(H2O)5", "CuSO4·5H2O");
    reads("BaCl2·2OH2", "BaCl2·2H2O");
    reads("CuSO4·xH2O", "CuSO4·xH2O");
    reads("CuSO4·n H2O", "CuSO4·nH2O");
    let (formula, notes) = Formula::read("CuSO4(H2O)5").unwrap();
    assert_eq!(formula, "CuSO4·5H2O".parse().unwrap());
    assert_eq!(notes[0].code(), "bracketed_water");
    reads("[Co(NH3)5(H2O)]Cl3", "[Co(NH3)5(H2O)]Cl3");
}

#[test]
fn water_in_brackets_at_the_end() {
    for (text, canonical) in [
        ("CuSO4(H2O)5", "CuSO4·5H2O"),
        ("(CuSO4)2(H2O)5", "2CuSO4·5H2O"),
        ("((CuSO4))(H2O)5", "CuSO4·5H2O"),
        ("CuSO4(H2O)4(H2O)", "CuSO4·4H2O·H2O"),
        ("(H2O)(H2O)2", "H2O·2H2O"),
        ("HOH(H2O)", "H2O·H2O"),
        ("CuSO4(H2O)x", "CuSO4·xH2O"),
        ("2CuSO4(H2O)5", "2CuSO4(H2O)5"),
        ("Cu(H2O)6^2+", "Cu(H2O)6^2+"),
    ] {
        reads(text, canonical);
    }
}

#[test]
fn open_counts_are_written_so_that_they_read_back() {
    reads("C_nH2", "C_{n}H2");
    reads("S_{n}", "S_{n}");
    reads("FexO", "FexO");
    reads("(C2H4)n", "(C2H4)n");
    reads("^2HxO", "[2H]xO");
    reads("x^2H2O", "x[2H]2O");
    let heavy: Formula = "Na2SO4·x[2H]2O".parse().unwrap();
    assert_eq!(heavy.to_unicode().parse(), Ok(heavy));
    reads("2(H2O)x", "2(H2O)x");
    reads("x(H2O)2", "x(H2O)2");
}

#[test]
fn a_charge_behind_a_group_is_the_whole_group_s() {
    reads("(C6H6)2^+", "(C6H6)2^+");
    assert_eq!("(C6H6)2^+".parse::<Formula>().unwrap().charge(), Some(1));
    assert_eq!("(CN)2^2-".parse::<Formula>().unwrap().charge(), Some(-2));
    assert_eq!("2Cl^-".parse::<Formula>().unwrap().charge(), Some(-2));
    reads("(SO4)^2-", "SO4^2-");
}

#[test]
fn capitals_that_are_meant_are_written_so_that_they_read_back() {
    reads("C1UO2", "C1UO2");
    reads("N1ICl2", "N1ICl2");
    reads("N1I3·NH3", "NI3·NH3");
    reads("H_{20}", "H_{20}");
}

#[test]
fn brackets() {
    reads("K4[Fe(CN)6]·3H2O", "K4[Fe(CN)6]·3H2O");
    reads("[Co{(OH)2Co(NH3)4}3]Br6", "[Co{(OH)2Co(NH3)4}3]Br6");
    reads("(NH4)2SO4", "(NH4)2SO4");
    refused(
        "Ca(OH2",
        "unbalanced_bracket",
        (2, 3),
        "the bracket `(` is never closed",
    );
    refused(
        "Ca(OH))2",
        "unbalanced_bracket",
        (6, 7),
        "the bracket `)` closes nothing",
    );
    refused(
        "[Fe(CN]6)",
        "unbalanced_bracket",
        (6, 7),
        "`(` is closed by `]`",
    );
    refused("Ca()2", "bad_formula", (2, 4), "empty brackets");
    let deep = format!("{}H{}", "(".repeat(16), ")".repeat(16));
    assert!(Formula::read(&deep).is_ok());
    let deeper = format!("({deep})");
    refused(
        &deeper,
        "too_deep",
        (16, 17),
        "brackets are nested deeper than 16",
    );
}

#[test]
fn charges_with_one_reading() {
    for text in [
        "SO4^2-",
        "SO4^{2-}",
        "SO₄²⁻",
        "SO4(2-)",
        "SO4--",
        "SO4−−",
        "SO4^-2",
        "SO_{4}^{2-}",
    ] {
        reads(text, "SO4^2-");
    }
    for text in ["Cu2+", "Cu^2+", "Cu²⁺", "Cu++", "Cu(2+)", "Cu^+2"] {
        reads(text, "Cu^2+");
    }
    for text in ["[Fe(CN)6]4-", "[Fe(CN)6]-4", "[Fe(CN)6]^4-", "[Fe(CN)₆]⁴⁻"] {
        reads(text, "[Fe(CN)6]^4-");
    }
    reads("NH4+", "NH4^+");
    reads("NO3-", "NO3^-");
    reads("MnO4-", "MnO4^-");
    reads("H2PO4–", "H2PO4^-");
    reads("Na+", "Na^+");
    reads("OH-", "OH^-");
    reads("NH₄+", "NH4^+");
    reads("Fe3", "Fe3");
    for text in ["e-", "e^-", "e⁻", "e^{-}"] {
        reads(text, "e^-");
    }
    for text in ["e", "e--", "e^^-", "e{-}", "e^{-", "e+"] {
        assert!(Formula::read(text).is_err(), "{text}");
    }
    assert_eq!("[Fe(CN)6]3-".parse::<Formula>().unwrap().charge(), Some(-3));
    assert_eq!("e-".parse::<Formula>().unwrap().charge(), Some(-1));
}

#[test]
fn charges_with_two_readings_name_both() {
    refused(
        "SO42-",
        "ambiguous_notation",
        (2, 5),
        "`SO42-` can be read as SO4^2- or as SO42^-",
    );
    refused(
        "O2-",
        "ambiguous_notation",
        (1, 3),
        "`O2-` can be read as O^2- or as O2^-",
    );
    refused(
        "I3-",
        "ambiguous_notation",
        (1, 3),
        "`I3-` can be read as I^3- or as I3^-",
    );
    refused(
        "Hg22+",
        "ambiguous_notation",
        (2, 5),
        "`Hg22+` can be read as Hg2^2+ or as Hg22^+",
    );
    refused(
        "VO2+",
        "ambiguous_notation",
        (2, 4),
        "`VO2+` can be read as VO^2+ or as VO2^+",
    );
    refused(
        "Al(OH)4-",
        "ambiguous_notation",
        (6, 8),
        "`Al(OH)4-` can be read as Al(OH)^4- or as Al(OH)4^-",
    );
    helped("SO42-", "write the charge after a caret: `SO4^2-`");
}

#[test]
fn charges_that_are_none() {
    refused("SO4^2", "bad_formula", (3, 5), "`^2` is not a charge");
    refused("Fe^3+-", "bad_formula", (5, 6), "`-` is not a charge");
    refused("SO4^--2", "bad_formula", (6, 7), "`2` follows a charge");
    refused("Na^+Cl", "bad_formula", (4, 5), "`C` follows a charge");
    refused(
        "·-5H2O",
        "bad_formula",
        (0, 2),
        "nothing comes before the dot `·`",
    );
    refused(
        "Na·-5H2O",
        "bad_formula",
        (4, 5),
        "`-` is where a formula should begin",
    );
}

#[test]
fn labelled_atoms() {
    reads("D2O", "[2H]2O");
    reads("[2H]2O", "[2H]2O");
    reads("^13CO2", "[13C]O2");
    reads("¹³CO2", "[13C]O2");
    reads("H2^{18}O", "H2[18O]");
    reads("H₂¹⁸O", "H2[18O]");
    refused(
        "[99C]O2",
        "unknown_element",
        (0, 5),
        "the table of nuclides has no carbon-99",
    );
    for (text, end) in [("^00O", 4), ("[00O]", 5), ("^{000}O", 7)] {
        refused(
            text,
            "unknown_element",
            (0, end),
            "the table of nuclides has no oxygen-0",
        );
    }
    let heavy: Formula = "CH3[13C]OONa".parse().unwrap();
    assert_eq!(heavy.composition().unwrap().hill(), "C[13C]H3NaO2");
}

#[test]
fn typing_errors_are_explained() {
    refused(
        "",
        "bad_formula",
        (0, 0),
        "an empty text where a formula was expected",
    );
    refused(
        "   ",
        "bad_formula",
        (0, 3),
        "an empty text where a formula was expected",
    );
    refused(
        "CuS04",
        "bad_formula",
        (3, 4),
        "the count after `S` begins with a zero",
    );
    helped("CuS04", "write the letter O for oxygen: `CuSO4`");
    refused(
        "Ca(OH)0",
        "bad_formula",
        (6, 7),
        "a count of zero after `)`",
    );
    refused(
        "CuXx",
        "unknown_element",
        (2, 4),
        "`Xx` is not the symbol of an element",
    );
    refused(
        "cuso4",
        "unknown_element",
        (0, 2),
        "`cu` is not the symbol of an element",
    );
    helped(
        "cuso4",
        "perhaps Cu, copper. A symbol is a capital letter, or a capital and a small one",
    );
    refused(
        "NACL",
        "unknown_element",
        (1, 2),
        "`A` is not the symbol of an element",
    );
    helped(
        "NACL",
        "perhaps Na, sodium. A symbol is a capital letter, or a capital and a small one",
    );
    refused(
        "Uut",
        "unknown_element",
        (0, 3),
        "`Uut` is not the symbol of an element",
    );
    helped("Uut", "the element was renamed to nihonium, Nh");
    refused("CuSO4·", "bad_formula", (7, 7), "nothing follows the dot");
    refused(
        "CuSO4··5H2O",
        "bad_formula",
        (7, 9),
        "nothing comes before the dot `·`",
    );
    refused(
        "CuSO4·5",
        "bad_formula",
        (7, 8),
        "no formula follows the number 5",
    );
    refused(
        "123",
        "bad_formula",
        (0, 3),
        "no formula follows the number 123",
    );
    refused(
        "H2O₂2",
        "bad_formula",
        (6, 7),
        "`2` follows a count that is already complete",
    );
    refused(
        "H2O!",
        "bad_formula",
        (3, 4),
        "`!` does not belong in a formula",
    );
    refused(
        "CuSO4 5H2O",
        "bad_formula",
        (5, 6),
        "a space inside the formula",
    );
    helped(
        "CuSO4 5H2O",
        "put an adduct dot in place of the space: `CuSO4·5H2O`",
    );
    refused(
        "CuSO4·0H2O",
        "bad_formula",
        (7, 8),
        "the coefficient is zero",
    );
    refused(
        "C010",
        "bad_formula",
        (1, 2),
        "the count after `C` begins with a zero",
    );
    refused(
        "CuSO4·1/0H2O",
        "bad_formula",
        (7, 10),
        "the coefficient divides by zero",
    );
    refused(
        "SO_4_2",
        "bad_formula",
        (4, 5),
        "`_` does not belong in a formula",
    );
    noted(
        "CUSO4·5H2O",
        "C1USO4·5H2O",
        &["suspect_case"],
        "ambiguous_notation",
    );
    noted(
        "MgSO4·7H20",
        "MgSO4·7H_{20}",
        &["suspect_zero"],
        "ambiguous_notation",
    );
    assert_eq!(
        "MgSO4·7H20".parse::<Formula>().unwrap_err().help(),
        Some("write `MgSO4·7H2O`")
    );
    for honest in [
        "C6H20", "H2", "CO", "HF", "BI3", "NI3", "CS2", "HNO3", "KSCN", "COS", "PB",
    ] {
        assert!(honest.parse::<Formula>().is_ok(), "{honest}");
    }
}

#[test]
fn open_counts_have_no_mass() {
    let weights = AtomicWeights::default();
    for (text, span) in [
        ("CuSO4·xH2O", (7, 8)),
        ("(C2H4)n", (6, 7)),
        ("FexO", (2, 3)),
        ("NaₓO", (2, 5)),
    ] {
        let formula: Formula = text.parse().unwrap();
        let error = formula.molar_mass(&weights).unwrap_err();
        assert_eq!(error.code(), "unknown_degree");
        assert_eq!(error.span(), Some(Span::new(span.0, span.1)));
    }
}

#[test]
fn limits_are_errors_at_once() {
    refused(
        "H4294967296",
        "too_large",
        (1, 11),
        "the count exceeds 9 digits",
    );
    // A fraction of more digits than either of its parts; found by fuzzing.
    refused(
        "288888806⅙I",
        "too_large",
        (0, 12),
        "the coefficient exceeds 9 digits",
    );
    refused(
        "O500000000½",
        "too_large",
        (1, 12),
        "the count exceeds 9 digits",
    );
    let brackets = "(".repeat(200_000);
    assert_eq!(Formula::read(&brackets).unwrap_err().code(), "too_large");
    // What is accepted can be written and read back; what could not is refused.
    for (text, code) in [
        ("T".repeat(128), None),
        ("T".repeat(129), Some("too_large")),
        ("166666666⅙I".into(), None),
        ("O499999999½".into(), None),
    ] {
        let read = Formula::read(&text);
        assert_eq!(read.as_ref().err().map(Error::code), code);
        if let Ok((formula, _)) = read {
            assert_eq!(formula.to_string().parse(), Ok(formula.clone()));
            assert_eq!(formula.to_unicode().parse(), Ok(formula));
        }
    }
    // Water in brackets at the end is a part, too.
    let most = String::from("Na") + &"(H2O)2".repeat(15);
    let (formula, _) = Formula::read(&most).unwrap();
    assert_eq!(formula.to_string().parse(), Ok(formula));
    let more = most + "(H2O)";
    refused(
        &more,
        "too_large",
        (0, more.len()),
        "the number of parts exceeds 16",
    );
    let parts = "H·".repeat(16) + "H";
    assert_eq!(Formula::read(&parts).unwrap_err().code(), "too_large");
    assert_eq!(
        Formula::read("((H999999999)999999999)9")
            .unwrap_err()
            .code(),
        "too_large"
    );
}

#[test]
fn errors_about_weights_point_into_the_text() {
    let weights = AtomicWeights::default();
    let oxide: Formula = "Al2O3·TcO2".parse().unwrap();
    let error = oxide.molar_mass(&weights).unwrap_err();
    assert_eq!(
        (error.code(), error.span()),
        ("no_standard_weight", Some(Span::new(7, 9)))
    );
}

#[test]
fn water_in_its_places() {
    let hydrate = |text: &str| text.parse::<Formula>().unwrap();
    let counts = |text: &str| {
        let formula = hydrate(text);
        let show = |n: Option<crate::Ratio>| n.map_or(String::from("-"), |n| n.to_string());
        format!(
            "{} {}",
            show(formula.waters()),
            show(formula.waters_coordinated())
        )
    };
    assert_eq!(counts("MgSO4·7H2O"), "7 -");
    assert_eq!(counts("[Cu(H2O)4]SO4·H2O"), "1 4");
    assert_eq!(counts("2[Cu(H2O)4]SO4·H2O"), "1 8");
    assert_eq!(counts("K2{[Cr(H2O)2Cl4]}3"), "- 6");
    assert_eq!(counts("CaSO4·2H2O·CaHPO4·2H2O"), "4 -");
    assert_eq!(counts("CuSO4"), "- -");
    assert_eq!(counts("2H2O"), "- -");
    assert_eq!(hydrate("CaSO4·2H2O").anhydrous(), Some(hydrate("CaSO4")));
    assert_eq!(hydrate("H2O·H2O").anhydrous(), None);
}

#[test]
fn order_equality_and_hash_go_by_meaning() {
    use core::hash::BuildHasher;
    let state = std::collections::hash_map::RandomState::new();
    let hash = |formula: &Formula| state.hash_one(formula);
    let a: Formula = "MgSO4·7H2O".parse().unwrap();
    let b: Formula = " MgSO4 * 7 H2O".parse().unwrap();
    let other: Formula = "MgSO4·6H2O".parse().unwrap();
    assert_eq!(hash(&a), hash(&b));
    assert_eq!(a.cmp(&b), Ordering::Equal);
    assert_ne!(a, other);
    assert!(other < a);
}

#[test]
fn a_charge_has_three_digits_at_most() {
    let signs = |count: usize| alloc::format!("Na{}", "-".repeat(count));
    let most: Formula = signs(999).parse().unwrap();
    assert_eq!(most.to_string().parse::<Formula>().unwrap(), most);
    let error = signs(1000).parse::<Formula>().unwrap_err();
    assert_eq!(error.to_string(), "the charge exceeds 999");
    assert_eq!(error.span(), Some(Span::new(2, 1002)));
}
