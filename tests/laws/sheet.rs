//! Class sheets: anything is read, marked and printed, or refused. How a spreadsheet writes a sheet
//! costs nobody a mark.

use effloresce::class::{
    Answer, HandMarks, Marked, MarkedRow, Marker, Marks, Problem, ReportedValue, Sheet, Verdict,
};
use effloresce::gravimetry::{Method, WeighingUsed};
use effloresce::report::{
    write_changes, write_during, write_feedback, write_key, write_key_markdown, write_marks,
    write_open_answers,
};
use effloresce::{Formula, Ratio};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use crate::strategies::{Bench, bench, written};

pub(crate) fn header() -> impl Strategy<Value = Vec<String>> {
    let columns = select(vec![
        "bench",
        "Bench",
        "pupil",
        "balance",
        "period",
        "issued",
        "readability_g",
        "notes",
        "crucible_g",
        "crucible_hydrate_g",
        "heated_1_g",
        "heated_2_g",
        "heated_9_g",
        "hydrate_g",
        "residue_g",
        "reported_hydrate_g",
        "reported_residue_g",
        "reported_water_g",
        "reported_percent_water",
        "reported_mol_salt",
        "reported_mol_water",
        "reported_ratio",
        "reported_formula",
        "seat",
        "",
    ]);
    prop_oneof![
        3 => Just(vec!["bench", "issued", "crucible_g", "crucible_hydrate_g", "heated_1_g",
            "heated_2_g", "reported_water_g", "reported_percent_water", "reported_ratio",
            "reported_formula"]),
        1 => Just(vec!["bench", "hydrate_g", "residue_g", "readability_g", "reported_mol_salt",
            "reported_mol_water", "reported_ratio", "reported_formula"]),
        1 => vec(columns, 0..10),
    ]
    .prop_map(|columns| columns.into_iter().map(String::from).collect())
}

pub(crate) fn cell() -> impl Strategy<Value = String> {
    let chosen = select(vec![
        "",
        "",
        "-",
        "n/a",
        "0",
        "0.0",
        "-1",
        "1",
        "7",
        "21.352",
        "24.018",
        "22.656",
        "22.655",
        "1.363",
        "51.13",
        "6.99",
        "1 : 6.99",
        "1:0",
        "x=7",
        "≈7",
        "7:1",
        "1.08×10^-2",
        "1.08 x 10⁻²",
        "absent",
        "Mean",
        "Class mean",
        "x",
        "Heron",
        "MgSO4·7H2O",
        "MgSO4.7H2O",
        "CuSO4·xH2O",
        "Tc2O7·H2O",
        "CUSO4",
        "SO42-",
        "H2O",
        "1e30",
        "1e-30",
        "9e29",
        "-1e-30",
        "1e31",
        "9999999999999999999999999999",
        "0.0000000000000000000000000001",
        "1e99999999999",
        "21,352",
        "1,234.5",
        "21.352 g",
        "1303 mg",
        "51 %",
        "½",
        "\"",
        "\"\"",
        "\u{FEFF}",
        "\t",
        "٣",
        "\u{1F426}",
        "=1+1",
    ]);
    let number = (any::<i64>(), -31_i32..31).prop_map(|(n, e)| format!("{n}e{e}"));
    prop_oneof![
        8 => chosen.prop_map(String::from),
        2 => number,
        1 => any::<String>(),
    ]
}

fn issued() -> impl Strategy<Value = Formula> {
    select(vec![
        "MgSO4·7H2O",
        "CaSO4·½H2O",
        "3CdSO4·8H2O",
        "CuSO4·xH2O",
        "Tc2O7·H2O",
        "NaCl",
        "H2O",
        "H2O·H2O",
        "e-",
        "KAl(SO4)2·12H2O",
        "999999999CuSO4·999999999H2O",
        "C0.001·0.001H2O",
    ])
    .prop_map(|text| text.parse().unwrap())
}

fn print(marked: &Marked) -> Result<(), TestCaseError> {
    let (mut key, mut during) = (String::new(), String::new());
    prop_assert!(write_key(marked, &mut key).is_ok());
    prop_assert!(write_during(marked, &mut during).is_ok());
    prop_assert!(key.ends_with('\n') && during.ends_with('\n'));
    let (mut markdown, mut strips, mut changes) = (String::new(), String::new(), String::new());
    prop_assert!(write_key_markdown(marked, &mut markdown).is_ok());
    let headings = markdown.lines().filter(|line| line.starts_with("## "));
    prop_assert!(headings.count() >= marked.rows().len() + 2);
    prop_assert!(write_feedback(marked, &mut strips).is_ok());
    for line in strips.lines() {
        prop_assert!(line.chars().count() <= 72, "{line}");
    }
    prop_assert!(write_changes(marked, marked, &mut changes).is_ok());
    prop_assert!(
        changes.ends_with("All totals stay the same.\n"),
        "{changes}"
    );
    gradebook(marked)?;
    marks_by_hand(marked)?;
    #[cfg(feature = "serde")]
    {
        let json = serde_json::to_string(marked).unwrap();
        prop_assert!(serde_json::from_str::<serde_json::Value>(&json).is_ok());
    }
    Ok(())
}

