//! Policies: any text is read or refused with a sentence; what a policy says is read as it was
//! written; the edges of a tolerance are exact.

use effloresce::Ratio;
use effloresce::class::{Band, FiguresRule, FormulaRule, Marks, Policy, Stock, Tolerance};
use effloresce::gravimetry::Quantity;
use proptest::collection::{btree_map, btree_set, vec};
use proptest::prelude::*;
use proptest::sample::select;

use crate::strategies::{ratio, reading, ten_to, written};

/// Texts made of what policies are made of.
fn like_a_policy() -> impl Strategy<Value = String> {
    let pieces = select(vec![
        "figures",
        "formula",
        "marks",
        "tolerance",
        "accuracy",
        "jar",
        "ratio",
        "formula",
        "percent_water",
        "absolute",
        "percent",
        "nearest",
        "bands",
        "percent_bands",
        "within",
        "within_percent",
        "crucible",
        "crucible_hydrate",
        "heated",
        "hydrate",
        "residue",
        "\"remark\"",
        "\"whole\"",
        "[marks]\n",
        "[tolerance]\n",
        "[accuracy]\n",
        "[jar]\n",
        "[[jar]]\n",
        "ratio = ",
        " = ",
        "= 3\n",
        "{ absolute = 0.05 }",
        "{ nearest = \"whole\" }",
        "{",
        "}",
        "[",
        "]",
        ",",
        ".",
        "\n",
        "\r\n",
        "\"",
        "'",
        "\"\"\"",
        "#",
        "0.05",
        "-1",
        "+1",
        "1e400",
        "nan",
        "1_0",
        "0x1F",
        "2026-11-25",
        "true",
        "é",
        "\u{FEFF}",
        "\0",
        "{ within = 0.2, marks = 2 }",
    ]);
    vec(pieces, 0..24).prop_map(|pieces| pieces.concat())
}

/// A number as a policy may write it, from zero up.
fn number(most: i128) -> impl Strategy<Value = (i128, u32)> {
    (0..=most, 0_u32..=6)
}

fn quoted() -> impl Strategy<Value = bool> {
    any::<bool>()
}

/// Bands in order: widths in thousandths with falling marks.
fn bands() -> impl Strategy<Value = Vec<(i128, u32)>> {
    (1_usize..=20).prop_flat_map(|count| {
        let widths = btree_set(0_i128..=100_000, count);
        let marks = btree_set(1_u32..=100, count);
        (widths, marks)
            .prop_map(|(widths, marks)| widths.into_iter().zip(marks.into_iter().rev()).collect())
    })
}

fn made(bands: &[(i128, u32)]) -> Vec<Band> {
    let band = |(width, marks): &(i128, u32)| Band::new(reading(*width, 3), *marks);
    bands.iter().map(band).collect()
}

fn spelt(bands: &[(i128, u32)], width: &str) -> String {
    let band = |(units, marks): &(i128, u32)| {
        format!("{{ {width} = {}, marks = {marks} }}", written(*units, 3))
    };
    let bands: Vec<String> = bands.iter().map(band).collect();
    format!("[{}]", bands.join(", "))
}

/// A tolerance, and how a policy writes it.
fn tolerance() -> impl Strategy<Value = (Tolerance, String)> {
    let number = |most| {
        (number(most), quoted()).prop_map(|((units, places), quoted)| {
            let text = written(units, places);
            let text = if quoted { format!("\"{text}\"") } else { text };
            (reading(units, places), text)
        })
    };
    prop_oneof![
        number(1_000_000).prop_map(|(width, text)| {
            (
                Tolerance::Absolute(width),
                format!("{{ absolute = {text} }}"),
            )
        }),
        number(100).prop_map(|(width, text)| {
            (
                Tolerance::RelativePercent(width),
                format!("{{ percent = {text} }}"),
            )
        }),
        Just((Tolerance::NearestWhole, "{ nearest = \"whole\" }".into())),
        bands().prop_map(|bands| {
            (
                Tolerance::Bands(made(&bands)),
                format!("{{ bands = {} }}", spelt(&bands, "within")),
            )
        }),
        bands().prop_map(|bands| {
            let text = spelt(&bands, "within_percent");
            (
                Tolerance::PercentBands(made(&bands)),
                format!("{{ percent_bands = {text} }}"),
            )
        }),
    ]
}

