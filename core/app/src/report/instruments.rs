//! What was measured with, each tool once, with its serial number and calibration.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use swarfbook_job::census::ScaleFrom;
use swarfbook_job::fact::{AmpsBy, Fact as Line, MeterUsed, ToolMark, Tools, TorqueTool};
use swarfbook_job::fold::Stamp;
use swarfbook_job::id::{DeviceId, EntryId};
use swarfbook_measure::meter::CLAMP;
use swarfbook_measure::torque::accuracy_percent;
use swarfbook_measure::unit::{Quantity, show_number};
use swarfbook_report::content::InstrumentSaid;
use swarfbook_report::words::Words;
use swarfbook_words::{fixed, id};

use super::figures::Figures;

/// The tools that the device which makes the report is set to now. The line that says so is
/// written with the report at the latest.
pub(crate) struct ToolsNow {
    pub device: DeviceId,
    /// Who has it in hand.
    pub name: String,
    pub tools: Tools,
}

/// One row: what it is, its name and accuracy, serial number, calibration.
type Row = (&'static str, String, String, String);

pub(super) fn instruments(
    figures: &Figures<'_>,
    words: &Words,
    now: &ToolsNow,
) -> Vec<InstrumentSaid> {
    let mut rows: BTreeMap<Row, Vec<EntryId>> = BTreeMap::new();
    let mut add = |row: Row, stamp: &Stamp| {
        let lines = rows.entry(row).or_default();
        lines.push(stamp.entry);
        lines.extend(stated_in(figures, stamp));
    };
    for line in figures.live() {
        let meter = match &line.fact {
            Some(Line::ReadingTaken { reading, .. }) => &reading.meter,
            Some(Line::HarnessRead { read, .. }) => &read.meter,
            _ => continue,
        };
        let mark = stated(figures, &line.stamp, now, |tools| {
            let mark = tools.meters.get(&meter.name)?;
            (!mark.is_empty()).then(|| mark.clone())
        });
        let (serial, day) = mark_words(mark, words);
        add(
            (
                id!("report-annex-meter"),
                meter_words(meter, words),
                serial,
                day,
            ),
            &line.stamp,
        );
        if is_by_clamp(line.fact.as_ref()) {
            let mark = stated(figures, &line.stamp, now, |tools| {
                (!tools.clamp.is_empty()).then(|| tools.clamp.clone())
            });
            let (serial, day) = mark_words(mark, words);
            let row = (id!("report-annex-clamp"), clamp_words(words), serial, day);
            add(row, &line.stamp);
        }
    }
    // To feel, there was no wrench.
    let by_wrench = figures.state.tightened.iter();
    for one in by_wrench.filter(|one| one.tightened.torque_nm.is_some()) {
        let mark = stated(figures, &one.stamp, now, |tools| {
            (!tools.wrench.is_empty()).then(|| tools.wrench.clone())
        });
        let (serial, day) = mark_words(mark, words);
        let accuracy = wrench_words(figures, one.tightened.tool, words);
        add(
            (id!("report-annex-wrench"), accuracy, serial, day),
            &one.stamp,
        );
    }
    for photo in &figures.state.photos {
        let scale = photo.census.as_ref().and_then(|c| c.scale.as_ref());
        if scale.is_none_or(|scale| scale.from != ScaleFrom::Card) {
            continue;
        }
        let checked = stated(figures, &photo.stamp, now, |tools| tools.card);
        let checked = checked.map_or_else(String::new, |card| {
            let line = format!("{} mm", fixed(card.line_mm, 1));
            let day = card.day.map(|day| words.day(day));
            let said: Vec<String> = [line].into_iter().chain(day).collect();
            said.join(", ")
        });
        let what = words.get(id!("report-annex-card-says")).to_owned();
        add(
            (id!("report-annex-card"), what, String::new(), checked),
            &photo.stamp,
        );
    }
    let row = |((what, said, serial, checked), from): (Row, Vec<EntryId>)| InstrumentSaid {
        what: words.get(what).to_owned(),
        said: figures.said(said, from),
        serial,
        checked,
    };
    let order = [
        id!("report-annex-meter"),
        id!("report-annex-clamp"),
        id!("report-annex-wrench"),
        id!("report-annex-card"),
    ];
    let mut rows: Vec<(Row, Vec<EntryId>)> = rows.into_iter().collect();
    rows.sort_by_key(|((what, ..), _)| order.iter().position(|one| one == what));
    rows.into_iter().map(row).collect()
}

/// What is known of a tool that a line was measured with: as it was stated before the line, else
/// later by the same person on the same device.
fn stated<T>(
    figures: &Figures<'_>,
    stamp: &Stamp,
    now: &ToolsNow,
    of: impl Fn(&Tools) -> Option<T>,
) -> Option<T> {
    let hand = &stamp.hand;
    let later = figures.state.hands.get(&stamp.device);
    let later = later.filter(|later| later.name == hand.name);
    let here = now.device == stamp.device && now.name == hand.name;
    of(&hand.tools)
        .or_else(|| of(&later?.tools))
        .or_else(|| of(here.then_some(&now.tools)?))
}

/// The lines that stated the tools of a line's hand.
fn stated_in(figures: &Figures<'_>, stamp: &Stamp) -> Vec<EntryId> {
    let of_device = figures.live().filter(|line| {
        line.stamp.device == stamp.device
            && matches!(&line.fact, Some(Line::MeasuredWith { tools }) if *tools == stamp.hand.tools)
    });
    let last = of_device
        .take_while(|line| line.stamp.wall <= stamp.wall)
        .last();
    last.map(|line| line.stamp.entry).into_iter().collect()
}

/// Serial number and day of calibration, each empty where it was not stated.
fn mark_words(mark: Option<ToolMark>, words: &Words) -> (String, String) {
    let mark = mark.unwrap_or_default();
    let day = |day: NaiveDate| words.day(day);
    let serial = mark.serial.trim().to_owned();
    (serial, mark.calibrated.map_or_else(String::new, day))
}

fn meter_words(meter: &MeterUsed, words: &Words) -> String {
    let (percent, counts) = (show_number(meter.percent), show_number(meter.counts));
    let values = [
        ("name", meter.name.as_str()),
        ("percent", &percent),
        ("counts", &counts),
    ];
    words.fill(id!("report-annex-meter-says"), &values)
}

/// The amperes of a reading with voltage on the part: the volts are the meter's own.
fn is_by_clamp(fact: Option<&Line>) -> bool {
    let Some(Line::ReadingTaken { reading, .. }) = fact else {
        return false;
    };
    let applied = reading.applied.as_ref();
    applied.is_some_and(|applied| applied.by == AmpsBy::Clamp)
}

/// Nobody is asked how exact a clamp is: the report says what it was taken to be.
fn clamp_words(words: &Words) -> String {
    let (percent, counts) = (show_number(CLAMP.percent), show_number(CLAMP.counts));
    let values = [("percent", percent.as_str()), ("counts", &counts)];
    words.fill(id!("report-annex-clamp-says"), &values)
}

fn wrench_words(figures: &Figures<'_>, tool: Option<TorqueTool>, words: &Words) -> String {
    let Some(tool) = tool else {
        return words.get(id!("report-annex-not-stated")).to_owned();
    };
    let percent = show_number(accuracy_percent(tool));
    match tool {
        TorqueTool::Scale { most_nm } => {
            let most = figures.loaded.units.show(most_nm, Quantity::Torque);
            let values = [("most", most.as_str()), ("percent", &percent)];
            words.fill(id!("report-annex-wrench-by-scale"), &values)
        }
        TorqueTool::Percent { .. } => words.fill(
            id!("report-annex-wrench-by-certificate"),
            &[("percent", &percent)],
        ),
    }
}
