//! Writes the wire types and the callers of the commands as TypeScript.

use ts_rs::{Config, TS};

use super::wire;
use crate::parts;

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
    Command { name: "settings", takes: &[], answers: "Settings", about: "How this person likes to see things." },
    Command {
        name: "set_settings",
        takes: &[("settings", "Settings")],
        answers: "Settings",
        about: "Changes how this person likes to see things.",
    },
    Command { name: "list_sites", takes: &[], answers: "SitesPage", about: "The sites of this computer." },
    Command {
        name: "reopen_store",
        takes: &[],
        answers: "SitesPage",
        about: "Opens the store again, to write if whoever had it has let go of it.",
    },
    Command {
        name: "search",
        takes: &[("words", "string")],
        answers: "SiteHits",
        about: "Places whose text holds every word.",
    },
    Command {
        name: "new_site",
        takes: &[("label", "string"), ("address", "string")],
        answers: "SitesPage",
        about: "Adds an empty site.",
    },
    Command {
        name: "add_demo_site",
        takes: &[],
        answers: "SitesPage",
        about: "Adds the invented demo site as a site to work on.",
    },
    Command {
        name: "duplicate_site",
        takes: &[("id", "string"), ("label", "string")],
        answers: "SitesPage",
        about: "Copies a site as it stands, without its history.",
    },
    Command {
        name: "archive_site",
        takes: &[("id", "string")],
        answers: "SitesPage",
        about: "Puts a site into the archive.",
    },
    Command {
        name: "restore_site",
        takes: &[("id", "string")],
        answers: "SitesPage",
        about: "Takes a site out of the archive.",
    },
    Command {
        name: "put_stage",
        takes: &[("id", "string"), ("stage", "string")],
        answers: "SitesPage",
        about: "Says how far the job has come: survey, scheme, price or fit.",
    },
    Command {
        name: "import_site",
        takes: &[("path", "string")],
        answers: "SitesPage",
        about: "Takes in a survey file or a site file.",
    },
    Command {
        name: "export_site",
        takes: &[("id", "string"), ("path", "string"), ("form", "ExportForm")],
        answers: "SitesPage",
        about: "Writes a site into a file.",
    },
    Command {
        name: "know_device",
        takes: &[("device", "string")],
        answers: "SitesPage",
        about: "Says that a device's changes count from now on.",
    },
    Command {
        name: "name_device",
        takes: &[("person", "string"), ("device", "string")],
        answers: "SitesPage",
        about: "Says who works here and what this device is called.",
    },
    Command {
        name: "open_file",
        takes: &[("path", "string")],
        answers: "Opened",
        about: "Opens a survey file to look at; refused with a `Refusal`.",
    },
    Command { name: "open_site", takes: &[("id", "string")], answers: "Opened", about: "Opens a site, as it is now." },
    Command {
        name: "edit",
        takes: &[("edits", "Edit[]")],
        answers: "Opened",
        about: "Makes edits as one change: one step to take back.",
    },
    Command { name: "undo", takes: &[], answers: "Opened", about: "Takes back this device's last change." },
    Command { name: "redo", takes: &[], answers: "Opened", about: "Makes again what was taken back last." },
    Command {
        name: "try_edits",
        takes: &[("edits", "Edit[]"), ("beside", "number")],
        answers: "Tried",
        about: "Plans the open site as it would be with edits; nothing is kept. `beside` is the number of the page that the asker has.",
    },
    Command {
        name: "history",
        takes: &[],
        answers: "HistoryPage",
        about: "What was changed, last first, and over what people disagree.",
    },
    Command {
        name: "view_at",
        takes: &[("change", "string")],
        answers: "Opened",
        about: "The open site as it was with a change, to look at.",
    },
    Command {
        name: "settle",
        takes: &[("name", "string"), ("number", "number")],
        answers: "Opened",
        about: "Settles a disagreement by one of its values.",
    },
    Command {
        name: "photos",
        takes: &[],
        answers: "PhotosPage",
        about: "Every photo of the open site with where it belongs, those taken elsewhere, clocks that seem wrong.",
    },
    Command {
        name: "add_photos",
        takes: &[("paths", "string[]"), ("offset", "string | null")],
        answers: "PhotoImport",
        about: "Takes in files and all that is in folders; the event `photo-progress` tells how far it is.",
    },
    Command {
        name: "cancel_photos",
        takes: &[],
        answers: "void",
        about: "Stops adding photos after the files in hand; what was added stays.",
    },
    Command {
        name: "cancel_copies",
        takes: &[],
        answers: "void",
        about: "Stops writing copies after the photo in hand; what was written stays.",
    },
    Command {
        name: "shift_clock",
        takes: &[("photos", "string[]"), ("seconds", "number")],
        answers: "Opened",
        about: "Takes the seconds by which a clock was ahead away from the times of photos.",
    },
    Command {
        name: "render_marked",
        takes: &[("photo", "string"), ("path", "string")],
        answers: "string",
        about: "Writes a JPEG of a photo with its marks drawn on it, and says so.",
    },
    Command {
        name: "export_client",
        takes: &[("photos", "string[]"), ("tell", "CopiesTell"), ("marks", "boolean"), ("folder", "string")],
        answers: "PhotoCopies",
        about: "Writes copies for a client into a folder; with marks drawn on them they tell nothing else; the event `copies-progress` tells how far it is.",
    },
    Command {
        name: "export_photo_log",
        takes: &[("path", "string")],
        answers: "string",
        about: "Writes the photo log as CSV, and says so.",
    },
    Command {
        name: "export_geojson",
        takes: &[("path", "string")],
        answers: "string",
        about: "Writes rails, mains points and photo positions as GeoJSON, and says so.",
    },
    Command {
        name: "part_forms",
        takes: &[],
        answers: "SheetForm[]",
        about: "The fields of every sheet of a catalogue.",
    },
    Command {
        name: "catalogues",
        takes: &[("id", "string | null")],
        answers: "CataloguePage",
        about: "The catalogues, with the parts of one.",
    },
    Command {
        name: "check_part",
        takes: &[
            ("id", "string"),
            ("sheet", "Sheet"),
            ("was", "string | null"),
            ("cells", "{ [field: string]: string }"),
        ],
        answers: "FieldFault[]",
        about: "What is wrong with a form, field by field.",
    },
    Command {
        name: "save_part",
        takes: &[
            ("id", "string"),
            ("sheet", "Sheet"),
            ("was", "string | null"),
            ("cells", "{ [field: string]: string }"),
        ],
        answers: "CataloguePage",
        about: "Keeps a form as one step to take back.",
    },
    Command {
        name: "delete_part",
        takes: &[("id", "string"), ("part", "string")],
        answers: "CataloguePage",
        about: "Takes a part out of a catalogue.",
    },
    Command {
        name: "copy_catalogue",
        takes: &[("id", "string"), ("name", "string")],
        answers: "CataloguePage",
        about: "Copies a catalogue under another name.",
    },
    Command {
        name: "put_in_force",
        takes: &[("id", "string")],
        answers: "CataloguePage",
        about: "Puts a catalogue in force: sites are planned with it.",
    },
    Command {
        name: "settle_catalogue",
        takes: &[("id", "string"), ("number", "number")],
        answers: "CataloguePage",
        about: "Settles a catalogue that people changed at once by one of their versions.",
    },
    Command {
        name: "preview_import",
        takes: &[("id", "string | null"), ("path", "string")],
        answers: "Preview",
        about: "What a file would change in a catalogue, or what it would be as one of its own.",
    },
    Command {
        name: "take_import",
        takes: &[("id", "string | null"), ("path", "string"), ("fileSha256", "string"), ("contentSha256", "string")],
        answers: "CataloguePage",
        about: "Takes in a file that was looked at.",
    },
    Command {
        name: "export_catalogue",
        takes: &[("id", "string"), ("path", "string"), ("form", "CatalogueForm")],
        answers: "string",
        about: "Writes a catalogue, a list of its parts or a template into a file, and says so.",
    },
    Command {
        name: "undo_catalogue",
        takes: &[("id", "string | null")],
        answers: "CataloguePage",
        about: "Takes back this device's last change of catalogues.",
    },
    Command {
        name: "redo_catalogue",
        takes: &[("id", "string | null")],
        answers: "CataloguePage",
        about: "Makes again what was taken back last.",
    },
    Command {
        name: "shared",
        takes: &[],
        answers: "SharedPage",
        about: "How things stand with the shared folder; the event `shared` tells when that changes.",
    },
    Command { name: "shared_sign", takes: &[], answers: "SharedSign", about: "How it stands with sharing, in little." },
    Command {
        name: "start_team",
        takes: &[("place", "PlaceForm"), ("sealed", "boolean")],
        answers: "SharedPage",
        about: "Begins a team in an empty place.",
    },
    Command {
        name: "join_team",
        takes: &[("place", "PlaceForm"), ("code", "string")],
        answers: "SharedPage",
        about: "Asks to be let into a team.",
    },
    Command {
        name: "change_place",
        takes: &[("place", "PlaceForm")],
        answers: "SharedPage",
        about: "Changes where the team's files lie and how that is reached.",
    },
    Command {
        name: "stop_looking",
        takes: &[],
        answers: "void",
        about: "Stops the look at a place, for one of the three above.",
    },
    Command {
        name: "invite",
        takes: &[],
        answers: "ExchangeInvitation",
        about: "Invites somebody, with a code for one device.",
    },
    Command {
        name: "approve_device",
        takes: &[("device", "string")],
        answers: "SharedPage",
        about: "Lets a device in that asks with an invitation.",
    },
    Command {
        name: "remove_device",
        takes: &[("device", "string")],
        answers: "SharedPage",
        about: "Shuts a device out of what comes after.",
    },
    Command {
        name: "accept_device",
        takes: &[("device", "string")],
        answers: "SharedPage",
        about: "Says that what is here of a device outside the team counts for the whole team.",
    },
    Command {
        name: "keep_site",
        takes: &[("id", "string | null"), ("kept", "boolean")],
        answers: "SharedPage",
        about: "Keeps a site, or every one, with the originals of its photos on this device, or no longer.",
    },
    Command { name: "leave_team", takes: &[], answers: "SharedPage", about: "Ends sharing on this device." },
    Command { name: "share_now", takes: &[], answers: "void", about: "Begins a round now." },
    Command {
        name: "stop_sharing",
        takes: &[],
        answers: "void",
        about: "Stops the round on its way; what was shared stays.",
    },
    Command {
        name: "explain",
        takes: &[("asked", "Asked")],
        answers: "Explanation",
        about: "Why a number on the screen is what it is.",
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
    let mut out = format!(
        "{HEAD}import type {{ ExchangeRound, ExchangeState, ExchangeStatus }} from './exchange';\n\
         import type {{ ClockDrift, OffsetSource, PhotoHeading, PhotoNearest, PhotoState, PhotoWay, PhotosAway }} from './photos';\n\
         import type {{ Subject }} from './plan';\n\
         import type {{ DeviceLine, DisagreementLine, SetAsideLine, SiteLine }} from './sites';\n\
         import type {{ Survey }} from './survey';\n"
    );
    declared::<wire::Figure>(&config, &mut out);
    declared::<wire::Mark>(&config, &mut out);
    declared::<wire::Tally>(&config, &mut out);
    declared::<wire::SitePage>(&config, &mut out);
    declared::<wire::RailPage>(&config, &mut out);
    declared::<wire::Bounded>(&config, &mut out);
    declared::<wire::PatternLine>(&config, &mut out);
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
    declared::<wire::LinkSpan>(&config, &mut out);
    declared::<wire::EndCap>(&config, &mut out);
    declared::<wire::ControlMark>(&config, &mut out);
    declared::<wire::Stretch>(&config, &mut out);
    declared::<wire::LockRow>(&config, &mut out);
    declared::<wire::KeptThing>(&config, &mut out);
    declared::<wire::MainsLine>(&config, &mut out);
    declared::<wire::ZoneLine>(&config, &mut out);
    declared::<wire::DeviceRow>(&config, &mut out);
    declared::<wire::SettingLine>(&config, &mut out);
    declared::<wire::FindingLine>(&config, &mut out);
    declared::<wire::Asked>(&config, &mut out);
    declared::<wire::StepRole>(&config, &mut out);
    declared::<wire::Step>(&config, &mut out);
    declared::<wire::Explanation>(&config, &mut out);
    declared::<wire::Note>(&config, &mut out);
    declared::<wire::Refusal>(&config, &mut out);
    declared::<wire::Opened>(&config, &mut out);
    declared::<wire::CatalogueNote>(&config, &mut out);
    declared::<wire::PartChoice>(&config, &mut out);
    declared::<wire::WayOn>(&config, &mut out);
    declared::<wire::Tried>(&config, &mut out);
    declared::<wire::BesidePage>(&config, &mut out);
    declared::<wire::Beside<wire::RailPage>>(&config, &mut out);
    declared::<wire::HistoryPage>(&config, &mut out);
    declared::<wire::PastChange>(&config, &mut out);
    declared::<wire::PhotosPage>(&config, &mut out);
    declared::<wire::PhotoFile>(&config, &mut out);
    declared::<wire::AddProgress>(&config, &mut out);
    declared::<wire::CopiesTell>(&config, &mut out);
    declared::<parts::Sheet>(&config, &mut out);
    declared::<parts::FieldForm>(&config, &mut out);
    declared::<parts::Input>(&config, &mut out);
    declared::<parts::Choice>(&config, &mut out);
    declared::<parts::OnlyWith>(&config, &mut out);
    declared::<parts::FieldFault>(&config, &mut out);
    declared::<parts::Preview>(&config, &mut out);
    declared::<parts::PartChange>(&config, &mut out);
    declared::<parts::FieldChange>(&config, &mut out);
    declared::<parts::Refused>(&config, &mut out);
    declared::<parts::CsvStyle>(&config, &mut out);
    declared::<wire::CataloguePage>(&config, &mut out);
    declared::<wire::CatalogueEntry>(&config, &mut out);
    declared::<wire::OpenCatalogue>(&config, &mut out);
    declared::<wire::PartLine>(&config, &mut out);
    declared::<wire::SheetForm>(&config, &mut out);
    declared::<wire::CatalogueForm>(&config, &mut out);
    declared::<wire::SitesPage>(&config, &mut out);
    declared::<wire::ExportForm>(&config, &mut out);
    declared::<wire::SharedPage>(&config, &mut out);
    declared::<wire::SharedSign>(&config, &mut out);
    declared::<wire::SharedProgress>(&config, &mut out);
    declared::<wire::SharedSite>(&config, &mut out);
    declared::<wire::Settings>(&config, &mut out);
    declared::<wire::ThemeChoice>(&config, &mut out);
    declared::<wire::Units>(&config, &mut out);
    declared::<wire::Start>(&config, &mut out);
    declared::<wire::First>(&config, &mut out);
    // The generator leaves a blank at the end of some lines; a text that is compared should not depend on it.
    let mut tidy: String = out.lines().map(|line| format!("{}\n", line.trim_end())).collect();
    tidy.truncate(tidy.trim_end().len() + 1);
    tidy
}

