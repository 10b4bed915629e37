//! The reading cut into its stages, so that a bench can time each; not for callers.
//! Together they do what `read` does, but for the magnet and the fluid.

use swarfbook_job::census::{Particle, PhotoHints, PhotoKind};

use crate::limits::{quality, smallest_mm};
use crate::net::Unusable;
use crate::plane::{Plane, plane_of};
use crate::reading::{Judges, Look, Seen, particles};
use crate::{Settings, Upright};

/// A photo as far as it is read; each stage goes on from the one before.
pub struct Staged<'a> {
    picture: &'a Upright,
    hints: &'a PhotoHints,
    kind: PhotoKind,
    judges: Judges,
    plane: Option<Plane>,
    look: Option<Look>,
    seen: Vec<Seen>,
}

/// A stage with its name.
pub type Stage<'a> = (&'static str, fn(&mut Staged<'a>) -> usize);

impl<'a> Staged<'a> {
    /// Nothing done yet.
    pub fn new(
        picture: &'a Upright,
        hints: &'a PhotoHints,
        settings: &Settings,
    ) -> Result<Staged<'a>, Unusable> {
        Ok(Staged {
            picture,
            hints,
            kind: settings.kind,
            judges: Judges::built_in()?,
            plane: None,
            look: None,
            seen: Vec::new(),
        })
    }

    /// The stages in order; each tells how much it found, so that none is left out by a compiler.
    pub fn stages() -> [Stage<'a>; 5] {
        [
            ("card and plane", Staged::plane),
            ("ground, finder", Staged::search),
            ("edges, sizes", Staged::measure),
            ("classes", |s| s.judge().len()),
            ("limits", Staged::limits),
        ]
    }

    fn plane(&mut self) -> usize {
        self.plane = Some(plane_of(self.picture, self.hints, self.kind));
        usize::from(self.plane.as_ref().is_some_and(|p| p.card.is_some()))
    }

    fn search(&mut self) -> usize {
        let plane = self.plane.as_ref().filter(|plane| plane.px_per_mm > 0.0);
        self.look = plane.and_then(|plane| {
            Look::new(
                self.picture,
                plane,
                self.kind,
                self.hints,
                &self.judges.finder,
            )
        });
        usize::from(self.look.is_some())
    }

    fn measure(&mut self) -> usize {
        self.seen = self.look.as_ref().map_or_else(Vec::new, |look| {
            look.pieces(self.picture, self.kind, self.hints, &self.judges.pixels)
        });
        self.seen.len()
    }

    fn judge(&mut self) -> Vec<Particle> {
        let seen = std::mem::take(&mut self.seen);
        self.plane.as_ref().map_or_else(Vec::new, |plane| {
            particles(seen, plane, &self.judges, self.kind)
        })
    }

    fn limits(&mut self) -> usize {
        let px_per_mm = self.plane.as_ref().map_or(1.0, |plane| plane.px_per_mm);
        (1000.0 * smallest_mm(&quality(self.picture), px_per_mm)) as usize
    }
}
