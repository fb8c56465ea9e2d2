//! The class as a whole, in the key: statistics of its benches, and outliers.

use alloc::collections::BTreeMap;
use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::bench_names::BenchNames;
use super::block::Block;
use super::mistyped::maybe_mistyped;
use super::numbers::{short_degree, two_figures};
use super::table::TextTable;
use crate::class::{BenchGroup, ExcessScatter, Marked, Outlier, OutlierTest, Pooled};
use crate::gravimetry::{Constancy, Dehydration};
use crate::number::{Ratio, TieRule};

/// The heading of the pools of each salt.
const BY_ISSUED: &str = "Issued";

pub(super) fn section(marked: &Marked, blocks: &mut Vec<Block>) {
    blocks.push(Block::section("The class"));
    let several = marked.pools().iter().any(|p| p.issued() != marked.issued());
    blocks.push(Block::Table(if several {
        by_issued(marked)
    } else {
        let pools = [
            ("all", marked.pooled()),
            ("at constant mass", marked.at_constant_mass()),
        ];
        pooled("Benches", pools)
    }));
    let others = [several.then(|| of_one_salt(marked)), in_no_pool(marked)];
    let others: Vec<String> = others.into_iter().flatten().collect();
    if !others.is_empty() {
        blocks.push(Block::Paragraph(others.join(" ")));
    }
    let mut pools = marked.pools().iter();
    if pools.len() == 0 || pools.any(|pool| pool.all().sd().is_none()) {
        blocks.push(Block::paragraph(
            "The standard deviation needs at least five benches.",
        ));
    }
    let by_name = [by_balance(marked), by_name("Period", marked.by_period())];
    blocks.extend(by_name.into_iter().flatten().map(Block::Table));
    let mut sentences = Vec::new();
    let mut pools = marked.pools().iter();
    if pools.any(|pool| pool.all().robust_interval().is_some()) {
        sentences.push(
            "The robust interval comes from the median and the median absolute deviation. Benches far \
             off hardly change it."
                .into(),
        );
    }
    let mut pools = marked.pools().iter();
    let alike = |pool: &Pooled| pool.sd().is_some() && pool.robust_interval().is_none();
    if pools.any(|pool| alike(pool.all()) || alike(pool.at_constant_mass())) {
        sentences.push(
            "There is no robust interval if more than half of the benches have the same x.".into(),
        );
    }
    sentences.extend(outliers(marked));
    sentences.extend(maybe_mistyped(marked));
    sentences.extend(marked.excess_scatter().map(scatter));
    sentences.extend(left_out_of_scatter(marked));
    sentences.extend(stand_in(marked));
    if !sentences.is_empty() {
        blocks.push(Block::dashes(sentences));
    }
}

/// What is compared within one of several salts only.
fn of_one_salt(marked: &Marked) -> String {
    let pools = "Each salt that was issued has a pool of its own.";
    let by_name = !marked.by_balance().is_empty() || !marked.by_period().is_empty();
    if by_name || marked.excess_scatter().is_some() {
        let issued = marked.issued();
        return format!("{pools} Balances, periods and scatter are those of {issued} only.");
    }
    pools.into()
}

/// The number of benches of which nothing says what was issued, in a sentence.
fn in_no_pool(marked: &Marked) -> Option<String> {
    let rows = marked.rows().iter().filter(|row| row.has_own_readings());
    let unknown = rows.filter(|row| row.mass_loss().is_some() && row.dehydration().is_none());
    match unknown.count() {
        0 => None,
        1 => Some("Of 1 bench it is not known what was issued, so it is in no pool.".into()),
        n => Some(format!(
            "Of {n} benches it is not known what was issued, so they are in no pool."
        )),
    }
}

/// The pools of each balance, if the benches name several.
pub(super) fn by_balance(marked: &Marked) -> Option<TextTable> {
    by_name("Balance", marked.by_balance())
}

