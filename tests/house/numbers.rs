//! Readings that come as JSON numbers: they are read by their digits, and noted.

use serde_json::{Value, json};

use crate::filter::reply;

/// The notes of a reply on weighings that came as numbers: the fields, and how many more there are.
fn noted(request: &Value) -> Vec<(String, String)> {
    let reply = reply(request);
    assert_eq!(reply["ok"], true, "{reply}");
    let result = &reply["result"];
    let lists = ["notes", "warnings", "reasons"].map(|list| result[list].as_array());
    let notes = lists.into_iter().flatten().flatten();
    let notes = notes.filter(|note| note["code"] == "number_not_text");
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    notes
        .map(|note| {
            (
                text(&note["values"]["fields"]),
                text(&note["values"]["more"]),
            )
        })
        .collect()
}

fn with(mut request: Value, more: Value) -> Value {
    let members = request.as_object_mut().expect("an object");
    let Value::Object(more) = more else {
        panic!("an object");
    };
    members.extend(more);
    request
}

#[test]
fn a_weighing_that_is_a_number_is_noted() {
    let all = [(
        "crucible, crucible_hydrate, heated".to_owned(),
        String::new(),
    )];
    let numbers =
        json!({"crucible": 21.352, "crucible_hydrate": 24.018, "heated": [22.66, 22.655]});
    let texts =
        json!({"crucible": "21.352", "crucible_hydrate": "24.018", "heated": ["22.660", "22.655"]});
    let net = json!({"hydrate_mass": "2.666", "residue_mass": 1.3});
    for request in [
        json!({"op": "dehydration", "salt": "MgSO4"}),
        json!({"op": "check", "issued": "MgSO4·7H2O"}),
        json!({"op": "mark", "issued": "MgSO4·7H2O", "reported": {"ratio": 7}}),
    ] {
        assert_eq!(noted(&with(request.clone(), numbers.clone())), all);
        // With a readability nothing is lost.
        let known = with(
            with(request.clone(), numbers.clone()),
            json!({"readability": 0.001}),
        );
        assert!(noted(&known).is_empty());
        assert!(noted(&with(request.clone(), texts.clone())).is_empty());
        if request["op"] != "check" {
            let residue = [("residue_mass".to_owned(), String::new())];
            assert_eq!(noted(&with(request.clone(), net.clone())), residue);
        }
        let one = with(
            with(request, texts.clone()),
            json!({"heated": ["22.660", 22.655]}),
        );
        assert_eq!(noted(&one), [("heated".to_owned(), String::new())]);
    }
    let request = with(json!({"op": "dehydration", "salt": "MgSO4"}), numbers);
    let warnings = &reply(&request)["result"]["warnings"];
    let text = "`crucible`, `crucible_hydrate` and `heated` came as numbers. Final zeros may be gone, and \
                with them what the balance shows. Send readings as text, such as \"2.50\", or give \
                `readability`.";
    assert!(
        warnings
            .as_array()
            .is_some_and(|all| all.iter().any(|w| w["text"] == text)),
        "{warnings}"
    );
}

#[test]
fn masses_of_an_analysis_are_weighings() {
    let analysis = |masses: Value| json!({"op": "empirical", "masses": masses});
    let fields = [("masses.Mg, masses.O".to_owned(), String::new())];
    assert_eq!(noted(&analysis(json!({"Mg": 2.43, "O": 1.6}))), fields);
    assert!(noted(&analysis(json!({"Mg": "2.43", "O": "1.60"}))).is_empty());
    let percent = |percent: Value| json!({"op": "empirical", "percent": percent});
    let fields = [("percent.Mg, percent.O".to_owned(), String::new())];
    assert_eq!(noted(&percent(json!({"Mg": 60.3, "O": 39.7}))), fields);
    assert!(noted(&percent(json!({"Mg": "60.3", "O": "39.7"}))).is_empty());
    let burnt = json!({"sample": 1.5, "CO2": "2.2", "H2O": 0.9, "by_difference": "O"});
    let fields = [(
        "combustion.H2O, combustion.sample".to_owned(),
        String::new(),
    )];
    assert_eq!(
        noted(&json!({"op": "empirical", "combustion": burnt})),
        fields
    );
}

