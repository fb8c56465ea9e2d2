//! The diagnosis of benches whose fault is known: how often a fault with a stated probability is the true
//! one, and how often a large fault ranks first. The tables are in the documentation of `mistake`.
//!
//! The benches are simulated with the sizes of `src/mistake/fault_sizes.csv`, whose tails are heavier than
//! the likelihoods assume. `BENCHES=20` in the environment tries that many benches instead of the usual
//! number and prints the tables, without comparing them.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

use effloresce::gravimetry::{Method, known_hydrates};
use effloresce::mistake::{Diagnosis, Fault, Priors, SimulatedBench, Simulator};
use effloresce::{Formula, Reading};

/// Salts of the catalogue with and without plateaus and decompositions, and one without an entry.
const HYDRATES: [&str; 6] = [
    "BaCl2·2H2O",
    "CuSO4·5H2O",
    "MgSO4·7H2O",
    "Na2CO3·10H2O",
    "CoCl2·6H2O",
    "ErCl3·6H2O",
];
const BALANCES: [&str; 3] = ["0.01", "0.001", "0.0001"];
/// The most heatings, because the lesson ends then.
const HEATINGS: u32 = 4;
/// The benches with each fault at each salt, balance and number of heatings.
const BENCHES: u64 = 3;
/// The benches without a fault for each bench with one fault.
const SOUND: u64 = 3;
/// The benches without a fault from which the standard uncertainty is found.
const SCATTERED: u64 = 100;

/// No fault, and each of the faults.
const HYPOTHESES: usize = 1 + Fault::ALL.len();

/// Faults with a residue that is too light.
const LIGHT: [Fault; 5] = [
    Fault::SolidLost,
    Fault::SampleDamp,
    Fault::ContainerDamp,
    Fault::WeighedWarm,
    Fault::BalanceChanged,
];
/// Faults with a residue that is too heavy after a single heating.
const HEAVY_AFTER_ONE: [Fault; 4] = [
    Fault::WaterLeft,
    Fault::StoppedAtLowerHydrate,
    Fault::MoistureTakenUp,
    Fault::SampleEffloresced,
];

/// The place of a hypothesis.
fn index(fault: Option<Fault>) -> usize {
    let at = fault.and_then(|fault| Fault::ALL.iter().position(|other| *other == fault));
    at.map_or(0, |at| at + 1)
}

fn hypothesis(index: usize) -> Option<Fault> {
    index.checked_sub(1).map(|at| Fault::ALL[at])
}

fn probabilities(priors: &Priors) -> [f64; HYPOTHESES] {
    std::array::from_fn(|at| match hypothesis(at) {
        Some(fault) => priors.of(fault),
        None => priors.no_fault(),
    })
}

/// The priors with every fault so many times as probable.
fn scaled(factor: f64) -> Priors {
    let usual = Priors::new();
    let all = Fault::ALL.map(|fault| (fault, factor * usual.of(fault)));
    Priors::with_all(all).unwrap()
}

/// A simulated bench with its diagnosis.
struct Diagnosed {
    planted: Option<Fault>,
    /// How often such a bench occurs, by the priors.
    weight: f64,
    posterior: [f64; HYPOTHESES],
    heatings: usize,
    is_light: bool,
    is_known: bool,
    /// Without a fault, or with one of more than three standard uncertainties.
    is_large: bool,
}

impl Diagnosed {
    /// The hypotheses that count as one with this one at this bench.
    fn same(&self, at: usize) -> Vec<usize> {
        let Some(fault) = hypothesis(at) else {
            return vec![at];
        };
        let mut group: Vec<Fault> = Vec::new();
        if self.is_light {
            group.extend(LIGHT);
            if !self.is_known {
                group.push(Fault::Decomposed);
            }
        }
        let mut all = vec![group];
        if self.heatings == 1 {
            all.push(HEAVY_AFTER_ONE.to_vec());
        }
        let own = all.into_iter().find(|group| group.contains(&fault));
        own.map_or_else(
            || vec![at],
            |group| group.iter().map(|fault| index(Some(*fault))).collect(),
        )
    }

