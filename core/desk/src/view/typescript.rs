//! Writes the wire types and the callers of the commands as TypeScript.

use ts_rs::{Config, TS};

use super::wire;

/// A command of the window: its name, what it takes and what it answers.
#[derive(Clone, Copy, Debug)]
pub struct Command {
    /// The name it is called by.
    pub name: &'static str,
    /// Its arguments with their TypeScript types.
    pub takes: &'static [(&'static str, &'static str)],
    /// The TypeScript type of its answer.
    pub answers: &'static str,
    /// One sentence about it.
    pub about: &'static str,
}

/// Every command of the window.
pub const COMMANDS: &[Command] = &[
    Command { name: "start", takes: &[], answers: "Start", about: "What to show first." },
    Command {
        name: "open_file",
        takes: &[("path", "string")],
        answers: "SitePage",
        about: "Opens a survey file; refused with a `Refusal`.",
    },
    Command { name: "open_demo", takes: &[], answers: "SitePage", about: "Opens the invented demo site." },
    Command {
        name: "explain",
        takes: &[("asked", "Asked")],
        answers: "Explanation",
        about: "Why a number of the open site is what it is.",
    },
];

const HEAD: &str = "// Generated from core/desk/src/view by `make bless`; changes here are overwritten.\n";

fn declared<T: TS>(config: &Config, out: &mut String) {
    out.push('\n');
    out.push_str(&T::docs().unwrap_or_default());
    out.push_str("export ");
    out.push_str(&T::decl(config));
    out.push('\n');
}

/// The wire types, `ui/src/lib/generated/types.ts`.
#[must_use]
pub fn types() -> String {
    let config = Config::default();
    let mut out = String::from(HEAD);
    declared::<wire::Figure>(&config, &mut out);
    declared::<wire::Mark>(&config, &mut out);
    declared::<wire::Tally>(&config, &mut out);
    declared::<wire::SitePage>(&config, &mut out);
    declared::<wire::RailPage>(&config, &mut out);
    declared::<wire::PieceShape>(&config, &mut out);
    declared::<wire::PieceSpan>(&config, &mut out);
    declared::<wire::FeatureShape>(&config, &mut out);
    declared::<wire::FeatureRow>(&config, &mut out);
    declared::<wire::LuminaireRow>(&config, &mut out);
    declared::<wire::FeedMark>(&config, &mut out);
    declared::<wire::ChainLine>(&config, &mut out);
    declared::<wire::VoltPoint>(&config, &mut out);
    declared::<wire::VoltLimit>(&config, &mut out);
    declared::<wire::CableRow>(&config, &mut out);
    declared::<wire::MainsLine>(&config, &mut out);
    declared::<wire::FindingLine>(&config, &mut out);
    declared::<wire::Asked>(&config, &mut out);
    declared::<wire::StepRole>(&config, &mut out);
    declared::<wire::Step>(&config, &mut out);
    declared::<wire::Explanation>(&config, &mut out);
    declared::<wire::Note>(&config, &mut out);
    declared::<wire::Refusal>(&config, &mut out);
    declared::<wire::Start>(&config, &mut out);
    // The generator leaves a blank at the end of some lines; a text that is compared should not depend on it.
    let mut tidy: String = out.lines().map(|line| format!("{}\n", line.trim_end())).collect();
    tidy.truncate(tidy.trim_end().len() + 1);
    tidy
}

/// The callers of the commands, `ui/src/lib/generated/commands.ts`.
#[must_use]
pub fn callers() -> String {
    let mut answers: Vec<&str> = COMMANDS.iter().flat_map(|c| c.takes.iter().map(|t| t.1).chain([c.answers])).collect();
    answers.retain(|name| name.starts_with(char::is_uppercase));
    answers.sort_unstable();
    answers.dedup();
    let mut out = format!(
        "{HEAD}import type {{ {} }} from './types';\n\n\
         /** Carries a command's name and arguments to the program and brings back its answer. */\n\
         export type Call = (name: string, args: Record<string, unknown>) => Promise<unknown>;\n\n\
         /** One function for each command. */\nexport interface Commands {{\n",
        answers.join(", ")
    );
    for command in COMMANDS {
        out.push_str(&format!("  /** {} */\n  {}: {};\n", command.about, camel(command.name), signature(command)));
    }
    out.push_str("}\n\nexport function commands(call: Call): Commands {\n  return {\n");
    for command in COMMANDS {
        let names: Vec<&str> = command.takes.iter().map(|take| take.0).collect();
        out.push_str(&format!(
            "    {}: ({}) => call('{}', {{ {} }}) as Promise<{}>,\n",
            camel(command.name),
            names.join(", "),
            command.name,
            names.join(", "),
            command.answers
        ));
    }
    out.push_str("  };\n}\n");
    out.replace("{  }", "{}")
}

fn signature(command: &Command) -> String {
    let takes: Vec<String> = command.takes.iter().map(|(name, kind)| format!("{name}: {kind}")).collect();
    format!("({}) => Promise<{}>", takes.join(", "), command.answers)
}

fn camel(name: &str) -> String {
    let mut words = name.split('_');
    let mut out = words.next().unwrap_or_default().to_owned();
    for word in words {
        let mut letters = word.chars();
        out.extend(letters.next().map(|c| c.to_ascii_uppercase()));
        out.push_str(letters.as_str());
    }
    out
}
