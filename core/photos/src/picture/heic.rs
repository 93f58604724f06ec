//! Unpacking HEIC through libheif, where this build has it (feature `heic`).

use libheif_rs::{
    ColorSpace, DecodingOptions, HeifContext, HeifError, HeifErrorCode, ImageHandle, LibHeif, RgbChroma, SecurityLimits,
};

use super::decode::{Stored, bounded};
use super::{NoPicture, Picture, Size};
use crate::budget::MOST_PICTURE_BYTES;
use crate::kind::Kind;
use crate::reason::Reason;

/// Bytes for each pixel while one is unpacked: brightness and colour apart, the same as red, green and blue, our own
/// copy, and tiles of which large pictures are made.
const PER_PIXEL: u64 = 9;

/// The size of the picture as it is shown: turns and mirrors that the file asks for are already in it.
pub(super) fn stated(bytes: &[u8]) -> Result<Stored, NoPicture> {
    let context = opened(bytes)?;
    let handle = context.primary_image_handle().map_err(|error| refusal(&error))?;
    bounded(Kind::Heic, size(&handle), PER_PIXEL, bytes.len())
}

pub(super) fn decode(bytes: &[u8]) -> Result<(Picture, Option<Vec<u8>>), NoPicture> {
    let context = opened(bytes)?;
    let handle = context.primary_image_handle().map_err(|error| refusal(&error))?;
    let mut options = DecodingOptions::new().ok_or_else(|| none("there is no memory for it"))?;
    options.set_convert_hdr_to_8bit(true);
    let image = LibHeif::new()
        .decode(&handle, ColorSpace::Rgb(RgbChroma::Rgb), Some(options))
        .map_err(|error| none(&short(&error)))?;
    let plane = image.planes().interleaved.ok_or_else(|| none("its colours cannot be read"))?;
    let size = Size { width: plane.width, height: plane.height };
    // Rows are padded.
    let row = size.width as usize * 3;
    let mut rgb = Vec::with_capacity(row * size.height as usize);
    for padded in plane.data.chunks(plane.stride.max(1)).take(size.height as usize) {
        rgb.extend_from_slice(padded.get(..row).ok_or_else(|| none("its rows are too short"))?);
    }
    if rgb.len() != row * size.height as usize {
        return Err(none("some of its rows are missing"));
    }
    Ok((Picture { size, rgb }, handle.color_profile_raw().map(|profile| profile.data)))
}

fn opened(bytes: &[u8]) -> Result<HeifContext<'_>, NoPicture> {
    let mut context = HeifContext::new().map_err(|error| none(&short(&error)))?;
    let mut limits: SecurityLimits = context.security_limits();
    limits.set_max_total_memory(MOST_PICTURE_BYTES);
    limits.set_max_memory_block_size(MOST_PICTURE_BYTES);
    context.set_security_limits(&limits).map_err(|error| none(&short(&error)))?;
    // An import has its own hands.
    context.set_max_decoding_threads(0);
    context.read_bytes(bytes).map_err(|error| refusal(&error))?;
    Ok(context)
}

fn size(handle: &ImageHandle) -> Size {
    Size { width: handle.width(), height: handle.height() }
}

/// What libheif does not know yet is kept; what is damaged from the start is no picture.
fn refusal(error: &HeifError) -> NoPicture {
    match error.code {
        HeifErrorCode::InvalidInput => NoPicture::Refused(Reason::Broken { kind: Kind::Heic, why: short(error) }),
        _ => none(&short(error)),
    }
}

fn none(why: &str) -> NoPicture {
    NoPicture::NoPreview(format!("no preview can be made: {why}; the file is kept as it is"))
}

fn short(error: &HeifError) -> String {
    crate::name::clean(&error.message).chars().take(160).collect()
}
