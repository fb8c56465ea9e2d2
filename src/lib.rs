//! Stoichiometry with hydrates and gravimetric analysis at its heart.
//!
//! A class heats a hydrated salt to constant mass and works back to the number of waters in its
//! formula. This crate does the work around that period. It calculates what each bench should find
//! *from its own readings* and whether its mass is constant yet. It knows which answers careful work
//! can defend, and gives fair marks to a whole class.
//!
//! ```
//! use effloresce::gravimetry::{Method, Outcome, Weighings};
//!
//! // Empty crucible, crucible with the hydrate, then after each heating: grams, as read.
//! let bench = Weighings::new(
//!     "21.352".parse()?,
//!     "24.018".parse()?,
//!     ["22.701".parse()?, "22.656".parse()?, "22.655".parse()?],
//! );
//! let run = Method::new().dehydration(&"MgSO4".parse()?, &bench)?;
//!
//! assert_eq!(run.outcome(), &Outcome::Resolved("MgSO4·7H2O".parse()?));
//! assert_eq!(run.ratio().to_string(), "164052043/23473545"); // exact: 6.9888…
//! assert!((run.standard_uncertainty() - 0.013).abs() < 0.001);
//! # Ok::<(), effloresce::Error>(())
//! ```
//!
//! # Modules
//!
//! Each module uses those above it, never those below.
//!
//! | module | contents |
//! | --- | --- |
//! | [`number`] | readings as written, exact fractions, rounding, uncertainty budgets |
//! | [`element`] | the elements, standard atomic weights by edition, a class's own table, nuclides |
//! | [`formula`] | text to notation to formula; composition, molar mass, writers; names of hydrates; empirical and molecular formulas |
//! | [`working`] | steps of working as data |
//! | [`reaction`] | equations as written, exact balancing, checks of what is conserved; amounts, limiting reactants, yield |
//! | [`gravimetry`] | constant mass, degree of hydration, defensible range, the next step for a bench; the plan for a class; factors, stages of heating, mixtures, loss on drying; unknown hydrates; heat of hydration |
//! | [`mistake`] | slips on paper, each with the value that it gives; faults at the bench, and a simulator of benches |
//! | `class` | class sheets, marking by a policy, feedback, statistics, stand-in readings (feature `class`) |
//! | `exercise` | problem sets from a seed, each problem solved before it is let out (feature `exercise`) |
//! | `report` | working, key, report, gradebook, feedback strips, a page for the wall, the paper for a lesson and for a problem set, as text, Markdown, HTML or LaTeX (feature `report`) |
//! | `qti` | problem sets as packages of QTI 3.0, which course platforms read (feature `qti`) |
//!
//! Programs in other languages use the filter `jsonl`. Each of its operations is documented in
//! `examples/jsonl/README.md` of this package, with lines to try and their replies.
//!
//! # What it does not do
//!
//! - **Guess.** A formula with two possible meanings is an error that names both. An element without
//!   a standard atomic weight has no weight. A ratio that is not a whole number is not rounded to one.
//! - **Round on the way.** Masses, weights and ratios are exact fractions to the printed digit;
//!   binary floating point appears in uncertainties and statistics only.
//! - **Replace the safety data sheet.** [`gravimetry::HeatingSafety`] has rules by ions, rows of a
//!   catalogue and common practice, each with its source. The data sheet, the local rules and the person in charge of the laboratory decide.
//!
//! # Features
//!
//! All features but the last are on by default, and a feature only adds. Without default features the
//! crate needs `alloc` and no standard library. It then has the modules `number`, `element`, `formula`,
//! `working`, `reaction`, `gravimetry` and `mistake`.
//!
//! - **`std`**: the standard library, for what reads and writes files.
//! - **`serde`**: serializes results in the shape of the JSON-lines contract. Exact numbers, formulas,
//!   codes, readings and rules are read, too (see [serialised data](#serialised-data)).
//! - **`class`**: class sheets, marking, pooling; turns `std` on.
//! - **`exercise`**: problem sets; turns `class` on.
//! - **`report`**: pages for people, and pictures that are not drawn on WebAssembly; turns `exercise` on.
//! - **`qti`**: packages for course platforms; turns `exercise` on.
//! - **`portable-atomic`**: builds for targets without compare-and-swap, such as `riscv32imc`. Your
//!   program chooses what replaces it, by a feature of the package of that name. The feature
//!   `critical-section` needs an implementation, which a package for your chip usually has:
//!
//! ```toml
//! [dependencies]
//! effloresce = { version = "0.1", default-features = false, features = ["portable-atomic"] }
//! portable-atomic = { version = "1", features = ["critical-section"] }
//! ```
//!
//! # Serialised data
//!
//! Readings, rules, policies, entries, formulas and codes are read as they are written. What their
//! constructors refuse is refused, and so is an unknown field. A field that is null is not given. The
//! format must name its fields, as JSON does.
//!
//! A reading is text in quotation marks, because the number 2.50 has lost its zero. So is an answer. A
//! setting, such as a tolerance, a criterion or an atomic weight, may also be a number: zeros at its end
//! mean nothing. The shortest decimal of the number is read, so `0.002` is exactly 2/1000.
//!
//! An error of serde keeps no more than the message and the help of the error behind it. To keep code
//! and span as well, read a `String` and parse it:
//!
//! ```
//! use effloresce::Formula;
//! let issued: String = serde_json::from_str(r#""MgS04·7H2O""#)?;
//! let error = issued.parse::<Formula>().unwrap_err();
//! assert_eq!(error.code(), "bad_formula");
//! assert_eq!(error.span().map(|span| &issued[span.start..span.end]), Some("0"));
//! assert_eq!(error.help(), Some("write the letter O for oxygen: `MgSO4·7H2O`"));
//! # #[cfg(feature = "serde")] {
//!
//! // The same through serde: one text for a person.
//! let error = serde_json::from_str::<Formula>(r#""MgS04·7H2O""#).unwrap_err();
//! assert!(error.to_string().contains("write the letter O"));
//! # }
//! # Ok::<(), serde_json::Error>(())
//! ```
//!
//! # Where numbers come from
//!
//! Standard atomic weights are those of IUPAC 2021 ([`element::Edition::Iupac2021`]) and the
//! revisions of 2024, the default until version 2.0; an edition never changes. Nuclide masses are
//! AME2020. Every result can name its edition.

