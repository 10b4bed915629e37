//! What a copy of the report does without: the customer's name, the plate.
//!
//! Names stand in fields of their own, and only those are replaced, each by a
//! word that says so. What somebody typed is never changed in part: a text
//! that holds the name is told before the copy is made ([`Hidden::named`]) and
//! stands in the copy whole or not at all. A name can be an ordinary word
//! ("Brown drops under the car"), so the maker may keep texts that hold a word
//! of it; one that holds the whole name, a contact, the plate or the VIN is left
//! out in any case.
//!
//! A plate leads to its owner, so nothing of it stays. Of a VIN the last four
//! characters stay: the holder of the car can tell that the report is of it, and
//! nobody else can find the car by them. The pictures are not changed.

use swarfbook_job::entry::Body;
use swarfbook_job::fact::{Fact, LeaveOut, Tools};
use swarfbook_job::fold::{JobState, fold};
use swarfbook_report::words::Words;
use swarfbook_store::Store;
use swarfbook_words::{id, say, speaking, term};

use crate::present;
use crate::problem::Problem;
use crate::state::Loaded;
use crate::view::NamedText;

/// How much of a VIN stays.
const VIN_END: usize = 4;
/// Shorter words of a name say nothing: "de", "Mr".
const LEAST_WORD: usize = 3;

/// What stands in place of a person's name.
pub(super) fn no_name() -> &'static str {
    term!("name-left-out")
}

/// What must not be in the copy.
pub(crate) struct Hidden {
    leave_out: LeaveOut,
    /// Whole names and contacts: wherever they stand, however they are spaced, in capitals or not.
    names: Vec<String>,
    /// Words of the names, written just so or in capitals: "Long" is a name, "long" is not.
    parts: Vec<String>,
    /// Plate and VIN.
    car: Vec<String>,
    sentences: Vec<String>,
}

