//! The readings of one bench.

use alloc::vec::Vec;

use super::error::{Error, ErrorKind};
use crate::number::{Ratio, Reading};

/// The readings of one bench: the weighings of a container, net masses, or only the percentage of
/// water. Masses are in grams.
///
/// ```
/// use effloresce::gravimetry::Weighings;
/// let bench = Weighings::new(
///     "21.352".parse()?,
///     "24.018".parse()?,
///     ["22.701".parse()?, "22.656".parse()?, "22.655".parse()?],
/// );
/// assert_eq!(bench.container(), Some(&"21.352".parse()?));
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

/// The way in which net masses were found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum Net {
    /// One reading each, on a tared balance (the default).
    #[default]
    Tared,
    /// A difference of two readings each. Both differences share the empty container.
    Subtracted,
}

crate::text::codes! {
    Net, "net masses", Error(ErrorKind::UnknownCode);
    Tared => "tared",
    Subtracted => "subtracted",
}

impl Weighings {
    /// Takes the weighings of the empty container, of the container with the hydrate, and of the
    /// container after each heating, in order. There may be no heating yet.
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

    /// Takes the net masses of the hydrate and of its residue.
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

    /// Takes the mass fraction of water alone, in per cent.
    #[must_use]
    pub fn percent_water(percent: Reading) -> Self {
        Weighings {
            form: WeighingsForm::Percent(percent),
        }
    }

    /// The readings in the form in which they were given.
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

    /// The weighing of the empty container; `None` for the other forms.
    #[must_use]
    pub fn container(&self) -> Option<&Reading> {
        self.container_weighings().map(|of| &of.container)
    }

    /// The weighing of the container with the hydrate; `None` for the other forms.
    #[must_use]
    pub fn with_hydrate(&self) -> Option<&Reading> {
        self.container_weighings().map(|of| &of.with_hydrate)
    }

    /// The net masses of the hydrate and of its residue, and the way in which they were found; `None` for
    /// the other forms.
    ///
    /// ```
    /// use effloresce::gravimetry::{Net, Weighings};
    /// let bench = Weighings::net("2.666".parse()?, "1.303".parse()?, Net::Tared);
    /// let (hydrate, residue, net) = bench.net_masses().unwrap();
    /// assert_eq!((hydrate.to_string(), residue.to_string()), ("2.666".into(), "1.303".into()));
    /// assert_eq!(net, Net::Tared);
    /// # Ok::<(), effloresce::number::Error>(())
    /// ```
    #[must_use]
    pub fn net_masses(&self) -> Option<(&Reading, &Reading, Net)> {
        match &self.form {
            WeighingsForm::Net {
                hydrate,
                residue,
                net,
            } => Some((hydrate, residue, *net)),
            WeighingsForm::Container(_) | WeighingsForm::Percent(_) => None,
        }
    }

    /// The mass fraction of water in per cent; `None` for the other forms.
    #[must_use]
    pub fn percent(&self) -> Option<&Reading> {
        match &self.form {
            WeighingsForm::Percent(percent) => Some(percent),
            WeighingsForm::Container(_) | WeighingsForm::Net { .. } => None,
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

    /// The finest last place of the readings. Spreadsheets drop final zeros, so the finest reading shows
    /// the smallest step of the balance.
    #[must_use]
    pub fn finest_place(&self) -> Ratio {
        self.readings()
            .iter()
            .map(Reading::last_place)
            .min()
            .unwrap_or(Ratio::ONE)
    }
}

/// The weighing after heating that counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum WeighingUsed {
    /// The last weighing (the default).
    #[default]
    Last,
    /// The lowest weighing.
    Lowest,
    /// The mean of the last two weighings.
    MeanOfLastTwo,
}

crate::text::codes! {
    WeighingUsed, "the weighing that counts", Error(ErrorKind::UnknownCode);
    Last => "last",
    Lowest => "lowest",
    MeanOfLastTwo => "mean_of_last_two",
}
