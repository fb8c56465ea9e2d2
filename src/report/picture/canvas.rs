//! What every picture shares: sizes, fonts, colours, marks, the legend, and the words for those who do not
//! see it.
//!
//! A picture has no background, and what is black is drawn in the colour of the text around it. So it can be
//! read on a light page and on a dark one. The other colours have a contrast of at least 3 : 1 to white and
//! to black. Nothing is distinguished by its colour alone.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use askama::filters::{Escaper, Html};
use plotters::coord::Shift;
use plotters::element::DashedPathElement;
use plotters::prelude::{
    BLACK, Circle, Color, Cross, DrawResult, DrawingArea, IntoDrawingArea, PathElement, Polygon,
    RGBAColor, RGBColor, Rectangle, SVGBackend, ShapeStyle, Text, TextStyle, TriangleMarker,
};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use super::super::block::Picture;
use crate::text::visible_line;

/// The width of a picture.
pub(super) const WIDTH: u32 = 720;
pub(super) const FONT: (&str, i32) = ("sans-serif", 17);
/// The height of a line of text.
pub(super) const LINE: i32 = 22;
/// The width of a letter, on average. It is an estimate from above.
const LETTER: f64 = 7.9;
/// The width of a sign in the legend, with the gap after it.
const SIGN: i32 = 44;

pub(super) type Point = (i32, i32);
/// The least and the greatest number that an axis shows.
pub(super) type Range = (f64, f64);
pub(super) type Drawn<'b> = DrawResult<(), SVGBackend<'b>>;
pub(super) type Area<'b> = DrawingArea<SVGBackend<'b>, Shift>;

// Colours of a medium lightness.
pub(super) const BLUE: RGBColor = RGBColor(31, 119, 180);
pub(super) const RUST: RGBColor = RGBColor(190, 80, 20);
pub(super) const GREEN: RGBColor = RGBColor(30, 130, 80);
pub(super) const PURPLE: RGBColor = RGBColor(145, 85, 175);

/// The shade of a band.
pub(super) fn shade() -> ShapeStyle {
    BLACK.mix(0.13).filled()
}

/// The colour of the lines of a grid.
pub(super) fn faint() -> RGBAColor {
    BLACK.mix(0.25)
}

/// The shape of a mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    Disc,
    Ring,
    Triangle,
    Cross,
    Point,
    Diamond,
}

/// The style of a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stroke {
    pub(super) style: ShapeStyle,
    /// The lengths of a dash and of the gap after it; none for a solid line.
    pub(super) dash: Option<(i32, i32)>,
}

impl Stroke {
    pub(super) fn solid(colour: &impl Color, width: u32) -> Stroke {
        Stroke {
            style: colour.stroke_width(width),
            dash: None,
        }
    }

    pub(super) fn dashed(self, dash: i32, gap: i32) -> Stroke {
        Stroke {
            dash: Some((dash, gap)),
            ..self
        }
    }
}

/// A sign of the legend.
#[derive(Debug, Clone, Copy)]
pub(super) enum Sign {
    Mark(Shape),
    /// A mark in a frame.
    Framed(Shape),
    Line(Stroke),
    /// A line with a mark on it.
    Marked(Stroke, Shape),
    Band(ShapeStyle),
    /// The bar of an uncertainty.
    Bar(BarEnd),
    /// An arrow to the right.
    Arrow,
}

/// How the bar of an uncertainty ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum BarEnd {
    /// Here: a short line across.
    Here,
    /// Here or farther away: an open arrow.
    AtLeastHere,
    /// Outside the picture: nothing.
    Outside,
}

/// A sign with its words.
pub(super) struct LegendEntry(pub(super) Sign, pub(super) String);

/// The legend: its entries in lines above the picture.
pub(super) struct Legend {
    /// The place of each entry.
    entries: Vec<(Point, LegendEntry)>,
    pub(super) height: i32,
}

impl Legend {
    pub(super) fn new(entries: Vec<LegendEntry>) -> Legend {
        let (mut x, mut y) = (0, LINE / 2 + 4);
        let mut placed = Vec::new();
        for entry in entries {
            let width = SIGN + width_of(&entry.1) + 18;
            if x > 0 && x + width > WIDTH as i32 - 16 {
                (x, y) = (0, y + LINE);
            }
            placed.push(((x + 8, y), entry));
            x += width;
        }
        Legend {
            height: y + LINE / 2 + 6,
            entries: placed,
        }
    }

    pub(super) fn draw<'b>(&self, area: &Area<'b>) -> Drawn<'b> {
        for ((x, y), LegendEntry(sign, words)) in &self.entries {
            let middle = (x + SIGN / 2 - 4, *y);
            let (left, right) = ((middle.0 - 16, *y), (middle.0 + 16, *y));
            match *sign {
                Sign::Mark(shape) => mark(area, middle, shape, black())?,
                Sign::Framed(shape) => {
                    mark(area, middle, shape, black())?;
                    frame(area, middle)?;
                }
                Sign::Line(stroke) => line(area, &[left, right], stroke)?,
                Sign::Marked(stroke, shape) => {
                    line(area, &[left, right], stroke)?;
                    mark(area, middle, shape, stroke.style.color)?;
                }
                Sign::Band(style) => {
                    area.draw(&Rectangle::new([(left.0, y - 7), (right.0, y + 7)], style))?;
                }
                Sign::Bar(end) => bar(area, [left, right], [end, end])?,
                Sign::Arrow => arrow(area, right, true)?,
            }
            text(area, words, (x + SIGN, *y), HPos::Left)?;
        }
        Ok(())
    }
}

pub(super) fn black() -> RGBAColor {
    BLACK.to_rgba()
}

