//! What leaves the shop with a report: what the preview showed, and nothing that a
//! photo's file or a private note says.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use bay::{Bay, Standing};
use swarfbook_app::App;
use swarfbook_app::command::{CopyAsked, Sheet};
use swarfbook_job::fact::{Complaint, Fact, PhotoSubject};
use swarfbook_job::id::Sha256Hex;

const PHOTO: &[u8] = include_bytes!("../demo/pan-01.jpg");
/// What a phone writes beside a picture; invented.
const TOLD: [&[u8]; 3] = [
    b"GPSLatitude-INVENTED",
    b"XMP-INVENTED",
    b"COMMENT-INVENTED",
];
const PRIVATE: &str = "owner was rude, invented remark 7731";

/// The demo's picture with the segments that a phone adds.
fn as_from_a_phone() -> Vec<u8> {
    let segment = |marker: u8, head: &[u8], told: &[u8]| {
        let length = u16::try_from(2 + head.len() + told.len()).expect("short");
        [&[0xff, marker], &length.to_be_bytes()[..], head, told].concat()
    };
    // An empty EXIF directory is enough for a reader; what tells stands behind it.
    let exif = b"Exif\0\0MM\0*\0\0\0\x08\0\0\0\0\0\0";
    [
        &PHOTO[..2],
        &segment(0xe1, exif, TOLD[0]),
        &segment(0xe1, b"http://ns.adobe.com/xap/1.0/\0", TOLD[1]),
        &segment(0xfe, b"", TOLD[2]),
        &PHOTO[2..],
    ]
    .concat()
}

fn bay() -> (Bay, Sha256Hex) {
    let bay = Bay::with(|dir| App::open_with(dir, Box::new(Standing)).expect("opens"));
    let photo = bay.app.put_photo(&as_from_a_phone()).expect("kept");
    for fact in [
        Fact::ComplaintNoted {
            complaint: Complaint {
                words: "it shudders".into(),
                when: Vec::new(),
                symptoms: Vec::new(),
            },
        },
        Fact::PhotoTaken {
            step: "pan-photo".into(),
            photo,
            subject: PhotoSubject::Pan,
        },
        Fact::Noted {
            step: "pan-photo".into(),
            topic: None,
            text: PRIVATE.into(),
            private: true,
        },
    ] {
        bay.write(fact);
    }
    (bay, photo)
}

fn paper(bay: &Bay) -> lopdf::Document {
    let bytes = bay
        .app
        .report_pdf(bay.job, Sheet::A4, CopyAsked::default())
        .expect("a PDF");
    lopdf::Document::load_mem(&bytes).expect("reads")
}

/// Every JPEG in a page.
fn jpegs(html: &str) -> Vec<Vec<u8>> {
    let after = html.split("data:image/jpeg;base64,").skip(1);
    after
        .map(|rest| {
            let data = rest.split('"').next().expect("an end");
            STANDARD.decode(data).expect("base64")
        })
        .collect()
}

fn holds(bytes: &[u8], what: &[u8]) -> bool {
    bytes.windows(what.len()).any(|part| part == what)
}

#[test]
fn no_copy_says_where_or_by_what_it_was_taken() {
    let (bay, photo) = bay();
    let original = bay.app.store().photo(photo).expect("here");
    for told in TOLD {
        assert!(holds(&original, told), "the photo is kept as taken");
    }
    let shown = bay.app.photo(photo, Some(400)).expect("a copy");
    let mut copies = vec![shown];
    for html in [bay.preview(), bay.report()] {
        let found = jpegs(&html);
        // In the letter, and whole in the annex.
        assert_eq!(found.len(), 2);
        copies.extend(found);
    }
    let print = paper(&bay);
    let mut streams = 0;
    for object in print.objects.values() {
        let Ok(stream) = object.as_stream() else {
            continue;
        };
        streams += 1;
        copies.push(stream.content.clone());
        copies.extend(stream.decompressed_content());
    }
    assert!(streams > 10, "{streams}");
    for copy in copies {
        for told in TOLD.iter().chain(&[&b"Exif\0\0"[..]]) {
            assert!(!holds(&copy, told), "{}", String::from_utf8_lossy(told));
        }
    }
}