/// The callers of the commands, `ui/src/lib/generated/commands.ts`.
#[must_use]
pub fn callers() -> String {
    let mut out = format!("{HEAD}{}\n", imports());
    out.push_str(
        "/** Carries a command's name and arguments to the program and brings back its answer. */\n\
         export type Call = (name: string, args: Record<string, unknown>) => Promise<unknown>;\n\n\
         /** One function for each command. */\nexport interface Commands {\n",
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

/// The types that the callers name, from the files that declare them.
fn imports() -> String {
    let named = |kind: &'static str| kind.trim_end_matches("[]");
    let mut names: Vec<&str> =
        COMMANDS.iter().flat_map(|c| c.takes.iter().map(|take| take.1).chain([c.answers])).map(named).collect();
    names.retain(|name| name.starts_with(char::is_uppercase));
    names.sort_unstable();
    names.dedup();
    let file_of = |name: &str| match name {
        "Edit" => "edit",
        "ExchangeInvitation" | "PlaceForm" => "exchange",
        "PhotoCopies" | "PhotoImport" => "photos",
        "SiteHits" => "sites",
        _ => "types",
    };
    let mut out = String::new();
    for file in ["edit", "exchange", "photos", "sites", "types"] {
        let here: Vec<&str> = names.iter().copied().filter(|name| file_of(name) == file).collect();
        out.push_str(&format!("import type {{ {} }} from './{file}';\n", here.join(", ")));
    }
    out
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
