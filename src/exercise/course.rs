//! What an author chooses: a seed, kinds, a level, salts, the balance, the atomic weights.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::ToString;
use alloc::vec::Vec;

use super::author::{OwnSalts, Template};
use super::error::{Error, ErrorKind, wrong};
use super::kind::{Kind, Level};
use super::sampler::seed_of_code;
use crate::element::AtomicWeights;
use crate::formula::Formula;
use crate::number::{Ratio, Reading};

/// The exercises of a seed, as an author chooses them.
///
/// The same choices give the same problems, on every machine and in every later patch release. The problem at a
/// place in the set does not depend on the number of problems.
///
/// ```
/// use effloresce::exercise::{Exercises, Kind, Level};
/// let exercises = Exercises::new(7)
///     .kinds([Kind::PercentWater])
///     .level(Level::OneStep)
///     .avoid(["BaCl2·2H2O".parse()?]);
/// let ten = exercises.set(10)?;
/// assert_eq!(ten.problems()[..5], *exercises.set(5)?.problems());
/// # Ok::<(), effloresce::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Exercises {
    pub(super) seed: u64,
    /// Empty if none is chosen.
    pub(super) kinds: Vec<Kind>,
    pub(super) level: Option<Level>,
    pub(super) salts: Vec<Formula>,
    pub(super) avoid: Vec<Formula>,
    pub(super) readability: Option<Reading>,
    pub(super) comma: bool,
    pub(super) weights: AtomicWeights,
    pub(super) options: bool,
    pub(super) own_salts: Option<OwnSalts>,
    pub(super) templates: Vec<Template>,
}

impl Exercises {
    /// Starts with a seed, all kinds in turn, all levels, and the default atomic weights.
    #[must_use]
    pub fn new(seed: u64) -> Exercises {
        Exercises {
            seed,
            kinds: Vec::new(),
            level: None,
            salts: Vec::new(),
            avoid: Vec::new(),
            readability: None,
            comma: false,
            weights: AtomicWeights::default(),
            options: true,
            own_salts: None,
            templates: Vec::new(),
        }
    }

    /// Returns the same choices with the seed of a code, such as that of a pupil in a roster. Each code has its own
    /// seed, which the set then says.
    ///
    /// The new seed is the first 64 bits of `ChaCha20`. Its key is the seed in eight bytes, the least first, and the
    /// first 22 bytes of the code, filled up with zeros, and 255 as its last byte. Its stream is the number of bytes of the code. A longer code
    /// goes on with the seed so far and its next 22 bytes.
    ///
    /// ```
    /// use effloresce::exercise::{Exercises, Kind};
    /// let exercises = Exercises::new(7).kinds([Kind::PercentWater]);
    /// let [k1, k2] = ["K1", "K2"].map(|code| exercises.for_code(code).problem(0));
    /// assert_ne!(k1?.prompt(), k2?.prompt());
    /// # Ok::<(), effloresce::exercise::Error>(())
    /// ```
    #[must_use]
    pub fn for_code(&self, code: &str) -> Exercises {
        Exercises {
            seed: seed_of_code(self.seed, code),
            ..self.clone()
        }
    }

    /// Takes these kinds in turn. Without any, the kinds of the templates are taken, or all kinds.
    #[must_use]
    pub fn kinds(mut self, kinds: impl IntoIterator<Item = Kind>) -> Exercises {
        self.kinds = kinds.into_iter().collect();
        self
    }

    /// Sets the level. Without it, each problem has one of the levels of its kind.
    #[must_use]
    pub fn level(mut self, level: Level) -> Exercises {
        self.level = Some(level);
        self
    }

    /// Draws only problems about these salts. A hydrate stands for its salt.
    #[must_use]
    pub fn salts(mut self, salts: impl IntoIterator<Item = Formula>) -> Exercises {
        self.salts = salts.into_iter().collect();
        self
    }

    /// Draws no problem about these salts. A hydrate stands for its salt.
    #[must_use]
    pub fn avoid(mut self, salts: impl IntoIterator<Item = Formula>) -> Exercises {
        self.avoid = salts.into_iter().collect();
        self
    }