#[test]
fn a_percentage_of_water_is_a_reading() {
    let alone = [("percent_water".to_owned(), String::new())];
    let in_a_row = [("rows[0].percent_water".to_owned(), String::new())];
    let requests = |percent: Value| {
        let row = json!({"bench": "A", "percent_water": percent});
        [
            json!({"op": "dehydration", "salt": "MgSO4", "percent_water": percent}),
            json!({"op": "mark", "issued": "MgSO4·7H2O", "percent_water": percent, "reported": {}}),
            json!({"op": "class", "issued": "MgSO4·7H2O", "rows": [row]}),
        ]
    };
    for (request, fields) in requests(json!(51.2))
        .iter()
        .zip([&alone, &alone, &in_a_row])
    {
        assert_eq!(noted(request), *fields);
        assert!(noted(&with(request.clone(), json!({"readability": "0.01"}))).is_empty());
    }
    assert!(
        requests(json!("51.20"))
            .iter()
            .all(|request| noted(request).is_empty())
    );
}

#[test]
fn rows_of_a_class_are_noted_together() {
    let row = |number: bool| match number {
        true => json!({"bench": "A", "hydrate_mass": 2.666, "residue_mass": 1.3}),
        false => json!({"bench": "A", "hydrate_mass": "2.666", "residue_mass": "1.300"}),
    };
    let class = |rows: Vec<Value>| json!({"op": "class", "issued": "MgSO4·7H2O", "rows": rows});
    let request = class(vec![
        row(false),
        row(true),
        with(row(true), json!({"readability": "0.001"})),
    ]);
    let fields = "rows[1].hydrate_mass, rows[1].residue_mass";
    assert_eq!(noted(&request), [(fields.to_owned(), String::new())]);
    assert!(noted(&with(request, json!({"readability": "0.001"}))).is_empty());
    // A class of floats has one note, of bounded length.
    let found = noted(&class(vec![row(true); 100]));
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].1, "188");
    assert!(found[0].0.ends_with(", rows[5].residue_mass"), "{found:?}");
}

#[test]
fn a_lost_zero_changes_what_the_balance_shows() {
    // The same bench on a balance that reads to 0.001 g. As numbers, all final zeros are gone.
    let bench = |readings: Value| {
        let request = with(json!({"op": "dehydration", "salt": "MgSO4"}), readings);
        reply(&request)["result"].clone()
    };
    let text =
        json!({"crucible": "21.350", "crucible_hydrate": "24.020", "heated": ["22.650", "22.650"]});
    let number = json!({"crucible": 21.35, "crucible_hydrate": 24.02, "heated": [22.65, 22.65]});
    let exact = bench(text);
    let lossy = bench(number.clone());
    assert_eq!(exact["ratio"], lossy["ratio"]);
    assert_ne!(exact["ratio_uncertainty"], lossy["ratio_uncertainty"]);
    assert_eq!(
        (&exact["outcome"], &lossy["outcome"]),
        (&json!("approximate"), &json!("resolved"))
    );
    let told = bench(with(number, json!({"readability": "0.001"})));
    assert_eq!(exact["ratio_uncertainty"], told["ratio_uncertainty"]);
    assert_eq!(exact["outcome"], told["outcome"]);
    // A difference that a program has worked out has digits of its own.
    let difference = bench(json!({"hydrate_mass": 2.666_000_000_000_000_4, "residue_mass": 1.303}));
    let text = &difference["warnings"][0]["text"];
    assert!(
        text.as_str()
            .is_some_and(|text| text.contains("a calculation left behind")),
        "{text}"
    );
}
