//! The membership log: whoever holds the same entries reads the same team, in whatever order they came; a leaver is shut
//! out; what is refused is counted.

use std::collections::BTreeMap;

use exchange::DeviceId;
use exchange::members::{Item, Join, Label, Log, Ring, Verdict, verdicts};
use exchange::memory::Memory;
use exchange::seal::{Identity, Purpose, SealError};
use proptest::prelude::*;

fn own(n: u8) -> Identity {
    Identity::new([n + 1; 32])
}

fn label(n: u8) -> Label {
    Label { person: format!("Invented Person {n}"), device: format!("tablet {n}") }
}

/// Bytes that differ at each call; in a test they need not be secret.
fn counted() -> impl FnMut() -> [u8; 32] {
    let mut count = 0u64;
    move || {
        count += 1;
        let mut bytes = [0x5a; 32];
        bytes[..8].copy_from_slice(&count.to_be_bytes());
        bytes
    }
}

fn files(memory: &Memory) -> Vec<Vec<u8>> {
    memory.log().files().map(|(_, file)| file.to_vec()).collect()
}

/// A memory of the same team with another log, by its bytes: as if a round had carried entries over.
fn with_log(memory: &Memory, from: &[&Memory]) -> Memory {
    memory.with_entries(from.iter().flat_map(|other| files(other)).collect())
}

/// The founder and some more, all of whom hold the whole log.
fn team(many: u8, random: &mut dyn FnMut() -> [u8; 32]) -> Vec<Memory> {
    let mut founder = Memory::found(&own(0), &label(0), true, random, 0).expect("founded");
    for n in 1..many {
        let code = founder.invite(&own(0), random, 0).expect("invited");
        founder.receive_request(Join::write(&own(n), &code, &label(n)));
        assert_eq!(founder.approve(&own(0), own(n).id(), random, 0).expect("let in"), label(n));
    }
    vec![founder; usize::from(many)]
}

#[test]
fn a_leaver_is_shut_out_and_the_others_are_not() {
    let random = &mut counted();
    let mut all = team(3, random);
    all[0].remove(&own(0), own(2).id(), Vec::new(), random, 0).expect("removed");
    let (team, ring) = all[0].team(&own(0));
    let keys = ring.seals_with().expect("a new key");
    let sealed = keys.seal(Purpose::Object, b"", b"after");
    let of = |n| Ring::new(all[0].log(), &team, &own(n)).open(Purpose::Object, b"", &sealed);
    assert_eq!(of(1).as_deref(), Ok(&b"after"[..]));
    assert_eq!(of(2), Err(SealError::OtherKey));
    // What was before stays readable for a newcomer, who gets every key.
    let old = all[1].team(&own(1)).1.seals_with().expect("the old key").seal(Purpose::Object, b"", b"before");
    let code = all[0].invite(&own(0), random, 0).expect("invited");
    all[0].receive_request(Join::write(&own(5), &code, &label(5)));
    all[0].approve(&own(0), own(5).id(), random, 0).expect("let in");
    let (_, ring) = all[0].team(&own(5));
    assert_eq!(ring.open(Purpose::Object, b"", &old).as_deref(), Ok(&b"before"[..]));
    assert_eq!(ring.open(Purpose::Object, b"", &sealed).as_deref(), Ok(&b"after"[..]));
}

