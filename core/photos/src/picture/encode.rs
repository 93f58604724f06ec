//! Packing as JPEG, without a word about camera, place or person.

use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

use super::Picture;

/// How a picture is packed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Packing {
    /// 1 to 100.
    pub(crate) quality: u8,
    /// How much of the colour is kept.
    pub(crate) colour: Colour,
}

/// How much of the colour is kept; brightness is always whole.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Colour {
    /// All of it.
    Whole,
    /// Half of it each way, as cameras do.
    Halved,
}

/// A picture as a JPEG file.
///
/// # Errors
/// A side is longer than 65,535 pixels, which JPEG cannot hold.
pub(crate) fn jpeg(picture: &Picture, packing: Packing) -> Result<Vec<u8>, String> {
    let side = |side: u32| u16::try_from(side).map_err(|_| format!("{side} pixels are more than a JPEG holds"));
    let mut file = Vec::new();
    let mut encoder = Encoder::new(&mut file, packing.quality);
    encoder.set_sampling_factor(match packing.colour {
        Colour::Whole => SamplingFactor::F_1_1,
        Colour::Halved => SamplingFactor::F_2_2,
    });
    encoder
        .encode(&picture.rgb, side(picture.size.width)?, side(picture.size.height)?, ColorType::Rgb)
        .map_err(|error| error.to_string())?;
    Ok(file)
}