    /// Sets the smallest step of the balance in grams; 0.01 g without it, or what a kind needs.
    ///
    /// # Errors
    /// Returns an error if it is not 1, 2 or 5 times a power of ten from 0.0001 g to 1 g.
    pub fn readability(mut self, grams: Reading) -> Result<Exercises, Error> {
        let (value, places) = (grams.value(), grams.decimal_places());
        let steps = [1, 2, 5].map(|step| Ratio::from(step) * grams.last_place());
        if !(0..=4).contains(&places) || !steps.contains(&value) {
            return Err(wrong(
                ErrorKind::Readability,
                format!("no balance of these problems has a smallest step of {grams} g"),
                "give 0.0001, 0.001, 0.01, 0.1 or 1 g, or twice or five times as much",
            ));
        }
        self.readability = Some(grams);
        Ok(self)
    }

    /// Whether numbers for people have a decimal comma.
    #[cfg(feature = "qti")]
    pub(crate) fn has_decimal_comma(&self) -> bool {
        self.comma
    }

    /// Writes decimal commas in prompts, options, answers, help and working. Requests keep points.
    #[must_use]
    pub fn decimal_comma(mut self) -> Exercises {
        self.comma = true;
        self
    }

    /// Uses these atomic weights, such as those of a course's data booklet.
    #[must_use]
    pub fn weights(mut self, weights: AtomicWeights) -> Exercises {
        self.weights = weights;
        self
    }

    /// Draws hydrates from a course's own list in place of the pool's. Problems about reactions, mixtures and
    /// compounds keep the pool.
    #[must_use]
    pub fn own_salts(mut self, salts: OwnSalts) -> Exercises {
        self.own_salts = Some(salts);
        self
    }

    /// Draws problems from templates of an author's own. A problem whose kind has templates is drawn from one of
    /// them, in turn; other kinds are drawn as ever. Without [`kinds`](Self::kinds), the kinds are those of the
    /// templates.
    ///
    /// ```
    /// use effloresce::exercise::{Exercises, Template};
    /// # let toml = include_str!("../../examples/data/template_precipitate.toml");
    /// let set = Exercises::new(1).templates([Template::read(toml)?]).set(2)?;
    /// assert_eq!(set.problems()[0].form(), "calcium_carbonate_from_chloride");
    /// # Ok::<(), effloresce::exercise::Error>(())
    /// ```
    #[must_use]
    pub fn templates(mut self, templates: impl IntoIterator<Item = Template>) -> Exercises {
        self.templates = templates.into_iter().collect();
        self
    }

