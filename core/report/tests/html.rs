//! The report as a reader's program sees it: read back by an HTML parser.
#![allow(clippy::unwrap_used)] // helpers are not #[test] functions

mod common;
#[path = "common/photos.rs"]
mod photos;

use std::collections::BTreeSet;

use scraper::{ElementRef, Html, Selector};
use swarfbook_job::id::Sha256Hex;
use swarfbook_report::content::{Content, PHOTO_BUDGET_BYTES, Photos, Said};
use swarfbook_report::{ReportError, render};

fn select<'a>(page: &'a Html, what: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(what).unwrap()).collect()
}

fn text(element: ElementRef) -> String {
    element.text().collect::<Vec<_>>().join("")
}

fn jpeg(shade: u8) -> Vec<u8> {
    photos::encoded(&image::RgbImage::from_pixel(64, 48, image::Rgb([shade; 3])))
}

fn with_photos() -> (Content, Photos) {
    photos::with_photos(common::content(), jpeg)
}

fn page() -> String {
    let (content, photos) = with_photos();
    render(&content, &photos).unwrap()
}

#[test]
fn the_same_content_gives_the_same_bytes() {
    assert_eq!(page(), page());
    let content = common::content();
    let text = content.canonical().unwrap();
    let again: Content = serde_json::from_str(&text).unwrap();
    assert_eq!(again, content);
    assert_eq!(again.canonical().unwrap(), text);
    assert_eq!(
        render(&again, &Photos::new()).unwrap(),
        render(&content, &Photos::new()).unwrap()
    );
}

/// What a part is may be told as a phrase or as whole sentences.
#[test]
fn a_part_told_in_sentences_ends_with_one_full_stop() {
    let mut content = common::content();
    for component in &mut content.components {
        component.plain = "A small valve. It lets oil through.".into();
    }
    let page = Html::parse_document(&render(&content, &Photos::new()).unwrap());
    let told = text(select(&page, ".component p")[0]);
    assert_eq!(
        told.trim(),
        "on/off solenoid: A small valve. It lets oil through."
    );
}

#[test]
fn any_change_of_meaning_changes_the_fingerprint() {
    let content = common::content();
    let mut other = content.clone();
    other.tightened[0].said.words.push('0');
    assert_ne!(content.fingerprint().unwrap(), other.fingerprint().unwrap());
}

#[test]
fn it_is_well_formed_and_needs_nothing_from_outside() {
    let html = page();
    let parsed = Html::parse_document(&html);
    assert!(parsed.errors.is_empty(), "{:?}", parsed.errors);
    assert!(select(&parsed, "script, link, iframe, object, embed, base, form").is_empty());
    let csp = select(&parsed, "meta[http-equiv='Content-Security-Policy']");
    assert_eq!(
        csp[0].attr("content"),
        Some("default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'")
    );
    assert_eq!(select(&parsed, "html")[0].attr("lang"), Some("en"));
    for element in select(&parsed, "*") {
        for (name, value) in element.value().attrs() {
            assert!(!name.starts_with("on"), "{name}");
            match name {
                "src" => assert!(value.starts_with("data:image/jpeg;base64,")),
                "href" => assert!(value.starts_with('#'), "{value}"),
                // A name, not an address that is loaded.
                "xmlns" => assert_eq!(value, "http://www.w3.org/2000/svg"),
                _ => assert!(!value.contains("://"), "{name}={value}"),
            }
        }
    }
    let style = text(select(&parsed, "style")[0]);
    assert!(!style.contains("@import"));
    // Nothing but the faces, which travel in the page.
    let faces = style.matches("url(data:font/woff2;base64,").count();
    assert_eq!((style.matches("url(").count(), faces), (4, 4));
}

