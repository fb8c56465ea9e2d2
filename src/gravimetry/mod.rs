//! Loss on heating: weighings to constant mass, the degree of hydration with its uncertainty,
//! the range of answers that careful work can give, and what a bench should do next.
//!
//! # How the uncertainty is made up
//!
//! Each reading is an independent input that lies anywhere within half a division (d/√12), with the
//! balance's own repeatability and linearity where they are given; a criterion that was met adds
//! c/√3 to the weighing used, for what heating further might still take; each element's weight lies
//! anywhere within its limit (limit/√3) and counts once, though it sits in the salt and in the water;
//! the method's relative repeatability of the mass of water adds where it is given. The parts are
//! combined in quadrature (GUM, first order).
//!
//! # How often the interval covers
//!
//! On 10,000 simulated benches a balance, with one heating and balances from 0.1 g to 0.001 g, the
//! ratio ± two standard uncertainties holds the true degree in 95 to 97 % of runs: a little above
//! 95 %, because a sum of few errors that cannot exceed half a division has shorter tails than a
//! Gaussian. At 0.0001 g it is 96 to 98 %: there the atomic weights make up much of the variance, and
//! their limits, taken from the abridged table as rectangular, are wider than what most samples show
//! (sodium ± 0.001, though its weight is known to 2·10⁻⁸; sulfur ± 0.02, though its interval is 0.017
//! wide).
//!
//! A met criterion adds ± c, though what is left can only make the residue too heavy, so that more is
//! covered: 97 to 99 % where each heating drives off half of the water still there. It is no guarantee
//! against slow loss. Where a heating takes only a third of what is left, two weighings agree within
//! the criterion and the interval still covers in only about 60 % of runs: heat longer, for the
//! criterion cannot see it.

mod check;
mod decomposed;
mod dehydration;
mod found;
mod method;
mod mole_ratio;
mod outcome;
mod quantity;
mod range;
mod salts;
mod series;
#[cfg(test)]
mod tests;
#[cfg(feature = "serde")]
mod wire;
mod written;

pub use check::{Advice, Check, Plateau};
pub use dehydration::Dehydration;
pub use found::Sensitivity;
pub use method::Method;
pub use mole_ratio::MoleRatio;
pub use outcome::{Candidate, Outcome};
pub use quantity::Quantity;
pub use range::{Defensible, Range};
pub use salts::{
    Decomposition, cautions, decomposition, decompositions, known_hydrates, plateau_hydrates,
};
pub use series::{Constancy, ConstantMass, Net, WeighingUsed, Weighings};

pub(crate) use range::{MEASURED, Paths, Source, percent};
#[cfg(feature = "report")]
pub(crate) use salts::cautions_for;

crate::text::room_error! {
    /// Readings that contradict one another, or a question that they cannot answer.
    ///
    /// ```
    /// use effloresce::gravimetry::{Method, Weighings};
    /// let swapped = Weighings::new("24.018".parse()?, "21.352".parse()?, ["22.656".parse()?]);
    /// let error = Method::new().dehydration(&"MgSO4".parse()?, &swapped).unwrap_err();
    /// assert_eq!(error.code(), "impossible_masses");
    /// assert_eq!(
    ///     error.to_string(),
    ///     "the container with the hydrate (21.352 g) is not heavier than the empty container (24.018 g)"
    /// );
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    Error, ErrorKind {
        /// Masses that cannot be: a residue heavier than the hydrate, nothing left, and the like.
        ImpossibleMasses => "impossible_masses",
        /// A salt that is not anhydrous, or a hydrate that is none.
        NotASalt => "bad_request",
        /// No weighing after heating is given.
        MissingWeighing => "missing_field",
        /// A value outside the range that makes sense for it.
        OutOfRange => "out_of_range",
        /// The salt's formula has no molar mass: an element without a weight.
        NoStandardWeight => "no_standard_weight",
        /// The salt's formula has no molar mass: a count left open.
        UnknownDegree => "unknown_degree",
    }
}

impl From<crate::formula::Error> for Error {
    /// What keeps a formula from having a molar mass keeps its hydrate from being worked out.
    fn from(error: crate::formula::Error) -> Error {
        let kind = match error.kind() {
            crate::formula::ErrorKind::UnknownDegree => ErrorKind::UnknownDegree,
            _ => ErrorKind::NoStandardWeight,
        };
        let mut detail = crate::text::Detail::new(alloc::format!("{error}"));
        detail.span = error.span();
        detail.help = error
            .help()
            .map(|help| alloc::string::String::from(help).into());
        Error::new(kind, detail)
    }
}
