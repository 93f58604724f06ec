//! Feeds of rails that share places and drivers: a driver may feed a block on each of several rails.

use std::collections::BTreeMap;

use super::blocks::{Block, Ground, LockRow};
use super::{Program, ROUNDING};

/// A rail of points or of modules: what its blocks are bound by, and its blocks.
pub type Rail<'a> = (Ground<'a>, Vec<Block>);

/// The program of several rails: each luminaire in exactly one block; a block has a driver of its own or shares one, whose
/// outputs and power are those of all its blocks, no more than one on each rail.
///
/// Drivers that can be shared are numbered at each place up to its room, so every place that rails share has to state one.
/// A shared driver costs what it costs on the first of its rails. A driver's block on a rail keeps a lock of that rail.
///
/// # Panics
/// Where a place that rails share states no room.
#[must_use]
pub fn program(rails: &[Rail<'_>]) -> Program {
    let mut program = Program::default();
    let each: Vec<Vec<usize>> =
        rails.iter().map(|rail| (0..rail.0.count).map(|_| program.row(Some(1.0), Some(1.0))).collect()).collect();
    let mut rooms: BTreeMap<&str, (usize, Option<u32>)> = BTreeMap::new();
    for place in rails.iter().flat_map(|rail| rail.0.places) {
        rooms.entry(place.id.as_str()).or_insert_with(|| (program.row(None, place.room.map(f64::from)), place.room));
    }
    let locks: Vec<Vec<LockRow<'_>>> = rails.iter().map(|rail| rail.0.locks(&mut program)).collect();
    own_drivers(&mut program, rails, &each, &rooms, &locks);
    shared_drivers(&mut program, rails, &each, &rooms, &locks);
    program
}

type Rooms<'a> = BTreeMap<&'a str, (usize, Option<u32>)>;

fn covers(each: &[usize], block: &Block) -> Vec<(usize, f64)> {
    each[block.stretch.0..=block.stretch.1].iter().map(|row| (*row, 1.0)).collect()
}

/// Blocks with a driver of their own.
fn own_drivers(
    program: &mut Program,
    rails: &[Rail<'_>],
    each: &[Vec<usize>],
    rooms: &Rooms<'_>,
    locks: &[Vec<LockRow<'_>>],
) {
    for (((ground, blocks), each), locks) in rails.iter().zip(each).zip(locks) {
        let mut cheapest: BTreeMap<(usize, usize, (usize, usize)), &Block> = BTreeMap::new();
        for block in blocks {
            let known = cheapest.entry((block.place, block.driver, block.stretch)).or_insert(block);
            if block.chains_cost < known.chains_cost {
                *known = block;
            }
        }
        for block in cheapest.values() {
            let mut entries = covers(each, block);
            entries.push((rooms[ground.places[block.place].id.as_str()].0, 1.0));
            entries.extend(ground.kept(locks, (block.place, block.driver)));
            program.choice(block.driver_cost + block.chains_cost, entries);
        }
    }
}

/// A part at a place, as rails share it, with the index of the fit on each rail that has it.
struct Stand<'a> {
    place: &'a str,
    rails: Vec<(usize, usize, usize)>,
}

fn stands<'a>(rails: &[Rail<'a>]) -> Vec<Stand<'a>> {
    let mut stands: BTreeMap<(&str, &str), Stand<'a>> = BTreeMap::new();
    for (rail, (ground, _)) in rails.iter().enumerate() {
        for (index, place) in ground.places.iter().enumerate() {
            for fit in &place.fits {
                let part = ground.drivers[fit.driver].part.as_str();
                stands
                    .entry((place.id.as_str(), part))
                    .or_insert(Stand { place: place.id.as_str(), rails: Vec::new() })
                    .rails
                    .push((rail, index, fit.driver));
            }
        }
    }
    stands.into_values().filter(|stand| stand.rails.len() > 1).collect()
}

/// Drivers that feed blocks of several rails.
fn shared_drivers(
    program: &mut Program,
    rails: &[Rail<'_>],
    each: &[Vec<usize>],
    rooms: &Rooms<'_>,
    locks: &[Vec<LockRow<'_>>],
) {
    for stand in stands(rails) {
        let (room_row, room) = rooms[stand.place];
        let room = room.unwrap_or_else(|| panic!("place {} is shared and states no room", stand.place)) as usize;
        let (rail, place, driver) = stand.rails[0];
        let ground = &rails[rail].0;
        let fit = ground.places[place].fits.iter().find(|fit| fit.driver == driver).expect("it fits there");
        let (Some(cost), usable) = (ground.driver_cost(place, fit), ground.usable(fit)) else { continue };
        let outputs_of_one = f64::from(ground.drivers[driver].outputs);
        // Of alike drivers the first are taken first, which spares the search their exchanges.
        let order: Vec<usize> = (1..room).map(|_| program.row(None, Some(0.0))).collect();
        for number in 0..room {
            let outputs = program.row(None, Some(0.0));
            let power = program.row(None, Some(ROUNDING));
            // With a block on one rail alone it would be a driver of its own.
            let several = program.row(Some(0.0), None);
            let on_rail: Vec<usize> = stand.rails.iter().map(|_| program.row(None, Some(0.0))).collect();
            let mut opened = vec![(room_row, 1.0), (outputs, -outputs_of_one), (power, -usable), (several, -2.0)];
            opened.extend(on_rail.iter().map(|row| (*row, -1.0)));
            opened.extend(number.checked_sub(1).map(|before| (order[before], 1.0)));
            opened.extend(order.get(number).map(|row| (*row, -1.0)));
            program.choice(cost, opened);
            for ((rail, place, driver), row) in stand.rails.iter().zip(&on_rail) {
                for block in rails[*rail].1.iter().filter(|block| (block.place, block.driver) == (*place, *driver)) {
                    let mut entries = covers(&each[*rail], block);
                    entries.extend([(outputs, block.chains as f64), (power, block.watts), (several, 1.0), (*row, 1.0)]);
                    entries.extend(rails[*rail].0.kept(&locks[*rail], (block.place, block.driver)));
                    program.choice(block.chains_cost, entries);
                }
            }
        }
    }
}
