//! What a disk may hold after the power went, out of what it was told until then.
//!
//! A change lasts once its file, for a name its folder, was synced. Of all others any may
//! have reached the disk, in any order: of a write any of its sectors. After a sync that
//! failed the system takes what it did not write for written, so that it stays in doubt, also
//! behind a later sync that goes well; names wait on, since file systems keep them in a log of
//! their own. A rename is there as a whole or not at all, and lasts with either of its folders.

use std::collections::BTreeMap;

use crate::chance::Chance;
use crate::trace::Change;

/// What a disk writes as a whole.
const SECTOR: usize = 512;

/// What the power leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cut {
    /// All: the program was killed, the disk had time.
    NothingIsGone,
    /// What lasts and no more.
    OnlyWhatLasts,
    /// Any of the rest, change by change.
    SomeChanges,
    /// Any of the rest, sector by sector.
    SomeSectors,
}

/// Files by their paths, folders with none.
pub type Image = BTreeMap<String, Option<Vec<u8>>>;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    Lasts,
    Waits,
    /// Given up by a sync that failed.
    InDoubt,
}

#[derive(Debug)]
enum Edit {
    Bytes(usize, Vec<u8>),
    Size(usize),
}

#[derive(Debug, Clone)]
enum Naming {
    File(String, usize),
    Folder(String),
    Renamed(String, String, usize),
    Removed(String),
}

#[derive(Debug, Default)]
struct Content {
    base: Vec<u8>,
    later: Vec<(State, Edit)>,
}

#[derive(Debug, Default)]
pub struct Platter {
    contents: Vec<Content>,
    by_inode: BTreeMap<u64, usize>,
    /// Names as a running program sees them.
    live: BTreeMap<String, usize>,
    base: BTreeMap<String, Option<usize>>,
    later: Vec<(State, Naming)>,
}

impl Platter {
    pub fn tell(&mut self, change: &Change) {
        match change {
            Change::Made { file, path } => {
                self.contents.push(Content::default());
                let at = self.contents.len() - 1;
                self.by_inode.insert(*file, at);
                self.live.insert(path.clone(), at);
                self.name(Naming::File(path.clone(), at));
            }
            Change::Written { file, at, bytes } => {
                self.edit(*file, Edit::Bytes(*at, bytes.clone()))
            }
            Change::Sized { file, bytes } => self.edit(*file, Edit::Size(*bytes)),
            Change::Synced { file, failed } => {
                let at = self.by_inode[file];
                let content = &mut self.contents[at];
                settle(content.later.iter_mut().map(|(state, _)| state), *failed);
                let lasting = lasting(&content.later);
                for (_, edit) in content.later.drain(..lasting) {
                    edit.put(&mut content.base, None);
                }
            }
            Change::FolderSynced { path, failed } => {
                if *failed {
                    return;
                }
                let of_it = self.later.iter_mut().filter(|(_, name)| name.is_in(path));
                settle(of_it.map(|(state, _)| state), false);
                let lasting = lasting(&self.later);
                for (_, name) in self.later.drain(..lasting) {
                    name.put(&mut self.base);
                }
            }
            Change::FolderMade { path } => self.name(Naming::Folder(path.clone())),
            Change::Renamed { from, to } => {
                let at = self.live.remove(from).expect("was there");
                self.live.insert(to.clone(), at);
                self.name(Naming::Renamed(from.clone(), to.clone(), at));
            }
            Change::Removed { path } => {
                self.live.remove(path);
                self.name(Naming::Removed(path.clone()));
            }
            Change::Said(_) => {}
        }
    }

    fn name(&mut self, name: Naming) {
        self.later.push((State::Waits, name));
    }

    fn edit(&mut self, file: u64, edit: Edit) {
        let at = self.by_inode[&file];
        self.contents[at].later.push((State::Waits, edit));
    }

