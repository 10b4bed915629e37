//! One fact of every kind, and entries with ids that a mix-up would show.

mod later;

use chrono::DateTime;
use swarfbook_job::census::{
    Calibration, CardFound, Census, Count, DebrisClass, FluidColour, MagnetCover, Particle,
    PhotoHints, PhotoKind, Scale, ScaleFrom, SizeClass, TapsOn,
};
use swarfbook_job::clock::Hlc;
use swarfbook_job::entry::{Entry, Sealed};
use swarfbook_job::fact::*;
use swarfbook_job::id::{CustomerId, DeviceId, EntryId, JobId, Sha256Hex};
use uuid::Uuid;

pub fn job() -> JobId {
    JobId(Uuid::from_u128(0x10b))
}

/// Line `seq` of a device, at that minute.
pub fn entry(device: u128, seq: u64, minute: u64, prev: Sha256Hex, fact: Fact) -> Entry {
    let millis = 1_772_434_800_000 + minute * 60_000;
    Entry {
        id: id(device, seq),
        job: job(),
        device: DeviceId(Uuid::from_u128(device)),
        seq,
        wall: DateTime::from_timestamp_millis(millis as i64)
            .expect("a time")
            .fixed_offset(),
        hlc: Hlc { millis, counter: 0 },
        prev,
        body: fact.into(),
    }
}

/// The id of line `seq` of a device. Devices start at different offsets.
pub fn id(device: u128, seq: u64) -> EntryId {
    EntryId(Uuid::from_u128(device * 10_000 + u128::from(seq)))
}

/// Chains facts of one device, one a minute from `from_minute`.
pub fn chain(device: u128, from_minute: u64, facts: Vec<Fact>) -> Vec<Sealed> {
    let mut prev = Sha256Hex::ZERO;
    let mut lines = Vec::new();
    for (index, fact) in facts.into_iter().enumerate() {
        let index = index as u64;
        let line = entry(device, index + 1, from_minute + index, prev, fact)
            .seal()
            .expect("seals");
        prev = line.hash;
        lines.push(line);
    }
    lines
}

fn census() -> Census {
    let particle = Particle {
        x_px: 100.5,
        y_px: 200.25,
        class: DebrisClass::SteelFlake,
        p: [
            (DebrisClass::SteelFlake, 0.8),
            (DebrisClass::LightMetal, 0.2),
        ]
        .into(),
        feret_max_mm: 0.82,
        feret_max_lo: 0.78,
        feret_max_hi: 0.86,
        feret_min_mm: 0.4,
        area_mm2: 0.25,
        iso16232: SizeClass::J,
        outline_px: vec![[95.0, 195.0], [106.0, 195.0], [106.0, 206.0]],
        real: Some(0.97),
    };
    Census {
        kind: PhotoKind::Patch,
        size_px: Some([3264, 2448]),
        problem: None,
        limits: vec!["glare in the upper corner".into()],
        card: Some(CardFound {
            corners_px: [[1.0, 1.0], [900.0, 1.0], [900.0, 600.0], [1.0, 600.0]],
        }),
        scale: Some(Scale {
            px_per_mm: 20.7,
            u_rel: 0.004,
            from: ScaleFrom::Card,
        }),
        smallest_mm: Some(0.31),
        searched_cm2: Some(80.0),
        particles: vec![particle],
        counts: [(
            DebrisClass::SteelFlake,
            Count {
                n: 1,
                lo: 0.05,
                hi: 4.74,
            },
        )]
        .into(),
        magnet: Some(MagnetCover {
            cover: 0.5,
            cover_lo: 0.45,
            cover_hi: 0.55,
        }),
        fluid: Some(FluidColour {
            lab: [42.0, 9.0, 18.5],
            u_de: 1.5,
        }),
        unusual: Some(0.42),
        doubt: Some(0.03),
        lens: None,
        calibration: Some(Calibration {
            temperature: 1.25,
            bias: [(DebrisClass::SteelFlake, 0.1), (DebrisClass::Lining, -0.2)].into(),
            pieces: 412,
        }),
    }
}

