//! Rule 1. Nothing calm stands where the evidence is grave, unless the tool's advice, and that
//! and why the technician overruled it, stand in the same place.

use swarfbook_app::view::JobView;
use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::fold::JobState;
use swarfbook_wear::Band;
use swarfbook_words::Language;

use super::super::Found;
use super::super::told::{Copy, Told, texts};
use super::CALM;

/// What sounds calm, in small letters.
const EN: [&str; 5] = [
    "carry on",
    "as usual",
    "nothing may happen",
    "at the next visit",
    "when it suits you",
];
const DE: [&str; 5] = [
    "weitermachen",
    "wie gewohnt",
    "geschieht lange nichts",
    "beim nächsten besuch",
    "wann es ihnen passt",
];
const ES: [&str; 5] = [
    "y continuar",
    "como siempre",
    "puede que no pase nada",
    "en la próxima visita",
    "cuando le venga bien",
];
/// What is calm of a pan, and may stand beside a leak, but not beside a worn gearbox.
const PAN: [&str; 7] = [
    "no more than age and distance explain",
    "nothing speaks against",
    "nicht mehr, als alter und strecke erklären",
    "nichts spricht dagegen",
    "this is not a worn gearbox",
    "más de lo que explican la edad",
    "esta no es una caja gastada",
];
/// Sentences about the next look, in small letters.
const LOOK: [&str; 6] = ["bring", "look", "wieder", "sehen", "vuelva", "mir"];
/// How many words around a distance are looked at for one about the next look.
const LOOK_WORDS: usize = 12;
/// A look again after more than this is calm, km.
const FAR_KM: f64 = 10_000.0;

fn calm(text: &str, language: Language, worn: bool) -> Option<String> {
    // What must not wait for it is not calm, and who looked is no next look.
    let text = text.to_lowercase();
    let text = text
        .replace("looked at by", "")
        .replace("angesehen von", "")
        .replace("not at the next visit", "")
        .replace("nicht beim nächsten besuch", "")
        .replace("no en la próxima visita", "");
    let phrases = match language {
        Language::En => EN,
        Language::De => DE,
        Language::Es => ES,
    };
    let of_the_pan = PAN.iter().filter(|_| worn);
    if let Some(phrase) = phrases
        .iter()
        .chain(of_the_pan)
        .find(|phrase| text.contains(*phrase))
    {
        return Some((*phrase).to_owned());
    }
    let words: Vec<&str> = text.split_whitespace().collect();
    (1..words.len()).find_map(|at| {
        let pair = [words[at - 1], words[at]];
        let km = match pair[1].trim_matches(|c: char| !c.is_alphabetic()) {
            "km" => 1.0,
            "mi" => 1.609_344,
            _ => return None,
        };
        let digits: String = pair[0].chars().filter(char::is_ascii_digit).collect();
        let far = digits.parse::<f64>().ok()? * km;
        // A print's text has tables in it: the look stands near the distance, or is none.
        let near = &words[at.saturating_sub(LOOK_WORDS)..words.len().min(at + LOOK_WORDS)];
        let look = near
            .iter()
            .any(|near| LOOK.iter().any(|word| near.contains(word)));
        (look && far > FAR_KM + 50.0).then(|| format!("a look after {far:.0} km"))
    })
}

fn worn(state: &JobState, job: &JobView) -> bool {
    !grave_of_the_pan(state, job).is_empty()
}

/// The same by score and advice alone: on the screens the tool's reasons stand as its own, beside
/// a decision that is graver.
fn worn_by_the_tool(job: &JobView) -> bool {
    !grave_by_the_tool(job).is_empty()
}

/// What is grave about the pan and the parts, by the log and the score.
fn grave_inside(state: &JobState, job: &JobView) -> Vec<String> {
    let mut grave = grave_of_the_pan(state, job);
    for part in job
        .components
        .iter()
        .filter(|part| super::standing::is_out(part))
    {
        grave.push(format!("{} reads out of spec", part.name));
    }
    grave
}

/// What is grave about the pan by score and advice.
fn grave_by_the_tool(job: &JobView) -> Vec<String> {
    let mut grave = Vec::new();
    if let Some(wear) = &job.wear {
        if matches!(wear.band, Band::Heavy | Band::Failing) {
            grave.push(format!("the band is {}", wear.band_words));
        }
        if wear.advice == AdviceChoice::OpenUp {
            grave.push("the tool advises to open up".into());
        }
    }
    grave
}

/// What is grave about the pan.
fn grave_of_the_pan(state: &JobState, job: &JobView) -> Vec<String> {
    let mut grave = grave_by_the_tool(job);
    if state
        .decision
        .as_ref()
        .is_some_and(|d| d.chosen == AdviceChoice::OpenUp)
    {
        grave.push("it was decided to open up".into());
    }
    grave
}

/// The same, and what is grave about the car as it would leave.
fn grave(state: &JobState, job: &JobView) -> Vec<String> {
    let mut grave = grave_inside(state, job);
    if state.still_off() > 0 {
        grave.push(format!("{} parts are off", state.still_off()));
    }
    // By the names of the procedure that ships, since the roles are what is tested.
    let last = |topic: &str| {
        let seen = state.observed.values().filter(|o| o.topic == topic);
        seen.max_by_key(|o| (o.stamp.wall, o.stamp.entry))
    };
    if last("leak").is_some_and(|seen| seen.choice == "leaks") {
        grave.push("the last look saw a leak".into());
    }
    if let Some(seen) = last("level_seen")
        && matches!(seen.choice.as_str(), "nothing" | "stream")
    {
        grave.push(format!("the level plug showed: {}", seen.choice));
    }
    grave
}

