//! One photo to its line, whatever is wrong with it.

use std::path::Path;
use std::time::Instant;

use serde::Serialize;
use swarfbook_debris::decode;
use swarfbook_display::{Display, Grey, Reading};

use crate::cli::bytes::{bytes_of, name_of};
use crate::cli::lines;

/// What the display says; without a number where `problem` tells why none was read. Prefix and
/// unit are not read: `unit_read` says so, lest their lack be taken for a bare number.
#[derive(Serialize)]
pub(super) struct Line {
    file: String,
    text: Option<String>,
    value: Option<f64>,
    over_range: bool,
    prefix: Option<String>,
    unit: Option<String>,
    unit_read: bool,
    p: Option<f64>,
    corners_px: Option<[[f64; 2]; 4]>,
    pub(super) problem: Option<String>,
    ms: f64,
}

pub(super) fn of(display: &Display, photo: &Path) -> Line {
    let start = Instant::now();
    let read = read(display, photo);
    let ms = tenths(start.elapsed().as_secs_f64() * 1e3);
    let unread = Line {
        file: name_of(photo),
        text: None,
        value: None,
        over_range: false,
        prefix: None,
        unit: None,
        unit_read: false,
        p: None,
        corners_px: None,
        problem: None,
        ms,
    };
    match read {
        Ok(reading) => Line {
            text: Some(reading.text),
            value: reading.value,
            over_range: reading.over_range,
            p: Some((reading.p * 1e4).round() / 1e4),
            corners_px: Some(reading.corners_px.map(|corner| corner.map(tenths))),
            ..unread
        },
        Err(problem) => Line {
            problem: Some(problem),
            ..unread
        },
    }
}

fn tenths(number: f64) -> f64 {
    (number * 10.0).round() / 10.0
}

fn read(display: &Display, photo: &Path) -> Result<Reading, String> {
    let bytes = bytes_of(photo)?;
    let upright = decode(&bytes).map_err(|why| why.to_string())?;
    let frame = Grey::from_bytes(upright.width, upright.height, 3, &upright.rgb)
        .ok_or_else(|| "The picture has no pixels.".to_owned())?;
    display.read(&frame).map_err(|why| why.to_string())
}

impl lines::Line for Line {
    fn unread(&self) -> bool {
        self.problem.is_some()
    }

    fn row(&self) -> String {
        let said = self.problem.as_ref().or(self.text.as_ref());
        format!("{:<25} {}", self.file, said.map_or("", String::as_str))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_is_not_there_still_gives_its_line() {
        let display = Display::built_in().expect("the model");
        let line = of(&display, Path::new("nowhere/meter-1.jpg"));
        assert_eq!(line.file, "meter-1.jpg");
        assert!(line.problem.as_ref().is_some_and(|p| p.contains("opened")));
        let json = serde_json::to_value(&line).expect("JSON");
        assert_eq!(json["value"], serde_json::Value::Null);
        assert_eq!(json["over_range"], false);
        assert_eq!(json["unit_read"], false);
    }
}
