//! The answers to the procedure's questions as observations.

use swarfbook_job::procedure::{Answer, NotedColour};

use crate::{FluidLook, Observation};

impl Observation {
    /// What an answer says of wear; `None` where it says nothing of it. `text` is what was
    /// added in words: for a chunk, the part it came from.
    pub fn from_answer(answer: Answer, text: &str) -> Option<Observation> {
        Some(match answer {
            Answer::Look(look) => Observation::Fluid { look },
            Answer::Colour(NotedColour::Black) => Observation::Fluid {
                look: FluidLook::Dark,
            },
            Answer::Smell(smell) => Observation::Smell { smell },
            Answer::Paste(paste) => Observation::Paste { paste },
            Answer::Filter(found) => Observation::Filter { found },
            Answer::Part(part) => Observation::Chunk {
                part,
                named: text.trim().to_owned(),
            },
            Answer::Feel(feel) => Observation::Steel { feel },
            Answer::Colour(_) | Answer::Level(_) | Answer::Leak(_) | Answer::Complaint(_) => {
                return None;
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use swarfbook_job::procedure::{self, Evidence, KnownPart, Roles, TopicRole};

    use super::*;
    use crate::Symptom;

    /// Each answer that the shipped procedure offers is understood; only colours
    /// short of black and "no chunk" say nothing.
    #[test]
    fn every_answer_of_the_procedure_is_read() {
        let procedure = procedure::load(procedure::BUILT_IN).unwrap();
        let roles = Roles::of(&procedure);
        let mut read = 0;
        for (_, step) in procedure.steps() {
            for want in &step.evidence {
                let Evidence::Observe {
                    topic,
                    role,
                    choices,
                    ..
                } = &want.evidence
                else {
                    continue;
                };
                let ours = [
                    TopicRole::FluidLook,
                    TopicRole::FluidSmell,
                    TopicRole::Paste,
                    TopicRole::Filter,
                    TopicRole::Chunk,
                    TopicRole::SteelFeel,
                ];
                for choice in choices
                    .iter()
                    .filter(|_| role.is_some_and(|r| ours.contains(&r)))
                {
                    let answer = roles.answer(&step.id, topic, &choice.id);
                    let observation = answer.and_then(|a| Observation::from_answer(a, ""));
                    let says_nothing = *role == Some(TopicRole::Chunk) && choice.id == "no";
                    assert_eq!(observation.is_none(), says_nothing, "{topic} {}", choice.id);
                    read += 1;
                }
            }
        }
        assert!(read >= 30, "the topics lost their roles: {read} answers");
    }

    #[test]
    fn every_symptom_of_the_procedure_is_read() {
        let procedure = procedure::load(procedure::BUILT_IN).unwrap();
        let roles = Roles::of(&procedure);
        let offered: Vec<_> = procedure
            .steps()
            .flat_map(|(_, step)| &step.evidence)
            .find_map(|want| match &want.evidence {
                Evidence::Complaint { symptoms, .. } => Some(symptoms),
                _ => None,
            })
            .unwrap()
            .iter()
            .map(|choice| roles.symptom(&choice.id))
            .collect();
        let all = [
            Symptom::Slips,
            Symptom::Harsh,
            Symptom::Shudder,
            Symptom::NoDrive,
            Symptom::Noise,
            Symptom::Other,
        ];
        let all: Vec<_> = all.into_iter().map(Some).chain([None]).collect();
        assert_eq!(offered, all);
        assert_eq!(roles.symptom("of-a-shops-own"), Some(Symptom::Other));
    }

    #[test]
    fn a_chunk_keeps_its_name_and_other_topics_say_nothing() {
        let says = |role, name: &str, text: &str| {
            Observation::from_answer(Answer::named(role, name)?, text)
        };
        let chunk = says(TopicRole::Chunk, "yes", " gear tooth ");
        let (part, named) = (KnownPart::Unnamed, "gear tooth".to_owned());
        assert_eq!(chunk, Some(Observation::Chunk { part, named }));
        assert_eq!(says(TopicRole::FluidLook, "green", ""), None);
        assert_eq!(says(TopicRole::Leak, "dry", ""), None);
        let dark = FluidLook::Dark;
        assert_eq!(
            says(TopicRole::FluidColour, "black", ""),
            Some(Observation::Fluid { look: dark })
        );
    }
}
