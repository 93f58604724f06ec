//! `newel catalogue`: the catalogues that the firm keeps, and the one in force.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Subcommand;
use desk::sites::{self, Sites};

use crate::input;
use crate::output::{Done, print};

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
    /// Puts one in force: sites are planned from it where no --catalogue is given.
    Use {
        /// The catalogue.
        catalogue: String,
    },
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
        CatalogueCommand::Use { catalogue } => {
            print(&format!("{}\n", Sites::open(&home, sites::now_ms)?.put_in_force(&catalogue)?.sentence))?;
        }
    }
    Ok(ExitCode::SUCCESS)
}
