//! What a class sheet cannot be read without, by the csv crate.

/// The cells of all rows.
pub(crate) fn cells(text: &str) -> usize {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let mut record = csv::ByteRecord::new();
    let mut cells = 0;
    while reader.read_byte_record(&mut record).expect("a sheet") {
        cells += record.len();
    }
    cells
}
