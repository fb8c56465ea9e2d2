//! Laws that hold for whatever goes in, room by room.

mod any_text;
mod dehydration;
mod formula;
mod names;
mod paths;
mod ratio;
mod reading;
mod rounding;
#[cfg(feature = "report")]
mod sheet;
mod strategies;