fn by_name(first: &'static str, pools: &[(String, Pooled)]) -> Option<TextTable> {
    let named = pools.iter().map(|(name, pool)| (name.as_str(), pool));
    (!pools.is_empty()).then(|| pooled(first, named))
}

/// The pools of each salt that was issued.
pub(super) fn by_issued(marked: &Marked) -> TextTable {
    let pools = marked.pools().iter();
    let named: Vec<(String, &Pooled)> = pools
        .flat_map(|pool| {
            let issued = pool.issued().to_string();
            let constant = format!("{issued} at constant mass");
            [(issued, pool.all()), (constant, pool.at_constant_mass())]
        })
        .collect();
    pooled(
        BY_ISSUED,
        named.iter().map(|(name, pool)| (name.as_str(), *pool)),
    )
}

fn pooled<'a>(
    first: &'static str,
    pools: impl IntoIterator<Item = (&'a str, &'a Pooled)>,
) -> TextTable {
    let table = TextTable::new(format!("Statistics by {}", first.to_lowercase()));
    let table = match first {
        BY_ISSUED => table.formulas([first]),
        _ => table.names([first]),
    };
    let mut table = table
        .right(["n", "Mean x", "Median", "s"])
        .left(["95 % interval of the mean", "Robust interval"]);
    for (name, pool) in pools {
        let places = |value: Option<&Ratio>| {
            value.map_or_else(String::new, |v| v.to_places(3, TieRule::Even).to_string())
        };
        let interval = |interval: Option<(f64, f64)>| {
            interval.map_or_else(String::new, |(low, high)| format!("{low:.3} to {high:.3}"))
        };
        table.row([
            name.into(),
            pool.n().to_string(),
            places(pool.mean()),
            places(pool.median()),
            pool.sd().map_or_else(String::new, two_figures),
            interval(pool.interval()),
            interval(pool.robust_interval()),
        ]);
    }
    table
}

/// The sentences for each bench that a test flags, or one that there is none, and one for those that are
/// left out.
fn outliers(marked: &Marked) -> Vec<String> {
    let mut benches: BTreeMap<u64, Vec<&Outlier>> = BTreeMap::new();
    for outlier in marked.outliers() {
        benches.entry(outlier.line()).or_default().push(outlier);
    }
    if benches.is_empty() {
        let pools = marked.pools().iter();
        let tests = match pools.map(|pool| pool.all().n()).max().unwrap_or(0) {
            // No test can be done.
            0..=2 => return Vec::new(),
            3..=7 => "Grubbs' test or Dixon's test",
            8..=10 => "Grubbs' test, Dixon's test or the generalised ESD test",
            _ => "Grubbs' test or the generalised ESD test",
        };
        let none = format!(
            "No bench is an outlier by {tests} at the 95 % level, beyond what {}.",
            explanation(marked)
        );
        return [none].into_iter().chain(left_out(marked)).collect();
    }
    let sentences = benches.values();
    let sentences = sentences.filter_map(|outliers| outlier(outliers, marked));
    sentences.chain(left_out(marked)).collect()
}

/// What explains that a bench differs from the others.
fn explanation(marked: &Marked) -> &'static str {
    match marked.stated_repeatability() {
        Some(_) => "its balance and the stated repeatability explain",
        None => "its balance can show",
    }
}

/// The benches that a test flags and that are not called outliers, with the reason.
fn left_out(marked: &Marked) -> Option<String> {
    let is_listed = |line: u64| marked.outliers().iter().any(|other| other.line() == line);
    let explained = marked.explained_outliers().iter();
    let explained = explained.filter(|outlier| !is_listed(outlier.line()));
    let names: BTreeMap<u64, String> = explained
        .map(|outlier| (outlier.line(), bench_name(outlier, marked)))
        .collect();
    let [are, an, them, their] = match names.len() {
        0 => return None,
        1 => [
            "is",
            "an outlier",
            "it",
            "It differs from the others by less than twice its",
        ],
        _ => [
            "are",
            "outliers",
            "them",
            "They differ from the others by less than twice their",
        ],
    };
    let mut said = format!(
        "{} {are} not called {an}, although a test flags {them}. {their} standard uncertainty.",
        crate::text::list(names.into_values())
    );
    let percent = marked
        .stated_repeatability()
        .map(|relative| 100.0 * relative);
    if let Some(percent) = percent.and_then(Ratio::from_float) {
        let percent = short_degree(&percent);
        said.push_str(&format!(
            " That contains the stated repeatability of {percent} %."
        ));
    }
    Some(said)
}

