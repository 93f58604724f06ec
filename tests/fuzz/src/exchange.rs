//! What strangers can put into a team's folder: every reader of `exchange`. Whatever is read is written again as it was,
//! for each content has one way to be written.
//!
//! A signature is the last thing that a reader looks at, and no search makes one by chance; so what is signed is signed
//! here, after it was changed.

use std::sync::LazyLock;

use ed25519_dalek::{Signer, SigningKey};
use exchange::head::Head;
use exchange::layout::{About, HEADS, MEMBERS, Spot};
use exchange::members::{Code, Entry, Join, Label, Log, Ring};
use exchange::memory::Memory;
use exchange::pack;
use exchange::seal::{Identity, Keys, Name, Purpose};

use crate::read::Read;

/// The number of the head of the seeds.
const NUMBER: u64 = 7;

/// A device, and the keys that it has in an open folder and in a sealed one.
struct Own {
    signs: SigningKey,
    identity: Identity,
    ring: Ring,
    open: Keys,
    sealed: Keys,
}

static OWN: LazyLock<Own> = LazyLock::new(|| {
    let secret = [1; 32];
    let identity = Identity::new(secret);
    let label = Label { person: "Invented Person".to_owned(), device: "tablet".to_owned() };
    let memory = Memory::found(&identity, &label, false, &mut || [2; 32], 0).expect("an open folder needs no key");
    let ring = memory.team(&identity).1;
    let sealed = Keys::new(&[3; 32]);
    Own { signs: SigningKey::from_bytes(&secret), identity, ring, open: Keys::open_folder(), sealed }
});

/// With its device's id behind so many bytes.
fn named(content: &[u8], before: usize) -> Vec<u8> {
    let mut bytes = content.to_vec();
    if let Some(place) = bytes.get_mut(before..before + 32) {
        place.copy_from_slice(&OWN.identity.id().0);
    }
    bytes
}

/// What its device has signed: its id stands behind so many bytes, its signature at the end.
fn signed(content: &[u8], before: usize) -> Vec<u8> {
    let mut bytes = named(content, before);
    let signature = OWN.signs.sign(&bytes).to_bytes();
    bytes.extend_from_slice(&signature);
    bytes
}

/// Entries of the log, requests and heads, by the first byte.
pub fn exchange_signed(data: &[u8]) -> Read {
    let Some((kind, content)) = data.split_first() else { return Read::Refused };
    let read = match kind % 3 {
        0 => {
            let file = signed(content, b"newel member 1".len());
            let entry = Entry::read(&file);
            if let Some(entry) = &entry {
                let (hash, again) = entry.sign(&OWN.identity);
                assert_eq!(again, file, "an entry comes back otherwise");
                // A log takes it, whatever it builds on, and reads a team or none.
                let mut log = Log::new(hash);
                log.take(vec![file]);
                let team = log.team();
                let ring = Ring::new(&log, &team, &OWN.identity);
                for member in team.members.values() {
                    let _ = ring.label(&member.newcomer);
                }
            }
            entry.is_some()
        }
        1 => {
            let join = Join::read(&signed(content, b"newel join 1".len()));
            if let Some(join) = &join {
                assert_eq!(join.device, OWN.identity.id());
                assert_eq!(join.label(&Code::new(&[4; 32], [5; 16])), None, "nobody has this code");
            }
            join.is_some()
        }
        _ => {
            let mut file = vec![0];
            file.extend(signed(content, b"newel head 1".len()));
            let head = Head::read(OWN.identity.id(), NUMBER, &file, &OWN.ring);
            if let Ok(head) = &head {
                assert_eq!(head.write(&OWN.identity, &OWN.open), file, "a head comes back otherwise");
            }
            head.is_ok()
        }
    };
    if read { Read::Whole } else { Read::Refused }
}

/// Packs, codes, the file that says what a folder is, a device's memory, names of files, and what is sealed, by the first
/// byte.
pub fn exchange_plain(data: &[u8]) -> Read {
    let Some((kind, content)) = data.split_first() else { return Read::Refused };
    let text = std::str::from_utf8(content);
    let device = OWN.identity.id();
    let read = match (kind % 6, text) {
        (0, _) => {
            let content = named(content, 1);
            let items = pack::read(&content, device, 0);
            if let Some(items) = &items {
                assert_eq!(pack::write(device, 0, items), content, "a pack comes back otherwise");
            }
            items.is_some()
        }
        (1, Ok(text)) => {
            let code = Code::read(text);
            if let Ok(code) = &code {
                assert_eq!(Code::read(&code.text()), Ok(*code), "a code does not come back");
            }
            code.is_ok()
        }
        (2, _) => {
            let about = About::read(content);
            if let Ok(about) = about {
                assert_eq!(About::read(about.text().as_bytes()), Ok(about), "what a folder is does not come back");
            }
            about.is_ok()
        }
        (3, _) => {
            let memory = Memory::from_bytes(content);
            if let Some(memory) = &memory {
                assert_eq!(
                    Memory::from_bytes(&memory.to_bytes()).as_ref(),
                    Some(memory),
                    "a memory does not come back"
                );
                let _ = memory.team(&OWN.identity);
                let _ = memory.asking(&OWN.identity);
            }
            memory.is_some()
        }
        (4, Ok(name)) => {
            let spots = [(HEADS, Spot::in_heads(name)), (MEMBERS, Spot::in_members(name))];
            for (folder, spot) in spots {
                if let Some(spot) = spot {
                    assert_eq!(spot.to_string(), format!("{folder}/{name}"), "a file has one name");
                }
            }
            spots.iter().any(|(_, spot)| spot.is_some())
        }
        (5, _) => {
            assert!(OWN.sealed.open(Purpose::Object, &[], content).is_err(), "nobody has this key");
            assert!(OWN.sealed.open_object(Name([6; 32]), &mut content.to_vec()).is_err(), "nobody has this key");
            let open = OWN.open.open(Purpose::Object, &[], content);
            if let Ok(plain) = &open {
                assert_eq!(OWN.open.seal(Purpose::Object, &[], plain), content, "what is open comes back otherwise");
            }
            open.is_ok()
        }
        _ => false,
    };
    if read { Read::Whole } else { Read::Refused }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::path::Path;
    use std::process::Command;

    /// Another program writes the seeds, from the description of the folder; so it says whether readers keep to that.
    #[test]
    fn the_seeds_are_read_where_they_are_whole() {
        let here = Path::new(env!("CARGO_MANIFEST_DIR"));
        let folder = std::env::temp_dir().join(format!("newel-fuzz-seeds-{}", std::process::id()));
        let made = Command::new("python3").arg(here.join("seeds.py")).arg(&folder).status().expect("python3");
        assert!(made.success());
        // Of a newer release, of another program, and two that are sealed with a key that nobody has.
        let targets: [(&str, fn(&[u8]) -> Read, usize); 2] =
            [("exchange_signed", exchange_signed, 0), ("exchange_plain", exchange_plain, 4)];
        for (target, read, expected) in targets {
            let files = std::fs::read_dir(folder.join(target)).expect("seeds").map(|file| file.expect("one").path());
            let refused: Vec<_> =
                files.filter(|path| read(&std::fs::read(path).expect("bytes")) == Read::Refused).collect();
            assert_eq!(refused.len(), expected, "{refused:?}");
        }
        let _ = std::fs::remove_dir_all(&folder);
    }
}
