//! Which known word was meant by one that is not known?

/// The known word that was most likely meant by `given`, if any is near.
pub(super) fn nearest<'w, S: AsRef<str>>(given: &str, known: &'w [S]) -> Option<&'w str> {
    const LONGEST: usize = 40;
    if given.len() > LONGEST {
        return None;
    }
    let given = given.to_lowercase();
    // About one slip in three letters; a word within another, such as `opens` in `opens_to`, is near as well.
    let most = given.chars().count().div_ceil(3).min(3);
    let distance = |word: &&'w str| {
        let word = word.to_lowercase();
        let part = given.len() > 3 && (word.starts_with(&given) || given.starts_with(&word) && word.len() > 3);
        if part { 1 } else { slips(&given, &word) }
    };
    let best = known.iter().map(AsRef::as_ref).min_by_key(distance)?;
    if distance(&best) <= most { Some(best) } else { None }
}

/// How many letters must be put in, taken out, changed or swapped with the next to make `from` into `to`.
fn slips(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    // Counts for each beginning of `to`: against two letters of `from` fewer, one fewer, and as many as read.
    let mut before_last: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=to.len()).collect();
    let mut last_letter = None;
    for (n, letter) in from.chars().enumerate() {
        let mut row = vec![n + 1];
        for (m, other) in to.iter().enumerate() {
            let at = |row: &[usize], m: usize| row.get(m).copied().unwrap_or(usize::MAX - 1);
            let mut count =
                (at(&last, m) + usize::from(letter != *other)).min(at(&last, m + 1) + 1).min(at(&row, m) + 1);
            let swapped = m > 0 && last_letter == Some(*other) && to.get(m - 1) == Some(&letter);
            if swapped {
                count = count.min(at(&before_last, m - 1) + 1);
            }
            row.push(count);
        }
        before_last = std::mem::replace(&mut last, row);
        last_letter = Some(letter);
    }
    last.last().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_counted() {
        for (from, to, count) in
            [("", "", 0), ("", "abc", 3), ("width", "widht", 1), ("kitten", "sitting", 3), ("ab", "b", 1)]
        {
            assert_eq!(slips(from, to), count, "{from} {to}");
        }
    }

    #[test]
    fn a_near_word_is_suggested_and_a_far_one_is_not() {
        let known = ["width", "height", "pull", "opens_to"];
        assert_eq!(nearest("widht", &known), Some("width"));
        assert_eq!(nearest("opens", &known), Some("opens_to"));
        assert_eq!(nearest("pul", &known), Some("pull"));
        assert_eq!(nearest("Pull", &known), Some("pull"));
        assert_eq!(nearest("colour", &known), None);
    }
}
