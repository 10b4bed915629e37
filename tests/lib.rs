//! Nothing but tests: see `arrows.rs`, `carriers/`, `e2e/`, `window/`.
