//! The fields that a copy keeps.

use std::io::Cursor;

use ::exif::experimental::Writer;
use ::exif::{Context, Exif, Field, In, Tag};

use super::Tell;
use crate::exif::block;
use crate::kind::Kind;

/// Kept in every copy: how to hold it and when it was taken.
const ALWAYS: &[Tag] = &[
    Tag::Orientation,
    Tag::DateTimeOriginal,
    Tag::OffsetTimeOriginal,
    Tag::SubSecTimeOriginal,
    Tag::ColorSpace,
    Tag::ExifVersion,
];
const CAMERA: &[Tag] =
    &[Tag::Make, Tag::Model, Tag::BodySerialNumber, Tag::LensModel, Tag::LensSerialNumber, Tag::FocalLength];
const OWNER: &[Tag] = &[Tag::Artist, Tag::Copyright, Tag::CameraOwnerName];

/// A block of the fields that a copy keeps, as it stands in EXIF segments; `None` where nothing is to be kept.
pub(super) fn kept(kind: Kind, bytes: &[u8], tell: Tell) -> Option<Vec<u8>> {
    let exif: Exif = block(kind, bytes, &mut Vec::new())?;
    let keeps = |field: &&Field| {
        let tag = field.tag;
        field.ifd_num == In::PRIMARY
            && (ALWAYS.contains(&tag)
                || (tell.camera && CAMERA.contains(&tag))
                || (tell.owner && OWNER.contains(&tag))
                || (tell.position && tag.context() == Context::Gps))
    };
    let fields: Vec<&Field> = exif.fields().filter(keeps).collect();
    if fields.is_empty() {
        return None;
    }
    let mut writer = Writer::new();
    for field in fields {
        writer.push_field(field);
    }
    let mut written = Cursor::new(Vec::new());
    writer.write(&mut written, exif.little_endian()).ok()?;
    Some(written.into_inner())
}
