//! Tests of the house as a whole.

#[cfg(all(feature = "serde", feature = "class"))]
mod amounts;
#[cfg(all(feature = "serde", feature = "class"))]
mod analyses;
#[cfg(all(feature = "report", feature = "serde"))]
mod answer_key;
#[cfg(all(feature = "report", feature = "serde"))]
mod answer_key_by_hand;
#[cfg(all(feature = "report", feature = "serde"))]
mod answer_key_files;
#[cfg(all(feature = "report", feature = "serde"))]
mod answer_key_options;
#[cfg(all(feature = "report", feature = "serde"))]
mod answer_key_outputs;
#[cfg(all(feature = "report", feature = "serde"))]
mod answer_key_pages;
mod auto_traits;
#[cfg(all(feature = "serde", feature = "class"))]
mod balance;
#[cfg(all(feature = "serde", feature = "class"))]
mod contract;
mod display;
mod docs;
#[cfg(all(feature = "serde", feature = "class"))]
mod envelope;
#[cfg(all(feature = "serde", feature = "class"))]
mod filter;
#[cfg(all(feature = "serde", feature = "class"))]
mod filter_readme;
#[cfg(all(feature = "serde", feature = "class"))]
mod heat;
#[cfg(all(feature = "report", feature = "serde"))]
mod hostile;
#[cfg(all(feature = "serde", feature = "class"))]
mod identify;
#[cfg(all(feature = "report", feature = "serde"))]
mod identify_program;
#[cfg(all(feature = "serde", feature = "class"))]
mod limits;
mod manifest;
#[cfg(all(feature = "serde", feature = "class"))]
mod marking;
#[cfg(all(feature = "serde", feature = "class"))]
mod numbers;
#[cfg(all(feature = "serde", feature = "class"))]
mod operation;
mod order;
#[cfg(all(feature = "report", feature = "serde"))]
mod page;
#[cfg(all(feature = "serde", feature = "class"))]
mod plan;
#[cfg(all(feature = "report", feature = "serde"))]
mod plan_lab;
#[cfg(all(feature = "serde", feature = "class"))]
mod program;
mod programs;
#[cfg(all(feature = "report", feature = "serde"))]
mod ran;
mod readme;
mod rooms;
mod source;
#[cfg(all(feature = "serde", feature = "class"))]
mod stand_in;
#[cfg(all(feature = "report", feature = "serde"))]
mod wall;
