//! The paper of sets of the first kind.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::{PaperFormat, ProblemPaper};
use crate::element::AtomicWeights;
use crate::exercise::{ExerciseSet, Exercises, Kind, Level};
use crate::formula::Formula;
use crate::report::LatexFormulas;

const FORMATS: [PaperFormat; 5] = [
    PaperFormat::Text,
    PaperFormat::Markdown,
    PaperFormat::Html,
    PaperFormat::Latex(LatexFormulas::Maths),
    PaperFormat::Latex(LatexFormulas::Mhchem),
];

fn water(seed: u64) -> Exercises {
    Exercises::new(seed).kinds([Kind::PercentWater])
}

fn of_one_salt(salt: &str, count: usize) -> ExerciseSet {
    let salt: Formula = salt.parse().unwrap();
    let one_step = water(3).level(Level::OneStep);
    one_step.salts([salt]).set(count).unwrap()
}

fn sheet(paper: &ProblemPaper, format: PaperFormat) -> String {
    let mut out = String::new();
    paper.write_sheet(format, &mut out).unwrap();
    out
}

fn key(paper: &ProblemPaper, format: PaperFormat) -> String {
    let mut out = String::new();
    paper.write_key(format, &mut out).unwrap();
    out
}

#[test]
fn an_override_of_an_element_that_is_not_used_is_not_named() {
    let weights = AtomicWeights::default().with("S".parse().unwrap(), "32".parse().unwrap());
    let weights = weights
        .unwrap()
        .with("Cl".parse().unwrap(), "35.5".parse().unwrap());
    let chlorides = Exercises::new(1)
        .kinds([Kind::PercentWater])
        .level(Level::OneStep)
        .salts(["CaCl2".parse().unwrap()])
        .weights(weights.unwrap());
    let text = sheet(
        &ProblemPaper::new(chlorides.set(2).unwrap()),
        PaperFormat::Text,
    );
    assert!(text.contains("with Cl = 35.5."), "{text}");
}

#[test]
fn values_that_a_prompt_gives_have_decimal_commas_in_the_key() {
    let heats = Exercises::new(1)
        .kinds([Kind::Heat])
        .level(Level::SeveralSteps)
        .decimal_comma();
    let text = key(
        &ProblemPaper::new(heats.set(10).unwrap()),
        PaperFormat::Text,
    );
    let points = text.split_whitespace().filter(|word| {
        let letters: Vec<char> = word.chars().collect();
        let point = |three: &[char]| {
            three[0].is_ascii_digit() && three[1] == '.' && three[2].is_ascii_digit()
        };
        !word.contains('·') && letters.windows(3).any(point)
    });
    assert_eq!(points.collect::<Vec<_>>(), Vec::<&str>::new());
}

#[test]
fn the_weights_are_those_that_the_set_uses() {
    for (salt, weights) in [
        ("BaCl2·2H2O", "  H 1.0080; O 15.999; Cl 35.45; Ba 137.33\n"),
        ("MgSO4·7H2O", "  H 1.0080; O 15.999; Mg 24.305; S 32.06\n"),
    ] {
        let set = of_one_salt(salt, 1);
        let paper = ProblemPaper::new(set.clone());
        for text in [
            sheet(&paper, PaperFormat::Text),
            key(&paper, PaperFormat::Text),
        ] {
            assert!(text.contains(weights), "{text}");
            assert!(text.contains("  Source: IUPAC 2024, abridged.\n"), "{text}");
        }
    }
    let table = crate::AtomicWeights::default().decimals(1);
    let set = water(3)
        .level(Level::OneStep)
        .weights(table)
        .decimal_comma()
        .salts(["BaCl2".parse().unwrap()]);
    let text = sheet(&ProblemPaper::new(set.set(1).unwrap()), PaperFormat::Text);
    assert!(
        text.contains("  H 1,0; O 16,0; Cl 35,5; Ba 137,3\n"),
        "{text}"
    );
}

