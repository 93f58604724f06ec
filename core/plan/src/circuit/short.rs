//! A short at the far end of a chain: how much current it draws, and whether that is limited or cleared.
//!
//! The prospective current is taken at the low end of the source and with warm conductors, where it is least, through
//! the source's own resistance and both conductors of the shorted pair. The luminaires are left out: with a short they
//! have next to no voltage, and what they would add flows beside the fault and not through it.

use units::{Amps, Ohms};

use super::network::{Branch, Conductor, Network};

/// What a driver output does when it is asked for too much.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OverloadBehaviour {
    /// It holds its current to this, or switches off and tries again (hiccup).
    Limits {
        /// The greatest current it gives.
        at: Amps,
    },
    /// It gives what the short draws, and a fuse in the output clears it.
    Fuse {
        /// Rated current of the fuse.
        rated: Amps,
        /// How many times its rated current clears it in time, by its maker's curve; greater than 1.
        clears_at: f64,
    },
}

/// A branch that cannot stand a current, or of which nobody has said what it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct WeakBranch {
    /// The station at the far end of the branch.
    pub station: String,
    /// The conductor.
    pub conductor: Conductor,
    /// What it stands, `None` where that is unknown.
    pub stands: Option<Amps>,
}

/// What becomes of a short.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ShortOutcome {
    /// The driver holds the current to this.
    Limited {
        /// What flows, or flows in each attempt of a hiccup.
        amps: Amps,
    },
    /// The fuse clears it.
    Cleared {
        /// The current that it needs for that.
        needed: Amps,
    },
    /// The fuse does not see enough current to clear it in time.
    NotCleared {
        /// The current that it would need.
        needed: Amps,
    },
}

/// A far-end short with its numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct FarEndShort {
    /// The station with the greatest loop resistance.
    pub station: String,
    /// The channel shorted to the common there.
    pub channel: usize,
    /// Resistance of the loop.
    pub loop_ohms: Ohms,
    /// Prospective current, `None` where the loop has no resistance to speak of.
    pub prospective: Option<Amps>,
    /// What becomes of it.
    pub outcome: ShortOutcome,
    /// The current that every conductor must stand: what the driver holds it to, or the rated current of the fuse.
    pub must_stand: Amps,
    /// Branches that do not stand it, or of which nobody has said; empty where all is well.
    pub weak: Vec<WeakBranch>,
}

/// The short with the least current: at the station and channel with the greatest loop resistance. Every branch of the
/// network is compared with the current that it must stand.
///
/// `None` where the network is no chain (see [`Network::check`]), has no station beyond its source, or the fuse's
/// figures are no numbers.
#[must_use]
pub fn far_end_short(network: &Network, behaviour: OverloadBehaviour) -> Option<FarEndShort> {
    network.check().ok()?;
    let channels = network.wiring.channels();
    let mut loops = vec![vec![Some(0.0); channels]; 1];
    let mut farthest: Option<(usize, usize, f64)> = None;
    for (index, station) in network.stations.iter().enumerate().skip(1) {
        let ohms = |wanted: Conductor| {
            let found: Option<&Branch> = station.branches.iter().find(|branch| branch.conductor == wanted);
            found.map(|branch| branch.ohms.get())
        };
        let above = &loops[station.parent?];
        let own: Vec<Option<f64>> = (0..channels)
            .map(|channel| {
                let out = ohms(Conductor::Channel(channel)).or_else(|| ohms(Conductor::Trunk))?;
                Some(above[channel]? + out + ohms(Conductor::Common)?)
            })
            .collect();
        for (channel, total) in own.iter().enumerate() {
            if let Some(total) = total
                && farthest.is_none_or(|(_, _, greatest)| *total > greatest)
            {
                farthest = Some((index, channel, *total));
            }
        }
        loops.push(own);
    }
    let (station, channel, loop_ohms) = farthest?;
    let prospective = Amps::checked(network.source.get() / loop_ohms);
    let (outcome, must_stand) = match behaviour {
        OverloadBehaviour::Limits { at } => {
            // Nearer shorts draw up to the limit, so each conductor must stand it even if the far end draws less.
            let amps = prospective.map_or(at, |amps| amps.min(at));
            (ShortOutcome::Limited { amps }, at)
        }
        OverloadBehaviour::Fuse { rated, clears_at } => {
            let needed = Amps::checked(rated.get() * clears_at)?;
            let seen = prospective.is_none_or(|amps| amps >= needed);
            let outcome = if seen { ShortOutcome::Cleared { needed } } else { ShortOutcome::NotCleared { needed } };
            (outcome, rated)
        }
    };
    let weak = network
        .stations
        .iter()
        .flat_map(|station| station.branches.iter().map(move |branch| (station, branch)))
        .filter(|(_, branch)| branch.stands.is_none_or(|stands| stands < must_stand))
        // The source's own resistance is inside the driver.
        .filter(|(_, branch)| branch.kind != super::network::BranchKind::Source)
        .map(|(station, branch)| WeakBranch {
            station: station.id.clone(),
            conductor: branch.conductor,
            stands: branch.stands,
        })
        .collect();
    Some(FarEndShort {
        station: network.stations[station].id.clone(),
        channel,
        loop_ohms: Ohms::checked(loop_ohms)?,
        prospective,
        outcome,
        must_stand,
        weak,
    })
}

