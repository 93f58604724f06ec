//! How a wire type mirrors a plain one: the same fields under names that carry their unit, and a way there and back.
//!
//! Both macros build whole struct literals and matches, so a field or a kind that is added to a plain type and
//! forgotten here does not compile.

/// A wire type that stands for a plain one.
pub trait Mirror {
    /// The plain type.
    type Plain;

    /// The wire form of a plain value.
    fn from_plain(plain: &Self::Plain) -> Self;

    /// The plain value. Limits were proved when the wire value was made, so this cannot fail.
    fn into_plain(self) -> Self::Plain;
}

macro_rules! itself {
    ($($kind:ty),*) => {$(
        impl Mirror for $kind {
            type Plain = Self;
            fn from_plain(plain: &Self) -> Self {
                plain.clone()
            }
            fn into_plain(self) -> Self {
                self
            }
        }
    )*};
}
itself!(String, bool, u8, u16, u32);

impl<W: Mirror> Mirror for Vec<W> {
    type Plain = Vec<W::Plain>;
    fn from_plain(plain: &Self::Plain) -> Self {
        plain.iter().map(W::from_plain).collect()
    }
    fn into_plain(self) -> Self::Plain {
        self.into_iter().map(W::into_plain).collect()
    }
}

impl<W: Mirror> Mirror for Option<W> {
    type Plain = Option<W::Plain>;
    fn from_plain(plain: &Self::Plain) -> Self {
        plain.as_ref().map(W::from_plain)
    }
    fn into_plain(self) -> Self::Plain {
        self.map(W::into_plain)
    }
}

/// A struct: `wire_field: WireType = plain_field`.
macro_rules! record {
    ($(#[$meta:meta])* $name:ident = $plain:ty {
        $($(#[$field_meta:meta])* $field:ident: $kind:ty = $plain_field:ident),* $(,)?
    }) => {
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
        $(#[$meta])*
        pub struct $name {
            $($(#[$field_meta])* pub $field: $kind),*
        }

        impl $crate::wire::mirror::Mirror for $name {
            type Plain = $plain;
            fn from_plain(plain: &$plain) -> Self {
                Self { $($field: $crate::wire::mirror::Mirror::from_plain(&plain.$plain_field)),* }
            }
            fn into_plain(self) -> $plain {
                type Plain = $plain;
                Plain { $($plain_field: $crate::wire::mirror::Mirror::into_plain(self.$field)),* }
            }
        }
    };
}

/// An enum whose kinds carry nothing, written as a word.
macro_rules! words {
    ($(#[$meta:meta])* $name:ident = $plain:ty {
        $($(#[$variant_meta:meta])* $variant:ident),* $(,)?
    }) => {
        #[derive(
            Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS,
        )]
        $(#[$meta])*
        #[serde(rename_all = "snake_case")]
        pub enum $name {
            $($(#[$variant_meta])* $variant),*
        }

        impl $crate::wire::mirror::Mirror for $name {
            type Plain = $plain;
            fn from_plain(plain: &$plain) -> Self {
                type Plain = $plain;
                match plain { $(Plain::$variant => Self::$variant),* }
            }
            fn into_plain(self) -> $plain {
                type Plain = $plain;
                match self { $(Self::$variant => Plain::$variant),* }
            }
        }
    };
}

/// An enum with details, told apart by `kind`: `wire_field: WireType = plain_field` (a number for a tuple's field).
macro_rules! kinds {
    ($(#[$meta:meta])* $name:ident = $plain:ty {
        $($(#[$variant_meta:meta])* $variant:ident {
            $($(#[$field_meta:meta])* $field:ident: $kind:ty = $plain_field:tt),* $(,)?
        }),* $(,)?
    }) => {
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
        $(#[$meta])*
        #[serde(tag = "kind", rename_all = "snake_case")]
        pub enum $name {
            $($(#[$variant_meta])* $variant { $($(#[$field_meta])* $field: $kind),* }),*
        }

        impl $crate::wire::mirror::Mirror for $name {
            type Plain = $plain;
            fn from_plain(plain: &$plain) -> Self {
                type Plain = $plain;
                match plain {
                    $(Plain::$variant { $($plain_field: $field),* } => Self::$variant {
                        $($field: $crate::wire::mirror::Mirror::from_plain($field)),*
                    }),*
                }
            }
            fn into_plain(self) -> $plain {
                type Plain = $plain;
                match self {
                    $(Self::$variant { $($field),* } => Plain::$variant {
                        $($plain_field: $crate::wire::mirror::Mirror::into_plain($field)),*
                    }),*
                }
            }
        }
    };
}

pub(crate) use {kinds, record, words};
