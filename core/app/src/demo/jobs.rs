//! The three demo jobs.

use chrono::{DateTime, FixedOffset};
use swarfbook_job::census::PhotoHints;
use swarfbook_job::fact::*;

use super::script::Script;
use crate::problem::Problem;
use crate::state::App;

const PATCH_LITTLE: &[u8] = include_bytes!("../../demo/patch-10.jpg");
const PATCH_BEFORE: &[u8] = include_bytes!("../../demo/pair-1a.jpg");
const PATCH_AFTER: &[u8] = include_bytes!("../../demo/pair-1b.jpg");
const PAN_CLEAN: &[u8] = include_bytes!("../../demo/pan-01.jpg");
const PAN_LINING: &[u8] = include_bytes!("../../demo/pan-05.jpg");
const MAGNET_BARE: &[u8] = include_bytes!("../../demo/magnet-01.jpg");
const MAGNET_GRAINS: &[u8] = include_bytes!("../../demo/magnet-04.jpg");

fn intake(
    script: &mut Script<'_>,
    car: Car,
    customer: &str,
    complaint: (&str, &[&str], &str),
    codes: &[&str],
) -> Result<(), Problem> {
    script.write(Fact::CarNoted { car })?;
    script.customer(customer)?;
    script.tick("car")?;
    script.write(Fact::ComplaintNoted {
        complaint: Complaint {
            words: complaint.0.into(),
            when: complaint.1.iter().map(|w| (*w).to_owned()).collect(),
            symptoms: vec![complaint.2.to_owned()],
        },
    })?;
    script.tick("complaint")?;
    script.write(Fact::CodesRead {
        moment: Moment::Before,
        codes: codes
            .iter()
            .map(|code| CodeSeen {
                code: (*code).into(),
                state: CodeState::Stored,
                status: None,
            })
            .collect(),
    })?;
    script.tick("codes-before")?;
    script.write(Fact::GoAheadGiven {
        go_ahead: GoAhead {
            by: customer.into(),
            how: GoAheadHow::Phone,
            limit: Some(Money {
                minor: 35_000,
                currency: "EUR".into(),
            }),
        },
    })?;
    script.tick("go-ahead")
}

fn off(
    script: &mut Script<'_>,
    item: &str,
    place: &str,
    count: u32,
    length_mm: f64,
) -> Result<swarfbook_job::id::EntryId, Problem> {
    script.write(Fact::PartOff {
        part: PartOff {
            step: "covers-off".into(),
            item: item.into(),
            place: place.into(),
            count,
            size: "M8".into(),
            length_mm: Some(length_mm),
            photo: None,
            at_px: vec![],
        },
    })
}

fn drained(
    script: &mut Script<'_>,
    litres: f64,
    colour: &str,
    smell: &str,
    look: &str,
) -> Result<(), Problem> {
    script.tick("plugs-known")?;
    script.measure("drained", "fluid_out_l", litres)?;
    script.measure("drained", "fluid_out_c", 38.0)?;
    script.observe("drained", "fluid_colour", colour)?;
    script.observe("drained", "fluid_smell", smell)?;
    script.observe("drained", "fluid_look", look)?;
    script.tick("drained")
}

fn magnet_at(x: f64, y: f64, height_mm: f64) -> Option<PhotoHints> {
    Some(PhotoHints {
        subject_at: Some([x, y]),
        subject_height_mm: Some(height_mm),
        ..PhotoHints::default()
    })
}

fn drop_at(x: f64, y: f64) -> Option<PhotoHints> {
    Some(PhotoHints {
        fluid_at: Some([x, y]),
        ..PhotoHints::default()
    })
}

