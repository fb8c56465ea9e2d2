//! The digits of a whole number.

/// Returns the numbers that differ from this one by two neighbouring digits exchanged, in each of the
/// first `pairs` pairs from the right. Equal digits make no other number.
pub(crate) fn neighbours_exchanged(number: i128, pairs: u32) -> impl Iterator<Item = i128> {
    (0..pairs).filter_map(move |at| {
        let unit = 10_i128.checked_pow(at)?;
        let (lower, upper) = (number / unit % 10, number / unit / 10 % 10);
        // The upper digit counts ten times as much, so each step between the digits changes the number by 9.
        let change = ((lower - upper) * 9).checked_mul(unit)?;
        (lower != upper).then(|| number.checked_add(change))?
    })
}
