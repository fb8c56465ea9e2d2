//! The hydrates that an unknown may be, ranked by their probability.

use alloc::format;
use alloc::vec::Vec;

use super::super::error::{Error, ErrorKind, out_of_range};
use super::super::hazard::cautions_for_most_severe;
use super::super::method::Method;
use super::super::residue_fraction::note;
use super::super::salts::known_salts;
use super::super::weighings::Weighings;
use super::hydrate_match::{HydrateMatch, ranked};
use super::remark;
use super::share_of_water::ShareOfWater;
use crate::element::Edition;
use crate::formula::Formula;
use crate::number::{Budget, Ratio};
use crate::text::{Detail, Note};

/// The probability from which on the best match counts as decided.
const DECIDED: f64 = 0.95;

/// The most hydrates whose cautions are shown.
const MOST_CAUTIONED: usize = 5;

/// The hydrates that an unknown may be, ranked by their probability.
///
/// # The probabilities
///
/// All hydrates that are compared are equally probable before the sample is heated. The observed percentage
/// of water then has a Gaussian distribution about the expected one. Its standard uncertainty combines:
///
/// - the readings and the criterion for constant mass, as for a [`Dehydration`](crate::gravimetry::Dehydration);
///   a percentage alone lies anywhere within half a unit of its last place;
/// - the repeatability of the method, 0.3 % of the water unless the method states another one (common
///   practice, no source);
/// - the atomic weights of the hydrate that it is compared with.
///
/// They are a little too careful. In 1,680 simulated benches with 14 hydrates, on balances of 0.01 g and 0.001 g, the
/// best match was right in 79 % of cases, and its mean probability was 0.72. A criterion that is reached counts in
/// both directions, although the water left can only make the residue too heavy.
///
/// The probabilities of all hydrates add up to 1. They compare these hydrates only: an unknown that is none of
/// them still has a best match. A note says if even that one is more than one and a half
/// coverage factors away, which is three standard uncertainties by default.
///
/// ```
/// use effloresce::gravimetry::{Method, Net, Weighings};
/// let heated = Weighings::net("2.500".parse()?, "1.221".parse()?, Net::Tared);
/// let unknown = Method::new().identify_among(
///     ["MgSO4·7H2O".parse()?, "Na2CO3·10H2O".parse()?, "CuSO4·5H2O".parse()?],
///     &heated,
/// )?;
/// let best = &unknown.matches()[0];
/// assert_eq!(best.formula().to_string(), "MgSO4·7H2O");
/// assert!(best.probability() > 0.99 && !unknown.undecided());
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Identification {
    percent: Ratio,
    budget: Budget,
    matches: Vec<HydrateMatch>,
    fits: bool,
    notes: Vec<Note>,
    edition: Edition,
}

impl Method {
    /// Compares an unknown hydrate with every known hydrate of every salt in the catalogue.
    ///
    /// # Errors
    /// As [`Method::identify_among`].
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Weighings};
    /// let unknown = Method::new().identify(&Weighings::percent_water("51.2".parse()?))?;
    /// assert_eq!(unknown.matches()[0].formula().to_string(), "MgSO4·7H2O");
    /// assert!(!unknown.undecided());
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn identify(&self, weighings: &Weighings) -> Result<Identification, Error> {
        let known = known_salts().flat_map(|facts| {
            let degrees = facts.known_hydrates().iter();
            degrees.filter_map(|waters| facts.salt().with_waters(waters))
        });
        self.identify_among(known, weighings)
    }

    /// Compares an unknown hydrate with the hydrates of a list.
    ///
    /// # Errors
    /// `impossible_masses` if the readings are impossible, `missing_field` if no weighing after heating is
    /// given. `bad_request` if a formula of the list is not a hydrate, or if the method has a residue, because
    /// that of an unknown is not known. `unknown_degree` or `no_standard_weight` if one has no molar mass.
    /// `out_of_range` if the list is empty.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Weighings};
    /// let observed = Weighings::percent_water("36.1".parse()?);
    /// let list = ["CuSO4·5H2O".parse()?, "BaCl2·2H2O".parse()?];
    /// let unknown = Method::new().identify_among(list, &observed)?;
    /// assert_eq!(unknown.matches()[0].formula().to_string(), "CuSO4·5H2O");
    /// assert!(!unknown.undecided());
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn identify_among(
        &self,
        hydrates: impl IntoIterator<Item = Formula>,
        weighings: &Weighings,
    ) -> Result<Identification, Error> {
        if let Some(residue) = &self.residue {
            let message = format!(
                "the residue {} cannot be that of an unknown hydrate",
                residue.formula
            );
            let detail = Detail::new(message).help("leave the residue out: all the water counts");
            return Err(Error::new(ErrorKind::NotAResidue, detail));
        }
        let loss = self.mass_loss(weighings)?;
        let observed = ShareOfWater::observed(self, &loss)?;
        let mut notes: Vec<Note> = self.warnings(weighings, &loss).iter().map(note).collect();
        let known = self.expected(hydrates, &mut notes)?;
        let matches = ranked(&observed, known);
        let Some(best) = matches.first() else {
            let help = "give the hydrates that are possible, or leave the list out";
            return Err(out_of_range("the list of hydrates is empty".into(), help));
        };
        let fits = best.z().abs() <= remark::FAR * self.coverage;
        if !fits {
            notes.push(remark::none_fits(&observed.percent, best));
        }
        let mut found = Identification {
            percent: observed.percent,
            budget: observed.budget,
            matches,
            fits,
            notes,
            edition: self.weights.edition(),
        };
        if found.undecided() {
            let remarks = [
                Some(remark::undecided(found.likely())),
                remark::same_water(found.likely()),
            ];
            found.notes.extend(remarks.into_iter().flatten());
        }
        Ok(found)
    }

    /// The percentage of water of each hydrate. Those that are listed more than once get a note.
    fn expected(
        &self,
        hydrates: impl IntoIterator<Item = Formula>,
        twice: &mut Vec<Note>,
    ) -> Result<Vec<(Formula, ShareOfWater)>, Error> {
        let mut known: Vec<(Formula, ShareOfWater)> = Vec::new();
        for hydrate in hydrates {
            if known.iter().any(|(earlier, _)| *earlier == hydrate) {
                let note = remark::listed_twice(&hydrate);
                if !twice.contains(&note) {
                    twice.push(note);
                }
                continue;
            }
            let expected = ShareOfWater::of(&hydrate, &self.weights)?;
            known.push((hydrate, expected));
        }
        Ok(known)
    }
}

