//! A marked class.

use alloc::string::String;
use alloc::vec::Vec;

use super::marked_row::MarkedRow;
use crate::class::stats::Overview;
use crate::class::{
    CsvStyle, Error, ExcessScatter, IssuedPool, MarkStep, Outlier, Pooled, Problem, Tails,
};
use crate::element::AtomicWeights;
use crate::formula::Formula;
#[cfg(feature = "report")]
use crate::gravimetry::Heated;
use crate::gravimetry::Method;
use crate::text::Note;

/// A marked class.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked {
    pub(super) issued: Formula,
    pub(super) method: Method,
    pub(super) rows: Vec<MarkedRow>,
    pub(super) overview: Overview,
    pub(super) problems: Vec<Problem>,
    pub(super) notes: Vec<Note>,
    pub(super) style: CsvStyle,
    pub(super) invented: bool,
    pub(super) step: MarkStep,
}

impl Marked {
    /// Adds the notes from reading the issued formula's text.
    #[must_use]
    pub fn with_notes(mut self, notes: impl IntoIterator<Item = Note>) -> Self {
        self.notes.extend(notes);
        self
    }

    /// Returns the hydrate issued to the class.
    #[must_use]
    pub fn issued(&self) -> &Formula {
        &self.issued
    }

    /// Returns the atomic weights that the key was made with.
    #[must_use]
    pub fn weights(&self) -> &AtomicWeights {
        self.method.atomic_weights()
    }

    /// What was issued, with the residue that heating it should leave, if the method has one of its salt.
    #[cfg(feature = "report")]
    pub(crate) fn heated<'a>(&'a self, issued: &'a Formula) -> Heated<'a> {
        (issued, self.method.residue_of(issued))
    }

    /// Returns the rows, in the order of the sheet; empty if they were marked [row by
    /// row](super::MarkedRows) and not kept.
    #[must_use]
    pub fn rows(&self) -> &[MarkedRow] {
        &self.rows
    }

    /// Returns the pool of all benches that were issued the class's hydrate and could be worked out, each
    /// once. Stand-in readings are left out, because nobody weighed them.
    #[must_use]
    pub fn pooled(&self) -> &Pooled {
        &self.overview.pooled
    }

    /// Returns the pool of those benches that had reached constant mass.
    #[must_use]
    pub fn at_constant_mass(&self) -> &Pooled {
        &self.overview.at_constant_mass
    }

    /// Returns the pools of each hydrate that was issued, in the order of the sheet.
    #[must_use]
    pub fn pools(&self) -> &[IssuedPool] {
        &self.overview.pools
    }

    /// Returns what could not be read or worked out, by line.
    #[must_use]
    pub fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// Returns whether the [class is invented](crate::class::Sheet::invented).
    #[must_use]
    pub fn is_invented(&self) -> bool {
        self.invented
    }

    /// Returns the note that the class is invented, if it is.
    pub(crate) fn invented_note(&self) -> Option<Note> {
        self.invented.then(|| {
            let text = "This class is invented for demonstration.";
            Note::new("invented", text)
        })
    }

    /// Returns how the sheet separates its cells and writes its decimals.
    #[cfg(feature = "report")]
    pub(crate) fn style(&self) -> CsvStyle {
        self.style
    }

    /// Returns what was decided when the sheet was read.
    #[must_use]
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }

    /// Returns the benches whose ratio is an outlier among all that were issued the same hydrate, or among
    /// those of them at constant mass. Outliers stay in every pool.
    ///
    /// Grubbs' test takes three benches or more, Dixon's three to ten. Both look at the bench that is
    /// farthest off. The generalised test looks for several from eight benches on, and is listed only if
    /// it finds two or more. All are two-tailed, at 95 %. A bench that differs from the others by less than
    /// twice its own uncertainty is not listed. That is what its balance can show, with the repeatability
    /// that the method [states](crate::gravimetry::Method::repeatability).
    ///
    /// ```
    /// use effloresce::class::{Marker, Sheet};
    /// use effloresce::gravimetry::Method;
    /// let text = "bench,hydrate_g,residue_g\n\
    ///     Heron,2.666,1.303\nWren,2.701,1.319\nFinch,2.688,1.315\nRook,2.640,1.288\n\
    ///     Lark,2.655,1.560\n";
    /// let sheet = Sheet::read(text.as_bytes())?;
    /// let marked = Marker::new("MgSO4·7H2O".parse()?, Method::new()).mark(&sheet);
    /// let flagged: Vec<_> = marked
    ///     .outliers()
    ///     .iter()
    ///     .map(|outlier| (outlier.bench(), outlier.test().code()))
    ///     .collect();
    /// assert_eq!(flagged, [("Lark", "grubbs"), ("Lark", "dixon")]);
    /// # Ok::<(), effloresce::Error>(())
    /// ```
    #[must_use]
    pub fn outliers(&self) -> &[Outlier] {
        &self.overview.outliers
    }

    /// Returns the outliers at another level of confidence (0.99 for 99 %), or by one-tailed tests. Use
    /// one tail only if one end was suspected before the values were seen.
    ///
    /// # Errors
    /// Fails if the level is not above 0 and at most 0.999999.
    pub fn outliers_at(&self, level: f64, tails: Tails) -> Result<Vec<Outlier>, Error> {
        self.overview.outliers_at(level, tails)
    }

    /// Returns what the same tests flag, but the uncertainty of the bench explains.
    #[cfg(feature = "report")]
    pub(crate) fn explained_outliers(&self) -> &[Outlier] {
        &self.overview.explained
    }

    /// Returns the repeatability of the mass of water that the method states, if it does.
    #[cfg(feature = "report")]
    pub(crate) fn stated_repeatability(&self) -> Option<f64> {
        self.overview.stated_repeatability
    }

    /// Returns whether the benches scatter more than their own uncertainties explain; `None` below five.
    ///
    /// The test compares the benches that count in [`pooled`](Marked::pooled), outliers included, but
    /// not those known not to have reached constant mass. Each has its own standard uncertainty. If the
    /// method states no repeatability of the mass of water, 0.3 % is added, which careful benches show
    /// (common practice, no source).
    #[must_use]
    pub fn excess_scatter(&self) -> Option<&ExcessScatter> {
        self.overview.excess_scatter.as_ref()
    }

    /// Returns the pool of each balance, in the order of the sheet; empty if the benches name fewer than
    /// two.
    #[must_use]
    pub fn by_balance(&self) -> &[(String, Pooled)] {
        &self.overview.by_balance
    }

    /// Returns the pool of each period, in the order of the sheet; empty if the benches name fewer than
    /// two.
    #[must_use]
    pub fn by_period(&self) -> &[(String, Pooled)] {
        &self.overview.by_period
    }
}
