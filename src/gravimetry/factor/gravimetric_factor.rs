//! The gravimetric factor with its uncertainty.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::link::{Substance, by_all, by_element, whole_numbers};
use crate::element::{AtomicWeights, Edition, Element};
use crate::formula::{Formula, MolarInputs};
use crate::gravimetry::error::{Error, ErrorKind, no_mass};
use crate::number::{Budget, Inputs, Ratio, TieRule, Traced};
use crate::text::{Detail, Note};
use crate::working::{Step, Working};

/// A gravimetric factor: the mass of the substance sought for each gram of the form that is weighed.
///
/// ```
/// use effloresce::AtomicWeights;
/// use effloresce::gravimetry::GravimetricFactor;
/// let weights = AtomicWeights::default();
/// let iron = GravimetricFactor::new("Fe".parse()?, "Fe2O3".parse()?, &weights)?;
/// assert_eq!(iron.sought_per_weighed(), &[2.into(), 1.into()]);
/// assert_eq!(format!("{:.4}", iron.value()), "0.6994");
///
/// let content = iron.content("0.5394".parse()?, Some("1.1324".parse()?))?;
/// assert_eq!(format!("{:.2} %", content.percent().unwrap()), "33.32 %");
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[doc(alias = "GF")]
#[doc(alias = "stoichiometric factor")]
pub struct GravimetricFactor {
    pub(super) sought: Formula,
    pub(super) weighed: Formula,
    sought_per_weighed: [Ratio; 2],
    molar: [Traced; 2],
    pub(super) factor: Traced,
    pub(super) inputs: Inputs,
    edition: Edition,
    notes: Vec<Note>,
}

