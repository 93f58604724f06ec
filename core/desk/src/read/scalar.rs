//! Reads single values along their schema: numbers with limits, lengths and prices as typed, texts with a form.

use serde_json::{Number, Value as Json};
use units::{Length, Money};

use super::limits::GREATEST_TEXT;
use super::tree::{Node, Value};
use super::walk::Walk;
use crate::wire::text;

/// What a schema asks of a single value.
struct Asked<'s> {
    schema: &'s Json,
}

impl Asked<'_> {
    fn takes(&self, kind: &str) -> bool {
        match self.schema.get("type") {
            Some(Json::String(one)) => one == kind,
            Some(Json::Array(some)) => some.iter().any(|t| t == kind),
            _ => false,
        }
    }

    fn format(&self) -> &str {
        self.schema.get("format").and_then(Json::as_str).unwrap_or_default()
    }

    fn number(&self, name: &str) -> Option<f64> {
        self.schema.get(name).and_then(Json::as_f64)
    }

    fn is_within(&self, value: f64) -> bool {
        self.number("minimum").is_none_or(|least| value >= least)
            && self.number("maximum").is_none_or(|greatest| value <= greatest)
            && self.number("exclusiveMinimum").is_none_or(|least| value > least)
    }

    /// Whether a value has no more decimals than the plain type keeps.
    fn is_whole_in_parts(&self, value: f64) -> bool {
        self.number("x-parts").is_none_or(|parts| (value * parts - (value * parts).round()).abs() <= 1e-6)
    }
}

/// Reads one single value.
pub fn read(walk: &mut Walk<'_>, schema: &Json, node: &Node) -> Json {
    let asked = Asked { schema };
    let read = match &node.value {
        Value::Number { raw, value } => match asked.format() {
            "length" if asked.takes("number") => length(&asked, Length::from_mm(*value), *value),
            "money" => money(&asked, raw),
            _ if asked.takes("integer") => whole(&asked, *value),
            _ if asked.takes("number") => number(&asked, *value),
            _ => Err("is of another type"),
        },
        Value::Text(typed) => match asked.format() {
            "length" => match Length::parse(typed) {
                Ok(read) => length(&asked, Some(read), read.to_mm()),
                Err(_) => Err("is no length"),
            },
            "money" => money(&asked, typed),
            _ if asked.takes("string") => string(&asked, typed),
            _ => Err("is of another type"),
        },
        Value::Bool(yes) if asked.takes("boolean") => Ok(Json::Bool(*yes)),
        _ => Err("is of another type"),
    };
    read.unwrap_or_else(|matter| walk.refuse(node, matter, &accepted(schema)))
}

type Read = Result<Json, &'static str>;

fn json(value: f64) -> Read {
    Number::from_f64(value).map(Json::Number).ok_or("is no finite number")
}

fn number(asked: &Asked<'_>, value: f64) -> Read {
    if !value.is_finite() {
        return Err("is no finite number");
    }
    if !asked.is_within(value) {
        return Err("is outside its limits");
    }
    if !asked.is_whole_in_parts(value) {
        return Err("has too many decimals");
    }
    json(value)
}

fn whole(asked: &Asked<'_>, value: f64) -> Read {
    if !value.is_finite() {
        return Err("is no finite number");
    }
    if value.fract() != 0.0 {
        return Err("is no whole number");
    }
    if !asked.is_within(value) || value.abs() > f64::from(u32::MAX) {
        return Err("is outside its limits");
    }
    Ok(Json::from(value as i64))
}

fn length(asked: &Asked<'_>, read: Option<Length>, value: f64) -> Read {
    if !value.is_finite() {
        return Err("is no finite number");
    }
    match read {
        Some(read) if asked.is_within(read.to_mm()) => json(read.to_mm()),
        _ => Err("is outside its limits"),
    }
}

fn money(asked: &Asked<'_>, raw: &str) -> Read {
    match Money::parse(raw) {
        Ok(read) if asked.is_within(read.to_ten_thousandths() as f64 / 1e4) => {
            json(read.to_ten_thousandths() as f64 / 1e4)
        }
        _ => Err("is no amount of money"),
    }
}

fn string(asked: &Asked<'_>, raw: &str) -> Read {
    let length = raw.chars().count() as f64;
    if asked.number("minLength").is_some_and(|least| length < least) {
        return Err("is too short");
    }
    if length > asked.number("maxLength").unwrap_or(GREATEST_TEXT as f64) {
        return Err("is too long");
    }
    let fits = match asked.format() {
        "id" => text::is_id(raw),
        "date" => text::is_day(raw),
        "moment" => text::is_moment(raw),
        "sha256" => text::is_sha256(raw),
        "currency" => text::is_currency(raw),
        "ingress" => text::ingress(raw).is_some(),
        _ => true,
    };
    if fits { Ok(Json::String(raw.to_owned())) } else { Err("has another form") }
}

/// What is accepted for a single value, in a few words.
pub fn accepted(schema: &Json) -> String {
    let asked = Asked { schema };
    let unit = schema.get("x-unit").and_then(Json::as_str).map(|u| format!(" {u}")).unwrap_or_default();
    let range = match (asked.number("minimum"), asked.number("exclusiveMinimum"), asked.number("maximum")) {
        (Some(least), _, Some(greatest)) if least == greatest => format!(" {least}"),
        (Some(least), _, Some(greatest)) => format!(" from {least} to {greatest}{unit}"),
        (_, Some(least), Some(greatest)) => format!(" above {least}, up to {greatest}{unit}"),
        (Some(least), ..) => format!(" of at least {least}{unit}"),
        _ => String::new(),
    };
    match asked.format() {
        "length" => {
            let range = match (asked.number("exclusiveMinimum"), asked.number("minimum")) {
                (Some(_), _) => "above 0 mm, up to 100 km",
                (_, Some(least)) if least < 0.0 => "from -100 km to 100 km",
                _ => "from 0 mm to 100 km",
            };
            format!("a length {range}, as a number in mm or a text such as \"2.45 m\"")
        }
        "money" => "an amount from 0 to 1000000000 with at most four decimals, such as 12.50".to_owned(),
        "id" => "a text of 1 to 64 characters without control characters".to_owned(),
        "date" => "a day such as \"2026-05-04\"".to_owned(),
        "moment" => "a moment such as \"2026-05-04T10:20:30\", with an offset where one is known".to_owned(),
        "sha256" => "a SHA-256 of 64 hexadecimal digits in lower case".to_owned(),
        "currency" => "an ISO 4217 code such as \"EUR\"".to_owned(),
        "ingress" => "an IEC 60529 code such as \"IP66\" or \"IP66/IP68\"".to_owned(),
        _ if asked.takes("boolean") => "true or false".to_owned(),
        _ if asked.takes("integer") && asked.number("minimum") == asked.number("maximum") => range.trim().to_owned(),
        _ if asked.takes("integer") => format!("a whole number{range}"),
        _ if asked.takes("number") => {
            let decimals = match asked.number("x-parts") {
                Some(parts) if parts > 10.0 => " with at most two decimals",
                Some(_) => " with at most one decimal",
                None => "",
            };
            format!("a number{range}{decimals}")
        }
        _ => match (asked.number("minLength"), asked.number("maxLength")) {
            (Some(least), Some(most)) => format!("a text of {least} to {most} characters"),
            _ => format!("a text of at most {GREATEST_TEXT} characters"),
        },
    }
}
