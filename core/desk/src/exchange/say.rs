//! The shared folder in words for people: one line for each thing, nothing in it that steers a terminal.

use std::fmt::Write as _;

use super::{SoFar, rate};
use crate::safe::safe;
use crate::sites::{count, when};
use crate::wire::exchange::{
    AskingLine, ExchangeInvitation, ExchangePlace, ExchangeRound, ExchangeState, ExchangeStatus, KeysIn, WaitingLine,
    WaitsFor,
};

/// So many files that were set aside are named one by one.
const MOST_NAMED: usize = 20;

/// Digits of an id that are enough to compare by eye and to name a device.
fn short(id: &str) -> &str {
    &id[..id.len().min(16)]
}

fn called(person: Option<&String>, device: Option<&String>) -> String {
    match (person, device) {
        (Some(person), Some(device)) => format!("{} on {}", safe(person), safe(device)),
        _ => "somebody whose name this device cannot read".to_owned(),
    }
}

fn mb(bytes: u64) -> String {
    // One decimal is plenty for people: a tenth of 10^6 bytes.
    format!("{}.{} MB", bytes / 1_000_000, bytes / 100_000 % 10)
}

fn things(number: u64, word: &str) -> String {
    count(usize::try_from(number).unwrap_or(usize::MAX), word)
}

impl SoFar {
    /// How far a round has come.
    #[must_use]
    pub fn sentence(&self) -> String {
        format!("{} came, {} given, {} of photos", things(self.took, "item"), self.gave, mb(self.photo_bytes))
    }
}

impl ExchangeInvitation {
    /// The code, and what is to be done with it.
    #[must_use]
    pub fn to_text(&self) -> String {
        format!(
            "{}\n\nGive this code to one person, by a way that nobody else reads. On the other device:\n  newel exchange join '{}' --code {}\nThen here: newel exchange approve\n",
            self.code,
            safe(&self.address),
            self.code
        )
    }
}

fn asks(line: &AskingLine) -> String {
    match (&line.person, &line.used_by) {
        (None, _) => format!("{}  without an invitation of this team: do not let it in", short(&line.id)),
        (Some(_), Some(other)) => format!(
            "{}  {}  with an invitation that {} used before: invite it anew if it is yours",
            short(&line.id),
            called(line.person.as_ref(), line.device.as_ref()),
            short(other)
        ),
        _ => format!(
            "{}  {}  with an invitation of {}; let it in: newel exchange approve {}",
            short(&line.id),
            called(line.person.as_ref(), line.device.as_ref()),
            line.invited_by.as_deref().map_or("somebody of the team", short),
            short(&line.id)
        ),
    }
}

/// Changes that do not count, why, and what can be done.
fn waits(line: &WaitingLine) -> String {
    let sites: Vec<String> = line.sites.iter().map(|site| format!("{} in {}", site.changes, safe(&site.id))).collect();
    let (changes, sites) = (things(line.changes, "change"), sites.join(", "));
    let id = line.device.as_deref().map(short).unwrap_or_default();
    let who = called(line.person.as_ref(), line.device_name.as_ref());
    match line.waits_for {
        WaitsFor::UnknownDevice => format!(
            "{changes} wait ({sites}) for {who}, device {id}, which nobody let in; once it asks: newel exchange approve \
             {id}; or for what is here alone: newel exchange accept {id}"
        ),
        WaitsFor::RemovedDevice => format!(
            "{changes} do not count ({sites}), since they come from {who}, device {id}, after that was removed; if they \
             should: newel exchange accept {id}"
        ),
        WaitsFor::MissingChange => format!("{changes} wait ({sites}) for others that are not here yet"),
        WaitsFor::Damaged => format!("{changes} are damaged ({sites}) and do not count"),
    }
}

impl ExchangeRound {
    /// What a round did, in some lines.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        let _ = match self.state {
            _ if self.stopped => {
                writeln!(text, "stopped; what was shared stays, and the next round goes on from there")
            }
            ExchangeState::Waiting | ExchangeState::Alone => {
                writeln!(text, "this device waits to be let in; ask a member to run: newel exchange approve")
            }
            ExchangeState::Removed => writeln!(
                text,
                "this device was removed from the team; what is here stays, and nothing is shared. To come back: newel exchange join with a new invitation"
            ),
            ExchangeState::Member => Ok(()),
        };
        if self.state == ExchangeState::Member {
            let _ = writeln!(
                text,
                "{} came and {} given; {} came and {} given, {}",
                things(self.took, "item"),
                self.gave,
                things(self.photo_files_took, "photo file"),
                self.photo_files_gave,
                mb(self.photo_bytes)
            );
        }
        for line in &self.waiting {
            let _ = writeln!(text, "{}", waits(line));
        }
        if self.asking > 0 {
            let asks = if self.asking == 1 { "asks" } else { "ask" };
            let _ = writeln!(
                text,
                "{} {asks} to be let in; see newel exchange status",
                things(self.asking.into(), "device")
            );
        }
        for stranger in &self.strangers {
            let _ = writeln!(
                text,
                "device {} writes into the folder and is not in the team; it is not read",
                short(stranger)
            );
        }
        for aside in self.set_aside.iter().take(MOST_NAMED) {
            let _ = writeln!(text, "set aside {}: {}", safe(&aside.path), safe(&aside.why));
        }
        if let Some(more) = self.set_aside.len().checked_sub(MOST_NAMED).filter(|more| *more > 0) {
            let _ = writeln!(text, "set aside: {} more", count(more, "file"));
        }
        if self.mended > 0 {
            let _ =
                writeln!(text, "{} missing or damaged in the folder and written again", things(self.mended, "file"));
        }
        if self.lacking > 0 {
            let _ = writeln!(
                text,
                "{} cannot be read yet; whoever has the contents writes them again in a round to come",
                things(self.lacking, "file")
            );
        }
        if let Some(clock) = &self.clock {
            let _ = writeln!(text, "{clock}");
        }
        text
    }
}

