//! The dot plot of a class: x of each bench with its uncertainty, the known hydrates, the mean and the median.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use plotters::prelude::{BLACK, ChartBuilder, Color};
use plotters::style::text_anchor::HPos;

use super::super::bench_names::BenchNames;
use super::super::block::Picture;
use super::super::numbers::short_degree;
use super::canvas::{
    self, Area, BLUE, BarEnd, Drawn, FONT, LINE, Legend, LegendEntry, RUST, Range, Shape, Sign,
    Stroke, WIDTH, cut_to, faint, is_inside, tick, width_of,
};
use super::salt_benches::{BenchPoint, SaltBenches, benches, by_salt, named};
use crate::class::Marked;
use crate::number::Ratio;

/// The most benches in one picture.
const MOST: usize = 40;
/// The widest name of a bench.
const WIDEST: i32 = 200;
/// The height of the labels over the lines of the hydrates.
const LABELS: i32 = 26;
/// The height of the numbers and the words below.
const AXIS: i32 = 56;
/// The margin on the right.
const RIGHT: i32 = 24;
/// The most width of the words of what is outside.
const OUTSIDE: i32 = 110;
/// The width of a mark.
const MARK: f64 = 13.0;
/// The largest number that is drawn. No salt has as many waters.
const LARGEST: f64 = 1e6;

/// What the axis shows, and where it begins on the picture.
#[derive(Clone, Copy)]
struct Frame {
    range: Range,
    left: i32,
}

impl Frame {
    fn new(dots: &[Dot], centres: &[Dot], range: Range) -> Frame {
        let names = dots.iter().chain(centres).map(|dot| width_of(&dot.name));
        let left = names.max().unwrap_or(0).min(WIDEST) + 16;
        Frame { range, left }
    }

    fn shows(&self, x: f64) -> bool {
        is_inside(x, self.range)
    }

    /// The bar of a dot that is inside, if it is wider than its mark.
    fn bar(&self, dot: &Dot) -> Option<Range> {
        let (low, high) = dot.bar.filter(|_| self.shows(dot.x))?;
        let pixels = f64::from(WIDTH as i32 - self.left - RIGHT) / (self.range.1 - self.range.0);
        ((high - low) * pixels > MARK).then_some((low, high))
    }

    /// Whether the bar of a dot ends inside, on both sides.
    fn ends(&self, dot: &Dot) -> [bool; 2] {
        let (low, high) = self.bar(dot).unwrap_or((dot.x, dot.x));
        [low, high].map(|end| self.shows(end))
    }
}

/// A row of the picture: a bench, the mean or the median.
struct Dot {
    name: String,
    x: f64,
    /// x in digits, for a dot that is outside.
    shown: String,
    /// The ends of the bar of its uncertainty.
    bar: Option<(f64, f64)>,
    end: BarEnd,
    shape: Shape,
    framed: bool,
}

/// A line at a degree of hydration.
struct DotHeight {
    x: f64,
    label: String,
    stroke: Stroke,
    words: String,
}

/// The dot plots of each hydrate that was issued, some 40 benches in each.
pub(in crate::report) fn dot_plots(marked: &Marked, names: &BenchNames<'_>) -> Vec<Picture> {
    let salts = by_salt(marked, names);
    salts.iter().flat_map(|salt| of_salt(salt)).collect()
}

fn of_salt(salt: &SaltBenches<'_>) -> Vec<Picture> {
    let dots: Vec<Dot> = salt.benches.iter().map(dot).collect();
    let centres = centres(salt);
    let Some(range) = range(&dots, &centres, salt) else {
        return Vec::new();
    };
    let levels = levels(salt, range);
    let parts: Vec<&[Dot]> = dots.chunks(MOST).collect();
    let (count, words) = (parts.len(), words(salt, range));
    let pictures = (1..).zip(parts).filter_map(|(number, part)| {
        let words = match count {
            1 => words.clone(),
            _ => format!("Part {number} of {count}. {words}"),
        };
        let frame = Frame::new(part, &centres, range);
        let legend = legend(part, &centres, &levels, frame);
        let rows = part.len() + centres.len();
        let height = legend.height + LABELS + AXIS + i32::try_from(rows).ok()? * LINE + LINE / 2;
        canvas::picture("dots.svg", height, words, |area| {
            legend.draw(area)?;
            draw(area, &legend, [part, &centres], &levels, frame)
        })
    });
    pictures.collect()
}

