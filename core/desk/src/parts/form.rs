//! Which fields a sheet of a catalogue has, what each takes and what people call it: derived from the schema, whose comments
//! are the comments of the wire types.

use std::sync::LazyLock;

use serde::Serialize;
use serde_json::Value as Json;
use ts_rs::TS;

use super::Sheet;
use crate::read::catalogue_schema;
use crate::read::schema::{self, Fields};

/// A field of a part as a form or a table shows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct FieldForm {
    /// Its name in a table, such as `shape.hole_mm`.
    pub name: String,
    /// What people call it.
    pub label: String,
    /// What else is to be known of it; empty where nothing is.
    pub says: String,
    /// Its unit; empty where it has none.
    pub unit: String,
    /// How it is given.
    pub input: Input,
    /// What can be chosen, where something is chosen.
    pub choices: Vec<Choice>,
    /// Whether it must be given where it is asked for.
    pub needed: bool,
    /// What counts where nothing is given; empty where nothing does.
    pub usual: String,
    /// It is asked for only where each of these is so.
    pub only_with: Vec<OnlyWith>,
    /// What is accepted, in words.
    pub accepted: String,
}

/// How a field is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Input {
    /// Any text.
    Words,
    /// A text of one form, such as a day or an ingress code.
    Code,
    /// A number.
    Number,
    /// A length in millimetres, or a text with a unit.
    Length,
    /// An amount of money.
    Money,
    /// One of some words.
    Choice,
    /// Some of some words.
    Choices,
    /// Yes or no.
    YesNo,
    /// Lengths, each with a price.
    LengthPrices,
}

/// A word that can be chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct Choice {
    /// As files have it.
    pub word: String,
    /// What it means.
    pub says: String,
}

/// What another field must say for this one to be asked for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct OnlyWith {
    /// The other field.
    pub field: String,
    /// One of these.
    pub is: Vec<String>,
}

/// The fields of a sheet, in the order of a form.
#[must_use]
pub fn fields(sheet: Sheet) -> &'static [FieldForm] {
    static ALL: LazyLock<Vec<(Sheet, Vec<FieldForm>)>> = LazyLock::new(|| {
        let sheets = [&[Sheet::Catalogue][..], &Sheet::PARTS, &[Sheet::Labour]].concat();
        sheets.into_iter().map(|sheet| (sheet, derived(sheet))).collect()
    });
    ALL.iter().find(|(of, _)| *of == sheet).map_or(&[], |(_, fields)| fields)
}

/// Common to all parts; the others follow in the order in which files need them.
const FIRST: [&str; 5] = ["part", "description", "price", "pack", "supplier_ref"];
/// What a catalogue says of itself; its version is not a person's to choose.
const OF_CATALOGUE: [&str; 4] = ["label", "currency", "priced_on", "invented"];

fn derived(sheet: Sheet) -> Vec<FieldForm> {
    let root = catalogue_schema();
    let mut forms = Forms { root, found: Vec::new() };
    let named = |name: &str| root.get("properties").and_then(|p| p.get(name)).unwrap_or(&Json::Null);
    match sheet {
        Sheet::Catalogue => {
            for name in OF_CATALOGUE {
                let needed = name != "invented";
                forms.field(name, named(name), &Standing { prefix: String::new(), needed, only_with: Vec::new() }, "");
            }
        }
        Sheet::Labour => forms.table(schema::resolved(root, named("labour")), &Standing::top()),
        _ => {
            let item = named(sheet.name()).get("items").unwrap_or(&Json::Null);
            forms.table(schema::resolved(root, item), &Standing::top());
        }
    }
    forms.found
}

/// Where in a part a table stands.
#[derive(Clone)]
struct Standing {
    prefix: String,
    needed: bool,
    only_with: Vec<OnlyWith>,
}

impl Standing {
    const fn top() -> Self {
        Self { prefix: String::new(), needed: true, only_with: Vec::new() }
    }

    fn below(&self, name: &str, needed: bool) -> Self {
        Self { prefix: format!("{}{name}.", self.prefix), needed: self.needed && needed, ..self.clone() }
    }
}

struct Forms {
    root: &'static Json,
    found: Vec<FieldForm>,
}

