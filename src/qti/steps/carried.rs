//! A value by earlier entries, worked out.

use alloc::boxed::Box;
use alloc::vec::Vec;

use crate::number::Ratio;
use crate::qti::entry::{Carry, Extreme};

impl Carry {
    /// Returns the value for these entries. The entry of a choice is the index of the option.
    pub(in crate::qti) fn value(&self, entries: &dyn Fn(usize) -> Option<Ratio>) -> Option<Ratio> {
        let of = |carry: &Carry| carry.value(entries);
        match self {
            Carry::Number(number) => Some(number.clone()),
            Carry::Entry(index) => entries(*index),
            Carry::Sum(parts) => parts.iter().map(of).sum(),
            Carry::Product(parts) => parts.iter().map(of).product(),
            Carry::Difference(a, b) => Some(of(a)? - of(b)?),
            Carry::Quotient(a, b) => of(a)?.checked_div(&of(b)?),
            Carry::Nearest(inner) => {
                let half = Ratio::new(1, 2)?;
                Some((of(inner)? + half).floor())
            }
            Carry::OneOf(extreme, parts) => {
                let values = parts.iter().map(of).collect::<Option<Vec<Ratio>>>()?;
                match extreme {
                    Extreme::Least => values.into_iter().min(),
                    Extreme::Greatest => values.into_iter().max(),
                }
            }
            Carry::ByChoice(index, options) => {
                let chosen = entries(*index)?.to_i128()?;
                of(options.get(usize::try_from(chosen).ok()?)?)
            }
        }
    }

    /// Returns the same with another value for each entry.
    pub(super) fn with_entries(&self, put: &dyn Fn(usize) -> Option<Carry>) -> Option<Carry> {
        let of = |carry: &Carry| carry.with_entries(put);
        let boxed = |carry: &Carry| of(carry).map(Box::new);
        let all = |parts: &[Carry]| parts.iter().map(of).collect::<Option<Vec<Carry>>>();
        Some(match self {
            Carry::Number(number) => Carry::Number(number.clone()),
            Carry::Entry(index) => put(*index)?,
            Carry::Sum(parts) => Carry::Sum(all(parts)?),
            Carry::Product(parts) => Carry::Product(all(parts)?),
            Carry::Difference(a, b) => Carry::Difference(boxed(a)?, boxed(b)?),
            Carry::Quotient(a, b) => Carry::Quotient(boxed(a)?, boxed(b)?),
            Carry::Nearest(inner) => Carry::Nearest(boxed(inner)?),
            Carry::OneOf(extreme, parts) => Carry::OneOf(*extreme, all(parts)?),
            Carry::ByChoice(index, options) => Carry::ByChoice(*index, all(options)?),
        })
    }

    /// Returns whether the value depends on an entry.
    pub(super) fn is_carried(&self) -> bool {
        match self {
            Carry::Number(_) => false,
            Carry::Entry(_) | Carry::ByChoice(..) => true,
            Carry::Sum(parts) | Carry::Product(parts) | Carry::OneOf(_, parts) => {
                parts.iter().any(Carry::is_carried)
            }
            Carry::Difference(a, b) | Carry::Quotient(a, b) => a.is_carried() || b.is_carried(),
            Carry::Nearest(inner) => inner.is_carried(),
        }
    }

    /// Adds the entries that the value depends on.
    pub(super) fn used(&self, used: &mut Vec<usize>) {
        match self {
            Carry::Number(_) => (),
            Carry::Entry(index) => used.push(*index),
            Carry::Sum(parts) | Carry::Product(parts) | Carry::OneOf(_, parts) => {
                parts.iter().for_each(|part| part.used(used));
            }
            Carry::Difference(a, b) | Carry::Quotient(a, b) => {
                a.used(used);
                b.used(used);
            }
            Carry::Nearest(inner) => inner.used(used),
            Carry::ByChoice(index, options) => {
                used.push(*index);
                options.iter().for_each(|part| part.used(used));
            }
        }
    }
}
