//! Renders photos of debris with exact truth, to learn from and to test with:
//!
//! `render_debris FOLDER COUNT [SEED]` writes COUNT photos, `hints.json` and `truth/NAME.json`;
//! what other seeds wrote there stays;
//! `render_debris --again TIMES FOLDER COUNT [SEED]` writes COUNT patches TIMES over, each time by another camera in
//! another light, as `patch-sSEED-NNN-K`: what `repeatability` measures.
//!
//! Papers clean or soaked, pans with ribs and film, magnets with paste; pieces of the nine classes;
//! drops that mirror the room, ribs, heads of bolts, scratches and glare, which are none. Nothing in
//! it is a real photo, and it follows no other renderer's code. Same seed, same photos.

mod card;
mod chance;
mod fixture;
mod ground;
mod piece;
mod plane;
mod scene;
mod shape;
mod view;

use std::collections::BTreeMap;
use std::error::Error;
use std::fs;
use std::path::Path;

use image::codecs::jpeg::JpegEncoder;
use serde_json::{Value, json};

use chance::Chance;
use ground::Ground;
use scene::{Light, Scene, develop};
use shape::{extent, lump};
use view::View;

const CLASSES: [(&str, f64); 9] = [
    ("steel_flake", 0.24),
    ("steel_sliver", 0.12),
    ("yellow_metal", 0.13),
    ("light_metal", 0.11),
    ("lining", 0.2),
    ("plastic", 0.07),
    ("elastomer", 0.05),
    ("grit", 0.05),
    ("lint", 0.03),
];

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments: Vec<String> = std::env::args().skip(1).collect();
    let mut times = None;
    if arguments.first().is_some_and(|first| first == "--again") {
        times = Some(
            arguments
                .get(1)
                .ok_or("--again needs a number")?
                .parse::<u64>()?,
        );
        arguments.drain(..2);
    }
    let [folder, count, rest @ ..] = arguments.as_slice() else {
        return Err("say a folder, how many photos, and a seed".into());
    };
    let seed: u64 = rest.first().map_or(Ok(1), |s| s.parse())?;
    let folder = Path::new(folder);
    fs::create_dir_all(folder.join("truth"))?;
    // Photos of other seeds that are there already stay.
    let listed = folder.join("hints.json");
    let mut hints: BTreeMap<String, Value> = match fs::read(&listed) {
        Ok(there) => serde_json::from_slice(&there)?,
        Err(_) => BTreeMap::new(),
    };
    for i in 0..count.parse::<u64>()? {
        if let Some(times) = times {
            for k in 1..=times {
                let name = format!("patch-s{seed}-{i:03}-{k}");
                let hint = photo(folder, &name, "patch", seed * 1000 + i, Some(k))?;
                hints.insert(format!("{name}.jpg"), hint);
            }
            continue;
        }
        let kind = match i % 8 {
            3 | 5 | 6 => "pan",
            7 => "magnet",
            _ => "patch",
        };
        let name = format!("{kind}-s{seed}-{i:03}");
        hints.insert(
            format!("{name}.jpg"),
            photo(folder, &name, kind, seed * 1000 + i, None)?,
        );
    }
    fs::write(listed, serde_json::to_string_pretty(&hints)?)?;
    Ok(())
}

