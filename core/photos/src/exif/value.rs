//! Values of EXIF fields as numbers and text; what has no value (a division by zero) is absent.

use ::exif::{Context, Exif, Field, In, Tag, Value};

/// A field of the picture itself.
pub(super) fn field(exif: &Exif, tag: Tag) -> Option<&Field> {
    exif.get_field(tag, In::PRIMARY)
}

/// Real numbers of a field; `None` where one of them divides by zero.
pub(super) fn reals(exif: &Exif, tag: Tag) -> Option<Vec<f64>> {
    let divided = |over: f64, under: f64| (under != 0.0).then_some(over / under);
    match &field(exif, tag)?.value {
        Value::Rational(all) => all.iter().map(|r| divided(r.num.into(), r.denom.into())).collect(),
        Value::SRational(all) => all.iter().map(|r| divided(r.num.into(), r.denom.into())).collect(),
        Value::Float(all) => all.iter().map(|v| v.is_finite().then_some(f64::from(*v))).collect(),
        Value::Double(all) => all.iter().map(|v| v.is_finite().then_some(*v)).collect(),
        value => Some(value.iter_uint()?.map(f64::from).collect()),
    }
}

/// The first real number of a field.
pub(super) fn real(exif: &Exif, tag: Tag) -> Option<f64> {
    reals(exif, tag)?.first().copied()
}

/// The first whole number of a field.
pub(super) fn whole(exif: &Exif, tag: Tag) -> Option<u32> {
    field(exif, tag)?.value.get_uint(0)
}

/// Text of a field, trimmed, without control characters; `None` where nothing is left.
pub(super) fn text(exif: &Exif, tag: Tag) -> Option<String> {
    let Value::Ascii(parts) = &field(exif, tag)?.value else {
        return None;
    };
    // Makers fill fields of fixed length with zeros or spaces; some write UTF-8 where ASCII is asked for.
    let first = parts.iter().find(|part| !part.is_empty())?;
    let text = crate::name::clean(&String::from_utf8_lossy(first));
    (!text.is_empty()).then_some(text)
}

/// A field of the GPS block that the reader has no name for.
pub(super) const fn gps(number: u16) -> Tag {
    Tag(Context::Gps, number)
}