/// Done: a pan with little in it and one solenoid out of spec, which a code names.
pub(super) fn settled_solenoid(app: &App, at: DateTime<FixedOffset>) -> Result<(), Problem> {
    let mut s = Script::open(app, at)?;
    let car = Car {
        plate: "DEMO 101".into(),
        vin: None,
        description: "invented estate car".into(),
        odometer_km: Some(118_400.0),
        fluid_changed_at_km: Some(61_000.0),
        ..Car::default()
    };
    intake(
        &mut s,
        car,
        "Sam Invented",
        (
            "It bangs into second when it is warm, and yesterday a light came on.",
            &["hot", "up"],
            "harsh",
        ),
        &["P0758"],
    )?;
    s.tick("secured")?;
    s.tick("fill-plug")?;
    let brace = off(&mut s, "brace bolt", "cross brace, left and right", 4, 30.0)?;
    s.tick("covers-off")?;
    drained(&mut s, 4.7, "brown", "none", "clear")?;
    s.skip(
        "fluid-sample",
        "the patch is photographed with the residue below",
    )?;
    // The pan was rendered clean, but for drops of fluid that a machine may take for debris.
    let pan = s.photo("pan-photo", PhotoSubject::Pan, PAN_CLEAN, None)?;
    s.nothing_in(pan)?;
    s.tick("pan-photo")?;
    s.photo(
        "magnets",
        PhotoSubject::Magnet,
        MAGNET_BARE,
        magnet_at(1186.0, 1308.0, 5.5),
    )?;
    s.observe("magnets", "paste", "thin_film")?;
    s.tick("magnets")?;
    s.photo(
        "patch",
        PhotoSubject::Patch,
        PATCH_LITTLE,
        drop_at(458.0, 1197.0),
    )?;
    s.tick("patch")?;
    s.confirm_all()?;
    s.observe("census", "chunk", "no")?;
    s.follow_advice()?;
    s.tick("census")?;
    s.observe("filter-read", "filter", "clean")?;
    s.tick("filter-read")?;
    let a = s.component("Shift solenoid A", None)?;
    let b = s.component("Shift solenoid B", Some("P0758"))?;
    let c = s.component("Shift solenoid C", None)?;
    s.tick("components")?;
    s.read(a, ["13.1", "13.1", "13.0"])?;
    s.read(b, ["37.8", "37.9", "37.8"])?;
    s.read(c, ["12.9", "12.9", "13.0"])?;
    s.tick("resistance")?;
    s.skip("insulation", "no insulation limit in the data at hand")?;
    s.tick("explains")?;
    // What was to be tested first is tested.
    s.follow_advice()?;
    s.write(Fact::PartReplaced {
        step: "part-replaced".into(),
        replacement: Replacement {
            component: Some(b),
            what: "Shift solenoid B".into(),
            number: "DEMO-1".into(),
            batch: "invented".into(),
            kept_for_customer: true,
        },
    })?;
    s.tick("part-replaced")?;
    s.write(Fact::PartReplaced {
        step: "filter-replaced".into(),
        replacement: Replacement {
            component: None,
            what: "Filter with seal".into(),
            number: "DEMO-2".into(),
            batch: String::new(),
            kept_for_customer: false,
        },
    })?;
    s.tick("filter-replaced")?;
    s.tick("cleanliness")?;
    s.tick("pan-clean")?;
    s.tighten("pan-bolts", "pan bolts", 10.0, 3)?;
    s.tick("pan-bolts")?;
    s.tighten("drain-plug", "drain plug", 35.0, 1)?;
    s.tick("drain-plug")?;
    s.text("first-fill", "fluid_in_name", "Demo fluid (invented)")?;
    s.text(
        "first-fill",
        "fluid_in_spec",
        "Demo specification (invented)",
    )?;
    s.measure("first-fill", "fluid_in_l", 4.5)?;
    s.tick("first-fill")?;
    s.tick("gears")?;
    s.measure("level", "level_low_c", 35.0)?;
    s.measure("level", "level_high_c", 45.0)?;
    s.measure("level", "level_c", 40.0)?;
    s.observe("level", "level_seen", "trickle")?;
    s.measure("level", "fluid_in_l", 0.3)?;
    s.tick("level")?;
    s.write(Fact::PartBack {
        part: brace,
        count: 4,
        replacement: false,
    })?;
    s.tighten("plugs-closed", "level and fill plugs", 35.0, 1)?;
    s.tick("plugs-closed")?;
    s.observe("leak-warm", "leak", "dry")?;
    s.tick("leak-warm")?;
    s.tick("cleared")?;
    s.observe("road-test", "road_test", "gone")?;
    s.measure("road-test", "road_test_km", 12.0)?;
    s.tick("road-test")?;
    s.write(Fact::CodesRead {
        moment: Moment::After,
        codes: vec![],
    })?;
    s.observe("codes-after", "leak", "dry")?;
    s.tick("codes-after")?;
    s.measure("report", "next_look_km", 5_000.0)
}

/// At the decision point: steel on the patch and grains on the magnet.
pub(super) fn heavy_steel(app: &App, at: DateTime<FixedOffset>) -> Result<(), Problem> {
    let mut s = Script::open(app, at)?;
    let car = Car {
        plate: "DEMO 202".into(),
        vin: None,
        description: "invented van".into(),
        odometer_km: Some(203_900.0),
        fluid_changed_at_km: Some(198_000.0),
        ..Car::default()
    };
    intake(
        &mut s,
        car,
        "Kim Invented",
        (
            "It whines and takes a long time to pull away.",
            &["pulling_away", "always"],
            "noise",
        ),
        &["P0730"],
    )?;
    s.tick("secured")?;
    s.tick("fill-plug")?;
    off(&mut s, "tray bolt", "under-tray, front edge", 6, 20.0)?;
    s.tick("covers-off")?;
    drained(&mut s, 4.1, "black", "burnt", "glittering")?;
    s.skip(
        "fluid-sample",
        "the patch is photographed with the residue below",
    )?;
    s.photo("pan-photo", PhotoSubject::Pan, PAN_LINING, None)?;
    s.tick("pan-photo")?;
    s.photo(
        "magnets",
        PhotoSubject::Magnet,
        MAGNET_GRAINS,
        magnet_at(1118.0, 1273.0, 6.6),
    )?;
    s.observe("magnets", "paste", "thick_paste")?;
    s.tick("magnets")?;
    s.photo(
        "patch",
        PhotoSubject::Patch,
        PATCH_BEFORE,
        drop_at(481.0, 1120.0),
    )?;
    s.photo("patch", PhotoSubject::PatchAfterMagnet, PATCH_AFTER, None)?;
    s.tick("patch")
}

/// Just taken in: nothing is off yet.
pub(super) fn just_taken_in(app: &App, at: DateTime<FixedOffset>) -> Result<(), Problem> {
    let mut s = Script::open(app, at)?;
    let car = Car {
        plate: "DEMO 303".into(),
        vin: None,
        description: "invented small car".into(),
        odometer_km: Some(64_250.0),
        fluid_changed_at_km: None,
        ..Car::default()
    };
    intake(
        &mut s,
        car,
        "Alex Invented",
        (
            "Sometimes it does not want to go into reverse when cold.",
            &["cold", "reverse"],
            "no_drive",
        ),
        &[],
    )
}
