//! A class made in code is the class that a file would give.

use super::*;
use crate::class::{Entry, Marker};
use crate::gravimetry::{Method, Net, Quantity, Weighings};

/// `mark` reads an answer as a sheet does.
#[test]
fn an_answer_that_nobody_knows_is_missing() {
    for text in ["idk", "?", "-", "n/a", " "] {
        let entry = Entry::new("Heron").reported(Quantity::Ratio, text);
        assert_eq!(entry.unreadable().count(), 0, "{text}");
        let sheet = Sheet::of([entry]);
        let reported = &sheet.rows()[0].reported()[0];
        assert_eq!(reported.value(), &ReportedValue::Missing);
    }
    let entry = Entry::new("Heron").reported(Quantity::Ratio, "6.99 \u{B1} 0.02");
    assert_eq!(entry.unreadable().count(), 0);
}

fn reading(text: &str) -> Reading {
    text.parse().unwrap()
}

fn series(container: &str, with_hydrate: &str, heated: &[&str]) -> Weighings {
    let heated = heated.iter().map(|text| reading(text));
    Weighings::new(reading(container), reading(with_hydrate), heated)
}

/// A row that states its step is compared with that step, the others with what they show themselves.
#[test]
fn coarser_readings_are_noted_by_the_step_that_they_are_coarser_than() {
    let net = |bench: &str| {
        let net = Weighings::net(reading("2.5"), reading("1.2"), Net::Tared);
        Entry::new(bench).weighings(net)
    };
    let own = net("A").readability(reading("0.001"));
    let sheet = Sheet::of([own.clone(), net("B")]);
    let text = |sheet: &Sheet| {
        let notes = sheet.notes().iter();
        let texts = notes.map(|note| (note.code().to_string(), note.text().to_string()));
        texts.collect::<Vec<_>>()
    };
    let stated = "2 of 2 readings have fewer decimal places than the balance shows (0.001 g). Final zeros \
                  that a spreadsheet dropped cost nothing.";
    assert_eq!(text(&sheet), [("coarser_reading".into(), stated.into())]);
    let fine = Weighings::net(reading("2.5"), reading("1.25"), Net::Tared);
    let sheet = Sheet::of([own, Entry::new("B").weighings(fine)]);
    let shown = "1 of 2 readings has fewer decimal places than the balance shows (0.01 g, shown in line 2). \
                 Final zeros that a spreadsheet dropped cost nothing.";
    assert_eq!(
        text(&sheet),
        [shown, stated].map(|text| ("coarser_reading".into(), text.into()))
    );
}

fn marker() -> Marker {
    Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new())
}

#[test]
fn entries_give_the_sheet_that_a_file_gives() {
    let text = "\
bench,pupil,balance,period,issued,readability_g,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,reported_water_g,reported_ratio,reported_formula
Heron,a,old,2,,,21.352,24.018,22.656,22.655,1.363 g,1 : 6.99,MgSO4.7H2O
Heron,b,old,2,,,,,,,1.373,7.04,
Wren,,new,3,MgSO4.6H2O,0.01,20.1,22.98,21.519,21.518,-,7.0x,MgS04
,,,,,,20.1,22.98,21.519,21.518,,,
Rook,,,,,,,,,,,,
";
    let file = Sheet::read(text.as_bytes()).unwrap();
    let of = |entry: Entry, [water, ratio, formula]: [&str; 3]| {
        entry
            .reported(Quantity::Formula, formula)
            .reported(Quantity::Ratio, "to be replaced")
            .reported(Quantity::WaterMass, water)
            .reported(Quantity::Ratio, ratio)
    };
    let heron = |pupil: &str| {
        Entry::new(" Heron ")
            .pupil(pupil)
            .balance("old")
            .period("2")
    };
    let [c, b, first, last] = ["20.1", "22.98", "21.519", "21.518"];
    let made = Sheet::of([
        of(
            heron("a").weighings(series("21.352", "24.018", &["22.656", "22.655"])),
            ["1.363 g", "1 : 6.99", "MgSO4.7H2O"],
        ),
        of(heron("b"), ["1.373", "7.04", ""]),
        of(
            Entry::new("Wren")
                .pupil(" ")
                .balance("new")
                .period("3")
                .issued("MgSO4.6H2O")
                .readability(reading("0.01"))
                .weighings(series(c, b, &[first, last])),
            ["-", "7.0x", "MgS04"],
        ),
        of(
            Entry::new("").weighings(series(c, b, &[first, last])),
            [""; 3],
        ),
        of(Entry::new("Rook"), [""; 3]),
    ]);
    assert_eq!(made.rows().len(), file.rows().len());
    for (index, (made_row, read)) in made.rows().iter().zip(file.rows()).enumerate() {
        // The rows of a file are below a header.
        assert_eq!(made_row.line() + 1, read.line());
        assert_eq!(made_row.reported(), read.reported());
        assert_eq!(made_row.pupil(), read.pupil());
        assert_eq!(made_row.balance(), read.balance());
        assert_eq!(made_row.period(), read.period());
        assert_eq!(made_row.issued(), read.issued());
        assert_eq!(made_row.crucible(), read.crucible());
        assert_eq!(made_row.crucible_hydrate(), read.crucible_hydrate());
        assert_eq!(made_row.heated(), read.heated());
        assert_eq!(made_row.hydrate_mass(), read.hydrate_mass());
        assert_eq!(made_row.residue_mass(), read.residue_mass());
        assert_eq!(made_row.percent_water(), read.percent_water());
        assert_eq!(made.readability(index), file.readability(index));
        let holder = |sheet: &Sheet| sheet.readings_of(index)?.crucible();
        assert_eq!(holder(&made), holder(&file));
    }
    assert_eq!(made.reported_columns(), file.reported_columns());
    let problems = |sheet: &Sheet| -> Vec<(String, &'static str)> {
        let all = sheet.problems().iter();
        all.map(|p| (p.column().to_string(), p.code())).collect()
    };
    assert_eq!(problems(&made), problems(&file));
    let (made, file) = (marker().mark(&made), marker().mark(&file));
    assert_eq!(made.pooled(), file.pooled());
    for (made, read) in made.rows().iter().zip(file.rows()) {
        assert_eq!(made.answers(), read.answers());
        assert_eq!(made.dehydration(), read.dehydration());
    }
}

