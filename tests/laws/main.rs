//! Laws that hold for whatever goes in, room by room.

mod any_text;
mod dehydration;
mod formula;
mod paths;
#[cfg(feature = "class")]
#[path = "../pupils/mod.rs"]
mod pupils;
mod ratio;
mod reading;
mod rounding;
#[cfg(feature = "report")]
mod sheet;
#[cfg(feature = "class")]
mod slips;
mod strategies;