fn dot(bench: &BenchPoint<'_>) -> Dot {
    let half = bench.row.expanded_uncertainty();
    let half = half.filter(|half| half.is_finite());
    Dot {
        name: bench.name.clone(),
        x: bench.x,
        shown: short_degree(bench.dehydration.ratio()),
        bar: half.map(|half| (bench.x - half, bench.x + half)),
        end: match bench.dehydration.uncertainty_is_lower_bound() {
            true => BarEnd::AtLeastHere,
            false => BarEnd::Here,
        },
        shape: bench.shape(),
        framed: bench.outlier,
    }
}

/// The mean and the median, with their intervals.
fn centres(salt: &SaltBenches<'_>) -> Vec<Dot> {
    let (all, constant) = (salt.pool.all(), salt.pool.at_constant_mass());
    let some = constant.n() < all.n();
    let centres = [
        ("Mean", all.mean(), all.interval()),
        ("Median", all.median(), all.robust_interval()),
        (
            "Mean at constant mass",
            constant.mean().filter(|_| some),
            constant.interval(),
        ),
    ];
    let centres = centres.into_iter().filter_map(|(name, x, bar)| {
        Some(Dot {
            name: name.into(),
            x: x?.to_f64(),
            shown: short_degree(x?),
            bar,
            end: BarEnd::Here,
            shape: Shape::Diamond,
            framed: false,
        })
    });
    centres.collect()
}

/// The numbers that the axis shows: all dots but those that are far off. `None` if they are too large to be
/// drawn.
fn range(dots: &[Dot], centres: &[Dot], salt: &SaltBenches<'_>) -> Option<Range> {
    let waters = salt.waters.to_f64();
    let stock = salt.stock().map_or(waters, Ratio::to_f64);
    let middle_of = |mut values: Vec<f64>| {
        values.sort_by(f64::total_cmp);
        values.get(values.len() / 2).copied()
    };
    let middle = middle_of(dots.iter().map(|dot| dot.x).collect())?;
    let spread = middle_of(dots.iter().map(|dot| (dot.x - middle).abs()).collect())?;
    let near = (6.0 * spread).max(0.3 * waters).max(0.5);
    if ![middle, waters, near]
        .iter()
        .all(|number| number.abs() < LARGEST)
    {
        return None;
    }
    let inside = |x: &f64| (x - middle).abs() <= near;
    let ends = dots.iter().chain(centres).flat_map(|dot| {
        let (low, high) = dot.bar.unwrap_or((dot.x, dot.x));
        let ends = [dot.x, low.max(dot.x - near), high.min(dot.x + near)];
        ends.into_iter().filter(move |_| inside(&dot.x))
    });
    let (low, high) = ends
        .chain([stock])
        .fold((waters, waters), |(low, high), x| (low.min(x), high.max(x)));
    let margin = (0.06 * (high - low)).max(0.01 * waters).max(0.01);
    let (low, high) = (low - margin, high + margin);
    // The words of what is outside have a place of their own.
    let place = 0.3 * (high - low);
    let all = || dots.iter().chain(centres);
    let below = all().any(|dot| dot.x <= low);
    let above = all().any(|dot| dot.x >= high);
    let low = if below { low - place } else { low };
    let high = if above { high + place } else { high };
    Some((low, high))
}

/// The lines of the hydrates inside the range. What was issued is first, so that its label has the first
/// place.
fn levels(salt: &SaltBenches<'_>, (low, high): Range) -> Vec<DotHeight> {
    let waters = salt.waters.to_f64();
    let issued = DotHeight {
        x: waters,
        label: short_degree(&salt.waters),
        stroke: Stroke::solid(&BLUE, 4),
        words: format!("{}, which was issued", salt.issued().to_unicode()),
    };
    let stock = salt.stock().map(|degree| DotHeight {
        x: degree.to_f64(),
        label: "stock".into(),
        stroke: Stroke::solid(&RUST, 3).dashed(3, 4),
        words: format!("the stock, x = {}", short_degree(degree)),
    });
    let known = salt.known().map(|candidate| DotHeight {
        x: candidate.waters().to_f64(),
        label: short_degree(candidate.waters()),
        stroke: Stroke::solid(&BLACK.mix(0.6), 2).dashed(8, 6),
        words: "other known hydrates".into(),
    });
    let others = stock.into_iter().chain(known);
    let others = others.filter(|level| level.x != waters);
    let mut levels: Vec<DotHeight> = [issued].into_iter().chain(others).collect();
    levels.retain(|level| level.x > low && level.x < high);
    levels
}

