//! The slips that are named for each slip: every slip is planted in simulated benches, marked, and
//! counted by the significant figures of the answer. The table is in the documentation of `mistake`.

use std::collections::BTreeMap;
use std::path::Path;

use effloresce::class::Answer;
use effloresce::gravimetry::Quantity;
use effloresce::mistake::Slip;

use crate::pupils::bench::{Bench, Draws};
use crate::pupils::planted::{self, Work};
use crate::pupils::sheet::Class;
use crate::pupils::work::Way;

const FIGURES: [usize; 3] = [2, 3, 4];
const BENCHES: usize = 40;
/// The most answers with one slip on one bench.
const MOST_PLANTED: usize = 6;

/// The counts of the answers of one kind.
#[derive(Default, Clone)]
struct Fates {
    all: u32,
    /// Named as certain.
    certain: u32,
    /// Named as certain, although another slip was planted.
    wrongly_certain: u32,
    /// Named, but not as certain.
    among: u32,
    right: u32,
    /// Slips that were named as well as the planted one, or instead of it.
    others: BTreeMap<&'static str, u32>,
}

impl Fates {
    fn count(&mut self, planted: Option<Slip>, answer: &Answer) {
        self.all += 1;
        let others = answer.slips().iter().filter(|slip| Some(**slip) != planted);
        for other in others {
            *self.others.entry(other.code()).or_default() += 1;
        }
        let is_named = match planted {
            Some(planted) => answer.slips().contains(&planted),
            None => !answer.slips().is_empty(),
        };
        let certain = answer.certain() == Some(true);
        self.right += u32::from(answer.verdict().earns());
        self.certain += u32::from(is_named && certain);
        self.among += u32::from(is_named && !certain);
        self.wrongly_certain += u32::from(certain && !is_named);
    }

    fn not_named(&self) -> u32 {
        self.all - self.right - self.certain - self.among
    }
}

/// How far wrong answers are from the right one at most, in percent of it.
const DISTANCES: [u8; 3] = [1, 5, 20];
/// The answers from each bench at each of these distances, for each quantity.
const NEAR: usize = 6;

/// The kind of an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Planted(Slip),
    /// Right work with a reading that was copied wrongly, without the masses that would show it.
    Copied,
    /// A random mass, percentage or amount.
    AnyNumber,
    /// A random ratio.
    AnyRatio,
    /// A random number for this quantity, at most so far from the right one.
    Near(Quantity, u8),
}

type Table = BTreeMap<(Kind, usize), Fates>;

/// The answers of one bench, with this number of significant figures.
fn hand_in(bench: &Bench, figures: usize, draws: &mut Draws) -> Vec<(Kind, Quantity, String)> {
    let mut all = Vec::new();
    for slip in planted::slips() {
        let way = Way::draw(draws);
        let work = Work::new(bench, &way, *draws.pick(&bench.residues()));
        let mut left = work.with(slip, draws);
        while left.len() > MOST_PLANTED {
            left.swap_remove(draws.below(left.len()));
        }
        for (quantity, left) in left {
            let text = left.written(figures, draws);
            all.extend(text.map(|text| (Kind::Planted(slip), quantity, text)));
        }
    }
    let way = Way::draw(draws);
    for (quantity, right) in Work::new(bench, &way, bench.residue()).right_answers(figures) {
        // As many ratios as all other numbers together.
        let (kind, times) = match quantity {
            Quantity::Ratio => (Kind::AnyRatio, 6),
            _ => (Kind::AnyNumber, 1),
        };
        for _ in 0..times {
            let text = any_between(&right, 0.5, 2.0, draws);
            all.extend(text.map(|text| (kind, quantity, text)));
        }
        for distance in DISTANCES {
            let part = f64::from(distance) / 100.0;
            for _ in 0..NEAR {
                let text = any_between(&right, 1.0 - part, 1.0 + part, draws);
                all.extend(text.map(|text| (Kind::Near(quantity, distance), quantity, text)));
            }
        }
    }
    let copied = with_one_digit_wrong(bench, draws);
    for (quantity, text) in Work::new(&copied, &way, copied.residue()).right_answers(figures) {
        if (Quantity::PercentWater..=Quantity::Ratio).contains(&quantity) {
            all.push((Kind::Copied, quantity, text));
        }
    }
    all
}

/// A number from `least` to `most` times this one, with the same decimal places.
fn any_between(text: &str, least: f64, most: f64, draws: &mut Draws) -> Option<String> {
    let value: f64 = text.parse().ok()?;
    let places = text.split_once('.').map_or(0, |(_, below)| below.len());
    Some(format!("{:.places$}", value * draws.between(least, most)))
}

/// The bench with one digit of its mass with the hydrate one higher.
fn with_one_digit_wrong(bench: &Bench, draws: &mut Draws) -> Bench {
    let step = 10_i64.pow(1 + draws.below(bench.places) as u32);
    Bench {
        hydrate: bench.hydrate + step,
        left: bench.left.clone(),
        ..*bench
    }
}

