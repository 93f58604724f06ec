//! `newel device`: who works here, and whose changes count.

use std::path::Path;
use std::process::ExitCode;

use clap::Subcommand;
use desk::sites::{self, Sites};

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
    /// Says that the changes of another device count from now on. Ask first whether it is theirs.
    Know {
        /// The beginning of its id, eight digits or more.
        device: String,
    },
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
        DeviceCommand::Know { device } => {
            print(&format!("{}\n", Sites::open(&home, sites::now_ms)?.know(&device)?))?;
        }
    }
    Ok(ExitCode::SUCCESS)
}
