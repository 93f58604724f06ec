//! The stored shape of every value: compact JSON text for what has details, plain text for words.
//!
//! A value is written whole as one scalar, so that two people who change it at once get a disagreement and never a
//! mixture. Lengths are whole micrometres; other quantities are decimal texts in shortest form, which read back exactly.

mod brief;
mod exposure;
mod feature;
mod leaf;
mod place;
mod rail;
mod words;

pub(crate) use rail::{OwnedBy, Shape};
pub(crate) use words::say_length;
pub use words::{grouped_mm, say};

use automerge::ScalarValue;
use serde_json::Value;

/// A value that can be stored as one scalar.
pub trait Stored: Sized {
    /// As JSON.
    fn to_json(&self) -> Value;

    /// From JSON.
    ///
    /// # Errors
    /// Says what was found and what is accepted.
    fn from_json(json: &Value) -> Result<Self, String>;

    /// The value where nothing is written, if the field may be absent.
    #[must_use]
    fn absent() -> Option<Self> {
        None
    }

    /// The value that holds while several are disputed, where one of them could be dangerous.
    #[must_use]
    fn cautious(_disputed: &[Self]) -> Option<Self> {
        None
    }

    /// As a scalar of the document.
    fn to_scalar(&self) -> ScalarValue {
        ScalarValue::Str(self.to_json().to_string().into())
    }

    /// From a scalar of the document.
    ///
    /// # Errors
    /// Says what was found and what is accepted.
    fn from_scalar(scalar: &ScalarValue) -> Result<Self, String> {
        match scalar {
            ScalarValue::Str(text) => {
                let json = serde_json::from_str(text).map_err(|_| format!("{text:?} is no stored value"))?;
                Self::from_json(&json)
            }
            ScalarValue::Null => Self::absent().ok_or_else(|| "nothing is written here".to_owned()),
            other => Err(format!("{other} is not written in a form that this release knows")),
        }
    }
}

/// A struct whose fields become the members of a JSON object; what is absent may be left out.
macro_rules! record {
    ($ty:ty { $($field:ident = $name:literal),+ $(,)? }) => {
        impl $crate::stored::Stored for $ty {
            fn to_json(&self) -> serde_json::Value {
                let mut map = serde_json::Map::new();
                $($crate::stored::member(&mut map, $name, &self.$field);)+
                serde_json::Value::Object(map)
            }
            fn from_json(json: &serde_json::Value) -> Result<Self, String> {
                Ok(Self { $($field: $crate::stored::part(json, $name)?),+ })
            }
        }
    };
}

/// An enum: a bare word, or an object with its `kind` and details.
macro_rules! kinds {
    ($ty:ty { $($variant:ident $(($($item:ident),+))? $({$($field:ident: $name:literal),+})? = $word:literal),+ $(,)? }
     $(absent $absent:ident)?) => {
        impl $crate::stored::Stored for $ty {
            fn to_json(&self) -> serde_json::Value {
                match self {
                    $(Self::$variant $(($($item),+))? $({$($field),+})? => {
                        #[allow(unused_mut, reason = "only variants with details add members")]
                        let mut map = serde_json::Map::new();
                        $($($crate::stored::member(&mut map, stringify!($item), $item);)+)?
                        $($($crate::stored::member(&mut map, $name, $field);)+)?
                        $crate::stored::kind($word, map)
                    })+
                }
            }
            fn from_json(json: &serde_json::Value) -> Result<Self, String> {
                match $crate::stored::kind_of(json)? {
                    $($word => {
                        $($(let $item = $crate::stored::part(json, stringify!($item))?;)+)?
                        $($(let $field = $crate::stored::part(json, $name)?;)+)?
                        Ok(Self::$variant $(($($item),+))? $({$($field),+})?)
                    })+
                    other => Err(format!("{other:?} is not known here; known are {}", [$($word),+].join(", "))),
                }
            }
            $(
                fn absent() -> Option<Self> {
                    Some(Self::$absent)
                }
                fn cautious(_disputed: &[Self]) -> Option<Self> {
                    Some(Self::$absent)
                }
            )?
        }
    };
}
pub(crate) use {kinds, record};

/// Adds a member; what is absent is left out.
pub(crate) fn member<T: Stored>(map: &mut serde_json::Map<String, Value>, name: &str, value: &T) {
    let json = value.to_json();
    if !json.is_null() {
        map.insert(name.to_owned(), json);
    }
}

/// Reads a member.
pub(crate) fn part<T: Stored>(json: &Value, name: &str) -> Result<T, String> {
    match json.get(name) {
        None | Some(Value::Null) => T::absent().ok_or_else(|| format!("{name} is missing")),
        Some(found) => T::from_json(found).map_err(|why| format!("{name}: {why}")),
    }
}

/// A bare word, or an object with the word as its kind.
pub(crate) fn kind(word: &str, mut details: serde_json::Map<String, Value>) -> Value {
    if details.is_empty() {
        return Value::from(word);
    }
    details.insert("kind".to_owned(), Value::from(word));
    Value::Object(details)
}

/// The word of a value with a kind.
pub(crate) fn kind_of(json: &Value) -> Result<&str, String> {
    json.as_str()
        .or_else(|| json.get("kind").and_then(Value::as_str))
        .ok_or_else(|| "a word or an object with a kind is expected".to_owned())
}