#[test]
fn a_sheet_has_the_prompts_and_no_answer() {
    let set = water(1).without_options().set(10).unwrap();
    for format in FORMATS {
        let text = sheet(&ProblemPaper::new(set.clone()), format);
        let numbers: Vec<&str> = text
            .split(|c: char| !(c.is_ascii_digit() || c == '.'))
            .map(|number| number.trim_end_matches('.'))
            .collect();
        for problem in set.problems() {
            let answer = problem.answer();
            assert!(!numbers.contains(&answer.as_str()), "{answer} in {text}");
        }
    }
    let text = sheet(&ProblemPaper::new(set.clone()), PaperFormat::Text);
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for problem in set.problems() {
        let prompt: Vec<&str> = problem.prompt().split_whitespace().collect();
        assert!(words.contains(&prompt.join(" ")), "{text}");
    }
}

#[test]
fn a_key_has_every_answer_with_its_option_and_feedback() {
    let set = water(1).set(10).unwrap();
    let text = key(&ProblemPaper::new(set.clone()), PaperFormat::Text);
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for problem in set.problems() {
        let mut letters = ('A'..).zip(problem.options());
        let (letter, right) = letters.find(|(_, one)| one.wrong_step().is_none()).unwrap();
        let right = format!("Answer: {letter} ({}).", right.text()).replace('\u{A0}', " ");
        assert!(words.contains(&right), "{right} in {text}");
        for (letter, wrong) in ('A'..).zip(problem.options()) {
            let line = format!("[{letter}] {}: {}", wrong.text(), wrong.feedback());
            let is_listed = words.contains(&line.replace('\u{A0}', " "));
            assert_eq!(is_listed, wrong.wrong_step().is_some(), "{line} in {text}");
        }
    }
}

#[test]
fn the_numbers_that_count_as_right_are_rounded_to_the_inside() {
    let set = water(2).set(40).unwrap();
    for problem in set.problems() {
        let text = super::solutions::accepted(&set, problem).unwrap();
        let ends: Vec<crate::number::Ratio> = text
            .split(" to ")
            .map(|end| end.trim_end_matches("\u{A0}%").parse().unwrap())
            .collect();
        let tolerance = problem.tolerance().unwrap();
        assert!(
            *tolerance.low() <= ends[0] && ends[1] <= *tolerance.high(),
            "{text}"
        );
        assert!(ends[0] < ends[1], "{text}");
    }
}

#[test]
fn the_cautions_are_there_once_if_a_problem_speaks_of_heating() {
    let title = "Before you heat anything";
    let (mut with, mut without) = (0, 0);
    for seed in 0..60 {
        let set = water(seed).set(2).unwrap();
        let text = sheet(&ProblemPaper::new(set.clone()), PaperFormat::Text);
        let heats = set
            .problems()
            .iter()
            .any(|problem| problem.prompt().contains("heat"));
        assert_eq!(text.matches(title).count(), usize::from(heats), "{text}");
        assert_eq!(text.contains("The safety data sheet"), heats);
        *(if heats { &mut with } else { &mut without }) += 1;
    }
    assert!(with > 3 && without > 3, "{with} {without}");
}

#[test]
fn versions_have_one_table_and_a_roster_a_line_for_each_code() {
    let sets: Vec<ExerciseSet> = (0..4).map(|seed| water(seed).set(3).unwrap()).collect();
    let versions = ProblemPaper::versions(["A", "B", "C", "D"].into_iter().zip(sets.clone()));
    let text = key(&versions, PaperFormat::Text);
    assert!(text.contains("Problem  Version A    Version B "), "{text}");
    assert_eq!(
        sheet(&versions, PaperFormat::Text)
            .matches("Name: ____")
            .count(),
        4
    );
    let codes = ["<K1>", "K_2", "\u{202e}K3", "שולחן", "K&5"];
    let roster = ProblemPaper::roster(codes.into_iter().zip(sets.iter().cloned().cycle()));
    for format in FORMATS {
        let (sheet, key) = (sheet(&roster, format), key(&roster, format));
        assert!(!sheet.contains("Name"), "{sheet}");
        assert!(!sheet.contains('\u{202e}') && !key.contains('\u{202e}'));
        assert!(
            !sheet.contains("<K1>") || format == PaperFormat::Text,
            "{sheet}"
        );
    }
    let text = key(&roster, PaperFormat::Text);
    assert!(text.contains("\nCode K_2         (1) "), "{text}");
    assert!(text.contains("seed 1."), "{text}");
}

