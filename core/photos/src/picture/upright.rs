//! Turning a stored picture upright.

use super::Picture;
use crate::exif::Orientation;

/// Where the pixel at (x, y) of the upright picture is stored.
///
/// # Source
/// CIPA DC-008 (EXIF 2.32) 4.6.4, tag 0x0112: which sides the stored first row and first column show.
const fn stored_at(orientation: u8, x: usize, y: usize, width: usize, height: usize) -> (usize, usize) {
    match orientation {
        2 => (width - 1 - x, y),
        3 => (width - 1 - x, height - 1 - y),
        4 => (x, height - 1 - y),
        5 => (y, x),
        6 => (y, height - 1 - x),
        7 => (width - 1 - y, height - 1 - x),
        8 => (width - 1 - y, x),
        _ => (x, y),
    }
}

pub(super) fn upright(picture: Picture, orientation: Orientation) -> Picture {
    if orientation.get() == 1 {
        return picture;
    }
    let (width, height) = (picture.size.width as usize, picture.size.height as usize);
    let size = if orientation.lies_on_its_side() { picture.size.turned() } else { picture.size };
    let mut rgb = Vec::with_capacity(picture.rgb.len());
    for y in 0..size.height as usize {
        for x in 0..size.width as usize {
            let (from_x, from_y) = stored_at(orientation.get(), x, y, width, height);
            let at = (from_y * width + from_x) * 3;
            rgb.extend_from_slice(&picture.rgb[at..at + 3]);
        }
    }
    Picture { size, rgb }
}
