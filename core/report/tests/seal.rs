//! The signature: good when untouched, and every touch told by its part.
#![allow(clippy::unwrap_used)] // helpers are not #[test] functions

mod common;
#[path = "common/photos.rs"]
mod photos;

use ed25519_dalek::{Signature, Signer as _, SigningKey, VerifyingKey};
use swarfbook_report::Paper;
use swarfbook_report::content::{Content, Photos};
use swarfbook_report::seal::{Signer, sign_html, sign_pdf};
use swarfbook_seal::{Fault, fingerprint, verify};

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn bytes<const N: usize>(hex: &str) -> [u8; N] {
    let bytes: Vec<u8> = (0..N)
        .map(|at| u8::from_str_radix(&hex[2 * at..2 * at + 2], 16).unwrap())
        .collect();
    bytes.try_into().unwrap()
}

fn jpeg(shade: u8) -> Vec<u8> {
    photos::encoded(&image::RgbImage::from_fn(64, 48, |x, y| {
        image::Rgb([shade, x as u8, y as u8])
    }))
}

fn report() -> (Content, Photos) {
    photos::with_photos(common::content(), jpeg)
}

fn with_key<T>(work: impl FnOnce(&Signer<'_>) -> T) -> T {
    let key = SigningKey::from_bytes(&[7; 32]);
    work(&Signer {
        public_hex: &hex(key.verifying_key().as_bytes()),
        sign: &|text| hex(&key.sign(text.as_bytes()).to_bytes()),
    })
}

fn html() -> String {
    let (content, photos) = report();
    with_key(|signer| sign_html(&content, &photos, signer)).unwrap()
}

fn pdf() -> Vec<u8> {
    let (content, photos) = report();
    with_key(|signer| sign_pdf(&content, &photos, Paper::A4, signer)).unwrap()
}

/// RFC 8032, section 7.1, tests 1 to 3 and the one of SHA(abc) (from memory).
#[test]
fn the_signature_is_that_of_rfc_8032() {
    let vectors = [
        (
            "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
            "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
            "",
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
        ),
        (
            "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
            "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
            "72",
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
        ),
        (
            "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
            "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
            "af82",
            "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
        ),
    ];
    for (secret, public, message, signature) in vectors {
        let key = SigningKey::from_bytes(&bytes::<32>(secret));
        assert_eq!(hex(key.verifying_key().as_bytes()), public);
        let message: Vec<u8> = (0..message.len() / 2)
            .map(|at| u8::from_str_radix(&message[2 * at..2 * at + 2], 16).unwrap())
            .collect();
        assert_eq!(hex(&key.sign(&message).to_bytes()), signature);
        let public = VerifyingKey::from_bytes(&bytes::<32>(public)).unwrap();
        let signature = Signature::from_bytes(&bytes::<64>(signature));
        assert!(public.verify_strict(&message, &signature).is_ok());
        assert!(public.verify_strict(b"other", &signature).is_err());
    }
}

#[test]
fn an_untouched_report_is_whole_and_says_what_it_was_made_from() {
    let (content, _) = report();
    for file in [html().into_bytes(), pdf()] {
        let statement = verify(&file).unwrap();
        assert_eq!(statement.made, content.made);
        assert_eq!(statement.content, content.fingerprint().unwrap());
        assert_eq!(statement.photos.len(), 4);
        let short = fingerprint(&statement.key).unwrap();
        assert_eq!(short.len(), 24, "{short}");
    }
    let page = html();
    assert!(page.contains(&fingerprint(&verify(page.as_bytes()).unwrap().key).unwrap()));
    assert_eq!(html(), html());
    assert_eq!(pdf(), pdf());
}

#[test]
fn a_changed_word_is_told_by_its_heading() {
    let page = html();
    for (was, is, part) in [
        (
            "9 N·m</span> by the maker",
            "8 N·m</span> by the maker",
            "What we did",
        ),
        (
            "can most likely be saved",
            "can surely be saved",
            "What we found",
        ),
        ("Out of spec, certain.", "In spec.", "Electrical tests"),
        ("M. Nobody</bdi></p>", "A. Body</bdi></p>", "the head"),
        ("color:var(--ink)", "color:var(--paper)", "the head"),
        (
            "12 May 2026, 08:19",
            "12 May 2025, 08:19",
            "Where each figure comes from",
        ),
    ] {
        assert!(page.contains(was), "{was}");
        let changed = page.replacen(was, is, 1);
        let faults = verify(changed.as_bytes()).unwrap_err();
        assert_eq!(faults, [Fault::Changed(part.into())], "{was}");
    }
}

#[test]
fn a_changed_added_or_missing_photo_or_section_is_told() {
    let page = html();
    let at = page.find("image/jpeg;base64,").unwrap() + 400;
    let mut changed = page.clone().into_bytes();
    changed[at] = if changed[at] == b'A' { b'B' } else { b'A' };
    assert_eq!(
        verify(&changed).unwrap_err(),
        [Fault::Changed("photo 1".into())]
    );
    let begin = page.find("<section aria-labelledby=\"not-done\"").unwrap();
    let end = begin + page[begin..].find("</section>").unwrap() + "</section>".len();
    let without = [&page[..begin], &page[end..]].concat();
    let faults = verify(without.as_bytes()).unwrap_err();
    assert!(
        faults.contains(&Fault::Missing("What we did not do or look at".into())),
        "{faults:?}"
    );
    let with = page.replacen("<section", "<section><h2>More</h2></section><section", 1);
    let faults = verify(with.as_bytes()).unwrap_err();
    assert!(faults.contains(&Fault::Added("More".into())), "{faults:?}");
    let twice = [&page[..end], &page[begin..]].concat();
    assert!(verify(twice.as_bytes()).is_err());
}

/// Bytes all over both files.
#[test]
fn no_byte_can_be_changed_unseen() {
    let page = html().into_bytes();
    for at in (0..page.len()).step_by(4_801) {
        let mut changed = page.clone();
        changed[at] ^= 1;
        assert!(verify(&changed).is_err(), "byte {at}");
    }
    let mut longer = page.clone();
    longer.push(b' ');
    assert!(verify(&longer).is_err());
    let file = pdf();
    for at in (0..file.len()).step_by(3_307) {
        let mut changed = file.clone();
        changed[at] ^= 1;
        assert!(verify(&changed).is_err(), "byte {at}");
    }
    let mut longer = file.clone();
    longer.extend_from_slice(b"\n1 0 obj\n<<>>\nendobj\n%%EOF");
    assert!(verify(&longer).is_err());
    longer.truncate(file.len());
    longer.push(b'\n');
    assert!(verify(&longer).is_err());
}

#[test]
fn a_seal_of_another_report_or_none_is_refused() {
    let page = html();
    let (mut other, photos) = report();
    other.car.plate = "OTHER 1".into();
    let other = with_key(|signer| sign_html(&other, &photos, signer)).unwrap();
    let open = "<pre id=\"seal\" hidden=\"hidden\">";
    let seal = |page: &str| {
        let rest = page.split_once(open).unwrap().1;
        rest.split_once("</pre>").unwrap().0.to_owned()
    };
    let swapped = page.replacen(&seal(&page), &seal(&other), 1);
    let faults = verify(swapped.as_bytes()).unwrap_err();
    assert!(
        faults.contains(&Fault::Changed("the head".into())),
        "{faults:?}"
    );
    let without = page.replacen(&seal(&page), "", 1);
    assert_eq!(
        verify(without.as_bytes()).unwrap_err(),
        [Fault::SealDamaged]
    );
    assert_eq!(verify(b"").unwrap_err(), [Fault::NoSeal]);
    assert_eq!(verify(b"%PDF-1.7").unwrap_err(), [Fault::NoSeal]);
    let (content, photos) = report();
    let preview = swarfbook_report::render(&content, &photos).unwrap();
    assert_eq!(verify(preview.as_bytes()).unwrap_err(), [Fault::NoSeal]);
    assert!(preview.contains("It is not signed."));
}

#[test]
fn a_changed_pdf_is_told_by_page_photo_or_kind() {
    let file = pdf();
    let statement = verify(&file).unwrap();
    let names: Vec<&str> = statement.parts.iter().map(|p| p.name.as_str()).collect();
    for wanted in [
        "page 1",
        "photo 1",
        "the letters",
        "the tags",
        "the attached data",
    ] {
        assert!(names.contains(&wanted), "{wanted}: {names:?}");
    }
    // A photo passes into the file as it is: its bytes can be found.
    let photo = jpeg(10);
    let at = file
        .windows(60)
        .position(|w| *w == photo[200..260])
        .unwrap();
    let mut changed = file.clone();
    changed[at + 5] ^= 8;
    let faults = verify(&changed).unwrap_err();
    assert!(
        matches!(faults.as_slice(), [Fault::Changed(part)] if part.starts_with("photo")),
        "{faults:?}"
    );
}

/// Signed by the version before the report became a letter: its content is of form 1.
#[test]
fn reports_of_the_earlier_content_still_verify() {
    let page = include_bytes!("../../seal/tests/fixtures/report-content-1.html");
    let paper = include_bytes!("../../seal/tests/fixtures/report-content-1.pdf");
    for file in [page.as_slice(), paper] {
        let statement = verify(file).unwrap();
        assert!(statement.made.tool.starts_with("Swarfbook"));
        let mut changed = file.to_vec();
        let middle = changed.len() / 2;
        changed[middle] ^= 1;
        assert!(verify(&changed).is_err());
    }
}