#[test]
fn every_form_of_readings_is_worked_out() {
    let ratio = |weighings: Weighings| {
        let marked = marker().mark_entry(Entry::new("Heron").weighings(weighings));
        assert_eq!(marked.problems(), []);
        let run = marked.row().unwrap().dehydration().unwrap().clone();
        (
            run.ratio().to_decimal().unwrap().round_dp(4).to_string(),
            run.standard_uncertainty(),
        )
    };
    let net = |net| Weighings::net(reading("2.666"), reading("1.303"), net);
    let (tared, u_tared) = ratio(net(Net::Tared));
    let (subtracted, u_subtracted) = ratio(net(Net::Subtracted));
    assert_eq!((&*tared, &*subtracted), ("6.9888", "6.9888"));
    assert!(u_subtracted > u_tared, "{u_subtracted} {u_tared}");
    let (percent, _) = ratio(Weighings::percent_water(reading("51.125")));
    assert_eq!(percent, "6.9887");
}

/// A percentage was not read off the balance of the other benches.
#[test]
fn a_percentage_takes_no_readability_from_others() {
    let percent = Entry::new("Wren").weighings(Weighings::percent_water(reading("51.1")));
    let heron = Entry::new("Heron").weighings(series("21.352", "24.018", &["22.655"]));
    let together = marker().mark(&Sheet::of([heron, percent.clone()]));
    let alone = marker().mark_entry(percent);
    assert_eq!(
        together.rows()[1].dehydration(),
        alone.row().unwrap().dehydration()
    );
}

#[test]
fn what_is_wrong_with_an_entry_is_a_problem() {
    let entry = Entry::new("Heron")
        .readability(reading("0"))
        .weighings(series("21.352", "24.018", &["22.655"]))
        .reported(Quantity::Ratio, "6,99");
    let unreadable: Vec<(Quantity, String)> = entry.unreadable().collect();
    let message = "`6,99` has a decimal comma. Write 6.99.";
    assert_eq!(unreadable, [(Quantity::Ratio, message.to_string())]);
    let sheet = Sheet::of([entry, Entry::new(" – ")]);
    let said: Vec<String> = sheet.problems().iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "line 1, `readability_g`, bench Heron: `0` is not a readability. Write the smallest \
             step of the balance in g, such as 0.001.",
            "line 1, `reported_ratio`, bench Heron: `6,99` has a decimal comma. Write 6.99.",
            "line 2, `bench`, bench line 2: no bench is named, so the row shares no readings. \
             Write the bench in every row.",
            "line 2, `crucible_g`, bench line 2: no row of this bench has readings. Write them in \
             one of its rows.",
        ]
    );
    // The division that is none does not count.
    let division = sheet.readability(0).unwrap();
    assert_eq!(division.to_string(), "0.001");
}

#[test]
fn impossible_masses_are_told() {
    let swapped = Entry::new("Heron").weighings(series("24.018", "21.352", &["22.656"]));
    let marked = marker().mark_entry(swapped);
    let error = marked.row().unwrap().error().unwrap();
    assert_eq!(error.code(), "impossible_masses");
    assert_eq!(marked.problems()[0].column(), "crucible_hydrate_g");
    let too_much = Entry::new("Heron").weighings(Weighings::percent_water(reading("100")));
    let marked = marker().mark_entry(too_much);
    assert_eq!(marked.problems()[0].code(), "impossible_masses");
    assert_eq!(marked.problems()[0].column(), "percent_water");
    assert!(Sheet::of([]).rows().is_empty());
}

#[test]
fn stand_in_readings_are_marked_and_not_pooled() {
    let heron = |pupil: &str| Entry::new("Heron").pupil(pupil);
    let sheet = Sheet::of([
        Entry::new("Wren").weighings(series("20.1", "22.98", &["21.519"])),
        heron("a")
            .weighings(series("21.3520", "24.0180", &["22.6550"]))
            .stand_in(true),
        heron("b"),
    ]);
    let stand_in: Vec<bool> = (0..3).map(|row| sheet.stand_in(row)).collect();
    assert_eq!(stand_in, [false, true, true]);
    let marked = marker().mark(&sheet);
    assert!(marked.rows()[1].dehydration().is_some());
    assert_eq!(marked.pooled().n(), 1);
    // Nobody read them off the balance.
    let division = sheet.readability(0).unwrap();
    assert_eq!(division.to_string(), "0.001");
}
