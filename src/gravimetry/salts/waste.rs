//! What becomes of the residue after the period.

/// The waste route of a salt and its residue, in general words. The local rules decide.
///
/// ```
/// use effloresce::gravimetry::salt_facts;
/// let copper = salt_facts(&"CuSO4".parse()?).unwrap();
/// let waste = copper.waste().unwrap();
/// assert_eq!(waste.value().code(), "heavy_metal");
/// assert!(waste.value().words().starts_with("Collect it"));
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Waste {
    /// Down the drain with much water.
    Drain,
    /// With the solid waste.
    Solid,
    /// Dilute or neutralise first, then down the drain.
    Neutralise,
    /// Collect as heavy metal waste.
    HeavyMetal,
    /// Collect as oxidising waste, apart from what burns.
    Oxidising,
    /// Collect as toxic waste.
    Toxic,
    /// Let it cool away from what burns, because the residue can catch fire in air.
    CatchesFire,
}

impl Waste {
    /// Returns the stable name, such as `heavy_metal`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Waste::Drain => "drain",
            Waste::Solid => "solid",
            Waste::Neutralise => "neutralise",
            Waste::HeavyMetal => "heavy_metal",
            Waste::Oxidising => "oxidising",
            Waste::Toxic => "toxic",
            Waste::CatchesFire => "catches_fire",
        }
    }

    /// Returns the route as a sentence.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Waste::Drain => "Rinse it down the drain with much water, if the local rules allow it.",
            Waste::Solid => "Put it with the solid waste, if the local rules allow it.",
            Waste::Neutralise => {
                "Neutralise it, then rinse it down the drain with much water, if the local rules allow it."
            }
            Waste::HeavyMetal => "Collect it as heavy metal waste. Nothing goes down the drain.",
            Waste::Oxidising => {
                "Collect it as oxidising waste, apart from paper and other matter that burns."
            }
            Waste::Toxic => "Collect it as toxic waste, in a closed and labelled vessel.",
            Waste::CatchesFire => {
                "The residue can catch fire in air. Let it cool on sand, away from paper and other matter that burns. Then ask \
                 the person in charge of the laboratory."
            }
        }
    }
}
