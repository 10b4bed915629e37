//! The PDF as another library reads it: tags, language, alternative texts,
//! embedded faces. (ISO 14289-1's rules that a program can check are checked
//! when the file is written, by krilla's validator.)
#![allow(clippy::unwrap_used, clippy::panic)] // helpers are not #[test] functions

mod common;
#[path = "common/photos.rs"]
mod photos;

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Object};
use scraper::{Html, Selector};
use swarfbook_report::content::{Content, Photos};
use swarfbook_report::{Paper, render, render_pdf};

fn jpeg(shade: u8) -> Vec<u8> {
    photos::encoded(&image::RgbImage::from_pixel(
        120,
        90,
        image::Rgb([shade; 3]),
    ))
}

fn report() -> (Content, Photos) {
    photos::with_photos(common::content(), jpeg)
}

fn read(paper: Paper) -> Document {
    let (content, photos) = report();
    Document::load_mem(&render_pdf(&content, &photos, paper).unwrap()).unwrap()
}

fn dictionaries(document: &Document) -> impl Iterator<Item = &Dictionary> {
    document.objects.values().filter_map(|object| match object {
        Object::Dictionary(dictionary) => Some(dictionary),
        Object::Stream(stream) => Some(&stream.dict),
        _ => None,
    })
}

fn name<'a>(dictionary: &'a Dictionary, key: &[u8]) -> &'a [u8] {
    dictionary
        .get(key)
        .and_then(Object::as_name)
        .unwrap_or_default()
}

#[test]
fn it_is_tagged_titled_and_in_a_language() {
    let document = read(Paper::A4);
    let catalog = document.catalog().unwrap();
    assert!(catalog.has(b"StructTreeRoot") && catalog.has(b"Outlines"));
    let marked = catalog.get(b"MarkInfo").unwrap();
    let marked = document.dereference(marked).unwrap().1.as_dict().unwrap();
    assert!(marked.get(b"Marked").unwrap().as_bool().unwrap());
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"en");
    let preferences = catalog.get(b"ViewerPreferences").unwrap();
    let preferences = document.dereference(preferences).unwrap().1;
    assert!(
        preferences
            .as_dict()
            .unwrap()
            .get(b"DisplayDocTitle")
            .unwrap()
            .as_bool()
            .unwrap()
    );
    let mut kinds: BTreeMap<String, usize> = BTreeMap::new();
    for dictionary in dictionaries(&document).filter(|d| d.has(b"S") && d.has(b"P")) {
        let kind = String::from_utf8_lossy(name(dictionary, b"S")).into_owned();
        if kind == "Figure" {
            let alt = dictionary.get(b"Alt").unwrap().as_str().unwrap();
            assert!(alt.len() > 10);
        }
        *kinds.entry(kind).or_default() += 1;
    }
    for kind in [
        "Document", "Sect", "H1", "H2", "H3", "P", "L", "LI", "LBody", "Table", "TR", "TH", "TD",
        "Figure", "Link",
    ] {
        assert!(kinds.contains_key(kind), "{kind}: {kinds:?}");
    }
    assert_eq!(kinds["H1"], 1);
    let links = dictionaries(&document).filter(|d| name(d, b"Subtype") == b"Link");
    let told = links.inspect(|link| assert!(link.has(b"Contents") && link.has(b"StructParent")));
    assert!(told.count() > 40);
}

#[test]
fn every_face_is_in_the_file() {
    let document = read(Paper::A4);
    let mut faces = 0;
    for descriptor in dictionaries(&document).filter(|d| name(d, b"Type") == b"FontDescriptor") {
        faces += 1;
        let embedded = [&b"FontFile"[..], b"FontFile2", b"FontFile3"];
        assert!(
            embedded.iter().any(|key| descriptor.has(key)),
            "{descriptor:?}"
        );
    }
    assert!(faces >= 2, "{faces}");
}

#[test]
fn both_papers_have_their_size() {
    for (paper, width, height) in [(Paper::A4, 595.276, 841.89), (Paper::Letter, 612.0, 792.0)] {
        let document = read(paper);
        let pages = document.get_pages();
        // Words of 9 pt and more in lines of 75 letters take more pages than small ones did.
        assert!((3..=13).contains(&pages.len()), "{} pages", pages.len());
        for id in pages.values() {
            let page = document.get_dictionary(*id).unwrap();
            let media = page.get(b"MediaBox").unwrap().as_array().unwrap();
            let size: Vec<f32> = media.iter().map(|n| n.as_float().unwrap()).collect();
            assert!((size[2] - width).abs() < 0.01 && (size[3] - height).abs() < 0.01);
        }
    }
}

/// Every word of the page stands on the paper too.
#[test]
fn it_says_the_same_words_as_the_page() {
    let (content, photos) = report();
    let document = read(Paper::A4);
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    let squeeze = |text: &str| -> String { text.chars().filter(|c| c.is_alphanumeric()).collect() };
    let paper = squeeze(&document.extract_text(&pages).unwrap());
    let page = Html::parse_document(&render(&content, &photos).unwrap());
    let mut looked_at = 0;
    for element in
        page.select(&Selector::parse("main p:not(.screen), main li, main h2, main td").unwrap())
    {
        for words in element.text().flat_map(str::split_whitespace) {
            let words = squeeze(words);
            looked_at += 1;
            // Long hashes are broken over lines, and so over pages.
            assert!(words.len() > 30 || paper.contains(&words), "{words}");
        }
    }
    assert!(looked_at > 700, "{looked_at}");
}

