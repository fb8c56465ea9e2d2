//! Centre and spread of several results, and Student's t.

pub(crate) const SHELF: &str = "spread";

#[cfg(feature = "class")]
mod of_a_class {
    use effloresce::Ratio;
    use effloresce::class::Pooled;

    use super::SHELF;
    use crate::example::{Difference, Tally, run};

    const DIFFERENCES: &[Difference] = &[
        Difference::new(
            "g-desc-01",
            "median",
            "1",
            "the book takes (141 + 143)/2 for 141; it is 142",
        ),
        Difference::new(
            "g-desc-02",
            "rsem_percent",
            "0.01",
            "the book divides the standard error rounded to 0.21; it is 0.2068 %",
        ),
    ];

    #[test]
    fn every_row() {
        let tally = run(SHELF, DIFFERENCES);
        let expected = Tally {
            exact: 9,
            tolerance: 1,
            source_error: 1,
            definition: 0,
            printed: 19,
            recomputed: 19,
        };
        assert_eq!(tally, expected);
    }

    /// Christian, Analytical Chemistry, 6th ed., answers to chapter 3: four results with a mean of
    /// 102.6 and a standard deviation of 0.42.
    ///
    /// DIFFERENCE: of a class the crate gives the mean, but claims no spread for fewer than five
    /// benches. (The statistics of a list give it from two values on.)
    #[test]
    fn no_spread_is_claimed_for_four() {
        let texts = ["102.2", "102.8", "103.1", "102.3"];
        let four: Vec<Ratio> = texts.iter().map(|text| text.parse().unwrap()).collect();
        let pooled = Pooled::of(&four);
        assert_eq!(pooled.mean().unwrap().to_string(), "102.6");
        assert_eq!((pooled.sd(), pooled.interval()), (None, None));
    }
}
