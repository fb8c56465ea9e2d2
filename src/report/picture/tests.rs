use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use plotters::prelude::RGBColor;

use super::super::bench_names::BenchNames;
use super::super::block::Picture;
use super::canvas::{self, BLUE, GREEN, PURPLE, RUST};
use super::{dot_plots, weighing_series};
use crate::class::{Marked, Marker, Sheet};
use crate::gravimetry::Method;

const HEAD: &str = "bench,issued,crucible_g,crucible_hydrate_g,heated_1_g,heated_2_g,heated_3_g\n";

fn marked(rows: &str) -> Marked {
    let sheet = Sheet::read(rows.as_bytes()).unwrap();
    Marker::new("MgSO4·7H2O".parse().unwrap(), Method::new()).mark(&sheet)
}

/// The dot plots and the weighing series of a class.
fn pictures(rows: &str) -> [Vec<Picture>; 2] {
    let marked = marked(rows);
    let names = BenchNames::new(&marked);
    [dot_plots(&marked, &names), weighing_series(&marked, &names)]
}

/// The texts of a picture. It is one element of XML, and all of its numbers are numbers.
#[track_caller]
fn texts(picture: &Picture) -> Vec<String> {
    use quick_xml::events::Event;
    let mut reader = quick_xml::Reader::from_str(&picture.svg);
    let (mut texts, mut depth, mut text) = (Vec::new(), 0, String::new());
    loop {
        match reader.read_event().unwrap() {
            Event::Eof => break,
            Event::Start(_) => depth += 1,
            Event::End(_) => {
                depth -= 1;
                texts.push(core::mem::take(&mut text).trim().to_string());
            }
            Event::Text(part) => text += &part.decode().unwrap(),
            Event::GeneralRef(name) => text += &format!("&{};", name.decode().unwrap()),
            Event::Empty(tag) => {
                for attribute in tag.attributes() {
                    let value = String::from_utf8(attribute.unwrap().value.to_vec()).unwrap();
                    assert!(!value.contains("NaN") && !value.contains("inf"), "{value}");
                    for number in value
                        .split([',', ' '])
                        .filter_map(|n| n.parse::<f64>().ok())
                    {
                        assert!((-1.0..5000.0).contains(&number), "{value}");
                    }
                }
            }
            _ => {}
        }
    }
    assert_eq!(depth, 0);
    assert!(!picture.svg.contains("#000000") && !picture.svg.contains("#FFFFFF"));
    texts.retain(|text| !text.is_empty());
    texts
}

#[test]
fn a_dot_plot_shows_every_bench_and_what_was_issued() {
    let [dots, series] = pictures(include_str!(
        "../../../examples/data/demonstration_class.csv"
    ));
    let [dots] = dots.as_slice() else { panic!() };
    let texts = texts(dots);
    for text in [
        "Agate",
        "Epidote",
        "Mean",
        "Median",
        "MgSO₄·7H₂O, which was issued",
        "7",
    ] {
        assert!(texts.iter().any(|own| own == text), "{text}: {texts:?}");
    }
    assert_eq!(
        dots.words,
        "Dot plot of x for 11 benches. MgSO4·7H2O was issued. x is from 5.285 to 8.381. At least half of the benches \
         are between 6.971 and 7.01. The mean is 6.949, with the 95 % interval 6.481 to 7.417. The median is 6.989, \
         with the 95 % interval 6.965 to 7.014. Outliers: Epidote (x = 5.285) and Fluorite (x = 8.381). Mass still \
         changing: Epidote and Ilmenite."
    );
    let label = format!("role=\"img\" aria-label=\"{}\"", dots.words);
    assert!(dots.svg.contains(&label), "{}", dots.svg);
    // The black of a picture is the colour of the text around it.
    assert!(dots.svg.matches("currentColor").count() > 40);
    // Ten discs of benches and of the legend, two rings and one of the legend.
    let circles = |filled: bool| {
        let fill = if filled {
            "fill=\"currentColor\""
        } else {
            "fill=\"none\""
        };
        let lines = dots.svg.lines();
        lines
            .filter(|line| line.starts_with("<circle") && line.contains(fill))
            .count()
    };
    assert_eq!((circles(true), circles(false)), (9 + 2, 2 + 1));
    let [series] = series.as_slice() else {
        panic!()
    };
    assert!(self::texts(series).contains(&"Agate".into()));
    assert_eq!(
        series.words,
        "A small picture for each of 11 benches: the moles of water left for each mole of salt after each heating. \
         MgSO4·7H2O was issued, and heating should leave 0. 9 benches end within 0.1 of that. With more water left: \
         Epidote (0.96). With less water left: Fluorite (−0.61). Mass still changing: Epidote and Ilmenite."
    );
}