impl ExchangePlace {
    /// How the place is reached, one line for each setting, and nothing secret.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = format!("address   {}\n", safe(&self.address));
        let mut line = |name: &str, value: Option<&str>| {
            if let Some(value) = value {
                let _ = writeln!(text, "{name:<8}  {}", safe(value));
            }
        };
        line("name", self.user.as_deref());
        line("password", self.user.is_some().then_some(if self.has_password { "kept" } else { "none" }));
        line("server", self.server.as_deref());
        line("region", self.region.as_deref());
        line("ca", self.ca.as_deref());
        line("proxy", self.proxy.as_deref());
        line("login", self.has_proxy_login.then_some("kept, for the proxy"));
        let limit = self.bytes_per_second.map(|bytes| format!("{} at most", rate::said(bytes)));
        line("limit", Some(limit.as_deref().unwrap_or("none")));
        let only_on = self.only_on.join(", ");
        line("networks", Some(if only_on.is_empty() { "every" } else { &only_on }));
        line("on now", self.network.as_deref());
        line("waits", self.held_back.as_deref());
        text
    }
}

impl ExchangeStatus {
    /// How things stand, one line for each thing.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text =
            format!("this device  {}  {} on {}\n", short(&self.device), safe(&self.person), safe(&self.device_name));
        if self.state == ExchangeState::Alone {
            text.push_str("it shares with nobody; newel exchange start PLACE begins a team, newel exchange join PLACE --code CODE joins one\n");
            return text;
        }
        text.push_str(match self.keys {
            KeysIn::Keyring => "keys  in the keyring of this computer\n",
            KeysIn::File => "keys  in files of the store's folder that only their owner may read\n",
        });
        let address = self.address.as_deref().map(safe).unwrap_or_default();
        let sealed = match self.sealed {
            Some(true) => ", sealed",
            Some(false) => ", open: whoever can open the folder can read everything in it",
            None => "",
        };
        let _ = writeln!(text, "folder  {address}{sealed}");
        let _ = match self.state {
            ExchangeState::Waiting => writeln!(
                text,
                "waits to be let in; ask a member to run: newel exchange approve {}",
                short(&self.device)
            ),
            ExchangeState::Removed => writeln!(text, "removed from the team; nothing is shared any more"),
            _ => Ok(()),
        };
        for line in &self.members {
            let shared = match (&line.last_shared, line.this) {
                (Some(moment), _) => format!("shared {}", when(moment)),
                (None, true) => "has shared nothing yet".to_owned(),
                (None, false) => "nothing has come from it yet".to_owned(),
            };
            let this = if line.this { "  this device" } else { "" };
            let _ = writeln!(
                text,
                "member  {}  {}  {shared}{this}",
                short(&line.id),
                called(line.person.as_ref(), line.device.as_ref())
            );
        }
        for line in &self.removed {
            let _ =
                writeln!(text, "removed  {}  {}", short(&line.id), called(line.person.as_ref(), line.device.as_ref()));
        }
        for line in &self.asking {
            let _ = writeln!(text, "asks  {}", asks(line));
        }
        for line in &self.waiting {
            let _ = writeln!(text, "{}", waits(line));
        }
        for line in &self.kept_aside {
            let _ = writeln!(text, "{} kept aside: {}", things(line.items, "item"), safe(&line.why));
        }
        if self.keeps_every_site {
            text.push_str("every site is kept here with the originals of its photos\n");
        } else if !self.kept_sites.is_empty() {
            let sites: Vec<String> = self.kept_sites.iter().map(|id| safe(id)).collect();
            let _ = writeln!(text, "kept here with the originals of their photos: {}", sites.join(", "));
        }
        self.say_rounds(&mut text);
        if let Some(clock) = &self.clock {
            let _ = writeln!(text, "{clock}");
        }
        text
    }

    fn say_rounds(&self, text: &mut String) {
        let _ = match (self.unshared_items, self.unshared_photo_files) {
            (0, 0) => writeln!(text, "everything here is in the folder"),
            (items, files) => writeln!(
                text,
                "not in the folder yet: {}, {} ({})",
                things(items, "item"),
                things(files, "photo file"),
                mb(self.unshared_photo_bytes)
            ),
        };
        let _ = match &self.last_round {
            Some(moment) => writeln!(text, "last round  {}", when(moment)),
            None => writeln!(text, "no round has come to its end yet"),
        };
        if let Some(why) = self.place.as_ref().and_then(|place| place.held_back.as_ref()) {
            let _ = writeln!(text, "{}", safe(why));
        }
        if let (Some(since), Some(why)) = (&self.failing_since, &self.failure) {
            let _ = writeln!(text, "since {} none has: {}", when(since), safe(why));
        }
    }
}