fn legend(dots: &[Dot], centres: &[Dot], levels: &[DotHeight], frame: Frame) -> Legend {
    let any = |which: &dyn Fn(&Dot) -> bool| dots.iter().any(which);
    let mut entries: Vec<LegendEntry> = Vec::new();
    let mut add = |is_needed: bool, sign: Sign, words: &str| {
        if is_needed {
            entries.push(LegendEntry(sign, words.into()));
        }
    };
    for (shape, words) in BenchPoint::SHAPES {
        let is_there = any(&|dot| dot.shape == shape && frame.shows(dot.x));
        add(is_there, Sign::Mark(shape), words);
    }
    let framed = any(&|dot| dot.framed && frame.shows(dot.x));
    add(
        framed,
        Sign::Framed(Shape::Disc),
        "outlier: any mark in a frame",
    );
    let has_bar = any(&|dot| dot.end == BarEnd::Here && dot.bar.is_some() && frame.shows(dot.x));
    let words = "expanded uncertainty, if wider than the mark";
    add(has_bar, Sign::Bar(BarEnd::Here), words);
    let bound = any(&|dot| dot.end == BarEnd::AtLeastHere && frame.bar(dot).is_some());
    let words = "expanded uncertainty: at least this large";
    add(bound, Sign::Bar(BarEnd::AtLeastHere), words);
    let cut = any(&|dot| frame.ends(dot).contains(&false) && frame.shows(dot.x));
    add(
        cut,
        Sign::Bar(BarEnd::Outside),
        "goes on outside the picture",
    );
    let mut all = dots.iter().chain(centres);
    add(
        all.any(|dot| !frame.shows(dot.x)),
        Sign::Arrow,
        "outside the picture",
    );
    let interval = centres.iter().any(|dot| frame.bar(dot).is_some());
    let words = "mean or median, with its 95 % interval";
    add(interval, Sign::Mark(Shape::Diamond), words);
    let mut last = "";
    for level in levels {
        add(level.words != last, Sign::Line(level.stroke), &level.words);
        last = &level.words;
    }
    Legend::new(entries)
}

fn draw<'b>(
    area: &Area<'b>,
    legend: &Legend,
    [dots, centres]: [&[Dot]; 2],
    levels: &[DotHeight],
    frame: Frame,
) -> Drawn<'b> {
    let Frame { range, left } = frame;
    let rows = (dots.len() + centres.len()) as f64 + 0.5;
    let mut chart = ChartBuilder::on(area)
        .margin_top(legend.height + LABELS)
        .margin_left(left)
        .margin_right(RIGHT)
        .x_label_area_size(AXIS)
        .build_cartesian_2d(range.0..range.1, 0.0..rows)?;
    chart
        .configure_mesh()
        .disable_y_mesh()
        .disable_y_axis()
        .light_line_style(BLACK.mix(0.0))
        .bold_line_style(faint())
        .x_labels(8)
        .x_label_formatter(&tick(range.1 - range.0))
        .x_desc("x, the moles of water for each mole of salt")
        .axis_desc_style(FONT)
        .label_style(FONT)
        .draw()?;
    let at = |x: f64, row: f64| chart.backend_coord(&(x, rows - row));
    draw_levels(area, levels, &|x| [at(x, 0.0), at(x, rows)])?;
    let above = dots.len() as f64;
    let between = [at(range.0, above + 0.25), at(range.1, above + 0.25)];
    canvas::line(area, &between, Stroke::solid(&BLACK, 1))?;
    let benches = (0..dots.len()).map(|index| index as f64 + 0.5);
    let below = (0..centres.len()).map(|index| above + index as f64 + 1.0);
    for (dot, row) in dots.iter().chain(centres).zip(benches.chain(below)) {
        let (_, y) = at(range.0, row);
        canvas::text(area, &cut_to(WIDEST, &dot.name), (left - 8, y), HPos::Right)?;
        draw_dot(area, dot, &|x| at(x, row), frame)?;
    }
    Ok(())
}