/// One fact of every kind, in an order in which they refer to what is there.
/// `device` is the one that writes them from its first line on.
pub fn every_fact(device: u128) -> Vec<Fact> {
    let step = |s: &str| s.to_owned();
    let photo = id(device, 10);
    let part = id(device, 16);
    let component = id(device, 19);
    let mut facts = vec![
        Fact::Opened {
            procedure: "pan-service-electrical".into(),
            procedure_version: 1,
        },
        Fact::WrittenBy {
            name: "Invented Technician".into(),
        },
        Fact::CarNoted {
            car: Car {
                plate: "TEST 1".into(),
                vin: None,
                description: "invented".into(),
                odometer_km: Some(90_000.0),
                fluid_changed_at_km: Some(60_000.0),
                gearbox: GearboxHistory {
                    unit: Some(GearboxUnit::Rebuilt),
                    unit_at_km: Some(50_000.0),
                    first_service: Some(FirstService::No),
                    pan_wiped: Some(PanWiped::Yes),
                },
            },
        },
        Fact::CustomerLinked {
            customer: CustomerId(Uuid::from_u128(5)),
        },
        Fact::ComplaintNoted {
            complaint: Complaint {
                words: "slips when hot".into(),
                when: vec!["hot".into()],
                symptoms: vec!["slips".into()],
            },
        },
        Fact::CodesRead {
            moment: Moment::Before,
            codes: vec![CodeSeen {
                code: "P0753".into(),
                state: CodeState::Stored,
                status: Some(0x2F),
            }],
        },
        Fact::GoAheadGiven {
            go_ahead: GoAhead {
                by: "the customer".into(),
                how: GoAheadHow::Phone,
                limit: Some(Money {
                    minor: 25_000,
                    currency: "EUR".into(),
                }),
            },
        },
        Fact::StepTicked { step: step("car") },
        Fact::StepSkipped {
            step: step("fluid-sample"),
            reason: "no paper left".into(),
        },
        Fact::PhotoTaken {
            step: step("patch"),
            photo: Sha256Hex::of(b"photo"),
            subject: PhotoSubject::Patch,
        },
        Fact::PhotoHinted {
            photo,
            hints: PhotoHints {
                kind: Some(PhotoKind::Patch),
                fluid_at: Some([10.0, 20.0]),
                taps: Some([[1.0, 2.0], [300.0, 4.0]]),
                tap_mm: Some(14.0),
                taps_on: Some(TapsOn::Ground),
                ..PhotoHints::default()
            },
        },
        Fact::CensusMade {
            photo,
            census: census(),
        },
        Fact::ParticleCorrected {
            photo,
            at_px: [101.0, 200.0],
            to: Correction::Debris {
                class: DebrisClass::Grit,
            },
        },
        Fact::ParticleCorrected {
            photo,
            at_px: [101.0, 200.0],
            to: Correction::NotDebris,
        },
        Fact::CensusConfirmed { photo },
        Fact::PartOff {
            part: PartOff {
                step: step("covers-off"),
                item: "bolt".into(),
                place: "brace, left".into(),
                count: 4,
                size: "M8".into(),
                length_mm: Some(25.0),
                photo: Some(photo),
                at_px: vec![[5.0, 6.0]],
            },
        },
        Fact::PartBack {
            part,
            count: 3,
            replacement: false,
        },
        Fact::PartLost {
            part,
            count: 1,
            text: "thread gone".into(),
        },
        Fact::ComponentNoted {
            component: Component {
                name: "Solenoid B".into(),
                kind: ComponentKind::OnOffSolenoid,
                connector: "green".into(),
                part_number: "N-1".into(),
                codes: vec!["P0753".into()],
                grounded_by_case: true,
            },
        },
        Fact::SpecEntered {
            component,
            spec: SpecEntered {
                quantity: ReadingKind::Resistance,
                low: Some(11.0),
                high: Some(15.0),
                at_c: Some(20.0),
                source: "maker's manual (invented)".into(),
                sensor: Some(SensorData::Table {
                    rows: vec![SensorRow {
                        celsius: 20.0,
                        low_ohms: 2441.0,
                        high_ohms: 2894.0,
                    }],
                }),
            },
        },
        Fact::ReadingTaken {
            component,
            reading: Reading {
                quantity: ReadingKind::Resistance,
                samples: vec!["37.8".into(), "OL".into()],
                leads: Some("0.3".into()),
                part_c: Some(22.0),
                meter: MeterUsed {
                    name: "Workshop meter".into(),
                    percent: 0.9,
                    counts: 2.0,
                },
                contact_shown: true,
                part_within_k: Some(1.0),
                part_from: Some(TemperatureFrom::ProbeAtPart),
                test_volts: Some(50.0),
                sibling: Some(component),
                range_top: Some("40M".into()),
                guard: Some(0.9),
                applied: None,
                display: None,
            },
        },
        Fact::Observed {
            observed: Observed {
                step: step("drained"),
                topic: "fluid_look".into(),
                choice: "dark".into(),
                also: vec!["foamy".into()],
                text: "nearly black".into(),
            },
        },
        Fact::Measured {
            measured: Measured {
                step: step("drained"),
                topic: "fluid_out_l".into(),
                value: 4.6,
                typed: "4.6".into(),
            },
        },
        Fact::Noted {
            step: step("drained"),
            topic: None,
            text: "hot".into(),
            private: true,
        },
        Fact::PartReplaced {
            step: step("part-replaced"),
            replacement: Replacement {
                component: Some(component),
                what: "solenoid B".into(),
                number: "N-2".into(),
                batch: "7".into(),
                kept_for_customer: true,
            },
        },
        Fact::Tightened {
            step: step("pan-bolts"),
            tightened: Tightened {
                what: "pan bolts".into(),
                torque_nm: Some(10.0),
                by_hand_first: true,
                passes: 3,
                bolts: Some(12),
                last_round: Some(true),
                adapter: Some(AdapterUsed {
                    lever_mm: 250.0,
                    adapter_mm: 40.0,
                    angle_deg: 45.0,
                }),
                tool: Some(TorqueTool::Scale { most_nm: 10.0 }),
                angle_deg: Some(90.0),
                typed: Some("10".into()),
            },
        },
        Fact::Decided {
            advised: AdviceChoice::Watch,
            chosen: AdviceChoice::CarryOn,
            reason: Some("known since the last visit".into()),
        },
        Fact::ReportMade {
            sha256: Sha256Hex::of(b"report"),
            head: Sha256Hex::of(b"head"),
            form: Some(ReportForm::Page),
        },
        Fact::StepTicked {
            step: step("waste"),
        },
        Fact::ReportShared {
            share: Share {
                link: Sha256Hex::of(b"link"),
                code: Some(Sha256Hex::of(b"link123456")),
                report: Sha256Hex::of(b"report"),
                asked: Asked {
                    lang: "en".into(),
                    shop: "an invented shop".into(),
                    car: "TEST 1".into(),
                    short: vec!["Yes.".into(), "Drive on.".into()],
                    items: vec!["New fluid after 1,000 km".into()],
                    invented: true,
                },
                expires: DateTime::parse_from_rfc3339("2026-04-01T08:00:00+02:00").expect("a time"),
                leave_out: LeaveOut {
                    customer: true,
                    car: false,
                    keep_texts: true,
                },
            },
        },
        Fact::CustomerAnswered {
            answer: CustomerAnswer {
                share: id(device, 30),
                item: "New fluid after 1,000 km".into(),
                choice: AnswerChoice::Ask,
                text: "Can it wait?".into(),
                by: CustomerId(Uuid::from_u128(12)),
            },
        },
        Fact::Retracted {
            entry: id(device, 29),
            reason: Some("wrong step".into()),
        },
        Fact::StepSettled {
            step: step("complaint"),
            by: id(device, 2),
        },
        Fact::ReportWithdrawn {
            report: id(device, 28),
            reason: "a reading was of another part".into(),
        },
        Fact::PhotoTaken {
            step: step("patch"),
            photo: Sha256Hex::of(b"second"),
            subject: PhotoSubject::Patch,
        },
        Fact::PhotoLinked {
            photo: id(device, 35),
            to: photo,
            link: PhotoLink::SamePatch,
        },
        Fact::ParticleCorrected {
            photo: id(device, 35),
            at_px: [300.0, 400.0],
            to: Correction::Parted {
                along_px: [[300.0, 380.0], [301.0, 420.0]],
            },
        },
        Fact::ParticleCorrected {
            photo: id(device, 35),
            at_px: [300.0, 400.0],
            to: Correction::Joined {
                with_px: [330.0, 400.0],
            },
        },
        Fact::WrittenIn {
            units: [("distance".to_owned(), "mile".to_owned())].into(),
        },
        Fact::HarnessRead {
            component,
            read: HarnessRead {
                pins: ["14".into(), "15".into()],
                control: SideRead {
                    across: Some("13.2".into()),
                    to_ground: [Some("OL".into()), Some("OL".into())],
                },
                part: SideRead {
                    across: Some("12.8".into()),
                    to_ground: [Some("OL".into()), None],
                },
                wires: [Some("0.2".into()), None],
                leads: Some("0.3".into()),
                meter: MeterUsed {
                    name: "Workshop meter".into(),
                    percent: 0.9,
                    counts: 2.0,
                },
            },
        },
        Fact::ReadingTaken {
            component,
            reading: Reading {
                quantity: ReadingKind::Applied,
                samples: vec!["0.91".into()],
                leads: None,
                part_c: None,
                meter: MeterUsed {
                    name: "Workshop meter".into(),
                    percent: 0.9,
                    counts: 2.0,
                },
                contact_shown: true,
                part_within_k: None,
                part_from: None,
                test_volts: None,
                sibling: None,
                range_top: None,
                guard: None,
                applied: Some(Applied {
                    volts: "12.4".into(),
                    by: AmpsBy::Clamp,
                    click: Some(true),
                }),
                display: None,
            },
        },
    ];
    facts.extend(later::facts(id(device, 35), component));
    facts
}
