//! The weighing series of a class: the waters that each heating leaves, bench by bench.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use plotters::prelude::{BLACK, ChartBuilder, Color};
use plotters::style::text_anchor::HPos;

use super::super::bench_names::BenchNames;
use super::super::block::Picture;
use super::super::numbers::short_degree;
use super::canvas::{
    self, Area, BLUE, Drawn, FONT, LINE, Legend, LegendEntry, Point, Range, Shape, Sign, Stroke,
    WIDTH, cut_to, is_inside, tick, width_of,
};
use super::salt_benches::{BenchPoint, SaltBenches, benches, by_salt, named};
use crate::class::Marked;
use crate::formula::Formula;
use crate::gravimetry::{Candidate, Weighings};
use crate::number::{Ratio, TieRule};

/// The benches side by side, and the most in one picture.
const COLUMNS: usize = 4;
const MOST: usize = 24;
/// The height of the small picture of a bench.
const HEIGHT: i32 = 150;
/// The place for the numbers of its axes, on the left and below.
const AXES: (i32, i32) = (44, 28);

/// The least that an axis shows, in waters for each formula unit.
const LEAST_SPAN: f64 = 0.4;
/// The waters that are nearly none, for each formula unit.
const NEAR: f64 = 0.1;

/// The waters left at one bench, for one formula unit.
struct BenchSeries {
    name: String,
    /// After each heating.
    left: Vec<f64>,
    shape: Shape,
}

/// The degrees of hydration between which a series runs.
struct Levels {
    issued: f64,
    residue: f64,
    /// The known hydrates between them.
    between: Vec<f64>,
}

/// The weighing series of the benches of each hydrate that was issued, some 24 benches in each picture.
pub(in crate::report) fn weighing_series(marked: &Marked, names: &BenchNames<'_>) -> Vec<Picture> {
    let salts = by_salt(marked, names);
    salts.iter().flat_map(|salt| of_salt(salt)).collect()
}

fn of_salt(salt: &SaltBenches<'_>) -> Vec<Picture> {
    let Some(levels) = Levels::of(salt) else {
        return Vec::new();
    };
    let all = salt.benches.iter();
    let all: Vec<BenchSeries> = all
        .filter_map(|bench| series(bench, salt, &levels))
        .collect();
    let heatings = all
        .iter()
        .map(|series| series.left.len())
        .max()
        .unwrap_or(0);
    // One heating is no series.
    if heatings < 2 {
        return Vec::new();
    }
    let range = levels.range(&all);
    let axes = ((0.8, heatings as f64 + 0.2), range);
    let parts: Vec<&[BenchSeries]> = all.chunks(MOST).collect();
    let (count, words) = (parts.len(), words(salt, &all, &levels));
    let pictures = (1..).zip(parts).filter_map(|(number, part)| {
        let words = match count {
            1 => words.clone(),
            _ => format!("Part {number} of {count}. {words}"),
        };
        let legend = legend(salt, part, &levels, range);
        let rows = i32::try_from(part.len().div_ceil(COLUMNS)).ok()?;
        canvas::picture(
            "series.svg",
            legend.height + rows * HEIGHT + LINE,
            words,
            |area| {
                legend.draw(area)?;
                for (index, series) in (0..).zip(part) {
                    let (column, row) = (index % COLUMNS as i32, index / COLUMNS as i32);
                    let width = WIDTH as i32 / COLUMNS as i32;
                    let corner = (column * width, legend.height + row * HEIGHT);
                    draw(area, corner, series, &levels, axes)?;
                }
                let below = (WIDTH as i32 / 2, legend.height + rows * HEIGHT + LINE / 2);
                canvas::text(
                    area,
                    "heating, and the moles of water left for each mole of salt",
                    below,
                    HPos::Center,
                )
            },
        )
    });
    pictures.collect()
}

impl Levels {
    fn of(salt: &SaltBenches<'_>) -> Option<Levels> {
        let dehydration = salt.benches.first()?.dehydration;
        let residue = dehydration
            .residue()
            .waters()
            .map_or(0.0, |waters| waters.to_f64());
        let issued = salt.waters.to_f64();
        let known = salt.known().map(|candidate| candidate.waters().to_f64());
        let between = known.filter(|waters| *waters > residue && *waters < issued);
        let is_drawn = issued.is_finite() && issued - residue > 1e-3;
        is_drawn.then(|| Levels {
            issued,
            residue,
            between: between.collect(),
        })
    }