/// Draws a line through points.
pub(super) fn line<'b>(area: &Area<'b>, points: &[Point], stroke: Stroke) -> Drawn<'b> {
    let points = points.to_vec();
    match stroke.dash {
        None => area.draw(&PathElement::new(points, stroke.style)),
        Some((dash, gap)) => {
            let points = points.into_iter();
            area.draw(&DashedPathElement::new(points, dash, gap, stroke.style))
        }
    }
}

/// Draws a mark.
pub(super) fn mark<'b>(area: &Area<'b>, at: Point, shape: Shape, colour: RGBAColor) -> Drawn<'b> {
    let open = colour.stroke_width(2);
    match shape {
        Shape::Disc => area.draw(&Circle::new(at, 5, colour.filled())),
        Shape::Ring => area.draw(&Circle::new(at, 5, open)),
        Shape::Triangle => area.draw(&TriangleMarker::new(at, 6, colour.filled())),
        Shape::Cross => area.draw(&Cross::new(at, 4, open)),
        Shape::Point => area.draw(&Circle::new(at, 2, colour.filled())),
        Shape::Diamond => {
            let (x, y) = at;
            let corners = [(x - 7, y), (x, y - 7), (x + 7, y), (x, y + 7)];
            area.draw(&Polygon::new(corners.to_vec(), colour.filled()))
        }
    }
}

/// Draws a frame around a mark.
pub(super) fn frame<'b>(area: &Area<'b>, (x, y): Point) -> Drawn<'b> {
    let corners = [(x - 9, y - 9), (x + 9, y + 9)];
    area.draw(&Rectangle::new(corners, BLACK.stroke_width(1)))
}

/// Draws the bar of an uncertainty, with its two ends.
pub(super) fn bar<'b>(area: &Area<'b>, points: [Point; 2], ends: [BarEnd; 2]) -> Drawn<'b> {
    let stroke = Stroke::solid(&BLACK, 2);
    line(area, &points, stroke)?;
    for ((x, y), end, way) in [(points[0], ends[0], 1), (points[1], ends[1], -1)] {
        match end {
            BarEnd::Here => line(area, &[(x, y - 5), (x, y + 5)], stroke)?,
            BarEnd::AtLeastHere => {
                let back = x + 6 * way;
                line(area, &[(back, y - 5), (x, y), (back, y + 5)], stroke)?;
            }
            BarEnd::Outside => {}
        }
    }
    Ok(())
}

/// Draws an arrow with its tip here.
pub(super) fn arrow<'b>(area: &Area<'b>, (x, y): Point, to_the_right: bool) -> Drawn<'b> {
    let back = if to_the_right { x - 11 } else { x + 11 };
    let corners = [(x, y), (back, y - 6), (back, y + 6)];
    area.draw(&Polygon::new(corners.to_vec(), BLACK.filled()))
}

/// Writes a line of text beside, before or around a place.
pub(super) fn text<'b>(area: &Area<'b>, words: &str, at: Point, side: HPos) -> Drawn<'b> {
    let style = TextStyle::from(FONT).pos(Pos::new(side, VPos::Center));
    area.draw(&Text::new(visible_line(words), at, style))
}

/// The width of a text, estimated from above.
pub(super) fn width_of(words: &str) -> i32 {
    (visible_line(words).width() as f64 * LETTER) as i32
}

/// A text that is not wider than this. If anything is left out, it is the middle: the end of a name often
/// distinguishes it.
pub(super) fn cut_to(width: i32, words: &str) -> String {
    let words = visible_line(words);
    if width_of(&words) <= width {
        return words;
    }
    let most = ((f64::from(width) / LETTER) as usize).saturating_sub(1);
    let end = taken(words.chars().rev(), most / 2);
    let start = taken(words.chars(), most - most / 2);
    let end = end.into_iter().rev();
    start.into_iter().chain(['…']).chain(end).collect()
}

/// The first of these characters, as many as are not wider together than this.
fn taken(chars: impl Iterator<Item = char>, most: usize) -> Vec<char> {
    let mut width = 0;
    let narrow = chars.take_while(|c| {
        width += c.width().unwrap_or(0);
        width <= most
    });
    narrow.collect()
}

/// Whether an axis shows this number, and not at its end.
pub(super) fn is_inside(x: f64, (low, high): Range) -> bool {
    low < x && x < high
}

/// A number on an axis that shows this span with some eight numbers.
pub(super) fn tick(span: f64) -> impl Fn(&f64) -> String {
    let places = (-(span / 8.0).log10()).ceil().clamp(0.0, 12.0) as usize;
    move |value| {
        let text = format!("{value:.places$}");
        let zero = text
            .strip_prefix('-')
            .filter(|rest| !rest.contains(|c| ('1'..='9').contains(&c)));
        zero.map_or_else(|| text.replace('-', "−"), String::from)
    }
}

/// Draws a picture of this height. `None` if it cannot be drawn.
pub(super) fn picture(
    file: &'static str,
    height: i32,
    words: String,
    draw: impl for<'b> FnOnce(&Area<'b>) -> Drawn<'b>,
) -> Option<Picture> {
    let size = (WIDTH, u32::try_from(height).ok()?);
    let mut svg = String::new();
    let area = SVGBackend::with_string(&mut svg, size).into_drawing_area();
    draw(&area).ok()?;
    area.present().ok()?;
    drop(area);
    let svg = svg.replace("\"#000000\"", "\"currentColor\"");
    let (start, rest) = svg.split_once('>')?;
    let mut label = String::new();
    Html.write_escaped_str(&mut label, &words).ok()?;
    Some(Picture {
        svg: format!("{start} role=\"img\" aria-label=\"{label}\">{rest}"),
        file,
        words,
    })
}
