//! The benches of a class together: their pools, the outliers, whether all scatter too much.

use alloc::collections::BTreeMap;
use alloc::string::String;
use alloc::vec::Vec;

use super::level::{LEVEL, checked};
use super::outlier::{ClassBench, Outlier, Tails, at_constant_mass, outliers};
use super::pooled::{IssuedPool, Pooled};
use super::scatter::ExcessScatter;
use crate::class::Error;
use crate::formula::Formula;
use crate::gravimetry::USUAL_REPEATABILITY;
use crate::number::Ratio;

/// What the benches of a class show together.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::class) struct Overview {
    pub(in crate::class) pooled: Pooled,
    pub(in crate::class) at_constant_mass: Pooled,
    pub(in crate::class) pools: Vec<IssuedPool>,
    pub(in crate::class) outliers: Vec<Outlier>,
    /// What the tests flag and the uncertainty of the bench explains.
    pub(in crate::class) explained: Vec<Outlier>,
    /// The repeatability that the method states.
    pub(in crate::class) stated_repeatability: Option<f64>,
    pub(in crate::class) excess_scatter: Option<ExcessScatter>,
    pub(in crate::class) by_balance: Vec<(String, Pooled)>,
    pub(in crate::class) by_period: Vec<(String, Pooled)>,
    benches: Vec<ClassBench>,
}

impl Overview {
    /// `issued` is the hydrate of the class, and `repeatability` that of the mass of water, relative, if
    /// the method states it.
    pub(in crate::class) fn of(
        issued: &Formula,
        benches: Vec<ClassBench>,
        repeatability: Option<f64>,
    ) -> Overview {
        let own: Vec<&ClassBench> = benches.iter().filter(|b| b.issued.is_none()).collect();
        let groups = by_issued(&benches);
        let pools = pools(issued, &groups);
        let own_pool = pools.iter().find(|pool| pool.issued == *issued);
        let (pooled, at_constant_mass) = own_pool
            .map(|pool| (pool.all.clone(), pool.at_constant_mass.clone()))
            .unwrap_or_default();
        let flagged = all_outliers(&groups, LEVEL, Tails::Two);
        let (explained, outliers) = flagged.into_iter().partition(|outlier| outlier.explained);
        Overview {
            pooled,
            at_constant_mass,
            pools,
            outliers,
            explained,
            stated_repeatability: repeatability,
            excess_scatter: scatter(&own, repeatability),
            by_balance: by_name(&own, |bench| bench.balance.as_deref()),
            by_period: by_name(&own, |bench| bench.period.as_deref()),
            benches,
        }
    }

    /// Returns the outliers at another level of confidence, if it is one.
    pub(in crate::class) fn outliers_at(
        &self,
        level: f64,
        tails: Tails,
    ) -> Result<Vec<Outlier>, Error> {
        let mut outliers = all_outliers(&by_issued(&self.benches), checked(level)?, tails);
        outliers.retain(|outlier| !outlier.explained);
        Ok(outliers)
    }
}

fn pool<'b>(benches: impl IntoIterator<Item = &'b ClassBench>) -> Pooled {
    let ratios: Vec<Ratio> = benches.into_iter().map(|b| b.ratio.clone()).collect();
    Pooled::of(&ratios)
}

/// Returns the benches of each hydrate that was issued.
fn by_issued(benches: &[ClassBench]) -> Vec<Vec<&ClassBench>> {
    grouped(benches.iter().map(|bench| (bench.issued.as_deref(), bench)))
}

fn pools(issued: &Formula, groups: &[Vec<&ClassBench>]) -> Vec<IssuedPool> {
    let pools = groups.iter().filter_map(|group| {
        let own = group.first()?.issued.as_deref();
        Some(IssuedPool {
            issued: own.unwrap_or(issued).clone(),
            at_constant_mass: pool(at_constant_mass(group)),
            all: pool(group.iter().copied()),
        })
    });
    pools.collect()
}

/// Returns what the tests flag among the benches of each hydrate that was issued.
fn all_outliers(groups: &[Vec<&ClassBench>], level: f64, tails: Tails) -> Vec<Outlier> {
    let groups = groups.iter();
    groups
        .flat_map(|group| outliers(group, level, tails))
        .collect()
}