    /// What the axis shows: all that is not far off.
    fn range(&self, all: &[BenchSeries]) -> Range {
        let span = self.issued - self.residue;
        let left = all.iter().flat_map(|series| series.left.iter().copied());
        let ends = (self.residue, self.residue + LEAST_SPAN.min(span));
        let (low, high) = left.fold(ends, |(low, high), y| (low.min(y), high.max(y)));
        let (low, high) = (
            low.max(self.residue - 0.4 * span),
            high.min(self.issued + 0.4 * span),
        );
        let margin = 0.1 * (high - low);
        (low - margin, high + margin)
    }
}

/// The waters left at a bench after each heating.
fn series(bench: &BenchPoint<'_>, salt: &SaltBenches<'_>, levels: &Levels) -> Option<BenchSeries> {
    let mut known = bench.dehydration.candidates().iter();
    let issued = known.find(|candidate| *candidate.waters() == salt.waters);
    let loss = issued.map(Candidate::expected_percent_water)?.to_f64() / 100.0;
    let parts = parts_left(bench.row.weighings()?)?;
    let left = |part: &Ratio| {
        let lost = 1.0 - part.to_f64();
        levels.issued - (levels.issued - levels.residue) * lost / loss
    };
    let left: Vec<f64> = parts.iter().map(left).collect();
    let is_drawn = !left.is_empty() && left.iter().all(|y| y.is_finite());
    is_drawn.then(|| BenchSeries {
        name: bench.name.clone(),
        left,
        shape: bench.shape(),
    })
}

/// The mass after each heating, as a part of the mass of hydrate.
fn parts_left(weighings: &Weighings) -> Option<Vec<Ratio>> {
    if let Some((hydrate, residue, _)) = weighings.net_masses() {
        let part = residue.value().checked_div(&hydrate.value())?;
        return Some(Vec::from([part]));
    }
    let container = weighings.container()?.value();
    let hydrate = weighings.with_hydrate()?.value() - &container;
    let heated = weighings.heated().iter();
    heated
        .map(|mass| (mass.value() - &container).checked_div(&hydrate))
        .collect()
}

/// The line of what was issued.
fn issued_line() -> Stroke {
    Stroke::solid(&BLUE, 3)
}

/// The line of what heating should leave.
fn residue_line() -> Stroke {
    Stroke::solid(&BLACK, 3)
}

/// The line of a hydrate between them.
fn hydrate_line() -> Stroke {
    Stroke::solid(&BLACK.mix(0.6), 1).dashed(6, 4)
}

fn legend(salt: &SaltBenches<'_>, part: &[BenchSeries], levels: &Levels, axis: Range) -> Legend {
    let issued = format!("{}, which was issued", salt.issued().to_unicode());
    let residue = salt
        .benches
        .first()
        .map(|bench| bench.dehydration.residue());
    let residue = residue.map_or_else(String::new, Formula::to_unicode);
    let mut entries = Vec::from([LegendEntry(
        Sign::Line(residue_line()),
        format!("{residue}, the residue"),
    )]);
    if levels.between.iter().any(|waters| is_inside(*waters, axis)) {
        entries.push(LegendEntry(
            Sign::Line(hydrate_line()),
            "known hydrates".into(),
        ));
    }
    if is_inside(levels.issued, axis) {
        entries.push(LegendEntry(Sign::Line(issued_line()), issued));
    }
    for (shape, words) in BenchPoint::SHAPES {
        if part.iter().any(|series| series.shape == shape) {
            entries.push(LegendEntry(Sign::Mark(shape), format!("last: {words}")));
        }
    }
    let mut drawn = part.iter().flat_map(|series| &series.left);
    if drawn.any(|y| !is_inside(*y, axis)) {
        entries.push(LegendEntry(
            Sign::Mark(Shape::Cross),
            "outside the picture".into(),
        ));
    }
    Legend::new(entries)
}