/// What a text holds that the copy does without.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Holds<'a> {
    Name(&'a str),
    Part(&'a str),
    Car(&'a str),
}

impl Hidden {
    /// What there is of it in a job.
    pub fn of(store: &Store, state: &JobState, leave_out: LeaveOut) -> Result<Hidden, Problem> {
        let words = Words::of(speaking().tag());
        let mut hidden = Hidden {
            leave_out,
            names: Vec::new(),
            parts: Vec::new(),
            car: Vec::new(),
            sentences: Vec::new(),
        };
        if leave_out.customer {
            let sentence = if leave_out.keep_texts {
                id!("report-page-left-out-customer-kept")
            } else {
                id!("report-page-left-out-customer")
            };
            hidden.sentences.push(words.get(sentence).to_owned());
            hidden.hide_people(store, state)?;
        }
        if leave_out.car {
            hidden
                .sentences
                .push(words.get(id!("report-page-left-out-car")).to_owned());
            hidden.hide_car(state);
        }
        Ok(hidden)
    }

    fn hide_people(&mut self, store: &Store, state: &JobState) -> Result<(), Problem> {
        // Lines that were taken back or followed by another named people, too.
        let mut names: Vec<String> = Vec::new();
        let mut customers: Vec<_> = state.customer.into_iter().collect();
        for fact in state.lines.iter().filter_map(|line| line.fact.as_ref()) {
            match fact {
                Fact::GoAheadGiven { go_ahead } => names.push(go_ahead.by.clone()),
                Fact::CustomerLinked { customer } => customers.push(*customer),
                Fact::CustomerAnswered { answer } => customers.push(answer.by),
                _ => {}
            }
        }
        for id in customers {
            if let Some(customer) = store.customer(id)? {
                names.extend([customer.name, customer.contact]);
            }
        }
        let letters = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).count();
        for name in names {
            let words = name.split(|c: char| !c.is_alphanumeric());
            let words = words.filter(|word| word.chars().count() >= LEAST_WORD);
            self.parts.extend(words.map(str::to_owned));
            // A name of one word can be an ordinary word.
            let sure = name.split_whitespace().nth(1).is_some()
                || name.contains(|c: char| c.is_ascii_digit());
            if sure && letters(&name) >= LEAST_WORD {
                self.names.push(name);
            }
        }
        for list in [&mut self.names, &mut self.parts] {
            list.sort();
            list.dedup();
        }
        Ok(())
    }

    fn hide_car(&mut self, state: &JobState) {
        for fact in state.lines.iter().filter_map(|line| line.fact.as_ref()) {
            if let Fact::CarNoted { car } = fact {
                let texts = car.vin.iter().chain([&car.plate]);
                self.car
                    .extend(texts.filter(|text| !text.trim().is_empty()).cloned());
            }
        }
        self.car.sort();
        self.car.dedup();
    }

    fn holds<'a>(&'a self, text: &str) -> Option<Holds<'a>> {
        let found = |list: &'a [String], exact| {
            let mut list = list.iter();
            list.find(|what| holds(text, what, exact))
                .map(String::as_str)
        };
        let name = found(&self.names, false).map(Holds::Name);
        let car = || found(&self.car, false).map(Holds::Car);
        let part = || found(&self.parts, true).map(Holds::Part);
        name.or_else(car).or_else(part)
    }

    /// Texts that hold a name or the plate, as somebody typed them: said before the copy is made.
    pub fn named(&self, loaded: &Loaded) -> Vec<NamedText> {
        let live = loaded.state.lines.iter();
        let live = live.filter(|line| line.retracted_by.is_none());
        live.filter_map(|line| {
            let fact = line.fact.as_ref()?;
            if matches!(fact, Fact::Noted { private: true, .. }) {
                return None;
            }
            let mut fact = fact.clone();
            let texts = typed(&mut fact);
            let held: Vec<Holds> = texts.iter().filter_map(|text| self.holds(text)).collect();
            // What is left out in any case weighs more than what may stay.
            let sure = held.iter().find(|held| !matches!(held, Holds::Part(_)));
            let told = sure.or(held.first())?;
            let (Holds::Name(what) | Holds::Part(what) | Holds::Car(what)) = told;
            Some(NamedText {
                entry: line.stamp.entry,
                words: present::line_words(loaded, line),
                holds: (*what).to_owned(),
                can_stay: sure.is_none(),
            })
        })
        .collect()
    }

    /// Folds the job anew from lines that do not say it.
    pub fn keep_out_of(&self, loaded: Loaded) -> Loaded {
        if self.leave_out.nothing() {
            return loaded;
        }
        let mut entries: Vec<_> = loaded.folded().entries().cloned().collect();
        for entry in &mut entries {
            if let Body::Known(fact) = &mut entry.body {
                self.take_from(fact);
            }
        }
        let state = fold(loaded.state.id, &entries).read_by(loaded.state.roles.clone());
        loaded.with_state(state)
    }

    /// Tools that no line states yet, without what the copy does without.
    pub fn keep_out_of_tools(&self, tools: Tools) -> Tools {
        let mut line = Fact::MeasuredWith { tools };
        self.take_from(&mut line);
        match line {
            Fact::MeasuredWith { tools } => tools,
            _ => Tools::default(),
        }
    }

    fn take_from(&self, fact: &mut Fact) {
        for text in typed(fact) {
            let instead = match self.holds(text) {
                Some(Holds::Name(_)) => term!("text-left-out-it-names-the-customer"),
                Some(Holds::Car(_)) => term!("text-left-out-it-tells-which-car-it"),
                Some(Holds::Part(_)) if !self.leave_out.keep_texts => {
                    term!("text-left-out-it-holds-a-word-of")
                }
                Some(Holds::Part(_)) | None => continue,
            };
            instead.clone_into(text);
        }
        match fact {
            Fact::CarNoted { car } if self.leave_out.car => {
                if !car.plate.trim().is_empty() {
                    term!("plate-left-out").clone_into(&mut car.plate);
                }
                car.vin = car.vin.as_deref().map(end_of);
            }
            Fact::GoAheadGiven { go_ahead } if self.leave_out.customer => {
                no_name().clone_into(&mut go_ahead.by);
            }
            _ => {}
        }
    }

    /// That something is left out, a sentence each.
    pub fn sentences(&self) -> Vec<String> {
        self.sentences.clone()
    }
}

