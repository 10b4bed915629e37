//! Rule 8. When the log would advise graver than the decision that stands, the decision is asked
//! again, and the report says that it is older than the evidence.

use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::procedure::Evidence;
use swarfbook_words::Language;

use super::super::Found;
use super::super::told::Told;
use super::DECISION;

fn grave(choice: AdviceChoice) -> u8 {
    match choice {
        AdviceChoice::CarryOn => 0,
        AdviceChoice::Watch => 1,
        AdviceChoice::TestFirst => 2,
        AdviceChoice::OpenUp => 3,
    }
}

pub fn check(told: &Told) -> Vec<Found> {
    let job = &told.screens(Language::En).job;
    let (Some(decision), Some(wear)) = (&told.state.decision, &job.wear) else {
        return Vec::new();
    };
    // Who overruled that very advice was asked already.
    let overtaken =
        grave(wear.advice) > grave(decision.chosen) && grave(wear.advice) > grave(decision.advised);
    if !overtaken {
        return Vec::new();
    }
    let why = format!(
        "decided {:?} when the tool advised {:?}, which now advises {:?}",
        decision.chosen, decision.advised, wear.advice
    );
    let mut found = Vec::new();
    let steps = job.stages.iter().flat_map(|stage| &stage.steps);
    for want in steps.flat_map(|step| &step.wants) {
        if matches!(want.want.evidence, Evidence::Decision) && want.have {
            found.push(Found {
                rule: DECISION,
                place: "job/the step of the decision".into(),
                sentence: want.words.clone(),
                why: why.clone(),
            });
        }
    }
    for copy in &told.copies {
        let older = match copy.language {
            Language::En => "older than",
            Language::De => "älter als",
            Language::Es => "anterior a",
        };
        let text: Vec<String> = copy.page.iter().map(|section| section.text()).collect();
        if !text.iter().any(|text| text.contains(older)) {
            found.push(Found {
                rule: DECISION,
                place: format!("page {:?}", copy.language),
                sentence: copy.content["decision"]["said"]["words"].to_string(),
                why: format!("{why}; it does not say that it is \"{older}\" the evidence"),
            });
        }
    }
    found
}
