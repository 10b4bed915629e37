//! The answers of the procedure's topics as observations.

use crate::{FilterFound, FluidLook, KnownPart, Observation, Paste, Smell, SteelFeel, Symptom};

impl Observation {
    /// The observation of an answer on a topic of the procedure that ships;
    /// `None` for topics and answers that say nothing about wear. `text` is what
    /// was added in words: for a chunk, the part it came from.
    pub fn from_answer(topic: &str, choice: &str, text: &str) -> Option<Observation> {
        match topic {
            "fluid_look" => fluid_look(choice).map(|look| Observation::Fluid { look }),
            "fluid_colour" => (choice == "black").then_some(Observation::Fluid {
                look: FluidLook::Dark,
            }),
            "fluid_smell" => smell(choice).map(|smell| Observation::Smell { smell }),
            "paste" => paste(choice).map(|paste| Observation::Paste { paste }),
            "filter" => filter(choice).map(|found| Observation::Filter { found }),
            "chunk" => part(choice).map(|part| Observation::Chunk {
                part,
                named: text.trim().to_owned(),
            }),
            "steel_feel" => feel(choice).map(|feel| Observation::Steel { feel }),
            _ => None,
        }
    }
}

impl Symptom {
    /// The symptom of an answer that the procedure that ships offers with the
    /// complaint; an answer of a shop's own is [`Symptom::Other`], and `None` that
    /// there is nothing to complain of.
    pub fn from_answer(choice: &str) -> Option<Symptom> {
        Some(match choice {
            "slips" => Symptom::Slips,
            "harsh" => Symptom::Harsh,
            "shudder" => Symptom::Shudder,
            "no_drive" => Symptom::NoDrive,
            "noise" => Symptom::Noise,
            "none" => return None,
            _ => Symptom::Other,
        })
    }
}

fn fluid_look(choice: &str) -> Option<FluidLook> {
    match choice {
        "clear" => Some(FluidLook::Clear),
        "dark" => Some(FluidLook::Dark),
        "milky" => Some(FluidLook::Milky),
        "foamy" => Some(FluidLook::Foamy),
        "glittering" => Some(FluidLook::Glittering),
        _ => None,
    }
}

fn smell(choice: &str) -> Option<Smell> {
    match choice {
        "none" => Some(Smell::None),
        "sharp" => Some(Smell::Sharp),
        "burnt" => Some(Smell::Burnt),
        _ => None,
    }
}

fn paste(choice: &str) -> Option<Paste> {
    match choice {
        "none" => Some(Paste::None),
        "thin_film" => Some(Paste::ThinFilm),
        "thick_paste" => Some(Paste::ThickPaste),
        _ => None,
    }
}

fn filter(choice: &str) -> Option<FilterFound> {
    match choice {
        "clean" => Some(FilterFound::Clean),
        "some" => Some(FilterFound::Some),
        "lining_dust" => Some(FilterFound::LiningDust),
        "metal" => Some(FilterFound::Metal),
        "choked" => Some(FilterFound::Choked),
        _ => None,
    }
}

fn part(choice: &str) -> Option<KnownPart> {
    match choice {
        "gear_tooth" => Some(KnownPart::GearTooth),
        "roller" => Some(KnownPart::Roller),
        "snap_ring" => Some(KnownPart::SnapRing),
        "spring" => Some(KnownPart::Spring),
        "lining_block" => Some(KnownPart::LiningBlock),
        "bushing_half" => Some(KnownPart::BushingHalf),
        "clip" => Some(KnownPart::Clip),
        "assembly_plug" => Some(KnownPart::AssemblyPlug),
        "gasket" => Some(KnownPart::Gasket),
        "sealant" => Some(KnownPart::Sealant),
        "other" => Some(KnownPart::Other),
        // The procedure's first versions asked no further.
        "yes" => Some(KnownPart::Unnamed),
        _ => None,
    }
}

fn feel(choice: &str) -> Option<SteelFeel> {
    match choice {
        "nothing" => Some(SteelFeel::Nothing),
        "flat" => Some(SteelFeel::Flat),
        "grains" => Some(SteelFeel::Grains),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use swarfbook_job::procedure::{self, Evidence};

    use super::*;

    /// Each answer that the shipped procedure offers is understood; only colours
    /// short of black and "no chunk" say nothing.
    #[test]
    fn every_answer_of_the_procedure_is_read() {
        let procedure = procedure::load(procedure::BUILT_IN).unwrap();
        let mut read = 0;
        for want in procedure.steps().flat_map(|(_, step)| &step.evidence) {
            let Evidence::Observe { topic, choices, .. } = &want.evidence else {
                continue;
            };
            let ours = [
                "fluid_look",
                "fluid_smell",
                "paste",
                "filter",
                "chunk",
                "steel_feel",
            ];
            for choice in choices.iter().filter(|_| ours.contains(&topic.as_str())) {
                let observation = Observation::from_answer(topic, &choice.id, "");
                let says_nothing = topic == "chunk" && choice.id == "no";
                assert_eq!(observation.is_none(), says_nothing, "{topic} {}", choice.id);
                read += 1;
            }
        }
        assert!(read >= 30, "the topics were renamed: {read} answers");
    }

    #[test]
    fn every_symptom_of_the_procedure_is_read() {
        let procedure = procedure::load(procedure::BUILT_IN).unwrap();
        let offered: Vec<_> = procedure
            .steps()
            .flat_map(|(_, step)| &step.evidence)
            .find_map(|want| match &want.evidence {
                Evidence::Complaint { symptoms, .. } => Some(symptoms),
                _ => None,
            })
            .unwrap()
            .iter()
            .map(|choice| Symptom::from_answer(&choice.id))
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
    }

    #[test]
    fn a_chunk_keeps_its_name_and_other_topics_say_nothing() {
        let chunk = Observation::from_answer("chunk", "yes", " gear tooth ");
        let (part, named) = (KnownPart::Unnamed, "gear tooth".to_owned());
        assert_eq!(chunk, Some(Observation::Chunk { part, named }));
        assert_eq!(Observation::from_answer("fluid_look", "green", ""), None);
        assert_eq!(Observation::from_answer("leak", "dry", ""), None);
        let dark = FluidLook::Dark;
        assert_eq!(
            Observation::from_answer("fluid_colour", "black", ""),
            Some(Observation::Fluid { look: dark })
        );
    }
}
