//! Where each file stands in the folder. Whatever has another name there is somebody else's and is left alone.
//!
//! ```text
//! newel-exchange.txt              says what the folder is, for people and programs
//! members/<64 digits>             an entry of the membership log, named by the SHA-256 of its bytes
//! heads/<device>.<number>         what a device holds; its newest counts
//! heads/<device>.join             a device asks to be let in
//! objects/<2 digits>/<64 digits>  a pack of changes or a block of a photo, named by its keyed MAC
//! ```

use crate::DeviceId;
use crate::bytes::{hex, unhex};
use crate::seal::Name;

/// The folder of heads.
pub const HEADS: &str = "heads";
/// The folder of the membership log.
pub const MEMBERS: &str = "members";
/// The folder of objects, which lie in 256 folders within it.
pub const OBJECTS: &str = "objects";
/// The file that says what the folder is.
pub const ABOUT: &str = "newel-exchange.txt";
/// So many bytes of a photo are one block; the last is shorter.
pub const BLOCK_BYTES: u64 = 4 << 20;
/// No head, request or entry is larger; what is larger is none.
pub const MOST_SMALL_BYTES: u64 = 1 << 20;
/// No object is larger; what claims more is not read.
pub const MOST_OBJECT_BYTES: u64 = 80 << 20;

/// A file of the team.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Spot {
    /// An entry of the membership log.
    Entry([u8; 32]),
    /// A head.
    Head(DeviceId, u64),
    /// A request to be let in.
    Join(DeviceId),
    /// An object.
    Object(Name),
}

impl std::fmt::Display for Spot {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Entry(hash) => write!(f, "{MEMBERS}/{}", hex(hash)),
            Self::Head(device, number) => write!(f, "{HEADS}/{}.{number}", hex(&device.0)),
            Self::Join(device) => write!(f, "{HEADS}/{}.join", hex(&device.0)),
            Self::Object(name) => write!(f, "{OBJECTS}/{}/{name}", hex(&name.0[..1])),
        }
    }
}

impl Spot {
    /// What a name in the folder of heads stands for; `None` where it is a stranger's.
    #[must_use]
    pub fn in_heads(name: &str) -> Option<Self> {
        let (device, rest) = name.split_once('.')?;
        let device = DeviceId(unhex(device)?);
        if rest == "join" {
            return Some(Self::Join(device));
        }
        let number: u64 = rest.parse().ok().filter(|number| *number > 0)?;
        // One number has one name.
        (number.to_string() == rest).then_some(Self::Head(device, number))
    }

    /// What a name in the folder of the membership log stands for; `None` where it is a stranger's.
    #[must_use]
    pub fn in_members(name: &str) -> Option<Self> {
        unhex(name).map(Self::Entry)
    }
}

/// The 256 folders in which objects lie.
pub fn object_folders() -> impl Iterator<Item = String> {
    (0..=u8::MAX).map(|first| format!("{OBJECTS}/{}", hex(&[first])))
}

/// What the file that says what the folder is says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct About {
    /// The team: the hash of the first entry of its log.
    pub team: [u8; 32],
    /// Whether its files are sealed.
    pub sealed: bool,
}

const FIRST_LINE: &str = "Newel exchange, format 1, ";

/// Why a folder cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AboutError {
    /// It is of a newer release.
    #[error("a newer release made this folder; update Newel")]
    Newer,
    /// It is something else.
    #[error("{ABOUT} was not written by Newel or is damaged; choose another folder, or bring it back from a backup")]
    Other,
}

impl About {
    /// The file's text.
    #[must_use]
    pub fn text(&self) -> String {
        let (how, why) = if self.sealed {
            ("sealed", "Its files are sealed: without a key of the team nobody can read them.")
        } else {
            ("open", "Its files are open: whoever can open this folder can read everything in it.")
        };
        let team = hex(&self.team);
        format!(
            "{FIRST_LINE}{how}, team {team}\n\nNewel keeps the shared work of a team here. {why}\nPlease change nothing in this folder by hand.\n"
        )
    }

    /// Reads it.
    ///
    /// # Errors
    /// It is another program's or a newer release's.
    pub fn read(bytes: &[u8]) -> Result<Self, AboutError> {
        let text = std::str::from_utf8(bytes).map_err(|_| AboutError::Other)?;
        let line = text.lines().next().unwrap_or_default();
        let Some(rest) = line.strip_prefix(FIRST_LINE) else {
            let newer = line.strip_prefix("Newel exchange, format ").is_some();
            return Err(if newer { AboutError::Newer } else { AboutError::Other });
        };
        let (how, team) = rest.split_once(", team ").ok_or(AboutError::Other)?;
        let team = unhex(team).ok_or(AboutError::Other)?;
        match how {
            "sealed" => Ok(Self { team, sealed: true }),
            "open" => Ok(Self { team, sealed: false }),
            _ => Err(AboutError::Newer),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_has_one_name_and_is_found_by_it() {
        let device = DeviceId(std::array::from_fn(|n| n as u8 * 7));
        for spot in [Spot::Head(device, 1), Spot::Head(device, u64::MAX), Spot::Join(device)] {
            let path = spot.to_string();
            assert_eq!(path.strip_prefix("heads/").and_then(Spot::in_heads), Some(spot));
        }
        let path = Spot::Entry([7; 32]).to_string();
        assert_eq!(path.strip_prefix("members/").and_then(Spot::in_members), Some(Spot::Entry([7; 32])));
        let object = Spot::Object(Name([0xab; 32])).to_string();
        assert!(object.starts_with("objects/ab/abab"));
        assert_eq!(object_folders().filter(|folder| object.starts_with(&format!("{folder}/"))).count(), 1);
        assert_eq!(object_folders().count(), 256);
    }

    #[test]
    fn every_foreign_name_is_refused() {
        let device = hex(&[0xab; 32]);
        let upper = device.to_uppercase();
        for name in [
            "",
            ".",
            "..",
            "../../etc/passwd",
            "desktop.ini",
            ".DS_Store",
            "a.1",
            &device,
            &format!("{device}."),
            &format!("{device}.0"),
            &format!("{device}.01"),
            &format!("{device}.+1"),
            &format!("{device}.1 "),
            &format!("{upper}.1"),
            &format!("{device}.1.1"),
            &format!("{device}.18446744073709551616"),
            &format!("{device}.JOIN"),
            &format!("{device} (copy).1"),
            &format!("../{device}.1"),
            &format!("{device}.1~"),
            "\u{202e}1",
            "con.1",
        ] {
            assert_eq!(Spot::in_heads(name), None, "{name:?}");
            assert_eq!(Spot::in_members(&format!("{name}x")), None, "{name:?}");
        }
    }

    #[test]
    fn the_folder_says_what_it_is() {
        for sealed in [true, false] {
            let about = About { team: [5; 32], sealed };
            assert_eq!(About::read(about.text().as_bytes()), Ok(about));
        }
        assert_eq!(About::read(b"Newel exchange, format 2, sealed"), Err(AboutError::Newer));
        assert_eq!(About::read(b"[ViewState]\n"), Err(AboutError::Other));
        assert_eq!(About::read(b"\xff\xfe"), Err(AboutError::Other));
        assert_eq!(About::read(b""), Err(AboutError::Other));
    }
}