impl GravimetricFactor {
    /// Takes the proportion from the elements that both formulas have. Every one of them but oxygen and
    /// hydrogen must give the same proportion.
    ///
    /// # Errors
    /// `ambiguous_factor` if two elements give two proportions, or if no element but oxygen and hydrogen
    /// is in both. `no_standard_weight` or `unknown_degree` if a formula has no molar mass.
    ///
    /// ```
    /// use effloresce::AtomicWeights;
    /// use effloresce::gravimetry::GravimetricFactor;
    /// let weights = AtomicWeights::default();
    /// let factor = GravimetricFactor::new("CaC2O4".parse()?, "CaCO3".parse()?, &weights);
    /// assert_eq!(factor.unwrap_err().code(), "ambiguous_factor");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn new(
        sought: Formula,
        weighed: Formula,
        weights: &AtomicWeights,
    ) -> Result<GravimetricFactor, Error> {
        let ratio = by_all(&Substance::new(&sought)?, &Substance::new(&weighed)?)?;
        GravimetricFactor::of_ratio(&ratio, sought, weighed, weights)
    }

    /// Takes the proportion from one element.
    ///
    /// # Errors
    /// `bad_request` if a formula does not have the element. `no_standard_weight` or `unknown_degree` if a
    /// formula has no molar mass.
    ///
    /// ```
    /// use effloresce::AtomicWeights;
    /// use effloresce::gravimetry::GravimetricFactor;
    /// let weights = AtomicWeights::default();
    /// let calcium = "Ca".parse()?;
    /// let factor =
    ///     GravimetricFactor::linked_by(calcium, "CaC2O4".parse()?, "CaCO3".parse()?, &weights)?;
    /// assert_eq!(format!("{:.4}", factor.value()), "1.2799");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn linked_by(
        element: Element,
        sought: Formula,
        weighed: Formula,
        weights: &AtomicWeights,
    ) -> Result<GravimetricFactor, Error> {
        let substances = [Substance::new(&sought)?, Substance::new(&weighed)?];
        let ratio = by_element(element, &substances[0], &substances[1])?;
        GravimetricFactor::of_ratio(&ratio, sought, weighed, weights)
    }

    /// Takes the proportion as it is given: the amounts of the substance sought and of the form weighed,
    /// in any unit. They need not share an element, as in precipitation by a reagent.
    ///
    /// # Errors
    /// `bad_request` if an amount is not positive. `no_standard_weight` or `unknown_degree` if a formula
    /// has no molar mass.
    ///
    /// ```
    /// use effloresce::AtomicWeights;
    /// use effloresce::gravimetry::GravimetricFactor;
    /// let weights = AtomicWeights::default();
    /// // 2 MgO and 1 P2O5 are in 2 MgNH4PO4.
    /// let proportion = [2.into(), 1.into()];
    /// let factor =
    ///     GravimetricFactor::in_proportion(proportion, "MgO".parse()?, "P2O5".parse()?, &weights)?;
    /// assert_eq!(format!("{:.4}", factor.value()), "0.5679");
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    pub fn in_proportion(
        [sought_amount, weighed_amount]: [Ratio; 2],
        sought: Formula,
        weighed: Formula,
        weights: &AtomicWeights,
    ) -> Result<GravimetricFactor, Error> {
        let positive = sought_amount.is_positive() && weighed_amount.is_positive();
        let ratio = sought_amount.checked_div(&weighed_amount);
        match ratio.filter(|_| positive) {
            Some(ratio) => GravimetricFactor::of_ratio(&ratio, sought, weighed, weights),
            None => Err(Error::new(
                ErrorKind::NotALink,
                Detail::new(format!(
                    "{sought_amount} {sought} for {weighed_amount} {weighed} is not a proportion"
                ))
                .help("give two positive amounts, such as 2 and 1"),
            )),
        }
    }

    fn of_ratio(
        ratio: &Ratio,
        sought: Formula,
        weighed: Formula,
        weights: &AtomicWeights,
    ) -> Result<GravimetricFactor, Error> {
        let mut inputs = Inputs::default();
        let mut table = MolarInputs::new(weights);
        let molar = [
            table.molar(&sought, &mut inputs)?,
            table.molar(&weighed, &mut inputs)?,
        ];
        let factor = molar[0].times_exact(ratio).over(&molar[1]);
        Ok(GravimetricFactor {
            sought_per_weighed: whole_numbers(ratio),
            factor: factor.ok_or_else(no_mass)?,
            molar,
            sought,
            weighed,
            inputs,
            edition: weights.edition(),
            notes: Vec::new(),
        })
    }

    /// The substance sought.
    #[must_use]
    pub fn sought(&self) -> &Formula {
        &self.sought
    }

    /// The form that is weighed.
    #[must_use]
    pub fn weighed(&self) -> &Formula {
        &self.weighed
    }

    /// The amounts of the substance sought and of the form weighed that belong together, in smallest
    /// whole numbers.
    #[must_use]
    pub fn sought_per_weighed(&self) -> &[Ratio; 2] {
        &self.sought_per_weighed
    }

    /// The factor, exact: grams of the substance sought for each gram of the form weighed.
    #[must_use]
    pub fn value(&self) -> &Ratio {
        self.factor.value()
    }

    /// Returns the standard uncertainty of the factor, which comes from the atomic weights.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget().standard_uncertainty()
    }

    /// Returns the contributions to the uncertainty. An element that is in both formulas counts once.
    #[must_use]
    pub fn budget(&self) -> Budget {
        self.inputs.budget(&self.factor)
    }

    /// The edition of the atomic weights.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }

    /// Adds the notes from reading the texts of the formulas.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// The notes from reading the texts of the formulas.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Returns the step from the molar masses to the factor.
    #[must_use]
    pub fn working(&self) -> Working {
        let terms = [&self.sought, &self.weighed].map(|formula| format!("M({formula})"));
        let masses = self.molar.each_ref();
        let masses = masses.map(|molar| format!("{} g/mol", molar.value().to_plain()));
        let mut working = Working::default();
        working.push(Step::new(
            "gravimetric factor",
            format!("F = {}", self.quotient(&terms)),
            self.quotient(&masses),
            self.rounded(),
            "",
        ));
        working
    }

    /// Returns `2 × … / …` or `2 × … / (3 × …)`.
    fn quotient(&self, [above, below]: &[String; 2]) -> String {
        let [a, b] = &self.sought_per_weighed;
        let above = match *a == Ratio::ONE {
            true => above.clone(),
            false => format!("{a} × {above}"),
        };
        match *b == Ratio::ONE {
            true => format!("{above} / {below}"),
            false => format!("{above} / ({b} × {below})"),
        }
    }

    /// The factor as a table prints it, to five significant figures.
    pub(super) fn rounded(&self) -> String {
        self.value().to_figures(5, TieRule::Even).to_string()
    }
}