impl Forms {
    fn table(&mut self, table: &'static Json, at: &Standing) {
        let mut fields = Fields::default();
        fields.take(self.root, table);
        let needed: Vec<&str> = fields.required.iter().copied().filter(|name| *name != "kind").collect();
        let optional = fields.named.keys().copied().filter(|name| *name != "kind" && !needed.contains(name));
        let mut names: Vec<&str> = needed.iter().copied().chain(optional).collect();
        // The sort keeps the order of all others.
        names.sort_by_key(|name| FIRST.iter().position(|first| first == name).unwrap_or(FIRST.len()));
        for name in names {
            if let Some(field) = fields.named.get(name) {
                let at = Standing { needed: at.needed && needed.contains(&name), ..at.clone() };
                self.field(name, field, &at, "");
            }
        }
    }

    fn field(&mut self, name: &str, field: &'static Json, at: &Standing, about: &str) {
        let described = schema::resolved(self.root, field);
        let text = |of: &Json| of.get("description").and_then(Json::as_str).map(str::to_owned);
        let about = if about.is_empty() {
            text(field).or_else(|| text(described)).unwrap_or_default()
        } else {
            about.to_owned()
        };
        if let Some(inner) = schema::without_null(described) {
            return self.field(name, inner, &Standing { needed: false, ..at.clone() }, &about);
        }
        let full = schema::bare_form(described).map_or(described, |(_, _, full)| full);
        let kinds = schema::kinds(full);
        if !kinds.is_empty() {
            let of_kind = at.below(name, true);
            let choices = kinds.iter().filter_map(|kind| Some((*kind, schema::branch(full, kind)?)));
            let choices =
                choices.map(|(kind, of)| Choice { word: kind.to_owned(), says: text(of).unwrap_or_default() });
            let leaf = Leaf { input: Input::Choice, choices: choices.collect(), accepted: kinds.join(", ") };
            self.leaf("kind", field, &of_kind, &about, leaf);
            for kind in kinds {
                let Some(branch) = schema::branch(full, kind) else { continue };
                let mut below = of_kind.clone();
                let field = format!("{}kind", of_kind.prefix);
                below.only_with.push(OnlyWith { field, is: vec![kind.to_owned()] });
                self.table(branch, &below);
            }
            return;
        }
        if schema::is_table(full) && schema::words(full).is_none() {
            return self.table(full, &at.below(name, true));
        }
        let leaf = self.leaf_of(full);
        self.leaf(name, field, at, &about, leaf);
    }

    fn leaf_of(&self, of: &'static Json) -> Leaf {
        let accepted = schema::accepted(self.root, of);
        let words = |of: &'static Json| -> Vec<Choice> {
            let says = |word: &str| {
                let branches = of.get("oneOf").and_then(Json::as_array).map_or(&[][..], Vec::as_slice);
                let branch = branches.iter().find(|b| b.get("const").and_then(Json::as_str) == Some(word));
                branch.and_then(|b| b.get("description")).and_then(Json::as_str).unwrap_or_default().to_owned()
            };
            let words = schema::words(of).unwrap_or_default();
            words.into_iter().map(|word| Choice { word: word.to_owned(), says: says(word) }).collect()
        };
        if schema::words(of).is_some() {
            return Leaf { input: Input::Choice, choices: words(of), accepted };
        }
        if let Some(items) = of.get("items") {
            let items = schema::resolved(self.root, items);
            return match schema::words(items) {
                Some(known) => {
                    let accepted = format!("one or more of {}, with semicolons between them", known.join(", "));
                    Leaf { input: Input::Choices, choices: words(items), accepted }
                }
                None => {
                    let accepted = "lengths with their prices, such as 1000 = 6.20; 2000 = 8.90".to_owned();
                    Leaf { input: Input::LengthPrices, choices: Vec::new(), accepted }
                }
            };
        }
        let format = of.get("format").and_then(Json::as_str).unwrap_or_default();
        let input = match format {
            "length" => Input::Length,
            "money" => Input::Money,
            "id" => Input::Words,
            "date" | "currency" | "ingress" => Input::Code,
            _ if takes(of, "boolean") => Input::YesNo,
            _ if takes(of, "number") || takes(of, "integer") => Input::Number,
            _ => Input::Words,
        };
        let accepted = if input == Input::YesNo { "yes or no".to_owned() } else { accepted };
        Leaf { input, choices: Vec::new(), accepted }
    }

    fn leaf(&mut self, name: &str, field: &Json, at: &Standing, about: &str, leaf: Leaf) {
        let whole = format!("{}{name}", at.prefix);
        if let Some(there) = self.found.iter_mut().find(|there| there.name == whole) {
            // Two kinds have a field of one name.
            if let (Some(last), Some(more)) = (there.only_with.last_mut(), at.only_with.last()) {
                last.is.extend(more.is.iter().cloned());
            }
            return;
        }
        // A piece of work is named by its whole sentence.
        let is_work = name.contains("minutes");
        let (label, says) =
            if is_work { (about.trim_end_matches('.').to_owned(), String::new()) } else { split(about) };
        let usual = field.get("default").map(usual_text).unwrap_or_default();
        self.found.push(FieldForm {
            unit: unit_of(name, field),
            needed: at.needed && field.get("default").is_none(),
            name: whole,
            label,
            says,
            input: leaf.input,
            choices: leaf.choices,
            usual,
            only_with: at.only_with.clone(),
            accepted: leaf.accepted,
        });
    }
}

