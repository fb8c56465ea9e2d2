//! The readings of one bench.

use alloc::vec::Vec;

use crate::number::{Ratio, Reading};

/// The readings of one bench, in grams: a container's weighings, or masses already found, or
/// only the percentage of water.
///
/// ```
/// use effloresce::gravimetry::Weighings;
/// let bench = Weighings::new(
///     "21.352".parse()?,
///     "24.018".parse()?,
///     ["22.701".parse()?, "22.656".parse()?, "22.655".parse()?],
/// );
/// assert_eq!(bench.heated().len(), 3);
/// # Ok::<(), effloresce::number::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Weighings {
    form: WeighingsForm,
}

#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) enum WeighingsForm {
    Container(ContainerWeighings),
    Net {
        hydrate: Reading,
        residue: Reading,
        net: Net,
    },
    Percent(Reading),
}

/// The weighings of a container.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(crate) struct ContainerWeighings {
    pub(crate) container: Reading,
    pub(crate) with_hydrate: Reading,
    /// After each heating, in order.
    pub(crate) heated: Vec<Reading>,
}

/// How a net mass was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum Net {
    /// Read off a tared balance: one reading each (the default).
    #[default]
    Tared,
    /// The difference of two readings each, which share the empty container.
    Subtracted,
}

impl Weighings {
    /// The empty container, the container with the hydrate, and the container after each heating
    /// in order (none yet is allowed).
    pub fn new(
        container: Reading,
        with_hydrate: Reading,
        heated: impl IntoIterator<Item = Reading>,
    ) -> Self {
        Weighings {
            form: WeighingsForm::Container(ContainerWeighings {
                container,
                with_hydrate,
                heated: heated.into_iter().collect(),
            }),
        }
    }

    /// The mass of the hydrate and of what it left.
    #[must_use]
    pub fn net(hydrate: Reading, residue: Reading, net: Net) -> Self {
        Weighings {
            form: WeighingsForm::Net {
                hydrate,
                residue,
                net,
            },
        }
    }

    /// Only the mass fraction of water, in per cent.
    #[must_use]
    pub fn percent_water(percent: Reading) -> Self {
        Weighings {
            form: WeighingsForm::Percent(percent),
        }
    }

    /// The readings by the form in which they were given.
    pub(crate) fn form(&self) -> &WeighingsForm {
        &self.form
    }

    /// The weighings of the container; `None` for the other forms.
    pub(crate) fn container_weighings(&self) -> Option<&ContainerWeighings> {
        match &self.form {
            WeighingsForm::Container(weighings) => Some(weighings),
            WeighingsForm::Net { .. } | WeighingsForm::Percent(_) => None,
        }
    }

    /// The weighings after each heating; empty for the other forms.
    #[must_use]
    pub fn heated(&self) -> &[Reading] {
        self.container_weighings().map_or(&[], |of| &of.heated)
    }

    pub(super) fn readings(&self) -> Vec<Reading> {
        match &self.form {
            WeighingsForm::Container(weighings) => {
                let mut all = alloc::vec![weighings.container, weighings.with_hydrate];
                all.extend(&weighings.heated);
                all
            }
            WeighingsForm::Net {
                hydrate, residue, ..
            } => alloc::vec![*hydrate, *residue],
            WeighingsForm::Percent(percent) => alloc::vec![*percent],
        }
    }

    /// The finest last place among the readings: spreadsheets drop final zeros, so the finest
    /// cell tells what the balance shows.
    #[must_use]
    pub fn finest_place(&self) -> Ratio {
        self.readings()
            .iter()
            .map(Reading::last_place)
            .min()
            .unwrap_or(Ratio::ONE)
    }
}

/// Which of the weighings after heating counts: a house rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum WeighingUsed {
    /// The last one (the default).
    #[default]
    Last,
    /// The lowest.
    Lowest,
    /// The mean of the last two.
    MeanOfLastTwo,
}
