//! Which partial schemes a front keeps: those that no other one beats, see [`super::super::walk`].

use super::Front;
use crate::feeds::together::pool::ONE_DRIVER;
use crate::feeds::together::walk::Partial;

impl Front<'_, '_, '_> {
    pub(super) fn offer_closed(&mut self, bucket: u32, next: Partial) {
        let tallies = &self.tallies;
        let known = &mut self.buckets[bucket as usize].closed;
        self.patience = self.patience.saturating_sub(known.len() as u64 + 1);
        let beats = |a: &Partial, b: &Partial| tallies.beats((a.score, a.tally), (b.score, b.tally));
        if known.iter().any(|own| beats(own, &next)) {
            return;
        }
        known.retain(|own| !beats(&next, own));
        known.push(next);
    }

    pub(super) fn offer_open(&mut self, bucket: u32, next: Partial) {
        let table = self.ground.group.rails[next.rail as usize].stands[next.stand as usize].table as u32;
        let mut own = std::mem::take(&mut self.buckets[bucket as usize]);
        let row = own.open.iter().position(|row| row.0 == (next.rail, table)).unwrap_or_else(|| {
            own.open.push(((next.rail, table), Vec::new()));
            own.open.len() - 1
        });
        let known = &mut own.open[row].1;
        self.patience = self.patience.saturating_sub(known.len() as u64 + 1);
        if !known.iter().any(|one| self.beats_open(one, &next, &own.at))
            && !own.closed.iter().any(|one| self.freshly_beaten(one, &own.at, &next))
        {
            known.retain(|one| !self.beats_open(&next, one, &own.at));
            known.push(next);
        }
        self.buckets[bucket as usize] = own;
    }

    /// Whether one open scheme does all that another on the same table still can, for no more.
    fn beats_open(&self, one: &Partial, other: &Partial, at: &[u32]) -> bool {
        let rail = one.rail as usize;
        let (known, end) = (self.known(rail), at[rail] as usize);
        let limit = |own: &Partial| known.stands[own.stand as usize].output_limit;
        // What goes on with a charged block pays for it, as the same does with another one on that stand.
        let pays_more = one.charged && !(other.charged && one.stand == other.stand);
        one.score <= other.score
            && !pays_more
            && one.power_to >= other.power_to
            && self.outputs(one) >= self.outputs(other)
            && limit(one) >= limit(other)
            && self.left_open(other, at, end).is_none_or(|wanted| {
                self.outputs(other) < 2 || self.left_open(one, at, end).is_some_and(|own| own.covers(&wanted))
            })
            && self.tallies.beats((one.score, one.tally), (other.score, other.tally))
    }

    /// Whether a fresh driver after a closed scheme does all that the last driver of an open one still can, for less.
    pub(super) fn freshly_beaten(&self, closed: &Partial, at: &[u32], open: &Partial) -> bool {
        if closed.score > open.score {
            return false;
        }
        let rail = open.rail as usize;
        let (known, end) = (self.known(rail), at[rail] as usize);
        let other = &known.stands[open.stand as usize];
        let wanted = self.left_open(open, at, end).filter(|_| self.outputs(open) > 1);
        let places = &self.ground.group.place_of[rail];
        known.stands.iter().enumerate().filter(|(_, stand)| stand.table == other.table).any(|(index, stand)| {
            let score = (closed.score.0 + stand.cost, closed.score.1 + ONE_DRIVER);
            score <= open.score
                && known.spans.power[index][end] >= open.power_to
                && stand.outputs >= self.outputs(open)
                && stand.output_limit >= other.output_limit
                && wanted.is_none_or(|wanted| {
                    self.class_of[rail][index] == Some(wanted.class)
                        && stand.usable >= wanted.left
                        && stand.cost >= wanted.paid
                })
                && self.tallies.beats_with((score, closed.tally), (open.score, open.tally), Some(places[stand.place]))
        })
    }
}
