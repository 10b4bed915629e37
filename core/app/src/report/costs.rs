//! What it costs, where the shop said so: this visit's work, and each thing that is advised.

use swarfbook_job::fact::CostOf;
use swarfbook_judge::situation::Situation;
use swarfbook_report::answer::{Why, advise};
use swarfbook_report::content::{AdviceItem, Cost, Said};
use swarfbook_report::words::Words;
use swarfbook_words::id;

use super::answer::distance;
use super::figures::Figures;
use crate::present::costs::amount_words;
use crate::state::Loaded;
use crate::view::CostView;

/// The amounts for the letter; each advised thing gets its own, too.
pub(super) fn costs(figures: &Figures<'_>, words: &Words, advice: &mut [AdviceItem]) -> Vec<Cost> {
    let work = said(figures, CostOf::Work).map(|said| Cost {
        what: words.get(id!("report-letter-cost-work")).to_owned(),
        said,
        advice: None,
    });
    let advised = advice.iter_mut().enumerate().filter_map(|(at, item)| {
        item.price = said(figures, item.of);
        Some(Cost {
            what: item.what.clone(),
            said: item.price.clone()?,
            advice: Some(at),
        })
    });
    work.into_iter().chain(advised).collect()
}

fn said(figures: &Figures<'_>, of: CostOf) -> Option<Said> {
    let given = figures.state.costs.get(&of)?;
    let amount = amount_words(&given.cost)?;
    Some(figures.said(amount, [given.stamp.entry]))
}

/// What an amount can be given for as the job stands, with what was given.
pub(crate) fn asks(loaded: &Loaded, words: &Words) -> Vec<CostView> {
    let Loaded {
        state, procedure, ..
    } = loaded;
    let situation = Situation::of(state, procedure, loaded.judged());
    let distance = distance(&situation, loaded.units);
    let advised = advise(&situation, &distance, &Why::default(), words);
    let work = (
        CostOf::Work,
        words.get(id!("report-letter-cost-work")).to_owned(),
    );
    let all = [work]
        .into_iter()
        .chain(advised.into_iter().map(|item| (item.of, item.what)));
    all.map(|(of, what)| {
        let given = state.costs.get(&of).map(|given| &given.cost);
        CostView {
            of,
            what,
            amount: given.and_then(|cost| cost.amount.clone()),
            text: given.map_or_else(String::new, |cost| cost.text.clone()),
        }
    })
    .collect()
}
