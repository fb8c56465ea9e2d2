//! The picture of a plan: how uncertain x is, by the mass of hydrate and the balance.
//!
//! It is not drawn on WebAssembly. There, plotters asks the page of a browser how wide a text is, and panics if
//! there is no page.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use plotters::prelude::{
    BLACK, Cartesian2d, ChartBuilder, ChartContext, Circle, Color, Cross, DashedLineSeries,
    DrawResult, IntoDrawingArea, IntoLogRange, LineSeries, LogCoord, PathElement, RGBColor,
    Rectangle, SVGBackend, SeriesLabelPosition, TriangleMarker, WHITE,
};

use super::block::Picture;
use super::html::escaped;
use super::numbers::grams;
use crate::gravimetry::Plan;
use crate::number::{Ratio, TieRule};

/// The width and the height of the picture.
const SIZE: (u32, u32) = (720, 520);
/// The number of points on a line.
const POINTS: u32 = 13;
/// The least and the greatest number that the axes show. No real balance is near them.
const SHOWN: (f64, f64) = (1e-9, 1e9);
const FONT: &str = "sans-serif";
const GREY: RGBColor = RGBColor(222, 222, 222);
/// Dark colours. The lines are also distinguished by their dashes and their marks.
const COLOURS: [RGBColor; 5] = [
    RGBColor(0, 0, 0),
    RGBColor(0, 70, 140),
    RGBColor(150, 40, 0),
    RGBColor(0, 95, 60),
    RGBColor(95, 0, 110),
];
/// The lengths of a dash and of the gap after it, for each line; none for a solid line.
const DASHES: [Option<(i32, i32)>; 5] = [
    None,
    Some((10, 4)),
    Some((4, 4)),
    Some((16, 6)),
    Some((2, 6)),
];

type Chart<'a, 'b> = ChartContext<'a, SVGBackend<'b>, Cartesian2d<LogCoord<f64>, LogCoord<f64>>>;

/// A line of the picture: the uncertainty on one balance.
struct Line {
    name: String,
    points: Vec<(f64, f64)>,
}

/// Draws the picture. `None` if its numbers are too large or too small to be drawn.
pub(super) fn picture(plan: &Plan) -> Option<Picture> {
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
    // The key is above the lines.
    let most = all.iter().fold(0.0, |a: f64, b| a.max(*b)) * 100.0;
    let shown = |number: f64| (SHOWN.0..SHOWN.1).contains(&number);
    if ![masses.1, least, most].into_iter().all(shown) {
        return None;
    }
    let mut svg = String::new();
    let band = (low.to_f64(), high.to_f64());
    draw(&mut svg, &lines, band, half, (masses, (least, most))).ok()?;
    let words = words(plan);
    Some(Picture {
        svg: with_words(&svg, &words)?,
        file: "plan.svg",
        words,
    })
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

type Range = (f64, f64);

fn draw<'b>(
    svg: &'b mut String,
    lines: &[Line],
    band: Range,
    half: Option<f64>,
    (x, y): (Range, Range),
) -> DrawResult<(), SVGBackend<'b>> {
    let area = SVGBackend::with_string(svg, SIZE).into_drawing_area();
    area.fill(&WHITE)?;
    let mut chart = ChartBuilder::on(&area)
        .margin(10)
        .margin_right(25)
        .x_label_area_size(45)
        .y_label_area_size(65)
        .build_cartesian_2d((x.0..x.1).log_scale(), (y.0..y.1).log_scale())?;
    let grey = Rectangle::new([(band.0, y.0), (band.1, y.1)], GREY.filled());
    chart
        .draw_series([grey])?
        .label("weigh out this much")
        .legend(|(x, y)| Rectangle::new([(x, y - 5), (x + 30, y + 5)], GREY.filled()));
    chart
        .configure_mesh()
        .light_line_style(WHITE.mix(0.0))
        .bold_line_style(RGBColor(190, 190, 190))
        .x_desc("mass of hydrate / g")
        .y_desc("expanded uncertainty of x")
        .x_label_formatter(&number)
        .y_label_formatter(&number)
        .axis_desc_style((FONT, 16))
        .label_style((FONT, 14))
        .draw()?;
    if let Some(half) = half {
        let style = BLACK.stroke_width(4);
        chart
            .draw_series(LineSeries::new([(x.0, half), (x.1, half)], style))?
            .label("largest that is enough")
            .legend(move |(x, y)| PathElement::new([(x, y), (x + 30, y)], style));
    }
    for (index, line) in lines.iter().enumerate() {
        draw_line(&mut chart, index, line)?;
    }
    chart
        .configure_series_labels()
        .position(SeriesLabelPosition::UpperRight)
        .legend_area_size(40)
        .border_style(BLACK)
        .background_style(WHITE.filled())
        .label_font((FONT, 14))
        .draw()?;
    drop(chart);
    area.present()
}

/// Draws a line with its dashes and its marks: discs, rings, triangles, crosses or dots.
fn draw_line<'b>(
    chart: &mut Chart<'_, 'b>,
    index: usize,
    line: &Line,
) -> DrawResult<(), SVGBackend<'b>> {
    let index = index % COLOURS.len();
    let colour = COLOURS.get(index).copied().unwrap_or(BLACK);
    let style = colour.stroke_width(2);
    let points = line.points.clone();
    match DASHES.get(index).copied().flatten() {
        Some((dash, gap)) => {
            let dashed = DashedLineSeries::new(points.clone(), dash, gap, style);
            chart.draw_series(dashed)?;
        }
        None => {
            chart.draw_series(LineSeries::new(points.clone(), style))?;
        }
    }
    // The same mark is drawn in grams and in pixels, so it has two types.
    macro_rules! marked {
        ($mark:expr) => {
            chart
                .draw_series(points.into_iter().map($mark))?
                .label(line.name.clone())
                .legend(move |(x, y)| $mark((x + 15, y)))
        };
    }
    match index {
        0 => marked!(|point| Circle::new(point, 4, style.filled())),
        1 => marked!(|point| Circle::new(point, 4, style)),
        2 => marked!(|point| TriangleMarker::new(point, 5, style.filled())),
        3 => marked!(|point| Cross::new(point, 4, style)),
        _ => marked!(|point| Circle::new(point, 2, style.filled())),
    };
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

/// The file with its words for those who do not see it.
fn with_words(svg: &str, words: &str) -> Option<String> {
    let (start, rest) = svg.split_once('>')?;
    let words = escaped(words);
    Some(format!(
        "{start} role=\"img\" aria-label=\"{words}\">{rest}"
    ))
}
