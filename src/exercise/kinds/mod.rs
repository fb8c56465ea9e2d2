//! The kinds of problem: one file a kind.

// Files in order; each uses only those before it:
//   row                     what a kind is made of
//   wording                 words that several kinds share
//   molar_mass              the molar mass of a hydrate or its salt
//   percent_water           the percentage of water in a hydrate
//   factor                  the content of a sample from what is weighed
//   balance                 an equation to balance
//   reaction                amounts in a reaction: what forms, what is left, what to weigh out
//   stages                  heating in stages
//   empirical               the empirical or molecular formula of a compound
//   error_analysis          a class sheet with a fault and a slip
//   degree                  what the kinds that ask for the formula of a hydrate share
//   formula_from_masses     that formula from two masses
//   formula_from_percent    that formula from the percentage of water
//   formula_from_weighings  that formula from the weighings of a crucible
//   mixture                 the composition of a mixture of two solids
//   heat                    the heat of hydration
//   catalogue               all kinds

mod balance;
mod catalogue;
mod degree;
mod empirical;
mod error_analysis;
mod factor;
mod formula_from_masses;
mod formula_from_percent;
mod formula_from_weighings;
mod heat;
mod mixture;
mod molar_mass;
mod percent_water;
mod reaction;
mod row;
mod stages;
mod wording;

#[cfg(feature = "qti")]
pub(crate) use balance::species_name;
pub(super) use row::KindRow;
