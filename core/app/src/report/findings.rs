//! Codes, the fluid, and what proves the work.

use swarfbook_job::census::FluidColour as Film;
use swarfbook_job::fact::{CodeState, Fact as Line, Moment};
use swarfbook_job::fold::LineState;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::{Answer, NotedColour as Colour, TopicRole};
use swarfbook_judge::level;
use swarfbook_judge::part::{Generations, Part, worst};
use swarfbook_measure::code::{Answer as CodeAnswer, Explanation};
use swarfbook_measure::fluid::fits_better;
use swarfbook_report::content::{CodeSaid, CodesSaid, Fact, FluidSaid, Said, Swatch};
use swarfbook_words::{fixed, say, term};

use super::figures::Figures;
use super::noted::answers;
use crate::present;

pub(super) fn codes(figures: &Figures<'_>) -> CodesSaid {
    CodesSaid {
        before: read(figures, Moment::Before),
        after: read(figures, Moment::After),
        explained: figures
            .judged
            .explanations
            .iter()
            .map(|explanation| explained(figures, explanation))
            .chain(
                present::codes::changes(figures.state)
                    .into_iter()
                    .map(|words| {
                        let read = figures.state.codes.values().map(|c| c.stamp.entry);
                        figures.said(words, read)
                    }),
            )
            .collect(),
    }
}

/// What was found beside one code, as a customer reads it: what is still to be looked up
/// or measured is the technician's to know.
fn explained(figures: &Figures<'_>, explanation: &Explanation) -> Said {
    let code = explanation.code;
    let parts: Vec<&Part> = figures
        .judged
        .parts
        .iter()
        .filter(|component| explanation.by.contains(&component.name))
        .collect();
    let words = match explanation.answer {
        CodeAnswer::Explains => say!(
            "code-explained-by-by-which-was-out-of",
            code = code,
            by = explanation.by.join(", ")
        ),
        CodeAnswer::DoesNotExplain => {
            say!("code-not-explained-by-the-parts-that-were", code = code)
        }
        CodeAnswer::CantTell => say!("code-what-was-measured-does-not-show-its", code = code),
    };
    let read = figures.state.codes.get(&Moment::Before);
    // What was found of the part that the car came in with.
    let readings = parts.iter().filter_map(|part| {
        let generations = Generations::of(figures.state, part.entry);
        let of_first = part.readings.iter();
        let worst = worst(of_first.filter(|read| generations.is_of_first(read.entry)));
        worst.map(|reading| reading.entry)
    });
    figures.said(
        words,
        read.map(|c| c.stamp.entry).into_iter().chain(readings),
    )
}

fn read(figures: &Figures<'_>, moment: Moment) -> Option<Vec<CodeSaid>> {
    let read = figures.state.codes.get(&moment)?;
    // That none was set is a finding of its own, and rests on the line.
    figures.name(read.stamp.entry);
    Some(
        read.codes
            .iter()
            .map(|seen| {
                let held = match seen.state {
                    CodeState::Stored => term!("stored"),
                    CodeState::Pending => term!("pending"),
                };
                CodeSaid {
                    code: seen.code.clone(),
                    said: figures.said(
                        match present::codes::system_words(&seen.code) {
                            Some(system) => format!("{held}; {system}"),
                            None => held.to_owned(),
                        },
                        [read.stamp.entry],
                    ),
                }
            })
            .collect(),
    )
}

/// Photos that show the fluid's colour, with the line that says which.
fn films<'a>(figures: &'a Figures<'_>) -> impl Iterator<Item = (Film, EntryId)> + 'a {
    figures.state.photos.iter().filter_map(|photo| {
        let film = photo.census.as_ref()?.fluid?;
        Some((film, photo.census_stamp.as_ref()?.entry))
    })
}

