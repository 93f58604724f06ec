//! Scaling down, with a Lanczos filter of three lobes as common viewers do.

use fast_image_resize::images::{TypedImage, TypedImageRef};
use fast_image_resize::pixels::U8x3;
use fast_image_resize::{FilterType, ResizeAlg, ResizeOptions, Resizer};

use super::{Picture, Size};

pub(super) fn resize(picture: Picture, to: Size) -> Picture {
    if picture.size == to {
        return picture;
    }
    let Ok(from) = TypedImageRef::<U8x3>::from_buffer(picture.size.width, picture.size.height, &picture.rgb) else {
        return picture;
    };
    let mut rgb = vec![0; to.width as usize * to.height as usize * 3];
    let done = TypedImage::<U8x3>::from_buffer(to.width, to.height, &mut rgb)
        .map_err(|error| error.to_string())
        .and_then(|mut into| {
            let options =
                ResizeOptions::new().resize_alg(ResizeAlg::Convolution(FilterType::Lanczos3)).use_alpha(false);
            Resizer::new().resize_typed(&from, &mut into, &options).map_err(|error| error.to_string())
        });
    match done {
        Ok(()) => Picture { size: to, rgb },
        Err(_) => picture,
    }
}
