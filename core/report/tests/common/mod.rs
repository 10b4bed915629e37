//! An invented job as a report's content. Nothing in it is of a real car, shop
//! or person.
#![allow(clippy::unwrap_used)] // its helpers are not #[test] functions

mod letter;
mod log;
mod pieces;

use chrono::{DateTime, FixedOffset};
use swarfbook_job::census::{DebrisClass, SizeClass};
use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::garwood::whole_interval;
use swarfbook_job::id::{DeviceId, EntryId, JobId, Sha256Hex};
use swarfbook_report::answer::{ComplaintNow, Situation, Why, advise, answer};
use swarfbook_report::content::{
    Answer, CarSaid, ClassPieces, CodeSaid, CodesSaid, ComplaintSaid, ComponentSaid, Content,
    DecisionSaid, Done, FORM, Fact, Fixed, FluidSaid, KindSaid, LogCount, LogHead, Made, NotDone,
    NotedAt, Outline, Pair, PairRow, PartOffSaid, PartReplaced, PartsOff, PhotoSaid, PieceCount,
    Plot, Raw, ReadingSaid, ReadingVerdict, ReasonSaid, Said, Shop, SizeBar, SizeMm, Source,
    Swatch, Untold, VisitRate, VisitSaid, WearSaid,
};
use swarfbook_report::words::Words;
use swarfbook_wear::Band;
use uuid::Uuid;

use log::{done, sources};
use pieces::{kinds, pair_row, photos, sizes};

#[allow(unused_imports)] // not every test shows them
pub use letter::close_ups;

/// Line `n` of the invented log.
pub fn line(n: u16) -> EntryId {
    EntryId(Uuid::from_u128(
        0x0190_0000_0000_7000_8000_0000_0000_0000 | u128::from(n),
    ))
}

fn fixed(n: f64) -> Fixed {
    Fixed::new(n).unwrap()
}

fn said(words: &str, from: &[u16]) -> Said {
    Said::new(words, from.iter().copied().map(line))
}

fn fact(label: &str, words: &str, from: &[u16]) -> Fact {
    Fact {
        label: label.into(),
        said: said(words, from),
    }
}

fn at(minute: i64) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-05-12T08:10:00+02:00").unwrap()
        + chrono::Duration::minutes(minute)
}

