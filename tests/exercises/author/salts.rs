//! Salts of a course's own.

use std::collections::BTreeSet;

use effloresce::Formula;
use effloresce::exercise::{Exercises, Kind, Level, OwnSalts};

const SALTS: &str = include_str!("../../../examples/data/salts.csv");

fn read(text: &str) -> OwnSalts {
    OwnSalts::read(text.as_bytes()).unwrap()
}

fn error(text: &str) -> String {
    let error = OwnSalts::read(text.as_bytes()).unwrap_err();
    format!("{error} | {}", error.help().unwrap())
}

#[test]
fn a_list_of_a_course_is_read_with_its_titles_and_names() {
    let salts = read(SALTS);
    let all: Vec<String> = salts.hydrates().map(Formula::to_string).collect();
    assert_eq!(
        all,
        [
            "MgSO4·7H2O",
            "BaCl2·2H2O",
            "ZnSO4·7H2O",
            "NiSO4·6H2O",
            "Na2CO3·10H2O",
            "Mg(ClO4)2·6H2O"
        ]
    );
    let notes: Vec<&str> = salts.notes().iter().map(effloresce::Note::text).collect();
    assert_eq!(
        notes.last(),
        Some(
            &"Line 8: Mg(ClO4)2·6H2O must not be heated in a school. It is only in problems that do not heat it."
        )
    );
    let with_mark = read(&format!("\u{FEFF}{}", SALTS.replace('\n', "\r\n")));
    assert_eq!(with_mark, salts);
}

#[test]
fn hydrates_are_drawn_from_the_list_alone_and_the_hazards_decide() {
    let exercises = |seed| {
        Exercises::new(seed)
            .kinds([Kind::PercentWater])
            .own_salts(read(SALTS))
    };
    let mut forms = BTreeSet::new();
    let mut prompts = String::new();
    for seed in 0..300 {
        let problem = exercises(seed).problem(0).unwrap();
        forms.insert(problem.form().to_string());
        let heats = problem.prompt().contains("heated");
        let perchlorate =
            problem.prompt().contains("ClO4") || problem.prompt().contains("perchlorate");
        assert!(!(heats && perchlorate), "{}", problem.prompt());
        prompts += problem.prompt();
    }
    assert!(forms.len() >= 4, "{forms:?}");
    for drawn in [
        "Epsom salt",
        "washing soda",
        "zinc sulfate heptahydrate",
        "Mg(ClO4)2·6H2O",
    ] {
        assert!(prompts.contains(drawn), "{drawn}");
    }
    assert!(!prompts.contains("SrCl2") && !prompts.contains("CuSO4"));
}

#[test]
fn what_the_list_leaves_decides() {
    let salts = read("hydrate\nMgSO4·7H2O\n");
    let exercises = Exercises::new(1)
        .kinds([Kind::PercentWater])
        .level(Level::OneStep)
        .own_salts(salts);
    let asked = exercises.clone().salts(["BaCl2".parse().unwrap()]);
    let error = asked.set(1).unwrap_err();
    assert!(
        error
            .to_string()
            .starts_with("`salts` (BaCl2) leaves no salt"),
        "{error}"
    );
    let avoided = exercises.avoid(["MgSO4".parse().unwrap()]);
    let error = avoided.set(1).unwrap_err();
    assert!(
        error
            .to_string()
            .starts_with("`avoid` (MgSO4) leaves no salt"),
        "{error}"
    );
}

#[test]
fn a_list_that_cannot_be_used_is_refused_with_line_and_column() {
    for (text, expected) in [
        (
            "",
            "no line of the list of salts has the column `hydrate` | begin the list with the line `hydrate,name`",
        ),
        (
            "hydrate\n",
            "the list of salts has no salt | write a hydrate in each line below `hydrate`",
        ),
        (
            "hydrate,name\n,Epsom salt\n",
            "line 2, `hydrate`: the cell is blank | write a formula or a name",
        ),
        (
            "hydrate,name\nMgSO4·7H2O,barium chloride dihydrate\n",
            "line 2, `name`: `barium chloride dihydrate` is the name of BaCl2·2H2O, not of MgSO4·7H2O | correct the name or the formula",
        ),
    ] {
        assert_eq!(error(text), expected);
    }
    let unknown = error("hydrate\nMgSO4·7H2O\nXyz·2H2O\n");
    assert!(unknown.starts_with("line 3, `hydrate`: "), "{unknown}");
    let repeated = read("hydrate\nMgSO4.7H2O\nMgSO4·7H2O\n");
    assert_eq!(
        (repeated.hydrates().count(), repeated.notes()[0].code()),
        (1, "repeated")
    );
    let many = format!(
        "hydrate\n{}",
        (1..1200)
            .map(|n| format!("MgSO4·{n}H2O\n"))
            .collect::<String>()
    );
    assert_eq!(
        error(&many),
        "the list of salts has more than 1000 salts | remove the salts that the course does not use"
    );
}

/// A bottle must not be labelled with the name of another substance.
#[test]
fn a_name_is_that_of_the_salt_or_is_noted() {
    for (name, meanings) in [
        ("copper sulfate", "Cu2SO4 or CuSO4"),
        ("CuSO4·5H2O", "CuSO4·5H2O"),
        ("washing soda", "Na2CO3·10H2O"),
    ] {
        assert_eq!(
            error(&format!("hydrate,name\nMgSO4·7H2O,{name}\n")),
            format!(
                "line 2, `name`: `{name}` is the name of {meanings}, not of MgSO4·7H2O | correct the name or the formula"
            )
        );
    }
    let noted = read(
        "hydrate,name\nZnSO4·7H2O,table salt\nFeSO4·7H2O,iron sulfate heptahydrate\nMgSO4·7H2O,Epsom salt\n",
    );
    let notes: Vec<(&str, &str)> = noted
        .notes()
        .iter()
        .filter(|note| note.code() != "not_heated")
        .map(|note| (note.code(), note.text()))
        .collect();
    assert_eq!(
        notes,
        [(
            "unknown_name",
            "Line 2: `table salt` is not a name that can be read. It is printed as the name of ZnSO4·7H2O. Check it."
        )]
    );
}

#[test]
fn a_name_can_be_printed_whole() {
    let list = |name: &str| format!("hydrate,name\nMgSO4·7H2O,{name}\n");
    assert_eq!(
        error(&list(&"a".repeat(100_000))),
        "line 2, `name`: the name has 100000 characters, and at most 80 are printed | shorten the name"
    );
    let longest = "the salt ".repeat(9);
    let salts = read(&list(&longest));
    let exercises = Exercises::new(1)
        .kinds([Kind::PercentWater])
        .own_salts(salts);
    let set = exercises.set(40).unwrap();
    assert!(
        set.problems()
            .iter()
            .any(|problem| problem.prompt().contains(longest.trim()))
    );
    for name in ["Epsom\u{7} salt", "Epsom \u{202e}salt", "Epsom\u{ad}salt"] {
        let said = error(&list(name));
        assert!(
            said.ends_with(
                "has a character that nobody can see | remove it, or leave the name out"
            ),
            "{said}"
        );
    }
}