#[test]
fn nobody_is_let_in_without_an_invitation_or_with_a_used_one() {
    let random = &mut counted();
    let mut all = team(2, random);
    let code = all[0].invite(&own(0), random, 0).expect("invited");
    let other = exchange::members::Code::new(&all[0].log().root(), [9; 16]);
    all[0].receive_request(Join::write(&own(3), &other, &label(3)));
    let why = all[0].approve(&own(0), own(3).id(), random, 0).expect_err("uninvited").to_string();
    assert!(why.contains("not made with an invitation of this team"), "{why}");
    all[0].receive_request(Join::write(&own(4), &code, &label(4)));
    all[0].approve(&own(0), own(4).id(), random, 0).expect("let in");
    all[0].receive_request(Join::write(&own(6), &code, &label(6)));
    let why = all[0].approve(&own(0), own(6).id(), random, 0).expect_err("used").to_string();
    assert!(why.contains("was used by device"), "{why}");
    let why = all[0].approve(&own(0), own(7).id(), random, 0).expect_err("nobody asks").to_string();
    assert!(why.contains("run a round first"), "{why}");
    // A stranger who writes an entry of its own gets it into nobody's log.
    let mut forged = Memory::found(&own(9), &label(9), true, random, 0).expect("founded");
    forged.invite(&own(9), random, 0).expect("invited in its own team");
    let mut log = all[0].log().clone();
    assert_eq!(log.take(files(&forged)).0, 0);
}

#[test]
fn of_two_that_remove_each_other_the_one_longer_in_the_team_stays() {
    let random = &mut counted();
    let mut all = team(3, random);
    all[1].remove(&own(1), own(0).id(), Vec::new(), random, 0).expect("removed");
    all[0].remove(&own(0), own(1).id(), Vec::new(), random, 0).expect("removed");
    // Nor does it help to let a friend in without knowing of the removal.
    let code = all[1].invite(&own(1), random, 0);
    assert!(code.is_ok(), "it does not know yet");
    let merged = with_log(&all[2], &[&all[1], &all[0]]);
    let team = merged.log().team();
    assert!(team.members.contains_key(&own(0).id()) && !team.members.contains_key(&own(1).id()), "{team:?}");
    assert_eq!(team.members.len(), 2);
}

#[test]
fn a_device_that_was_removed_can_be_let_in_again() {
    let random = &mut counted();
    let mut founder = team(2, random).remove(0);
    founder.remove(&own(0), own(1).id(), Vec::new(), random, 0).expect("removed");
    assert!(founder.log().team().removed.contains_key(&own(1).id()));
    let code = founder.invite(&own(0), random, 0).expect("invited");
    founder.receive_request(Join::write(&own(1), &code, &label(1)));
    founder.approve(&own(0), own(1).id(), random, 0).expect("let in again");
    let team = founder.log().team();
    assert!(team.members.contains_key(&own(1).id()) && !team.removed.contains_key(&own(1).id()));
}

/// A deed of one of four devices, each of which may have heard of the others' or not.
#[derive(Clone, Debug)]
enum Deed {
    Hear(u8, u8),
    Remove(u8, u8),
    LetIn(u8, u8),
}

fn deed() -> impl Strategy<Value = Deed> {
    prop_oneof![
        3 => (0..4u8, 0..4u8).prop_map(|(a, b)| Deed::Hear(a, b)),
        1 => (0..4u8, 0..6u8).prop_map(|(a, b)| Deed::Remove(a, b)),
        1 => (0..4u8, 0..6u8).prop_map(|(a, b)| Deed::LetIn(a, b)),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]
    #[test]
    fn the_same_entries_make_the_same_team_in_any_order(
        deeds in prop::collection::vec(deed(), 1..14),
        order in any::<u64>(),
        cuts in prop::collection::vec(1..4usize, 1..40),
    ) {
        let random = &mut counted();
        let mut all = team(4, random);
        for deed in deeds {
            match deed {
                Deed::Hear(a, b) => all[usize::from(a)] = with_log(&all[usize::from(a)], &[&all[usize::from(b)]]),
                Deed::Remove(a, b) => {
                    let _ = all[usize::from(a)].remove(&own(a), own(b).id(), Vec::new(), random, 0);
                }
                Deed::LetIn(a, b) => {
                    let memory = &mut all[usize::from(a)];
                    if let Ok(code) = memory.invite(&own(a), random, 0) {
                        memory.receive_request(Join::write(&own(b), &code, &label(b)));
                        let _ = memory.approve(&own(a), own(b).id(), random, 0);
                    }
                }
            }
        }
        let everything = with_log(&all[0], &all.iter().collect::<Vec<_>>());
        let expected = everything.log().team();
        // The same files one by one, in another order, some of them twice, in portions.
        let mut shuffled: Vec<Vec<u8>> = files(&everything);
        shuffled.sort_by_key(|file| {
            let last = u64::from_be_bytes(file[file.len() - 8..].try_into().expect("eight bytes"));
            last.wrapping_mul(order | 1)
        });
        let mut log = Log::new(everything.log().root());
        let mut held: Vec<Vec<u8>> = Vec::new();
        let mut left = shuffled.as_slice();
        for cut in cuts.iter().cycle() {
            if left.is_empty() {
                break;
            }
            let (now, later) = left.split_at((*cut).min(left.len()));
            held.extend_from_slice(now);
            log.take(held.clone());
            left = later;
        }
        prop_assert_eq!(log.team(), expected.clone());
        // Whoever is no member holds no key with which members seal.
        for n in 0..6 {
            let ring = Ring::new(everything.log(), &expected, &own(n));
            if !expected.members.contains_key(&own(n).id()) {
                prop_assert!(ring.seals_with().is_none());
            }
        }
    }
}