/// Renders one photo and its truth; its hints. `again` is the number of the camera and the light under which the
/// things of a seed are seen; without it the seed draws those, too.
fn photo(
    folder: &Path,
    name: &str,
    kind: &str,
    seed: u64,
    again: Option<u64>,
) -> Result<Value, Box<dyn Error>> {
    let mut chance = Chance::new(seed);
    // Camera, light and grain have a chance of their own, so that the things stay the same.
    let mut taking = again.map(|k| Chance::new(seed.wrapping_mul(1_000_003).wrapping_add(k)));
    let px_per_mm = match kind {
        "pan" => chance.from(10.5, 19.0),
        _ if again.is_some() => chance.from(13.5, 17.5),
        _ => chance.from(13.0, 24.0),
    };
    // Half of the pans are seen whole, and a patch that is seen again.
    let wide = again.is_some() || (kind == "pan" && chance.is(0.5));
    let mut view = View::new(&mut chance, px_per_mm, wide);
    let [half_x, half_y] = [view.width, view.height].map(|v| v as f64 / 2.0 / px_per_mm);
    let pan = kind != "patch" && chance.is(0.9);
    let ground = Ground::new(&mut chance, pan, if wide { 110.0 } else { 70.0 });
    let mut light = Light::new(&mut chance);
    if let Some(taking) = &mut taking {
        // Nearer or farther by a tenth: what is lost at the border is not counted in any of them.
        let nearer = taking.from(0.9, 1.1);
        view = View::new(taking, px_per_mm * nearer, wide);
        light = Light::new(taking);
    }
    let mut scene = Scene::new(view, light, &ground, taking.as_mut().unwrap_or(&mut chance));
    if pan && chance.is(0.7) {
        let spot =
            |chance: &mut Chance| [chance.from(-half_x, half_x), chance.from(-half_y, half_y)];
        for _ in 0..chance.below(4) {
            let at = spot(&mut chance);
            fixture::rib(&mut scene, &mut chance, at, ground.base);
        }
        for _ in 0..chance.below(3) {
            let at = spot(&mut chance);
            fixture::head(&mut scene, &mut chance, at, ground.base);
        }
    }
    let carded = again.is_some() || (px_per_mm < 21.0 && chance.is(0.8));
    let up = chance.is(0.5);
    let corner = [
        chance.from(-half_x + 3.0, (half_x - 92.0).max(-half_x + 3.5)),
        if up {
            chance.from(-half_y + 3.0, -half_y + 12.0)
        } else {
            half_y - chance.from(58.0, 64.0)
        },
    ];
    let card = carded.then(|| {
        let angle = chance.from(-0.06, 0.06);
        scene.lay_card(corner, angle)
    });
    let free = |p: [f64; 2]| {
        !carded || p[1] < corner[1] - 6.0 || p[1] > corner[1] + 62.0 || p[0] > corner[0] + 92.0
    };
    let most_drops = if chance.is(0.3) { 30 } else { 8 };
    for _ in 0..chance.below(most_drops) {
        let drop = piece::drop(&mut chance, ground.fluid);
        let at = [chance.from(-half_x, half_x), chance.from(-half_y, half_y)];
        if free(at) {
            scene.lay(&drop, 0, at, 0.0, 0.0);
        }
    }
    let mut hint = json!({});
    let (mut magnet, mut middle, mut reach, mut under) = (
        None,
        [0.0, 0.0],
        chance.from(8.0, if wide { 80.0 } else { 45.0 }),
        0.0,
    );
    for _ in 0..60 {
        middle = [
            chance.from(-0.6, 0.6) * half_x,
            chance.from(-0.6, 0.6) * half_y,
        ];
        if free(middle) {
            break;
        }
    }
    if kind == "magnet" {
        under = chance.from(4.0, 9.0);
        let (outline, hole) = match chance.below(3) {
            0 => {
                let r = chance.from(9.0, 16.0);
                (
                    lump(&mut chance, 2.0 * r, 1.0, 0.0, 0.0),
                    r * chance.from(0.3, 0.45),
                )
            }
            1 => {
                let r = chance.from(8.0, 14.0);
                (lump(&mut chance, 2.0 * r, 1.0, 0.0, 0.0), 0.0)
            }
            _ => {
                let (a, b) = (chance.from(9.0, 20.0), chance.from(6.0, 12.0));
                let turn = chance.from(0.0, 3.1);
                (
                    shape::placed(&[[-a, -b], [a, -b], [a, b], [-a, b]], turn, [0.0, 0.0]),
                    0.0,
                )
            }
        };
        let share = [
            0.0,
            1.0,
            chance.from(0.05, 0.95),
            chance.from(0.05, 0.95),
            chance.from(0.05, 0.95),
        ][chance.below(5)];
        let (cover, face) = scene.lay_magnet(&mut chance, &outline, hole, middle, under, share);
        let aim = scene
            .view
            .project([middle[0] + hole * 1.3, middle[1]], under);
        hint["subject_at"] = json!(aim);
        hint["subject_height_mm"] = json!(under);
        magnet = Some(json!({"cover": cover, "face_mm2": face}));
        reach = 7.0;
    }
    if card.is_none() {
        let (a, b) = (
            [middle[0] - 15.0, middle[1]],
            [middle[0] + 15.0, middle[1] + 4.0],
        );
        hint["taps"] = json!([scene.view.project(a, 0.0), scene.view.project(b, 0.0)]);
        hint["tap_mm"] = json!((b[0] - a[0]).hypot(b[1] - a[1]));
    }
    let most = if kind == "magnet" { 12 } else { 90 };
    let count = if chance.is(0.15) {
        0
    } else {
        chance.below(most)
    };
    let mut laid = Vec::new();
    for _ in 0..count {
        let mut draw = chance.from(0.0, 1.0);
        let class = CLASSES.iter().find(|(_, share)| {
            draw -= share;
            draw < 0.0
        });
        let class = class.map_or("lining", |c| c.0);
        let size = if chance.is(0.06) {
            chance.log(3.0, 5.5)
        } else {
            chance.log(0.25, 3.0)
        };
        let size = if class == "steel_sliver" || class == "lint" {
            1.5 * size
        } else {
            size
        };
        let piece = piece::piece(&mut chance, class, size);
        let at = [
            middle[0] + reach * 0.6 * chance.normal(),
            middle[1] + reach * 0.6 * chance.normal(),
        ];
        let angle = chance.from(0.0, crate::chance::TURN);
        if !free(at) || at[0].abs() > half_x - 4.0 || at[1].abs() > half_y - 4.0 {
            continue;
        }
        let id = laid.len() as u16 + 1;
        let place = scene.lay(&piece, id, at, angle, under);
        laid.push((piece, place));
    }
    let mut seen = vec![0u32; laid.len() + 1];
    for id in &scene.shows {
        if let Some(n) = seen.get_mut(usize::from(*id)) {
            *n += 1;
        }
    }
    let particles: Vec<Value> = laid
        .iter()
        .enumerate()
        .map(|(i, (piece, place))| {
            let (min, max, area) = extent(&piece.outline);
            json!({
                "id": i + 1, "class": piece.class, "x_px": place.middle[0], "y_px": place.middle[1],
                "feret_max_mm": max, "feret_min_mm": min, "area_mm2": area,
                "visible": f64::from(seen[i + 1]) / f64::from(place.pixels.max(1)),
                "visible_px": seen[i + 1], "polygon_px": place.outline,
            })
        })
        .collect();
    let mut truth = json!({
        "name": name, "file": format!("{name}.jpg"), "kind": kind,
        "rendered": "by examples/render_debris; not a photograph",
        "size_px": [scene.view.width, scene.view.height],
        "px_per_mm_centre": scene.view.px_per_mm(), "particles": particles,
    });
    if let Some(corners) = card {
        let whole = corners.iter().all(|p| {
            p[0] > 0.0
                && p[1] > 0.0
                && p[0] < scene.view.width as f64
                && p[1] < scene.view.height as f64
        });
        truth["card"] = json!({"corners_px": corners, "whole": whole});
    }
    if let Some(m) = magnet {
        truth["magnet"] = m;
    }
    fs::write(
        folder.join("truth").join(format!("{name}.json")),
        serde_json::to_string(&truth)?,
    )?;
    let taking = taking.as_mut().unwrap_or(&mut chance);
    let rgb = develop(&scene, taking);
    let mut jpeg = Vec::new();
    let quality = 72 + taking.below(25) as u8;
    JpegEncoder::new_with_quality(&mut jpeg, quality).encode(
        &rgb,
        scene.view.width as u32,
        scene.view.height as u32,
        image::ExtendedColorType::Rgb8,
    )?;
    fs::write(folder.join(format!("{name}.jpg")), jpeg)?;
    Ok(hint)
}
