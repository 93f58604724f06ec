//! Words on a dark ground, in the typeface that covers most scripts of Europe.

use ab_glyph::{Font, FontRef, PxScale, ScaleFont, point};

use super::pen::{EDGE, INK, Pen};

/// Where words stand against their place.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    /// They start there.
    Start,
    /// Their middle is there.
    Middle,
}

/// DejaVu Sans, the same file as papers use.
const FONT: &[u8] = include_bytes!("../../../papers/fonts/DejaVuSans.ttf");

/// Longer words are cut; a mark is no letter.
const MOST_CHARS: usize = 200;

impl Pen<'_> {
    pub(super) fn words(&mut self, place: (u16, u16), text: &str, anchor: Anchor) {
        let Ok(font) = FontRef::try_from_slice(FONT) else { return };
        let font = font.as_scaled(PxScale::from((self.half * 16.0).max(11.0)));
        let text: String = crate::name::clean(text).chars().take(MOST_CHARS).collect();
        let (mut width, mut glyphs, mut last) = (0.0, Vec::new(), None);
        for c in text.chars() {
            let id = font.glyph_id(c);
            if let Some(last) = last {
                width += font.kern(last, id);
            }
            glyphs.push((id, width));
            width += font.h_advance(id);
            last = Some(id);
        }
        let (x, y) = self.at(place);
        let pad = self.half * 3.0;
        let (box_width, box_height) = (width + pad * 2.0, font.height() + pad * 2.0);
        let (mut left, mut top) = match anchor {
            Anchor::Start => (x, y),
            Anchor::Middle => (x - box_width / 2.0, y - box_height / 2.0),
        };
        // Words near an edge are moved inside, as far as they fit.
        left = left.min(self.picture.size.width as f32 - box_width).max(0.0);
        top = top.min(self.picture.size.height as f32 - box_height).max(0.0);
        for row in top as u32..(top + box_height) as u32 {
            for column in left as u32..(left + box_width) as u32 {
                self.blend(column, row, EDGE, 0.8);
            }
        }
        for (id, along) in glyphs {
            let at = point(left + pad + along, top + pad + font.ascent());
            let Some(outline) = font.outline_glyph(id.with_scale_and_position(font.scale(), at)) else { continue };
            let bounds = outline.px_bounds();
            outline.draw(|dx, dy, cover| {
                let (x, y) = (bounds.min.x + dx as f32, bounds.min.y + dy as f32);
                if x >= 0.0 && y >= 0.0 {
                    self.blend(x as u32, y as u32, INK, cover);
                }
            });
        }
    }
}