/// A content in which every field says something.
pub fn content() -> Content {
    let words = Words::of("en");
    let situation = Situation {
        stands: Some(AdviceChoice::Watch),
        look_again_km: Some(10_000.0),
        band: Some(Band::Active),
        finished: true,
        complaint_now: Some(ComplaintNow::Gone),
        ..Situation::default()
    };
    let why = Why {
        stands: vec![
            said("There is more debris than the distance explains.", &[8, 9]),
            said(
                "The part that the code names was out of spec, and a new one went in.",
                &[12, 16],
            ),
        ],
        ..Why::default()
    };
    let sentences = answer(&situation, "10,000 km", &words);
    let made = Made {
        at: at(260),
        job: JobId(Uuid::from_u128(7)),
        heads: [(
            DeviceId(Uuid::from_u128(3)),
            LogHead {
                seq: 61,
                hash: Sha256Hex::of(b"head"),
            },
        )]
        .into(),
        procedure: "Pan service with electrical test, version 1".into(),
        tool: "Swarfbook 0.1.0".into(),
    };
    let beside = vec![said(
        "Not confirmed yet: the technician has not confirmed the count of 1 photo.",
        &[9],
    )];
    Content {
        form: FORM,
        lang: "en".into(),
        invented: true,
        made: made.clone(),
        shop: Shop {
            name: "Hollow Lane Gearbox Works (invented)".into(),
            lines: vec!["1 Hollow Lane, Nowhere".into(), "Telephone 000 000".into()],
        },
        technicians: vec!["A. Sample".into()],
        customer: Some("M. Nobody".into()),
        car: CarSaid {
            description: "Estate car, six gears, invented".into(),
            plate: "NO WH 123".into(),
            vin: None,
            facts: vec![
                fact("Distance driven", "148,200 km", &[1]),
                fact("Oil last changed", "at 90,000 km, so 58,200 km ago", &[1]),
            ],
        },
        complaint: Some(ComplaintSaid {
            said: said(
                "It bangs into third when it is warm, and once it would not change up at all.",
                &[2],
            ),
            when: vec!["hot".into(), "shifting up".into()],
            symptoms: vec!["jolts or shifts late".into()],
        }),
        go_ahead: Some(said(
            "M. Nobody, by telephone, up to 400 EUR before we ask again.",
            &[4],
        )),
        letter: letter::letter(&made, &beside),
        answer: Answer {
            can_it_be_saved: Said::new(sentences.can_it_be_saved, [line(9), line(11)]),
            what_to_do: Said::new(sentences.what_to_do, [line(11)]),
            beside: beside.clone(),
        },
        deciding: Some(line(8)),
        photos: photos(),
        pairs: vec![Pair {
            before: line(8),
            after: line(25),
            said: said(
                "Before the magnet 21 pieces were counted, after it 14 pieces were counted.",
                &[8],
            ),
            rows: vec![
                pair_row("Under 2 mm", [16, 6, 8, 2]),
                pair_row("2 mm and more", [4, 1, 3, 0]),
                pair_row("Together", [20, 7, 11, 2]),
            ],
        }],
        sizes: sizes(),
        kinds: kinds(),
        unsized_pieces: 0,
        wear: Some(wear()),
        findings: vec![said(
            "Solenoid B (the valve that the code names) is out of spec. That explains code P0763.",
            &[3, 12],
        )],
        components: components(),
        codes: CodesSaid {
            before: Some(vec![CodeSaid {
                code: "P0763".into(),
                said: said("stored; gearbox, by the standard", &[3]),
            }]),
            after: Some(Vec::new()),
            explained: vec![said(
                "Solenoid B out of spec explains code P0763.",
                &[3, 12],
            )],
        },
        fluid: FluidSaid {
            facts: vec![
                fact("Came out", "5.2 l, at 41 °C", &[5]),
                fact("Look and smell", "dark, smells sharp, not milky", &[5]),
                fact(
                    "Went in",
                    "5.4 l of fluid by the maker's specification, batch 88-1",
                    &[20],
                ),
                fact(
                    "Level",
                    "A thin steady trickle at 38 °C; the maker's window is 35 to 45 °C. That is the right level.",
                    &[21],
                ),
            ],
            swatches: vec![
                Swatch {
                    label: "Yours:".into(),
                    rgb: [92, 48, 30],
                    said: said("dark brown (L 26, a 18, b 20)", &[6]),
                },
                Swatch {
                    label: "Fresh, to compare:".into(),
                    rgb: [190, 42, 48],
                    said: said("clear red", &[]),
                },
            ],
        },
        done: done(),
        replaced: vec![
            PartReplaced {
                what: said("Solenoid B", &[16]),
                number: "INV-2210".into(),
                batch: "2026-03".into(),
                kept_for_customer: true,
            },
            PartReplaced {
                what: said("Oil filter and its seal", &[17]),
                number: "INV-77".into(),
                batch: String::new(),
                kept_for_customer: false,
            },
        ],
        tightened: vec![
            fact(
                "Pan bolts",
                "9 N·m by the maker's data, all started by hand, crosswise in 2 passes",
                &[18],
            ),
            fact("Drain plug", "34 N·m, new washer", &[19]),
        ],
        proof: vec![
            fact("Leaks, warm", "dry", &[22]),
            fact("Road test", "The bang did not show in 14 km", &[23]),
            fact("Leaks, after", "dry", &[24]),
        ],
        parts_off: PartsOff {
            still_off: 0,
            items: vec![
                PartOffSaid {
                    said: said("14 pan bolts M6 x 20, all round the pan", &[7]),
                    count: 14,
                    off: 0,
                    remark: Some("One was spoilt; a new one went in.".into()),
                },
                PartOffSaid {
                    said: said("1 brace under the pan, 4 bolts M10 x 30", &[7]),
                    count: 5,
                    off: 0,
                    remark: None,
                },
            ],
        },
        decision: Some(DecisionSaid {
            advised: AdviceChoice::Watch,
            chosen: AdviceChoice::Watch,
            reason: None,
            said: said(
                "A. Sample decided to finish the work and look again, as the score advises.",
                &[11],
            ),
        }),
        advice: advise(&situation, "10,000 km", &why, &words),
        customer_answers: vec![fact(
            "Have the pan looked into again after 10,000 km.",
            "M. Nobody: agreed: In May, please",
            &[11],
        )],
        noted: vec![NotedAt {
            step: "Magnets as they sit".into(),
            said: vec![
                said("On the magnet: thin film.", &[13]),
                said("Note: the left one sat loose.", &[13]),
            ],
        }],
        begun: vec![NotDone {
            what: said("Electrical parts named", &[10]),
            reason: "begun, not marked as done".into(),
        }],
        log: LogCount {
            lines: 61,
            told: 25,
            taken_back: 3,
            untold: vec![Untold {
                what: "taps on the photo".into(),
                n: 33,
            }],
        },
        not_done: vec![
            NotDone {
                what: said("Filter cut open", &[15]),
                reason: "No cutter at hand; it was looked into with a lamp.".into(),
            },
            NotDone {
                what: said("Insulation to ground measured", &[14]),
                reason: "The maker gives no limit.".into(),
            },
        ],
        photo_limits: words.photo_limits(),
        cautions: words.cautions(),
        evidence: letter::evidence(),
        method: words.method(),
        sources: sources(),
        left_out: Vec::new(),
    }
}

