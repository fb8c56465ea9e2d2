//! The picture of a plan: how uncertain x is, by the mass of hydrate and the balance.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use plotters::prelude::{BLACK, ChartBuilder, Color, IntoLogRange, Rectangle};

use super::super::block::Picture;
use super::super::numbers::grams;
use super::canvas::{
    self, Area, BLUE, Drawn, FONT, GREEN, Legend, LegendEntry, PURPLE, RUST, Range, Shape, Sign,
    Stroke, faint, shade,
};
use crate::gravimetry::Plan;
use crate::number::{Ratio, TieRule};

/// The number of points on a line.
const POINTS: u32 = 13;
/// The least and the greatest number that the axes show. No real balance is near them.
const SHOWN: (f64, f64) = (1e-9, 1e9);
/// The height of the picture without its legend.
const HEIGHT: i32 = 430;
const SHAPES: [Shape; 5] = [
    Shape::Disc,
    Shape::Ring,
    Shape::Triangle,
    Shape::Cross,
    Shape::Point,
];
/// The lengths of a dash and of the gap after it, for each line; none for a solid line.
const DASHES: [Option<(i32, i32)>; 5] = [
    None,
    Some((10, 4)),
    Some((4, 4)),
    Some((16, 6)),
    Some((2, 6)),
];

/// A line of the picture: the uncertainty on one balance.
struct Line {
    name: String,
    points: Vec<(f64, f64)>,
}

/// Draws the picture. `None` if its numbers are too large or too small to be drawn.
pub(in crate::report) fn plan_picture(plan: &Plan) -> Option<Picture> {
    let [low, high] = plan.weigh_between();
    let masses = (0.09, (3.0 * high.to_f64()).max(10.0));
    let lines: Vec<Line> = plan
        .balances()
        .iter()
        .map(|balance| line(plan, balance.readability(), masses))
        .collect();
    let half = plan.half_distance().map(|half| half.to_f64());
    let all = lines.iter().flat_map(|line| &line.points).map(|(_, y)| *y);
    let all: Vec<f64> = all.chain(half).collect();
    let least = all.iter().fold(f64::INFINITY, |a, b| a.min(*b)) / 1.5;
    let most = all.iter().fold(0.0, |a: f64, b| a.max(*b)) * 1.5;
    let shown = |number: f64| (SHOWN.0..SHOWN.1).contains(&number);
    if ![masses.1, least, most].into_iter().all(shown) {
        return None;
    }
    let band = (low.to_f64(), high.to_f64());
    let legend = legend(&lines, half);
    canvas::picture("plan.svg", legend.height + HEIGHT, words(plan), |area| {
        draw(area, &lines, &legend, band, half, (masses, (least, most)))
    })
}

fn legend(lines: &[Line], half: Option<f64>) -> Legend {
    let band = LegendEntry(Sign::Band(shade()), "weigh out this much".into());
    let half = half.map(|_| LegendEntry(Sign::Line(enough()), "largest that is enough".into()));
    let lines = lines.iter().enumerate().map(|(index, line)| {
        let (stroke, shape) = look(index);
        LegendEntry(Sign::Marked(stroke, shape), line.name.clone())
    });
    Legend::new([band].into_iter().chain(half).chain(lines).collect())
}

/// The line at the largest uncertainty that is enough.
fn enough() -> Stroke {
    Stroke::solid(&BLACK, 4)
}

/// How the line of a balance looks. Lines are also distinguished by their dashes and their marks.
fn look(index: usize) -> (Stroke, Shape) {
    let colours = [BLACK, BLUE, RUST, GREEN, PURPLE];
    let colour = colours.get(index % colours.len()).copied();
    let mut stroke = Stroke::solid(&colour.unwrap_or(BLACK), 2);
    stroke.dash = DASHES.get(index % DASHES.len()).copied().flatten();
    let shape = SHAPES.get(index % SHAPES.len()).copied();
    (stroke, shape.unwrap_or(Shape::Disc))
}

fn line(plan: &Plan, readability: &Ratio, (first, last): (f64, f64)) -> Line {
    let step = (last / first).powf(1.0 / f64::from(POINTS - 1));
    let points = (0..POINTS).filter_map(|n| {
        let mass = Ratio::from_float(first * step.powf(f64::from(n)))?;
        let uncertainty = plan.expanded_uncertainty(&mass, readability);
        Some((mass.to_f64(), uncertainty))
    });
    Line {
        name: format!("balance that shows {} g", readability.to_plain()),
        points: points.collect(),
    }
}

fn draw<'b>(
    area: &Area<'b>,
    lines: &[Line],
    legend: &Legend,
    band: Range,
    half: Option<f64>,
    (x, y): (Range, Range),
) -> Drawn<'b> {
    legend.draw(area)?;
    let mut chart = ChartBuilder::on(area)
        .margin(10)
        .margin_top(legend.height)
        .margin_right(25)
        .x_label_area_size(50)
        .y_label_area_size(75)
        .build_cartesian_2d((x.0..x.1).log_scale(), (y.0..y.1).log_scale())?;
    let inside = Rectangle::new([(band.0, y.0), (band.1, y.1)], shade());
    chart.draw_series([inside])?;
    chart
        .configure_mesh()
        .light_line_style(BLACK.mix(0.0))
        .bold_line_style(faint())
        .x_desc("mass of hydrate / g")
        .y_desc("expanded uncertainty of x")
        .x_label_formatter(&number)
        .y_label_formatter(&number)
        .axis_desc_style(FONT)
        .label_style(FONT)
        .draw()?;
    let at = |point: &(f64, f64)| chart.backend_coord(point);
    if let Some(half) = half {
        canvas::line(area, &[at(&(x.0, half)), at(&(x.1, half))], enough())?;
    }
    for (index, line) in lines.iter().enumerate() {
        let (stroke, shape) = look(index);
        let points: Vec<_> = line.points.iter().map(at).collect();
        canvas::line(area, &points, stroke)?;
        for point in points {
            canvas::mark(area, point, shape, stroke.style.color)?;
        }
    }
    Ok(())
}

/// A number on an axis, without the noise of binary fractions.
fn number(value: &f64) -> String {
    let value = Ratio::from_float(*value).unwrap_or_default();
    value.to_figures(2, TieRule::Even).value().to_plain()
}

/// The picture in words.
fn words(plan: &Plan) -> String {
    let step = plan.readability();
    let [low, high] = plan.weigh_between().map(|mass| grams(mass, step));
    let balances = plan.balances().iter();
    let balances = balances.map(|balance| balance.readability().to_plain());
    let balances: Vec<String> = balances.collect();
    let mut words = format!(
        "Lines for balances that show {} g fall from left to right: the more hydrate, the more certain x is. A grey \
         band marks {low} g to {high} g.",
        balances.join(" g, ")
    );
    if let (Some(half), Some(other)) = (plan.half_distance(), plan.nearest_other()) {
        let half = half.to_figures(3, TieRule::Even);
        words += &format!(
            " A thick line at {} is the largest uncertainty that distinguishes {} from {other}.",
            half.value().to_plain(),
            plan.issued()
        );
    }
    words
}
