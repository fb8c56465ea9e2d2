//! Sets of problems: how various they are, where the key stands, what the options are.

use std::collections::BTreeSet;

use effloresce::exercise::{Choice, ErrorKind, Exercise, Exercises, Field, Kind, Level};

/// What a problem is about: its salt, its reaction, or its answer where that is the substance.
fn subject(problem: &Exercise) -> String {
    let fields = problem.request().fields();
    let about = [
        "equation",
        "formula",
        "hydrate",
        "salt",
        "issued",
        "sought",
        "components",
    ];
    let named = about
        .iter()
        .find_map(|name| fields.iter().find(|(field, _)| field == name));
    match named {
        Some((_, Field::Text(text))) => text.clone(),
        Some((_, value)) => format!("{value:?}"),
        None => problem.answer(),
    }
}

/// 100 seeds of a kind hold at least 95 different problems, 15 salts or reactions and four forms, at any level.
pub(crate) fn are_various(kind: Kind) {
    let problem = |seed| Exercises::new(seed).kinds([kind]).problem(0).unwrap();
    let problems: Vec<Exercise> = (0..100).map(problem).collect();
    let count =
        |of: &dyn Fn(&Exercise) -> String| problems.iter().map(of).collect::<BTreeSet<_>>().len();
    let prompts = count(&|problem| problem.prompt().into());
    let subjects = count(&subject);
    let forms = count(&|problem| problem.form().into());
    assert!(prompts >= 95, "{kind}: {prompts} prompts");
    assert!(subjects >= 15, "{kind}: {subjects} salts or reactions");
    assert!(forms >= 4, "{kind}: {forms} forms");
    assert!(
        problems
            .iter()
            .all(|problem| !problem.prompt().contains("CuSO4")),
        "{kind}"
    );
    for level in Level::ALL {
        let exercises = |seed| Exercises::new(seed).kinds([kind]).level(level);
        let prompts = (0..100).map(|seed| {
            exercises(seed)
                .problem(0)
                .map(|problem| problem.prompt().to_string())
        });
        match prompts.collect::<Result<BTreeSet<String>, _>>() {
            Ok(prompts) => assert!(
                prompts.len() >= 95,
                "{kind}, level {}: {}",
                level.number(),
                prompts.len()
            ),
            Err(error) => assert_eq!(error.kind(), ErrorKind::Level, "{error}"),
        }
    }
}

/// In 1,000 sets the key is in each of four places in 20 to 30 %, and options differ as printed.
pub(crate) fn have_fair_options(kind: Kind) {
    let mut places = [0_u32; 4];
    for seed in 0..1000 {
        let problem = Exercises::new(seed).kinds([kind]).problem(0).unwrap();
        let options = problem.options();
        let right = options
            .iter()
            .position(|option| option.wrong_step().is_none())
            .unwrap();
        places[right] += 1;
        let texts: BTreeSet<&str> = options.iter().map(Choice::text).collect();
        assert_eq!(texts.len(), 4, "{}", problem.prompt());
    }
    assert!(
        places.iter().all(|count| (200..=300).contains(count)),
        "{kind}: {places:?}"
    );
}
