//! The tests for an outlier: their rate of false alarms, and whether they find a planted outlier.

use effloresce::Ratio;
use effloresce::class::{OutlierTest, Statistics, Suspect, Tails};

use crate::draws::Draws;

const SIZES: [usize; 4] = [3, 5, 8, 10];

/// The tests that look at one value.
const SINGLE: [OutlierTest; 2] = [OutlierTest::Grubbs, OutlierTest::Dixon];

/// The statistics of the lower and of the upper end, by the formulas of textbooks and not by the crate.
fn ends(test: OutlierTest, values: &mut [f64]) -> [f64; 2] {
    values.sort_by(f64::total_cmp);
    let n = values.len();
    let (low, high) = (values[0], values[n - 1]);
    if test == OutlierTest::Dixon {
        let range = high - low;
        return [(values[1] - low) / range, (high - values[n - 2]) / range];
    }
    let mean = values.iter().sum::<f64>() / n as f64;
    let squares: f64 = values.iter().map(|v| (v - mean).powi(2)).sum();
    let sd = (squares / (n as f64 - 1.0)).sqrt();
    [(mean - low) / sd, (high - mean) / sd]
}

/// With 40,000 samples 5 % is known to 0.11 % (one standard deviation).
#[test]
fn false_alarms_are_five_in_a_hundred() {
    const SAMPLES: usize = 40_000;
    let mut draws = Draws::new(1);
    let mut lines = String::from("test     n  upper end  either end\n");
    let mut complaints = Vec::new();
    for n in SIZES {
        let critical = |test: OutlierTest, tails| test.critical(n, 0.95, tails).unwrap();
        let limits = SINGLE.map(|t| [Tails::One, Tails::Two].map(|k| critical(t, k)));
        let mut alarms = [[0_usize; 2]; 2];
        let mut values = vec![0.0; n];
        for _ in 0..SAMPLES {
            values.fill_with(|| draws.gauss(1.0));
            for ((test, limits), alarms) in SINGLE.iter().zip(limits).zip(&mut alarms) {
                let [low, high] = ends(*test, &mut values);
                alarms[0] += usize::from(high > limits[0]);
                alarms[1] += usize::from(low.max(high) > limits[1]);
            }
        }
        for (test, alarms) in SINGLE.iter().zip(alarms) {
            let [one, two] = alarms.map(|count| 100.0 * count as f64 / SAMPLES as f64);
            lines += &format!("{:7} {n:>2}  {one:>7.2} %  {two:>8.2} %\n", test.code());
            if (one - 5.0).abs() > 0.45 || (two - 5.0).abs() > 0.45 {
                complaints.push(format!("{} of {n}: {one} %, {two} %", test.code()));
            }
        }
    }
    println!("{lines}");
    assert!(complaints.is_empty(), "{}", complaints.join(", "));
}

/// Values with five decimal places, as a class writes them.
fn written(values: &[f64]) -> Vec<Ratio> {
    let texts = values.iter().map(|v| format!("{v:.5}"));
    texts.map(|text| text.parse().unwrap()).collect()
}

fn flags(suspect: Option<&Suspect>, value: Option<&Ratio>) -> bool {
    let suspect = suspect.expect("three values or more, at most ten");
    suspect.is_outlier(Tails::Two) && value.is_none_or(|value| suspect.value() == Some(value))
}

/// The statistics of the crate, in classes without a fault and in classes with one bench that is off
/// by twelve standard deviations.
#[test]
fn a_planted_outlier_is_flagged() {
    const CLASSES: usize = 1_000;
    let mut draws = Draws::new(2);
    let mut lines =
        String::from("  n  false alarms        found\n     grubbs  dixon   grubbs  dixon\n");
    let mut complaints = Vec::new();
    for n in SIZES {
        let mut counts = [0_usize; 4];
        for _ in 0..CLASSES {
            let mut values: Vec<f64> = (0..n).map(|_| 7.0 + draws.gauss(0.05)).collect();
            let without_fault = Statistics::of(&written(&values), 0.95).unwrap();
            counts[0] += usize::from(flags(without_fault.grubbs(), None));
            counts[1] += usize::from(flags(without_fault.dixon(), None));
            values[n / 2] = 7.0 - 0.6;
            let values = written(&values);
            let planted = Some(&values[n / 2]);
            let found = Statistics::of(&values, 0.95).unwrap();
            counts[2] += usize::from(flags(found.grubbs(), planted));
            counts[3] += usize::from(flags(found.dixon(), planted));
        }
        let [g, d, found_g, found_d] = counts.map(|c| 100.0 * c as f64 / CLASSES as f64);
        lines += &format!("{n:>3} {g:>6.1} % {d:>5.1} %  {found_g:>5.1} % {found_d:>5.1} %\n");
        // 0.7 % is one standard deviation of the false alarms; three values show little.
        let least = if n == 3 { 15.0 } else { 95.0 };
        if [g, d].iter().any(|rate| (rate - 5.0).abs() > 2.2) || found_g.min(found_d) < least {
            complaints.push(format!("{n}: {counts:?}"));
        }
    }
    println!("{lines}");
    assert!(complaints.is_empty(), "{}", complaints.join(", "));
}

/// The number of outliers by the generalised test.
fn several(found: &Statistics) -> usize {
    let steps = found.generalized_esd();
    let last = steps.iter().rposition(|step| step.is_outlier(Tails::Two));
    last.map_or(0, |last| last + 1)
}

/// The generalised test looks for a quarter of the values. Its false alarms are more than 5 in 100, because
/// each step has its own. Two or more of normal values are called outliers in at most 5 of 100 classes.
/// Two benches that hide each other are found.
#[test]
fn several_outliers_are_found_and_false_alarms_are_few() {
    const CLASSES: usize = 2_000;
    let mut draws = Draws::new(3);
    let mut lines = String::from(
        "  n  false alarms       two planted\n       any  several   grubbs  generalised\n",
    );
    let mut complaints = Vec::new();
    for n in [8, 10, 12, 16, 20, 30, 50] {
        let mut counts = [0_usize; 4];
        for _ in 0..CLASSES {
            let mut values: Vec<f64> = (0..n).map(|_| 7.0 + draws.gauss(0.05)).collect();
            let without_fault = several(&Statistics::of(&written(&values), 0.95).unwrap());
            counts[0] += usize::from(without_fault > 0);
            counts[1] += usize::from(without_fault > 1);
            // One bench stopped early, and one lost solid.
            values[1] = 5.3;
            values[n / 2] = 8.4;
            let found = Statistics::of(&written(&values), 0.95).unwrap();
            counts[2] += usize::from(flags(found.grubbs(), None));
            counts[3] += usize::from(several(&found) >= 2);
        }
        let [any, many, grubbs, both] = counts.map(|c| 100.0 * c as f64 / CLASSES as f64);
        lines += &format!("{n:>3} {any:>5.1} % {many:>5.1} %  {grubbs:>5.1} %  {both:>8.1} %\n");
        // 0.6 % is one standard deviation of the false alarms.
        if !(3.5..=10.0).contains(&any) || many > 5.0 || both < 99.0 {
            complaints.push(format!("{n}: {counts:?}"));
        }
    }
    println!("{lines}");
    assert!(complaints.is_empty(), "{}", complaints.join(", "));
}
