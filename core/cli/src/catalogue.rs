//! `newel catalogue`: the catalogues that the firm keeps, and the one in force.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Subcommand;
use desk::parts::{self, CsvStyle, Sheet};
use desk::sites::{self, Sites};

use crate::input;
use crate::output::{Done, print, remark};

/// What to do with catalogues. A catalogue is named by its name or the beginning of its SHA-256.
#[derive(Debug, Subcommand)]
pub enum CatalogueCommand {
    /// Keeps a catalogue with its contents.
    Add {
        /// The catalogue, TOML or JSON.
        file: PathBuf,
        /// What people call it; the file's name where absent.
        #[arg(long)]
        name: Option<String>,
    },
    /// Lists them.
    List {
        /// Print them as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Takes a catalogue file or a list of parts into a catalogue that is kept, and says what that changes.
    Import {
        /// The catalogue that it goes into.
        catalogue: String,
        /// The file: TOML, JSON or CSV.
        file: PathBuf,
        /// Say what would change, and change nothing.
        #[arg(long)]
        preview: bool,
        /// Print it as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Writes a catalogue as TOML, or a list of its parts as CSV.
    Export {
        /// The catalogue; `demo` is the built-in one.
        catalogue: String,
        /// The file that is written.
        file: PathBuf,
        /// The list to write as CSV: luminaires, drivers, leads, controls or fixings.
        #[arg(long, value_name = "LIST", value_parser = list)]
        csv: Option<Sheet>,
        /// Write the first row alone, to be filled in.
        #[arg(long, requires = "csv")]
        template: bool,
        /// Semicolons between cells and commas in decimals, as spreadsheets of many countries write them.
        #[arg(long, requires = "csv")]
        semicolons: bool,
    },
    /// Puts one in force: sites are planned from it where no --catalogue is given.
    Use {
        /// The catalogue.
        catalogue: String,
    },
}

/// Reads the name of a list of parts.
fn list(text: &str) -> Result<Sheet, String> {
    Sheet::of_parts(text).ok_or_else(|| format!("accepted: {}", Sheet::PARTS.map(Sheet::name).join(", ")))
}

/// Does it.
pub fn run(home: Option<&Path>, command: CatalogueCommand) -> Done {
    let home = sites::home_folder(home)?;
    match command {
        CatalogueCommand::Add { file, name } => {
            let bytes = input::bytes(&file)?;
            desk::read_catalogue(&bytes, &input::name(&file))?;
            let own = file.file_stem().map(|stem| stem.to_string_lossy().into_owned());
            let name = name.or(own).unwrap_or_default();
            let done = Sites::open(&home, sites::now_ms)?.add_catalogue(&bytes, &input::name(&file), &name)?;
            print(&format!("{}\n", done.sentence))?;
        }
        CatalogueCommand::List { json } => {
            let found = Sites::open_to_read(&home, sites::now_ms)?.catalogues()?;
            print(&if json { desk::json_text(&found) } else { found.to_text() })?;
        }
        CatalogueCommand::Import { catalogue, file, preview, json } => {
            let (bytes, name) = (input::bytes(&file)?, input::name(&file));
            let mut sites =
                if preview { Sites::open_to_read(&home, sites::now_ms)? } else { Sites::open(&home, sites::now_ms)? };
            let found = sites.preview_import(Some(&catalogue), &bytes, &name)?;
            let seen = (found.file_sha256.as_str(), found.content_sha256.as_str());
            let done =
                if preview { None } else { Some(sites.import_parts(Some(&catalogue), &bytes, &name, Some(seen))?) };
            let said = done.map(|done| format!("{}\n", desk::safe::safe(&done.sentence))).unwrap_or_default();
            print(&if json { desk::json_text(&found) } else { format!("{}{said}", found.to_text()) })?;
            if !found.refused.is_empty() {
                found.refused.iter().for_each(|refused| remark(&refused.sentence()));
                return Ok(ExitCode::from(2));
            }
        }
        CatalogueCommand::Export { catalogue, file, csv, template, semicolons } => {
            let sites = Sites::open_to_read(&home, sites::now_ms)?;
            let style = if semicolons { CsvStyle::Commas } else { CsvStyle::Points };
            let bytes = match csv {
                Some(list) if template => parts::template_of(list, style),
                Some(list) => sites.catalogue_csv(&catalogue, list, style)?,
                None => sites.catalogue_toml(&catalogue)?,
            };
            sites.write_outside(&file, &bytes)?;
            print(&format!("written to {}\n", file.display()))?;
        }
        CatalogueCommand::Use { catalogue } => {
            print(&format!("{}\n", Sites::open(&home, sites::now_ms)?.put_in_force(&catalogue)?.sentence))?;
        }
    }
    Ok(ExitCode::SUCCESS)
}
