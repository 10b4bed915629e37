//! What a copy of the report does without: the customer's name, the plate.
//!
//! A plate leads to its owner, so nothing of it stays. Of a VIN the last four
//! characters stay: the holder of the car can tell that the report is of it, and
//! nobody else can find the car by them. Names are looked for in what people
//! typed, too: a technician writes them into a note without thinking of it. The
//! pictures are not changed.

use serde_json::Value;
use swarfbook_job::entry::Body;
use swarfbook_job::fact::{Fact, LeaveOut};
use swarfbook_job::fold::{JobState, fold};
use swarfbook_report::Content;
use swarfbook_report::words::Words;
use swarfbook_store::Store;
use swarfbook_words::speaking;

use super::unmade;
use crate::problem::Problem;
use crate::serve::Loaded;

/// How much of a VIN stays.
const VIN_END: usize = 4;
/// Shorter parts of a name are ordinary words too often.
const LEAST_PART: usize = 3;
/// Fields of a line that hold what people typed.
const TYPED: [&str; 9] = [
    "text",
    "words",
    "by",
    "reason",
    "description",
    "what",
    "place",
    "item",
    "source",
];

/// What must not be in the copy.
pub(crate) struct Hidden {
    leave_out: LeaveOut,
    /// Wherever it stands, however it is spaced, in capitals or not.
    everywhere: Vec<(String, String)>,
    /// In what people typed, written just so: "Long" is a name, "long" is not.
    typed: Vec<(String, String)>,
    /// What stands in place of a name.
    somebody: String,
    sentences: Vec<String>,
}

impl Hidden {
    /// What there is of it in a job.
    pub fn of(store: &Store, state: &JobState, leave_out: LeaveOut) -> Result<Hidden, Problem> {
        let words = Words::of(speaking().tag()).map_err(unmade)?;
        let mut hidden = Hidden {
            leave_out,
            everywhere: Vec::new(),
            typed: Vec::new(),
            somebody: words.get("page.the_customer").to_owned(),
            sentences: Vec::new(),
        };
        if leave_out.customer {
            hidden
                .sentences
                .push(words.get("page.left_out_customer").to_owned());
            hidden.hide_people(store, state)?;
        }
        if leave_out.car {
            hidden
                .sentences
                .push(words.get("page.left_out_car").to_owned());
            hidden.hide_car(state);
        }
        Ok(hidden)
    }

    fn hide_people(&mut self, store: &Store, state: &JobState) -> Result<(), Problem> {
        let mut names: Vec<String> = state
            .go_ahead
            .iter()
            .map(|given| given.by.clone())
            .collect();
        let known = state.customer.into_iter();
        for id in known.chain(state.answers.iter().map(|at| at.answer.by)) {
            if let Some(customer) = store.customer(id)? {
                names.extend([customer.name, customer.contact]);
            }
        }
        names.retain(|name| name.chars().filter(|c| c.is_alphanumeric()).count() >= LEAST_PART);
        // The longer first, so that no part of it is left standing.
        names.sort_by_key(|name| std::cmp::Reverse(name.len()));
        for name in names {
            let parts = name.split(|c: char| !c.is_alphanumeric());
            let parts = parts.filter(|part| part.chars().count() >= LEAST_PART);
            self.typed
                .extend(parts.map(|part| (part.to_owned(), self.somebody.clone())));
            // A name of one word can be an ordinary word of the report.
            if name.split_whitespace().nth(1).is_some()
                || name.contains(|c: char| c.is_ascii_digit())
            {
                self.everywhere.push((name, self.somebody.clone()));
            }
        }
        Ok(())
    }

    fn hide_car(&mut self, state: &JobState) {
        let Some(car) = &state.car else { return };
        if let Some(vin) = &car.vin {
            self.everywhere.push((vin.clone(), end_of(vin)));
        }
        if !car.plate.trim().is_empty() {
            self.everywhere.push((car.plate.clone(), "…".to_owned()));
        }
    }

    /// Folds the job anew from lines that do not say it.
    pub fn keep_out_of(&self, store: &Store, loaded: &mut Loaded) -> Result<(), Problem> {
        if self.leave_out.nothing() {
            return Ok(());
        }
        let job = loaded.state.id;
        let mut entries = store.entries(job)?;
        for entry in &mut entries {
            if let Body::Known(fact) = &mut entry.body {
                **fact = self.without(fact)?;
            }
        }
        loaded.state = fold(job, &entries);
        if self.leave_out.customer {
            loaded.state.customer = None;
        }
        Ok(())
    }

