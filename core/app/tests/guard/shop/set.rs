//! How a device is set: units, language, tools; and what things cost.

use swarfbook_job::fact::{CardChecked, Cost, CostOf, Fact, Money, ToolMark, Tools};
use swarfbook_measure::unit::Units;
use swarfbook_words::Language;

use super::Shop;
use crate::guard::typed;

impl Shop {
    /// To units of that number.
    pub(super) fn units(&mut self, at: u8) {
        let units = [Units::METRIC, Units::AMERICAN, Units::BRITISH];
        let units = units[usize::from(at) % units.len()];
        self.set(|settings| settings.units = units);
        self.look();
    }

    /// To another language.
    pub(super) fn language(&mut self, at: u8) {
        let language = Language::ALL[usize::from(at) % Language::ALL.len()];
        self.set(|settings| settings.language = Some(language));
        self.look();
    }

    /// To tools of those numbers; some without.
    pub(super) fn tools(&mut self, at: u8) {
        let day = (!at.is_multiple_of(3))
            .then(|| "2026-02-11".parse().ok())
            .flatten();
        let mark = |token: String| ToolMark {
            serial: if at.is_multiple_of(4) {
                String::new()
            } else {
                token
            },
            calibrated: day,
        };
        let tools = Tools {
            meters: [("Fine meter".to_owned(), mark(format!("NO {at}")))].into(),
            wrench: mark(format!("W-{at}")),
            clamp: mark(format!("C-{at}")),
            card: at.is_multiple_of(2).then_some(CardChecked {
                line_mm: 149.0 + f64::from(at % 20) / 10.0,
                day,
            }),
        };
        self.set(|settings| settings.tools = tools);
        self.look();
    }

    /// What something costs.
    pub(super) fn price(&mut self, of: u8, minor: Option<u16>, text: u8) {
        let all = [
            CostOf::Work,
            CostOf::StillOff,
            CostOf::Leak,
            CostOf::Parts,
            CostOf::Fault,
            CostOf::OpenUp,
            CostOf::TestFirst,
            CostOf::Watch,
            CostOf::CarryOn,
        ];
        let cost = Cost {
            of: all[usize::from(of) % all.len()],
            amount: minor.map(|minor| Money {
                minor: u32::from(minor),
                currency: "EUR".into(),
            }),
            text: typed::TEXTS[usize::from(text) % typed::TEXTS.len()].to_owned(),
        };
        self.write(Fact::CostGiven { cost });
    }
}
