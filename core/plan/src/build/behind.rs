//! What stands behind the numbers of a rail's feed problem, as far as points and modules are alike in it.

use catalogue::{Driver, Lead};
use units::{Celsius, Volts};

use super::canonical::Inputs;
use super::draft::RailDraft;
use super::stock::{self, Weather};
use super::supply::{PlaceForRail, SiteWays, proposed_places, ways_in};
use super::warmth;

/// Places, drivers and mains cable behind a feed problem, and what its conductors meet.
#[derive(Clone)]
pub(crate) struct Behind<'a> {
    /// The places.
    pub places: Vec<PlaceForRail<'a>>,
    /// Whether they are only proposed.
    pub proposed: Proposed,
    /// The drivers.
    pub drivers: Vec<&'a Driver>,
    /// The cable of mains leads, where the catalogue has one.
    pub mains: Option<&'a Lead>,
    /// The weather that leads outside the tube must stand.
    pub weather: Weather,
    /// Temperature of conductors in the tube and beside it, warm.
    pub warm: Celsius,
    /// The lowest temperature they have.
    pub cold: Celsius,
    /// Conductors of a chain: 2, or 1 + channels.
    pub conductors: u8,
}

/// Whether places were surveyed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Proposed {
    /// They were.
    No,
    /// None was, so they are proposed.
    Yes,
}

impl<'a> Behind<'a> {
    /// Behind the feeds of a rail whose luminaires have this nominal voltage and so many channels.
    pub(crate) fn of(
        inputs: &'a Inputs,
        ways: &SiteWays<'a>,
        draft: &RailDraft<'a>,
        nominal: Volts,
        channels: u8,
    ) -> Self {
        let entries = ways_in(draft.rail);
        let surveyed = ways.places_for(draft.rail, &entries);
        let (places, proposed) = if surveyed.is_empty() {
            (proposed_places(inputs, draft.rail, &entries), Proposed::Yes)
        } else {
            (surveyed, Proposed::No)
        };
        let suits = |driver: &&Driver| driver.selv && (driver.output.get() - nominal.get()).abs() < 1e-9;
        let weather = Weather::of(draft.exposure.setting);
        let warm = warmth::in_tube(draft.exposure);
        Self {
            places,
            proposed,
            drivers: inputs.catalogue.drivers.iter().filter(suits).collect(),
            mains: stock::mains_cable(&inputs.catalogue, weather),
            weather,
            warm,
            cold: Celsius::new(draft.exposure.least_temperature.get().clamp(-90.0, warm.get())),
            conductors: channels.saturating_add(1),
        }
    }
}