#![no_std]
#![forbid(unsafe_code)]
#![deny(missing_docs)]
#![cfg_attr(docsrs, feature(doc_cfg))]
#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::todo,
        clippy::unimplemented,
        clippy::print_stdout,
        clippy::print_stderr
    )
)]

#[cfg(not(any(target_has_atomic = "ptr", feature = "portable-atomic")))]
compile_error!(
    "this target has no compare-and-swap, so the feature `portable-atomic` is needed: in Cargo.toml write \
     effloresce = { version = \"0.1\", default-features = false, features = [\"portable-atomic\"] }"
);

extern crate alloc;
#[cfg(any(feature = "std", test))]
extern crate std;

#[cfg(feature = "class")]
pub mod class;
pub mod element;
mod error;
#[cfg(feature = "exercise")]
pub mod exercise;
pub mod formula;
pub mod gravimetry;
pub mod mistake;
pub mod number;
#[cfg(feature = "qti")]
pub mod qti;
pub mod reaction;
#[cfg(feature = "report")]
pub mod report;
mod text;
pub mod working;

pub use element::{AtomicWeights, Element};
pub use error::Error;
pub use formula::{Formula, MolarMass};
pub use number::{Ratio, Reading};
pub use rust_decimal::Decimal;
pub use text::{Note, Span, visible};

/// The README's programs, compiled as tests.
#[cfg(all(doctest, feature = "report", feature = "serde"))]
#[doc = include_str!("../README.md")]
struct Readme;