/// The counts of all answers from simulated benches, by kind and significant figures.
fn simulate() -> Table {
    let mut draws = Draws::new(1);
    let mut class = Class::new();
    let mut kinds = Vec::new();
    for figures in FIGURES {
        for _ in 0..BENCHES {
            let bench = Bench::draw(&mut draws, 2);
            class.bench(&bench);
            for (kind, quantity, text) in hand_in(&bench, figures, &mut draws) {
                class.hand_in(&[(quantity, text)]);
                kinds.push((kind, figures));
            }
        }
    }
    let mut table = Table::new();
    for (key, answer) in kinds.iter().zip(class.marked().iter().flatten()) {
        let planted = match key.0 {
            Kind::Planted(slip) => Some(slip),
            _ => None,
        };
        table.entry(*key).or_default().count(planted, answer);
    }
    count_residual_water(&mut table);
    table
}

/// Plants the slip about the water that stays, in benches that heat CuSO4·5H2O to the monohydrate.
fn count_residual_water(table: &mut Table) {
    let slip = Slip::ResidualWaterMiscounted;
    let mut draws = Draws::new(2);
    let mut class = Class::new();
    let mut kinds = Vec::new();
    for figures in FIGURES {
        for _ in 0..BENCHES {
            let bench = Bench::draw_to_monohydrate(&mut draws, 2);
            class.bench(&bench);
            let way = Way::draw(&mut draws);
            let work = Work::new(&bench, &way, *draws.pick(&bench.residues()));
            for (quantity, left) in work.residual_water_miscounted(1.0) {
                if let Some(text) = left.written(figures, &mut draws) {
                    class.hand_in(&[(quantity, text)]);
                    kinds.push((Kind::Planted(slip), figures));
                }
            }
        }
    }
    let marked = class.marked_to("CuSO4·H2O");
    for (key, answer) in kinds.iter().zip(marked.iter().flatten()) {
        table.entry(*key).or_default().count(Some(slip), answer);
    }
}

fn percent(part: u32, all: u32) -> String {
    match (100 * part + all / 2) / all {
        0 if part > 0 => "<1".into(),
        whole => whole.to_string(),
    }
}

/// A row of the table in the documentation.
fn row(table: &Table, kind: Kind) -> String {
    let fates: Vec<&Fates> = FIGURES.iter().map(|f| &table[&(kind, *f)]).collect();
    let each = |of: &dyn Fn(&Fates) -> u32| -> String {
        let cells = fates.iter().map(|fates| percent(of(fates), fates.all));
        cells.collect::<Vec<_>>().join(" / ")
    };
    let name = match kind {
        Kind::Planted(slip) => format!("`{}`", slip.code()),
        Kind::Copied => "a reading copied wrong".into(),
        Kind::AnyNumber => "any mass, percentage or amount".into(),
        Kind::AnyRatio => "any ratio".into(),
        Kind::Near(quantity, distance) => format!("{quantity} within {distance} %"),
    };
    let mut others: BTreeMap<&str, u32> = BTreeMap::new();
    for (other, times) in fates.iter().flat_map(|fates| &fates.others) {
        *others.entry(other).or_default() += times;
    }
    let most = others.into_iter().rev().max_by_key(|(_, times)| *times);
    format!(
        "| {name} | {} | {} | {} | {} | {} |\n",
        each(&|fates| fates.certain),
        each(&|fates| fates.among),
        each(&|fates| fates.right),
        each(&Fates::not_named),
        most.map_or_else(String::new, |(other, _)| format!("`{other}`")),
    )
}

/// The certain ones of the wrong answers for a quantity that are at most so far from the right one, and
/// all of them.
fn certain_near(table: &Table, quantity: Quantity, distance: u8) -> [u32; 2] {
    let fates = FIGURES.map(|figures| &table[&(Kind::Near(quantity, distance), figures)]);
    let wrong = fates.iter().map(|fates| fates.all - fates.right);
    [fates.iter().map(|fates| fates.certain).sum(), wrong.sum()]
}

/// The table of the wrong answers that are called certain slips, by quantity and distance.
fn near(table: &Table) -> String {
    let mut text =
        String::from("| wrong at random within | 1 % | 5 % | 20 % |\n| --- | --- | --- | --- |\n");
    for quantity in Quantity::ALL
        .into_iter()
        .filter(|q| *q != Quantity::Formula)
    {
        let cells = DISTANCES.map(|distance| {
            let [certain, wrong] = certain_near(table, quantity, distance);
            format!("{:.1}", 100.0 * f64::from(certain) / f64::from(wrong))
        });
        text += &format!("| {quantity} | {} |\n", cells.join(" | "));
    }
    text
}