/// The tests that flag a bench, among all benches and among those at constant mass.
fn outlier(outliers: &[&Outlier], marked: &Marked) -> Option<String> {
    let bench = bench_name(outliers.first()?, marked);
    let tests = |group: BenchGroup| {
        let outliers = outliers.iter().filter(|outlier| outlier.among() == group);
        let tests: Vec<String> = outliers.map(|outlier| by_test(outlier)).collect();
        (!tests.is_empty()).then(|| crate::text::list(tests))
    };
    let said = match (tests(BenchGroup::All), tests(BenchGroup::AtConstantMass)) {
        (Some(all), None) => format!("{bench} is an outlier by {all}."),
        (Some(all), Some(constant)) => format!(
            "{bench} is an outlier by {all}. Among the benches at constant mass it is one by {constant}."
        ),
        (None, constant) => format!(
            "{bench} is an outlier among the benches at constant mass by {}.",
            constant?
        ),
    };
    Some(format!(
        "{said} It still counts. Check its readings before you leave anything out."
    ))
}

fn bench_name(outlier: &Outlier, marked: &Marked) -> String {
    BenchNames::new(marked).of(outlier.bench(), outlier.period(), outlier.line())
}

fn by_test(outlier: &Outlier) -> String {
    let name = match outlier.test() {
        OutlierTest::Grubbs => "Grubbs' test",
        OutlierTest::Dixon => "Dixon's test",
        OutlierTest::GeneralizedEsd => "the generalised ESD test for several",
    };
    format!(
        "{name} ({:.3}; the critical value is {:.3} at the 95 % level)",
        outlier.statistic(),
        outlier.critical()
    )
}

fn scatter(test: &ExcessScatter) -> String {
    let figures = format!(
        "chi-squared {:.1}; the critical value for {} benches is {:.1} at the 95 % level",
        test.statistic(),
        test.n(),
        test.critical()
    );
    let verdict = if test.is_excess() {
        format!(
            "The benches scatter more than the balance, the criterion for constant mass and the method \
             explain ({figures}). A further standard deviation of {} in x would explain the rest.",
            two_figures(test.extra_sd())
        )
    } else {
        format!(
            "The balance, the criterion for constant mass and the method explain the scatter of the \
             benches ({figures})."
        )
    };
    let percent = |relative| Ratio::from_float(100.0 * relative);
    match test.repeatability().and_then(percent) {
        Some(relative) => format!(
            "{verdict} The repeatability of the method is taken as {} % of the water.",
            short_degree(&relative)
        ),
        None => verdict,
    }
}

/// The benches that the test of scatter leaves out, in a sentence.
fn left_out_of_scatter(marked: &Marked) -> Option<String> {
    const MOST_NAMED: usize = 12;
    marked.excess_scatter()?;
    let rows = marked.rows().iter().filter(|row| {
        let counts = row.has_own_readings() && !row.stand_in();
        counts && row.issued() == Some(marked.issued())
    });
    let falling = rows.filter(|row| {
        let constancy = row.dehydration().and_then(Dehydration::constant_mass);
        constancy.and_then(Constancy::reached) == Some(false)
    });
    let names: Vec<String> = falling.map(|row| row.bench().into()).collect();
    let who = match names.len() {
        0 => return None,
        1..=MOST_NAMED => crate::text::list(names),
        n => format!("{n} benches"),
    };
    Some(format!(
        "Chi-squared does not count {who}: the last two weighings do not agree."
    ))
}