#[test]
fn headings_are_in_order_and_the_answer_comes_first() {
    let parsed = Html::parse_document(&page());
    let mut last = 0;
    for heading in select(&parsed, "h1, h2, h3, h4, h5, h6") {
        let level: u32 = heading.value().name()[1..].parse().unwrap();
        assert!(level <= last + 1, "{}", text(heading));
        assert!(!text(heading).trim().is_empty());
        last = level;
    }
    assert_eq!(select(&parsed, "h1").len(), 1);
    let sections: Vec<String> = select(&parsed, "main > section > h2")
        .into_iter()
        .map(text)
        .collect();
    assert_eq!(
        sections,
        [
            "Was it mended?",
            "What we found",
            "What we did",
            "What to do next",
            "If you leave it",
            "What it costs",
            "The picture that decides",
            "What we measured",
            "What we did not look at",
            "Please heed",
            "Signed",
            "Your answer",
            "Annex",
            "How we know",
            "What we found",
            "How worn is it?",
            "Electrical tests",
            "The gearbox oil",
            "What you told us",
            "What we did",
            "What we advise",
            "What we did not do or look at",
            "What an expert asks",
            "Where each figure comes from"
        ]
    );
    assert_eq!(
        select(&parsed, "main > section:nth-child(-n+4) .answer").len(),
        3,
        "mended, found and to do next stand out"
    );
}

#[test]
fn who_cannot_see_is_told_the_same() {
    let parsed = Html::parse_document(&page());
    // The one that decides stands on the first page too.
    assert_eq!(select(&parsed, "img").len(), 5);
    for image in select(&parsed, "img") {
        assert!(image.attr("alt").is_some_and(|alt| alt.len() > 10));
    }
    for svg in select(&parsed, "svg") {
        if svg.attr("aria-hidden") == Some("true") {
            continue;
        }
        assert_eq!(svg.attr("role"), Some("img"));
        for id in svg.attr("aria-labelledby").unwrap().split(' ') {
            let label = select(&parsed, &format!("[id='{id}']"));
            assert!(!text(label[0]).trim().is_empty(), "{id}");
        }
    }
    for table in select(&parsed, "table") {
        let head = Selector::parse("thead th").unwrap();
        assert!(
            table
                .select(&head)
                .all(|th| th.attr("scope") == Some("col"))
        );
        let row = Selector::parse("tbody tr").unwrap();
        let first = Selector::parse("th[scope=row]").unwrap();
        assert!(table.select(&row).all(|tr| tr.select(&first).count() == 1));
    }
}

#[test]
fn every_reference_leads_to_its_line_and_ids_are_single() {
    let (content, photos) = with_photos();
    let parsed = Html::parse_document(&render(&content, &photos).unwrap());
    let ids: Vec<&str> = select(&parsed, "[id]")
        .iter()
        .filter_map(|e| e.attr("id"))
        .collect();
    let single: BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(ids.len(), single.len(), "an id stands twice");
    let references = select(&parsed, "a.ref");
    assert!(references.len() > 40, "{}", references.len());
    for reference in references {
        let target = reference.attr("href").unwrap().trim_start_matches('#');
        assert!(single.contains(target), "{target}");
        let n = text(reference);
        let line = text(select(&parsed, &format!("[id='{target}']"))[0]);
        assert!(
            line.starts_with(n.trim_matches(['\u{2060}', '[', ']'])),
            "{n}: {line}"
        );
    }
    // The appendix names person, time and raw values of each line.
    let rows = select(&parsed, ".sources li");
    assert_eq!(rows.len(), content.sources.len());
    for (row, source) in rows.iter().zip(content.sources.values()) {
        let row = text(*row);
        assert!(
            row.contains(&source.by) && row.contains("May 2026"),
            "{row}"
        );
        assert!(source.raw.iter().all(|raw| row.contains(&raw.value)));
    }
}

