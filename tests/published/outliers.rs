//! Critical values of Grubbs' and of Dixon's test as tables print them, and the tests at work, with the
//! one for several outliers.

pub(crate) const SHELF: &str = "outliers";

#[cfg(feature = "class")]
mod of_a_class {
    use effloresce::class::{OutlierTest, Tails};

    use super::SHELF;
    use crate::example::{Difference, Tally, run};

    /// A table's third decimal that is not that of the distribution.
    const fn third_decimal(id: &'static str, key: &'static str, by: &'static str) -> Difference {
        const REASON: &str = "the widely copied table is off in its last digit";
        Difference::new(id, key, by, REASON)
    }

    /// A figure of the handbook that rounding would have changed.
    const fn cut(key: &'static str) -> Difference {
        const REASON: &str = "the handbook cuts its figures after three decimals";
        Difference::new("g-esd-01", key, "0.001", REASON)
    }

    const DIFFERENCES: &[Difference] = &[
        cut("R/0"),
        cut("R/1"),
        cut("R/4"),
        cut("R/8"),
        cut("critical/0"),
        cut("critical/2"),
        cut("critical/6"),
        Difference::new(
            "g-grubbs-lt-07",
            "alpha_0.05",
            "0.1821",
            "n = 7, two-tailed, 0.05: 2.202 is printed for 2.020, with two digits exchanged",
        ),
        Difference::new(
            "g-grubbs-lt-15",
            "alpha_0.01",
            "0.0512",
            "n = 15, two-tailed, 0.01: 2.755 is printed, the entry for n = 14, in place of 2.806",
        ),
        Difference::new(
            "g-grubbs-lt-15",
            "alpha_0.05",
            "0.0007",
            "n = 15, two-tailed, 0.05: 2.549 is printed for 2.5483",
        ),
        Difference::new(
            "g-dixon-lt-04",
            "critical/4",
            "0.0054",
            "n = 4, two-tailed, 0.01: 0.926 is printed for 0.9207",
        ),
        third_decimal("g-dixon-lt-04", "critical/0", "0.0006"),
        third_decimal("g-dixon-lt-04", "critical/1", "0.0008"),
        third_decimal("g-dixon-lt-04", "critical/2", "0.0007"),
        third_decimal("g-dixon-lt-05", "critical/3", "0.0010"),
        third_decimal("g-dixon-lt-05", "critical/4", "0.0022"),
        third_decimal("g-dixon-lt-06", "critical/0", "0.0025"),
        third_decimal("g-dixon-lt-06", "critical/1", "0.0026"),
        third_decimal("g-dixon-lt-06", "critical/2", "0.0022"),
        third_decimal("g-dixon-lt-06", "critical/4", "0.0027"),
        third_decimal("g-dixon-lt-07", "critical/1", "0.0010"),
        third_decimal("g-dixon-lt-07", "critical/2", "0.0009"),
        third_decimal("g-dixon-lt-07", "critical/4", "0.0011"),
        third_decimal("g-dixon-lt-08", "critical/0", "0.0010"),
        third_decimal("g-dixon-lt-08", "critical/3", "0.0011"),
        third_decimal("g-dixon-lt-09", "critical/0", "0.0008"),
        third_decimal("g-dixon-lt-09", "critical/1", "0.0009"),
        third_decimal("g-dixon-lt-09", "critical/2", "0.0015"),
        third_decimal("g-dixon-lt-09", "critical/4", "0.0018"),
        Difference::new(
            "g-out-04",
            "Q_crit_book",
            "0.0013",
            "the book takes 0.831 from an older table for 0.8298",
        ),
        Difference::new(
            "g-out-07",
            "G",
            "0.0008",
            "the standard divides by a standard deviation rounded to 0.551",
        ),
        Difference::new(
            "g-out-07",
            "G_crit_two_tailed_0.05",
            "0.0007",
            "2.549 is printed for 2.5483",
        ),
    ];

    #[test]
    fn every_row() {
        let tally = run(SHELF, DIFFERENCES);
        let expected = Tally {
            exact: 5,
            tolerance: 8,
            source_error: 3,
            definition: 0,
            printed: 14 + 34 + 8 + 21,
            recomputed: 14 + 34 + 13 + 20,
        };
        assert_eq!(tally, expected);
    }

    /// The printed entry, what it should be, and the neighbour that it was mistaken for.
    #[test]
    fn the_misprints_are_misprints() {
        let at = |test: OutlierTest, n, level| test.critical(n, level, Tails::Two).unwrap();
        let shown = |value: f64| format!("{value:.3}");
        let grubbs = OutlierTest::Grubbs;
        // n = 7, 0.05: the printed one is greater than the one for n = 8.
        assert_eq!(shown(at(grubbs, 7, 0.95)), "2.020");
        assert!(at(grubbs, 8, 0.95) < 2.202);
        // n = 15, 0.01: the printed one is that for n = 14.
        assert_eq!(shown(at(grubbs, 14, 0.99)), "2.755");
        assert_eq!(shown(at(grubbs, 15, 0.99)), "2.806");
        // Dixon, n = 4, 0.01.
        assert_eq!(shown(at(OutlierTest::Dixon, 4, 0.99)), "0.921");
    }
}
