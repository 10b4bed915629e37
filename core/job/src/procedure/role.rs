//! What the code needs of a step, a question or an answer: a typed `role` in the procedure file,
//! so that a shop may give them names of its own.

use std::collections::BTreeMap;

use serde::de::value::{Error, StrDeserializer};
use serde::de::{DeserializeOwned, IntoDeserializer};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::answer::{
    ComplaintNow, FilterFound, FluidLook, KnownPart, Leak, LevelSeen, NotedColour, Paste, Smell,
    SteelFeel, Symptom,
};
use super::{Choice, Evidence, Procedure};
use crate::fact::StepId;

/// What the code needs of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum StepRole {
    /// The engine was on and every gear was gone through: the level can be read.
    Gears,
    /// The pan was left clean: what is found at the next visit came since.
    PanClean,
}

/// What a question is about, where the code needs its answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum TopicRole {
    /// Litres that came out.
    FluidOutL,
    /// How warm that was, °C.
    FluidOutC,
    /// Litres that went in.
    FluidInL,
    /// Name of the fluid that went in.
    FluidInName,
    /// Maker's specification that it meets.
    FluidInSpec,
    /// Batch number of the fluid that went in.
    FluidInBatch,
    /// The fluid's colour.
    FluidColour,
    /// The fluid's smell.
    FluidSmell,
    /// The fluid's look.
    FluidLook,
    /// What sits on the magnet.
    Paste,
    /// How the steel feels.
    SteelFeel,
    /// A piece that can be named.
    Chunk,
    /// What the filter held.
    Filter,
    /// Where the maker's window for the level begins, °C.
    LevelLowC,
    /// Where it ends, °C.
    LevelHighC,
    /// The fluid's temperature, °C.
    LevelC,
    /// What the open level plug or the dipstick shows.
    LevelSeen,
    /// What a leak check saw.
    Leak,
    /// What became of the complaint on the road.
    RoadTest,
    /// Kilometres of the road test.
    RoadTestKm,
    /// After how many kilometres to look again.
    NextLookKm,
}

impl TopicRole {
    /// The report tells it with the fluid.
    pub fn is_of_fluid(self) -> bool {
        use TopicRole::{
            FluidColour, FluidInBatch, FluidInL, FluidInName, FluidInSpec, FluidLook, FluidOutC,
            FluidOutL, FluidSmell, LevelC, LevelHighC, LevelLowC, LevelSeen,
        };
        matches!(
            self,
            FluidOutL
                | FluidOutC
                | FluidInL
                | FluidInName
                | FluidInSpec
                | FluidInBatch
                | FluidColour
                | FluidSmell
                | FluidLook
                | LevelLowC
                | LevelHighC
                | LevelC
                | LevelSeen
        )
    }

    /// The report tells it as proof of the work.
    pub fn is_proof(self) -> bool {
        matches!(
            self,
            TopicRole::Leak | TopicRole::RoadTest | TopicRole::RoadTestKm
        )
    }
}

/// What is tightened, where the code needs to know.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum TightenRole {
    /// The plugs that are closed after the level was read there: none with a dipstick.
    LevelPlugs,
}

/// What an answer says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// The fluid's colour.
    Colour(NotedColour),
    /// The fluid's smell.
    Smell(Smell),
    /// The fluid's look.
    Look(FluidLook),
    /// What sits on the magnet.
    Paste(Paste),
    /// How the steel feels.
    Feel(SteelFeel),
    /// What a piece comes from.
    Part(KnownPart),
    /// What the filter held.
    Filter(FilterFound),
    /// What the level plug or the dipstick shows.
    Level(LevelSeen),
    /// What a leak check saw.
    Leak(Leak),
    /// What became of the complaint.
    Complaint(ComplaintNow),
}

impl Answer {
    /// The answer of that name to a question of that role; `None` where there is none.
    pub fn named(role: TopicRole, name: &str) -> Option<Answer> {
        match role {
            TopicRole::FluidColour => named(name).map(Answer::Colour),
            TopicRole::FluidSmell => named(name).map(Answer::Smell),
            TopicRole::FluidLook => named(name).map(Answer::Look),
            TopicRole::Paste => named(name).map(Answer::Paste),
            TopicRole::SteelFeel => named(name).map(Answer::Feel),
            TopicRole::Chunk => named(name).map(Answer::Part),
            TopicRole::Filter => named(name).map(Answer::Filter),
            TopicRole::LevelSeen => named(name).map(Answer::Level),
            TopicRole::Leak => named(name).map(Answer::Leak),
            TopicRole::RoadTest => named(name).map(Answer::Complaint),
            TopicRole::FluidOutL
            | TopicRole::FluidOutC
            | TopicRole::FluidInL
            | TopicRole::FluidInName
            | TopicRole::FluidInSpec
            | TopicRole::FluidInBatch
            | TopicRole::LevelLowC
            | TopicRole::LevelHighC
            | TopicRole::LevelC
            | TopicRole::RoadTestKm
            | TopicRole::NextLookKm => None,
        }
    }
}

