//! Control cable between two devices: which part, how long, and what is at its ends.
//!
//! A control cable has three conductors, two for data and one ground. It is plugged at relays, dimmers and decoders and
//! goes through a gland on to screw terminals at sensors and wall stations (common practice, no source). A made-up lead
//! has a plug at one end and is cut to length at the other; between two sockets, cable from the reel gets plugs on site.

use catalogue::{Control, ControlKind, FixingKind, Lead, LeadUse, Supply};
use survey::Setting;
use units::{Length, Money};

use super::device::Device;
use super::need::setting;
use super::ways::Way;
use crate::build::canonical::Inputs;
use crate::build::stock::{self, Weather};
use crate::document::ControlDevice;

/// Control cable kept at each end to make it off (common practice, no source).
pub(crate) const END_ALLOWANCE: Length = Length::mm(300);

/// Conductors of a control cable: two for data and one ground (common practice, no source).
pub(crate) const CONDUCTORS: u8 = 3;

/// An end of a control cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    /// A plug of this many poles.
    Plug(u8),
    /// Screw terminals behind a gland.
    Terminals,
}

/// What a device takes.
pub(crate) fn end_at(part: &Control, kind: ControlDevice) -> End {
    match (&part.kind, kind) {
        (ControlKind::Decoder { control_poles, .. }, _) => End::Plug(*control_poles),
        (_, ControlDevice::Relay | ControlDevice::Dimmer) => End::Plug(CONDUCTORS),
        _ => End::Terminals,
    }
}

/// A control cable that joins two devices.
#[derive(Clone, Debug)]
pub(crate) struct Laid<'a> {
    /// The cable, where the catalogue has one that suits.
    pub lead: Option<&'a Lead>,
    /// Its way.
    pub way: Way,
    /// Length bought or cut.
    pub cut: Length,
    /// Whether it is a made-up lead.
    pub made_up: bool,
    /// Price with its fittings and labour.
    pub cost: Money,
    /// Its two ends.
    pub ends: [End; 2],
    /// Glands for it: at screw terminals, and where it goes into a tube or out of it.
    pub glands: u32,
}

impl Laid<'_> {
    /// Poles of the plugs made off on site.
    pub(crate) fn site_plugs(&self) -> impl Iterator<Item = u8> {
        let made_up = self.made_up;
        self.ends.into_iter().filter_map(move |end| match end {
            End::Plug(poles) if !made_up => Some(poles),
            _ => None,
        })
    }
}

/// What is looked for in a cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Want {
    /// The lowest price.
    Cheapest,
    /// The least length, then the lowest price.
    Shortest,
}

/// The control plug with this many poles.
pub(crate) fn plug(inputs: &Inputs, poles: u8) -> Option<&catalogue::Fixing> {
    stock::cheapest(
        &inputs.catalogue,
        |kind| matches!(kind, FixingKind::ControlPlug { poles: found } if *found == poles),
    )
}

/// The cable from one device to the next.
pub(crate) fn lay<'a>(inputs: &'a Inputs, from: &Device<'_>, to: &Device<'_>, way: &Way, want: Want) -> Laid<'a> {
    let ends = [end_at(from.part, from.kind), end_at(to.part, to.kind)];
    let weather = weather(inputs, from, to, way);
    let terminals = ends.iter().filter(|end| **end == End::Terminals).count() as u32;
    let glands = terminals + 2 * u32::try_from(way.tube.len()).unwrap_or(u32::MAX / 4);
    let poles = ends.iter().map(|end| if let End::Plug(poles) = end { *poles } else { 0 }).max().unwrap_or(0);
    let needed = way.length + END_ALLOWANCE * 2;
    let bare =
        Laid { lead: None, way: way.clone(), cut: needed, made_up: false, cost: labour(inputs, way, 2), ends, glands };
    let mut best: Option<Laid<'a>> = None;
    let suits = |lead: &&Lead| {
        lead.uses.contains(&LeadUse::Control)
            && lead.cores >= CONDUCTORS.max(poles)
            && (lead.outdoor || weather == Weather::Indoors)
    };
    for lead in inputs.catalogue.leads.iter().filter(suits) {
        let fittings = stock::price(stock::gland(&inputs.catalogue, lead.outside_diameter)) * i64::from(glands);
        let offers: Vec<(Length, bool, Money)> = match &lead.supply {
            Supply::Reel { .. } => {
                let laid = Laid { lead: Some(lead), ..bare.clone() };
                let plugs: Money = laid.site_plugs().map(|poles| stock::price(plug(inputs, poles))).sum();
                vec![(needed, false, lead.item.price.per_metre(needed) + plugs + labour(inputs, way, 2))]
            }
            Supply::MadeUp(lengths) => {
                let connector = lead.connector.as_ref().map(|connector| connector.poles);
                // Its one plug fits the one socket; the other end goes to terminals.
                let fits = terminals == 1 && connector == Some(poles);
                let long_enough = lengths.iter().filter(|(length, _)| fits && *length >= needed);
                long_enough.map(|(length, price)| (*length, true, *price + labour(inputs, way, 1))).collect()
            }
        };
        for (cut, made_up, price) in offers {
            let laid = Laid { lead: Some(lead), cut, made_up, cost: price + fittings, ..bare.clone() };
            let key = |laid: &Laid<'_>| match want {
                Want::Cheapest => (laid.cost, Length::ZERO, laid.cut),
                Want::Shortest => (Money::ZERO, laid.cut, Length::um(laid.cost.to_ten_thousandths())),
            };
            if best.as_ref().is_none_or(|best| key(&laid) < key(best)) {
                best = Some(laid);
            }
        }
    }
    best.unwrap_or(bare)
}

/// Labour to lay a cable and make off some of its ends.
fn labour(inputs: &Inputs, way: &Way, ends: i64) -> Money {
    let labour = &inputs.catalogue.labour;
    let in_tube: Length = way.tube.iter().map(|span| span.to - span.from).sum();
    let by_ten =
        |minutes: u32, length: Length| labour.minutes(i64::from(minutes)).per_metre(Length::um(length.to_um() / 10));
    by_ten(labour.lead_minutes_per_10_m, way.length - in_tube)
        + by_ten(labour.thread_minutes_per_10_m, in_tube)
        + labour.minutes(i64::from(labour.connection_minutes) * ends)
}

/// A cable stands weather unless both its ends, and all that lies between, are indoors.
fn weather(inputs: &Inputs, from: &Device<'_>, to: &Device<'_>, way: &Way) -> Weather {
    let indoors = |setting: Setting| Weather::of(setting) == Weather::Indoors;
    let ends = indoors(setting(inputs, &from.spot)) && indoors(setting(inputs, &to.spot));
    let between = from.spot == to.spot || way.length == Length::ZERO || indoors(inputs.survey.site.exposure.setting);
    if ends && between { Weather::Indoors } else { Weather::Outdoors }
}