    /// The probabilities with other priors.
    fn with_priors(&self, factors: &[f64; HYPOTHESES]) -> Diagnosed {
        let mut posterior = self.posterior;
        for (own, factor) in posterior.iter_mut().zip(factors) {
            *own *= factor;
        }
        let sum: f64 = posterior.iter().sum();
        Diagnosed {
            posterior: posterior.map(|own| own / sum),
            ..*self
        }
    }

    /// The first hypothesis, with those that count as one together.
    fn first(&self) -> usize {
        let together = |at: usize| {
            self.same(at)
                .iter()
                .map(|at| self.posterior[*at])
                .sum::<f64>()
        };
        let by_group = |one: &usize, other: &usize| {
            let groups = together(*one).total_cmp(&together(*other));
            groups.then(self.posterior[*one].total_cmp(&self.posterior[*other]))
        };
        (0..HYPOTHESES).max_by(by_group).unwrap()
    }

    /// Whether the planted fault ranks first.
    fn is_first(&self) -> bool {
        self.same(index(self.planted)).contains(&self.first())
    }

    /// Whether any fault is more probable than none.
    fn is_accused(&self) -> bool {
        self.posterior[1..]
            .iter()
            .any(|own| *own > self.posterior[0])
    }
}

/// The last weighing minus the expected one, in grams.
fn above(bench: &SimulatedBench, stays: f64) -> f64 {
    let grams = |reading: Reading| reading.value().to_f64();
    let container = grams(bench.container());
    let taken = grams(bench.with_hydrate()) - container;
    grams(*bench.heated().last().unwrap()) - container - taken * stays
}

/// The mass of the residue from each gram of a hydrate.
fn stays(issued: &Formula) -> f64 {
    let weights = Method::new().atomic_weights().clone();
    let mass = |formula: &Formula| formula.molar_mass(&weights).unwrap().exact().to_f64();
    let (salt, waters) = issued.one_formula_unit().unwrap();
    let water = mass(&"H2O".parse().unwrap()) * waters.to_f64();
    mass(&salt) / (mass(&salt) + water)
}

/// The standard deviation of the last weighing of benches without a fault.
fn standard_uncertainty(simulator: &Simulator, stays: f64) -> f64 {
    let benches = (0..SCATTERED).map(|seed| above(&simulator.bench(seed).unwrap(), stays));
    let off: Vec<f64> = benches.collect();
    let mean = off.iter().sum::<f64>() / SCATTERED as f64;
    let squares = off
        .iter()
        .map(|own| (own - mean) * (own - mean))
        .sum::<f64>();
    libm::sqrt(squares / (SCATTERED - 1) as f64)
}

/// Diagnoses the benches of one salt, balance and number of heatings.
fn of_cell(
    hydrate: &str,
    balance: &str,
    heatings: u32,
    benches: u64,
    seeds: &mut impl Iterator<Item = u64>,
) -> Vec<Diagnosed> {
    let issued: Formula = hydrate.parse().unwrap();
    let stays = stays(&issued);
    let (salt, _) = issued.one_formula_unit().unwrap();
    let is_known = !known_hydrates(&salt).is_empty();
    let readability: Reading = balance.parse().unwrap();
    let method = Method::new().readability(readability).unwrap();
    let simulator = Simulator::new(&issued, readability).unwrap();
    let simulator = simulator.most_heatings(heatings).unwrap();
    let three = 3.0 * standard_uncertainty(&simulator, stays);
    let priors = Priors::new();
    let mut all = Vec::new();
    for (at, prior) in probabilities(&priors).iter().enumerate() {
        let planted = hypothesis(at);
        let Ok(simulator) = simulator.clone().fault(planted) else {
            continue;
        };
        let count = if at == 0 { SOUND * benches } else { benches };
        for seed in seeds.take(count as usize) {
            let bench = simulator.bench(seed).unwrap();
            let weighings = bench.weighings();
            let diagnosis = Diagnosis::new(&issued, &method, &priors, &weighings).unwrap();
            let mut posterior = [diagnosis.no_fault(); HYPOTHESES];
            for own in diagnosis.all() {
                posterior[index(Some(own.fault()))] = own.probability();
            }
            let sum: f64 = posterior.iter().sum();
            assert!((sum - 1.0).abs() < 1e-9, "{hydrate}, seed {seed}: {sum}");
            all.push(Diagnosed {
                planted,
                weight: prior / count as f64,
                posterior,
                heatings: bench.heated().len(),
                is_light: above(&bench, stays) < 0.0,
                is_known,
                is_large: planted.is_none() || bench.effect() > three,
            });
        }
    }
    all
}

