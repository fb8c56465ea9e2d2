//! Statistics of a list: what its order, its origin and its unit may change.

use effloresce::Ratio;
use effloresce::class::{Statistics, Suspect};
use proptest::prelude::*;

/// Three to ten results to three places, not all equal.
fn results() -> impl Strategy<Value = Vec<Ratio>> {
    let thousandths = prop::collection::vec(0_i128..20_000, 3..=10);
    thousandths
        .prop_filter("a spread", |all| all.iter().any(|one| *one != all[0]))
        .prop_map(|all| {
            let results = all.into_iter().map(|one| Ratio::new(one, 1000).unwrap());
            results.collect()
        })
}

fn near(a: Option<f64>, b: Option<f64>) -> Result<(), TestCaseError> {
    let (a, b) = (a.unwrap(), b.unwrap());
    prop_assert!((a - b).abs() <= 1e-12 * a.abs().max(b.abs()), "{a} {b}");
    Ok(())
}

fn suspects(found: &Statistics) -> [&Suspect; 2] {
    [found.grubbs().unwrap(), found.dixon().unwrap()]
}

proptest! {
    #[test]
    fn order_changes_nothing(values in results(), level in 0.5..0.999_f64) {
        let mut turned = values.clone();
        turned.reverse();
        turned.rotate_left(1);
        prop_assert_eq!(
            Statistics::of(&values, 0.95).unwrap(),
            Statistics::of(&turned, 0.95).unwrap()
        );
        let summary = |level| Statistics::from_summary(Ratio::ONE, 1.0, values.len(), level);
        let (usual, other) = (summary(0.95).unwrap(), summary(level).unwrap());
        prop_assert_eq!(usual.t() > other.t(), level < 0.95);
    }

    #[test]
    fn centre_and_spread_stay_within_the_values(values in results()) {
        let found = Statistics::of(&values, 0.95).unwrap();
        let (low, high) = (values.iter().min().unwrap(), values.iter().max().unwrap());
        let range = high - low;
        for centre in [found.mean(), found.median().unwrap()] {
            prop_assert!(low <= centre && centre <= high);
        }
        prop_assert!(*found.mad().unwrap() <= range);
        prop_assert!(found.sd().unwrap() <= range.to_f64());
        for suspect in suspects(&found) {
            let value = suspect.value().unwrap();
            prop_assert!(value == low || value == high);
        }
        // The greatest distance that n values allow (E. S. Pearson and C. Chandra Sekar,
        // Biometrika 1936, 28, 308), and the whole range.
        let n = values.len() as f64;
        let [grubbs, dixon] = suspects(&found).map(|s| s.statistic().unwrap());
        prop_assert!(grubbs <= (n - 1.0) / n.sqrt() * (1.0 + 1e-12));
        prop_assert!((0.0..=1.0).contains(&dixon));
    }

    #[test]
    fn neither_origin_nor_unit_counts(
        values in results(),
        shift in -1_000_000_000_i128..1_000_000_000,
        unit in 1_i128..1_000_000,
    ) {
        let (shift, unit) = (Ratio::from(shift), Ratio::new(unit, 1000).unwrap());
        let changed = |value: &Ratio| &(value * &unit) + &shift;
        let moved: Vec<Ratio> = values.iter().map(changed).collect();
        let (plain, moved) = (
            Statistics::of(&values, 0.95).unwrap(),
            Statistics::of(&moved, 0.95).unwrap(),
        );
        prop_assert_eq!(&changed(plain.mean()), moved.mean());
        prop_assert_eq!(&changed(plain.median().unwrap()), moved.median().unwrap());
        prop_assert_eq!(&(plain.mad().unwrap() * &unit), moved.mad().unwrap());
        near(plain.sd().map(|sd| sd * unit.to_f64()), moved.sd())?;
        for (plain, moved) in suspects(&plain).into_iter().zip(suspects(&moved)) {
            prop_assert_eq!(Some(&changed(plain.value().unwrap())), moved.value());
            near(plain.statistic(), moved.statistic())?;
        }
    }
}
