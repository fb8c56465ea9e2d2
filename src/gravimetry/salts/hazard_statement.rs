//! The hazard statements of the Globally Harmonized System.

/// A hazard statement of the Globally Harmonized System (GHS), such as H318. Suppliers classify one
/// substance differently. The label and the safety data sheet of the bottle at hand decide.
///
/// ```
/// use effloresce::gravimetry::salt_facts;
/// let copper = salt_facts(&"CuSO4".parse()?).unwrap();
/// let statements = copper.hazard_statements();
/// let eyes = statements.iter().find(|s| s.value().code() == "H318").unwrap();
/// assert_eq!(eyes.value().words(), "causes serious eye damage");
/// # Ok::<(), effloresce::formula::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct HazardStatement {
    code: &'static str,
    words: &'static str,
}

impl HazardStatement {
    /// The statement with this code.
    pub(super) fn of(code: &str) -> Option<HazardStatement> {
        let (code, words) = STATEMENTS.iter().find(|row| row.0 == code)?;
        Some(HazardStatement { code, words })
    }

    /// Returns the code, such as `H318`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        self.code
    }

    /// Returns the statement in words, as a clause without capital and full stop.
    #[must_use]
    pub const fn words(self) -> &'static str {
        self.words
    }
}

/// Code and words, after Regulation (EC) No 1272/2008, Annex III, and the GHS of the United Nations,
/// Annex 3 (from memory).
#[rustfmt::skip]
const STATEMENTS: &[(&str, &str)] = &[
    ("H228", "flammable solid"),
    ("H271", "may cause fire or explosion, a strong oxidiser"),
    ("H272", "may intensify fire, an oxidiser"),
    ("H290", "may be corrosive to metals"),
    ("H300", "fatal if swallowed"),
    ("H301", "toxic if swallowed"),
    ("H302", "harmful if swallowed"),
    ("H303", "may be harmful if swallowed"),
    ("H310", "fatal in contact with skin"),
    ("H311", "toxic in contact with skin"),
    ("H312", "harmful in contact with skin"),
    ("H314", "causes severe skin burns and eye damage"),
    ("H315", "causes skin irritation"),
    ("H316", "causes mild skin irritation"),
    ("H317", "may cause an allergic skin reaction"),
    ("H318", "causes serious eye damage"),
    ("H319", "causes serious eye irritation"),
    ("H320", "causes eye irritation"),
    ("H330", "fatal if inhaled"),
    ("H331", "toxic if inhaled"),
    ("H332", "harmful if inhaled"),
    ("H334", "may cause allergy or asthma symptoms or breathing difficulties if inhaled"),
    ("H335", "may cause respiratory irritation"),
    ("H336", "may cause drowsiness or dizziness"),
    ("H340", "may cause genetic defects"),
    ("H341", "suspected of causing genetic defects"),
    ("H350", "may cause cancer"),
    ("H350i", "may cause cancer by inhalation"),
    ("H351", "suspected of causing cancer"),
    ("H360", "may damage fertility or the unborn child"),
    ("H360D", "may damage the unborn child"),
    ("H360Df", "may damage the unborn child, suspected of damaging fertility"),
    ("H360F", "may damage fertility"),
    ("H360FD", "may damage fertility and the unborn child"),
    ("H360Fd", "may damage fertility, suspected of damaging the unborn child"),
    ("H361", "suspected of damaging fertility or the unborn child"),
    ("H361d", "suspected of damaging the unborn child"),
    ("H361f", "suspected of damaging fertility"),
    ("H361fd", "suspected of damaging fertility and the unborn child"),
    ("H362", "may cause harm to breast-fed children"),
    ("H370", "causes damage to organs"),
    ("H371", "may cause damage to organs"),
    ("H372", "causes damage to organs through prolonged or repeated exposure"),
    ("H373", "may cause damage to organs through prolonged or repeated exposure"),
    ("H400", "very toxic to aquatic life"),
    ("H401", "toxic to aquatic life"),
    ("H402", "harmful to aquatic life"),
    ("H410", "very toxic to aquatic life with long lasting effects"),
    ("H411", "toxic to aquatic life with long lasting effects"),
    ("H412", "harmful to aquatic life with long lasting effects"),
    ("H413", "may cause long lasting harmful effects to aquatic life"),
    ("EUH014", "reacts violently with water"),
    ("EUH031", "contact with acids liberates toxic gas"),
    ("EUH032", "contact with acids liberates very toxic gas"),
];
