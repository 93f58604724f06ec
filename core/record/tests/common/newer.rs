//! Files as a newer release would write them: the same signed form, with contents that this one does not know.

use automerge::transaction::{CommitOptions, Transactable};
use automerge::{ActorId, Automerge};
use record::document::find_maps;
use record::sign::{Claim, Device};
use record::store::Store;
use sha2::{Digest, Sha256};

fn block(into: &mut Vec<u8>, bytes: &[u8]) {
    into.extend_from_slice(&u32::try_from(bytes.len()).expect("short").to_be_bytes());
    into.extend_from_slice(bytes);
}

fn record(file: &mut Vec<u8>, kind: u8, parts: &[&[u8]]) {
    let mut body = Vec::new();
    parts.iter().for_each(|part| block(&mut body, part));
    file.push(kind);
    block(file, &body);
}

/// The chunks of a site file, which are its last part of each change record.
fn chunks(file: &[u8]) -> Vec<Vec<u8>> {
    let mut rest = &file[file.iter().position(|b| *b == b'\n').expect("a first line") + 1..file.len() - 32];
    let mut found = Vec::new();
    let take = |bytes: &mut &[u8]| {
        let (length, after) = bytes.split_first_chunk::<4>().expect("a length");
        let (part, after) = after.split_at(u32::from_be_bytes(*length) as usize);
        *bytes = after;
        part.to_vec()
    };
    while let Some((kind, after)) = rest.split_first() {
        rest = after;
        let body = take(&mut rest);
        let (mut parts, mut last) = (body.as_slice(), Vec::new());
        while !parts.is_empty() {
            last = take(&mut parts);
        }
        if *kind == b'C' {
            found.push(last);
        }
    }
    found
}

/// The site's file with one change more, by another device: schema 9, post f7 turned into an unknown kind.
pub fn with_unknown_kind(store: &Store, site: &str) -> Vec<u8> {
    let file = store.export(site).expect("file");
    let device = Device::new("Invented Person 7", "newer tablet", [77; 32]);
    let actor = [78; 16];
    let mut doc = Automerge::new().with_actor(ActorId::from(actor));
    for chunk in chunks(&file) {
        doc.load_incremental(&chunk).expect("a change");
    }
    let feature = find_maps(&doc, &["rails", "R1", "features", "f7"]).remove(0);
    let mut tx = doc.transaction();
    tx.put(automerge::ROOT, "schema_version", 9).expect("put");
    tx.put(&feature, "kind", r#"{"kind":"hologram","glow":7}"#).expect("put");
    tx.commit_with(CommitOptions::default().with_message("written by a newer release")).0.expect("a change");
    let change = doc.get_last_local_change().expect("a change");
    let (person, time_ms) = ("Invented Person 7", 5_i64);
    let claim = Claim::Change { document: site, person, time_ms, chunk: change.raw_bytes() };
    // The history ends with its own seal, a record of 41 bytes; no photos follow it.
    let mut longer = file[..file.len() - 32 - 41].to_vec();
    let id = device.id().0;
    record(&mut longer, b'D', &[&id, person.as_bytes(), b"newer tablet"]);
    record(&mut longer, b'A', &[&actor, &id, &device.sign(&Claim::Actor { actor: &actor })]);
    let parts: [&[u8]; 7] = [
        site.as_bytes(),
        &change.hash().0,
        &id,
        person.as_bytes(),
        &time_ms.to_be_bytes(),
        &device.sign(&claim),
        change.raw_bytes(),
    ];
    record(&mut longer, b'C', &parts);
    let history = Sha256::digest(&longer);
    record(&mut longer, b'S', &[&history]);
    let seal = Sha256::digest(&longer);
    longer.extend_from_slice(&seal);
    longer
}
