//! Plane and scale: the gauge card, or two taps.

mod card;
pub(crate) mod drawing;
mod homography;
mod pose;
mod refine;
mod rings;
mod scale;
mod solve;

pub(crate) use card::{Card, find};
pub(crate) use homography::Homography;
pub(crate) use scale::{Plane, plane_of};
pub(crate) use solve::solve;