#[test]
fn what_waits_and_what_is_refused_is_told_apart() {
    let random = &mut counted();
    let mut founder = team(3, random).remove(0);
    let item = |name: u8, author: DeviceId, needs: &[u8]| Item {
        name: [name; 32],
        author,
        needs: needs.iter().map(|need| [*need; 32]).collect(),
    };
    let (a, leaver, stranger) = (own(0).id(), own(2).id(), own(9).id());
    let items = [
        item(1, a, &[]),
        item(2, leaver, &[1]),
        item(3, leaver, &[2]),
        item(4, a, &[3]),
        item(5, stranger, &[1]),
        item(6, a, &[5]),
        item(7, a, &[1]),
        item(8, a, &[99]),
        item(10, a, &[11]),
        item(11, a, &[10]),
    ];
    let now = |founder: &Memory| -> BTreeMap<u8, Verdict> {
        verdicts(&items, &founder.log().team()).into_iter().map(|(name, verdict)| (name[0], verdict)).collect()
    };
    let before = now(&founder);
    assert_eq!((before[&3], before[&4]), (Verdict::Counts, Verdict::Counts));
    founder.remove(&own(0), leaver, vec![[2; 32]], random, 0).expect("removed");
    let after = now(&founder);
    assert_eq!((after[&1], after[&2], after[&7]), (Verdict::Counts, Verdict::Counts, Verdict::Counts));
    assert_eq!((after[&3], after[&4]), (Verdict::Refused(leaver), Verdict::Refused(leaver)));
    assert_eq!((after[&5], after[&6]), (Verdict::Unknown(stranger), Verdict::Unknown(stranger)));
    assert_eq!((after[&8], after[&10], after[&11]), (Verdict::Missing, Verdict::Missing, Verdict::Missing));
    // Somebody looks at them and says that they count after all.
    founder.accept(&own(0), leaver, vec![[3; 32]], 0).expect("accepted");
    assert_eq!((now(&founder)[&3], now(&founder)[&4]), (Verdict::Counts, Verdict::Counts));
    // The same is said of one that was never let in, and of no member.
    founder.accept(&own(0), stranger, vec![[5; 32]], 0).expect("accepted");
    assert_eq!((now(&founder)[&5], now(&founder)[&6]), (Verdict::Counts, Verdict::Counts));
    // What it writes on top waits as before, for it was never in the team.
    let judged = verdicts(&[&items[..], &[item(12, stranger, &[5])]].concat(), &founder.log().team());
    assert_eq!(judged[&[12; 32]], Verdict::Unknown(stranger));
    assert!(
        !founder.log().team().removed[&stranger].was_member() && founder.log().team().removed[&leaver].was_member()
    );
    assert!(founder.accept(&own(0), own(0).id(), vec![[1; 32]], 0).is_err());
}