#[test]
fn the_key_of_a_class_sheet_has_words() {
    let set = Exercises::new(5)
        .kinds([Kind::ErrorAnalysis])
        .set(8)
        .unwrap();
    for (problem, number) in set.problems().iter().zip(1..) {
        let text = super::solutions::answer(problem);
        let codes = problem
            .answers()
            .iter()
            .filter(|answer| answer.contains('_'));
        for code in codes {
            assert!(!text.contains(code.as_str()), "{number}: {text}");
        }
        let bench = problem.answers().first().unwrap();
        assert!(text.starts_with(bench.as_str()), "{text}");
    }
    // The words are those of the sheet, and no page of the key has a code.
    let codes: Vec<String> = set
        .problems()
        .iter()
        .flat_map(|problem| problem.answers().to_vec())
        .collect();
    let paper = ProblemPaper::new(set);
    for format in FORMATS {
        let key = key(&paper, format);
        for code in codes.iter().filter(|code| code.contains('_')) {
            let escaped = code.replace('_', "\\_");
            assert!(
                !key.contains(code.as_str()) && !key.contains(&escaped),
                "{code}: {key}"
            );
        }
    }
}

/// Enthalpies and heats have a minus sign on paper, no hyphen.
#[test]
fn a_sheet_and_its_key_have_minus_signs() {
    let set = Exercises::new(3).kinds([Kind::Heat]).set(12).unwrap();
    let paper = ProblemPaper::new(set);
    let text = [
        sheet(&paper, PaperFormat::Text),
        key(&paper, PaperFormat::Text),
    ]
    .concat();
    assert!(text.contains('−'));
    let mut words = text.split(|c: char| c.is_whitespace() || c == '(');
    let hyphen = words.find(|word| {
        let number = word.strip_prefix('-');
        number.is_some_and(|number| number.starts_with(|c: char| c.is_ascii_digit()))
    });
    assert_eq!(hyphen, None, "{text}");
}

/// Writes papers into the folder that the variable `PAPERS` names, for the checks in `tests/pages` and `tests/latex`.
#[test]
fn papers_for_the_checks() {
    let Some(folder) = std::env::var_os("PAPERS") else {
        return;
    };
    let hostile = "\\end{document} {$x$} & # ^ _ % ~ \" ' ` -- <script>window.harmed=true</script> [a] * \u{5d0}\u{5d1} \
                   塩 Zoë Łódź Ω ½ \u{202e}AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";
    let kinds = Kind::ALL.iter().copied();
    let kinds = kinds.filter(|kind| Exercises::new(1).kinds([*kind]).set(3).is_ok());
    let kinds: Vec<Kind> = kinds.collect();
    let of_all = |seed| Exercises::new(seed).kinds(kinds.clone());
    let versions = (1..=4).map(|seed| of_all(seed).set(kinds.len()).unwrap());
    let mixed = of_all(5).set(2 * kinds.len()).unwrap();
    let open = of_all(6).without_options().decimal_comma().set(30).unwrap();
    let codes = [hostile, "", "\\", "K7", "100 %", "\u{5d0} 2"].map(String::from);
    let codes = codes
        .into_iter()
        .chain((1..=24).map(|number| format!("K{number}")));
    let one = water(7).set(3).unwrap();
    let papers = [
        ("mixed", ProblemPaper::new(mixed)),
        ("open", ProblemPaper::new(open).title("")),
        (
            "versions",
            ProblemPaper::versions(["A", "B", "C", "D"].into_iter().zip(versions)),
        ),
        (
            "roster",
            ProblemPaper::roster(codes.map(|code| (code, one.clone()))).title(hostile),
        ),
    ];
    for (name, paper) in papers {
        let folder = std::path::Path::new(&folder).join(name);
        std::fs::create_dir_all(&folder).unwrap();
        for format in FORMATS {
            let mhchem = format == PaperFormat::Latex(LatexFormulas::Mhchem);
            let end = if mhchem { "_mhchem" } else { "" };
            for (text, name) in [
                (sheet(&paper, format), "sheet"),
                (key(&paper, format), "key"),
            ] {
                let file = format!("{name}{end}.{}", format.extension());
                std::fs::write(folder.join(file), text).unwrap();
            }
        }
    }
}