/// What is written to be filled in comes back, unless two rows of one name have the same answer open.
fn marks_by_hand(marked: &Marked) -> Result<(), TestCaseError> {
    let mut bytes = Vec::new();
    prop_assert!(write_open_answers(marked, &mut bytes).is_ok());
    let blank = HandMarks::read(bytes.as_slice());
    prop_assert_eq!(blank, Ok(HandMarks::default()));
    let separator = bytes
        .iter()
        .position(|byte| *byte == b'h')
        .map(|index| bytes[index + 1]);
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator.unwrap())
        .from_reader(bytes.as_slice());
    let mut writer = csv::WriterBuilder::new()
        .delimiter(separator.unwrap())
        .from_writer(Vec::new());
    writer.write_record(reader.headers().unwrap()).unwrap();
    for record in reader.records().map(Result::unwrap) {
        let cells = record.iter().take(record.len() - 1);
        writer.write_record(cells.chain(["0"])).unwrap();
    }
    let marks = HandMarks::read(writer.into_inner().unwrap().as_slice()).unwrap();
    match marked.clone().with_hand_marks(&marks) {
        Ok(given) => {
            let open = |row: &MarkedRow| row.answers().iter().any(Answer::by_hand);
            prop_assert!(!given.rows().iter().any(open));
        }
        Err(error) => prop_assert!(error.to_string().contains("several rows"), "{error}"),
    }
    Ok(())
}

/// A line for each row, blanks where there are no marks, and no cell that is a formula.
fn gradebook(marked: &Marked) -> Result<(), TestCaseError> {
    let mut bytes = Vec::new();
    prop_assert!(write_marks(marked, &mut bytes).is_ok());
    // The gradebook separates its cells as the sheet does.
    let after_bench = bytes
        .iter()
        .position(|byte| *byte == b'h')
        .map(|index| bytes[index + 1]);
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(after_bench.unwrap())
        .from_reader(bytes.as_slice());
    let header = reader.headers().unwrap().clone();
    let total = header.iter().position(|name| name == "total").unwrap();
    let records: Vec<_> = reader.records().map(Result::unwrap).collect();
    prop_assert_eq!(records.len(), marked.rows().len());
    for (row, record) in marked.rows().iter().zip(&records) {
        let marks = row
            .total()
            .filter(|_| row.by_hand() == 0)
            .map_or_else(String::new, |total| total.to_string());
        prop_assert_eq!(&record[total], marks);
        for cell in record {
            prop_assert!(!cell.trim().starts_with(['=', '+', '-', '@']), "{cell}");
        }
    }
    Ok(())
}

fn marks_whatever(bytes: &[u8], marker: &Marker) -> Result<(), TestCaseError> {
    let sheet = match Sheet::read(bytes) {
        Ok(sheet) => sheet,
        Err(error) => {
            prop_assert!(!error.to_string().is_empty());
            prop_assert!(error.help().is_some());
            return Ok(());
        }
    };
    let marked = marker.mark(&sheet);
    prop_assert_eq!(marked.rows().len(), sheet.rows().len());
    for (row, read) in marked.rows().iter().zip(sheet.rows()) {
        prop_assert_eq!(row.line(), read.line());
        let Some(so_far) = row.calculation() else {
            prop_assert!(row.answers().is_empty());
            prop_assert_eq!(row.total(), None);
            continue;
        };
        // A bench that could not be worked out has at most a right mass of hydrate, and no total.
        let worked_out = row.percent_water().is_some();
        let right = row
            .answers()
            .iter()
            .filter(|answer| answer.verdict().earns());
        if !worked_out {
            prop_assert!(right.eq(row.answers().first()));
        }
        // A total is final.
        prop_assert_eq!(row.total().is_some(), row.by_hand() == 0 && worked_out);
        // Without the hydrate that was issued only the masses and the percentage are marked.
        prop_assert_eq!(
            row.dehydration().is_some(),
            row.issued().is_some() && worked_out
        );
        let ratio = row
            .dehydration()
            .map(effloresce::gravimetry::Dehydration::ratio);
        prop_assert!(!ratio.is_some_and(effloresce::Ratio::is_negative));
        prop_assert_eq!(row.answers().len(), read.reported().len());
        let most = Marks::from(row.answers().len() as u32);
        prop_assert!(so_far <= most && row.total().unwrap_or_default() <= most);
        for (answer, reported) in row.answers().iter().zip(read.reported()) {
            let missing = *reported.value() == ReportedValue::Missing;
            prop_assert_eq!(answer.verdict() == Verdict::Missing, missing);
            prop_assert!(!answer.reason().is_empty());
        }
    }
    prop_assert!(marked.problems().len() >= sheet.problems().len());
    for problem in marked.problems() {
        let sentence = problem.to_string();
        prop_assert!(!sentence.contains(['\n', '\r']), "{:?}", sentence);
        prop_assert!(sentence.len() < 3000);
    }
    print(&marked)
}