/// The words of each page without its foot, letters and digits only.
fn pages_of(document: &Document) -> Vec<String> {
    let letters = |text: &str| -> String { text.chars().filter(|c| c.is_alphanumeric()).collect() };
    let numbers = document.get_pages().into_keys();
    numbers
        .map(|number| {
            let text = document.extract_text(&[number]).unwrap();
            let letters = letters(&text);
            let foot = ["Conditionreport", "Zustandsbericht"]
                .iter()
                .filter_map(|title| letters.rfind(title))
                .filter(|at| letters.len() - at < 120)
                .min();
            letters[..foot.unwrap_or(letters.len())].to_owned()
        })
        .collect()
}

fn letters(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).collect()
}

fn headings(html: &str) -> Vec<String> {
    let page = Html::parse_document(html);
    page.select(&Selector::parse("h2, h3, h4").unwrap())
        .map(|heading| {
            let text: String = heading.text().collect();
            text.chars().filter(|c| c.is_alphanumeric()).collect()
        })
        .collect()
}

#[test]
fn no_heading_stands_at_the_foot_and_no_line_alone_at_the_head() {
    for lang in ["en", "de"] {
        let (mut content, photos) = report();
        content.lang = lang.into();
        let headings = headings(&render(&content, &photos).unwrap());
        assert!(headings.len() > 25, "{}", headings.len());
        for paper in [Paper::A4, Paper::Letter] {
            let file = render_pdf(&content, &photos, paper).unwrap();
            let pages = pages_of(&Document::load_mem(&file).unwrap());
            for (number, page) in pages.iter().enumerate() {
                for heading in &headings {
                    // What is advised stands on the letter's slip, too, in the last row of page 2.
                    if number == 1
                        && content
                            .advice
                            .iter()
                            .any(|item| letters(&item.what) == *heading)
                    {
                        continue;
                    }
                    assert!(
                        !page.ends_with(heading.as_str()),
                        "{heading} at the foot of page {}, {lang} {paper:?}",
                        number + 1
                    );
                }
                assert!(page.len() > 60, "page {} says {page}", number + 1);
            }
        }
    }
}

/// So that another technician can check it without turning pages.
#[test]
fn the_method_and_the_key_stand_on_one_page_of_their_own() {
    for lang in ["en", "de"] {
        let (mut content, photos) = report();
        content.lang = lang.into();
        content.method = swarfbook_report::words::Words::of(lang).method();
        let letters =
            |text: &str| -> String { text.chars().filter(|c| c.is_alphanumeric()).collect() };
        for paper in [Paper::A4, Paper::Letter] {
            let file = render_pdf(&content, &photos, paper).unwrap();
            let pages = pages_of(&Document::load_mem(&file).unwrap());
            let fingerprint = content.fingerprint().unwrap().to_string();
            let titles: Vec<String> = content.method.iter().map(|m| letters(&m.title)).collect();
            let page = pages
                .iter()
                .find(|page| titles.iter().all(|title| page.contains(title.as_str())));
            let page = page.unwrap_or_else(|| panic!("{lang} {paper:?}: {titles:?}"));
            for method in &content.method {
                assert!(page.contains(&letters(&method.text)), "{}", method.title);
            }
            assert!(page.contains(&fingerprint), "{lang} {paper:?}");
        }
    }
}

#[test]
fn a_page_without_anything_is_still_a_page() {
    let mut content = common::content();
    content.photos.clear();
    content.pairs.clear();
    content.deciding = None;
    content.components.clear();
    content.done.clear();
    let file = render_pdf(&content, &Photos::new(), Paper::Letter).unwrap();
    assert!(Document::load_mem(&file).unwrap().get_pages().len() > 1);
}

/// A matrix of PDF: a, b, c, d, e, f (ISO 32000-1, 8.3.4).
type Matrix = [f64; 6];

const UNIT: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];

fn times(a: Matrix, b: Matrix) -> Matrix {
    [
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    ]
}

/// Every size at which text is shown, in points: the font's size through the text's and
/// the page's matrices.
fn text_sizes(document: &Document) -> Vec<f64> {
    let mut sizes = Vec::new();
    let number = |object: &Object| f64::from(object.as_float().unwrap());
    let matrix = |operands: &[Object]| -> Matrix {
        let numbers: Vec<f64> = operands.iter().map(number).collect();
        numbers.try_into().unwrap()
    };
    for page in document.get_pages().into_values() {
        let content = document.get_and_decode_page_content(page).unwrap();
        let (mut here, mut kept) = (UNIT, Vec::new());
        let (mut text, mut size) = (UNIT, 0.0);
        for operation in content.operations {
            match operation.operator.as_str() {
                "q" => kept.push(here),
                "Q" => here = kept.pop().unwrap(),
                "cm" => here = times(matrix(&operation.operands), here),
                "BT" => text = UNIT,
                "Tm" => text = matrix(&operation.operands),
                "Tf" => size = number(&operation.operands[1]),
                "Tj" | "TJ" => {
                    let all = times(text, here);
                    sizes.push(size * all[2].hypot(all[3]));
                }
                _ => {}
            }
        }
    }
    sizes
}

#[test]
fn no_text_is_smaller_than_eight_points() {
    for paper in [Paper::A4, Paper::Letter] {
        let sizes = text_sizes(&read(paper));
        assert!(sizes.len() > 300, "only {} texts were read", sizes.len());
        let least = sizes.iter().copied().fold(f64::INFINITY, f64::min);
        // A thousandth for the rounding of what is written.
        assert!(least >= 7.99, "{least} pt");
    }
}