fn document(table: &Table) -> String {
    let drawn = |kind: &Kind| matches!(kind, Kind::Near(..));
    let kept = table.iter().filter(|((kind, _), _)| !drawn(kind));
    let all: u32 = kept.map(|(_, fates)| fates.all).sum();
    let mut text = format!(
        "# How well slips are recognised\n\n\
         Every slip that can be made there was planted in {} simulated pieces of work, {all} answers in all, each marked alone. \
         They come from sixteen hydrates, one to four heatings, and balances of 0.01 g to 0.0001 g, with \
         every table of atomic weights and way of rounding. The numbers are percentages of the answers, written \
         to 2 / 3 / 4 significant figures. (Masses have the decimal places of the balance, and no digit \
         before the decimal point is rounded away.) `residual_water_miscounted` comes from as many benches that \
         heat CuSO4·5H2O to the monohydrate.\n\n\
         - *Certain*: only this slip fits. With the class's own weights and without rounding it gives exactly \
         the digits written. It and the numbers nearer to the right one that would be certain are fewer than \
         one in a hundred of all numbers as near.\n\
         - *Named*: the slip is one of several, or a wrong number would often look like a slip.\n\
         - *Right*: the slip does not change the answer.\n\
         - *With*: the slip that was named most often as well, or instead.\n\n\
         | planted | certain | named | right | not named | with |\n\
         | --- | --- | --- | --- | --- | --- |\n",
        BENCHES * FIGURES.len(),
    );
    for slip in Slip::ALL {
        text += &row(table, Kind::Planted(*slip));
    }
    text += &row(table, Kind::Copied);
    text += &row(table, Kind::AnyNumber);
    text += &row(table, Kind::AnyRatio);
    text += "\nThe last three rows are not slips of the catalogue. In them, *certain* and *named* count the \
             answers for which any slip is named. In the first, a digit of one reading is wrong, and only \
             what follows from it was marked, not the mass that would show it. In the others, numbers from \
             half to twice the right one were drawn.\n\n\
             Careful work after a slip gives a range, too. Most slips can be made in the ratio, and together \
             their ranges contain many of the numbers near the right one. So *named* says only that a slip fits.\n\n\
             # How often a wrong number is called certain\n\n\
             Numbers were drawn near the right one, with as many decimal places. These percentages of the wrong \
             ones were called certain, all slips together.\n\n";
    text += &near(table);
    text
}

/// `RENEW=1` in the environment writes the table again.
#[test]
fn the_table_in_the_documentation_is_what_comes_out() {
    let table = simulate();
    let text = document(&table);
    println!("{text}");

    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/mistake/confusion.md");
    if std::env::var_os("RENEW").is_some() {
        std::fs::write(&path, &text).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == text,
        "{} is out of date; renew it with `RENEW=1 cargo test --test trust confusion`",
        path.display()
    );

    let planted = |kind: &Kind| matches!(kind, Kind::Planted(_));
    let sum = |of: fn(&Fates) -> u32, from: &dyn Fn(&Kind) -> bool| -> u32 {
        let rows = table.iter().filter(|((kind, _), _)| from(kind));
        rows.map(|(_, fates)| of(fates)).sum()
    };
    let certain = sum(|fates| fates.certain, &planted);
    let wrongly = sum(|fates| fates.wrongly_certain, &planted);
    assert!(
        certain > 2_500 && wrongly * 99 <= certain,
        "{wrongly} wrongly certain, {certain} rightly"
    );
    for quantity in Quantity::ALL
        .into_iter()
        .filter(|q| *q != Quantity::Formula)
    {
        for distance in DISTANCES {
            let [certain, wrong] = certain_near(&table, quantity, distance);
            let counts = format!("{quantity} within {distance} %: {certain} certain of {wrong}");
            println!("{counts}");
            assert!(wrong >= 100 && certain * 100 <= wrong, "{counts}");
        }
    }
    // Only a textbook value just outside what careful work gives is not named.
    let missed = sum(Fates::not_named, &planted);
    assert!(
        missed * 1000 <= certain,
        "{missed} not named, {certain} certain"
    );
    // Few random numbers fit a slip. Most of those are ratios, because some salt of the catalogue gives
    // every third of them.
    for (kind, most_certain, most_named) in [
        (Kind::Copied, 2, 20),
        (Kind::AnyNumber, 1, 10),
        (Kind::AnyRatio, 1, 45),
    ] {
        let all = sum(|fates| fates.all, &|k| *k == kind);
        let certain = sum(|fates| fates.certain, &|k| *k == kind);
        let named = certain + sum(|fates| fates.among, &|k| *k == kind);
        assert!(all >= 480, "{all}");
        let counts = format!("{kind:?}: {certain} certain, {named} named of {all}");
        println!("{counts}");
        assert!(certain * 100 <= most_certain * all, "{counts}");
        assert!(named * 100 <= most_named * all, "{counts}");
    }
}
