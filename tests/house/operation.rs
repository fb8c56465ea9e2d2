//! What the tests of one operation share: a request of the usual fields and some more, and its reply.

use serde_json::Value;

use crate::contract::well_formed;
use crate::envelope::failure;
use crate::filter::reply;

/// The usual fields of a request with these, which win over them.
pub(crate) fn merged(mut usual: Value, with: &Value) -> Value {
    for (name, value) in with.as_object().unwrap() {
        usual[name] = value.clone();
    }
    usual
}

/// The result of a request that is answered.
#[track_caller]
pub(crate) fn answered(request: &Value) -> Value {
    let reply = reply(request);
    assert!(well_formed(&reply), "{reply}");
    assert_eq!(reply["ok"], true, "{reply}");
    reply["result"].clone()
}

/// Asserts that a request is refused with this code about this field, and with help that says this.
#[track_caller]
pub(crate) fn refused(request: &Value, code: &str, field: Option<&str>, help: &str) {
    let reply = reply(request);
    assert_eq!(failure(&reply), (code, field), "{request}: {reply}");
    let said = reply["error"]["help"].as_str().unwrap_or_default();
    assert!(said.contains(help), "{reply}");
}

pub(crate) fn codes(notes: &Value) -> Vec<&str> {
    let notes = notes.as_array().unwrap().iter();
    notes.map(|note| note["code"].as_str().unwrap()).collect()
}