#[test]
fn invented_and_rendered_are_said() {
    let (mut content, photos) = with_photos();
    let said = "are invented";
    let drawn = "Drawn by a computer, not a photo of a real pan.";
    let html = render(&content, &photos).unwrap();
    assert!(html.contains(said) && !html.contains(drawn));
    content.invented = false;
    content.photos[0].rendered = true;
    let html = render(&content, &photos).unwrap();
    assert!(!html.contains(said) && html.contains(drawn));
}

#[test]
fn a_figure_without_a_source_is_refused() {
    let mut content = common::content();
    let nowhere = common::line(999);
    content.proof[0].said = Said::new("dry", [nowhere]);
    let refused = render(&content, &Photos::new());
    assert!(matches!(refused, Err(ReportError::NoSource { entry }) if entry == nowhere));
}

#[test]
fn a_photo_that_is_missing_changed_or_tells_too_much_is_refused() {
    let (content, photos) = with_photos();
    assert!(matches!(
        render(&content, &Photos::new()),
        Err(ReportError::PhotoMissing { .. })
    ));
    let mut changed = photos.clone();
    changed.values_mut().next().unwrap().push(0);
    assert!(matches!(
        render(&content, &changed),
        Err(ReportError::PhotoChanged { .. })
    ));
    // APP1 with an EXIF header behind the start of image (EXIF 2.3, 4.5.4; from memory).
    let mut exif = jpeg(99);
    exif.splice(2..2, *b"\xff\xe1\x00\x0aExif\0\0MM");
    assert!(matches!(
        try_with(exif),
        Err(ReportError::PhotoTells { .. })
    ));
    assert!(matches!(
        try_with(b"GIF89a".to_vec()),
        Err(ReportError::NotJpeg { .. })
    ));
    assert!(matches!(
        try_with(jpeg(5)[..30].to_vec()),
        Err(ReportError::NotJpeg { .. })
    ));
    assert!(try_with(jpeg(5)).is_ok());
}

fn try_with(bytes: Vec<u8>) -> Result<String, ReportError> {
    let mut content = common::content();
    let copy = Sha256Hex::of(&bytes);
    content.photos[0].copy = Some(copy);
    render(&content, &Photos::from([(copy, bytes)]))
}

#[test]
fn an_empty_job_still_says_what_it_is_and_what_is_missing() {
    let full = common::content();
    let content = Content {
        complaint: None,
        go_ahead: None,
        deciding: None,
        customer: None,
        technicians: Vec::new(),
        car: Default::default(),
        photos: Vec::new(),
        sizes: Vec::new(),
        kinds: Vec::new(),
        noted: Vec::new(),
        begun: Vec::new(),
        customer_answers: Vec::new(),
        wear: None,
        findings: Vec::new(),
        components: Vec::new(),
        codes: Default::default(),
        fluid: Default::default(),
        done: Vec::new(),
        replaced: Vec::new(),
        tightened: Vec::new(),
        proof: Vec::new(),
        parts_off: Default::default(),
        decision: None,
        advice: Vec::new(),
        not_done: Vec::new(),
        ..full
    };
    let html = render(&content, &Photos::new()).unwrap();
    for missing in [
        "No photos were taken",
        "There is no score",
        "No electrical part was entered",
        "No reading of codes was entered.",
        "No work was entered yet",
    ] {
        assert!(html.contains(missing), "{missing}");
    }
}

#[test]
fn parts_that_are_still_off_are_not_hidden() {
    let mut content = common::content();
    content.parts_off.still_off = 2;
    content.parts_off.items[0].off = 2;
    content.letter.done.truncate(2);
    let html = render(&content, &Photos::new()).unwrap();
    assert!(html.contains("No. Still off the car: 2."));
    assert!(html.contains("2 of 14 still off"));
    assert!(!html.contains("All that we took off is back"));
}

