//! A good scheme of a group where the cheapest takes long to find: rail after rail, then stretch after stretch.
//!
//! Each rail is fed as cheaply as it can be by itself. Then a stretch of all rails near a few places is fed anew, everything else as it is, wherever that is cheaper, until no stretch is (large
//! neighbourhood search; Shaw 1998, from memory). Every stretch is solved by the same exact walk.

use super::feeding::{Block, Feeding};
use super::group::Readied;
use super::order::PLACE;
use super::pool::Tally;
use super::search::Search;
use super::walk::{Counted, Ground, Walked, floor, walk};
use crate::feeds::lead::Fine;
use crate::feeds::missing::keep;

/// How many comparisons one stretch may take.
const HASTE: u64 = 2_000;
/// Ceilings of a stretch, parts in 64 of the way from its floor to what it costs already.
const PARTS: [i64; 4] = [4, 12, 32, 64];
/// Places that a stretch spans.
const WIDE: u32 = 2;
/// How often all stretches are looked at.
const ROUNDS: usize = 2;

/// A good scheme, where one was found soon.
pub(super) fn improved(search: &mut Search<'_, '_>, counted: &Counted) -> Option<(Fine, Feeding)> {
    let group = search.group;
    let mut feeding = apart(group)?;
    let is_crowded = |(place, room): &(usize, u32)| {
        let standing = feeding.standing(group);
        standing.iter().flatten().filter(|driver| driver.place == *place).count() > *room as usize
    };
    if counted.rooms.iter().any(is_crowded) {
        return None;
    }
    let mut cost = feeding.cost(group);
    for _ in 0..ROUNDS {
        let before = cost;
        for place in 0..=search.order.places() {
            let spans = stretch(search, &feeding, place * PLACE);
            let kept = feeding.without(&spans);
            let most = cost - kept.cost(group) - 1;
            if let Some(found) = anew(search, counted, &kept, spans, most) {
                cost = found.cost(group);
                feeding = found;
            }
        }
        if cost == before {
            break;
        }
    }
    Some((cost, feeding))
}

/// Each rail fed by itself.
fn apart(group: &Readied<'_>) -> Option<Feeding> {
    let mut feeding = Feeding::default();
    for (rail, prepared) in group.rails.iter().enumerate() {
        let (_, chosen) = prepared.cheapest()?;
        for chain in chosen {
            match feeding.blocks.last_mut() {
                Some(last) if !chain.starts && last.rail == rail => last.chosen.push(chain),
                _ => feeding.blocks.push(Block { rail, driver: feeding.blocks.len(), chosen: vec![chain] }),
            }
        }
    }
    Some(feeding)
}

/// Whole blocks of all rails near a place and those next to it.
fn stretch(search: &Search<'_, '_>, feeding: &Feeding, from: u32) -> Vec<(u32, u32)> {
    let mut spans = vec![(u32::MAX, 0); search.group.rails.len()];
    for block in &feeding.blocks {
        let (first, end) = block.span();
        let times = search.order.place_times(block.rail);
        if times[first] <= from + WIDE * PLACE && times[end - 1] >= from {
            let span = &mut spans[block.rail];
            *span = (span.0.min(first as u32), span.1.max(end as u32));
        }
    }
    spans.into_iter().map(|span| if span.0 < span.1 { span } else { (0, 0) }).collect()
}

/// Feeds stretches of the rails beside what is fed already; `None` where that costs more, or takes long.
fn anew(
    search: &mut Search<'_, '_>,
    counted: &Counted,
    kept: &Feeding,
    spans: Vec<(u32, u32)>,
    ceiling: Fine,
) -> Option<Feeding> {
    let start = start(search.group, counted, kept, &spans);
    let mut found = None;
    let mut patience = HASTE.min(search.patience);
    let before = patience;
    let mut ground = Ground { spans, start, ceiling, patience, suffix: None, ..search.ground(counted) };
    let floor = floor(&ground);
    for parts in PARTS {
        ground.ceiling = floor + (ceiling - floor) / 64 * parts;
        ground.patience = patience;
        let (walked, left) = walk(&ground);
        patience = left;
        match walked {
            Walked::Found(_, steps) => found = Some(kept.with(search.group, &steps)),
            Walked::Nothing => continue,
            Walked::TooLong => {}
        }
        break;
    }
    search.patience -= before - patience;
    found
}

/// What blocks leave open for stretches beside them, the room that they take and the locks that they keep.
fn start(group: &Readied<'_>, counted: &Counted, kept: &Feeding, spans: &[(u32, u32)]) -> Tally {
    let mut start = Tally { rooms: vec![0; counted.rooms.len()], locks: counted.no_locks(), open: Vec::new() };
    for block in &kept.blocks {
        if let Some(own) = start.locks.get_mut(block.rail) {
            *own = keep(&counted.locks[block.rail], *own, block.stand());
        }
    }
    for driver in kept.standing(group).into_iter().flatten() {
        if let Some(room) = counted.rooms.iter().position(|own| own.0 == driver.place) {
            start.rooms[room] = start.rooms[room].saturating_add(1);
        }
        let Some(open) = driver.left_open(group) else { continue };
        let class = &group.classes[open.class as usize];
        let mut free = class.rails.iter().filter(|own| class.bit(own.0).is_some_and(|bit| open.used & bit == 0));
        if open.outputs > 0 && free.any(|own| spans[own.0].0 < spans[own.0].1) {
            start.insert(open);
        }
    }
    start
}
