//! Photo to plane and scale, to particles, to classes, to census. Pure.