    /// The power goes in the middle of this write: only its first bytes have come, behind all
    /// that was told before.
    pub fn torn(&mut self, change: &Change, first: usize) -> Image {
        let Change::Written { file, at, bytes } = change else {
            panic!("only a write is torn");
        };
        self.edit(*file, Edit::Bytes(*at, bytes[..first].to_vec()));
        let image = self.image(Cut::NothingIsGone, &mut Chance(0));
        self.contents[self.by_inode[file]].later.pop();
        image
    }

    /// What is there when the power comes back.
    pub fn image(&self, cut: Cut, chance: &mut Chance) -> Image {
        let mut names = self.base.clone();
        for (state, name) in &self.later {
            if is_there(*state, cut, chance) {
                name.put(&mut names);
            }
        }
        let contents: Vec<Vec<u8>> = self
            .contents
            .iter()
            .map(|content| {
                let mut bytes = content.base.clone();
                for (state, edit) in &content.later {
                    if cut == Cut::SomeSectors && *state != State::Lasts {
                        edit.put(&mut bytes, Some(chance));
                    } else if is_there(*state, cut, chance) {
                        edit.put(&mut bytes, None);
                    }
                }
                bytes
            })
            .collect();
        let named = names.into_iter();
        named
            .map(|(path, at)| (path, at.map(|at| contents[at].clone())))
            .collect()
    }
}

fn is_there(state: State, cut: Cut, chance: &mut Chance) -> bool {
    match (state, cut) {
        (State::Lasts, _) | (_, Cut::NothingIsGone) => true,
        (_, Cut::OnlyWhatLasts) => false,
        (_, Cut::SomeChanges | Cut::SomeSectors) => chance.below(2) == 0,
    }
}

fn settle<'a>(states: impl Iterator<Item = &'a mut State>, failed: bool) {
    for state in states.filter(|state| **state == State::Waits) {
        *state = if failed { State::InDoubt } else { State::Lasts };
    }
}

/// How many at the beginning last, so that nobody need ask again.
fn lasting<T>(later: &[(State, T)]) -> usize {
    let lasts = |(state, _): &&(State, T)| *state == State::Lasts;
    later.iter().take_while(lasts).count()
}

impl Edit {
    fn put(&self, to: &mut Vec<u8>, chance: Option<&mut Chance>) {
        match self {
            Edit::Size(size) => to.resize(*size, 0),
            Edit::Bytes(at, bytes) => match chance {
                None => put(to, *at, bytes),
                Some(chance) => {
                    let (mut at, mut rest) = (*at, bytes.as_slice());
                    while !rest.is_empty() {
                        let (sector, after) = rest.split_at(rest.len().min(SECTOR - at % SECTOR));
                        if chance.below(2) == 0 {
                            put(to, at, sector);
                        }
                        at += sector.len();
                        rest = after;
                    }
                }
            },
        }
    }
}

fn put(to: &mut Vec<u8>, at: usize, bytes: &[u8]) {
    to.resize(to.len().max(at + bytes.len()), 0);
    to[at..at + bytes.len()].copy_from_slice(bytes);
}

fn folder(path: &str) -> &str {
    path.rsplit_once('/').map_or("", |(folder, _)| folder)
}

impl Naming {
    fn is_in(&self, path: &str) -> bool {
        match self {
            Naming::File(name, _) | Naming::Folder(name) | Naming::Removed(name) => {
                folder(name) == path
            }
            Naming::Renamed(from, to, _) => folder(from) == path || folder(to) == path,
        }
    }

    /// A name in a folder that is not there is none.
    fn put(&self, names: &mut BTreeMap<String, Option<usize>>) {
        let mut add = |path: &String, at: Option<usize>| {
            let folder = folder(path);
            if folder.is_empty() || names.get(folder) == Some(&None) {
                names.insert(path.clone(), at);
            }
        };
        match self {
            Naming::File(path, at) => add(path, Some(*at)),
            Naming::Folder(path) => add(path, None),
            Naming::Renamed(from, to, at) => {
                add(to, Some(*at));
                if names.get(from) == Some(&Some(*at)) {
                    names.remove(from);
                }
            }
            Naming::Removed(path) => drop(names.remove(path)),
        }
    }
}
