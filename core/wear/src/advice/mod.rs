//! Advice by a short list of rules, each with its reason; the technician may
//! overrule it, and both are kept.

mod next;
mod rules;

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::AdviceChoice;
use swarfbook_words::{say, term};
use ts_rs::TS;

use crate::{Overrule, words};

pub use next::NextTest;
pub(crate) use rules::{Known, look_first, rules};

/// What is advised.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "what", rename_all = "snake_case")]
pub enum Advice {
    /// Finish the work.
    CarryOn,
    /// Finish, and look again after a distance.
    Watch {
        /// That distance, km.
        after_km: f64,
    },
    /// Do the tests that are named before the gearbox is closed or more is spent.
    TestFirst,
    /// Stop; strip down before more is spent.
    OpenUp,
}

impl Advice {
    /// The graver of two; of two distances the shorter.
    pub fn graver(self, other: Advice) -> Advice {
        match (self, other) {
            (Advice::OpenUp, _) | (_, Advice::OpenUp) => Advice::OpenUp,
            (Advice::TestFirst, _) | (_, Advice::TestFirst) => Advice::TestFirst,
            (Advice::Watch { after_km: a }, Advice::Watch { after_km: b }) => {
                Advice::Watch { after_km: a.min(b) }
            }
            (watch @ Advice::Watch { .. }, _) | (_, watch @ Advice::Watch { .. }) => watch,
            (Advice::CarryOn, Advice::CarryOn) => Advice::CarryOn,
        }
    }

    /// The same without the distance, as the log keeps a decision.
    pub fn choice(self) -> AdviceChoice {
        match self {
            Advice::CarryOn => AdviceChoice::CarryOn,
            Advice::Watch { .. } => AdviceChoice::Watch,
            Advice::TestFirst => AdviceChoice::TestFirst,
            Advice::OpenUp => AdviceChoice::OpenUp,
        }
    }

    /// Its name in the language that is spoken: "watch".
    pub fn name(self) -> &'static str {
        match self {
            Advice::CarryOn => term!("finish-the-work"),
            Advice::Watch { .. } => term!("watch"),
            Advice::TestFirst => term!("test-first"),
            Advice::OpenUp => term!("open-up"),
        }
    }

    /// In a sentence.
    pub fn words(self) -> String {
        match self {
            Advice::CarryOn => say!("finish-the-work-2"),
            Advice::Watch { after_km } => say!(
                "watch-finish-the-work-and-look-into-the",
                km = words::km(after_km)
            ),
            Advice::TestFirst => say!("test-first-do-what-is-named-here-before"),
            Advice::OpenUp => say!("open-up-stop-and-strip-down-before-more"),
        }
    }
}

/// The advice, why, and what the technician made of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct AdviceGiven {
    /// What the rules advise: the gravest of those that fired.
    pub advised: Advice,
    /// The rules that fired, gravest first. Never empty.
    pub rules: Vec<RuleFired>,
    /// What to test or look at next, by name, in the order of doing; each once.
    #[serde(default)]
    pub tests: Vec<NextTest>,
    /// The technician's own decision with its reason, when there is one.
    pub overrule: Option<Overrule>,
    /// What stands: the technician's decision, else the advice.
    pub stands: Advice,
}

/// A rule that fired.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct RuleFired {
    /// Which one.
    pub rule: Rule,
    /// What it advises.
    pub advice: Advice,
    /// Why, in plain words.
    pub words: String,
    /// What made it fire, by the ids given in; none when it is the score.
    pub sources: Vec<String>,
    /// What it asks to be tested or looked at.
    #[serde(default)]
    pub tests: Vec<NextTest>,
}

/// The rules, by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// What the band alone advises.
    Band,
    /// Milky fluid.
    Milky,
    /// Foaming fluid.
    Foam,
    /// The interval reaches far above the score.
    Doubt,
    /// More debris for the distance than at earlier visits.
    Rising,
    /// No drive or noise, and debris that fits it.
    BreakingComplaint,
    /// Slipping, and lining or burnt fluid.
    SlippingLining,
    /// Little debris, and a part out of spec that explains a code.
    MendThePart,
    /// Little debris, and something still to be explained.
    NotExplainedYet,
    /// A symptom that neither the pan nor a part out of spec explains.
    Symptom,
    /// Shudder at steady speed, and nothing that speaks for the clutches.
    Converter,
    /// A large piece that nobody has named.
    Identify,
    /// Many flakes of yellow metal.
    YellowMetal,
    /// Swarf at a first opening.
    Swarf,
    /// A unit that runs in.
    RunningIn,
    /// Age and neglect explain most of it.
    Neglect,
    /// Sealant, gasket or rubber.
    Sealant,
    /// Grains of steel.
    Grains,
    /// The pieces that speak for opening up were not looked at yet.
    LookFirst,
}

/// Puts the rules that fired together with the technician's decision.
pub(crate) fn give(
    mut rules: Vec<RuleFired>,
    overrule: Option<&Overrule>,
    watch_km: f64,
) -> AdviceGiven {
    rules.sort_by_key(|fired| std::cmp::Reverse(fired.advice.choice()));
    let advised = rules
        .iter()
        .fold(Advice::CarryOn, |worst, fired| worst.graver(fired.advice));
    // What speaks for finishing the work is no reason to stop.
    let finishing =
        |fired: &RuleFired| matches!(fired.rule, Rule::MendThePart | Rule::NotExplainedYet);
    rules.retain(|fired| advised.choice() < AdviceChoice::TestFirst || !finishing(fired));
    let mut tests: Vec<NextTest> = rules.iter().flat_map(|fired| fired.tests.clone()).collect();
    tests.sort();
    tests.dedup();
    AdviceGiven {
        advised,
        rules,
        tests,
        overrule: overrule.cloned(),
        stands: overrule.map_or(advised, |overrule| decided(overrule, advised, watch_km)),
    }
}

fn decided(overrule: &Overrule, advised: Advice, watch_km: f64) -> Advice {
    match (overrule.chosen, overrule.after_km, advised) {
        (AdviceChoice::CarryOn, ..) => Advice::CarryOn,
        (AdviceChoice::TestFirst, ..) => Advice::TestFirst,
        (AdviceChoice::OpenUp, ..) => Advice::OpenUp,
        (AdviceChoice::Watch, Some(after_km), _) => Advice::Watch { after_km },
        (AdviceChoice::Watch, None, Advice::Watch { after_km }) => Advice::Watch { after_km },
        (AdviceChoice::Watch, None, _) => Advice::Watch { after_km: watch_km },
    }
}
