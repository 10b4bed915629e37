//! Numbers near those that like parts read in this job: a key each, so that the next one is two
//! presses. They come from readings alone, never from the limits, and are never taken unasked.

use swarfbook_job::fact::ReadingKind;
use swarfbook_job::fold::{ComponentState, JobState};
use swarfbook_job::procedure::Evidence;

use crate::view::NearView;

/// So many on either side of the middle one: a row of keys.
const EACH_SIDE: u32 = 2;
/// With more digits like parts seldom come so near.
const MOST: u32 = 999;

/// For each part that has none of these readings yet, where like parts have.
pub(super) fn of(state: &JobState, evidence: &Evidence) -> Vec<NearView> {
    match evidence {
        // To ground there are no numbers to come near to.
        Evidence::Readings { quantity } if *quantity != ReadingKind::Insulation => state
            .components
            .iter()
            .filter(|part| last(part, *quantity).is_none())
            .filter_map(|part| {
                let typed = near(state, part, *quantity)?;
                let component = part.stamp.entry;
                Some(NearView { component, typed })
            })
            .collect(),
        _ => Vec::new(),
    }
}

fn near(state: &JobState, part: &ComponentState, quantity: ReadingKind) -> Option<Vec<String>> {
    let mut read: Vec<Typed> = state
        .components
        .iter()
        .filter(|other| {
            other.component.kind == part.component.kind
                && other.component.part_number.trim() == part.component.part_number.trim()
        })
        .filter_map(|other| Typed::of(last(other, quantity)?))
        .collect();
    let as_last = *read.last()?;
    read.retain(|one| one.decimals == as_last.decimals);
    read.sort_unstable_by_key(|one| one.digits);
    let middle = read.get(read.len().saturating_sub(1) / 2)?.digits;
    let keys = middle.saturating_sub(EACH_SIDE)..=middle.saturating_add(EACH_SIDE);
    Some(
        keys.map(|digits| Typed { digits, ..as_last }.words())
            .collect(),
    )
}

/// The sample of a part's newest reading that it came to rest at, as typed.
fn last(part: &ComponentState, quantity: ReadingKind) -> Option<&str> {
    let mut newest = part.readings.iter().rev().map(|one| &one.reading);
    let taken = newest.find(|taken| taken.quantity == quantity)?;
    taken.samples.last().map(String::as_str)
}

/// A plain number as the meter showed it: its digits, and how many stand behind the mark.
#[derive(Clone, Copy)]
struct Typed {
    digits: u32,
    decimals: usize,
    mark: char,
}

impl Typed {
    /// `None` for anything but digits with at most one mark, and for long ones.
    fn of(typed: &str) -> Option<Typed> {
        let typed = typed.trim();
        let mark = typed.chars().find(|c| !c.is_ascii_digit());
        let (whole, behind) = match mark {
            None => (typed, ""),
            Some(mark @ ('.' | ',')) => typed.split_once(mark)?,
            Some(_) => return None,
        };
        let digits = format!("{whole}{behind}").parse().ok()?;
        (digits <= MOST).then_some(Typed {
            digits,
            decimals: behind.len(),
            mark: mark.unwrap_or('.'),
        })
    }

    fn words(self) -> String {
        let digits = format!("{:0>width$}", self.digits, width = self.decimals + 1);
        if self.decimals == 0 {
            return digits;
        }
        let at = digits.len().saturating_sub(self.decimals);
        let (whole, behind) = digits.split_at_checked(at).unwrap_or((&digits, ""));
        format!("{whole}{}{behind}", self.mark)
    }
}

#[cfg(test)]
mod tests {
    use super::Typed;

    #[test]
    fn a_number_is_told_with_as_many_digits_as_it_was_typed_with() {
        for typed in ["13.1", "0.05", "12,0", "7", "940"] {
            let read = Typed::of(typed).map(Typed::words);
            assert_eq!(read.as_deref(), Some(typed));
        }
        for typed in ["OL", "4.7k", "4k7", ">40M", "1043", "-3", "1.2.3", ""] {
            assert!(Typed::of(typed).is_none(), "{typed}");
        }
    }
}