proptest! {
    #[test]
    fn any_bytes_are_marked_or_refused(
        bytes in vec(any::<u8>(), 0..300), issued in issued(),
    ) {
        marks_whatever(&bytes, &Marker::new(issued, Method::new()))?;
    }

    #[test]
    fn any_cells_are_marked_or_refused(
        separator in select(vec![",", ";", "\t"]),
        header in header(),
        rows in vec(vec(cell(), 0..11), 0..7),
        issued in issued(),
        used in select(vec![WeighingUsed::Last, WeighingUsed::Lowest, WeighingUsed::MeanOfLastTwo]),
    ) {
        let mut lines = vec![header.join(separator)];
        lines.extend(rows.iter().map(|row| row.join(separator)));
        let marker = Marker::new(issued, Method::new().weighing_used(used));
        marks_whatever(lines.join("\n").as_bytes(), &marker)?;
    }
}

// --- sound sheets ------------------------------------------------------------------------

/// How a spreadsheet writes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Style {
    separator: char,
    mark: char,
    /// Final zeros of weighings are dropped.
    drops: bool,
    pub(crate) ends: &'static str,
    bom: bool,
}

const PLAIN: Style = Style {
    separator: ',',
    mark: '.',
    drops: false,
    ends: "\n",
    bom: false,
};

pub(crate) fn style() -> impl Strategy<Value = Style> {
    let marks = select(vec![
        (',', '.'),
        (';', '.'),
        (';', ','),
        ('\t', '.'),
        ('\t', ','),
    ]);
    (
        marks,
        any::<bool>(),
        select(vec!["\n", "\r\n"]),
        any::<bool>(),
    )
        .prop_map(|((separator, mark), drops, ends, bom)| Style {
            separator,
            mark,
            drops,
            ends,
            bom,
        })
}

#[derive(Debug, Clone)]
pub(crate) struct Class {
    pub(crate) benches: Vec<Bench>,
    /// What each bench reports: water, percent, ratio, by so much off.
    off: Vec<(i128, i128, i128)>,
    places: u32,
}

pub(crate) fn class() -> impl Strategy<Value = Class> {
    let off = || prop_oneof![3 => Just(0_i128), 1 => -40_i128..40];
    (vec((bench(), (off(), off(), off())), 1..6), 1_u32..=4).prop_map(|(rows, places)| {
        let (mut benches, off): (Vec<Bench>, Vec<_>) = rows.into_iter().unzip();
        // So that one cell of the sheet shows the last place of the balance.
        benches[0].container = benches[0].container / 10 * 10 + 7;
        Class {
            benches,
            off,
            places,
        }
    })
}

pub(crate) fn text(class: &Class, style: Style) -> String {
    let mut out = String::from(if style.bom { "\u{FEFF}" } else { "" });
    let columns = [
        "bench",
        "crucible_g",
        "crucible_hydrate_g",
        "heated_1_g",
        "heated_2_g",
        "heated_3_g",
        "heated_4_g",
        "reported_water_g",
        "reported_percent_water",
        "reported_ratio",
    ];
    let mut row = |cells: Vec<String>| {
        out.push_str(&cells.join(&style.separator.to_string()));
        out.push_str(style.ends);
    };
    row(columns.map(String::from).to_vec());
    let marked = |text: String| text.replace('.', &style.mark.to_string());
    for (number, (bench, off)) in class.benches.iter().zip(&class.off).enumerate() {
        let mass = |units: i128| {
            let text = written(units, class.places);
            marked(match style.drops {
                true => text.trim_end_matches('0').trim_end_matches('.').into(),
                false => text,
            })
        };
        let mut cells = vec![
            format!("B{number}"),
            mass(bench.container),
            mass(bench.with_hydrate()),
        ];
        cells.extend(bench.heated().map(mass));
        cells.resize(7, String::new());
        let water = bench.hydrate - bench.last();
        let percent = 10_000 * water / bench.hydrate;
        let ratio = 669 * water / bench.last();
        let shown = |units: i128, places| marked(written(units.max(0), places));
        cells.push(shown(water + off.0, class.places));
        cells.push(shown(percent + off.1, 2));
        cells.push(shown(ratio + off.2, 2));
        row(cells);
    }
    out
}

