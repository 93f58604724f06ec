//! `newel exchange`: a team's devices share through a folder that all of them reach.

use std::path::Path;
use std::process::ExitCode;

use clap::Subcommand;
use desk::exchange::{ExchangeError, Seal};
use desk::sites::{self, Said, Sites};
use desk::wire::exchange::{ExchangeRound, PlaceForm};

use crate::output::{self, Done, print};
use crate::place::{Access, Ask, Use};
use crate::progress::Round;

/// What to do with the shared folder. A device is named by the beginning of its id (eight digits or more), by who works on
/// it or by what it is called.
#[derive(Debug, Subcommand)]
pub enum ExchangeCommand {
    /// Begins a team in an empty folder on a network drive or on the web, with this device as its first.
    Start {
        /// The folder, which must be there already, or https://host/path, or s3://bucket/prefix.
        address: String,
        /// How it is reached.
        #[command(flatten)]
        access: Access,
        /// Leave the files unsealed: whoever can open the folder can read everything in it.
        #[arg(long)]
        open: bool,
    },
    /// Joins a team: asks to be let in with the code of an invitation. Without a code, says that the team's folder, which
    /// somebody has moved, is there from now on.
    Join {
        /// The folder that the team shares, or https://host/path, or s3://bucket/prefix.
        address: String,
        /// How it is reached.
        #[command(flatten)]
        access: Access,
        /// The code that a member got from `newel exchange invite`.
        #[arg(long)]
        code: Option<String>,
    },
    /// Shows how the place of the team's files is reached, or changes it: what is left out stays as it is, and an empty text
    /// takes away.
    Place {
        /// How it is reached.
        #[command(flatten)]
        access: Access,
        /// Ask for the password anew, or read it from standard input.
        #[arg(long, conflicts_with = "password_file")]
        new_password: bool,
        /// What rounds may use.
        #[command(flatten)]
        use_: Use,
        /// Print the settings as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Prints the code with which one other device may ask to be let in.
    Invite {
        /// Print it as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Lets a device in that asks with an invitation.
    Approve {
        /// The device; it may be left out where only one asks.
        device: Option<String>,
    },
    /// Shuts a device out of what comes after. What it wrote until now counts.
    Remove {
        /// The device.
        device: String,
    },
    /// Says that what is here of a device outside the team counts for the whole team.
    Accept {
        /// The device.
        device: String,
    },
    /// Gives what is new here and takes what is new there. Ctrl-C stops it: what was shared stays.
    Run {
        /// Print what was done as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Says who is in the team, what waits, and what is not shared yet.
    Status {
        /// Print it as JSON, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Keeps a site on this device with the originals of its photos; other sites have smaller copies.
    Keep {
        /// The site.
        #[arg(required_unless_present = "every")]
        site: Option<String>,
        /// Every site, those to come included.
        #[arg(long, conflicts_with = "site")]
        every: bool,
        /// No longer; what came stays.
        #[arg(long)]
        no_longer: bool,
    },
    /// Ends sharing on this device. Everything that is here stays.
    Leave,
}

/// Does it.
pub fn run(home: Option<&Path>, command: ExchangeCommand) -> Done {
    let home = sites::home_folder(home)?;
    let open = || Sites::open(&home, sites::now_ms);
    match command {
        ExchangeCommand::Start { address, access, open: unsealed } => {
            let mut sites = open()?;
            let seal = if unsealed { Seal::Open } else { Seal::Sealed };
            said(&sites.start_team_at(&access.form(PlaceForm::at(&address), Ask::IfNamed)?, seal)?)?;
            then_a_round(&mut sites)
        }
        ExchangeCommand::Join { address, access, code } => {
            let mut sites = open()?;
            let form = if code.is_none() { sites.moved_to(&address) } else { PlaceForm::at(&address) };
            said(&sites.join_team_at(&access.form(form, Ask::IfNamed)?, code.as_deref())?)?;
            then_a_round(&mut sites)
        }
        ExchangeCommand::Place { access, new_password, use_, json } => {
            if new_password || access.says_something() || use_.says_something() {
                let mut sites = open()?;
                let ask = if new_password { Ask::Always } else { Ask::IfNamed };
                let form = use_.form(access.form(sites.place_form()?, ask)?, sites.network())?;
                let done = sites.set_place(&form)?;
                if !json {
                    said(&done)?;
                }
            }
            let place = Sites::open_to_read(&home, sites::now_ms)?.exchange_place()?;
            print(&if json { desk::json_text(&place) } else { place.to_text() })?;
            Ok(ExitCode::SUCCESS)
        }
        ExchangeCommand::Invite { json } => {
            let mut sites = open()?;
            let invitation = sites.invite()?;
            print(&if json { desk::json_text(&invitation) } else { invitation.to_text() })?;
            // Others of the team may let the newcomer in once this is in the folder.
            let how = sites.exchange(&mut Round::until_interrupted()?);
            Ok(remarked(how.err()))
        }
        ExchangeCommand::Approve { device } => {
            let mut sites = open()?;
            // Requests come with a round; where the folder cannot be reached, those that came before are known.
            first_a_round(&mut sites)?;
            said(&sites.approve(device.as_deref())?)?;
            then_a_round(&mut sites)
        }
        ExchangeCommand::Remove { device } => {
            let mut sites = open()?;
            // What is here by then counts; where the folder cannot be reached, that is what came before.
            first_a_round(&mut sites)?;
            said(&sites.remove_device(&device)?)?;
            then_a_round(&mut sites)
        }
        ExchangeCommand::Accept { device } => {
            let mut sites = open()?;
            said(&sites.accept_device(&device)?)?;
            then_a_round(&mut sites)
        }
        ExchangeCommand::Run { json } => {
            let done = open()?.exchange(&mut Round::until_interrupted()?)?;
            print(&if json { desk::json_text(&done) } else { done.to_text() })?;
            Ok(status(&done))
        }
        ExchangeCommand::Status { json } => {
            let found = Sites::open_to_read(&home, sites::now_ms)?.exchange_status()?;
            print(&if json { desk::json_text(&found) } else { found.to_text() })?;
            Ok(ExitCode::SUCCESS)
        }
        ExchangeCommand::Keep { site, every, no_longer } => {
            let asked = site.filter(|_| !every);
            said(&open()?.keep_site(asked.as_deref(), !no_longer)?)?;
            Ok(ExitCode::SUCCESS)
        }
        ExchangeCommand::Leave => {
            said(&open()?.leave_team()?)?;
            Ok(ExitCode::SUCCESS)
        }
    }
}

fn said(done: &Said) -> std::io::Result<()> {
    print(&format!("{}\n", done.sentence))
}

fn status(done: &ExchangeRound) -> ExitCode {
    if done.stopped { ExitCode::from(crate::STOPPED_BY_PERSON) } else { ExitCode::SUCCESS }
}

/// Takes what is in the folder by now, as far as it can be reached.
fn first_a_round(sites: &mut Sites) -> Result<(), Box<dyn std::error::Error>> {
    if let Err(why) = sites.exchange(&mut Round::until_interrupted()?) {
        output::remark(&why.to_string());
    }
    Ok(())
}

/// Carries into the folder what was just done. Where that cannot be reached, it goes there with the next round.
fn then_a_round(sites: &mut Sites) -> Done {
    match sites.exchange(&mut Round::until_interrupted()?) {
        Ok(done) => {
            print(&done.to_text())?;
            Ok(status(&done))
        }
        Err(why) => Ok(remarked(Some(why))),
    }
}

fn remarked(why: Option<ExchangeError>) -> ExitCode {
    if let Some(why) = why {
        output::remark(&format!("it goes into the folder with the next round (newel exchange run): {why}"));
    }
    ExitCode::SUCCESS
}
