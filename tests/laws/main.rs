//! Laws that hold for whatever goes in, room by room.

mod any_text;
mod building;
mod dehydration;
mod formula;
mod paths;
mod ratio;
mod reading;
mod rounding;
#[cfg(feature = "report")]
mod sheet;
mod strategies;
mod writers;
mod xml;
