//! The readings of one bench, and constant mass.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::{Error, ErrorKind};
use crate::number::{Ratio, Reading, TieRule};
use crate::text::{Detail, Note};

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
    form: Form,
}

#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) enum Form {
    Series(Weighed),
    Net {
        hydrate: Reading,
        residue: Reading,
        net: Net,
    },
    Percent(Reading),
}

/// The weighings of a container.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct Weighed {
    container: Reading,
    with_hydrate: Reading,
    heated: Vec<Reading>,
}

impl Weighed {
    /// The same on a balance with this division.
    pub(super) fn on<'a>(&'a self, division: &'a Ratio) -> Series<'a> {
        Series {
            container: self.container,
            with_hydrate: self.with_hydrate,
            heated: &self.heated,
            division,
        }
    }
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
            form: Form::Series(Weighed {
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
            form: Form::Net {
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
            form: Form::Percent(percent),
        }
    }

    /// The container's weighings, on a balance with this division; `None` for the other forms.
    pub(super) fn series<'a>(&'a self, division: &'a Ratio) -> Option<Series<'a>> {
        match &self.form {
            Form::Series(weighed) => Some(weighed.on(division)),
            Form::Net { .. } | Form::Percent(_) => None,
        }
    }

    /// The container, the container with the hydrate, and the weighings after heating; `None` for
    /// the other forms.
    pub(crate) fn containers(&self) -> Option<(Reading, Reading, &[Reading])> {
        match &self.form {
            Form::Series(weighed) => {
                Some((weighed.container, weighed.with_hydrate, &weighed.heated))
            }
            Form::Net { .. } | Form::Percent(_) => None,
        }
    }

    /// The net masses of hydrate and residue and how they were found; `None` for the other forms.
    #[cfg(feature = "class")]
    pub(crate) fn net_masses(&self) -> Option<(Reading, Reading, Net)> {
        match &self.form {
            Form::Net {
                hydrate,
                residue,
                net,
            } => Some((*hydrate, *residue, *net)),
            Form::Series(_) | Form::Percent(_) => None,
        }
    }

    /// The mass fraction of water, in per cent, where nothing else is given.
    #[cfg(feature = "class")]
    pub(crate) fn percent(&self) -> Option<Reading> {
        match &self.form {
            Form::Percent(percent) => Some(*percent),
            Form::Series(_) | Form::Net { .. } => None,
        }
    }

    pub(super) fn form(&self) -> &Form {
        &self.form
    }

    /// The weighings after each heating; empty for the other forms.
    #[must_use]
    pub fn heated(&self) -> &[Reading] {
        match &self.form {
            Form::Series(weighed) => &weighed.heated,
            Form::Net { .. } | Form::Percent(_) => &[],
        }
    }

    pub(super) fn readings(&self) -> Vec<Reading> {
        match &self.form {
            Form::Series(weighed) => {
                let mut all = alloc::vec![weighed.container, weighed.with_hydrate];
                all.extend(&weighed.heated);
                all
            }
            Form::Net {
                hydrate, residue, ..
            } => alloc::vec![*hydrate, *residue],
            Form::Percent(percent) => alloc::vec![*percent],
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

/// When two successive weighings count as the same.
///
/// Houses differ: 0.2 mg to 0.5 mg in analytical methods, 0.5 mg for each gram taken, 0.1 %,
/// and 0.01 g to 0.1 g in schools.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ConstantMass {
    /// So many divisions of the balance; two is the default.
    Divisions(u32),
    /// A difference of so many grams.
    Absolute(Reading),
    /// So many grams for each gram of hydrate taken.
    PerGram(Reading),
    /// A fraction of the mass of the residue (0.001 for 0.1 %).
    Relative(Reading),
}

impl Default for ConstantMass {
    fn default() -> Self {
        ConstantMass::Divisions(2)
    }
}

impl ConstantMass {
    /// The criterion, refused where no weighings could ever meet it.
    pub(super) fn sound(self) -> Result<ConstantMass, Error> {
        match self {
            ConstantMass::Absolute(limit)
            | ConstantMass::PerGram(limit)
            | ConstantMass::Relative(limit)
                if limit.value().is_negative() =>
            {
                Err(super::method::out_of_range(
                    format!("{limit} is no criterion for constant mass"),
                    "give a difference that is not negative, such as 0.002 g",
                ))
            }
            sound => Ok(sound),
        }
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

/// Whether the mass had become constant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Constancy {
    reached: Option<bool>,
    last_change: Option<Reading>,
    criterion: Ratio,
}

impl Constancy {
    /// Whether the last two weighings agree within the criterion; `None` where there are not two.
    #[must_use]
    pub fn reached(&self) -> Option<bool> {
        self.reached
    }

    /// The last weighing less the one before it, in grams (negative: still falling).
    #[must_use]
    pub fn last_change(&self) -> Option<&Reading> {
        self.last_change.as_ref()
    }

    /// The criterion in grams.
    #[must_use]
    pub fn criterion(&self) -> &Ratio {
        &self.criterion
    }

    /// By how much the mass still fell, if it did.
    fn fall(&self) -> Option<String> {
        let change = self.last_change?;
        change
            .value()
            .is_negative()
            .then(|| format!("{change}").trim_start_matches('-').into())
    }

    fn unknown(criterion: Ratio) -> Self {
        Constancy {
            reached: None,
            last_change: None,
            criterion,
        }
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Constancy {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeStruct;
        let mut constancy = serializer.serialize_struct("Constancy", 3)?;
        constancy.serialize_field("reached", &self.reached)?;
        constancy.serialize_field("last_change", &self.last_change)?;
        constancy.serialize_field("criterion", &self.criterion.to_plain())?;
        constancy.end()
    }
}

/// So many rises are told one by one.
const MOST_GAINS: usize = 4;

/// A container's weighings under a method's rules: the base of a dehydration and of a check.
pub(super) struct Series<'a> {
    pub(super) container: Reading,
    pub(super) with_hydrate: Reading,
    pub(super) heated: &'a [Reading],
    pub(super) division: &'a Ratio,
}

/// Two weighings that cannot both be.
pub(super) struct Contradiction {
    message: String,
    readings: [String; 2],
}

impl Contradiction {
    pub(super) fn error(self) -> Error {
        impossible(
            self.message,
            "check both readings: one may be misread, or they were swapped",
        )
    }

    pub(super) fn note(self) -> Note {
        let mut chars = self.message.chars();
        let first: String = chars
            .next()
            .into_iter()
            .flat_map(char::to_uppercase)
            .collect();
        let [one, other] = self.readings;
        Note::new("impossible_masses", format!("{first}{}.", chars.as_str()))
            .with("reading", one)
            .with("other", other)
    }
}

/// The weighing that counts: its value and what it is made from.
pub(super) struct Used {
    pub(super) value: Ratio,
    /// How many readings it is the mean of.
    pub(super) readings: u32,
    pub(super) name: &'static str,
}

impl Series<'_> {
    pub(super) fn criterion(&self, rule: ConstantMass) -> Ratio {
        match rule {
            ConstantMass::Divisions(count) => self.division * &Ratio::from(count),
            ConstantMass::Absolute(grams) => grams.value(),
            ConstantMass::PerGram(grams) => {
                let taken = &self.with_hydrate.value() - &self.container.value();
                &grams.value() * &taken.abs()
            }
            ConstantMass::Relative(fraction) => {
                let last = self.heated.last().unwrap_or(&self.with_hydrate);
                let residue = &last.value() - &self.container.value();
                &fraction.value() * &residue.abs()
            }
        }
    }

    /// Which two weighings contradict one another, if two do: the container and its charge, or the
    /// weighing that counts and either of these.
    pub(super) fn contradiction(&self, used: Option<(&Ratio, &str)>) -> Option<Contradiction> {
        let (c, b) = (&self.container, &self.with_hydrate);
        let say = |message, one: &Reading, other: String| {
            Some(Contradiction {
                message,
                readings: [format!("{one}"), other],
            })
        };
        if c.value().is_negative() {
            let message = format!("the empty container weighs {c} g, less than nothing");
            return say(message, c, "0".into());
        }
        if b.value() <= c.value() {
            let message = format!(
                "the container with the hydrate ({b} g) is not heavier than the empty container ({c} g)"
            );
            return say(message, b, format!("{c}"));
        }
        let (value, name) = used?;
        let shown =
            || mass(value, self.division).map_or_else(|| value.to_plain(), |m| format!("{m}"));
        if *value > b.value() {
            let shown = shown();
            let message = format!(
                "{name} ({shown} g) is heavier than the container with the hydrate ({b} g)"
            );
            say(message, b, shown)
        } else if *value <= c.value() {
            let shown = shown();
            let message =
                format!("{name} ({shown} g) leaves nothing above the empty container ({c} g)");
            say(message, c, shown)
        } else {
            None
        }
    }

    pub(super) fn constancy(&self, rule: ConstantMass) -> Constancy {
        let criterion = self.criterion(rule);
        let [.., before, last] = self.heated else {
            return Constancy::unknown(criterion);
        };
        let change = &last.value() - &before.value();
        Constancy {
            reached: Some(change.abs() <= criterion),
            last_change: difference(last, before, self.division),
            criterion,
        }
    }

    pub(super) fn used(&self, rule: WeighingUsed) -> Option<Used> {
        let last = self.heated.last()?;
        let one = |value, name| Used {
            value,
            readings: 1,
            name,
        };
        Some(match (rule, self.heated) {
            (WeighingUsed::Lowest, heated) => {
                let lowest = heated.iter().map(Reading::value).min()?;
                one(lowest, "the lowest weighing after heating")
            }
            (WeighingUsed::MeanOfLastTwo, [.., before, last]) => Used {
                value: (&before.value() + &last.value()).checked_div(&Ratio::from(2))?,
                readings: 2,
                name: "the mean of the last two weighings",
            },
            (WeighingUsed::Last | WeighingUsed::MeanOfLastTwo, _) => {
                one(last.value(), "the last weighing after heating")
            }
        })
    }

    /// The least and the greatest of the weighings that agree with the last one within the
    /// criterion, from the last one back: what lies between cannot widen a range.
    pub(super) fn agreeing(&self, constancy: &Constancy) -> Vec<Ratio> {
        let Some(last) = self.heated.last().map(Reading::value) else {
            return Vec::new();
        };
        // Otherwise the house's own weighing is the only one.
        if constancy.reached != Some(true) {
            return Vec::new();
        }
        let within = || {
            self.heated
                .iter()
                .rev()
                .map(Reading::value)
                .take_while(|value| (value - &last).abs() <= constancy.criterion)
        };
        within().min().into_iter().chain(within().max()).collect()
    }

    /// What the series itself gives cause to say.
    pub(super) fn warnings(&self, constancy: &Constancy, criterion_given: bool) -> Vec<Note> {
        let mut notes = Vec::new();
        match constancy.reached {
            None if self.heated.len() == 1 => notes.push(Note::new(
                "one_heating",
                "There is one weighing after heating only, so it is not known whether the mass was constant.",
            )),
            // A rise is told as a gain below.
            Some(false) => notes.extend(constancy.fall().map(|by| {
                Note::new(
                    "not_constant",
                    format!(
                        "The mass still fell by {by} g between the last two weighings; if water is all that \
                         leaves, the ratio found is a lower bound."
                    ),
                )
                .with("fall", by)
                .with("criterion", constancy.criterion.to_plain())
            })),
            _ => {}
        }
        notes.extend(self.does_not_settle(&constancy.criterion));
        notes.extend(self.gains(&constancy.criterion));
        if criterion_given && constancy.criterion < *self.division {
            notes.push(
                Note::new(
                    "criterion_below_division",
                    format!(
                        "The criterion for constant mass, {} g, is finer than one division of the balance, {} g.",
                        constancy.criterion.to_plain(),
                        self.division.to_plain()
                    ),
                )
                .with("criterion", constancy.criterion.to_plain())
                .with("division", self.division.to_plain()),
            );
        }
        notes
    }

    /// Falls that do not get smaller: nothing shows that they would come to an end.
    fn does_not_settle(&self, criterion: &Ratio) -> Option<Note> {
        let [.., first, second, third] = self.heated else {
            return None;
        };
        let (before, last) = (
            &first.value() - &second.value(),
            &second.value() - &third.value(),
        );
        if before <= *criterion || last < before {
            return None;
        }
        let (before, last) = (self.shown(&before), self.shown(&last));
        Some(
            Note::new(
                "does_not_settle",
                format!(
                    "The last two falls, {before} g and {last} g, do not get smaller: more water is still to come, or the salt itself decomposes."
                ),
            )
            .with("fall_before", before)
            .with("last_fall", last),
        )
    }

    /// Every weighing after heating that is heavier than the one before it by more than the
    /// criterion; where there are many, the largest rise stands for all.
    pub(super) fn gains(&self, criterion: &Ratio) -> Vec<Note> {
        let before = core::iter::once(&self.with_hydrate).chain(self.heated);
        let gains: Vec<(usize, Ratio)> = before
            .zip(self.heated)
            .map(|(before, after)| &after.value() - &before.value())
            .enumerate()
            .filter(|(_, gain)| gain > criterion)
            .map(|(index, gain)| (index + 1, gain))
            .collect();
        let cause = "moisture or oxygen taken up, weighed warm before, or misread";
        if gains.len() > MOST_GAINS {
            let largest = gains.iter().map(|(_, gain)| gain).max();
            let gain = largest.map_or_else(String::new, |gain| self.shown(gain));
            let count = format!("{}", gains.len());
            let text = format!(
                "{count} weighings rose above the one before them, by up to {gain} g: {cause}."
            );
            return alloc::vec![
                Note::new("gain", text)
                    .with("weighings", count)
                    .with("gain", gain)
            ];
        }
        gains
            .iter()
            .map(|(heating, gain)| {
                let (heating, gain) = (format!("{heating}"), self.shown(gain));
                let text = format!(
                    "The weighing after heating {heating} is {gain} g more than the one before it: {cause}."
                );
                Note::new("gain", text).with("heating", heating).with("gain", gain)
            })
            .collect()
    }

    /// A difference of weighings, with the decimal places of the balance.
    pub(super) fn shown(&self, mass: &Ratio) -> String {
        format!(
            "{}",
            mass.to_places(places_of(self.division), TieRule::Even)
        )
    }
}

/// The decimal places that show a division.
pub(super) fn places_of(division: &Ratio) -> i32 {
    division
        .exact_places()
        .and_then(|places| i32::try_from(places).ok())
        .unwrap_or(0)
}

/// A mass that keeps the decimal places of the balance, and as many more as it needs.
pub(super) fn mass(value: &Ratio, division: &Ratio) -> Option<Reading> {
    let exact = value.exact_places().and_then(|p| i32::try_from(p).ok())?;
    let places = places_of(division).max(exact);
    let units = (value * &Ratio::power_of_ten(places)).to_i128()?;
    Reading::from_units(units, -places)
}

/// The difference of two readings: it keeps their decimal places.
pub(super) fn difference(a: &Reading, b: &Reading, division: &Ratio) -> Option<Reading> {
    mass(&(&a.value() - &b.value()), division)
}

#[cold]
pub(super) fn impossible(message: String, help: &'static str) -> Error {
    Error::new(ErrorKind::ImpossibleMasses, Detail::new(message).help(help))
}
