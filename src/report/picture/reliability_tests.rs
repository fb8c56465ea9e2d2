//! The calibration curve of the documentation, drawn from the table that is published with it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use plotters::prelude::{BLACK, ChartBuilder, Color, Rectangle};
use plotters::style::text_anchor::HPos;

use super::super::block::Picture;
use super::canvas::{
    self, Area, BLUE, Drawn, FONT, LINE, Legend, LegendEntry, RUST, Shape, Sign, Stroke, WIDTH,
    faint,
};
use super::figures_tests::is_in_the_docs;

/// A tenth of the stated probabilities: how many hypotheses a bench has in it, what was stated of them on
/// average, and how many were true.
struct Tenth {
    from: f64,
    per_bench: f64,
    stated: f64,
    seen: f64,
}

/// The priors of the table, with how each is drawn and its words.
fn priors() -> [(&'static str, Stroke, Shape, &'static str); 3] {
    [
        (
            "as_stated",
            Stroke::solid(&BLACK, 2),
            Shape::Disc,
            "priors right",
        ),
        (
            "tripled",
            Stroke::solid(&RUST, 2).dashed(8, 4),
            Shape::Triangle,
            "three times too high",
        ),
        (
            "a_third",
            Stroke::solid(&BLUE, 2).dashed(3, 4),
            Shape::Ring,
            "three times too low",
        ),
    ]
}

/// The tenths of the table with these priors.
fn tenths(priors: &str) -> Vec<Tenth> {
    let rows = include_str!("../../mistake/reliability.csv").lines();
    let rows = rows.filter_map(|row| row.strip_prefix(priors)?.strip_prefix(','));
    let tenths = rows.map(|row| {
        let cells: Vec<f64> = row.split(',').map(|cell| cell.parse().unwrap()).collect();
        let [from, _, per_bench, stated, seen] = cells[..] else {
            panic!("{row}")
        };
        Tenth {
            from,
            per_bench,
            stated,
            seen,
        }
    });
    tenths.collect()
}

/// The heights of the two parts of the picture.
const HEIGHTS: [i32; 2] = [440, 190];

/// The calibration curve: what came true by what was stated, and below it how often it is stated.
fn calibration_curve() -> Picture {
    let diagonal = Stroke::solid(&BLACK.mix(0.6), 2).dashed(6, 6);
    let entries = priors()
        .map(|(_, stroke, shape, words)| LegendEntry(Sign::Marked(stroke, shape), words.into()));
    let diagonal_words = LegendEntry(Sign::Line(diagonal), "as often as stated".into());
    let legend = Legend::new(entries.into_iter().chain([diagonal_words]).collect());
    let height = legend.height + HEIGHTS[0] + HEIGHTS[1];
    canvas::picture("reliability.svg", height, words(), |area| {
        legend.draw(area)?;
        let [above, below] = HEIGHTS.map(|height| (WIDTH, height as u32));
        curve(
            &area.clone().shrink((0, legend.height), above),
            area,
            diagonal,
        )?;
        bars(
            &area.clone().shrink((0, legend.height + HEIGHTS[0]), below),
            area,
        )
    })
    .unwrap()
}

fn curve<'b>(part: &Area<'b>, area: &Area<'b>, diagonal: Stroke) -> Drawn<'b> {
    let mut chart = ChartBuilder::on(part)
        .margin(10)
        .margin_right(25)
        .x_label_area_size(50)
        .y_label_area_size(65)
        .build_cartesian_2d(0.0..1.0, 0.0..1.0)?;
    chart
        .configure_mesh()
        .light_line_style(BLACK.mix(0.0))
        .bold_line_style(faint())
        .x_desc("stated probability of a hypothesis")
        .y_desc("part of them that is true")
        .x_label_formatter(&|x| format!("{x:.1}"))
        .y_label_formatter(&|y| format!("{y:.1}"))
        .axis_desc_style(FONT)
        .label_style(FONT)
        .draw()?;
    let at = |x: f64, y: f64| chart.backend_coord(&(x, y));
    canvas::line(area, &[at(0.0, 0.0), at(1.0, 1.0)], diagonal)?;
    for (priors, stroke, shape, _) in priors() {
        let points = tenths(priors)
            .into_iter()
            .map(|tenth| at(tenth.stated, tenth.seen));
        let points: Vec<_> = points.collect();
        canvas::line(area, &points, stroke)?;
        for point in points {
            canvas::mark(area, point, shape, stroke.style.color)?;
        }
    }
    Ok(())
}

/// Draws how many hypotheses of a bench are in each tenth. The first tenth is far higher than the picture.
fn bars<'b>(part: &Area<'b>, area: &Area<'b>) -> Drawn<'b> {
    let mut chart = ChartBuilder::on(part)
        .margin(10)
        .margin_top(LINE)
        .margin_right(25)
        .x_label_area_size(30)
        .y_label_area_size(65)
        .build_cartesian_2d(0.0..1.0, 0.0..1.0)?;
    chart
        .configure_mesh()
        .disable_x_mesh()
        .light_line_style(BLACK.mix(0.0))
        .bold_line_style(faint())
        .y_desc("for each bench")
        .y_labels(3)
        .x_label_formatter(&|x| format!("{x:.1}"))
        .y_label_formatter(&|y| format!("{y:.1}"))
        .axis_desc_style(FONT)
        .label_style(FONT)
        .draw()?;
    let at = |x: f64, y: f64| chart.backend_coord(&(x, y));
    for (index, (priors, stroke, _, _)) in (0..).zip(priors()) {
        for tenth in tenths(priors) {
            let left = tenth.from + 0.014 + 0.025 * f64::from(index);
            let corners = [at(left, 0.0), at(left + 0.021, tenth.per_bench.min(1.0))];
            area.draw(&Rectangle::new(corners, stroke.style.color.filled()))?;
        }
    }
    let first = tenths("as_stated")
        .first()
        .map_or(0.0, |tenth| tenth.per_bench);
    let (x, y) = at(0.11, 0.93);
    canvas::text(
        area,
        &format!("{first:.1} in the first tenth"),
        (x, y),
        HPos::Left,
    )
}

fn words() -> String {
    let mut words = String::from(
        "How often a hypothesis is true, by the probability that was stated. Below are bars of how many hypotheses of \
         a bench are in each tenth, in the same order as the legend.",
    );
    for (priors, _, _, name) in priors() {
        let tenths = tenths(priors);
        let apart = tenths.iter().map(|tenth| (tenth.seen - tenth.stated).abs());
        let most = 100.0 * apart.fold(0.0, f64::max);
        let top = tenths.last().map_or(0.0, |tenth| 100.0 * tenth.seen);
        words += &format!(
            " With {name}: at most {most:.0} percentage points from the diagonal; above 90 %, {top:.1} % are true.",
        );
    }
    words
}

#[test]
fn the_calibration_curve_of_the_docs_is_what_is_drawn() {
    for (priors, ..) in priors() {
        assert_eq!(tenths(priors).len(), 10, "{priors}");
    }
    is_in_the_docs("src/mistake/reliability.svg", &calibration_curve());
}
