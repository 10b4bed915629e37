//! Which photos show one patch, and which of them were taken after a magnet.

use super::{JobState, PhotoState};
use crate::fact::{PhotoLink, PhotoSubject};
use crate::id::EntryId;

impl JobState {
    /// The photo of the same patch, before the magnet, that a photo was taken after: the one that
    /// the technician named, else for a photo of that subject the last patch before it.
    pub fn before_magnet(&self, after: &PhotoState) -> Option<&PhotoState> {
        match &after.link {
            Some(link) if link.link == PhotoLink::AfterMagnet => self.earlier(after, link.to),
            Some(link) if link.link == PhotoLink::Apart => None,
            _ if after.subject != PhotoSubject::PatchAfterMagnet => None,
            _ => self
                .photos
                .iter()
                .take_while(|p| p.stamp.entry != after.stamp.entry)
                .filter(|p| p.subject == PhotoSubject::Patch && self.before_magnet(p).is_none())
                .last(),
        }
    }

    /// The photos of one patch before a magnet that this one is of, in order; itself alone where
    /// nothing else was said. Empty for what was taken after a magnet.
    pub fn same_patch(&self, photo: &PhotoState) -> Vec<&PhotoState> {
        if self.is_after_magnet(photo) {
            return Vec::new();
        }
        let first = self.first_of(photo).stamp.entry;
        self.photos
            .iter()
            .filter(|p| !self.is_after_magnet(p) && self.first_of(p).stamp.entry == first)
            .collect()
    }

    /// The photos of a patch taken after a magnet was passed over it, in order.
    pub fn after_magnet(&self, before: &PhotoState) -> Vec<&PhotoState> {
        let first = self.first_of(before).stamp.entry;
        self.photos
            .iter()
            .filter(|p| {
                self.before_magnet(p)
                    .is_some_and(|b| self.first_of(b).stamp.entry == first)
            })
            .collect()
    }

    /// It was taken after a magnet, as far as its subject or the technician says.
    pub fn is_after_magnet(&self, photo: &PhotoState) -> bool {
        match &photo.link {
            Some(link) if link.link == PhotoLink::AfterMagnet => {
                self.earlier(photo, link.to).is_some()
            }
            _ => photo.subject == PhotoSubject::PatchAfterMagnet,
        }
    }

    /// The earliest photo of the same patch.
    fn first_of<'a>(&'a self, photo: &'a PhotoState) -> &'a PhotoState {
        let mut first = photo;
        // Each step goes to an earlier photo, so that it ends.
        while let Some(link) = &first.link
            && link.link == PhotoLink::SamePatch
            && let Some(to) = self.earlier(first, link.to)
        {
            first = to;
        }
        first
    }

    /// A photo taken before another one that can be read as it is; a link to any other says nothing.
    fn earlier(&self, than: &PhotoState, entry: EntryId) -> Option<&PhotoState> {
        self.photos
            .iter()
            .take_while(|p| p.stamp.entry != than.stamp.entry)
            .find(|p| p.stamp.entry == entry && p.subject.kind() == than.subject.kind())
    }
}