fn simulate(benches: u64) -> Vec<Diagnosed> {
    let mut seeds = 1_000..;
    let mut all = Vec::new();
    for hydrate in HYDRATES {
        for balance in BALANCES {
            for heatings in 1..=HEATINGS {
                all.extend(of_cell(hydrate, balance, heatings, benches, &mut seeds));
            }
        }
    }
    all
}

/// The hypotheses whose stated probability is in one tenth.
#[derive(Default, Clone, Copy)]
struct Tenth {
    /// How many there are at each bench.
    number: f64,
    stated: f64,
    seen: f64,
}

fn tenths(all: &[Diagnosed]) -> [Tenth; 10] {
    let mut tenths = [Tenth::default(); 10];
    let benches: f64 = all.iter().map(|bench| bench.weight).sum();
    for bench in all {
        let weight = bench.weight / benches;
        for (at, stated) in bench.posterior.iter().enumerate() {
            let tenth = &mut tenths[((stated * 10.0) as usize).min(9)];
            tenth.number += weight;
            tenth.stated += weight * stated;
            if at == index(bench.planted) {
                tenth.seen += weight;
            }
        }
    }
    tenths
}

/// The priors that are tried: those by which the benches are drawn, and wrong ones.
const TRIED: [(&str, &str, f64); 3] = [
    ("as_stated", "right", 1.0),
    ("tripled", "three times too high", 3.0),
    ("a_third", "three times too low", 1.0 / 3.0),
];

fn with_factor(all: &[Diagnosed], factor: f64) -> Vec<Diagnosed> {
    let (usual, other) = (
        probabilities(&Priors::new()),
        probabilities(&scaled(factor)),
    );
    let factors = std::array::from_fn(|at| other[at] / usual[at]);
    all.iter()
        .map(|bench| bench.with_priors(&factors))
        .collect()
}

fn percent(part: f64, all: f64) -> String {
    if all > 0.0 {
        format!("{:.1}", 100.0 * part / all)
    } else {
        String::from("–")
    }
}

/// How many benches there are that meet a condition, and for how many of them something is true.
fn count(
    all: &[Diagnosed],
    counts: impl Fn(&Diagnosed) -> bool,
    is: impl Fn(&Diagnosed) -> bool,
) -> [f64; 2] {
    let counted: Vec<&Diagnosed> = all.iter().filter(|bench| counts(bench)).collect();
    let part = counted.iter().filter(|bench| is(bench)).count();
    [part as f64, counted.len() as f64]
}

/// The share of the large faults that rank first, with each fault as frequent as its prior says.
fn first_by_prior(all: &[Diagnosed]) -> [f64; 2] {
    let large = all
        .iter()
        .filter(|bench| bench.planted.is_some() && bench.is_large);
    large.fold([0.0, 0.0], |[first, sum], bench| {
        let own = if bench.is_first() { bench.weight } else { 0.0 };
        [first + own, sum + bench.weight]
    })
}

/// The tenths as data.
fn as_csv(all: &[Diagnosed]) -> String {
    let mut text = String::from("priors,from,to,per_bench,stated,seen\n");
    for (code, _, factor) in TRIED {
        for (at, tenth) in tenths(&with_factor(all, factor)).iter().enumerate() {
            let (from, to) = (at as f64 / 10.0, (at + 1) as f64 / 10.0);
            let mean = |sum: f64| sum / tenth.number;
            writeln!(
                text,
                "{code},{from:.1},{to:.1},{:.4},{:.3},{:.3}",
                tenth.number,
                mean(tenth.stated),
                mean(tenth.seen)
            )
            .unwrap();
        }
    }
    text
}