#[test]
fn a_private_note_is_nowhere() {
    let (bay, _) = bay();
    let mut print = paper(&bay);
    let pages: Vec<u32> = print.get_pages().into_keys().collect();
    let words = print.extract_text(&pages).expect("words");
    assert!(words.contains("shudders"), "it does say the rest");
    print.decompress();
    let mut unpacked = Vec::new();
    print.save_to(&mut unpacked).expect("written");
    let unpacked = String::from_utf8_lossy(&unpacked).into_owned();
    for text in [bay.preview(), bay.report(), words, unpacked] {
        for part in [PRIVATE, "rude", "7731"] {
            assert!(!text.contains(part), "{part}");
        }
    }
}

/// All but the seal and the rows that name the key, which a preview can't have.
fn without_key(html: &str) -> String {
    let from = html.find("<pre id=\"seal\"");
    let until = from.and_then(|at| html[at..].find("</pre>").map(|end| at + end + 6));
    let unsealed = match from.zip(until) {
        Some((from, until)) => format!("{}{}", &html[..from], &html[until..]),
        None => html.to_owned(),
    };
    unsealed
        .lines()
        .filter(|line| {
            let key = [
                "<dt>Signed with the key",
                "<dt>The whole key",
                "This file is sealed with the shop's key",
                "This is a preview. It is not signed.",
            ];
            !key.iter().any(|row| line.contains(row)) && !line.trim().is_empty()
        })
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn what_leaves_is_what_the_preview_showed() {
    let (bay, _) = bay();
    let shown = bay.preview();
    let left = bay.report();
    assert!(left.contains("<pre id=\"seal\"") && !shown.contains("<pre id=\"seal\""));
    assert_ne!(without_key(&left), left);
    assert_eq!(without_key(&shown), without_key(&left));
}

#[test]
fn a_copy_that_is_gone_or_damaged_is_made_again_the_same() {
    let (bay, photo) = bay();
    let first = bay.preview();
    let copies = bay.dir().join("copies");
    std::fs::remove_dir_all(&copies).expect("they were kept");
    assert_eq!(bay.preview(), first, "made anew from the photo");
    assert!(copies.is_dir(), "and kept again");
    let name = photo.to_string();
    let file = copies.join("report-2").join(&name[..2]).join(&name);
    let whole = std::fs::read(&file).expect("a copy");
    for broken in [&whole[..whole.len() / 2], b"", b"no picture"] {
        std::fs::write(&file, broken).expect("written");
        assert_eq!(bay.preview(), first);
        assert_eq!(std::fs::read(&file).expect("a copy"), whole, "mended");
    }
    // Neither the photo nor a copy: the report says that one is missing.
    std::fs::remove_dir_all(&copies).expect("removed");
    std::fs::remove_file(swarfbook_store::photo_path(bay.dir(), photo)).expect("removed");
    let without = bay.preview();
    let named = "Not in this file: the photo of the pan of 2 March 2026, 08:00 (UTC+1). \
                 This photo has not reached the device that made the report.";
    assert!(!first.contains("Not in this file"));
    assert!(without.contains(named), "{without}");
    // Nor is a damaged one passed over: it stays in its place, and the report says why.
    std::fs::write(swarfbook_store::photo_path(bay.dir(), photo), b"no picture").expect("written");
    let damaged = bay.preview();
    assert!(
        damaged.contains("This photo&#x27;s file is damaged")
            || damaged.contains("This photo's file is damaged")
            || damaged.contains("This photo&#39;s file is damaged"),
        "{damaged}"
    );
    assert!(damaged.contains("Not in this file: the photo of the pan of 2 March 2026"));
}