fn stand_in(marked: &Marked) -> Option<String> {
    let rows = marked.rows().iter();
    let any = rows
        .filter(|row| row.stand_in() && row.has_own_readings())
        .count();
    (any > 0).then(|| "Stand-in readings are not counted here.".to_string())
}

#[cfg(test)]
mod tests {
    use super::super::write_key;
    use super::*;
    use crate::class::{Marker, Sheet};
    use crate::gravimetry::Method;

    /// The key of a class sheet, with line ends read as spaces.
    fn key(rows: &str) -> String {
        key_of(&format!("bench,period,issued,hydrate_g,residue_g\n{rows}"))
    }

    fn key_of(text: &str) -> String {
        key_by(Method::new(), text)
    }

    fn key_by(method: Method, text: &str) -> String {
        let sheet = Sheet::read(text.as_bytes()).unwrap();
        let marked = Marker::new("MgSO4·7H2O".parse().unwrap(), method).mark(&sheet);
        let mut key = String::new();
        write_key(&marked, &mut key).unwrap();
        key.split_whitespace().collect::<Vec<&str>>().join(" ")
    }

    /// x = (h − s)/18.015 ÷ s/120.361 is 6.989, 7.000, 6.976 and 7.013, with the mean 6.995.
    const SOUND: &str = "Heron,1,,2.666,1.303\nWren,1,,2.701,1.319\nFinch,1,,2.688,1.315\n\
                         Rook,1,,2.640,1.288\n";

    #[test]
    fn benches_of_one_name_are_distinguished() {
        let far = "2,,2.655,1.560\n";
        let text = key(&format!("{SOUND}Lark,{far}"));
        assert!(text.contains("- Lark is an outlier by"), "{text}");
        let text = key(&format!("{SOUND}Rook,{far}"));
        assert!(
            text.contains("- Rook (period 2, line 6) is an outlier by"),
            "{text}"
        );
        assert!(text.contains("Check its readings"), "{text}");
    }

    #[test]
    fn less_than_the_balance_can_show() {
        let alike = ["A", "B", "C", "D", "E"].map(|b| format!("{b},21.352,24.018,22.655,22.655\n"));
        let head = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n";
        let text = key_of(&format!(
            "{head}{}F,21.352,24.018,22.656,22.656\n",
            alike.concat()
        ));
        assert!(!text.contains("F is an outlier"), "{text}");
        let said = "No bench is an outlier by Grubbs' test or Dixon's test at the 95 % level, beyond what \
                    its balance can show.";
        assert!(text.contains(said), "{text}");
        assert!(!text.contains("Check its readings"), "{text}");
    }

    /// A bench that is left out of the outliers is named, with the reason. With 6 % of the water, u of Lark's
    /// x (6.362) is 6.362/(1.360/2.655) · 0.06 = 0.75, and its distance from the mean of the others 0.63.
    #[test]
    fn what_a_stated_repeatability_hides_is_said() {
        let text = format!("bench,period,issued,hydrate_g,residue_g\n{SOUND}Lark,1,,2.655,1.360\n");
        assert!(key_of(&text).contains("- Lark is an outlier by Grubbs' test"));
        let method = Method::new().repeatability(0.06).unwrap();
        let text = key_by(method, &text);
        for said in [
            "- No bench is an outlier by Grubbs' test or Dixon's test at the 95 % level, beyond what its \
             balance and the stated repeatability explain.",
            "- Lark is not called an outlier, although a test flags it. It differs from the others by less \
             than twice its standard uncertainty. That contains the stated repeatability of 6 %.",
        ] {
            assert!(text.contains(said), "{said}: {text}");
        }
    }

    #[test]
    fn what_is_compared_within_one_salt_is_said() {
        let pools = "Each salt that was issued has a pool of its own.";
        assert!(!key(SOUND).contains(pools));
        let one = "Tern,1,BaCl2·2H2O,2.443,2.082\n";
        let text = key(&format!("{SOUND}{one}"));
        assert!(
            text.contains(pools) && !text.contains("scatter are those"),
            "{text}"
        );
        let lark = "Lark,1,,2.655,1.299\n";
        let text = key(&format!("{SOUND}{lark}{one}"));
        let said = format!("{pools} Balances, periods and scatter are those of MgSO4·7H2O only.");
        assert!(text.contains(&said), "{text}");
    }