/// Each text of a line that somebody typed as they liked. Fields for people's names
/// and for the plate are not among them. Whoever adds a kind of line decides here.
fn typed(fact: &mut Fact) -> Vec<&mut String> {
    match fact {
        Fact::CarNoted { car } => vec![&mut car.description],
        Fact::ComplaintNoted { complaint } => vec![&mut complaint.words],
        Fact::StepSkipped { reason, .. } | Fact::ReportWithdrawn { reason, .. } => vec![reason],
        Fact::Noted { text, .. } | Fact::PartLost { text, .. } => vec![text],
        Fact::Observed { observed } => vec![&mut observed.text],
        Fact::Measured { measured } => vec![&mut measured.typed],
        Fact::PartOff { part } => vec![&mut part.item, &mut part.place, &mut part.size],
        Fact::ComponentNoted { component } => vec![
            &mut component.name,
            &mut component.connector,
            &mut component.part_number,
        ],
        Fact::SpecEntered { spec, .. } => vec![&mut spec.source],
        Fact::ReadingTaken { reading, .. } => vec![&mut reading.meter.name],
        Fact::HarnessRead { read, .. } => {
            let [first, second] = &mut read.pins;
            vec![first, second, &mut read.meter.name]
        }
        Fact::PartReplaced { replacement, .. } => vec![
            &mut replacement.what,
            &mut replacement.number,
            &mut replacement.batch,
        ],
        Fact::Tightened { tightened, .. } => vec![&mut tightened.what],
        Fact::Decided { reason, .. } | Fact::Retracted { reason, .. } => {
            reason.iter_mut().collect()
        }
        Fact::CustomerAnswered { answer } => vec![&mut answer.text],
        Fact::CostGiven { cost } => vec![&mut cost.text],
        Fact::MeasuredWith { tools } => {
            let meters = tools.meters.values_mut().map(|meter| &mut meter.serial);
            let others = [&mut tools.wrench.serial, &mut tools.clamp.serial];
            meters.chain(others).collect()
        }
        Fact::Opened { .. }
        | Fact::WrittenBy { .. }
        | Fact::WrittenIn { .. }
        | Fact::CustomerLinked { .. }
        | Fact::CodesRead { .. }
        | Fact::GoAheadGiven { .. }
        | Fact::StepTicked { .. }
        | Fact::StepSettled { .. }
        | Fact::PhotoTaken { .. }
        | Fact::PhotoHinted { .. }
        | Fact::CensusMade { .. }
        | Fact::ParticleCorrected { .. }
        | Fact::PhotoLinked { .. }
        | Fact::CensusConfirmed { .. }
        | Fact::PartBack { .. }
        | Fact::ReportMade { .. }
        | Fact::ReportShared { .. } => Vec::new(),
    }
}

fn end_of(vin: &str) -> String {
    let from = vin.chars().count().saturating_sub(VIN_END);
    let end: String = vin.chars().skip(from).collect();
    say!("left-out-end", end = end)
}

/// Whether `what` stands in the text as words of its own; `exact` asks for the
/// same letters or all of them in capitals.
fn holds(text: &str, what: &str, exact: bool) -> bool {
    let capitals = what.to_uppercase();
    let mut inside = false;
    text.char_indices().any(|(at, first)| {
        let rest = text.get(at..).unwrap_or_default();
        let found =
            !inside && (begins(rest, what, exact) || (exact && begins(rest, &capitals, true)));
        inside = first.is_alphanumeric();
        found
    })
}

/// Whether the text begins with `what`, blanks and hyphens aside, and does not go on with a letter.
fn begins(text: &str, what: &str, exact: bool) -> bool {
    let same = |a: char, b: char| a == b || (!exact && a.to_lowercase().eq(b.to_lowercase()));
    let mut wanted = what.chars().filter(|c| c.is_alphanumeric()).peekable();
    if wanted.peek().is_none() {
        return false;
    }
    let mut after = text.char_indices();
    while let Some(next) = wanted.peek().copied() {
        let Some((at, found)) = after.next() else {
            return false;
        };
        if found.is_alphanumeric() {
            if !same(found, next) {
                return false;
            }
            wanted.next();
        } else if at == 0 {
            return false;
        }
    }
    let rest = text.get(after.offset()..).unwrap_or_default();
    !rest.chars().next().is_some_and(char::is_alphanumeric)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plate_is_found_however_it_is_spaced_and_not_inside_other_words() {
        for text in ["the TEST 1", "the test-1", "the Test1"] {
            assert!(holds(text, "TEST 1", false), "{text}");
        }
        for text in ["TEST 12", "ATEST 1", "TES T", "test"] {
            assert!(!holds(text, "TEST 1", false), "{text}");
        }
    }

    #[test]
    fn a_word_of_a_name_is_not_an_ordinary_word() {
        for text in ["Long says so", "he is called LONG", "(Long)"] {
            assert!(holds(text, "Long", true), "{text}");
        }
        for text in ["long slivers. Longer", "oblong"] {
            assert!(!holds(text, "Long", true), "{text}");
        }
    }

    #[test]
    fn of_a_vin_the_end_stays() {
        assert_eq!(end_of("ZZZ00000000001234"), "[left out]…1234");
        assert_eq!(end_of(""), "[left out]…");
    }
}
