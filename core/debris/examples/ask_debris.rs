//! Answers questions to `swarfbook-debris`, one JSON object a line, so that
//! reference libraries of other languages can be held against it
//! (`tests/outside/debris.py`).

use std::io::{self, BufRead, Write};

use serde::Deserialize;
use serde_json::{Value, json};
use swarfbook_debris::patch::Repeatability;
use swarfbook_debris::{ciede2000, outside};
use swarfbook_job::census::SizeClass;
use swarfbook_job::garwood::garwood;
use swarfbook_job::wilson::{Z_90, wilson};

#[derive(Deserialize)]
#[serde(tag = "ask", rename_all = "snake_case")]
enum Question {
    /// Rows of `.` and `#`.
    Shape {
        rows: Vec<String>,
    },
    /// Rows of `.` and `#`, taken apart into what hangs together.
    Components {
        rows: Vec<String>,
    },
    Ciede2000 {
        a: [f64; 3],
        b: [f64; 3],
    },
    SizeClass {
        feret_max_mm: f64,
    },
    Garwood {
        n: u32,
        level: f64,
    },
    /// At 90 %.
    Wilson {
        hits: u32,
        n: u32,
    },
    Repeatability {
        cells: Vec<Vec<f64>>,
    },
    Homography {
        from: [[f64; 2]; 4],
        to: [[f64; 2]; 4],
    },
}

fn mask(rows: &[String]) -> (Vec<u8>, usize) {
    let width = rows.first().map_or(0, String::len);
    let set = |row: &String| {
        row.bytes()
            .map(|b| u8::from(b == b'#'))
            .collect::<Vec<u8>>()
    };
    (rows.iter().flat_map(set).collect(), width)
}

fn answer(question: &Question) -> Value {
    match question {
        Question::Shape { rows } => {
            let (mask, width) = mask(rows);
            json!({ "shape": outside::shape(&mask, width) })
        }
        Question::Components { rows } => {
            let (mask, width) = mask(rows);
            json!({ "components": outside::components(&mask, width) })
        }
        Question::Ciede2000 { a, b } => json!({ "difference": ciede2000(*a, *b) }),
        Question::SizeClass { feret_max_mm } => {
            json!({ "class": SizeClass::of_feret_max_mm(*feret_max_mm) })
        }
        Question::Garwood { n, level } => {
            let (lo, hi) = garwood(*n, *level);
            json!({ "ends": [lo, hi] })
        }
        Question::Wilson { hits, n } => {
            let (lo, hi) = wilson(*hits, *n, Z_90);
            json!({ "ends": [lo, hi] })
        }
        Question::Repeatability { cells } => {
            let pooled = Repeatability::of(cells.iter().map(Vec::as_slice));
            json!({ "s_r": pooled.map(|pooled| pooled.s_r) })
        }
        Question::Homography { from, to } => json!({ "matrix": outside::homography(from, to) }),
    }
}

fn main() -> io::Result<()> {
    let mut out = io::stdout().lock();
    for line in io::stdin().lock().lines() {
        let said = match serde_json::from_str(&line?) {
            Ok(question) => answer(&question),
            Err(why) => json!({ "error": why.to_string() }),
        };
        writeln!(out, "{said}")?;
    }
    Ok(())
}