fn refused_well(text: &str) -> Result<(), TestCaseError> {
    let Err(error) = Policy::from_toml(text) else {
        return Ok(());
    };
    prop_assert_eq!(error.code(), "bad_policy");
    let sentence = error.to_string();
    prop_assert!(sentence.starts_with("line "), "{}", sentence);
    prop_assert!(
        !sentence.contains('\n') && sentence.len() < 400,
        "{}",
        sentence
    );
    prop_assert!(error.help().is_some(), "{}", sentence);
    let span = error.span().unwrap();
    prop_assert!(text.get(span.start..span.end).is_some(), "{:?}", span);
    Ok(())
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in ".*") {
        refused_well(&text)?;
    }

    #[test]
    fn what_looks_like_a_policy_is_read_or_refused(text in like_a_policy()) {
        refused_well(&text)?;
    }

    #[test]
    fn a_value_where_another_is_expected_is_refused(
        key in select(vec!["figures", "formula", "marks.ratio", "tolerance.ratio", "tolerance.ratio.bands",
            "accuracy.bands", "jar.heated", "jar.percent_water"]),
        value in select(vec!["true", "2026-11-25", "[[1]]", "{ a = 1 }", "\"x\"", "-0.5"]),
    ) {
        let text = format!("{key} = {value}");
        prop_assert!(Policy::from_toml(&text).is_err(), "{}", text);
        refused_well(&text)?;
    }

    #[test]
    fn what_is_written_is_read(
        figures in proptest::option::of(select(vec![
            FiguresRule::Ignore, FiguresRule::Remark, FiguresRule::OneMark,
        ])),
        formula in proptest::option::of(select(FormulaRule::ALL.to_vec())),
        tolerances in btree_map(select(Quantity::ALL[..7].to_vec()), tolerance(), 0..5),
        marks in btree_map(select(Quantity::ALL.to_vec()), 0_u32..=100, 0..8),
        accuracy in proptest::option::of(bands()),
        jar in proptest::option::of(1_i128..10_000),
    ) {
        let mut policy = Policy::new();
        let mut text = String::new();
        if let Some(rule) = figures {
            policy = policy.figures(rule);
            text.push_str(&format!("figures = \"{}\"\n", rule.code()));
        }
        if let Some(rule) = formula {
            policy = policy.formula(rule);
            text.push_str(&format!("formula = \"{}\"\n", rule.code()));
        }
        text.push_str("[tolerance]\n");
        for (quantity, (tolerance, written)) in &tolerances {
            policy = policy.tolerance(*quantity, tolerance.clone()).unwrap();
            text.push_str(&format!("{} = {written}\n", quantity.code()));
        }
        text.push_str("[marks]\n");
        let own_marks = |quantity: &Quantity| matches!(
            tolerances.get(quantity),
            Some((Tolerance::Bands(_) | Tolerance::PercentBands(_), _))
        );
        for (quantity, marks) in marks.iter().filter(|(quantity, _)| !own_marks(quantity)) {
            policy = policy.marks(*quantity, *marks).unwrap();
            prop_assert_eq!(policy.marks_for(*quantity), *marks);
            text.push_str(&format!("{} = {marks}\n", quantity.code()));
        }
        if let Some(bands) = &accuracy {
            policy = policy.accuracy(made(bands)).unwrap();
            text.push_str(&format!("[accuracy]\nbands = {}\n", spelt(bands, "within_percent")));
        }
        if let Some(units) = jar {
            policy = policy.stock(Stock::PercentWater(reading(units, 2)));
            text.push_str(&format!("[jar]\npercent_water = {}\n", written(units, 2)));
        }
        prop_assert_eq!(Policy::from_toml(&text), Ok(policy), "{}", text);
    }

    #[test]
    fn bands_out_of_order_are_refused(bands in bands(), a in 0_usize..20, b in 0_usize..20) {
        let (a, b) = (a % bands.len(), b % bands.len());
        prop_assume!(a != b);
        let mut bands = made(&bands);
        bands.swap(a, b);
        prop_assert!(Policy::new().accuracy(bands.clone()).is_err());
        prop_assert!(Policy::new().tolerance(Quantity::Ratio, Tolerance::Bands(bands)).is_err());
    }

    #[test]
    fn the_edge_of_a_width_is_inside_and_no_more(
        low in ratio(),
        spread in ratio(),
        width in number(1_000_000),
    ) {
        let (spread, units) = (spread.abs(), reading(width.0, width.1));
        let high = &low + &spread;
        let least = ten_to(-40);
        let absolute = Tolerance::Absolute(units);
        let percent = Tolerance::RelativePercent(units);
        for (end, sign) in [(&low, Ratio::from(-1)), (&high, Ratio::from(1))] {
            let relative = (&end.abs() * &units.value()).checked_div(&Ratio::from(100)).unwrap();
            for (tolerance, width) in [(&absolute, units.value()), (&percent, relative)] {
                let edge = end + &(&width * &sign);
                let beyond = &edge + &(&least * &sign);
                prop_assert_eq!(tolerance.marks_of(&edge, &low, &high, 5.into()), Some(5.into()));
                prop_assert_eq!(tolerance.marks_of(&beyond, &low, &high, 5.into()), None);
            }
        }
    }

    #[test]
    fn bands_earn_as_the_first_that_holds(bands in bands(), key in ratio(), off in 0_i128..=120_000) {
        let tolerance = Tolerance::Bands(made(&bands));
        let value = &key + &Ratio::new(off, 1000).unwrap();
        let expected = bands.iter().find(|(width, _)| off <= *width).map(|(_, marks)| Marks::from(*marks));
        prop_assert_eq!(tolerance.marks_of(&value, &key, &key, 100.into()), expected);
        let policy = Policy::new().accuracy(made(&bands)).unwrap();
        let difference = Ratio::new(-off, 1000).unwrap();
        prop_assert_eq!(policy.accuracy_marks(&difference), Some(expected.unwrap_or_default()));
    }

    #[test]
    fn a_nearest_whole_number_is_at_most_a_half_away(value in -50_000_i128..50_000, key in -50_000_i128..50_000) {
        let near = |units: i128| -> Vec<i128> {
            let distance = |whole: &i128| (whole * 1000 - units).abs();
            (-51..=51).filter(|whole| distance(whole) <= 500).collect()
        };
        let shared = near(value).iter().any(|whole| near(key).contains(whole));
        let (value, key) = (Ratio::new(value, 1000).unwrap(), Ratio::new(key, 1000).unwrap());
        let found = Tolerance::NearestWhole.marks_of(&value, &key, &key, 2.into());
        prop_assert_eq!(found.is_some(), shared);
    }
}
