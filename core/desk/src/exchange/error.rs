//! Why something could not be done with the shared folder: each sentence says what to do, with the command or at the window.

use std::fmt;

use exchange::engine::Failure;
use exchange::layout::ABOUT;
use exchange::members::CodeError;
use exchange::memory::MemberError;
use exchange::place::{PlaceError, Trouble};
use places::Fault;
use record::store::StoreError;

use crate::sites::SiteError;

/// Why it could not be done.
#[derive(Debug, thiserror::Error)]
pub enum ExchangeError {
    /// The home folder or its store.
    Site(#[from] SiteError),
    /// The place, while something in it is read or written.
    Place(#[from] PlaceError),
    /// The place as such, or what a person says about it.
    Fault {
        /// Its address; none where the matter is what was said.
        place: Option<String>,
        /// What is the matter.
        fault: Fault,
        /// Whether the settings are those of the team's place, and not just typed.
        is_kept: bool,
    },
    /// The team.
    Member(#[from] MemberError),
    /// A round ended before its end; what was done before stays.
    Round(Failure),
    /// Nobody shares here.
    NoTeam,
    /// Nobody lent the store.
    Closed,
    /// Somebody stopped it before the place had answered.
    Stopped,
    /// This device shares already, through this place.
    InTeam(String),
    /// Nobody said who works on this device.
    Nobody,
    /// There are other things in the folder.
    NotEmpty {
        /// Where.
        place: String,
        /// One of them.
        found: String,
    },
    /// A team has the folder already.
    Taken(String),
    /// No team shares through the folder.
    NotStarted(String),
    /// The folder is of another team.
    OtherTeam(String),
    /// The team's folder is not where it was.
    Gone {
        /// Where.
        place: String,
    },
    /// The code cannot be read.
    Code(#[from] CodeError),
    /// The code is of another team.
    OtherCode(String),
    /// An invitation is needed.
    NoCode,
    /// No device is called so.
    NoDevice {
        /// What kind of device was asked for.
        what: &'static str,
        /// What was asked for.
        asked: String,
        /// Those that are there.
        accepted: String,
    },
    /// What the store remembers of the team cannot be read.
    Memory,
    /// Rounds wait for a network on which they may run.
    HeldBack {
        /// Those networks.
        only_on: String,
        /// The one that this device is on, if that can be told.
        now: Option<String>,
    },
    /// What was typed names no network.
    NetworkName(String),
    /// Rounds cannot be kept to networks here, and why.
    NoNetwork(&'static str),
    /// A limit that would end nowhere, bytes a second.
    Limit(u64),
}

/// Who reads a sentence, and so what it may tell them to do.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Reader {
    Command,
    Window,
}

impl Reader {
    /// What to do, in this reader's words.
    fn to(self, command: &'static str, window: &'static str) -> &'static str {
        if self == Self::Command { command } else { window }
    }
}

impl fmt::Display for ExchangeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(Reader::Command))
    }
}

impl From<StoreError> for ExchangeError {
    fn from(why: StoreError) -> Self {
        Self::Site(SiteError::Store(why))
    }
}

impl ExchangeError {
    /// The sentence for whoever sits at the window: it names no command.
    #[must_use]
    pub fn in_window(&self) -> String {
        self.said(Reader::Window)
    }

    /// What is the matter with what a person says about a place.
    pub(super) fn of_settings(fault: Fault) -> Self {
        Self::Fault { place: None, fault, is_kept: false }
    }

    /// What is the matter with a place.
    pub(super) fn of_fault(place: &str, fault: Fault, is_kept: bool) -> Self {
        match fault {
            Fault::Folder(error) => Self::Place(error),
            Fault::Foreign(found) => Self::NotEmpty { place: place.to_owned(), found },
            Fault::Address { .. } | Fault::Setting { .. } | Fault::CaFile { .. } => {
                Self::Fault { place: None, fault, is_kept }
            }
            fault => Self::Fault { place: Some(place.to_owned()), fault, is_kept },
        }
    }

    /// Whether it passes by itself: the place cannot be reached now, is full, or waits for its network.
    #[must_use]
    pub fn is_passing(&self) -> bool {
        let trouble = match self {
            Self::Round(failure) => failure.trouble,
            Self::Place(error) => Some(error.trouble),
            Self::Fault { fault, .. } => Some(fault.trouble()),
            Self::Gone { .. } | Self::HeldBack { .. } => Some(Trouble::Away),
            _ => None,
        };
        matches!(trouble, Some(Trouble::Away | Trouble::Full))
    }

