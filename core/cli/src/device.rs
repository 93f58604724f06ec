//! `newel device`: who works here, and whose changes count.

use std::path::Path;
use std::process::ExitCode;

use clap::{Subcommand, ValueEnum};
use desk::sites::{self, Sites};
use desk::wire::exchange::KeysIn;

use crate::output::{Done, print};

/// What to do with devices.
#[derive(Debug, Subcommand)]
pub enum DeviceCommand {
    /// Lists this device and those that others' changes came from.
    List {
        /// Print them as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Says who works on this device and what it is called; changes made from now on carry it.
    Name {
        /// Who works on it.
        #[arg(long, required_unless_present = "device")]
        person: Option<String>,
        /// What it is called.
        #[arg(long)]
        device: Option<String>,
    },
    /// Moves the key of this device and the password of its place: into the keyring of the computer, or into files of the
    /// store's folder that only their owner may read. A device that joins a team keeps them in the keyring where one runs.
    Keys {
        /// Where to.
        #[arg(value_enum)]
        place: Place,
    },
    /// Says that the changes of another device count from now on. Ask first whether it is theirs.
    Know {
        /// The beginning of its id, eight digits or more.
        device: String,
    },
}

/// Where keys may lie.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Place {
    /// The keyring of the computer: of the desktop's session, so that it has to be signed in.
    Keyring,
    /// Files, for a device that works without anybody signed in, or whose folder is to be moved to another computer.
    File,
}

/// Does it.
pub fn run(home: Option<&Path>, command: DeviceCommand) -> Done {
    let home = sites::home_folder(home)?;
    match command {
        DeviceCommand::Name { person, device } => {
            sites::rename_device(&home, person.as_deref(), device.as_deref())?;
            let own = Sites::open(&home, sites::now_ms)?.devices()?.devices.into_iter().find(|line| line.this);
            print(&own.map(|line| format!("{} on {}\n", line.person, line.device)).unwrap_or_default())?;
        }
        DeviceCommand::List { json } => {
            let found = Sites::open_to_read(&home, sites::now_ms)?.devices()?;
            print(&if json { desk::json_text(&found) } else { found.to_text() })?;
        }
        DeviceCommand::Keys { place } => {
            let mut sites = Sites::open(&home, sites::now_ms)?;
            let (to, said) = match place {
                Place::Keyring => (KeysIn::Keyring, "in the keyring of this computer"),
                Place::File => (KeysIn::File, "in files of the store's folder that only their owner may read"),
            };
            sites.keep_keys(to)?;
            print(&format!("keys lie {said}\n"))?;
        }
        DeviceCommand::Know { device } => {
            print(&format!("{}\n", Sites::open(&home, sites::now_ms)?.know(&device)?))?;
        }
    }
    Ok(ExitCode::SUCCESS)
}