impl Identification {
    /// The observed mass fraction of water in per cent, exact.
    #[must_use]
    pub fn percent_water(&self) -> &Ratio {
        &self.percent
    }

    /// The standard uncertainty of the observed percentage, in per cent of the hydrate.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget.standard_uncertainty()
    }

    /// The contributions to the uncertainty of the observed percentage.
    #[must_use]
    pub fn budget(&self) -> &Budget {
        &self.budget
    }

    /// The hydrates that were compared, the most probable first. There is at least one.
    #[must_use]
    pub fn matches(&self) -> &[HydrateMatch] {
        &self.matches
    }

    /// Returns true if the best match is less probable than 0.95.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Weighings};
    /// // Two hydrates with nearly the same percentage of water: 44.90 and 44.86.
    /// let list = ["NiSO4·7H2O".parse()?, "CoSO4·7H2O".parse()?];
    /// let observed = Weighings::percent_water("44.9".parse()?);
    /// let unknown = Method::new().identify_among(list, &observed)?;
    /// assert!(unknown.undecided());
    /// assert_eq!(unknown.likely().len(), 2);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn undecided(&self) -> bool {
        let best = self.matches.first();
        best.is_none_or(|best| best.probability < DECIDED)
    }

    /// Returns false if not even the best match fits: its percentage is more than one and a half coverage factors
    /// away, in standard uncertainties.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Weighings};
    /// let observed = Weighings::percent_water("5.0".parse()?);
    /// let unknown = Method::new().identify_among(["CuSO4·5H2O".parse()?], &observed)?;
    /// assert!(!unknown.fits() && !unknown.undecided());
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn fits(&self) -> bool {
        self.fits
    }

    /// The most probable hydrates, as many as have a probability of 0.95 together. It is one if the mass
    /// decides.
    #[must_use]
    pub fn likely(&self) -> &[HydrateMatch] {
        let mut sum = 0.0;
        let enough = self.matches.iter().position(|one| {
            sum += one.probability;
            sum >= DECIDED
        });
        let length = enough.map_or(self.matches.len(), |index| index + 1);
        self.matches.get(..length).unwrap_or_default()
    }

    /// Returns the notes: on the readings, on what the mass does not decide, and if no hydrate fits.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Returns the cautions for heating the most probable hydrates, the most severe first. An unknown is
    /// handled as the most dangerous of what it may be, so these are of the five most severe ones.
    ///
    /// They are reminders. The safety data sheet, the local rules and the person in charge of the
    /// laboratory decide.
    #[must_use]
    pub fn cautions(&self) -> Vec<Note> {
        let likely = self.likely().iter().map(HydrateMatch::formula);
        cautions_for_most_severe(likely, MOST_CAUTIONED)
    }

    /// Adds the notes from reading the texts of the formulas and of the readings.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// The edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }
}