pub fn check(told: &Told) -> Vec<Found> {
    let mut found = Vec::new();
    for screens in &told.screens {
        let grave = grave_inside(&told.state, &screens.job);
        if grave.is_empty() {
            continue;
        }
        for one in texts("job", &screens.job) {
            if !is_judgement(&one.place) {
                continue;
            }
            if let Some(phrase) = calm(&one.text, screens.language, worn_by_the_tool(&screens.job))
            {
                let place = section(&one.place);
                let all = texts("job", &screens.job);
                let beside: Vec<&str> = all
                    .iter()
                    .filter(|other| section(&other.place) == place)
                    .map(|other| other.text.as_str())
                    .collect();
                if !overruled(told, &beside.join("\n"), screens.language) {
                    found.push(fault(one.place, one.text, &phrase, &grave));
                }
            }
        }
    }
    let job = &told.screens(Language::En).job;
    let grave = grave(&told.state, job);
    if grave.is_empty() {
        return found;
    }
    for copy in &told.copies {
        found.extend(in_copy(told, copy, &grave, worn(&told.state, job)));
        found.extend(unsaid(told, job, copy));
    }
    found
}

/// A decision that is calmer than the advice, without both and why in the first section.
fn unsaid(told: &Told, job: &JobView, copy: &Copy) -> Option<Found> {
    let decision = told.state.decision.as_ref()?;
    let advice = job.wear.as_ref()?.advice;
    // Where the log advises another thing by now, the decision is asked again (rule 8).
    if decision.chosen >= decision.advised || advice != decision.advised {
        return None;
    }
    let reason = decision
        .reason
        .as_deref()
        .map(str::trim)
        .unwrap_or_default();
    // A reason that names the customer is left out of a copy without names, which says so.
    if reason.is_empty() || !copy.leave_out.nothing() {
        return None;
    }
    let first = copy.page.iter().find(|section| section.name == "short")?;
    (!overruled(told, &first.text(), copy.language)).then(|| {
        fault(
            format!("page {:?}/short", copy.language),
            first.text(),
            "the decision",
            &[format!(
                "the tool advises {advice:?}: both and why are not said"
            )],
        )
    })
}

fn in_copy(told: &Told, copy: &Copy, grave: &[String], worn: bool) -> Vec<Found> {
    let mut found = Vec::new();
    let name = format!("{:?}", copy.language);
    let answer_page = copy.answer_page.iter().flatten();
    for section in copy.page.iter().chain(answer_page) {
        // Lines as they were written are history, in a section of their own.
        if ["sources", "method", "log"].contains(&section.name.as_str()) {
            continue;
        }
        for text in &section.texts {
            if let Some(phrase) = calm(text, copy.language, worn)
                && !overruled(told, &section.text(), copy.language)
            {
                let place = format!("page {name}/{}", section.name);
                found.push(fault(place, text.clone(), &phrase, grave));
            }
        }
    }
    // The print has no sections that a reader of its text could tell apart.
    let paper = copy.paper.as_deref().unwrap_or_default();
    let paper = paper.split_whitespace().collect::<Vec<_>>().join(" ");
    for sentence in paper.split(". ") {
        if let Some(phrase) = calm(sentence, copy.language, worn)
            && !overruled(told, &paper, copy.language)
        {
            let place = format!("print {name}");
            found.push(fault(place, sentence.to_owned(), &phrase, grave));
        }
    }
    found
}

/// What the screens judge: not what a step tells to do, what keys say, or lines as they were written.
fn is_judgement(place: &str) -> bool {
    let of_job = [
        "job/wear/",
        "job/decision/",
        "job/explains/",
        "job/fluid_words/",
    ];
    of_job.iter().any(|start| place.starts_with(start))
        || place.contains("/wants/") && (place.ends_with("/words") || place.contains("/said/"))
}

fn section(place: &str) -> String {
    let parts: Vec<&str> = place.split('/').collect();
    // One wish of a step is a place of its own.
    let depth = if place.contains("/wants/") { 8 } else { 2 };
    parts[..parts.len().min(depth)].join("/")
}

/// The tool's advice, and that and why it was overruled, stand in it.
fn overruled(told: &Told, place: &str, language: Language) -> bool {
    let Some(decision) = &told.state.decision else {
        return false;
    };
    let Some(reason) = decision
        .reason
        .as_deref()
        .filter(|_| decision.chosen != decision.advised)
    else {
        return false;
    };
    let squeezed = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let advice = match language {
        Language::En => ["advised", "advises"],
        Language::De => ["riet", "rät"],
        Language::Es => ["aconsejó", "aconseja"],
    };
    advice.iter().any(|word| place.contains(word)) && squeezed(place).contains(&squeezed(reason))
}

fn fault(place: String, sentence: String, phrase: &str, grave: &[String]) -> Found {
    Found {
        rule: CALM,
        place,
        sentence,
        why: format!("\"{phrase}\", although {}", grave.join(", ")),
    }
}
