//! Pages of a database file and of its write-ahead log, read without SQLite, which gives up a
//! whole tree for one bad page and a whole log for one bad frame. The forms are those of
//! "Database File Format" and "Write-Ahead Logging" at sqlite.org (fileformat2.html), which
//! SQLite keeps for ever.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::path::Path;

/// What this program makes, where the head that says so is damaged.
const USUAL_PAGE: usize = 4096;
const WAL_HEAD: usize = 32;
const FRAME_HEAD: usize = 24;

/// Which image of a page counts, where there are several.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum View {
    /// The newest of the write-ahead log, else that of the database.
    Newest,
    /// The oldest of the write-ahead log, else that of the database.
    Oldest,
    /// That of the database.
    Database,
}

pub(super) const VIEWS: [View; 3] = [View::Newest, View::Oldest, View::Database];

/// Where an image of a page lies.
#[derive(Debug, Clone, Copy)]
pub(super) enum At {
    Database(u32),
    Frame(usize),
}

pub(super) struct Pages {
    db: Option<File>,
    wal: Vec<u8>,
    pub size: usize,
    count: u32,
    /// Frames of each page, in their order.
    frames: BTreeMap<u32, Vec<usize>>,
}

impl Pages {
    pub(super) fn of(db: &Path, wal: &Path) -> Pages {
        let mut head = [0; 18];
        let mut file = File::open(db).ok();
        let length = file
            .as_ref()
            .and_then(|file| file.metadata().ok())
            .map_or(0, |meta| meta.len());
        if let Some(file) = &mut file {
            let _ = file.read_exact(&mut head);
        }
        let wal = std::fs::read(wal).unwrap_or_default();
        let size = [size_in(&head, 16, 2), size_in(&wal, 8, 4)]
            .into_iter()
            .flatten()
            .next()
            .unwrap_or(USUAL_PAGE);
        let mut pages = Pages {
            db: file,
            size,
            count: u32::try_from(length / size as u64).unwrap_or(u32::MAX),
            frames: BTreeMap::new(),
            wal,
        };
        pages.find_frames();
        pages
    }

    /// Frames of the log as it was begun last, up to the last one that ends a commit. Their
    /// sums are not asked: each line that is found is checked by its own hash.
    fn find_frames(&mut self) {
        let salts = self
            .wal
            .get(WAL_HEAD + 8..WAL_HEAD + 16)
            .map(<[u8]>::to_vec);
        let step = FRAME_HEAD + self.size;
        let starts = (WAL_HEAD..self.wal.len()).step_by(step);
        let mut waiting = Vec::new();
        for at in starts {
            let Some(frame) = self.wal.get(at..at + step) else {
                break;
            };
            // One with a damaged head is passed over, not taken for the end.
            if frame.get(8..16) != salts.as_deref() {
                continue;
            }
            waiting.push((number(frame, 0, 4) as u32, at + FRAME_HEAD));
            if number(frame, 4, 4) > 0 {
                for (page, at) in waiting.drain(..) {
                    self.frames.entry(page).or_default().push(at);
                }
            }
        }
    }

    /// Where each image of each page lies, the database first.
    pub(super) fn all(&self) -> impl Iterator<Item = At> {
        let frames: Vec<At> = self
            .frames
            .values()
            .flatten()
            .map(|at| At::Frame(*at))
            .collect();
        (1..=self.count).map(At::Database).chain(frames)
    }

    pub(super) fn read(&mut self, at: At) -> Option<Vec<u8>> {
        match at {
            At::Frame(at) => self.wal.get(at..at + self.size).map(<[u8]>::to_vec),
            At::Database(page) => {
                let start = u64::from(page.checked_sub(1)?) * self.size as u64;
                let file = self.db.as_mut()?;
                file.seek(SeekFrom::Start(start)).ok()?;
                let mut bytes = vec![0; self.size];
                file.read_exact(&mut bytes).ok()?;
                Some(bytes)
            }
        }
    }

    /// A page as it stands in a view.
    pub(super) fn seen(&mut self, page: u32, view: View) -> Option<Vec<u8>> {
        let frames = self.frames.get(&page);
        let frame = match view {
            View::Newest => frames.and_then(|frames| frames.last()),
            View::Oldest => frames.and_then(|frames| frames.first()),
            View::Database => None,
        };
        let at = frame.map_or(At::Database(page), |at| At::Frame(*at));
        self.read(at)
    }
}

fn size_in(bytes: &[u8], at: usize, width: usize) -> Option<usize> {
    let size = match number(bytes, at, width) {
        1 => 65_536,
        size => size as usize,
    };
    (size.is_power_of_two() && (512..=65_536).contains(&size)).then_some(size)
}

/// A number of `width` bytes, the heaviest first; 0 where the bytes are not there.
pub(super) fn number(bytes: &[u8], at: usize, width: usize) -> u64 {
    let bytes = bytes.get(at..at + width).unwrap_or_default();
    bytes
        .iter()
        .fold(0, |sum, byte| sum << 8 | u64::from(*byte))
}
