//! How many formula units of the substance sought belong to one of the form that is weighed.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::element::Element;
use crate::formula::{Composition, Formula};
use crate::gravimetry::error::{Error, ErrorKind};
use crate::number::Ratio;
use crate::text::{Detail, list};

/// A substance with its atoms.
pub(super) struct Substance<'a> {
    pub(super) formula: &'a Formula,
    pub(super) atoms: Composition,
}

impl<'a> Substance<'a> {
    pub(super) fn new(formula: &'a Formula) -> Result<Self, Error> {
        let atoms = formula.composition()?;
        Ok(Substance { formula, atoms })
    }

    /// The number of atoms of an element, labelled ones included.
    fn count(&self, element: Element) -> Ratio {
        let atoms = self.atoms.iter();
        let of_element = atoms.filter(|(atom, _)| atom.element() == element);
        of_element.map(|(_, count)| count.clone()).sum()
    }

    fn elements(&self) -> Vec<Element> {
        let mut elements: Vec<Element> = self.atoms.iter().map(|(a, _)| a.element()).collect();
        elements.dedup();
        elements
    }
}

/// Returns the amount of the substance sought for each unit of the form weighed, by one element.
pub(super) fn by_element(
    element: Element,
    sought: &Substance<'_>,
    weighed: &Substance<'_>,
) -> Result<Ratio, Error> {
    let ratio = weighed.count(element).checked_div(&sought.count(element));
    ratio.filter(Ratio::is_positive).ok_or_else(|| {
        let without = match sought.count(element).is_zero() {
            true => sought.formula,
            false => weighed.formula,
        };
        let detail = Detail::new(format!("{without} has no {}", element.name()));
        Error::new(
            ErrorKind::NotALink,
            detail.help("name an element that both formulas have"),
        )
    })
}

/// Returns the same by every shared element but oxygen and hydrogen, which must agree.
pub(super) fn by_all(sought: &Substance<'_>, weighed: &Substance<'_>) -> Result<Ratio, Error> {
    let elements = sought.elements().into_iter();
    let shared = elements.filter(|element| !weighed.count(*element).is_zero());
    let (common, linking): (Vec<Element>, Vec<Element>) =
        shared.partition(|element| [Element::OXYGEN, Element::HYDROGEN].contains(element));
    let mut ratios = Vec::new();
    for element in &linking {
        ratios.push((*element, by_element(*element, sought, weighed)?));
    }
    match ratios.as_slice() {
        [] => Err(nothing_links(sought.formula, weighed.formula, &common)),
        [(first, ratio), rest @ ..] => match rest.iter().find(|(_, other)| other != ratio) {
            None => Ok(ratio.clone()),
            Some((second, other)) => Err(two_links(
                [sought.formula, weighed.formula],
                [(*first, ratio), (*second, other)],
            )),
        },
    }
}

fn nothing_links(sought: &Formula, weighed: &Formula, common: &[Element]) -> Error {
    let shared = match common {
        [] => String::from("no element"),
        _ => format!("only {}", list(common.iter().map(|e| e.name()))),
    };
    let message =
        format!("{sought} and {weighed} share {shared}, which does not fix their proportion");
    let help = match common.first() {
        Some(element) => format!(
            "name the element that links them, such as {}",
            element.symbol()
        ),
        None => String::from("give formulas that share the element that is determined"),
    };
    Error::new(ErrorKind::AmbiguousFactor, Detail::new(message).help(help))
}

fn two_links(
    [sought, weighed]: [&Formula; 2],
    [(one, by_one), (other, by_other)]: [(Element, &Ratio); 2],
) -> Error {
    let proportion = |ratio: &Ratio| {
        let [a, b] = whole_numbers(ratio);
        format!("{a} {sought} for {b} {weighed}")
    };
    let message = format!(
        "{} means {}, but {} means {}",
        one.name(),
        proportion(by_one),
        other.name(),
        proportion(by_other)
    );
    Error::new(
        ErrorKind::AmbiguousFactor,
        Detail::new(message).help(format!(
            "name the element that is kept through the analysis, such as {}",
            one.symbol()
        )),
    )
}

/// Returns the numerator and the denominator in lowest terms.
pub(super) fn whole_numbers(ratio: &Ratio) -> [Ratio; 2] {
    let denominator = ratio.denominator();
    [ratio * &denominator, denominator]
}
