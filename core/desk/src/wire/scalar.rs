//! Single values on the wire: numbers with their limits, and texts with a form of their own.
//!
//! The limits stand here once; the JSON Schema carries them, and the reader of files walks the schema.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::Value;
use ts_rs::TS;
use units::{Amps, Celsius, Degrees, Length, Money, Ohms, SquareMm, Volts, Watts};

use super::mirror::Mirror;
use super::text;

/// The greatest length that is read, in millimetres (100 km).
const GREATEST_MM: f64 = 1e8;

/// A number on the wire that stands for a plain quantity.
macro_rules! number {
    ($(#[$meta:meta])* $name:ident($plain:ty), $schema:expr, |$get:ident| $to:expr, |$raw:ident| $from:expr) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, TS)]
        #[ts(as = "f64")]
        pub struct $name(pub $plain);

        impl Mirror for $name {
            type Plain = $plain;
            fn from_plain(plain: &$plain) -> Self {
                Self(*plain)
            }
            fn into_plain(self) -> $plain {
                self.0
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
                let $get = self.0;
                plainly($to, out)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                let $raw = f64::deserialize(from)?;
                let read: Option<$plain> = if $raw.is_finite() && within($raw, &$schema) { $from } else { None };
                read.map(Self).ok_or_else(|| serde::de::Error::custom(format!("{} is outside its limits", $raw)))
            }
        }

        impl JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }
            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }
            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                $schema
            }
        }
    };
}

/// Writes a whole number without a point, as a person would.
fn plainly<S: Serializer>(value: f64, out: S) -> Result<S::Ok, S::Error> {
    if value.fract() == 0.0 && value.abs() < 1e15 { out.serialize_i64(value as i64) } else { out.serialize_f64(value) }
}

fn within(value: f64, schema: &Schema) -> bool {
    let bound = |name: &str| schema.get(name).and_then(Value::as_f64);
    bound("minimum").is_none_or(|least| value >= least)
        && bound("maximum").is_none_or(|greatest| value <= greatest)
        && bound("exclusiveMinimum").is_none_or(|least| value > least)
}

fn length(least: f64) -> Schema {
    json_schema!({
        "type": ["number", "string"], "minimum": least, "maximum": GREATEST_MM,
        "format": "length", "x-unit": "mm",
    })
}

number!(
    /// A length of 0 or more: a number in millimetres, or a text with its unit.
    Mm(Length), length(0.0), |plain| plain.to_mm(), |raw| Length::from_mm(raw)
);
number!(
    /// A length above 0.
    MmAbove(Length),
    json_schema!({
        "type": ["number", "string"], "exclusiveMinimum": 0.0, "maximum": GREATEST_MM,
        "format": "length", "x-unit": "mm",
    }),
    |plain| plain.to_mm(), |raw| Length::from_mm(raw).filter(|l| *l > Length::ZERO)
);
number!(
    /// A coordinate, which may be negative.
    MmSigned(Length), length(-GREATEST_MM), |plain| plain.to_mm(), |raw| Length::from_mm(raw)
);

impl Default for Mm {
    fn default() -> Self {
        Self(Length::ZERO)
    }
}

impl Default for MmSigned {
    fn default() -> Self {
        Self(Length::ZERO)
    }
}

impl Default for VDrop {
    fn default() -> Self {
        Self(Volts::ZERO)
    }
}

impl Default for Deg {
    fn default() -> Self {
        Self(Degrees::ZERO)
    }
}