/// Draws the lines of the hydrates, each with its number above if there is a place for it.
fn draw_levels<'b>(
    area: &Area<'b>,
    levels: &[DotHeight],
    ends: &dyn Fn(f64) -> [canvas::Point; 2],
) -> Drawn<'b> {
    let mut taken: Vec<(i32, i32)> = Vec::new();
    for level in levels {
        let [top, bottom] = ends(level.x);
        canvas::line(area, &[top, bottom], level.stroke)?;
        let half = width_of(&level.label) / 2 + 3;
        let (left, right) = (top.0 - half, top.0 + half);
        if taken.iter().all(|(low, high)| right < *low || left > *high) {
            taken.push((left, right));
            canvas::text(
                area,
                &level.label,
                (top.0, top.1 - LABELS / 2),
                HPos::Center,
            )?;
        }
    }
    Ok(())
}

fn draw_dot<'b>(
    area: &Area<'b>,
    dot: &Dot,
    at: &dyn Fn(f64) -> canvas::Point,
    frame: Frame,
) -> Drawn<'b> {
    let (low, high) = frame.range;
    if !frame.shows(dot.x) {
        let to_the_right = dot.x >= high;
        let (x, y) = at(if to_the_right { high } else { low });
        canvas::arrow(area, (x, y), to_the_right)?;
        let words = cut_to(OUTSIDE, &format!("x = {}", dot.shown));
        return match to_the_right {
            true => canvas::text(area, &words, (x - 18, y), HPos::Right),
            false => canvas::text(area, &words, (x + 18, y), HPos::Left),
        };
    }
    if let Some((start, end)) = frame.bar(dot) {
        let ends = frame.ends(dot).map(|inside| match inside {
            true => dot.end,
            false => BarEnd::Outside,
        });
        canvas::bar(area, [at(start.max(low)), at(end.min(high))], ends)?;
    }
    let place = at(dot.x);
    canvas::mark(area, place, dot.shape, canvas::black())?;
    if dot.framed {
        canvas::frame(area, place)?;
    }
    Ok(())
}

/// What the picture shows, in words.
fn words(salt: &SaltBenches<'_>, range: Range) -> String {
    let issued = salt.issued();
    let benches = benches(salt.benches.len());
    let mut sentences = Vec::from([format!("Dot plot of x for {benches}. {issued} was issued.")]);
    sentences.extend(spread(salt));
    for (name, x, interval) in [
        ("mean", salt.pool.all().mean(), salt.pool.all().interval()),
        (
            "median",
            salt.pool.all().median(),
            salt.pool.all().robust_interval(),
        ),
    ] {
        let Some(x) = x.filter(|_| salt.benches.len() > 1) else {
            continue;
        };
        let interval = interval.map_or_else(String::new, |(low, high)| {
            format!(", with the 95 % interval {low:.3} to {high:.3}")
        });
        sentences.push(format!("The {name} is {}{interval}.", short_degree(x)));
    }
    let with_x = |which: &dyn Fn(&BenchPoint<'_>) -> bool| {
        let found = salt.benches.iter().filter(|bench| which(bench));
        named(found.map(|bench| {
            format!(
                "{} (x = {})",
                bench.name,
                short_degree(bench.dehydration.ratio())
            )
        }))
    };
    for (names, said) in [
        (with_x(&|bench| bench.outlier), "Outliers"),
        (
            with_x(&|bench| !is_inside(bench.x, range)),
            "Outside the picture",
        ),
        (
            salt.names_of(|bench| bench.reached() == Some(false)),
            "Mass still changing",
        ),
    ] {
        sentences.extend(names.map(|names| format!("{said}: {names}.")));
    }
    sentences.join(" ")
}

/// Where x of the benches is, in sentences.
fn spread(salt: &SaltBenches<'_>) -> Vec<String> {
    let mut by_x: Vec<&BenchPoint<'_>> = salt.benches.iter().collect();
    by_x.sort_by(|a, b| a.x.total_cmp(&b.x));
    let n = by_x.len();
    let shown = |index: usize| {
        let bench = by_x.get(index);
        bench.map(|bench| short_degree(bench.dehydration.ratio()))
    };
    let ends = shown(0).zip(shown(n.saturating_sub(1)));
    let ends = ends.map(|(least, most)| match n {
        1 => format!("x is {least}."),
        _ => format!("x is from {least} to {most}."),
    });
    let middle = shown(n / 4).zip(shown(n.saturating_sub(1 + n / 4)));
    let middle = middle
        .filter(|_| n >= 8)
        .map(|(low, high)| format!("At least half of the benches are between {low} and {high}."));
    ends.into_iter().chain(middle).collect()
}
