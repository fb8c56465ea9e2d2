//! JSON text for a terminal: the same values, with nothing hidden in them.

use std::borrow::Cow;

use effloresce::visible;

/// Returns JSON text in which hidden characters are escaped as JSON writes them (`\u202e`).
///
/// It has the same meaning. The white space between values stays.
pub(crate) fn visible_json(json: &str) -> Cow<'_, str> {
    if matches!(visible(json), Cow::Borrowed(_)) {
        return Cow::Borrowed(json);
    }
    let mut out = String::with_capacity(json.len());
    for c in json.chars() {
        let (mut as_text, mut as_units) = ([0; 4], [0; 2]);
        let shown = visible(c.encode_utf8(&mut as_text));
        // JSON has these between its values only.
        if matches!(c, '\t' | '\n' | '\r') || matches!(shown, Cow::Borrowed(_)) {
            out.push(c);
        } else {
            for unit in c.encode_utf16(&mut as_units) {
                out.push_str(&format!("\\u{unit:04x}"));
            }
        }
    }
    Cow::Owned(out)
}