/// A symptom by its role, or that there is none; the outer `None` for a name that is neither.
pub(super) fn symptom(name: &str) -> Option<Option<Symptom>> {
    match name {
        "none" => Some(None),
        _ => named(name).map(Some),
    }
}

/// A role by its name in the file.
fn named<T: DeserializeOwned>(name: &str) -> Option<T> {
    let name: StrDeserializer<'_, Error> = name.into_deserializer();
    T::deserialize(name).ok()
}

/// The roles of a procedure by the ids that its lines are written with.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Roles {
    steps: BTreeMap<StepId, StepRole>,
    topics: BTreeMap<StepId, BTreeMap<String, Topic>>,
    symptoms: BTreeMap<String, Option<Symptom>>,
}

#[derive(Debug, Clone, PartialEq)]
struct Topic {
    role: TopicRole,
    answers: BTreeMap<String, Answer>,
}

impl Roles {
    /// Those of a procedure.
    pub fn of(procedure: &Procedure) -> Roles {
        let mut roles = Roles::default();
        for (_, step) in procedure.steps() {
            if let Some(role) = step.role {
                roles.steps.insert(step.id.clone(), role);
            }
            for want in &step.evidence {
                if let Evidence::Complaint { symptoms, .. } = &want.evidence {
                    let known = symptoms.iter().filter_map(|choice| {
                        Some((choice.id.clone(), symptom(choice.role.as_deref()?)?))
                    });
                    roles.symptoms.extend(known);
                }
                if let (Some(topic), Some(role)) = (want.evidence.topic(), want.evidence.role()) {
                    let topics = roles.topics.entry(step.id.clone()).or_default();
                    let answers = answers(role, &want.evidence);
                    topics.insert(topic.to_owned(), Topic { role, answers });
                }
            }
        }
        roles
    }

    /// The role of a step.
    pub fn step(&self, step: &str) -> Option<StepRole> {
        self.steps.get(step).copied()
    }

    /// The role of a question that is asked at a step.
    pub fn topic(&self, step: &str, topic: &str) -> Option<TopicRole> {
        Some(self.asked(step, topic)?.role)
    }

    /// What a choice says as an answer to a question that is asked at a step.
    pub fn answer(&self, step: &str, topic: &str, choice: &str) -> Option<Answer> {
        self.asked(step, topic)?.answers.get(choice).copied()
    }

    /// What a choice of the complaint says: an answer of a shop's own is [`Symptom::Other`],
    /// and `None` that there is nothing to complain of.
    pub fn symptom(&self, choice: &str) -> Option<Symptom> {
        let known = self.symptoms.get(choice).copied();
        known.unwrap_or(Some(Symptom::Other))
    }

    fn asked(&self, step: &str, topic: &str) -> Option<&Topic> {
        self.topics.get(step)?.get(topic)
    }
}

fn answers(role: TopicRole, evidence: &Evidence) -> BTreeMap<String, Answer> {
    let Evidence::Observe { choices, .. } = evidence else {
        return BTreeMap::new();
    };
    let answer = |choice: &Choice| {
        let name = choice.role.as_deref()?;
        Some((choice.id.clone(), Answer::named(role, name)?))
    };
    choices.iter().filter_map(answer).collect()
}

impl Procedure {
    /// Gives a procedure that was written before there were roles those that the ids of the one
    /// that ships stood for.
    pub(super) fn roles_by_id(&mut self) {
        let steps = self.stages.iter_mut().flat_map(|stage| &mut stage.steps);
        for step in steps {
            step.role = named(&step.id.replace('-', "_"));
            for want in &mut step.evidence {
                want.evidence.role_by_id();
            }
        }
    }

    /// Whether the file gives any role.
    pub(super) fn has_roles(&self) -> bool {
        self.steps().any(|(_, step)| {
            let mut wants = step.evidence.iter().map(|want| &want.evidence);
            step.role.is_some() || wants.any(Evidence::has_roles)
        })
    }
}

impl Evidence {
    /// What the question is about.
    pub fn role(&self) -> Option<TopicRole> {
        match self {
            Evidence::Observe { role, .. }
            | Evidence::Measure { role, .. }
            | Evidence::Text { role, .. } => *role,
            _ => None,
        }
    }

