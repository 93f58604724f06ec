//! Numbers, words and lists.

use automerge::ScalarValue;
use serde_json::Value;
use survey::Id;
use units::{Amps, Celsius, Degrees, Length, Volts};

use super::Stored;

impl Stored for Length {
    fn to_json(&self) -> Value {
        Value::from(self.to_um())
    }
    fn from_json(json: &Value) -> Result<Self, String> {
        let um = json.as_i64().ok_or_else(|| format!("{json} is no whole number of micrometres"))?;
        let length = Self::um(um);
        if um.unsigned_abs() > Self::GREATEST.to_um().unsigned_abs() {
            return Err(format!("{um} micrometres is beyond 100 km"));
        }
        Ok(length)
    }
}

/// A quantity as a decimal text.
macro_rules! quantity {
    ($($ty:ty),+) => {$(
        impl Stored for $ty {
            fn to_json(&self) -> Value {
                Value::from(self.get().to_string())
            }
            fn from_json(json: &Value) -> Result<Self, String> {
                json.as_str()
                    .and_then(|text| text.parse().ok())
                    .and_then(Self::checked)
                    .ok_or_else(|| format!("{json} is no decimal text"))
            }
        }
    )+};
}
quantity!(Degrees, Volts, Amps, Celsius);

/// A whole number of a certain width.
macro_rules! whole {
    ($($ty:ty),+) => {$(
        impl Stored for $ty {
            fn to_json(&self) -> Value {
                Value::from(*self)
            }
            fn from_json(json: &Value) -> Result<Self, String> {
                json.as_u64()
                    .and_then(|n| Self::try_from(n).ok())
                    .ok_or_else(|| format!("{json} is no whole number up to {}", Self::MAX))
            }
        }
    )+};
}
whole!(u8, u16, u32);

impl Stored for bool {
    fn to_json(&self) -> Value {
        Value::from(*self)
    }
    fn from_json(json: &Value) -> Result<Self, String> {
        json.as_bool().ok_or_else(|| format!("{json} is neither true nor false"))
    }
}

impl Stored for String {
    fn to_json(&self) -> Value {
        Value::from(self.as_str())
    }
    fn from_json(json: &Value) -> Result<Self, String> {
        json.as_str().map(str::to_owned).ok_or_else(|| format!("{json} is no text"))
    }
    fn absent() -> Option<Self> {
        Some(Self::new())
    }
    fn to_scalar(&self) -> ScalarValue {
        ScalarValue::Str(self.as_str().into())
    }
    fn from_scalar(scalar: &ScalarValue) -> Result<Self, String> {
        match scalar {
            ScalarValue::Str(text) => Ok(text.to_string()),
            ScalarValue::Null => Ok(Self::new()),
            other => Err(format!("{other} is no text")),
        }
    }
}

impl Stored for Id {
    fn to_json(&self) -> Value {
        Value::from(self.as_str())
    }
    fn from_json(json: &Value) -> Result<Self, String> {
        json.as_str().and_then(Self::new).ok_or_else(|| format!("{json} is no id of 1 to 64 printable characters"))
    }
}

impl<T: Stored> Stored for Option<T> {
    fn to_json(&self) -> Value {
        self.as_ref().map_or(Value::Null, Stored::to_json)
    }
    fn from_json(json: &Value) -> Result<Self, String> {
        if json.is_null() { Ok(None) } else { T::from_json(json).map(Some) }
    }
    fn absent() -> Option<Self> {
        Some(None)
    }
}

impl<T: Stored> Stored for Vec<T> {
    fn to_json(&self) -> Value {
        Value::Array(self.iter().map(Stored::to_json).collect())
    }
    fn from_json(json: &Value) -> Result<Self, String> {
        let items = json.as_array().ok_or_else(|| format!("{json} is no list"))?;
        items.iter().map(T::from_json).collect()
    }
    fn absent() -> Option<Self> {
        Some(Self::new())
    }
}

impl Stored for (u16, u16) {
    fn to_json(&self) -> Value {
        Value::from(vec![self.0, self.1])
    }
    fn from_json(json: &Value) -> Result<Self, String> {
        match Vec::<u16>::from_json(json)?.as_slice() {
            [x, y] => Ok((*x, *y)),
            _ => Err(format!("{json} is no pair of whole numbers")),
        }
    }
}