macro_rules! quantity {
    ($(#[$meta:meta])* $name:ident($plain:ident), $least:literal: $bound:literal, $greatest:literal, $unit:literal) => {
        number!(
            $(#[$meta])* $name($plain),
            json_schema!({"type": "number", $least: $bound, "maximum": $greatest, "x-unit": $unit}),
            |plain| plain.get(), |raw| $plain::checked(raw)
        );
    };
}

quantity!(
    /// Volts above 0.
    V(Volts), "exclusiveMinimum": 0.0, 1000.0, "V"
);
quantity!(
    /// Volts, 0 or more.
    VDrop(Volts), "minimum": 0.0, 1000.0, "V"
);
quantity!(
    /// Amperes above 0.
    A(Amps), "exclusiveMinimum": 0.0, 10000.0, "A"
);
quantity!(
    /// Amperes, 0 or more.
    AOrNone(Amps), "minimum": 0.0, 10000.0, "A"
);
quantity!(
    /// Watts above 0.
    W(Watts), "exclusiveMinimum": 0.0, 100000.0, "W"
);
quantity!(
    /// Ohms above 0.
    Ohm(Ohms), "exclusiveMinimum": 0.0, 1000000.0, "ohm"
);
quantity!(
    /// Ohms, 0 or more.
    OhmOrNone(Ohms), "minimum": 0.0, 1000000.0, "ohm"
);
quantity!(
    /// A temperature of air or insulation.
    DegC(Celsius), "minimum": -90.0, 500.0, "°C"
);
quantity!(
    /// An angle or bearing.
    Deg(Degrees), "minimum": -360.0, 360.0, "°"
);
quantity!(
    /// Degrees north.
    Latitude(Degrees), "minimum": -90.0, 90.0, "°"
);
quantity!(
    /// Degrees east.
    Longitude(Degrees), "minimum": -180.0, 180.0, "°"
);
quantity!(
    /// Area of a conductor.
    Mm2(SquareMm), "exclusiveMinimum": 0.0, 1000.0, "mm²"
);

/// A decimal that the plain type keeps as a whole number of tenths or hundredths.
macro_rules! decimal {
    ($(#[$meta:meta])* $name:ident($plain:ty), $parts:literal, $greatest:literal, $unit:literal) => {
        number!(
            $(#[$meta])* $name($plain),
            json_schema!({"type": "number", "minimum": 0.0, "maximum": $greatest, "x-parts": $parts, "x-unit": $unit}),
            |plain| f64::from(plain) / $parts, |raw| Some((raw * $parts).round() as $plain)
        );
    };
}

decimal!(
    /// A share in per cent with one decimal.
    Percent(u16), 10.0, 100.0, "%"
);
decimal!(
    /// Illuminance with one decimal.
    Lux(u32), 10.0, 100000.0, "lx"
);
decimal!(
    /// Luminous flux with one decimal.
    Lumen(u32), 10.0, 100000.0, "lm"
);
decimal!(
    /// A current with one decimal.
    TenthsAmp(u32), 10.0, 10000.0, "A"
);
decimal!(
    /// A cross-section with one decimal.
    TenthsMm2(u32), 10.0, 100000.0, "mm²"
);
decimal!(
    /// A cross-section with two decimals.
    HundredthsMm2(u32), 100.0, 1000.0, "mm²"
);

number!(
    /// An amount of money with at most four decimals: a number, or a text of digits.
    Price(Money),
    json_schema!({
        "type": ["number", "string"], "minimum": 0.0, "maximum": 1e9, "format": "money", "x-unit": "in the currency",
    }),
    |plain| plain.to_ten_thousandths() as f64 / 1e4,
    |raw| Some(Money::ten_thousandths((raw * 1e4).round() as i64))
);

/// A text on the wire with a form of its own.
macro_rules! form {
    ($(#[$meta:meta])* $name:ident($plain:ty), $schema:tt, |$raw:ident| $from:expr, |$get:ident| $to:expr) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq, Eq, TS)]
        #[ts(as = "String")]
        pub struct $name(pub $plain);

        impl Mirror for $name {
            type Plain = $plain;
            fn from_plain(plain: &$plain) -> Self {
                Self(plain.clone())
            }
            fn into_plain(self) -> $plain {
                self.0
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
                let $get = &self.0;
                out.serialize_str($to.as_ref())
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                let text = String::deserialize(from)?;
                let $raw = text.as_str();
                let read: Option<$plain> = $from;
                read.map(Self).ok_or_else(|| serde::de::Error::custom(format!("{text:?} has another form")))
            }
        }

        impl JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }
            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }
            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!($schema)
            }
        }
    };
}

form!(
    /// The id of one thing: 1 to 64 characters without control characters.
    Id(survey::Id),
    {"type": "string", "minLength": 1, "maxLength": 64, "pattern": "^[^\\u0000-\\u001f\\u007f-\\u009f]*$", "format": "id"},
    |raw| survey::Id::new(raw),
    |id| id.as_str()
);
form!(
    /// A part reference of the catalogue: 1 to 64 characters without control characters.
    Part(String),
    {"type": "string", "minLength": 1, "maxLength": 64, "pattern": "^[^\\u0000-\\u001f\\u007f-\\u009f]*$", "format": "id"},
    |raw| text::is_id(raw).then(|| raw.to_owned()),
    |part| part
);
form!(
    /// A day, `YYYY-MM-DD` (ISO 8601).
    Day(String),
    {"type": "string", "pattern": "^\\d{4}-\\d{2}-\\d{2}$", "format": "date"},
    |raw| text::is_day(raw).then(|| raw.to_owned()),
    |day| day
);
form!(
    /// A moment as a camera writes it, `YYYY-MM-DDThh:mm:ss` with an offset where one is known (ISO 8601).
    Moment(String),
    {
        "type": "string", "format": "moment",
        "pattern": "^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}:\\d{2}(\\.\\d{1,9})?(Z|[+-]\\d{2}:\\d{2})?$",
    },
    |raw| text::is_moment(raw).then(|| raw.to_owned()),
    |moment| moment
);
form!(
    /// The SHA-256 of some bytes, 64 hexadecimal digits in lower case (FIPS 180-4).
    Sha256(String),
    {"type": "string", "pattern": "^[0-9a-f]{64}$", "format": "sha256"},
    |raw| text::is_sha256(raw).then(|| raw.to_owned()),
    |digits| digits
);
form!(
    /// A currency by its ISO 4217 code.
    Currency(String),
    {"type": "string", "pattern": "^[A-Z]{3}$", "format": "currency"},
    |raw| text::is_currency(raw).then(|| raw.to_owned()),
    |code| code
);
form!(
    /// An ingress code after IEC 60529, such as `IP66` or, where two tests are declared, `IP66/IP68`.
    Ingress(catalogue::Ingress),
    {"type": "string", "pattern": "^IP[0-6X][0-9X](/(IP[0-6X])?[0-9X])*$", "format": "ingress"},
    |raw| text::ingress(raw),
    |code| text::ingress_text(code)
);
