//! Pictures, as SVG: of a plan, of the ratios of a class, and of its weighings.
//!
//! They are not drawn on WebAssembly. There, plotters asks the page of a browser how wide a text is, and panics
//! if there is no page.

// Files in order; each uses only those before it:
//   canvas   what every picture shares: sizes, fonts, colours, marks, the legend, the words
//   plan     how uncertain x is, by the mass of hydrate and the balance
//   salt_benches  the benches that were issued one hydrate
//   dots     x of each bench, with its uncertainty
//   series   the waters that each heating leaves, bench by bench

mod canvas;
mod dots;
#[cfg(test)]
mod figures_tests;
mod plan;
#[cfg(test)]
mod reliability_tests;
mod salt_benches;
mod series;
#[cfg(test)]
mod tests;

pub(super) use dots::dot_plots;
pub(super) use plan::plan_picture;
pub(super) use series::weighing_series;
