//! The class sheet without readings.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;
use std::io;

use super::bench_cards::bench_name;
use super::lesson_paper::LessonPaper;
use crate::class::{CsvStyle, write_csv};
use crate::gravimetry::Quantity;

impl LessonPaper {
    /// The sheet as CSV, with a row for each bench, as [`Sheet::read`](crate::class::Sheet::read) reads it.
    pub(super) fn empty_sheet(&self) -> io::Result<Vec<u8>> {
        let mut header: Vec<String> = [
            "bench",
            "pupil",
            "issued",
            "readability_g",
            "crucible_g",
            "crucible_hydrate_g",
        ]
        .map(String::from)
        .into();
        header.extend((1..=self.heatings).map(|heating| format!("heated_{heating}_g")));
        header.extend(Quantity::ALL.map(reported));
        let header: Vec<&str> = header.iter().map(String::as_str).collect();
        let issued = self.plan.issued().to_string();
        let step = self.plan.readability().to_plain();
        let row = |number| {
            let mut cells = Vec::from([
                bench_name(number),
                String::new(),
                issued.clone(),
                step.clone(),
            ]);
            cells.resize(header.len(), String::new());
            cells
        };
        let rows = (1..=self.plan.bench_count().unwrap_or(0)).map(row);
        let mut bytes = Vec::new();
        write_csv(CsvStyle::default(), &header, rows, &mut bytes)?;
        Ok(bytes)
    }
}

/// The column for an answer.
fn reported(quantity: Quantity) -> String {
    let unit = match quantity {
        Quantity::HydrateMass => return "reported_hydrate_g".into(),
        Quantity::ResidueMass => return "reported_residue_g".into(),
        Quantity::WaterMass => return "reported_water_g".into(),
        other => other.code(),
    };
    format!("reported_{unit}")
}
