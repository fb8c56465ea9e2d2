//! How an author writes a template.

use alloc::string::ToString;

use super::from_toml::template;
use super::template::Template;
use crate::exercise::error::{Error, ErrorKind};
use crate::text::Detail;

impl Template {
    /// Reads a template from TOML.
    ///
    /// # A complete template
    /// ```toml
    #[doc = include_str!("../../../examples/data/template_precipitate.toml")]
    /// ```
    ///
    /// # Quantities
    /// A quantity is drawn from one of these:
    ///
    /// | keys | what is drawn |
    /// | --- | --- |
    /// | `from`, `to`, `step` | a number; with `balance = true` the step is that of the balance, if one is chosen |
    /// | `numbers = [0.10, 0.25]` | one of the numbers |
    /// | `formulas = ["MgSO4·7H2O", "ZnSO4·7H2O"]` | one of the formulas |
    /// | `words = ["Juniper", "Hazel"]` | one of the words |
    /// | `pool = "hydrate"` | a hydrate of the pool, or of the [course's own list](crate::exercise::OwnSalts); one that a school may heat, if the problem speaks of heating; `least_waters = 2` leaves out those with fewer waters |
    ///
    /// A number is printed with the digits of its range, and with its `unit`: write no unit after the placeholder. The
    /// unit is that of the field of the request: g, mol, mol/L, L or %. `symbol` is for the relations of the working.
    /// The placeholder `{hydrate}` is the formula. `{hydrate.name}`, `{hydrate.salt}`, `{hydrate.salt_name}` and
    /// `{hydrate.waters}` are its name, its salt, the name of the salt, and its number of waters.
    ///
    /// # Expressions
    /// An expression has numbers, placeholders, results of earlier steps (`{n}`), molar masses in g/mol
    /// (`M(CaCO3)`, `M({hydrate})`), brackets, and `+`, `-`, `*`, `/`. The value of a wrong step may also have a
    /// value of the right result, as a JSON Pointer in square brackets. In place of `value`, a wrong step may have
    /// a `formula`, or another `request` with its `pointer`.
    ///
    /// # Wrong steps
    /// Give each a code, a `name` that completes "This is …", and what to do `instead`. A known code needs no words.
    /// These are known:
    ///
    #[doc = include_str!("../../../examples/data/wrong_steps.md")]
    ///
    /// # What is proved
    /// The problems are proved as those of the crate's own kinds are. The working gives the tolerance: each molar
    /// mass by the table of the set and by finer ones, each intermediate result rounded or not, widened by half a
    /// unit of the last place. A result that is only a sum or a difference of what is given is not rounded. So write a
    /// quantity once where you can: each time it occurs, it widens the range. The working must give the
    /// answer of the request, or no problem is drawn.
    ///
    /// A problem without `figures` has a text for its answer, such as a formula. Its last step may then have
    /// `symbols` in place of an `expression`.
    ///
    /// A template that speaks of heating is refused if it names a solid that must not be heated in a school.
    ///
    /// # Errors
    /// Returns an error if the text is not TOML, is longer than 64 KiB, or has a key that is unknown, missing or
    /// cannot be read. The message names the line and the key, and the span is in bytes of the text.
    ///
    /// ```
    /// use effloresce::exercise::{Kind, Template};
    /// # let good = include_str!("../../../examples/data/template_precipitate.toml");
    /// let template = Template::read(good)?;
    /// assert_eq!((template.kind(), template.form()), (Kind::Limiting, "calcium_carbonate_from_chloride"));
    /// assert!(template.check().is_empty());
    ///
    /// let error = Template::read(&good.replace("{n} * M(CaCO3)", "{n} * M(CaCO3")).unwrap_err();
    /// assert_eq!(
    ///     error.to_string(),
    ///     "line 46, `working[1].expression`: character 5: `* M(CaCO3` cannot be read here",
    /// );
    /// # Ok::<(), effloresce::exercise::Error>(())
    /// ```
    pub fn read(text: &str) -> Result<Template, Error> {
        template(text).map_err(|error| {
            let mut detail = Detail::new(error.to_string());
            detail.span = error.span();
            detail.help = error.help().map(|help| help.to_string().into());
            Error::new(ErrorKind::BadFile, detail)
        })
    }
}
