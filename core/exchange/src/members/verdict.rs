//! Which items count, of all that came: those of members, those of removed devices up to the last that was accepted, and
//! none that builds on one that does not count.

use std::collections::{BTreeMap, BTreeSet};

use super::Team;
use crate::DeviceId;

/// An item as far as this crate sees it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// Its name, by which others build on it.
    pub name: [u8; 32],
    /// Who signed it.
    pub author: DeviceId,
    /// What it builds on.
    pub needs: Vec<[u8; 32]>,
}

/// Whether an item counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It does.
    Counts,
    /// It, or something that it builds on, is of a device that nobody let in, and was not accepted. It waits.
    Unknown(DeviceId),
    /// It, or something that it builds on, is of a removed device and came after the last that was accepted of it.
    Refused(DeviceId),
    /// Something that it builds on is not here yet. It waits.
    Missing,
}

/// Judges all items at once; the order in which they stand does not matter.
#[must_use]
pub fn verdicts(items: &[Item], team: &Team) -> BTreeMap<[u8; 32], Verdict> {
    let by_name: BTreeMap<[u8; 32], &Item> = items.iter().map(|item| (item.name, item)).collect();
    let accepted: BTreeMap<DeviceId, BTreeSet<[u8; 32]>> =
        team.removed.iter().map(|(device, removed)| (*device, with_needs(&removed.accepted, &by_name))).collect();
    let is_accepted = |item: &Item| accepted.get(&item.author).is_some_and(|names| names.contains(&item.name));
    let alone = |item: &Item| match team.removed.get(&item.author) {
        _ if team.members.contains_key(&item.author) || is_accepted(item) => Verdict::Counts,
        Some(removed) if removed.was_member() => Verdict::Refused(item.author),
        _ => Verdict::Unknown(item.author),
    };
    // Each item is judged once everything is that it builds on and that is here.
    let here = |item: &Item| item.needs.iter().filter(|need| by_name.contains_key(*need)).count();
    let mut open: BTreeMap<[u8; 32], usize> = by_name.iter().map(|(name, item)| (*name, here(item))).collect();
    let mut users: BTreeMap<[u8; 32], Vec<[u8; 32]>> = BTreeMap::new();
    for item in by_name.values() {
        for need in &item.needs {
            users.entry(*need).or_default().push(item.name);
        }
    }
    let mut ready: Vec<[u8; 32]> = open.iter().filter(|(_, needs)| **needs == 0).map(|(name, _)| *name).collect();
    let mut judged: BTreeMap<[u8; 32], Verdict> = BTreeMap::new();
    while let Some(name) = ready.pop() {
        let Some(item) = by_name.get(&name) else { continue };
        let needs = item.needs.iter().map(|need| judged.get(need).copied().unwrap_or(Verdict::Missing));
        judged.insert(name, needs.chain([alone(item)]).max().unwrap_or(Verdict::Missing));
        for user in users.remove(&name).unwrap_or_default() {
            if let Some(needs) = open.get_mut(&user) {
                *needs = needs.saturating_sub(1);
                if *needs == 0 {
                    ready.push(user);
                }
            }
        }
    }
    // What is left builds on itself in a circle, which only a forger can write.
    by_name.keys().map(|name| (*name, judged.get(name).copied().unwrap_or(Verdict::Missing))).collect()
}

/// Items with everything that they build on, as far as it is here.
fn with_needs(names: &BTreeSet<[u8; 32]>, items: &BTreeMap<[u8; 32], &Item>) -> BTreeSet<[u8; 32]> {
    let (mut all, mut open) = (BTreeSet::new(), Vec::from_iter(names.iter().copied()));
    while let Some(name) = open.pop() {
        if all.insert(name) {
            open.extend(items.get(&name).into_iter().flat_map(|item| &item.needs));
        }
    }
    all
}
