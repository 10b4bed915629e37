//! The tree of tags, by which a reader's program knows what is a heading, a
//! list or a picture. Grown while setting, filled while painting.

use krilla::tagging::{Identifier, Node, TagGroup, TagKind, TagTree};

/// A tag by its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct TagRef(usize);

/// The place of something painted under a tag.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Slot(usize);

enum Child {
    Tag(TagRef),
    Slot(Slot),
}

struct Entry {
    kind: TagKind,
    parent: Option<TagRef>,
    /// It stands under its parent already.
    attached: bool,
    children: Vec<Child>,
}

/// The tree in the making. Its root is the document.
#[derive(Default)]
pub(crate) struct Tags {
    entries: Vec<Entry>,
    roots: Vec<TagRef>,
    slots: Vec<Option<Identifier>>,
}

impl Tags {
    /// A tag that stands under its parent (the document when there is none) at once.
    pub fn group(&mut self, parent: Option<TagRef>, kind: impl Into<TagKind>) -> TagRef {
        let tag = self.later(parent, kind);
        self.attach(tag);
        tag
    }

    /// A tag that takes its place when something is painted under it, so that a
    /// link stands between the words before and behind it.
    pub fn later(&mut self, parent: Option<TagRef>, kind: impl Into<TagKind>) -> TagRef {
        self.entries.push(Entry {
            kind: kind.into(),
            parent,
            attached: false,
            children: Vec::new(),
        });
        TagRef(self.entries.len() - 1)
    }

    fn attach(&mut self, tag: TagRef) {
        let Some(entry) = self.entries.get_mut(tag.0) else {
            return;
        };
        if entry.attached {
            return;
        }
        entry.attached = true;
        match entry.parent {
            None => self.roots.push(tag),
            Some(parent) => {
                self.attach(parent);
                if let Some(parent) = self.entries.get_mut(parent.0) {
                    parent.children.push(Child::Tag(tag));
                }
            }
        }
    }

    /// A place for something that will be painted.
    pub fn slot(&mut self, tag: TagRef) -> Slot {
        self.attach(tag);
        self.slots.push(None);
        let slot = Slot(self.slots.len() - 1);
        if let Some(entry) = self.entries.get_mut(tag.0) {
            entry.children.push(Child::Slot(slot));
        }
        slot
    }

    /// It was painted.
    pub fn fill(&mut self, slot: Slot, painted: Identifier) {
        if let Some(place) = self.slots.get_mut(slot.0) {
            *place = Some(painted);
        }
    }

    /// The whole tree; tags without anything under them are left out.
    pub fn tree(mut self, lang: &str) -> TagTree {
        let roots = std::mem::take(&mut self.roots);
        let mut tree = TagTree::new().with_lang(Some(lang.to_owned()));
        for root in roots {
            if let Some(group) = self.build(root) {
                tree.push(group);
            }
        }
        tree
    }

    fn build(&mut self, tag: TagRef) -> Option<TagGroup> {
        let entry = self.entries.get_mut(tag.0)?;
        let children = std::mem::take(&mut entry.children);
        let mut group = TagGroup::new(entry.kind.clone());
        for child in children {
            let node = match child {
                Child::Tag(tag) => self.build(tag).map(Node::Group),
                Child::Slot(slot) => self
                    .slots
                    .get_mut(slot.0)
                    .and_then(Option::take)
                    .map(Node::Leaf),
            };
            if let Some(node) = node {
                group.push(node);
            }
        }
        (!group.children.is_empty()).then_some(group)
    }
}
