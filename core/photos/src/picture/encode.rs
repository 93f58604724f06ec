//! Packing as JPEG, without a word about camera, place or person.

use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

use super::Picture;

/// A picture as a JPEG file of this quality (1 to 100).
///
/// # Errors
/// A side is longer than 65,535 pixels, which JPEG cannot hold.
pub(crate) fn jpeg(picture: &Picture, quality: u8) -> Result<Vec<u8>, String> {
    let side = |side: u32| u16::try_from(side).map_err(|_| format!("{side} pixels are more than a JPEG holds"));
    let mut file = Vec::new();
    let mut encoder = Encoder::new(&mut file, quality);
    encoder.set_sampling_factor(SamplingFactor::F_2_2);
    encoder
        .encode(&picture.rgb, side(picture.size.width)?, side(picture.size.height)?, ColorType::Rgb)
        .map_err(|error| error.to_string())?;
    Ok(file)
}