    fn said(&self, reader: Reader) -> String {
        match self {
            Self::Site(why) => why.to_string(),
            Self::Place(why) => why.to_string(),
            Self::Fault { place, fault, is_kept } => {
                let change = (reader == Reader::Command && *is_kept).then(|| option(fault)).flatten();
                let change = change.map(|option| format!("; newel exchange place {option}")).unwrap_or_default();
                let place = place.as_ref().map(|place| format!("{place}: ")).unwrap_or_default();
                format!("{place}{fault}{change}")
            }
            Self::Member(why) => why.to_string(),
            Self::Round(why) => format!("{why}; what was shared before stays, and the next round goes on from there"),
            Self::NoTeam => {
                let todo = reader.to(
                    "newel exchange start PLACE begins a team, newel exchange join PLACE --code CODE joins one",
                    "begin a team, or join one with the code of an invitation",
                );
                format!("this device shares with nobody yet; {todo}")
            }
            Self::Closed => "the store is closed; open it and run the round again".to_owned(),
            Self::Stopped => "it was stopped; on this device everything is as it was".to_owned(),
            Self::InTeam(place) => {
                let todo = reader.to("newel exchange leave ends that first", "end sharing on this device first");
                format!("this device shares through {place} already; {todo}, and nothing here is lost by it")
            }
            Self::Nobody => {
                let todo = reader.to(
                    "newel device name --person YOU names you to the team",
                    "say who works here, so that the team knows you",
                );
                format!("this device does not say whose it is; {todo}")
            }
            Self::NotEmpty { place, found } => {
                format!("{place} holds other things already ({found}); make an empty folder, and name that")
            }
            Self::Taken(place) => {
                let todo = reader.to("then: newel exchange join PLACE --code CODE", "then join with its code");
                format!("a team shares {place} already; ask one of it for an invitation, {todo}")
            }
            Self::NotStarted(place) => {
                let todo = reader.to("newel exchange start PLACE begins one there", "begin one there");
                format!("no team shares {place} yet; {todo}, or name the folder that your team uses")
            }
            Self::OtherTeam(place) => {
                format!("{place} belongs to another team than this device's; name the folder of your own team")
            }
            Self::Gone { place } => {
                let todo = reader.to("newel exchange join PLACE", "say where the team's files lie now");
                format!(
                    "{place} is not the team's folder now: {ABOUT} is missing there. Connect the drive if it is not; if the \
                     folder was moved, name the new one: {todo}"
                )
            }
            Self::Code(why) => format!("the code cannot be used: {why}"),
            Self::OtherCode(place) => {
                format!(
                    "this code is for another team's folder than {place}; name the folder that was given with the code"
                )
            }
            Self::NoCode => {
                let how = reader.to(" (newel exchange invite)", "");
                format!("a code is needed to join a team for the first time; ask one of the team for it{how}")
            }
            Self::NoDevice { what, asked, accepted } => {
                format!("{asked:?} names no {what}, or several; accepted: {accepted}")
            }
            Self::Memory => {
                let todo = reader.to("newel exchange leave", "end sharing on this device");
                format!(
                    "what this device remembers of its team cannot be read; {todo}, then join again with a new invitation"
                )
            }
            Self::HeldBack { only_on, now } => {
                let now = match now {
                    Some(now) => format!("this device is on {now}"),
                    None => "this device is on none that can be told".to_owned(),
                };
                let todo = reader
                    .to("newel exchange place --any-network lifts that", "allow every network to share all the same");
                format!("sharing waits for the network {only_on}, and {now}; {todo}; what was done stays")
            }
            Self::NetworkName(name) => {
                let here = reader.to(", or here for the network that this device is on", "");
                format!(
                    "{name:?} names no network; accepted: the hardware address of its gateway, as 02:00:5e:00:00:fe{here}"
                )
            }
            Self::NoNetwork(why) => {
                let todo = reader.to("leave out --only-on", "allow every network");
                format!("sharing cannot be kept to networks: {why}; {todo}")
            }
            Self::Limit(bytes) => format!("a limit of {bytes} B/s is too low; accepted: 1000 B/s or more"),
        }
    }
}

/// The option of `newel exchange place` that changes what is the matter, where one does.
fn option(fault: &Fault) -> Option<&'static str> {
    Some(match fault {
        Fault::Password => "--user NAME --new-password",
        Fault::ProxyPassword => "--proxy URL",
        Fault::CaFile { .. } | Fault::Certificate(_) => "--ca FILE",
        Fault::Region(_) => "--region REGION --server URL",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_sentence_for_the_window_names_a_command() {
        let at = || "https://drive.example/team".to_owned();
        let all = [
            ExchangeError::NoTeam,
            ExchangeError::InTeam(at()),
            ExchangeError::Nobody,
            ExchangeError::Taken(at()),
            ExchangeError::NotStarted(at()),
            ExchangeError::Gone { place: at() },
            ExchangeError::NoCode,
            ExchangeError::Memory,
            ExchangeError::HeldBack { only_on: "02:00:5e:00:00:fe".to_owned(), now: None },
            ExchangeError::NetworkName("home".to_owned()),
            ExchangeError::NoNetwork("nothing here tells which network this is"),
            ExchangeError::of_fault(&at(), Fault::Password, true),
            ExchangeError::of_fault(&at(), Fault::Certificate("nobody has issued it".to_owned()), true),
        ];
        for error in all {
            let (command, window) = (error.to_string(), error.in_window());
            let names = |text: &str| text.contains("newel ") || text.contains("--") || text.contains(" here for");
            assert!(names(&command), "{command}");
            assert!(!names(&window) && !window.contains("PLACE") && window.len() > 30, "{window}");
        }
        // What was just typed is changed where it was typed.
        assert!(!ExchangeError::of_fault(&at(), Fault::Password, false).to_string().contains("newel "));
    }
}