struct Leaf {
    input: Input,
    choices: Vec<Choice>,
    accepted: String,
}

fn takes(of: &Json, kind: &str) -> bool {
    match of.get("type") {
        Some(Json::String(one)) => one == kind,
        Some(Json::Array(some)) => some.iter().any(|one| one == kind),
        _ => false,
    }
}

fn usual_text(usual: &Json) -> String {
    match usual {
        Json::Null => String::new(),
        Json::Bool(yes) => super::cells::yes_no(*yes).to_owned(),
        Json::String(text) => text.clone(),
        other => other.to_string(),
    }
}

/// The unit of a field: from the schema, else from the ending of its name.
fn unit_of(name: &str, field: &Json) -> String {
    let written = field.get("x-unit").and_then(Json::as_str);
    let by_name = || match name.rsplit('_').next().unwrap_or_default() {
        _ if name.contains("minutes") => "min",
        "percent" => "%",
        "us" => "µs",
        "milliohms" => "mΩ",
        "kelvin" => "K",
        _ => "",
    };
    match written {
        // The catalogue says which.
        Some("in the currency") => String::new(),
        Some("ohm") => "Ω".to_owned(),
        Some(unit) => unit.to_owned(),
        None => by_name().to_owned(),
    }
}

/// A comment as a label and what else it says.
fn split(about: &str) -> (String, String) {
    let about = about.trim().trim_end_matches('.');
    let end = about.find([',', ';', ':', '(']).unwrap_or(about.len());
    let (label, rest) = about.split_at(end);
    // Where a figure was read is for who writes the program; the unit stands beside the label already.
    let rest = rest.split(" (").next().unwrap_or_default().trim_start_matches([',', ';', ':']).trim();
    let rest = if matches!(rest, "milliohms" | "microseconds") { "" } else { rest };
    (label.trim().to_owned(), rest.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn field(sheet: Sheet, name: &str) -> FieldForm {
        fields(sheet).iter().find(|field| field.name == name).cloned().unwrap_or_else(|| panic!("{name} is absent"))
    }

    #[test]
    fn every_field_has_a_label_and_says_what_it_takes() {
        for sheet in [&[Sheet::Catalogue][..], &Sheet::PARTS, &[Sheet::Labour]].concat() {
            assert!(fields(sheet).len() >= 4, "{sheet:?}");
            for field in fields(sheet) {
                assert!(!field.label.is_empty() && !field.accepted.is_empty(), "{field:?}");
                let chosen = matches!(field.input, Input::Choice | Input::Choices);
                assert_eq!(chosen, !field.choices.is_empty(), "{field:?}");
            }
        }
    }

    #[test]
    fn a_field_of_a_kind_is_asked_for_with_its_kind_alone() {
        let hole = field(Sheet::Luminaires, "shape.hole_mm");
        assert_eq!((hole.label.as_str(), hole.unit.as_str(), hole.needed), ("Diameter of the hole", "mm", true));
        assert_eq!(hole.only_with, [OnlyWith { field: "shape.kind".to_owned(), is: vec!["point".to_owned()] }]);
        // Both kinds of luminaire have a depth.
        assert_eq!(field(Sheet::Luminaires, "shape.depth_mm").only_with[0].is, ["point", "linear"]);
        // Two conditions, one within the other.
        let rivets = field(Sheet::Luminaires, "shape.retention.count").only_with;
        assert_eq!(rivets.iter().map(|with| with.is[0].as_str()).collect::<Vec<_>>(), ["point", "rivets"]);
    }

    #[test]
    fn what_may_be_left_out_is_not_needed() {
        assert_eq!((field(Sheet::Drivers, "pack").needed, field(Sheet::Drivers, "pack").usual.as_str()), (false, "1"));
        assert!(!field(Sheet::Leads, "connector.poles").needed, "its table may be left out");
        assert!(field(Sheet::Luminaires, "shape.connector.poles").needed);
        assert_eq!(field(Sheet::Labour, "hole_minutes").unit, "min");
    }
}