#[test]
fn an_absurd_bench_does_not_squeeze_the_others() {
    let rows = "bench,hydrate_g,residue_g\nHeron,2.666,1.303\nWren,2.701,1.319\nFinch,2.688,1.315\n\
                Lark,2.666,0.003\n";
    let [dots, series] = pictures(rows);
    let texts = texts(&dots[0]);
    assert!(texts.contains(&"x = 5931".into()), "{texts:?}");
    assert!(texts.contains(&"outside the picture".into()), "{texts:?}");
    assert!(
        dots[0]
            .words
            .contains("Outside the picture: Lark (x = 5931).")
    );
    // Net masses have no series.
    assert!(series.is_empty());
}

#[test]
fn any_class_is_drawn_or_left_out() {
    let alike = "A,,21.352,24.018,22.655,22.655,\n".repeat(5);
    let one = "A,,21.352,24.018,22.655,,\n";
    let hostile = "\"</text><script>\u{202e}&\u{1b}[31m\",,21.352,24.018,22.7,22.655,22.655\n\
                   \"塩塩塩塩塩塩塩塩塩塩塩塩塩塩塩塩塩塩\",,21.352,24.018,22.7,22.655,\nשלום,,21.352,24.018,22.7,22.655,\n";
    let salts = "A,CaSO4·0.5H2O,20,21,20.95,20.94,\nB,CuSO4·5H2O,20,21,20.7,20.64,20.64\nC,Na2CO3·10H2O,20,21,20.5,20.4,20.37\n\
                 D,MgSO4·1000000H2O,20,21,20.5,20.4,20.37\nE,MgSO4·0.0001H2O,20,21,20.99,20.99,\n";
    let wild = "A,,1e9,2e9,1000000001,1000000001,\nB,,0.0001,0.0002,0.00011,0.00011,\nC,,20,21,20.999999,20.999999,\n\
                D,,20,21,20.0000001,20.0000001,\n";
    for rows in [&alike, one, hostile, salts, wild, ""] {
        let [dots, series] = pictures(&format!("{HEAD}{rows}"));
        for picture in dots.iter().chain(&series) {
            let texts = texts(picture);
            assert!(texts.len() > 3, "{texts:?}");
            assert!(!picture.svg.contains("<script") && !picture.svg.contains('\u{202e}'));
        }
        assert!(!dots.is_empty() || [wild, ""].contains(&rows), "{rows}");
    }
}

#[test]
fn many_benches_are_several_pictures() {
    let rows: String = (0..100)
        .map(|n| format!("Bench {n},,21.352,24.018,22.655,22.{},\n", 640 + n % 20))
        .collect();
    let [dots, series] = pictures(&format!("{HEAD}{rows}"));
    assert_eq!((dots.len(), series.len()), (3, 5));
    assert!(
        dots[2]
            .words
            .starts_with("Part 3 of 3. Dot plot of x for 100 benches.")
    );
    assert!(texts(&dots[2]).contains(&"Bench 99".into()));
}

#[test]
fn a_name_that_is_too_long_keeps_its_end() {
    let name = "The bench by the window in the corner, number 17";
    let cut = canvas::cut_to(150, name);
    assert!(
        cut.starts_with("The bench") && cut.ends_with("er 17"),
        "{cut}"
    );
    assert!(canvas::width_of(&cut) <= 150);
}

/// The contrast of two colours, by the Web Content Accessibility Guidelines 2.2.
fn contrast(a: RGBColor, b: RGBColor) -> f64 {
    let luminance = |RGBColor(r, g, b): RGBColor| {
        let linear = |part: u8| match f64::from(part) / 255.0 {
            part if part <= 0.04045 => part / 12.92,
            part => ((part + 0.055) / 1.055).powf(2.4),
        };
        0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b)
    };
    let (a, b) = (luminance(a) + 0.05, luminance(b) + 0.05);
    a.max(b) / a.min(b)
}

#[test]
fn colours_can_be_seen_on_light_and_on_dark() {
    for colour in [BLUE, RUST, GREEN, PURPLE] {
        for page in [
            RGBColor(255, 255, 255),
            RGBColor(0, 0, 0),
            RGBColor(24, 24, 24),
        ] {
            let contrast = contrast(colour, page);
            assert!(contrast > 3.0, "{colour:?} on {page:?}: {contrast}");
        }
    }
}
