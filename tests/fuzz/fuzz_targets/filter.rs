//! Any lines are answered by the filter: one JSON object for each line that is not blank, with a
//! result or with an error, on one line without control codes, and not much longer than the line.

use libfuzzer_sys::fuzz_target;

fuzz_target!(|lines: &[u8]| {
    let mut replies = Vec::new();
    super::filter(lines, &mut replies).expect("the filter reads on");
    let text = std::str::from_utf8(&replies).expect("UTF-8");
    let bytes = lines.strip_prefix("\u{FEFF}".as_bytes()).unwrap_or(lines);
    let requests = bytes.split(|byte| *byte == b'\n');
    let requests = requests.filter(|line| !line.trim_ascii().is_empty());
    let mut count = 0;
    for reply in text.lines() {
        count += 1;
        assert!(!reply.contains(char::is_control), "{reply:?}");
        let read: serde_json::Value =
            serde_json::from_str(reply).unwrap_or_else(|e| panic!("{reply}: {e}"));
        let ok = read["ok"].as_bool().expect("`ok`");
        assert_eq!(
            (read["result"].is_object(), read["error"].is_object()),
            (ok, !ok),
            "{reply}"
        );
        if !ok {
            assert!(read["error"]["code"].is_string(), "{reply}");
        }
    }
    assert_eq!(count, requests.count());
});
