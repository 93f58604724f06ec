//! Unpacking, within stated limits.

use std::io::Cursor;

use image::codecs::{png::PngDecoder, tiff::TiffDecoder, webp::WebPDecoder};
use image::{DynamicImage, ImageDecoder, Limits};
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::{NoPicture, Picture, Size};
use crate::budget::MOST_PICTURE_BYTES;
use crate::kind::Kind;
use crate::reason::Reason;
use crate::segments;

/// What a file states of its picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Stored {
    /// Its size as stored, before it is turned upright.
    pub(crate) size: Size,
    /// Memory to unpack and scale it, bytes.
    pub(crate) memory: u64,
}

/// Packed pictures hold at most about 1,000 pixels in a byte: one-coloured ones, which no camera takes.
const MOST_PIXELS_PER_BYTE: u64 = 1000;

pub(super) fn stated(kind: Kind, bytes: &[u8]) -> Result<Stored, NoPicture> {
    let broken = |why: &str| NoPicture::Refused(Reason::Broken { kind, why: why.to_owned() });
    let (size, per_pixel) = match kind {
        Kind::Heic => return heic_stated(bytes),
        Kind::Jpeg => {
            let frame = segments::frame(bytes).ok_or_else(|| broken("it has no frame header"))?;
            // A progressive picture is collected as 16-bit coefficients first.
            (frame.size, if frame.progressive { 9 } else { 3 })
        }
        Kind::Png | Kind::Tiff | Kind::WebP => {
            let decoder = opened(kind, bytes).map_err(|error| refusal(kind, bytes, &error))?;
            let (width, height) = decoder.dimensions();
            let stored = u64::from(decoder.color_type().bytes_per_pixel());
            (Size { width, height }, stored + 4 + 3)
        }
    };
    bounded(kind, size, per_pixel, bytes.len())
}

/// What a picture of this size takes; refuses one that claims what its bytes cannot hold.
pub(super) fn bounded(kind: Kind, size: Size, per_pixel: u64, length: usize) -> Result<Stored, NoPicture> {
    if size.width == 0 || size.height == 0 {
        let why = "its width or height is zero".to_owned();
        return Err(NoPicture::Refused(Reason::Broken { kind, why }));
    }
    let pixels = u64::from(size.width) * u64::from(size.height);
    let memory = pixels.saturating_mul(per_pixel) + u64::from(size.height) * 1600 * 3;
    let length = length as u64;
    if memory > MOST_PICTURE_BYTES && pixels / length.max(1) > MOST_PIXELS_PER_BYTE {
        return Err(NoPicture::Refused(bomb(size, length)));
    }
    Ok(Stored { size, memory })
}

#[cfg(feature = "heic")]
fn heic_stated(bytes: &[u8]) -> Result<Stored, NoPicture> {
    super::heic::stated(bytes)
}

#[cfg(not(feature = "heic"))]
fn heic_stated(_: &[u8]) -> Result<Stored, NoPicture> {
    let why =
        "no preview can be made: this build does not unpack HEIC; the file is kept as it is and its details were read";
    Err(NoPicture::NoPreview(why.to_owned()))
}

pub(super) fn decode(kind: Kind, bytes: &[u8]) -> Result<(Picture, Option<Vec<u8>>), NoPicture> {
    #[cfg(feature = "heic")]
    if kind == Kind::Heic {
        return super::heic::decode(bytes);
    }
    if kind == Kind::Jpeg {
        return jpeg(bytes).map_err(|error| {
            NoPicture::NoPreview(format!("no preview can be made: the picture's data is damaged ({error})"))
        });
    }
    let damaged = |error: image::ImageError| NoPicture::NoPreview(format!("no preview can be made: {}", short(&error)));
    let mut decoder = opened(kind, bytes).map_err(|error| refusal(kind, bytes, &error))?;
    let profile = decoder.icc_profile().ok().flatten();
    let image = DynamicImage::from_decoder(decoder).map_err(damaged)?;
    let size = Size { width: image.width(), height: image.height() };
    let rgb = if image.color().has_alpha() { on_white(image) } else { image.into_rgb8().into_raw() };
    Ok((Picture { size, rgb }, profile))
}

fn jpeg(bytes: &[u8]) -> Result<(Picture, Option<Vec<u8>>), String> {
    let options = DecoderOptions::default()
        .set_max_width(usize::from(u16::MAX))
        .set_max_height(usize::from(u16::MAX))
        .jpeg_set_out_colorspace(ColorSpace::RGB);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    let rgb = decoder.decode().map_err(|error| format!("{error:?}"))?;
    let (width, height) = decoder.dimensions().ok_or("it states no size")?;
    let fits = |side: usize| u32::try_from(side).map_err(|_| "it is too large".to_owned());
    let size = Size { width: fits(width)?, height: fits(height)? };
    if rgb.len() != width * height * 3 {
        return Err("its colours cannot be read".to_owned());
    }
    Ok((Picture { size, rgb }, decoder.icc_profile()))
}

/// A decoder that refuses to take more memory than a picture may.
fn opened(kind: Kind, bytes: &[u8]) -> image::ImageResult<Box<dyn ImageDecoder + '_>> {
    let mut limits = Limits::no_limits();
    limits.max_alloc = Some(MOST_PICTURE_BYTES);
    let mut decoder: Box<dyn ImageDecoder> = match kind {
        Kind::Tiff => Box::new(TiffDecoder::new(Cursor::new(bytes))?),
        Kind::WebP => Box::new(WebPDecoder::new(Cursor::new(bytes))?),
        _ => Box::new(PngDecoder::new(Cursor::new(bytes))?),
    };
    decoder.set_limits(limits)?;
    Ok(decoder)
}

fn refusal(kind: Kind, bytes: &[u8], error: &image::ImageError) -> NoPicture {
    // A PNG's size stands at a fixed place, also where the decoder refuses it for its size.
    if kind == Kind::Png
        && let (Some(width), Some(height)) = (big_endian(bytes, 16), big_endian(bytes, 20))
        && u64::from(width) * u64::from(height) / (bytes.len() as u64) > MOST_PIXELS_PER_BYTE
    {
        return NoPicture::Refused(bomb(Size { width, height }, bytes.len() as u64));
    }
    if matches!(error, image::ImageError::Limits(_)) {
        return NoPicture::NoPreview(
            "no preview can be made: the picture needs more memory than Newel takes".to_owned(),
        );
    }
    NoPicture::Refused(Reason::Broken { kind, why: short(error) })
}

fn big_endian(bytes: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(*bytes.get(at..)?.first_chunk::<4>()?))
}

fn bomb(size: Size, bytes: u64) -> Reason {
    Reason::Bomb { width: size.width.into(), height: size.height.into(), bytes }
}

fn short(error: &image::ImageError) -> String {
    crate::name::clean(&error.to_string()).chars().take(160).collect()
}

fn on_white(image: DynamicImage) -> Vec<u8> {
    let rgba = image.into_rgba8().into_raw();
    rgba.chunks_exact(4)
        .flat_map(|p| {
            let over = |c: u8| (u32::from(c) * u32::from(p[3]) + 255 * (255 - u32::from(p[3])) + 127) / 255;
            [over(p[0]) as u8, over(p[1]) as u8, over(p[2]) as u8]
        })
        .collect()
}
