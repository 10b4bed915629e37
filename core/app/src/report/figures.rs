//! Sentences with the lines that they rest on; what is named is remembered, so
//! that the appendix holds just those lines.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use swarfbook_job::fact::Fact;
use swarfbook_job::fold::{JobState, LineState};
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::Procedure;
use swarfbook_judge::{Judged, corrected};
use swarfbook_report::content::{Fixed, Said};
use swarfbook_wear::PieceAt;

use super::unmade;
use crate::present;
use crate::problem::Problem;
use crate::state::Loaded;
use crate::view::ComponentView;

/// A job being told.
pub(super) struct Figures<'a> {
    pub loaded: &'a Loaded,
    pub state: &'a JobState,
    pub procedure: &'a Procedure,
    pub judged: &'a Judged,
    /// The electrical parts in words.
    pub components: Vec<ComponentView>,
    named: RefCell<BTreeSet<EntryId>>,
}

impl<'a> Figures<'a> {
    pub fn new(loaded: &'a Loaded) -> Figures<'a> {
        let Loaded {
            state, procedure, ..
        } = loaded;
        Figures {
            loaded,
            state,
            procedure,
            judged: loaded.judged(),
            components: present::reading::components(state, &loaded.judged().parts),
            named: RefCell::default(),
        }
    }

    /// A sentence that rests on these lines.
    pub fn said(&self, words: impl Into<String>, from: impl IntoIterator<Item = EntryId>) -> Said {
        let from: Vec<EntryId> = from.into_iter().filter(|id| self.counts(*id)).collect();
        self.named.borrow_mut().extend(&from);
        Said::new(words, from)
    }

    /// The lines behind what the score says of: of a photo its count, the confirmation and what
    /// was corrected of these pieces, since a photo itself says nothing of them.
    pub fn behind(&self, sources: &[String], pieces: &[PieceAt]) -> Vec<EntryId> {
        let mut photos: BTreeMap<EntryId, BTreeSet<usize>> = BTreeMap::new();
        let mut lines = Vec::new();
        for id in sources.iter().filter_map(|id| id.parse().ok()) {
            if self.state.photo(id).is_some() {
                photos.entry(id).or_default();
            } else {
                lines.push(id);
            }
        }
        for at in pieces {
            if let (Ok(photo), Ok(piece)) = (at.photo.parse(), usize::try_from(at.piece)) {
                photos.entry(photo).or_default().insert(piece);
            }
        }
        for (id, pieces) in &photos {
            let Some(photo) = self.state.photo(*id) else {
                continue;
            };
            lines.extend(photo.census_stamp.as_ref().map(|s| s.entry));
            lines.extend(photo.confirmed.as_ref().map(|s| s.entry));
            lines.extend(corrected::lines(photo, pieces));
        }
        lines
    }

    /// Puts a line among the sources that no sentence names.
    pub fn name(&self, line: EntryId) {
        if self.counts(line) {
            self.named.borrow_mut().insert(line);
        }
    }

    /// Lines that figures rest on so far.
    pub fn named(&self) -> BTreeSet<EntryId> {
        self.named.borrow().clone()
    }

    /// Lines that count and are not private, in order.
    pub fn live(&self) -> impl Iterator<Item = &'a LineState> {
        self.state
            .lines
            .iter()
            .filter(|l| l.retracted_by.is_none() && !private(l))
    }

    fn counts(&self, id: EntryId) -> bool {
        self.live().any(|line| line.stamp.entry == id)
    }

    /// The last line of that kind that counts, as a list.
    pub fn lines_of(&self, kind: &str) -> Vec<EntryId> {
        self.live()
            .filter(|line| line.fact.as_ref().is_some_and(|f| kind_of(f) == kind))
            .last()
            .map(|line| line.stamp.entry)
            .into_iter()
            .collect()
    }

    /// Leave to open, when it was given.
    pub fn go_ahead(&self) -> Option<Said> {
        let given = self.state.go_ahead.as_ref()?;
        let words = present::go_ahead_words(given);
        Some(self.said(words, self.lines_of("go_ahead_given")))
    }
}

/// A note that the technician keeps out of the report.
pub(super) fn private(line: &LineState) -> bool {
    matches!(&line.fact, Some(Fact::Noted { private: true, .. }))
}

/// The kind of a fact, as the log names it.
fn kind_of(fact: &Fact) -> String {
    serde_json::to_value(fact)
        .ok()
        .and_then(|value| Some(value.get("fact")?.as_str()?.to_owned()))
        .unwrap_or_default()
}

/// A number of the report.
pub(super) fn fixed(value: f64) -> Result<Fixed, Problem> {
    Fixed::new(value).map_err(unmade)
}