/// Compares the benches that may have reached constant mass. If the mass was still falling, the ratio
/// is a bound, and its uncertainty says nothing about the water that is left.
fn scatter(benches: &[&ClassBench], stated: Option<f64>) -> Option<ExcessScatter> {
    let repeatability = stated.unwrap_or(USUAL_REPEATABILITY);
    let benches = benches.iter().filter(|b| b.reached != Some(false));
    let benches: Vec<&&ClassBench> = benches.collect();
    let results: Vec<(Ratio, f64)> = benches
        .iter()
        .map(|bench| {
            let uncertainty = match stated {
                // It is in the uncertainty of the bench.
                Some(_) => bench.uncertainty,
                None => libm::hypot(bench.uncertainty, repeatability * by_relative_water(bench)),
            };
            (bench.ratio.clone(), uncertainty)
        })
        .collect();
    let sum: f64 = benches.iter().map(|bench| by_relative_water(bench)).sum();
    let mean = sum / benches.len() as f64;
    Some(ExcessScatter::of(&results)?.with_repeatability(repeatability, mean))
}

/// The change of the ratio for a relative change of the mass of water: with w the water and s the
/// salt, x (1 + w/s), which is x/(1 − f) for a mass fraction f of water.
fn by_relative_water(bench: &ClassBench) -> f64 {
    bench.ratio.to_f64() / bench.dry
}

/// Returns the pool of each name, in the order of the sheet; empty if there are not two names.
/// Names that differ only in case or in blanks are the same name.
fn by_name<'a>(
    benches: &[&'a ClassBench],
    name: fn(&'a ClassBench) -> Option<&'a str>,
) -> Vec<(String, Pooled)> {
    let named = benches.iter().filter_map(|bench| {
        let words: Vec<&str> = name(bench)?.split_whitespace().collect();
        Some((words.join(" ").to_lowercase(), *bench))
    });
    let groups = grouped(named);
    if groups.len() < 2 {
        return Vec::new();
    }
    let groups = groups.into_iter();
    let pools = groups.filter_map(|group| Some((name(group.first()?)?.into(), pool(group))));
    pools.collect()
}

/// Returns the benches of each key, in the order of the sheet.
fn grouped<'a, K: Ord>(
    benches: impl Iterator<Item = (K, &'a ClassBench)>,
) -> Vec<Vec<&'a ClassBench>> {
    let mut groups: Vec<Vec<&ClassBench>> = Vec::new();
    let mut indices: BTreeMap<K, usize> = BTreeMap::new();
    for (key, bench) in benches {
        let index = *indices.entry(key).or_insert_with(|| {
            groups.push(Vec::new());
            groups.len() - 1
        });
        if let Some(group) = groups.get_mut(index) {
            group.push(bench);
        }
    }
    groups
}

#[cfg(test)]
mod tests {
    use alloc::format;

    use super::*;
    use crate::class::{BenchGroup, ErrorKind, Marked, Marker, OutlierTest, Sheet};
    use crate::gravimetry::Method;

    fn mark(text: &str, method: Method) -> Marked {
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        Marker::new("MgSO4·7H2O".parse().unwrap(), method).mark(&sheet)
    }

    /// Net masses that give about seven, and one bench with a third of the water left.
    const HEAD: &str = "bench,pupil,balance,period,issued,hydrate_g,residue_g\n";
    const SOUND: [&str; 4] = [
        "Heron,a,North,1,,2.666,1.303",
        "Wren,b,north ,2,,2.701,1.319",
        "Finch,c,South,1,,2.688,1.315",
        "Rook,d,South,2,,2.640,1.288",
    ];
    const LARK: &str = "Lark,e,South,2,,2.655,1.560";

    fn class(rows: &[&str]) -> Marked {
        mark(&format!("{HEAD}{}\n", rows.join("\n")), Method::new())
    }

    #[test]
    fn an_outlier_is_flagged_and_stays_in_the_pool() {
        let marked = class(&[&SOUND[..], &[LARK]].concat());
        let flagged: Vec<_> = marked
            .outliers()
            .iter()
            .map(|o| (o.bench(), o.test()))
            .collect();
        let expected = [("Lark", OutlierTest::Grubbs), ("Lark", OutlierTest::Dixon)];
        assert_eq!(flagged, expected);
        for outlier in marked.outliers() {
            let critical = outlier.test().critical(5, 0.95, Tails::Two).unwrap();
            assert_eq!(outlier.critical().to_bits(), critical.to_bits());
            assert!(outlier.statistic() > critical);
        }
        assert_eq!(marked.pooled().n(), 5);
        // Without it there is none, and two benches are too few for a test.
        assert!(class(&SOUND).outliers().is_empty());
        assert!(class(&[SOUND[0], LARK]).outliers().is_empty());
    }