    fn without(&self, fact: &Fact) -> Result<Fact, Problem> {
        let mut tree = serde_json::to_value(fact).map_err(unmade)?;
        self.take_from(&mut tree, false);
        let mut fact: Fact = serde_json::from_value(tree).map_err(unmade)?;
        match &mut fact {
            Fact::CarNoted { car } if self.leave_out.car => {
                car.plate = String::new();
                car.vin = car.vin.as_deref().map(end_of);
            }
            Fact::GoAheadGiven { go_ahead } if self.leave_out.customer => {
                go_ahead.by.clone_from(&self.somebody);
            }
            _ => {}
        }
        Ok(fact)
    }

    fn take_from(&self, tree: &mut Value, typed: bool) {
        match tree {
            Value::String(text) if typed => *text = self.clean(text, true),
            Value::Array(items) => items.iter_mut().for_each(|i| self.take_from(i, typed)),
            Value::Object(fields) => {
                for (name, value) in fields {
                    self.take_from(value, TYPED.contains(&name.as_str()));
                }
            }
            _ => {}
        }
    }

    /// The last look at all that the copy says, and the word that something is left out.
    pub fn sweep(&self, content: Content) -> Result<Content, Problem> {
        if self.leave_out.nothing() {
            return Ok(content);
        }
        let mut tree = serde_json::to_value(content).map_err(unmade)?;
        self.sweep_texts(&mut tree);
        let mut content: Content = serde_json::from_value(tree).map_err(unmade)?;
        content.left_out.clone_from(&self.sentences);
        Ok(content)
    }

    fn sweep_texts(&self, tree: &mut Value) {
        match tree {
            Value::String(text) => *text = self.clean(text, false),
            Value::Array(items) => items.iter_mut().for_each(|item| self.sweep_texts(item)),
            Value::Object(fields) => fields
                .values_mut()
                .for_each(|value| self.sweep_texts(value)),
            _ => {}
        }
    }

    fn clean(&self, text: &str, typed: bool) -> String {
        let mut text = text.to_owned();
        for (what, instead) in &self.everywhere {
            text = replaced(&text, what, instead, false);
        }
        for (what, instead) in self.typed.iter().filter(|_| typed) {
            text = replaced(&text, what, instead, true);
        }
        text
    }
}

fn end_of(vin: &str) -> String {
    let from = vin.chars().count().saturating_sub(VIN_END);
    format!("…{}", vin.chars().skip(from).collect::<String>())
}

/// The text with each `what` that stands as words of its own replaced.
fn replaced(text: &str, what: &str, instead: &str, exact: bool) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    let mut inside = false;
    while let Some(first) = rest.chars().next() {
        if !inside && let Some(length) = begins(rest, what, exact) {
            out.push_str(instead);
            rest = rest.get(length..).unwrap_or_default();
            inside = false;
            continue;
        }
        inside = first.is_alphanumeric();
        out.push(first);
        rest = rest.get(first.len_utf8()..).unwrap_or_default();
    }
    out
}

/// How many bytes of the text are `what`, blanks and hyphens aside; `None` when
/// it does not begin with it, or goes on with a letter.
fn begins(text: &str, what: &str, exact: bool) -> Option<usize> {
    let same = |a: char, b: char| a == b || (!exact && a.to_lowercase().eq(b.to_lowercase()));
    let mut wanted = what.chars().filter(|c| c.is_alphanumeric()).peekable();
    wanted.peek()?;
    let mut after = text.char_indices();
    while let Some(next) = wanted.peek().copied() {
        let (at, found) = after.next()?;
        if found.is_alphanumeric() {
            if !same(found, next) {
                return None;
            }
            wanted.next();
        } else if at == 0 {
            return None;
        }
    }
    let end = after.offset();
    let goes_on = text.get(end..)?.chars().next();
    (!goes_on.is_some_and(char::is_alphanumeric)).then_some(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plate_is_found_however_it_is_spaced_and_not_inside_other_words() {
        for text in ["the TEST 1", "the test-1", "the Test1"] {
            assert_eq!(replaced(text, "TEST 1", "…", false), "the …");
        }
        for text in ["TEST 12", "ATEST 1", "TES T", "test"] {
            assert_eq!(replaced(text, "TEST 1", "…", false), text);
        }
    }

    #[test]
    fn a_part_of_a_name_is_not_an_ordinary_word() {
        assert_eq!(
            replaced("Long says: long slivers. Longer", "Long", "X", true),
            "X says: long slivers. Longer"
        );
    }

    #[test]
    fn of_a_vin_the_end_stays() {
        assert_eq!(end_of("ZZZ00000000001234"), "…1234");
        assert_eq!(end_of(""), "…");
    }
}
