//! Laws that hold for whatever goes in, room by room.

mod any_text;
#[cfg(feature = "class")]
mod changes;
mod dehydration;
mod formula;
mod oracle;
mod paths;
#[cfg(feature = "class")]
mod policy;
#[path = "../pupils/mod.rs"]
mod pupils;
mod ratio;
mod reading;
mod rounding;
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
