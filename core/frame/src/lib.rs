//! What the parts that run beside a camera share: room that a page writes a frame into, and
//! how corners stand among the figures that go back to it.

/// Longer sides than any frame needs are refused, px.
pub const MOST_SIDE: u32 = 4096;

/// One frame: pixels of four bytes (RGBA), row by row.
#[derive(Debug, Default)]
pub struct Frame {
    width: usize,
    height: usize,
    rgba: Vec<u8>,
}

impl Frame {
    /// Room for a frame of this size, px; a null pointer for a size that is no frame's.
    pub fn room(&mut self, width: u32, height: u32) -> *mut u8 {
        if width == 0 || height == 0 || width.max(height) > MOST_SIDE {
            return std::ptr::null_mut();
        }
        (self.width, self.height) = (width as usize, height as usize);
        self.rgba.resize(4 * self.width * self.height, 0);
        self.rgba.as_mut_ptr()
    }

    /// Width, px.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Height, px.
    pub fn height(&self) -> usize {
        self.height
    }

    /// Four bytes a pixel.
    pub fn rgba(&self) -> &[u8] {
        &self.rgba
    }

    /// The same, to be written by who needs no pointer.
    pub fn rgba_mut(&mut self) -> &mut [u8] {
        &mut self.rgba
    }
}

/// Puts corners, px, among the figures from the first of these on: x, y in turn.
pub fn put_corners<'a>(figures: &mut [f64], corners: impl IntoIterator<Item = &'a [f64; 2]>) {
    for (to, corner) in figures.chunks_exact_mut(2).zip(corners) {
        to.copy_from_slice(corner);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_that_is_no_frames_gets_no_room() {
        let mut frame = Frame::default();
        assert!(frame.room(0, 10).is_null());
        assert!(frame.room(10, MOST_SIDE + 1).is_null());
        assert!(!frame.room(320, 240).is_null());
        assert_eq!((frame.width(), frame.height()), (320, 240));
        assert_eq!(frame.rgba().len(), 4 * 320 * 240);
    }

    #[test]
    fn corners_stand_in_their_places_as_far_as_there_is_one() {
        let mut figures = [0.0; 5];
        put_corners(&mut figures[1..], &[[1.0, 2.0]]);
        assert_eq!(figures, [0.0, 1.0, 2.0, 0.0, 0.0]);
    }
}