/// What a mark rests on, and the mark.
fn marks(marked: &Marked) -> Vec<(Option<Ratio>, Option<bool>, Vec<Verdict>)> {
    let row = |row: &effloresce::class::MarkedRow| {
        let run = row.dehydration();
        (
            run.map(|run| run.ratio().clone()),
            run.and_then(|run| run.constant_mass())
                .and_then(effloresce::gravimetry::Constancy::reached),
            row.answers()
                .iter()
                .map(effloresce::class::Answer::verdict)
                .collect(),
        )
    };
    marked.rows().iter().map(row).collect()
}

proptest! {
    #[test]
    fn how_a_spreadsheet_writes_costs_nothing(class in class(), style in style()) {
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
        let mark = |style| {
            let sheet = Sheet::read(text(&class, style).as_bytes()).unwrap();
            marker.mark(&sheet)
        };
        let (plain, other) = (mark(PLAIN), mark(style));
        prop_assert_eq!(marks(&plain), marks(&other));
        prop_assert_eq!(plain.pooled(), other.pooled());
        prop_assert_eq!(plain.problems().len(), other.problems().len());
        prop_assert!(plain.rows().iter().all(|row| row.dehydration().is_some()));
    }

    /// A ratio is the same by any name. Which way round a pair is, marking finds out.
    #[test]
    fn a_ratio_by_any_name(
        units in 0_i128..100_000,
        places in 0_u32..4,
        name in select(vec!["x=", "X = ", "n =", "≈", "~ ", "x ≈ ", "1:", "1 : ", "1,0 ∶ "]),
    ) {
        let x = written(units, places);
        let reads = |cell: &str| {
            let text = format!("bench;hydrate_g;residue_g;reported_ratio\nA;2,6;1,3;{cell}\n");
            let sheet = Sheet::read(text.as_bytes()).unwrap();
            let problems: Vec<&str> = sheet.problems().iter().map(Problem::code).collect();
            (sheet.rows()[0].reported()[0].value().clone(), problems)
        };
        let (plain, problems) = reads(&x);
        prop_assert_eq!(&plain, &ReportedValue::Number(x.parse().unwrap()));
        prop_assert!(problems.is_empty());
        prop_assert_eq!(reads(&format!("{name}{x}")), (plain.clone(), Vec::new()));
        prop_assert_eq!(reads(&format!("{x} : 1")), (plain, Vec::new()));
    }

    /// A heating that cannot be read costs nothing if the last one can: the ratio and the marks rest
    /// on that, and whether the mass was constant is never reported otherwise than it was.
    #[test]
    fn a_bad_heating_costs_nothing(
        class in class(), which in any::<prop::sample::Index>(), at in any::<prop::sample::Index>(),
    ) {
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
        let sound = text(&class, PLAIN);
        let victim = which.index(class.benches.len());
        let heatings = class.benches[victim].left.len();
        prop_assume!(heatings > 1);
        let mut lines: Vec<String> = sound.lines().map(String::from).collect();
        let mut cells: Vec<&str> = lines[victim + 1].split(',').collect();
        cells[3 + at.index(heatings - 1)] = "22.6S6";
        lines[victim + 1] = cells.join(",");
        let mark = |text: &str| marker.mark(&Sheet::read(text.as_bytes()).unwrap());
        let (before, after) = (mark(&sound), mark(&lines.join("\n")));
        prop_assert_eq!(after.problems().len(), before.problems().len() + 1);
        let (before, after) = (marks(&before), marks(&after));
        for (row, ((ratio, constant, _), (same, known, _))) in before.iter().zip(&after).enumerate() {
            prop_assert!(ratio.is_some());
            prop_assert_eq!(ratio, same);
            prop_assert!(known == constant || row == victim && known.is_none());
        }
        prop_assert_eq!(before.len(), after.len());
    }

    /// A bad cell costs its own bench, and no other.
    #[test]
    fn a_bad_cell_costs_nobody_else(class in class(), which in any::<prop::sample::Index>()) {
        let marker = Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new());
        let sound = text(&class, PLAIN);
        let victim = which.index(class.benches.len());
        let mut lines: Vec<String> = sound.lines().map(String::from).collect();
        let mut cells: Vec<&str> = lines[victim + 1].split(',').collect();
        cells[2] = "2l.5";
        lines[victim + 1] = cells.join(",");
        let mark = |text: &str| marker.mark(&Sheet::read(text.as_bytes()).unwrap());
        let (before, after) = (mark(&sound), mark(&lines.join("\n")));
        prop_assert!(after.rows()[victim].dehydration().is_none());
        prop_assert_eq!(after.problems().len(), before.problems().len() + 1);
        prop_assert_eq!(after.problems()[0].cell(), "2l.5");
        let (mut a, mut b) = (marks(&before), marks(&after));
        a.remove(victim);
        b.remove(victim);
        prop_assert_eq!(a, b);
    }
}
