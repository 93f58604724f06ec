//! Files that are generated from the types here and kept in the repository: JSON Schemas and TypeScript.

use std::collections::{BTreeMap, BTreeSet};

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
        ("ui/src/lib/generated/survey.ts", declared(|found| found.visit::<wire::survey::Survey>())),
        ("ui/src/lib/generated/catalogue.ts", declared(|found| found.visit::<wire::catalogue::Catalogue>())),
        ("ui/src/lib/generated/plan.ts", declared(|found| found.visit::<wire::plan::Plan>())),
        ("ui/src/lib/generated/edit.ts", beside_survey(|found| found.visit::<crate::edit::Edit>())),
        ("ui/src/lib/generated/exchange.ts", declared(of_exchange)),
        ("ui/src/lib/generated/photos.ts", beside_survey(of_photos)),
        ("ui/src/lib/generated/sites.ts", declared(of_sites)),
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

/// Types with all they are made of, in TypeScript, in order of name.
fn declared(visit: impl FnOnce(&mut Declared)) -> String {
    let mut found = Declared::default();
    visit(&mut found);
    found.text("")
}

fn of_sites(found: &mut Declared) {
    found.visit::<wire::sites::SiteList>();
    found.visit::<wire::sites::SiteHits>();
    found.visit::<wire::sites::DeviceList>();
    found.visit::<wire::sites::SiteDisagreements>();
    found.visit::<wire::sites::SiteHistory>();
}

fn of_exchange(found: &mut Declared) {
    found.visit::<wire::exchange::ExchangeStatus>();
    found.visit::<wire::exchange::ExchangeRound>();
    found.visit::<wire::exchange::ExchangeInvitation>();
    found.visit::<wire::exchange::PlaceForm>();
}

fn of_photos(found: &mut Declared) {
    found.visit::<wire::photos::PhotoList>();
    found.visit::<wire::photos::PhotoImport>();
    found.visit::<wire::photos::PhotoCopies>();
}

/// As [`declared`]; what they share with surveys stands there once.
fn beside_survey(visit: impl FnOnce(&mut Declared)) -> String {
    let (mut of_survey, mut found) = (Declared::default(), Declared::default());
    of_survey.visit::<wire::survey::Survey>();
    visit(&mut found);
    found.by_name.retain(|name, _| !of_survey.by_name.contains_key(name));
    // Words of the comments name types as well as things, so they are left out of the search.
    let code: String = found.by_name.values().flat_map(|text| text.lines()).filter(|line| !is_comment(line)).collect();
    let words: BTreeSet<&str> = code.split(|c: char| !c.is_alphanumeric() && c != '_').collect();
    let shared: Vec<&str> = of_survey.by_name.keys().map(String::as_str).filter(|name| words.contains(name)).collect();
    found.text(&format!("import type {{ {} }} from './survey';\n", shared.join(", ")))
}

fn is_comment(line: &str) -> bool {
    let line = line.trim_start();
    line.starts_with("/*") || line.starts_with('*')
}

#[derive(Default)]
struct Declared {
    config: Config,
    by_name: BTreeMap<String, String>,
}

impl Declared {
    /// The declarations below a line of their own.
    fn text(&self, imports: &str) -> String {
        let mut text =
            format!("// Generated from core/desk/src/wire by `make bless`; changes here are overwritten.\n{imports}");
        for declaration in self.by_name.values() {
            text.push('\n');
            text.push_str(declaration);
        }
        // The generator leaves a blank at the end of some lines; a text that is compared should not depend on it.
        text.lines().map(|line| format!("{}\n", line.trim_end())).collect()
    }
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
