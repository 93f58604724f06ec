//! Files that are generated from the types here and kept in the repository: JSON Schemas and TypeScript.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::{Config, TS, TypeVisitor};

use crate::view::typescript;
use crate::wire::{self, schemas};

/// Every generated file: its path from the root of the repository and its text.
#[must_use]
pub fn files() -> Vec<(String, String)> {
    let kept = [
        ("fixtures/schemas/survey.schema.json", crate::json_text(&schemas::survey())),
        ("fixtures/schemas/brief.schema.json", crate::json_text(&schemas::brief())),
        ("fixtures/schemas/catalogue.schema.json", crate::json_text(&schemas::catalogue())),
        ("fixtures/schemas/plan.schema.json", crate::json_text(&schemas::plan())),
        ("ui/src/lib/generated/survey.ts", declared::<wire::survey::Survey>()),
        ("ui/src/lib/generated/catalogue.ts", declared::<wire::catalogue::Catalogue>()),
        ("ui/src/lib/generated/plan.ts", declared::<wire::plan::Plan>()),
        ("ui/src/lib/generated/types.ts", typescript::types()),
        ("ui/src/lib/generated/commands.ts", typescript::callers()),
    ];
    let mut files: Vec<(String, String)> = kept.map(|(path, text)| (path.to_owned(), text)).into();
    files.extend(
        schemas::of_sites()
            .into_iter()
            .map(|(name, schema)| (format!("fixtures/schemas/{name}.schema.json"), crate::json_text(&schema))),
    );
    files
}

/// One type with all it is made of, in TypeScript, in order of name.
fn declared<T: TS + JsonSchema + Serialize + 'static>() -> String {
    let mut found = Declared { config: Config::default(), by_name: BTreeMap::new() };
    found.visit::<T>();
    let mut text =
        String::from("// Generated from core/desk/src/wire by `make bless`; changes here are overwritten.\n");
    for declaration in found.by_name.values() {
        text.push('\n');
        text.push_str(declaration);
    }
    // The generator leaves a blank at the end of some lines; a text that is compared should not depend on it.
    text.lines().map(|line| format!("{}\n", line.trim_end())).collect()
}

struct Declared {
    config: Config,
    by_name: BTreeMap<String, String>,
}

impl TypeVisitor for Declared {
    fn visit<T: TS + 'static + ?Sized>(&mut self) {
        // Only what we declare ourselves has a path to be written to.
        if T::output_path().is_none() {
            return;
        }
        let name = T::ident(&self.config);
        if self.by_name.contains_key(&name) {
            return;
        }
        let docs = T::docs().unwrap_or_default();
        self.by_name.insert(name, format!("{docs}export {}\n", T::decl(&self.config)));
        T::visit_dependencies(self);
        T::visit_generics(self);
    }
}