#[cfg(test)]
mod tests {
    use super::super::network::{BranchKind, Wiring};
    use super::*;
    use units::{Length, Volts};

    fn chain(stands: f64) -> Network {
        let mut network = Network::new(Wiring::Pair, Volts::new(11.4), "source");
        let core = |conductor| Branch {
            conductor,
            kind: BranchKind::Run,
            length: Length::mm(10_000),
            area: None,
            ohms: Ohms::new(0.15),
            stands: Some(Amps::new(stands)),
        };
        let mut last = 0;
        for id in ["near", "far"] {
            last = network.add_station(id, None, last, vec![core(Conductor::Channel(0)), core(Conductor::Common)]);
        }
        network
    }

    #[test]
    fn a_limiting_driver_holds_the_short_and_the_conductors_are_compared_with_it() {
        // By hand: 11.4 V over 4 × 0.15 Ω is 19 A.
        let found = far_end_short(&chain(6.0), OverloadBehaviour::Limits { at: Amps::new(8.0) }).unwrap();
        assert_eq!(found.station, "far");
        assert!((found.prospective.unwrap().get() - 19.0).abs() < 1e-12);
        assert_eq!(found.outcome, ShortOutcome::Limited { amps: Amps::new(8.0) });
        assert_eq!(found.weak.len(), 4);
        let strong = far_end_short(&chain(10.0), OverloadBehaviour::Limits { at: Amps::new(8.0) }).unwrap();
        assert!(strong.weak.is_empty());
    }

    #[test]
    fn a_fuse_clears_only_what_draws_enough() {
        let fuse = |rated: f64| OverloadBehaviour::Fuse { rated: Amps::new(rated), clears_at: 4.0 };
        let cleared = far_end_short(&chain(10.0), fuse(4.0)).unwrap();
        assert_eq!(cleared.outcome, ShortOutcome::Cleared { needed: Amps::new(16.0) });
        let kept = far_end_short(&chain(10.0), fuse(5.0)).unwrap();
        assert_eq!(kept.outcome, ShortOutcome::NotCleared { needed: Amps::new(20.0) });
    }

    #[test]
    fn nothing_beyond_the_source_has_no_far_end() {
        let bare = Network::new(Wiring::Pair, Volts::new(12.0), "source");
        assert_eq!(far_end_short(&bare, OverloadBehaviour::Limits { at: Amps::new(1.0) }), None);
    }
}
