//! What things cost, as the shop says it: in the letter, and beside each advised thing.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;
mod pages;

use bay::{Bay, bolts_off};
use swarfbook_app::command::Command;
use swarfbook_app::problem::ProblemKind;
use swarfbook_app::reply::Reply;
use swarfbook_app::view::CostView;
use swarfbook_job::fact::{Cost, CostOf, Fact, Money};

impl Bay {
    fn price(&self, of: CostOf, minor: Option<u32>, text: &str) {
        self.write(given(of, minor, "EUR", text));
    }

    fn costs(&self) -> Vec<CostView> {
        match self.call(Command::Costs { job: self.job }) {
            Reply::Costs { costs } => costs,
            other => panic!("{other:?}"),
        }
    }
}

/// A job with one thing to advise.
fn bolts_are_off() -> Bay {
    let bay = Bay::new();
    bay.write(bolts_off());
    bay
}

fn given(of: CostOf, minor: Option<u32>, currency: &str, text: &str) -> Fact {
    Fact::CostGiven {
        cost: Cost {
            of,
            amount: minor.map(|minor| Money {
                minor,
                currency: currency.into(),
            }),
            text: text.into(),
        },
    }
}

/// The words of the part of a page that is headed by this.
fn section(page: &str, head: &str) -> String {
    let page = pages::read(page);
    let mut all = page.descendants();
    let found = all.find(|node| node.attribute("aria-labelledby") == Some(head));
    let texts = found.expect("there").descendants();
    let texts = texts.filter(|node| node.is_text());
    let said: String = texts.filter_map(|node| node.text()).collect();
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn without_an_amount_the_letter_says_so_and_every_advised_thing_does() {
    let bay = bolts_are_off();
    let page = bay.preview();
    assert!(section(&page, "cost").contains("We have not entered a price here."));
    assert!(section(&page, "advice").contains("Price: not stated"));
}

#[test]
fn amounts_stand_in_the_letter_and_beside_what_they_are_for() {
    let bay = bolts_are_off();
    let asks: Vec<CostOf> = bay.costs().iter().map(|ask| ask.of).collect();
    assert_eq!(asks, [CostOf::Work, CostOf::StillOff]);
    bay.price(CostOf::Work, Some(38_600), "with tax");
    bay.price(CostOf::StillOff, Some(9_500), "");
    // Nothing advises to open the gearbox, so that its price is told nowhere.
    bay.price(CostOf::OpenUp, Some(100), "");
    let page = bay.preview();
    let letter = section(&page, "cost");
    assert!(
        letter.contains("The work of this visit: 386.00 EUR, with tax"),
        "{letter}"
    );
    assert!(letter.contains("95.00 EUR"), "{letter}");
    assert!(!letter.contains("1.00 EUR"), "{letter}");
    let advice = section(&page, "advice");
    assert!(advice.contains("Price: 95.00 EUR"), "{advice}");
    let kept = bay.costs();
    assert_eq!(kept[0].text, "with tax");
    assert_eq!(kept[1].amount.as_ref().map(|m| m.minor), Some(9_500));
    // The last one counts, and an amount can be taken back.
    bay.price(CostOf::StillOff, Some(9_000), "");
    bay.price(CostOf::Work, None, "");
    let letter = section(&bay.preview(), "cost");
    assert!(letter.contains("90.00 EUR"), "{letter}");
    assert!(!letter.contains("386.00"), "{letter}");
}

#[test]
fn a_currency_is_three_letters() {
    let bay = bolts_are_off();
    let wrong = given(CostOf::Work, Some(1), "euro", "");
    let why = bay.try_write(wrong, true).expect_err("no currency");
    assert_eq!(why.kind, ProblemKind::BadInput, "{why:?}");
}