    fn has_roles(&self) -> bool {
        let any = |choices: &[Choice]| choices.iter().any(|choice| choice.role.is_some());
        match self {
            Evidence::Complaint { symptoms, .. } => any(symptoms),
            Evidence::Observe { role, choices, .. } => role.is_some() || any(choices),
            Evidence::Tighten { role, .. } => role.is_some(),
            other => other.role().is_some(),
        }
    }

    fn role_by_id(&mut self) {
        match self {
            Evidence::Complaint { symptoms, .. } => {
                for choice in symptoms {
                    choice.role = symptom(&choice.id).map(|_| choice.id.clone());
                }
            }
            Evidence::Observe {
                topic,
                role,
                choices,
                ..
            } => {
                *role = named(topic);
                for choice in choices {
                    let known = role.and_then(|role| Answer::named(role, &choice.id));
                    choice.role = known.map(|_| choice.id.clone());
                }
            }
            Evidence::Measure { topic, role, .. } | Evidence::Text { topic, role, .. } => {
                *role = named(topic);
            }
            Evidence::Tighten { what, role, .. } => {
                *role = (what == "level and fill plugs").then_some(TightenRole::LevelPlugs);
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{BUILT_IN, BUILT_IN_EARLIER, load};
    use super::*;

    /// The versions from before there were roles mean by their names what the newest says.
    #[test]
    fn earlier_versions_are_read_by_their_names() {
        let newest = load(BUILT_IN).unwrap();
        let roles = Roles::of(&newest);
        let mut same = 0;
        for text in BUILT_IN_EARLIER {
            let earlier = load(text).unwrap();
            let by_name = Roles::of(&earlier);
            for (_, step) in earlier.steps() {
                assert_eq!(by_name.step(&step.id), roles.step(&step.id), "{}", step.id);
                for want in &step.evidence {
                    let Some(topic) = want.evidence.topic() else {
                        continue;
                    };
                    if newest.topic(&step.id, topic).is_none() {
                        continue;
                    }
                    let role = by_name.topic(&step.id, topic);
                    assert_eq!(role, roles.topic(&step.id, topic), "{topic}");
                    let Evidence::Observe { choices, .. } = &want.evidence else {
                        continue;
                    };
                    for choice in choices.iter().filter(|choice| choice.id != "yes") {
                        let answer = by_name.answer(&step.id, topic, &choice.id);
                        let known = roles.answer(&step.id, topic, &choice.id);
                        assert_eq!(answer, known, "{topic}: {}", choice.id);
                        same += usize::from(answer.is_some());
                    }
                }
            }
        }
        assert!(same > 100, "{same} answers");
        // The first version asked no further.
        let first = Roles::of(&load(BUILT_IN_EARLIER[0]).unwrap());
        let part = first.answer("census", "chunk", "yes");
        assert_eq!(part, Some(Answer::Part(KnownPart::Unnamed)));
        assert_eq!(first.step("pan-clean"), Some(StepRole::PanClean));
    }

    fn with(evidence: &str) -> String {
        format!(
            "id = \"short\"\nversion = 1\ntitle = \"Short\"\n[[stage]]\nid = \"one\"\ntitle = \"One\"\n\
             [[stage.step]]\nid = \"look\"\ntitle = \"Look\"\nrole = \"gears\"\nevidence = [{evidence}]\n"
        )
    }

    #[test]
    fn a_file_with_any_role_goes_by_roles_alone() {
        let choices =
            "choices = [{ id = \"leaks\", label = \"L\" }, { id = \"dry\", label = \"D\" }]";
        let text = with(&format!(
            "{{ kind = \"observe\", topic = \"leak\", label = \"Leak\", {choices} }}"
        ));
        let roles = Roles::of(&load(&text).unwrap());
        assert_eq!(roles.topic("look", "leak"), None);
        let roles = Roles::of(&load(&text.replace("role = \"gears\"\n", "")).unwrap());
        assert_eq!(roles.topic("look", "leak"), Some(TopicRole::Leak));
        let leaks = roles.answer("look", "leak", "leaks");
        assert_eq!(leaks, Some(Answer::Leak(Leak::Leaks)));
    }

    #[test]
    fn a_role_that_is_none_is_refused_with_its_line() {
        let observe = |role: &str, answer: &str| {
            with(&format!(
                "{{ kind = \"observe\", topic = \"t\", label = \"T\", role = \"{role}\", choices = \
                 [{{ id = \"a\", label = \"A\", role = \"{answer}\" }}, {{ id = \"b\", label = \"B\" }}] }}"
            ))
        };
        load(&observe("leak", "leaks")).expect("good");
        let error = load(&observe("leak", "puddle")).unwrap_err();
        assert_eq!(error.line, 8);
        assert!(error.reason.contains("puddle"), "{error}");
        let error = load(&observe("drip", "leaks")).unwrap_err();
        assert!(error.reason.contains("drip"), "{error}");
    }
}
