//! Chains joined into drivers and drivers into a scheme: a shortest path over modules.

use std::collections::BTreeMap;

use super::chains::Table;
use super::cost::Fine;

/// A driver part at a place.
#[derive(Clone, Debug)]
pub(super) struct Stand {
    pub(super) place: usize,
    pub(super) driver: usize,
    pub(super) outputs: usize,
    /// Microwatts.
    pub(super) usable: i64,
    pub(super) cost: Fine,
    /// Position of its table, and of its sums of power.
    pub(super) table: usize,
}

/// What is counted along the way: drivers at a place, of any part or of one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Count {
    pub(super) place: usize,
    pub(super) driver: Option<usize>,
    /// No more than this.
    pub(super) most: Option<u32>,
    /// At least this.
    pub(super) least: u32,
}

impl Count {
    pub(super) fn counts(&self, stand: &Stand) -> bool {
        self.place == stand.place && self.driver.is_none_or(|driver| driver == stand.driver)
    }

    /// Counting beyond this makes no difference.
    fn cap(&self) -> u32 {
        self.most.map_or(self.least, |most| most.max(self.least))
    }
}

/// A driver with its chains, by first and last module.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Block {
    pub(super) stand: usize,
    pub(super) chains: Vec<(usize, usize)>,
}

/// Cost, then drivers, then chains.
type Score = (Fine, u32, u32);

/// By length less one: cost and number of chains, and where the last of them starts.
type Row = Vec<Option<((Fine, u32), usize)>>;

/// The best block of one stand from one module: by one past its last module.
struct Blocks {
    /// `best[outputs used − 1][length − 1]`: score of the chains and where the last of them starts.
    best: Vec<Row>,
}

/// How many outputs are worth counting: where any number is free, the cheapest use no more than this.
fn worth_counting(count: usize, from: usize, stand: &Stand, table: &Table, power: &[i64]) -> usize {
    let mut best: Vec<Option<(Fine, usize)>> = vec![None; count - from + 1];
    best[0] = Some((0, 0));
    for start in from..count {
        let Some((cost, chains)) = best[start - from] else { continue };
        for last in start..(start + table.reach(start)).min(count) {
            if power[last + 1] - power[from] > stand.usable {
                break;
            }
            let Some(entry) = table.get(start, last) else { continue };
            let known = &mut best[last + 1 - from];
            if known.is_none_or(|known| (cost + entry.cost, chains + 1) < known) {
                *known = Some((cost + entry.cost, chains + 1));
            }
        }
    }
    best.iter().flatten().map(|found| found.1).max().unwrap_or(0)
}

fn blocks(count: usize, from: usize, stand: &Stand, table: &Table, power: &[i64]) -> Blocks {
    let mut best: Vec<Row> = Vec::new();
    let outputs = match stand.outputs {
        // Counting two is no more work than finding out whether they are needed.
        few @ 0..=2 => few,
        many => many.min(worth_counting(count, from, stand, table, power)),
    };
    for used in 0..outputs {
        let mut row: Row = vec![None; count - from];
        let starts: Vec<(usize, (Fine, u32))> = if used == 0 {
            vec![(from, (0, 0))]
        } else {
            let known = best[used - 1].iter().enumerate();
            known.filter_map(|(at, found)| found.map(|found| (from + at + 1, found.0))).collect()
        };
        for (start, (cost, chains)) in starts {
            for last in start..(start + table.reach(start)).min(count) {
                if power[last + 1] - power[from] > stand.usable {
                    break;
                }
                let Some(entry) = table.get(start, last) else { continue };
                let score = (cost + entry.cost, chains + 1);
                let known = &mut row[last - from];
                if known.is_none_or(|known| score < known.0) {
                    *known = Some((score, start));
                }
            }
        }
        if row.iter().all(Option::is_none) {
            break;
        }
        best.push(row);
    }
    Blocks { best }
}

impl Blocks {
    /// The best way to reach one past `last`, over all numbers of outputs.
    fn to(&self, at: usize) -> Option<((Fine, u32), usize)> {
        let all = self.best.iter().enumerate().filter_map(|(used, row)| row[at].map(|found| (found.0, used)));
        all.min()
    }

    fn chains(&self, from: usize, at: usize, used: usize) -> Vec<(usize, usize)> {
        let mut chains = Vec::new();
        let mut at = at;
        for row in self.best[..=used].iter().rev() {
            let Some((_, start)) = row[at] else { break };
            chains.push((start, from + at));
            if start == from {
                break;
            }
            at = start - from - 1;
        }
        chains.reverse();
        chains
    }
}

/// Where a partial scheme came from.
#[derive(Clone)]
struct Step {
    score: Score,
    /// First module of its last block, the counts before it, and the block.
    from: usize,
    before: Vec<u32>,
    block: Option<Block>,
}

/// The cheapest sequence of blocks over all modules that keeps every count.
pub(super) fn choose(
    count: usize,
    stands: &[Stand],
    tables: &[Table],
    power: &[Vec<i64>],
    counts: &[Count],
) -> Option<(Fine, Vec<Block>)> {
    let mut states: Vec<BTreeMap<Vec<u32>, Step>> = vec![BTreeMap::new(); count + 1];
    let none = vec![0; counts.len()];
    states[0].insert(none.clone(), Step { score: (0, 0, 0), from: 0, before: none, block: None });
    for from in 0..count {
        if states[from].is_empty() {
            continue;
        }
        let here: Vec<(Vec<u32>, Score)> = states[from].iter().map(|(key, step)| (key.clone(), step.score)).collect();
        for (index, stand) in stands.iter().enumerate() {
            let found = blocks(count, from, stand, &tables[stand.table], &power[stand.table]);
            let counted: Vec<bool> = counts.iter().map(|own| own.counts(stand)).collect();
            for at in 0..found.best.first().map_or(0, Vec::len) {
                let Some(((cost, chains), used)) = found.to(at) else { continue };
                for (key, score) in &here {
                    let mut next = key.clone();
                    let mut full = false;
                    for ((number, own), counted) in next.iter_mut().zip(counts).zip(&counted) {
                        if *counted {
                            full |= own.most.is_some_and(|most| *number >= most);
                            *number = (*number + 1).min(own.cap());
                        }
                    }
                    if full {
                        continue;
                    }
                    let score = (score.0 + stand.cost + cost, score.1 + 1, score.2 + chains);
                    let place = &mut states[from + at + 1];
                    if place.get(&next).is_none_or(|known| score < known.score) {
                        let block = Block { stand: index, chains: found.chains(from, at, used) };
                        place.insert(next, Step { score, from, before: key.clone(), block: Some(block) });
                    }
                }
            }
        }
    }
    let enough = |key: &Vec<u32>| key.iter().zip(counts).all(|(number, own)| *number >= own.least);
    let (mut key, end) = states[count]
        .iter()
        .filter(|(key, _)| enough(key))
        .min_by(|a, b| a.1.score.cmp(&b.1.score).then(a.0.cmp(b.0)))
        .map(|(key, step)| (key.clone(), step.clone()))?;
    let cost = end.score.0;
    let mut chosen = Vec::new();
    let mut at = count;
    while let Some(step) = states[at].get(&key).cloned() {
        let Some(block) = step.block else { break };
        chosen.push(block);
        (at, key) = (step.from, step.before);
    }
    chosen.reverse();
    Some((cost, chosen))
}
