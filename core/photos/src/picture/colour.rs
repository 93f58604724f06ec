//! From a picture's own colours to sRGB, by its ICC profile.

use moxcms::{ColorProfile, DataColorSpace, Layout, TransformOptions};

use super::Picture;

/// A picture without a profile is sRGB by agreement (EXIF 2.32, 4.6.5; from memory), and so is one whose profile cannot
/// be read.
pub(super) fn to_srgb(mut picture: Picture, profile: Option<&[u8]>) -> Picture {
    let Some(profile) = profile.and_then(|bytes| ColorProfile::new_from_slice(bytes).ok()) else {
        return picture;
    };
    if profile.color_space != DataColorSpace::Rgb {
        return picture;
    }
    let srgb = ColorProfile::new_srgb();
    let Ok(transform) = profile.create_transform_8bit(Layout::Rgb, &srgb, Layout::Rgb, TransformOptions::default())
    else {
        return picture;
    };
    let mut rgb = vec![0; picture.rgb.len()];
    if transform.transform(&picture.rgb, &mut rgb).is_ok() {
        picture.rgb = rgb;
    }
    picture
}
