//! The cases of `cases.toml`, each with its reason.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops by panicking

mod common;

use std::collections::BTreeMap;

use common::{cover, observed, photo, piece};
use serde::Deserialize;
use swarfbook_job::census::{DebrisClass, PhotoKind};
use swarfbook_wear::{
    Assessment, Band, CodeSeen, Evidence, HazardTable, Observation, ReadingSeen, SymptomSeen,
    assess,
};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    case: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    name: String,
    why: String,
    km: Option<f64>,
    cover: Option<f64>,
    #[serde(default)]
    debris: Vec<Debris>,
    #[serde(default)]
    notes: Vec<String>,
    #[serde(default)]
    symptoms: Vec<String>,
    #[serde(default)]
    readings: Vec<String>,
    #[serde(default)]
    codes: Vec<String>,
    // What it must come to.
    is: Option<Vec<Band>>,
    advice: Option<String>,
    #[serde(default)]
    findings: Vec<String>,
    #[serde(default)]
    not_findings: Vec<String>,
    rule: Option<String>,
    not_rule: Option<String>,
    worse_than: Option<Worse>,
    more_than: Option<String>,
    same_as: Option<String>,
    #[serde(default)]
    same_as_clean: bool,
    limits: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Debris {
    n: usize,
    class: DebrisClass,
    mm: Option<f64>,
    #[serde(default = "on_patch")]
    on: PhotoKind,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Worse {
    case: String,
    bands: usize,
}

fn on_patch() -> PhotoKind {
    PhotoKind::Patch
}

fn word<T: serde::de::DeserializeOwned>(word: &str) -> T {
    serde_json::from_value(serde_json::Value::String(word.to_owned())).unwrap()
}

fn tag<T: serde::Serialize>(value: &T, key: &str) -> String {
    let value = serde_json::to_value(value).unwrap();
    value
        .get(key)
        .unwrap_or(&value)
        .as_str()
        .unwrap()
        .to_owned()
}

fn note(note: &str) -> Observation {
    let (what, value) = note.split_once(':').unwrap();
    match what {
        "fluid" => Observation::Fluid { look: word(value) },
        "smell" => Observation::Smell { smell: word(value) },
        "paste" => Observation::Paste { paste: word(value) },
        "filter" => Observation::Filter { found: word(value) },
        "chunk" => Observation::Chunk {
            part: word(value),
            named: String::new(),
        },
        _ => panic!("no observation {note}"),
    }
}

fn evidence(case: &Case) -> Evidence {
    let mut photos: BTreeMap<PhotoKind, _> =
        BTreeMap::from([(PhotoKind::Patch, photo("patch", PhotoKind::Patch))]);
    for debris in &case.debris {
        let on = photos
            .entry(debris.on)
            .or_insert_with(|| photo("other", debris.on));
        for _ in 0..debris.n {
            let mut piece = piece(debris.class, debris.mm.unwrap_or(1.0));
            piece.feret_max = piece.feret_max.filter(|_| debris.mm.is_some());
            on.particles.push(piece);
        }
    }
    if let Some(share) = case.cover {
        photos
            .entry(PhotoKind::Magnet)
            .or_insert_with(|| photo("magnet", PhotoKind::Magnet))
            .cover = Some(cover(share));
    }
    let pair = |text: &String| {
        let (a, b) = text.split_once(':').unwrap();
        (a.to_owned(), b.to_owned())
    };
    Evidence {
        photos: photos.into_values().collect(),
        observations: case
            .notes
            .iter()
            .map(|text| observed(text, note(text)))
            .collect(),
        km_since_clean: case.km,
        symptoms: case
            .symptoms
            .iter()
            .map(|text| SymptomSeen {
                id: text.clone(),
                symptom: word(text),
            })
            .collect(),
        readings: case
            .readings
            .iter()
            .map(pair)
            .map(|(component, verdict)| ReadingSeen {
                id: component.clone(),
                component,
                verdict: word(&verdict),
            })
            .collect(),
        codes: case
            .codes
            .iter()
            .map(pair)
            .map(|(code, explained)| CodeSeen {
                id: code.clone(),
                code,
                explained: word(&explained),
                by: None,
            })
            .collect(),
        ..Evidence::default()
    }
}

fn rank(band: Band) -> usize {
    Band::ALL.iter().position(|each| *each == band).unwrap()
}

/// What is wrong with a case, in words.
fn faults(case: &Case, got: &Assessment, all: &BTreeMap<&str, Assessment>) -> Vec<String> {
    let mut faults = Vec::new();
    let mut expect = |holds: bool, what: String| {
        if !holds {
            faults.push(what);
        }
    };
    if let Some(is) = &case.is {
        expect(
            is.contains(&got.band),
            format!("band {:?}, not {is:?}", got.band),
        );
    }
    if let Some(advice) = &case.advice {
        let given = tag(&got.advice.advised, "what");
        expect(&given == advice, format!("advice {given}, not {advice}"));
    }
    let found: Vec<String> = got
        .findings
        .iter()
        .map(|f| tag(&f.finding, "kind"))
        .collect();
    for finding in &case.findings {
        expect(found.contains(finding), format!("no finding {finding}"));
    }
    for finding in &case.not_findings {
        expect(!found.contains(finding), format!("a finding {finding}"));
    }
    let rules: Vec<String> = got.advice.rules.iter().map(|r| tag(&r.rule, "")).collect();
    if let Some(rule) = &case.rule {
        expect(
            rules.contains(rule),
            format!("rule {rule} did not fire: {rules:?}"),
        );
    }
    if let Some(rule) = &case.not_rule {
        expect(!rules.contains(rule), format!("rule {rule} fired"));
    }
    if let Some(worse) = &case.worse_than {
        let other = all[worse.case.as_str()].band;
        expect(
            rank(got.band) >= rank(other) + worse.bands,
            format!("band {:?}, {} has {other:?}", got.band, worse.case),
        );
    }
    if let Some(other) = &case.more_than {
        expect(
            got.score > all[other.as_str()].score,
            format!("not more than {other}"),
        );
    }
    if let Some(other) = &case.same_as {
        expect(
            got.score == all[other.as_str()].score,
            format!("not the score of {other}"),
        );
    }
    if case.same_as_clean {
        expect(got.score == 0.0, format!("score {}", got.score));
    }
    if let Some(limit) = &case.limits {
        expect(
            got.limits.iter().any(|each| each.contains(limit.as_str())),
            format!("no limit {limit}: {:?}", got.limits),
        );
    }
    faults
}

#[test]
fn cases_come_out_as_the_trade_reads_them() {
    let cases: Table = toml::from_str(include_str!("cases.toml")).unwrap();
    let table = HazardTable::built_in().unwrap();
    let all: BTreeMap<&str, Assessment> = cases
        .case
        .iter()
        .map(|case| (case.name.as_str(), assess(&evidence(case), &table).unwrap()))
        .collect();
    assert_eq!(all.len(), cases.case.len(), "two cases of one name");
    assert!(all.len() >= 40, "A to J and at least thirty more");
    let mut wrong = Vec::new();
    for case in &cases.case {
        let got = &all[case.name.as_str()];
        println!(
            "{:5.1} ({:4.1} to {:5.1})  {:8}  {:8}  {}",
            got.score,
            got.score_lo,
            got.score_hi,
            tag(&got.band, ""),
            tag(&got.advice.advised, "what"),
            case.name
        );
        assert!(!case.why.is_empty());
        for fault in faults(case, got, &all) {
            wrong.push(format!("{}: {fault}. {}", case.name, case.why));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// Nothing that the score can't know is promised, in any case.
#[test]
fn no_text_says_fixed() {
    let cases: Table = toml::from_str(include_str!("cases.toml")).unwrap();
    let table = HazardTable::built_in().unwrap();
    for case in &cases.case {
        let got = assess(&evidence(case), &table).unwrap();
        let text = serde_json::to_string(&got).unwrap().to_lowercase();
        for word in ["fixed", "repaired", "safe"] {
            assert!(!text.contains(word), "{}: {word}", case.name);
        }
    }
}
