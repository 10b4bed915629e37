//! The texts of a procedure that a person reads, and a procedure in the
//! language that is spoken.

use swarfbook_words::shipped;

use super::{Choice, Evidence, Procedure, Step};

impl Procedure {
    /// The same with every text in the language that is spoken, where the
    /// catalogue has it: that of the procedure that ships. A shop's own text stays
    /// as the shop wrote it, and ids are never touched.
    #[must_use]
    pub fn told(mut self) -> Procedure {
        for text in self.texts() {
            *text = shipped(text).to_owned();
        }
        self
    }

    /// Every text that a person reads; empty ones are left out.
    pub fn texts(&mut self) -> Vec<&mut String> {
        let mut texts = vec![&mut self.title];
        for stage in &mut self.stages {
            texts.push(&mut stage.title);
            texts.extend(&mut stage.caution);
            stage.steps.iter_mut().for_each(|one| step(one, &mut texts));
        }
        texts.retain(|text| !text.is_empty());
        texts
    }
}

fn step<'a>(step: &'a mut Step, texts: &mut Vec<&'a mut String>) {
    texts.extend([&mut step.title, &mut step.text, &mut step.why]);
    texts.extend(&mut step.caution);
    for want in &mut step.evidence {
        evidence(&mut want.evidence, texts);
    }
}

fn evidence<'a>(evidence: &'a mut Evidence, texts: &mut Vec<&'a mut String>) {
    fn labels(choices: &mut [Choice]) -> impl Iterator<Item = &mut String> {
        choices.iter_mut().map(|choice| &mut choice.label)
    }
    match evidence {
        Evidence::Complaint { when, symptoms } => {
            texts.extend(labels(when).chain(labels(symptoms)));
        }
        Evidence::Observe { label, choices, .. } => {
            texts.push(label);
            texts.extend(labels(choices));
        }
        Evidence::Photo { label, .. }
        | Evidence::Measure { label, .. }
        | Evidence::Timed { label, .. }
        | Evidence::Text { label, .. } => texts.push(label),
        Evidence::Replace { what, .. } | Evidence::Tighten { what, .. } => texts.push(what),
        Evidence::Car
        | Evidence::Codes { .. }
        | Evidence::GoAhead
        | Evidence::PartsOff
        | Evidence::PartsBack
        | Evidence::Census
        | Evidence::Components
        | Evidence::Readings { .. }
        | Evidence::Explains
        | Evidence::Decision
        | Evidence::Report
        | Evidence::Answer => {}
    }
}
