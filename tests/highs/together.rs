//! Feeds of rails that share places and drivers: a driver may feed a block on each of several rails.

use std::collections::BTreeMap;

use plan::feeds::Problem;

use super::blocks::Block;
use super::points::{blocks, ground};
use super::{Program, ROUNDING};

/// The program of several rails: each luminaire in exactly one block; a block has a driver of its own or shares one, whose
/// outputs and power are those of all its blocks, no more than one on each rail.
///
/// Drivers that can be shared are numbered at each place up to its room, so every place that rails share has to state one.
/// A shared driver costs what it costs on the first of its rails.
///
/// # Panics
/// Where a place that rails share states no room, or a rail has locks, which this witness does not know.
#[must_use]
pub fn program(problems: &[&Problem]) -> Program {
    let mut program = Program::default();
    let all: Vec<Vec<Block>> = problems.iter().map(|problem| blocks(problem)).collect();
    assert!(problems.iter().all(|problem| problem.locks.is_empty()), "this witness knows no locks of shared places");
    let each: Vec<Vec<usize>> = problems
        .iter()
        .map(|problem| problem.luminaires.iter().map(|_| program.row(Some(1.0), Some(1.0))).collect())
        .collect();
    let mut rooms: BTreeMap<&str, (usize, Option<u32>)> = BTreeMap::new();
    for place in problems.iter().flat_map(|problem| &problem.places) {
        rooms.entry(place.id.as_str()).or_insert_with(|| (program.row(None, place.room.map(f64::from)), place.room));
    }
    own_drivers(&mut program, problems, &all, &each, &rooms);
    shared_drivers(&mut program, problems, &all, &each, &rooms);
    program
}

type Rooms<'a> = BTreeMap<&'a str, (usize, Option<u32>)>;

fn covers(each: &[usize], block: &Block) -> Vec<(usize, f64)> {
    each[block.stretch.0..=block.stretch.1].iter().map(|row| (*row, 1.0)).collect()
}

/// Blocks with a driver of their own.
fn own_drivers(
    program: &mut Program,
    problems: &[&Problem],
    all: &[Vec<Block>],
    each: &[Vec<usize>],
    rooms: &Rooms<'_>,
) {
    for ((problem, blocks), each) in problems.iter().zip(all).zip(each) {
        let mut cheapest: BTreeMap<(usize, usize, (usize, usize)), &Block> = BTreeMap::new();
        for block in blocks {
            let known = cheapest.entry((block.place, block.driver, block.stretch)).or_insert(block);
            if block.chains_cost < known.chains_cost {
                *known = block;
            }
        }
        for block in cheapest.values() {
            let mut entries = covers(each, block);
            entries.push((rooms[problem.places[block.place].id.as_str()].0, 1.0));
            program.choice(block.driver_cost + block.chains_cost, entries);
        }
    }
}

/// A part at a place, as rails share it, with the index of the fit on each rail that has it.
struct Stand<'a> {
    place: &'a str,
    rails: Vec<(usize, usize, usize)>,
}

fn stands<'a>(problems: &[&'a Problem]) -> Vec<Stand<'a>> {
    let mut stands: BTreeMap<(&str, &str), Stand<'a>> = BTreeMap::new();
    for (rail, problem) in problems.iter().enumerate() {
        for (index, place) in problem.places.iter().enumerate() {
            for fit in &place.fits {
                let part = problem.drivers[fit.driver].part.as_str();
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
    problems: &[&Problem],
    all: &[Vec<Block>],
    each: &[Vec<usize>],
    rooms: &Rooms<'_>,
) {
    for stand in stands(problems) {
        let (room_row, room) = rooms[stand.place];
        let room = room.unwrap_or_else(|| panic!("place {} is shared and states no room", stand.place)) as usize;
        let (rail, place, driver) = stand.rails[0];
        let ground = ground(problems[rail]);
        let fit = problems[rail].places[place].fits.iter().find(|fit| fit.driver == driver).expect("it fits there");
        let (Some(cost), usable) = (ground.driver_cost(place, fit), ground.usable(fit)) else { continue };
        let outputs_of_one = f64::from(problems[rail].drivers[driver].outputs);
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
                for block in all[*rail].iter().filter(|block| (block.place, block.driver) == (*place, *driver)) {
                    let mut entries = covers(&each[*rail], block);
                    entries.extend([(outputs, block.chains as f64), (power, block.watts), (several, 1.0), (*row, 1.0)]);
                    program.choice(block.chains_cost, entries);
                }
            }
        }
    }
}
