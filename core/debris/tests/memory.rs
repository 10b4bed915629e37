//! Bad files must not take the memory of the phone. Alone in its program, since
//! the system's mark is of all that the program ever held.

#![cfg(target_os = "linux")]
#![allow(clippy::unwrap_used)] // in helpers of tests, too

use std::path::Path;

use swarfbook_debris::decode;

/// The most memory that this program held, MB.
fn high_water_mb() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap();
    let line = status
        .lines()
        .find(|line| line.starts_with("VmHWM:"))
        .unwrap();
    let kb: f64 = line.split_whitespace().nth(1).unwrap().parse().unwrap();
    kb / 1024.0
}

#[test]
fn headers_that_lie_take_no_memory_that_their_bytes_can_t_fill() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad");
    let before = high_water_mb();
    let big = std::fs::read(folder.join("200-megapixels.png")).unwrap();
    assert!(decode(&big).is_err());
    for name in ["baseline.jpg", "progressive.jpg", "cmyk.jpg"] {
        let mut photo = std::fs::read(folder.join(name)).unwrap();
        let frame = |w: &[u8]| w[0] == 0xFF && (w[1] == 0xC0 || w[1] == 0xC2);
        let at = photo.windows(2).position(frame).unwrap();
        // 10,000 x 10,000: as much as is read at all, and the file holds a thousandth of it.
        photo[at + 5..at + 9].copy_from_slice(&[0x27, 0x10, 0x27, 0x10]);
        assert!(decode(&photo).is_err(), "{name}");
    }
    let rise = high_water_mb() - before;
    assert!(rise < 20.0, "{rise} MB");
}