    /// Two benches of one name, and one that is a last place off where all others are alike.
    #[test]
    fn which_bench_it_is_and_whether_the_balance_can_show_it() {
        let namesake = "Rook,e,South,3,,2.655,1.560";
        let marked = class(&[&SOUND[..], &[namesake]].concat());
        let found = &marked.outliers()[0];
        let which = (found.bench(), found.period(), found.line());
        assert_eq!(which, ("Rook", Some("3"), 6));
        let alike = ["A", "B", "C", "D", "E"].map(|b| format!("{b},21.352,24.018,22.655,22.655\n"));
        let head = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n";
        let text = format!("{head}{}F,21.352,24.018,22.656,22.656\n", alike.concat());
        let marked = mark(&text, Method::new());
        assert_eq!(marked.outliers(), []);
        // Ten divisions off, it is the bench and not the balance.
        let marked = mark(&text.replace("22.656", "22.665"), Method::new());
        let found = &marked.outliers()[0];
        assert_eq!((found.bench(), found.line()), ("F", 7));
        assert_eq!(found.among(), BenchGroup::All);
    }

    /// Nine benches at constant mass, one of them at 8.4, and two that were still falling.
    #[test]
    fn an_outlier_among_benches_at_constant_mass_is_not_hidden() {
        let heated: [(f64, f64); 11] = [
            (1.303, 0.001),
            (1.304, 0.0),
            (1.302, 0.001),
            (1.303, 0.001),
            (1.301, 0.0),
            (1.304, 0.001),
            (1.303, 0.0),
            (1.302, 0.001),
            (1.183, 0.001),
            (1.490, 0.090),
            (1.330, 0.020),
        ];
        let mut text = String::from("bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n");
        for (place, (residue, fell)) in heated.iter().enumerate() {
            let (last, before) = (21.352 + residue, 21.352 + residue + fell);
            text.push_str(&format!("B{place},21.352,24.018,{before:.3},{last:.3}\n"));
        }
        let marked = mark(&text, Method::new());
        assert_eq!(marked.pooled().n(), 11);
        assert_eq!(marked.at_constant_mass().n(), 9);
        let found: Vec<_> = marked
            .outliers()
            .iter()
            .map(|o| (o.bench(), o.among().code(), o.test().code()))
            .collect();
        let expected = [
            ("B9", "all", "grubbs"),
            ("B8", "all", "generalized_esd"),
            ("B9", "all", "generalized_esd"),
            ("B8", "at_constant_mass", "grubbs"),
            ("B8", "at_constant_mass", "dixon"),
        ];
        assert_eq!(found, expected);
        for outlier in marked.outliers() {
            assert!(outlier.statistic() > outlier.critical(), "{outlier:?}");
        }
    }

    /// Each hydrate that was issued has its own pool and its own outliers.
    #[test]
    fn a_pool_for_each_hydrate() {
        let barium = ["2.443,2.082", "2.501,2.132", "2.398,2.044", "2.462,2.099"];
        let barium = barium.map(|masses| format!("B,f,North,1,BaCl2·2H2O,{masses}"));
        let far = "Swift,f,North,1,BaCl2·2H2O,2.450,2.240";
        let barium: Vec<&str> = barium.iter().map(String::as_str).collect();
        let marked = class(&[&SOUND[..], &barium, &[far]].concat());
        let pools: Vec<_> = marked
            .pools()
            .iter()
            .map(|pool| (format!("{}", pool.issued()), pool.all().n()))
            .collect();
        let expected = [("MgSO4·7H2O".into(), 4), ("BaCl2·2H2O".into(), 5)];
        assert_eq!(pools, expected);
        assert_eq!(marked.pools()[0].all(), marked.pooled());
        assert_eq!(marked.pools()[1].at_constant_mass().n(), 0);
        let found: Vec<&str> = marked.outliers().iter().map(Outlier::bench).collect();
        assert_eq!(found, ["Swift", "Swift"]);
    }

