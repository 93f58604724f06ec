//! The table of fields: which fields a thing has, what people call them, and how they are read and written.

use automerge::ScalarValue;
use survey::Id;

use super::source::Source;
use crate::stored::Stored;

/// One field of a kind of thing.
#[derive(Clone, Copy)]
pub struct Field {
    /// Its name in the document.
    pub name: &'static str,
    /// What people call it.
    pub words: &'static str,
    /// Whether it holds a bare length, for saying it.
    pub length: bool,
    /// Whether somebody may be hurt where the answer is wrong: while it is disputed it counts as stop.
    pub safety: bool,
    /// Says what is wrong with a value, or nothing.
    pub check: fn(&ScalarValue) -> Result<(), String>,
    /// The value as this release would write it.
    pub rewrite: fn(&ScalarValue) -> Option<ScalarValue>,
}

impl Field {
    /// A field that is neither a bare length nor a safety answer.
    pub(crate) const fn new<T: Stored>(name: &'static str, words: &'static str) -> Self {
        Self { name, words, length: false, safety: false, check: check::<T>, rewrite: rewrite::<T> }
    }
}

/// Something stored field by field.
pub(crate) trait Tabled: Sized {
    /// Its fields, without `order` and `removed`.
    const FIELDS: &'static [Field];
    /// Its values, in the order of the fields.
    fn scalars(&self) -> Vec<ScalarValue>;
    /// From its fields; `None` where a needed one is missing or cannot be read, which the source notes.
    fn read(id: &Id, source: &mut Source<'_>) -> Option<Self>;
}

pub(crate) fn check<T: Stored>(scalar: &ScalarValue) -> Result<(), String> {
    T::from_scalar(scalar).map(|_| ())
}

pub(crate) fn rewrite<T: Stored>(scalar: &ScalarValue) -> Option<ScalarValue> {
    T::from_scalar(scalar).ok().map(|value| value.to_scalar())
}

/// Declares the fields of a thing: `member: type = "name", "words"`.
macro_rules! tabled {
    ($ty:ty $(, id $id:ident)? { $($field:ident: $t:ty = $name:literal, $words:literal);+ $(;)? }) => {
        impl $crate::document::table::Tabled for $ty {
            const FIELDS: &'static [$crate::document::table::Field] = &[
                $($crate::document::table::Field {
                    name: $name,
                    words: $words,
                    length: $crate::document::table::is_length(stringify!($t)),
                    safety: $crate::document::table::is_safety(stringify!($t)),
                    check: $crate::document::table::check::<$t>,
                    rewrite: $crate::document::table::rewrite::<$t>,
                }),+
            ];
            fn scalars(&self) -> Vec<automerge::ScalarValue> {
                vec![$($crate::stored::Stored::to_scalar(&self.$field)),+]
            }
            #[allow(unused_variables, reason = "the site and the brief have no id as key")]
            fn read(id: &survey::Id, source: &mut $crate::document::source::Source<'_>) -> Option<Self> {
                // Every field is looked at, so that every unreadable one is noted at once.
                $(let $field: Option<$t> = source.take($name);)+
                Some(Self { $($id: id.clone(),)? $($field: $field?),+ })
            }
        }
    };
}
pub(crate) use tabled;

pub(crate) const fn is_length(ty: &str) -> bool {
    matches!(ty.as_bytes(), b"Length" | b"Option<Length>")
}

/// Answers on bonding, guards and sealed tubes; whether a cable passes; whose rail it is; what a feature is, which says
/// whether a cable passes into a post; bends, which hold a passage; and exposure, which holds pools and bathrooms.
pub(crate) const fn is_safety(ty: &str) -> bool {
    matches!(
        ty.as_bytes(),
        b"Answer" | b"Passage" | b"OwnedBy" | b"FeatureKind" | b"Shape" | b"Exposure" | b"Option<Exposure>"
    )
}