    /// The kinds in turn.
    pub(super) fn kinds_in_turn(&self) -> Cow<'_, [Kind]> {
        if !self.kinds.is_empty() {
            return Cow::Borrowed(&self.kinds);
        }
        if self.templates.is_empty() {
            return Cow::Borrowed(&Kind::ALL);
        }
        let mut kinds = Vec::new();
        for template in &self.templates {
            if !kinds.contains(&template.kind) {
                kinds.push(template.kind);
            }
        }
        Cow::Owned(kinds)
    }

    /// The kind at a place of a set, and the template that its problem is drawn from, if the kind has templates.
    pub(super) fn kind_at(&self, place: usize) -> Result<(Kind, Option<&Template>), Error> {
        let kinds = self.kinds_in_turn();
        let count = kinds.len().max(1);
        let kind = kinds.get(place % count).copied();
        let kind = kind.unwrap_or(Kind::PercentWater);
        let of_kind = self
            .templates
            .iter()
            .filter(|template| template.kind == kind);
        let of_kind: Vec<&Template> = of_kind.collect();
        if of_kind.is_empty() {
            return Ok((kind, None));
        }
        let fits = |template: &&&Template| self.level.is_none_or(|level| template.level == level);
        let fitting: Vec<&Template> = of_kind.iter().filter(fits).copied().collect();
        match fitting.get(place / count % fitting.len().max(1)) {
            Some(template) => Ok((kind, Some(template))),
            None => Err(self.no_template(kind, &of_kind)),
        }
    }

    fn no_template(&self, kind: Kind, templates: &[&Template]) -> Error {
        let level = self.level.map_or(0, Level::number);
        let levels: alloc::collections::BTreeSet<u32> = templates
            .iter()
            .map(|template| template.level.number())
            .collect();
        let levels = crate::text::list(levels.iter().map(ToString::to_string));
        wrong(
            ErrorKind::Level,
            format!("the templates of the kind `{kind}` have no level {level}"),
            format!("give level {}", levels.replace(" and ", " or ")),
        )
    }

    /// Leaves the options out. Other numbers may be drawn in rare cases, because no option has to fit.
    #[must_use]
    pub fn without_options(mut self) -> Exercises {
        self.options = false;
        self
    }

    /// Returns the seed.
    #[must_use]
    pub fn seed(&self) -> u64 {
        self.seed
    }

    /// Whether both have the same table of atomic weights, and write it alike.
    #[cfg(feature = "qti")]
    pub(crate) fn agrees_on_weights(&self, other: &Exercises) -> bool {
        self.weights == other.weights && self.comma == other.comma
    }

    /// What is chosen: names, and texts for people. What is not chosen has no name.
    #[cfg(feature = "qti")]
    pub(crate) fn choices(&self) -> Vec<(&'static str, alloc::string::String)> {
        let formulas = |name, salts: &[Formula]| {
            let texts: Vec<_> = salts.iter().map(ToString::to_string).collect();
            (name, texts.join(" "))
        };
        let kinds = self.kinds_in_turn();
        let kinds: Vec<&str> = kinds.iter().map(|kind| kind.code()).collect();
        let level = self.level.map(|level| level.number().to_string());
        let readability = self.readability.as_ref();
        let readability = readability.map(|grams| format!("{grams} g"));
        let choices = [
            ("seed", self.seed.to_string()),
            ("kinds", kinds.join(" ")),
            ("level of all problems", level.unwrap_or_default()),
            formulas("salts", &self.salts),
            formulas("salts avoided", &self.avoid),
            (
                "smallest step of the balance",
                readability.unwrap_or_default(),
            ),
            ("decimal mark", if self.comma { "," } else { "." }.into()),
            ("atomic weights", self.weights.to_string()),
        ];
        let chosen = choices.into_iter().filter(|(_, text)| !text.is_empty());
        chosen.collect()
    }

    /// A text with the decimal mark of the set.
    #[cfg(any(feature = "report", feature = "qti"))]
    pub(crate) fn with_decimal_mark(&self, text: &str) -> alloc::string::String {
        match self.comma {
            true => super::decimal_comma::with_commas(text),
            false => text.into(),
        }
    }

    /// Whether any constraint is given.
    pub(super) fn is_free(&self) -> bool {
        self.salts.is_empty() && self.avoid.is_empty()
    }

    /// Whether nothing takes the place of the pool's hydrates or leaves some out.
    pub(super) fn draws_from_all_of_the_pool(&self) -> bool {
        self.is_free() && self.own_salts.is_none()
    }

    /// An error that names the constraints that leave nothing of `what`.
    pub(super) fn exhausted(&self, what: &str) -> Error {
        let names = |salts: &[Formula]| crate::text::list(salts.iter().map(ToString::to_string));
        let asked = names(&self.salts);
        let avoided = names(&self.avoid);
        let leaves = match (self.salts.is_empty(), self.avoid.is_empty()) {
            (true, true) => "the list of the course's own salts leaves".into(),
            (true, _) => format!("`avoid` ({avoided}) leaves"),
            (_, true) => format!("`salts` ({asked}) leaves"),
            _ => format!("`salts` ({asked}) and `avoid` ({avoided}) leave"),
        };
        wrong(
            ErrorKind::Exhausted,
            format!("{leaves} {what}"),
            "name more salts, avoid fewer, or ask for other kinds of problem",
        )
    }
}