    #[test]
    fn another_level_and_one_tail() {
        let marked = class(&[&SOUND[..3], &[LARK]].concat());
        let at = |level, tails| marked.outliers_at(level, tails).unwrap().len();
        let usual = marked.outliers_at(0.95, Tails::Two).unwrap();
        assert_eq!(usual, marked.outliers());
        assert_eq!(at(0.999_99, Tails::Two), 0);
        assert!(at(0.9, Tails::One) > 0);
        let error = marked.outliers_at(95.0, Tails::Two).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::BadLevel);
    }

    /// A bench counts once, however many hand in from it. A bench that was issued another hydrate does
    /// not count.
    #[test]
    fn who_counts() {
        let other = "Tern,f,North,1,CuSO4·5H2O,2.500,1.598";
        let shared = "Lark,g,South,2,,,";
        let marked = class(&[&SOUND[..], &[LARK, shared, other]].concat());
        assert_eq!(marked.pooled().n(), 5);
        assert_eq!(marked.excess_scatter().unwrap().n(), 5);
        assert_eq!(marked.outliers().len(), 2);
        let counts = |pools: &[(String, Pooled)]| -> Vec<(String, usize)> {
            let named = pools.iter();
            named.map(|(name, p)| (name.clone(), p.n())).collect()
        };
        let balances = [("North".into(), 2), ("South".into(), 3)];
        assert_eq!(counts(marked.by_balance()), balances);
        assert_eq!(
            counts(marked.by_period()),
            [("1".into(), 2), ("2".into(), 3)]
        );
        let south = &marked.by_balance()[1].1;
        let ratio = |row: usize| marked.rows()[row].dehydration().unwrap().ratio().clone();
        assert_eq!(
            *south,
            Pooled::of(&[ratio(2), ratio(3), ratio(4)]),
            "the pool of its own benches"
        );
    }

    #[test]
    fn one_name_compares_nothing() {
        let marked = class(&[SOUND[2], SOUND[3], LARK]);
        assert!(marked.by_balance().is_empty());
        assert_eq!(marked.by_period().len(), 2);
        let without = mark("bench,hydrate_g,residue_g\nA,2.666,1.303\n", Method::new());
        assert!(without.by_balance().is_empty() && without.by_period().is_empty());
        assert!(without.outliers().is_empty() && without.excess_scatter().is_none());
    }

    /// A residue that still fell shows nothing about the scatter of finished work.
    #[test]
    fn still_falling_benches_are_left_out_of_the_scatter() {
        let head = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n";
        let rows = |last: &str| -> String {
            let benches =
                ["A", "B", "C", "D"].map(|b| format!("{b},21.352,24.018,22.656,22.655\n"));
            format!("{head}{}E,21.352,24.018,22.955,{last}\n", benches.concat())
        };
        let unfinished = mark(&rows("22.855"), Method::new());
        assert_eq!(unfinished.pooled().n(), 5);
        assert_eq!(unfinished.excess_scatter(), None);
        let finished = mark(&rows("22.955"), Method::new());
        assert_eq!(finished.excess_scatter().unwrap().n(), 5);
        assert!(finished.excess_scatter().unwrap().is_excess());
    }

    /// A repeatability that is stated counts, also below the usual 0.3 %.
    #[test]
    fn a_stated_repeatability_replaces_three_in_a_thousand() {
        let text = format!("{HEAD}{}\n{LARK}\n", SOUND.join("\n"));
        let scatter = |method| mark(&text, method).excess_scatter().unwrap().clone();
        let unstated = scatter(Method::new());
        assert_eq!(unstated.repeatability(), Some(0.003));
        let statistic = |stated: f64| {
            let test = scatter(Method::new().repeatability(stated).unwrap());
            assert_eq!(test.repeatability(), Some(stated));
            test.statistic()
        };
        let (none, less, same, more) = (
            statistic(0.0),
            statistic(0.002),
            statistic(0.003),
            statistic(0.006),
        );
        assert!(
            (unstated.statistic() / same - 1.0).abs() < 1e-9,
            "{unstated:?} {same}"
        );
        assert!(
            none > 2.0 * less && less > 1.5 * same,
            "{none} {less} {same}"
        );
        assert!(more < 0.5 * same, "{more} {same}");
    }
}