fn wear() -> WearSaid {
    WearSaid {
        score: fixed(41.0),
        lo: fixed(29.0),
        hi: fixed(58.0),
        band: Band::Active,
        band_from: [0.0, 10.0, 30.0, 55.0, 85.0].map(fixed),
        reasons: vec![
            ReasonSaid {
                said: said("3 flakes of brass or bronze, 0.6 to 1.6 mm", &[8, 9]),
                percent: 46,
            },
            ReasonSaid {
                said: said("6 steel flakes, 0.4 to 1 mm", &[8, 9]),
                percent: 31,
            },
            ReasonSaid {
                said: said(
                    "Thin film on the magnet, a little more than the distance explains",
                    &[13],
                ),
                percent: 15,
            },
            ReasonSaid {
                said: said("The oil is dark", &[5]),
                percent: 8,
            },
        ],
        held_against: vec![said(
            "58,200 km since the pan was clean; 96 cm² of paper looked at.",
            &[1, 8],
        )],
        trend: vec![said(
            "Fewer pieces for the same distance than in March 2024.",
            &[1, 8],
        )],
        visits: vec![
            visit("4 Mar 2024", false, 30, 29_000, [10.3, 7.5, 14.0]),
            visit("12 May 2026", true, 21, 58_200, [3.6, 2.4, 5.2]),
        ],
        table: "hazard-1".into(),
    }
}

fn visit(label: &str, now: bool, pieces: u32, km: u32, [rate, lo, hi]: [f64; 3]) -> VisitSaid {
    VisitSaid {
        label: label.into(),
        now,
        rate: Some(VisitRate {
            per_10000_km: fixed(rate),
            lo: fixed(lo),
            hi: fixed(hi),
        }),
        said: said(
            &format!("{label}: {pieces} pieces in {km} km, so {rate} in 10,000 km."),
            &[8],
        ),
    }
}

fn reading(
    words: &str,
    verdict: ReadingVerdict,
    verdict_words: &str,
    value: Option<f64>,
    from: u16,
) -> ReadingSaid {
    ReadingSaid {
        said: said(words, &[from]),
        verdict,
        verdict_words: verdict_words.into(),
        rule: "Rule: at least 95 % likely (JCGM 106). With ± 0.6 ohm \
               (k = 2) that is 21.49 to 24.51 ohm: a guard band of 0.49 ohm inside each limit."
            .into(),
        plot: Some(Plot {
            low: Some(fixed(21.0)),
            high: Some(fixed(25.0)),
            value: value.map(fixed),
            expanded_u: Some(fixed(0.6)),
            unit: "ohm".into(),
        }),
        steps: vec![
            "samples 38.6, 38.7, 38.6 ohm; mean 38.63 ohm; leads 0.3 ohm off".into(),
            "copper from 22 °C to 20 °C: 38.03 ohm".into(),
        ],
    }
}

fn components() -> Vec<ComponentSaid> {
    let component = |name: &str, from: u16, readings, replaced| ComponentSaid {
        name: name.into(),
        kind: "on/off solenoid".into(),
        plain: "a small electric valve that lets oil through when a gear is changed".into(),
        spec: vec![said(
            "21 to 25 ohm at 20 °C (maker's manual, page 12)",
            &[from],
        )],
        readings,
        siblings: None,
        replaced,
        from: vec![line(10)],
    };
    let mut out = component(
        "Solenoid B",
        10,
        vec![
            reading(
                "38.0 ohm, ± 0.6.",
                ReadingVerdict::OutOfSpec,
                "Out of spec, certain.",
                Some(38.0),
                12,
            ),
            reading(
                "New part: 23.1 ohm, ± 0.6.",
                ReadingVerdict::InSpec,
                "In spec.",
                Some(23.1),
                16,
            ),
        ],
        true,
    );
    out.siblings = Some(said(
        "Solenoids A and C read 23 ohm; B differs from them.",
        &[12],
    ));
    vec![
        component(
            "Solenoid A",
            10,
            vec![reading(
                "23.2 ohm, ± 0.6.",
                ReadingVerdict::InSpec,
                "In spec.",
                Some(23.2),
                12,
            )],
            false,
        ),
        out,
        component(
            "Solenoid C",
            10,
            vec![reading(
                "24.8 ohm, ± 0.6.",
                ReadingVerdict::TooCloseToCall,
                "Too close to call.",
                Some(24.8),
                12,
            )],
            false,
        ),
        component(
            "Solenoid D",
            10,
            vec![reading(
                "Open, three times with the probe seated.",
                ReadingVerdict::OutOfSpec,
                "Out of spec.",
                None,
                12,
            )],
            false,
        ),
    ]
}