fn reliability(all: &[Diagnosed]) -> String {
    let mut text = String::from(
        "| stated, percent | priors right: mean stated | true | three times too high: mean stated | true | \
         three times too low: mean stated | true |\n| --- | --- | --- | --- | --- | --- | --- |\n",
    );
    let tried = TRIED.map(|(_, _, factor)| tenths(&with_factor(all, factor)));
    for at in 0..10 {
        write!(text, "| {} to {} |", 10 * at, 10 * (at + 1)).unwrap();
        for tenths in &tried {
            let Tenth {
                number,
                stated,
                seen,
            } = tenths[at];
            write!(
                text,
                " {} | {} |",
                percent(stated, number),
                percent(seen, number)
            )
            .unwrap();
        }
        text.push('\n');
    }
    text
}

fn by_fault(all: &[Diagnosed]) -> String {
    let mut text = String::from(
        "| fault | benches | ranks first | after one heating | after more | most often instead |\n\
         | --- | --- | --- | --- | --- | --- |\n",
    );
    for fault in Fault::ALL {
        let large = |bench: &Diagnosed| bench.is_large && bench.planted == Some(fault);
        let one = |bench: &Diagnosed| large(bench) && bench.heatings == 1;
        let more = |bench: &Diagnosed| large(bench) && bench.heatings > 1;
        let [first, number] = count(all, large, Diagnosed::is_first);
        let [first_one, number_one] = count(all, one, Diagnosed::is_first);
        let [first_more, number_more] = count(all, more, Diagnosed::is_first);
        let mut instead: BTreeMap<usize, u32> = BTreeMap::new();
        for bench in all.iter().filter(|bench| large(bench) && !bench.is_first()) {
            *instead.entry(bench.first()).or_default() += 1;
        }
        let most = instead.into_iter().max_by_key(|(_, times)| *times);
        let most = most.map_or(String::new(), |(at, _)| match hypothesis(at) {
            Some(fault) => format!("`{fault}`"),
            None => "no fault".into(),
        });
        writeln!(
            text,
            "| `{fault}` | {number} | {} | {} | {} | {most} |",
            percent(first, number),
            percent(first_one, number_one),
            percent(first_more, number_more),
        )
        .unwrap();
    }
    text
}

fn accused(all: &[Diagnosed]) -> String {
    let mut text = String::from("| heatings | ");
    let columns: Vec<usize> = (1..=HEATINGS as usize).collect();
    for heatings in &columns {
        write!(text, "{heatings} | ").unwrap();
    }
    text.push_str("all |\n| --- | --- | --- | --- | --- | --- |\n");
    for (_, words, factor) in TRIED {
        let all = with_factor(all, factor);
        write!(text, "| priors {words} |").unwrap();
        for heatings in &columns {
            let sound = |bench: &Diagnosed| bench.planted.is_none() && bench.heatings == *heatings;
            let [part, number] = count(&all, sound, Diagnosed::is_accused);
            write!(text, " {} |", percent(part, number)).unwrap();
        }
        let [part, number] = count(&all, |bench| bench.planted.is_none(), Diagnosed::is_accused);
        writeln!(text, " {} |", percent(part, number)).unwrap();
    }
    text
}

fn document(all: &[Diagnosed]) -> String {
    let [first, weight] = first_by_prior(all);
    let large = |bench: &Diagnosed| bench.is_large && bench.planted.is_some();
    let [first_equal, number] = count(all, large, Diagnosed::is_first);
    format!(
        "# How reliable the diagnosis is\n\n\
         {} simulated benches with a known fault, or without one, were diagnosed. They come from {} hydrates \
         (ErCl3·6H2O has no entry in the catalogue), balances of 0.01 g to 0.0001 g, and at most one to four \
         heatings. The sizes of the faults, the progress of each heating and the scatter between benches come from a \
         file that was fixed beforehand (`src/mistake/fault_sizes.csv`). Only its two lines about long first heatings \
         were added later, for benches that are dry at once. Its tails are heavier than those that the \
         diagnosis assumes. The tables are held to what comes out by a test.\n\n\
         ## Stated probabilities\n\n\
         Every bench has twelve hypotheses: no fault, and the eleven faults. They are sorted by the probability that \
         the diagnosis states. *True* is the percentage of them that are true, if benches occur as often as the \
         priors say. With the next columns the diagnosis believes priors of the faults that are three times too high \
         or too low. The numbers are in `src/mistake/reliability.csv`, too.\n\n{}\n\
         ## Large faults\n\n\
         These percentages of the faults of more than three standard uncertainties rank first among the twelve. The \
         standard uncertainty is the standard deviation of the last weighing of benches without a fault. Faults that \
         mass alone cannot distinguish count as one: after a single heating `water_left`, \
         `stopped_at_lower_hydrate`, `moisture_taken_up` and `sample_effloresced`; if the residue is light \
         `solid_lost`, `sample_damp`, `container_damp`, `weighed_warm`, `balance_changed`, and for a salt without an \
         entry `decomposed`. If faults occur as often as the priors say, {} % rank first. If all occur equally often, \
         {} % do.\n\n{}\n\
         A misreading by a small amount gives a mass that lost solid, a damp container or an effloresced sample gives, \
         too. Then it ranks below the commoner fault. The same is true of another balance that shows more, and of a \
         small decomposition in a single heating.\n\n\
         ## Benches without a fault\n\n\
         For these percentages of the benches without a fault, some fault is more probable than none.\n\n{}",
        all.len(),
        HYDRATES.len(),
        reliability(all),
        percent(first, weight),
        percent(first_equal, number),
        by_fault(all),
        accused(all),
    )
}

