//! Which messages there are, known while the program is built.

/// A message by its id, with the values that it shows.
pub(crate) struct Row {
    pub(crate) id: &'static str,
    pub(crate) values: &'static [&'static str],
    /// Those by which it chooses as a number.
    pub(crate) numbers: &'static [&'static str],
}

include!(concat!(env!("OUT_DIR"), "/messages.rs"));

/// Where a message stands among all, which are in the order of their ids.
pub(crate) const fn place(id: &str) -> Option<usize> {
    let (mut low, mut high) = (0, MESSAGES.len());
    while low < high {
        let middle = (low + high) / 2;
        let order = order(MESSAGES[middle].id, id);
        if order == 0 {
            return Some(middle);
        }
        if order < 0 {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    None
}

/// There is a message of this id.
pub const fn known(id: &str) -> bool {
    place(id).is_some()
}

/// The message shows these values and no others.
pub const fn shows(id: &str, given: &[&str]) -> bool {
    let Some(at) = place(id) else { return false };
    let values = MESSAGES[at].values;
    if values.len() != given.len() {
        return false;
    }
    let mut value = 0;
    while value < values.len() {
        let mut found = false;
        let mut one = 0;
        while one < given.len() {
            found |= order(values[value], given[one]) == 0;
            one += 1;
        }
        if !found {
            return false;
        }
        value += 1;
    }
    true
}

/// Below zero where the first comes first, byte by byte; 0 where they are the same.
const fn order(first: &str, second: &str) -> i32 {
    let (first, second) = (first.as_bytes(), second.as_bytes());
    let mut at = 0;
    while at < first.len() && at < second.len() {
        if first[at] != second[at] {
            return first[at] as i32 - second[at] as i32;
        }
        at += 1;
    }
    (first.len() > at) as i32 - (second.len() > at) as i32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_message_is_found_and_no_other() {
        for (at, row) in MESSAGES.iter().enumerate() {
            assert_eq!(place(row.id), Some(at));
        }
        for id in ["", "no-such-message", "zzz"] {
            assert!(!known(id), "{id}");
        }
    }

    #[test]
    fn a_message_shows_its_values_in_any_order_and_all_of_them() {
        let row = MESSAGES.iter().find(|row| row.values.len() == 2).unwrap();
        let [first, second] = row.values else {
            unreachable!()
        };
        assert!(shows(row.id, &[first, second]) && shows(row.id, &[second, first]));
        for other in [
            &[*first][..],
            &[],
            &[first, first],
            &[first, second, "x"],
            &[first, "x"],
        ] {
            assert!(!shows(row.id, other), "{other:?}");
        }
    }
}
