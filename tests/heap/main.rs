//! Counts heap allocations. A reading from its digits takes none. Reading a formula strictly and computing
//! its molar mass takes none up to 32 terms, even if each is in brackets, labelled, or counted by a
//! fraction. `where_it_ends` shows terms that need more words, and a mass that does not fit in 128 bits.
//!
//! The allocator counts for the thread that measures, so that tests may run at the same time. It replaces
//! that of the whole program. That is why this test is a program of its own.

#[cfg(feature = "class")]
mod sheets;

use allocation_counter::measure;
use effloresce::{AtomicWeights, Decimal, Formula, Reading, formula};

const FORMULA_VECTORS: &str = include_str!("../published/data/formula_vectors.csv");

fn value(text: &str, weights: &AtomicWeights) -> Result<Decimal, formula::Error> {
    Ok(text.parse::<Formula>()?.molar_mass(weights)?.value())
}

/// The number of allocations, after a first run has made what is made only once.
#[track_caller]
fn allocations(text: &str) -> u64 {
    let weights = AtomicWeights::default();
    let first = value(text, &weights).unwrap_or_else(|e| panic!("{text}: {e}"));
    let mut again = None;
    let counted = measure(|| again = value(text, &weights).ok());
    assert_eq!(again, Some(first), "{text}");
    counted.count_total
}

/// The number of atoms with their counts. A bracket is not a term.
fn terms(text: &str) -> usize {
    text.chars().filter(char::is_ascii_uppercase).count()
}

#[test]
fn no_published_formula_takes_any() {
    let mut rows = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(FORMULA_VECTORS.as_bytes());
    let mut counted = 0;
    for row in rows.records() {
        let row = row.unwrap();
        let text = &row[0];
        assert!(terms(text) <= 32, "{text}");
        assert_eq!(allocations(text), 0, "{text}");
        counted += 1;
    }
    assert_eq!(counted, 413);
}

/// Thirty-two terms each, in every part of the notation.
#[test]
fn none_up_to_thirty_two_terms() {
    let made = [
        ("one kind", "H".repeat(32)),
        ("one digit", "CHNOPSKI2".repeat(4)),
        ("two digits", "C12H24N36O48".repeat(8)),
        ("longer counts", "C1234H5678N9012O3456".repeat(8)),
        ("brackets", format!("Fe{}", "(C2H3O4)2".repeat(10)) + "O"),
        (
            "nested",
            format!("{}(CH)2{}", "[Fe(".repeat(5), ")2Cl]3".repeat(5)) + &"NO".repeat(10),
        ),
        ("parts", ["MgSO4"; 10].join("·5") + "·2H2O"),
        ("full stops", ["MgSO4"; 10].join(".") + ".7H2O"),
        ("stars", ["NaCl"; 16].join(" * ")),
        ("charged", format!("[{}]^3-", "Fe(CN)6".repeat(10) + "KK")),
        ("labelled", "[13C]2[2H]3[18O]4[15N]5".repeat(8)),
        ("heavy hydrogen", "D2O".repeat(16)),
        ("halves", "C_{0.5}H_{1.5}N_{2.5}O_{3.5}".repeat(8)),
        ("decimals", "C_{0.33}H_{6.93}N_{0.0625}O_{12.345}".repeat(8)),
        ("thirds", "C_{1/3}".repeat(32)),
        ("each in brackets", "(H)2[C]3{O}4(N)50".repeat(8)),
        ("labelled, and many", "[13C]1234".repeat(32)),
        ("heavy", format!("Na1234567Pb{}", "H".repeat(30))),
        ("lowered", "C₂H₃N₄O₅".repeat(8)),
        ("a label", "CH".repeat(16) + "(aq)"),
        (
            "every element in turn",
            "HHeLiBeBCNOFNeNaMgAlSiPSClArKCaScTiVCrMnFeCoNiCuZnGaGe".into(),
        ),
    ];
    for (what, text) in &made {
        assert_eq!(terms(text), 32, "{what}: {text}");
        assert_eq!(allocations(text), 0, "{what}: {text}");
    }
}

/// A reading from its digits and from a decimal.
#[test]
fn a_reading_takes_none() {
    for (mantissa, places) in [
        (21_350, 3),
        (-45, 30),
        (1500, 0),
        (15, -2),
        (10_i128.pow(28) - 1, 10),
    ] {
        let counted = measure(|| assert!(Reading::new(mantissa, places).is_ok()));
        assert_eq!(counted.count_total, 0, "{mantissa} {places}");
    }
    let decimal = Decimal::new(21_350, 3);
    let counted = measure(|| assert!(Reading::try_from(decimal).is_ok()));
    assert_eq!(counted.count_total, 0);
    // An error is in words.
    assert!(measure(|| assert!(Reading::new(1, 31).is_err())).count_total > 0);
}

/// The counter shows allocations where there are some.
#[test]
fn the_count_can_fail() {
    assert_eq!(measure(|| drop(vec![1_u8])).count_total, 1);
    assert_eq!(measure(|| drop("MgSO4".to_owned())).count_total, 1);
    assert!(allocations(&"C1234H5678N9012O3456".repeat(20)) > 0);
    // A refusal says why, in words.
    let refused = measure(|| assert!("CuS04".parse::<Formula>().is_err()));
    assert!(refused.count_total > 0);
    // So do the notes of the lenient reader. The formula itself takes none.
    let noted = measure(|| assert!(!Formula::read("Al2O3.2SiO2").unwrap().1.is_empty()));
    assert!(noted.count_total > 0);
    let silent = measure(|| assert!(Formula::read("MgSO4·7H2O").unwrap().1.is_empty()));
    assert_eq!(silent.count_total, 0);
}

/// Fewer than 32 terms need the heap if they need more words, or if 28 digits of the mass need more than
/// 128 bits.
#[test]
fn where_it_ends() {
    for (term, most) in [
        ("[13C]_{0.5}", 25),
        ("C_{1/65537}", 20),
        ("(C_{0.5})2", 20),
        ("(C_{0.5})_{0.5}", 14),
    ] {
        assert_eq!(allocations(&term.repeat(most)), 0, "{most} of {term}");
        assert!(
            allocations(&term.repeat(most + 1)) > 0,
            "{most} and one of {term}"
        );
    }
    assert!(allocations("FeC_{1/999983}H_{1/999979}") > 0);
    for hydrate in ["CdSO4·8/3H2O", "MgSO4·1/3H2O", "Na1234567"] {
        assert_eq!(allocations(hydrate), 0, "{hydrate}");
    }
}
