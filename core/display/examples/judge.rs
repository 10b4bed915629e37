//! Judges the reading on photos that `learn/photos.py` drew:
//! `cargo run --release -p swarfbook-display --example judge -- DIR [LINES [MODEL]]`. With
//! `LINES` what is seen of each photo is written there, a JSON a line.
#![allow(clippy::expect_used)] // whoever runs it reads why

use std::collections::BTreeMap;
use std::io::Write;
use std::path::Path;
use std::time::Instant;

use serde_json::{Value, json};
use swarfbook_display::{Display, Grey, Looks, Unread};

struct Judged {
    looks: Result<Looks, Unread>,
    read: Result<String, Unread>,
    ms: f64,
}

fn judged(display: &Display, file: &Path) -> Judged {
    let photo = image::open(file).expect("a photo").into_rgb8();
    let (width, height) = (photo.width() as usize, photo.height() as usize);
    let grey = Grey::from_bytes(width, height, 3, photo.as_raw()).expect("its size");
    let start = Instant::now();
    let looks = display.look(&grey);
    let ms = start.elapsed().as_secs_f64() * 1e3;
    let read = looks.clone().and_then(Looks::judged);
    let read = read.map(|reading| reading.text);
    Judged { looks, read, ms }
}

fn main() {
    let mut args = std::env::args().skip(1);
    let dir = args.next().expect("a folder of photos");
    let mut lines = args
        .next()
        .map(|f| std::fs::File::create(f).expect("a file"));
    let display = match args.next() {
        Some(model) => Display::from_bytes(&std::fs::read(model).expect("a file")),
        None => Display::built_in(),
    };
    let display = display.expect("a model");
    let truth = std::fs::read_to_string(Path::new(&dir).join("truth.jsonl")).expect("truth.jsonl");
    let truths: Vec<Value> = truth
        .lines()
        .map(|line| serde_json::from_str(line).expect("JSON"))
        .collect();
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let share = truths.len().div_ceil(threads).max(1);
    let all: Vec<Judged> = std::thread::scope(|scope| {
        let work: Vec<_> = truths
            .chunks(share)
            .map(|some| {
                let (display, dir) = (&display, Path::new(&dir));
                scope.spawn(move || {
                    let file = |t: &Value| dir.join(t["file"].as_str().expect("a name"));
                    some.iter()
                        .map(|t| judged(display, &file(t)))
                        .collect::<Vec<_>>()
                })
            })
            .collect();
        work.into_iter()
            .flat_map(|w| w.join().expect("done"))
            .collect()
    });
    let (mut read, mut legible, mut read_legible, mut wrong) = (0, 0, 0, 0);
    let mut why: BTreeMap<String, u32> = BTreeMap::new();
    let mut ms: Vec<f64> = all.iter().map(|j| j.ms).collect();
    for (truth, judged) in truths.iter().zip(&all) {
        let can = truth["legible"] == true;
        legible += u32::from(can);
        match &judged.read {
            Ok(text) => {
                read += 1;
                read_legible += u32::from(can);
                // Where the point stands in what says "over range" changes nothing.
                let over = truth["over"] == true && text.contains('L');
                if truth["text"] != json!(text) && !over {
                    wrong += 1;
                    println!(
                        "{}: read {text}, shown {} ({})",
                        truth["file"], truth["text"], truth["why"]
                    );
                }
            }
            Err(reason) if can => *why.entry(format!("{reason:?}")).or_default() += 1,
            Err(_) => {}
        }
        if let Some(lines) = &mut lines {
            let seen = match &judged.looks {
                Ok(l) => json!({"text": l.text, "p_text": l.p_text, "p_row": l.p_row,
                    "from_left": l.from_left, "to_right": l.to_right, "quad": l.quad}),
                Err(reason) => json!({"unread": format!("{reason:?}")}),
            };
            writeln!(lines, "{}", json!({"truth": truth, "seen": seen})).expect("written");
        }
    }
    ms.sort_by(f64::total_cmp);
    let at = |share: f64| {
        ms.get(((ms.len() - 1) as f64 * share) as usize)
            .copied()
            .unwrap_or(0.0)
    };
    println!(
        "{} photos, {legible} that a person can read; {read} read, {read_legible} of those ({:.4}); {wrong} wrong ({:.5} of those read)",
        all.len(),
        f64::from(read_legible) / f64::from(legible.max(1)),
        f64::from(wrong) / f64::from(read.max(1))
    );
    println!("not read though legible: {why:?}");
    println!("ms a frame: median {:.0}, 95 % {:.0}", at(0.5), at(0.95));
}