/// Draws the small picture of a bench.
fn draw<'b>(
    area: &Area<'b>,
    (left, top): Point,
    series: &BenchSeries,
    levels: &Levels,
    (x, y): (Range, Range),
) -> Drawn<'b> {
    let width = WIDTH / COLUMNS as u32;
    let own = area.clone().shrink((left, top), (width, HEIGHT as u32));
    let mut chart = ChartBuilder::on(&own)
        .margin_top(LINE)
        .margin_right(8)
        .x_label_area_size(AXES.1)
        .y_label_area_size(AXES.0)
        .build_cartesian_2d(x.0..x.1, y.0..y.1)?;
    let whole = |heating: &f64| match heating.fract() {
        0.0 => format!("{heating}"),
        _ => String::new(),
    };
    chart
        .configure_mesh()
        .disable_mesh()
        .x_labels((x.1 as usize).min(5))
        .y_labels(5)
        .x_label_formatter(&whole)
        .y_label_formatter(&tick(y.1 - y.0))
        .label_style(FONT)
        .draw()?;
    let at = |heating: f64, waters: f64| chart.backend_coord(&(heating, waters));
    let name = cut_to(width as i32 - 12, &series.name);
    // In the middle of the axis, unless it is too long for that.
    let middle = left + (width as i32 + AXES.0) / 2;
    let last = left + width as i32 - 6 - width_of(&name) / 2;
    canvas::text(
        area,
        &name,
        (middle.min(last), top + LINE / 2),
        HPos::Center,
    )?;
    let between = levels
        .between
        .iter()
        .map(|waters| (*waters, hydrate_line()));
    let ends = [
        (levels.issued, issued_line()),
        (levels.residue, residue_line()),
    ];
    let lines = between
        .chain(ends)
        .filter(|(waters, _)| is_inside(*waters, y));
    for (waters, stroke) in lines {
        canvas::line(area, &[at(x.0, waters), at(x.1, waters)], stroke)?;
    }
    draw_series(area, series, y, &at)
}

/// Draws the weighings of a bench. What is outside is drawn at the edge.
fn draw_series<'b>(
    area: &Area<'b>,
    series: &BenchSeries,
    axis: Range,
    at: &dyn Fn(f64, f64) -> Point,
) -> Drawn<'b> {
    let points = (1..).zip(&series.left);
    let points = points.map(|(n, waters)| at(f64::from(n), waters.clamp(axis.0, axis.1)));
    let points: Vec<Point> = points.collect();
    // A single heating is a dot.
    if points.len() > 1 {
        canvas::line(area, &points, Stroke::solid(&BLACK, 2))?;
    }
    for ((index, point), waters) in (1..).zip(&points).zip(&series.left) {
        let shape = match (is_inside(*waters, axis), index == points.len()) {
            (false, _) => Shape::Cross,
            (true, true) => series.shape,
            (true, false) => Shape::Point,
        };
        canvas::mark(area, *point, shape, canvas::black())?;
    }
    Ok(())
}

/// What the pictures show, in words.
fn words(salt: &SaltBenches<'_>, all: &[BenchSeries], levels: &Levels) -> String {
    let last = |series: &BenchSeries| series.left.last().copied().unwrap_or(levels.issued);
    let shown = |waters: f64| {
        Ratio::from_float(waters).map_or_else(String::new, |waters| {
            waters
                .to_places(2, TieRule::Even)
                .to_string()
                .replace('-', "−")
        })
    };
    let mut sentences = Vec::from([format!(
        "A small picture for each of {}: the moles of water left for each mole of salt after each heating. {} was \
         issued, and heating should leave {}.",
        benches(all.len()),
        salt.issued(),
        Ratio::from_float(levels.residue).map_or_else(String::new, |left| short_degree(&left))
    )]);
    let near = |series: &&BenchSeries| (last(series) - levels.residue).abs() < NEAR;
    let count = all.iter().filter(near).count();
    sentences.push(match count {
        0 => format!("No bench ends within {NEAR} of that."),
        1 => format!("1 bench ends within {NEAR} of that."),
        n => format!("{} end within {NEAR} of that.", benches(n)),
    });
    for (sign, what) in [(1.0, "more"), (-1.0, "less")] {
        let far = all
            .iter()
            .filter(|series| sign * (last(series) - levels.residue) >= NEAR);
        let names = named(far.map(|series| format!("{} ({})", series.name, shown(last(series)))));
        sentences.extend(names.map(|names| format!("With {what} water left: {names}.")));
    }
    let changing = salt.names_of(|bench| bench.reached() == Some(false));
    sentences.extend(changing.map(|names| format!("Mass still changing: {names}.")));
    sentences.join(" ")
}