pub(super) fn fluid(figures: &Figures<'_>) -> FluidSaid {
    let mut facts = answers(figures, TopicRole::is_of_fluid);
    for (film, census) in films(figures) {
        facts.push(Fact {
            label: say!("colour-as-measured"),
            said: figures.said(present::fluid_words(&film), [census]),
        });
    }
    facts.extend(colours_disagree(figures));
    let balance = present::fluid::balance_words(figures.state, figures.loaded.units);
    let poured = lines_of(
        figures,
        &[
            TopicRole::FluidOutL,
            TopicRole::FluidInL,
            TopicRole::FluidOutC,
        ],
    );
    facts.extend(balance.into_iter().map(|words| Fact {
        label: say!("what-that-means"),
        said: figures.said(words, poured.clone()),
    }));
    facts.extend(level(figures));
    FluidSaid {
        facts,
        swatches: swatches(figures),
    }
}

/// The lines that answer or measure what has one of these roles.
fn lines_of(figures: &Figures<'_>, wanted: &[TopicRole]) -> Vec<EntryId> {
    let roles = &figures.state.roles;
    let told = |line: &&LineState| {
        let role = match &line.fact {
            Some(Line::Measured { measured }) => roles.topic(&measured.step, &measured.topic),
            Some(Line::Observed { observed }) => roles.topic(&observed.step, &observed.topic),
            _ => None,
        };
        role.is_some_and(|role| wanted.contains(&role))
    };
    let lines = figures.live().filter(told);
    lines.map(|line| line.stamp.entry).collect()
}

/// How the level was left; what is still to be done about it is the technician's, not
/// the customer's.
fn level(figures: &Figures<'_>) -> Option<Fact> {
    let from = lines_of(figures, &[TopicRole::LevelC, TopicRole::LevelSeen]);
    if from.is_empty() {
        return None;
    }
    let words = if level::is_set(figures.state) {
        say!("the-level-is-right-a-thin-steady-trickle")
    } else {
        say!("that-does-not-show-that-the-level-is")
    };
    Some(Fact {
        label: say!("the-oils-level"),
        said: figures.said(words, from),
    })
}

/// Where the colour that was noted and one that was measured do not go together.
fn colours_disagree(figures: &Figures<'_>) -> Vec<Fact> {
    let Some(noted) = figures.state.answer(TopicRole::FluidColour) else {
        return Vec::new();
    };
    let Some(Answer::Colour(colour)) = figures.state.says(noted).next() else {
        return Vec::new();
    };
    films(figures)
        .filter_map(|(film, census)| {
            let other = fits_better(colour, film.lab, film.u_de)?;
            Some(Fact {
                label: say!("the-two-do-not-agree"),
                said: figures.said(
                    say!(
                        "the-technician-noted-colour-what-the-photo-measured",
                        colour = colour_words(colour),
                        colour_2 = colour_words(other)
                    ),
                    [noted.stamp.entry, census],
                ),
            })
        })
        .collect()
}

fn colour_words(colour: Colour) -> &'static str {
    match colour {
        Colour::Red => term!("red"),
        Colour::Amber => term!("amber"),
        Colour::Brown => term!("brown"),
        Colour::Black => term!("black"),
    }
}

/// A usual dye of fresh fluid, sRGB (common practice, no published source).
const FRESH: [u8; 3] = [190, 42, 48];

/// The colour as measured, beside fresh fluid.
fn swatches(figures: &Figures<'_>) -> Vec<Swatch> {
    let mut swatches: Vec<Swatch> = films(figures)
        .map(|(film, census)| {
            let lab = film.lab;
            let [l, a, b] = lab;
            Swatch {
                label: term!("yours").to_owned(),
                rgb: Swatch::rgb_of_lab(lab),
                said: figures.said(
                    say!(
                        "as-measured-in-the-photo-l-l-a",
                        l = fixed(l, 0),
                        value = fixed(a, 0),
                        value_2 = fixed(b, 0)
                    ),
                    [census],
                ),
            }
        })
        .collect();
    if !swatches.is_empty() {
        swatches.push(Swatch {
            label: say!("fresh-to-compare"),
            rgb: FRESH,
            said: figures.said(say!("often-a-clear-red-some-makers-dye-it"), []),
        });
    }
    swatches
}

/// Leak checks and road test.
pub(super) fn proof(figures: &Figures<'_>) -> Vec<Fact> {
    answers(figures, TopicRole::is_proof)
}
