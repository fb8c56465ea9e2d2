//! Tests of the house as a whole.

#[cfg(all(feature = "serde", feature = "exercise"))]
mod amounts;
#[cfg(all(feature = "serde", feature = "exercise"))]
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
#[cfg(all(feature = "serde", feature = "exercise"))]
mod balance;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod contract;
mod display;
mod docs;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod envelope;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod exercise;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod filter;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod filter_readme;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod heat;
#[cfg(all(feature = "report", feature = "serde"))]
mod hostile;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod identify;
#[cfg(all(feature = "report", feature = "serde"))]
mod identify_program;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod limits;
mod manifest;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod marking;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod numbers;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod operation;
mod order;
#[cfg(all(feature = "qti", feature = "serde"))]
mod package;
#[cfg(all(feature = "report", feature = "serde"))]
mod page;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod plan;
#[cfg(all(feature = "report", feature = "serde"))]
mod plan_lab;
#[cfg(all(feature = "qti", feature = "report", feature = "serde"))]
mod problem_set;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod program;
mod programs;
#[cfg(all(feature = "report", feature = "serde"))]
mod ran;
mod readme;
mod rooms;
mod source;
#[cfg(all(feature = "serde", feature = "exercise"))]
mod stand_in;
#[cfg(all(feature = "report", feature = "serde"))]
mod wall;