    /// Each salt has its theory, its benches and its pool. A bench of which nothing says what it was
    /// issued is in no pool.
    #[test]
    fn each_salt_has_a_block() {
        let text = format!(
            "bench,period,issued,hydrate_g,residue_g\n{SOUND}Tern,1,barium chloride dihydrate,2.443,2.082\n\
             Crake,1,bluestone,2.666,1.303\n"
        );
        let text = key_of(&text);
        for said in [
            "Key: loss on heating of MgSO4·7H2O and BaCl2·2H2O",
            "Theory for BaCl2·2H2O: 14.75 % water, x = 2.",
            "BaCl2·2H2O ========== Bench",
            "Not known what was issued ========================= Bench",
            "Crake 1 2.666 1.303 1.363 51.13",
            "BaCl2·2H2O 1 2.00",
            "Of 1 bench it is not known what was issued, so it is in no pool.",
        ] {
            assert!(text.contains(said), "{said}: {text}");
        }
    }

    /// With 208.23 g/mol, x of barium chloride is 2.004, 2.001, 2.002, 1.999 and 1.084. The mean is 1.818,
    /// s is 0.4104, and (1.818 − 1.084)/0.4104 is 1.789. The critical value for five is that of Grubbs
    /// (1969), two-tailed at 95 %.
    #[test]
    fn each_salt_that_was_issued_has_a_pool() {
        let barium = "A,1,BaCl2·2H2O,2.443,2.082\nB,1,BaCl2·2H2O,2.501,2.132\n\
                      C,1,BaCl2·2H2O,2.398,2.044\nD,1,BaCl2·2H2O,2.462,2.099\n";
        assert!(!key(SOUND).contains("Issued n Mean x"));
        let text = key(&format!("{SOUND}{barium}E,1,BaCl2·2H2O,2.45,2.24\n"));
        for said in [
            "Issued n Mean x Median s",
            "MgSO4·7H2O 4 6.99",
            "BaCl2·2H2O 5 1.818",
            "- The robust interval comes from",
            "- E is an outlier by Grubbs' test (1.789; the critical value is 1.715",
        ] {
            assert!(text.contains(said), "{said}: {text}");
        }
    }

    #[test]
    fn the_interval_has_the_places_of_the_mean() {
        let text = key(&format!("{SOUND}Lark,1,,2.655,1.299\n"));
        let (_, all) = text.split_once(" all 5 ").unwrap();
        let cells: Vec<&str> = all.split(' ').take(6).collect();
        let [mean, _, _, low, "to", high] = cells[..] else {
            panic!("{cells:?}");
        };
        for number in [mean, low, high] {
            assert_eq!(number.split_once('.').unwrap().1.len(), 3, "{cells:?}");
        }
    }

    #[test]
    fn what_the_statistics_leave_out_is_said() {
        let head = "bench,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g\n";
        let alike = ["A", "B", "C", "D"].map(|b| format!("{b},21.352,24.018,22.655,22.655\n"));
        let rows = format!("{head}{}E,21.352,24.018,22.657,\n", alike.concat());
        let text = key_of(&format!(
            "{rows}F,21.352,24.018,22.700,22.660\nG,21.352,24.018,22.690,22.659\n"
        ));
        for said in [
            "- There is no robust interval if more than half of the benches have the same x.",
            "the critical value for 5 benches is 9.5",
            "- Chi-squared does not count F and G: the last two weighings do not agree.",
        ] {
            assert!(text.contains(said), "{said}: {text}");
        }
        assert!(!key_of(&rows).contains("does not count"));
        assert!(!key(&format!("{SOUND}Lark,1,,2.655,1.299\n")).contains("no robust interval"));
    }
}