#[test]
fn twelve_photos_of_1200_px_fit_in_three_megabytes() {
    let mut content = common::content();
    let mut photos = Photos::new();
    let model = content.photos[0].clone();
    content.photos = (0..12)
        .map(|n| {
            let mut bytes = jpeg(n);
            bytes.resize(PHOTO_BUDGET_BYTES, 0);
            let copy = Sha256Hex::of(&bytes);
            photos.insert(copy, bytes);
            let mut photo = model.clone();
            photo.copy = Some(copy);
            // 200 pieces a photo.
            photo.outlines = photo.outlines.iter().cycle().take(200).cloned().collect();
            photo
        })
        .collect();
    let html = render(&content, &photos).unwrap();
    assert!(html.len() <= 3_000_000, "{}", html.len());
}

#[test]
fn a_german_report_is_set_out_in_german() {
    let (mut content, photos) = with_photos();
    content.lang = "de".into();
    let html = render(&content, &photos).unwrap();
    let parsed = Html::parse_document(&html);
    assert_eq!(select(&parsed, "html")[0].attr("lang"), Some("de"));
    assert!(text(select(&parsed, "h1")[0]).contains("Zustandsbericht"));
    let all = text(select(&parsed, "body")[0]);
    assert!(
        all.contains("12. Mai 2026, "),
        "dates as German writes them"
    );
    let figures: Vec<&str> = all.split_whitespace().collect();
    let comma = |word: &&&str| {
        word.split_once(',')
            .is_some_and(|(a, b)| digits(a) && digits(b))
    };
    assert!(figures.iter().filter(comma).count() > 3, "decimal commas");
    // What the words of this language say stands nowhere in English.
    for english in [
        "Condition report",
        "What we found",
        "Likely",
        "in spec",
        "What we advise",
    ] {
        assert!(!all.contains(english), "{english}");
    }
}

fn digits(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|c| c.is_ascii_digit())
}

#[test]
fn no_line_ends_between_a_number_and_its_unit() {
    let mut content = common::content();
    content.findings[0].words = "read 37.05 ± 0.81 ohm, 30 % of it".into();
    let page = Html::parse_document(&render(&content, &Photos::new()).unwrap());
    let tied: Vec<String> = select(&page, ".findings .u")
        .into_iter()
        .map(text)
        .collect();
    assert_eq!(tied, ["37.05 ± 0.81 ohm,", "30 %"]);
    // A share stands with a space that holds.
    let shares: Vec<String> = select(&page, ".share").into_iter().map(text).collect();
    assert!(
        shares.iter().all(|share| share.contains("\u{a0}%")),
        "{shares:?}"
    );
}

#[test]
fn tables_of_pieces_add_up() {
    let (content, photos) = with_photos();
    let page = Html::parse_document(&render(&content, &photos).unwrap());
    let rows = |table: ElementRef| -> Vec<Vec<String>> {
        let row = Selector::parse("tbody tr").unwrap();
        let cell = Selector::parse("th, td").unwrap();
        table
            .select(&row)
            .map(|row| {
                row.select(&cell)
                    .map(|cell| text(cell).trim().to_owned())
                    .collect()
            })
            .collect()
    };
    let tables: Vec<Vec<Vec<String>>> = select(&page, "table").into_iter().map(rows).collect();
    let together = tables
        .iter()
        .filter(|rows| rows.last().is_some_and(|row| row[0] == "Together"));
    let mut seen = 0;
    for rows in together {
        seen += 1;
        let (sum, parts) = rows.split_last().unwrap();
        let number = |text: &str| text.parse::<u32>().unwrap();
        let of_parts: u32 = parts.iter().map(|row| number(&row[1])).sum();
        assert_eq!(number(&sum[1]), of_parts, "{rows:?}");
        // Before the magnet: went, stayed and not told make the row.
        if sum.len() == 5 {
            for row in rows {
                assert_eq!(
                    number(&row[1]),
                    row[2..].iter().map(|n| number(n)).sum::<u32>()
                );
            }
        }
    }
    assert_eq!(seen, 3, "kinds, sizes, and before and after");
}
