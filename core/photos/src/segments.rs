//! The segments of a JPEG file (ITU-T T.81, annex B.1): enough to find its EXIF and to leave parts out.

use std::ops::Range;

use crate::picture::Size;

/// One segment before the picture's data.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Segment {
    /// Its marker, the byte after 0xFF.
    pub(crate) marker: u8,
    /// The whole of it, marker included.
    pub(crate) whole: Range<usize>,
    /// What it holds, without marker and length.
    pub(crate) body: Range<usize>,
}

/// The end of the picture.
const EOI: u8 = 0xd9;
pub(crate) const SOS: u8 = 0xda;

/// The segments up to the first scan. A segment that claims more than is there ends with the file.
pub(crate) fn header(bytes: &[u8]) -> Vec<Segment> {
    let mut found = Vec::new();
    let mut at = 2;
    while let Some(segment) = next(bytes, at) {
        at = segment.whole.end;
        let last = segment.marker == SOS || segment.marker == EOI;
        found.push(segment);
        if last {
            break;
        }
    }
    found
}

fn next(bytes: &[u8], mut at: usize) -> Option<Segment> {
    // Bytes between segments are passed over, as decoders do.
    while *bytes.get(at)? != 0xff {
        at += 1;
    }
    let start = at;
    while *bytes.get(at)? == 0xff {
        at += 1;
    }
    let marker = bytes[at];
    at += 1;
    if matches!(marker, 0x00 | 0x01 | 0xd0..=0xd9) {
        return Some(Segment { marker, whole: start..at, body: at..at });
    }
    let length = usize::from(u16::from_be_bytes([*bytes.get(at)?, *bytes.get(at + 1)?]));
    let end = (at + length.max(2)).min(bytes.len());
    Some(Segment { marker, whole: start..end, body: (at + 2).min(end)..end })
}

/// The parts of the picture's data from the first scan (which starts at `from`) to its end marker, without words and
/// pictures that makers put between scans, and whether the end marker is there. What follows is appended: further
/// pictures (MPF) or a film (motion photo).
pub(crate) fn scans(bytes: &[u8], from: usize) -> (Vec<Range<usize>>, Ending) {
    let mut parts = Vec::new();
    let mut at = from;
    loop {
        // In a scan 0xFF is followed by zero or a restart marker; anything else opens the next segment.
        let rest = bytes.get(at..).unwrap_or_default();
        let scan = rest.windows(2).position(|w| w[0] == 0xff && !matches!(w[1], 0 | 0xff | 0xd0..=0xd7));
        let Some(segment) = scan.and_then(|step| next(bytes, at + step)) else {
            parts.push(at..bytes.len());
            return (parts, Ending::CutShort);
        };
        parts.push(at..segment.whole.start);
        at = segment.whole.end;
        if !is_aside(segment.marker) {
            parts.push(segment.whole);
        }
        if segment.marker == EOI {
            return (parts, Ending::Whole);
        }
    }
}

/// Whether a picture's data reaches its end marker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ending {
    /// It does.
    Whole,
    /// The file ends before.
    CutShort,
}

/// Whether a segment says something beside the picture: application data or a comment.
pub(crate) const fn is_aside(marker: u8) -> bool {
    matches!(marker, 0xe0..=0xef | 0xfe)
}

/// The EXIF block of a JPEG, as far as it is there, and whether it was cut short.
pub(crate) fn exif(bytes: &[u8]) -> Option<(&[u8], bool)> {
    let segment =
        header(bytes).into_iter().find(|s| s.marker == 0xe1 && bytes[s.body.clone()].starts_with(b"Exif\0\0"))?;
    let claimed = usize::from(u16::from_be_bytes([bytes[segment.body.start - 2], bytes[segment.body.start - 1]]));
    let cut = segment.body.len() + 2 < claimed;
    Some((&bytes[segment.body.start + 6..segment.body.end], cut))
}

/// What the frame header states.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Frame {
    /// Size as stored.
    pub(crate) size: Size,
    /// Whether the picture comes in several passes.
    pub(crate) progressive: bool,
}

/// The frame header (T.81 B.2.2); `None` where there is none before the first scan.
pub(crate) fn frame(bytes: &[u8]) -> Option<Frame> {
    let start = header(bytes)
        .into_iter()
        .find(|s| matches!(s.marker, 0xc0..=0xcf) && !matches!(s.marker, 0xc4 | 0xc8 | 0xcc))?;
    let body = bytes.get(start.body)?;
    let side = |at: usize| Some(u32::from(u16::from_be_bytes([*body.get(at)?, *body.get(at + 1)?])));
    Some(Frame { size: Size { height: side(1)?, width: side(3)? }, progressive: start.marker == 0xc2 })
}
