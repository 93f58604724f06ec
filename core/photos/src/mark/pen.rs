//! Lines with a dark edge, so that they can be seen on light and dark ground alike.

use crate::picture::Picture;

/// Colour of marks.
pub(super) const INK: [u8; 3] = [255, 196, 0];
/// Colour around them.
pub(super) const EDGE: [u8; 3] = [16, 20, 24];

/// A straight stroke between two places in pixels.
type Stroke = ((f32, f32), (f32, f32));

/// Draws on a picture; places are thousandths of its width and height.
pub(super) struct Pen<'a> {
    pub(super) picture: &'a mut Picture,
    /// Half the width of a line, pixels.
    pub(super) half: f32,
}

impl<'a> Pen<'a> {
    pub(super) fn of(picture: &'a mut Picture) -> Self {
        let long = picture.size.width.max(picture.size.height) as f32;
        Self { half: (long / 700.0).max(1.0), picture }
    }

    /// A place in pixels.
    pub(super) fn at(&self, (x, y): (u16, u16)) -> (f32, f32) {
        let part = |permille: u16, side: u32| f32::from(permille.min(1000)) / 1000.0 * (side.saturating_sub(1)) as f32;
        (part(x, self.picture.size.width), part(y, self.picture.size.height))
    }

    pub(super) fn arrow(&mut self, from: (u16, u16), to: (u16, u16)) {
        let (from, to) = (self.at(from), self.at(to));
        let mut lines = vec![(from, to)];
        lines.extend(self.head(from, to));
        self.stroke(&lines);
    }

    pub(super) fn dimension(&mut self, from: (u16, u16), to: (u16, u16)) {
        let (from, to) = (self.at(from), self.at(to));
        let mut lines = vec![(from, to)];
        lines.extend(self.head(from, to));
        lines.extend(self.head(to, from));
        // A bar across each end shows where the measure stops.
        if let Some((ux, uy)) = unit(from, to) {
            let bar = self.half * 9.0;
            for (x, y) in [from, to] {
                lines.push(((x - uy * bar, y + ux * bar), (x + uy * bar, y - ux * bar)));
            }
        }
        self.stroke(&lines);
    }

    pub(super) fn frame(&mut self, from: (u16, u16), to: (u16, u16)) {
        let ((ax, ay), (bx, by)) = (self.at(from), self.at(to));
        let corners = [(ax, ay), (bx, ay), (bx, by), (ax, by)];
        let lines: Vec<_> = (0..4).map(|n| (corners[n], corners[(n + 1) % 4])).collect();
        self.stroke(&lines);
    }

    /// The two strokes of an arrow head.
    fn head(&self, from: (f32, f32), to: (f32, f32)) -> Vec<Stroke> {
        let Some((ux, uy)) = unit(from, to) else { return Vec::new() };
        let long = self.half * 12.0;
        let wide = self.half * 6.0;
        let back = (to.0 - ux * long, to.1 - uy * long);
        vec![(to, (back.0 - uy * wide, back.1 + ux * wide)), (to, (back.0 + uy * wide, back.1 - ux * wide))]
    }

    /// All edges first, so that no edge crosses a line of the same mark.
    fn stroke(&mut self, lines: &[Stroke]) {
        for (colour, half) in [(EDGE, self.half * 1.8), (INK, self.half)] {
            for (from, to) in lines {
                self.line(*from, *to, half, colour);
            }
        }
    }

    fn line(&mut self, from: (f32, f32), to: (f32, f32), half: f32, colour: [u8; 3]) {
        let reach = half + 1.0;
        let (width, height) = (self.picture.size.width as f32, self.picture.size.height as f32);
        let span = |a: f32, b: f32, side: f32| {
            let least = (a.min(b) - reach).clamp(0.0, side) as u32;
            let greatest = (a.max(b) + reach + 1.0).clamp(0.0, side) as u32;
            least..greatest
        };
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let square = dx * dx + dy * dy;
        for y in span(from.1, to.1, height) {
            // Only the part of the row that the line passes, which keeps a long slanting line cheap.
            let (least, greatest) = row(from, to, y as f32, reach);
            for x in span(least, greatest, width) {
                let (px, py) = (x as f32 - from.0, y as f32 - from.1);
                let part = if square == 0.0 { 0.0 } else { ((px * dx + py * dy) / square).clamp(0.0, 1.0) };
                let (ex, ey) = (px - part * dx, py - part * dy);
                let cover = (half + 0.5 - (ex * ex + ey * ey).sqrt()).clamp(0.0, 1.0);
                self.blend(x, y, colour, cover);
            }
        }
    }

    /// Lays a colour over a pixel.
    pub(super) fn blend(&mut self, x: u32, y: u32, colour: [u8; 3], cover: f32) {
        if cover <= 0.0 || x >= self.picture.size.width || y >= self.picture.size.height {
            return;
        }
        let at = (y as usize * self.picture.size.width as usize + x as usize) * 3;
        for (below, above) in self.picture.rgb[at..at + 3].iter_mut().zip(colour) {
            *below = (f32::from(*below) + (f32::from(above) - f32::from(*below)) * cover.min(1.0)).round() as u8;
        }
    }
}

/// The direction from one point to another.
fn unit(from: (f32, f32), to: (f32, f32)) -> Option<(f32, f32)> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = (dx * dx + dy * dy).sqrt();
    (length > 0.0).then(|| (dx / length, dy / length))
}

/// The span of x that a line covers near one row.
fn row(from: (f32, f32), to: (f32, f32), y: f32, reach: f32) -> (f32, f32) {
    let dy = to.1 - from.1;
    if dy.abs() < 1.0 {
        return (from.0.min(to.0), from.0.max(to.0));
    }
    // A line of this slope is wider along a row than across itself; twice the reach along both axes covers it.
    let x = |y: f32| from.0 + (to.0 - from.0) * ((y - from.1) / dy).clamp(0.0, 1.0);
    let (a, b) = (x(y - reach * 2.0), x(y + reach * 2.0));
    (a.min(b) - reach, a.max(b) + reach)
}
