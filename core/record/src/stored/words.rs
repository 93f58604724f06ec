//! Stored values as people read them.

use automerge::ScalarValue;
use serde_json::Value;

/// A stored value in words: "4,310 mm, tape", "post, width 48 mm, meets saddle", "not stated".
#[must_use]
pub fn say(scalar: &ScalarValue) -> String {
    match scalar {
        ScalarValue::Str(text) => match serde_json::from_str::<Value>(text) {
            Ok(json @ (Value::Object(_) | Value::Array(_) | Value::String(_) | Value::Null | Value::Bool(_))) => {
                say_json(&json, false)
            }
            _ => quoted(text),
        },
        ScalarValue::Boolean(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        ScalarValue::Null => "not stated".to_owned(),
        other => other.to_string(),
    }
}

/// A length in micrometres held as JSON text, as people read it; other stored values as [`say`] has them.
pub(crate) fn say_length(scalar: &ScalarValue) -> String {
    if let ScalarValue::Str(text) = scalar
        && let Ok(um) = text.parse::<i64>()
    {
        return grouped_mm(um);
    }
    say(scalar)
}

fn quoted(text: &str) -> String {
    let mut short: String = text.chars().take(60).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    format!("“{short}”")
}

fn say_json(json: &Value, length: bool) -> String {
    match json {
        Value::Null => "not stated".to_owned(),
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Value::Number(n) => match n.as_i64() {
            Some(um) if length => grouped_mm(um),
            _ => n.to_string(),
        },
        Value::String(text) if text.is_empty() => "nothing".to_owned(),
        Value::String(text) => text.replace('_', " "),
        Value::Array(items) if items.is_empty() => "none".to_owned(),
        Value::Array(items) => items.iter().map(|i| say_json(i, length)).collect::<Vec<_>>().join("; "),
        Value::Object(map) => {
            // The kind or the value itself comes first; the rest follows with its name.
            let mut said: Vec<String> = Vec::new();
            for first in ["kind", "value_um"] {
                if let Some(found) = map.get(first) {
                    said.push(say_json(found, first.ends_with("_um")));
                }
            }
            for (name, value) in map {
                match name.as_str() {
                    "kind" | "value_um" => {}
                    "instrument" => said.push(say_json(value, false)),
                    // The accuracy of a tape is numbered in Roman capitals.
                    "class" => said.push(format!("class {}", say_json(value, false).to_uppercase())),
                    _ => {
                        let (bare, length) = name.strip_suffix("_um").map_or((name.as_str(), false), |b| (b, true));
                        let (bare, unit) = match bare.rsplit_once('_') {
                            Some((bare, "deg")) => (bare, "°"),
                            Some((bare, "c")) => (bare, " °C"),
                            Some((bare, "a")) => (bare, " A"),
                            Some((bare, "v")) => (bare, " V"),
                            _ => (bare, ""),
                        };
                        said.push(format!("{} {}{unit}", bare.replace('_', " "), say_json(value, length)));
                    }
                }
            }
            said.join(", ")
        }
    }
}

/// Millimetres with grouped thousands, as on a tape: "4,310 mm".
#[must_use]
pub fn grouped_mm(um: i64) -> String {
    units::Length::um(um).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stored::Stored;
    use survey::Measurement;
    use units::Length;

    #[test]
    fn a_measurement_reads_as_on_site() {
        assert_eq!(say(&Measurement::taped(Length::mm(4310)).to_scalar()), "4,310 mm, tape, class II");
        assert_eq!(grouped_mm(-1_234_500), "-1,234.5 mm");
        assert_eq!(say_length(&Length::mm(40).to_scalar()), "40 mm");
    }
}