/// What must hold, whatever the tables say.
fn hold_to_the_bars(all: &[Diagnosed]) {
    let [accused, sound] = count(all, |bench| bench.planted.is_none(), Diagnosed::is_accused);
    assert!(sound >= 600.0, "{sound}");
    assert!(accused * 50.0 <= sound, "{accused} of {sound} are accused");
    let [first, weight] = first_by_prior(all);
    assert!(
        first >= 0.95 * weight,
        "{} % rank first",
        percent(first, weight)
    );
    for (at, tenth) in tenths(all).iter().enumerate() {
        let (stated, seen) = (tenth.stated / tenth.number, tenth.seen / tenth.number);
        assert!(tenth.number > 0.0, "{at}");
        assert!(
            (stated - seen).abs() < 0.12,
            "tenth {at}: {stated} stated, {seen} true"
        );
    }
}

/// `RENEW=1` in the environment writes the tables again.
#[test]
fn the_diagnosis_is_as_reliable_as_published() {
    let asked = std::env::var("BENCHES")
        .ok()
        .and_then(|text| text.parse().ok());
    let all = simulate(asked.unwrap_or(BENCHES));
    let files = [
        ("reliability.md", document(&all)),
        ("reliability.csv", as_csv(&all)),
    ];
    for (_, text) in &files {
        println!("{text}");
    }
    hold_to_the_bars(&all);
    if asked.is_some() {
        return;
    }
    for (name, text) in files {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("src/mistake")
            .join(name);
        if std::env::var_os("RENEW").is_some() {
            std::fs::write(&path, &text).unwrap();
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(
            kept == text,
            "{} is out of date; renew it with `RENEW=1 cargo test --test trust calibration`",
            path.display()
        );
    }
}

/// The probabilities with other priors follow from those with the usual ones.
#[test]
fn priors_change_the_probabilities_in_proportion() {
    let issued: Formula = "MgSO4·7H2O".parse().unwrap();
    let simulator = Simulator::new(&issued, "0.001".parse().unwrap()).unwrap();
    let bench = simulator.fault(Fault::SolidLost).unwrap().bench(5).unwrap();
    let of = |priors: &Priors| {
        let found = Diagnosis::new(&issued, &Method::new(), priors, &bench.weighings()).unwrap();
        let mut posterior = [found.no_fault(); HYPOTHESES];
        for own in found.all() {
            posterior[index(Some(own.fault()))] = own.probability();
        }
        posterior
    };
    let (usual, other) = (Priors::new(), scaled(3.0));
    let (usual_is, other_is) = (probabilities(&usual), probabilities(&other));
    let mut expected: [f64; HYPOTHESES] = std::array::from_fn(|at| other_is[at] / usual_is[at]);
    for (own, posterior) in expected.iter_mut().zip(of(&usual)) {
        *own *= posterior;
    }
    let sum: f64 = expected.iter().sum();
    for (own, posterior) in expected.iter().zip(of(&other)) {
        assert!((own / sum - posterior).abs() < 1e-12);
    }
}
