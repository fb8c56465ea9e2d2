//! Whatever the readings of a class are, its pictures are drawn from finite numbers, and nothing panics.

use effloresce::class::{Marker, Sheet};
use effloresce::gravimetry::Method;
use effloresce::report::write_wall_page;
use proptest::prelude::*;

use crate::xml::Node;

const ISSUED: [&str; 5] = [
    "MgSO4·7H2O",
    "CaSO4·0.5H2O",
    "CuSO4·5H2O",
    "MgSO4·100000H2O",
    "Na2CO3·0.001H2O",
];

/// A mass as people write one, and some as nobody does.
fn mass() -> impl Strategy<Value = String> {
    prop_oneof![
        8 => (2000..2400_u32).prop_map(|mass| format!("{}.{:02}", mass / 100, mass % 100)),
        1 => (0..i64::MAX, 0..9_usize).prop_map(|(mass, places)| {
            format!("{:.places$}", mass as f64 / 10_f64.powi(places as i32 + 3))
        }),
        1 => Just(String::new()),
    ]
}

fn row() -> impl Strategy<Value = String> {
    let masses = proptest::collection::vec(mass(), 5);
    (any::<String>(), 0..ISSUED.len(), masses).prop_map(|(name, issued, masses)| {
        let name = name.replace('"', "\"\"");
        format!("\"n{name}\",{},{}\n", ISSUED[issued], masses.join(","))
    })
}

/// Asserts that the numbers of a drawing are finite and near the picture.
#[track_caller]
fn is_finite(node: &Node) {
    for (name, value) in &node.attributes {
        if name == "aria-label" || name == "xmlns" {
            continue;
        }
        for number in value
            .split([',', ' '])
            .filter(|part| part.starts_with(|c: char| c == '-' || c.is_ascii_digit()))
        {
            let number: f64 = number
                .trim_end_matches("em")
                .trim_end_matches("ex")
                .parse()
                .unwrap();
            assert!(number.abs() < 5000.0, "{name}={value}");
        }
        assert!(
            !value.contains("NaN") && !value.contains("inf"),
            "{name}={value}"
        );
    }
    node.children.iter().for_each(is_finite);
}

proptest! {
    // A class has many pictures.
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn pictures_of_any_class_have_finite_numbers(rows in proptest::collection::vec(row(), 0..50)) {
        let head = "bench,issued,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g\n";
        let Ok(sheet) = Sheet::read([head, &rows.concat()].concat().as_bytes()) else {
            return Ok(());
        };
        let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet);
        let mut page = String::new();
        write_wall_page(&marked, &mut page).unwrap();
        for picture in page.split("<svg ").skip(1) {
            let (picture, _) = picture.split_once("</svg>").unwrap();
            is_finite(&Node::read(&format!("<svg {picture}</svg>")).unwrap());
        }
    }
}
