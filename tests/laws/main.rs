//! Laws that hold for whatever goes in, room by room.

mod amounts;
mod analyses;
mod any_text;
mod building;
#[cfg(feature = "class")]
mod changes;
mod dehydration;
mod diagnosis;
mod empirical;
mod formula;
mod hazards;
mod heat;
mod identify;
mod names;
mod oracle;
#[cfg(feature = "report")]
mod pages;
mod paths;
#[cfg(feature = "report")]
mod pictures;
mod plan;
#[cfg(feature = "class")]
mod policy;
#[cfg(feature = "class")]
#[path = "../pupils/mod.rs"]
mod pupils;
mod ratio;
mod reaction;
mod reading;
mod rounding;
#[cfg(all(feature = "class", feature = "serde"))]
mod serialised;
#[cfg(feature = "report")]
mod sheet;
mod simulated;
#[cfg(feature = "class")]
mod slips;
#[cfg(feature = "class")]
mod statistics;
mod strategies;
#[cfg(feature = "report")]
mod stream;
mod writers;
mod xml;
