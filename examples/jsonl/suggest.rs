//! Names that were probably meant by a misspelt one.

/// The name that was probably meant by a word.
pub(crate) fn likely_name<'n>(word: &str, names: &[&'n str]) -> Option<&'n str> {
    const LONGEST: usize = 40;
    let plain = |text: &str| -> Vec<char> {
        text.chars()
            .map(|c| match c {
                '-' | ' ' => '_',
                _ => c.to_ascii_lowercase(),
            })
            .collect()
    };
    if word.len() > LONGEST {
        return None;
    }
    let word = plain(word);
    names
        .iter()
        .map(|name| (distance(&word, &plain(name)), *name))
        .filter(|(distance, name)| distance * 3 <= name.len().max(3))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// The number of changes that make one word the other: a character added, dropped, replaced, or
/// exchanged with its neighbour.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, y) in b.iter().enumerate() {
            let mut least = (above[j] + usize::from(x != y))
                .min(above[j + 1] + 1)
                .min(row[j] + 1);
            if i > 0 && j > 0 && *x == b[j - 1] && a[i - 1] == *y {
                least = least.min(before[j - 1] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut above, row);
    }
    above.last().copied().unwrap_or_default()
}

/// The help for a word that is not among the names.
pub(crate) fn help(word: &str, names: &[&str], introduction: &str) -> String {
    match likely_name(word, names) {
        Some(name) => format!("did you mean `{name}`?"),
        None => format!("{introduction} {}", quoted(names)),
    }
}

/// The names in a list: `` `a`, `b`, `c` ``.
pub(crate) fn quoted(names: &[&str]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    names.join(", ")
}
