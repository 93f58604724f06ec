//! The feed problem of one rail: everything that the choice of feeds is made from.

use catalogue::{Catalogue, ColourKind, Driver, Fixing, Ingress, Lead, LeadKind, LeadUse, Supply};
use survey::{FeatureKind, Id, Passage, Setting, Survey};
use units::{Amps, Celsius, Length, Money, Ohms, Volts};

use super::behind::Behind;
use super::canonical::{Inputs, by_id};
use super::draft::RailDraft;
use super::ingress;
use super::passage;
use super::room::number_that_fit;
use super::selection::ChosenPoint;
use super::stock::{self, Weather};
use super::supply::{PlaceForRail, PlaceSource, SiteWays, ways_in};
use crate::feeds::{
    Costs, DriverOption, Fit, LeadOption, LeadSupply, Luminaire, Passing, Path, Place, Problem, RunOption,
};

/// Extra length of an extension lead cut from a reel, to make off both ends (common practice, no source).
const CUT_LEAD_ALLOWANCE: Length = Length::mm(600);

/// Extra length of a made-up lead, so that its plugs are never strained (common practice, no source).
const MADE_UP_LEAD_ALLOWANCE: Length = Length::mm(200);

/// Extra length of a mains lead, to make off both ends (common practice, no source).
pub(crate) const MAINS_ALLOWANCE: Length = Length::mm(1_000);

/// A feed problem with what its numbers stand for.
#[derive(Clone)]
pub(crate) struct FeedCase<'a> {
    /// The problem.
    pub problem: Problem,
    /// What else stands behind its numbers.
    pub behind: Behind<'a>,
    /// The leads behind it.
    pub leads: Vec<&'a Lead>,
    /// The running cores behind it.
    pub runs: Vec<&'a Lead>,
    /// The tap.
    pub tap: Option<&'a Fixing>,
}

/// Channels of a luminaire: 1 unless its colour can be set.
pub(crate) fn channels(chosen: ChosenPoint<'_>) -> u8 {
    match chosen.luminaire.colour {
        ColourKind::Variable { channels } => channels.max(1),
        ColourKind::White { .. } | ColourKind::Colour(_) => 1,
    }
}

/// The feed problem of a rail that has luminaires and a way in; `None` otherwise.
pub(crate) fn feed_case<'a>(inputs: &'a Inputs, ways: &SiteWays<'a>, draft: &RailDraft<'a>) -> Option<FeedCase<'a>> {
    let chosen = draft.chosen?;
    let entries = ways_in(draft.rail);
    if draft.plan.luminaires.is_empty() || entries.is_empty() {
        return None;
    }
    let (survey, catalogue) = (&inputs.survey, &inputs.catalogue);
    let behind = Behind::of(inputs, ways, draft, chosen.luminaire.nominal, channels(chosen));
    let Behind { warm, weather, conductors, .. } = behind;
    let tap = stock::tap(catalogue, amps_of_core(chosen));
    let leads: Vec<&Lead> =
        catalogue.leads.iter().filter(|lead| is_extension(lead, conductors, warm, weather)).collect();
    let runs: Vec<&Lead> = catalogue.leads.iter().filter(|lead| is_run(lead, warm)).collect();
    let problem = Problem {
        nominal: chosen.luminaire.nominal,
        drop_permille: survey.brief.drop_permille,
        luminaires: luminaires(draft, chosen, tap, warm),
        blocked: passage::blocked(draft.rail),
        ways_in: entries,
        places: place_options(survey, draft, catalogue, &behind),
        paths: paths(survey, draft, &behind.places, &leads),
        drivers: behind.drivers.iter().map(|driver| driver_option(driver, survey.brief.reserve_percent)).collect(),
        leads: leads.iter().filter_map(|lead| lead_option(lead, catalogue, warm)).collect(),
        runs: runs.iter().filter_map(|lead| run_option(lead, conductors, warm)).collect(),
        loop_per_hole: survey.brief.loop_per_hole.max(Length::ZERO),
        costs: costs(catalogue, behind.mains, conductors),
        wish: draft.brief.feed,
        passing: Passing::Allowed,
        locks: draft.brief.locks.drivers.clone(),
    };
    Some(FeedCase { problem, behind, leads, runs, tap })
}

/// Greatest current on one core of a luminaire's tail: the common of all channels.
pub(crate) fn amps_of_core(chosen: ChosenPoint<'_>) -> Amps {
    let least = chosen.luminaire.least.max(Volts::new(0.1));
    let one = match chosen.luminaire.load {
        catalogue::LoadModel::Resistance(ohms) if ohms.get() <= 0.0 => 0.0,
        load => load.amps_at(least).max(load.amps_at(chosen.luminaire.nominal)).get(),
    };
    Amps::checked(one * f64::from(channels(chosen))).unwrap_or(Amps::ZERO)
}

fn luminaires(draft: &RailDraft<'_>, chosen: ChosenPoint<'_>, tap: Option<&Fixing>, warm: Celsius) -> Vec<Luminaire> {
    let own = stock::tap_ohms(tap) + stock::tail_ohms(chosen.point, warm);
    let loads = vec![chosen.luminaire.load; usize::from(channels(chosen))];
    draft
        .plan
        .luminaires
        .iter()
        .map(|luminaire| Luminaire {
            chainage: luminaire.start,
            channels: loads.clone(),
            own_channel: own,
            own_common: own,
            least: chosen.luminaire.least,
            greatest: chosen.luminaire.greatest,
        })
        .collect()
}

/// Whether a lead may go from driver to way in.
fn is_extension(lead: &Lead, conductors: u8, warm: Celsius, weather: Weather) -> bool {
    lead.uses.contains(&LeadUse::Extension)
        && lead.cores >= conductors
        && lead.greatest_temperature >= warm
        && (lead.outdoor || weather == Weather::Indoors)
        && stock::ohms_per_m(lead, warm).is_some()
}

/// Whether a lead may run along a chain of points, which are tapped on single unsheathed cores.
fn is_run(lead: &Lead, warm: Celsius) -> bool {
    lead.uses.contains(&LeadUse::Run)
        && lead.kind == LeadKind::SingleCores
        && lead.cores > 0
        && matches!(lead.supply, Supply::Reel { .. })
        && lead.greatest_temperature >= warm
        && stock::ohms_per_m(lead, warm).is_some()
}

/// The places of a rail as its feeds weigh them.
pub(crate) fn place_options(
    survey: &Survey,
    draft: &RailDraft<'_>,
    catalogue: &Catalogue,
    behind: &Behind<'_>,
) -> Vec<Place> {
    behind.places.iter().map(|place| place_option(survey, draft, catalogue, place, &behind.drivers)).collect()
}

fn place_option(
    survey: &Survey,
    draft: &RailDraft<'_>,
    catalogue: &Catalogue,
    place: &PlaceForRail<'_>,
    drivers: &[&Driver],
) -> Place {
    let (setting, ambient) = match &place.source {
        PlaceSource::Surveyed(found) => {
            (found.exposure.as_ref().map_or(survey.site.exposure.setting, |exposure| exposure.setting), found.ambient)
        }
        PlaceSource::Proposed { .. } => (draft.exposure.setting, draft.exposure.greatest_temperature),
    };
    let mut fits = Vec::new();
    let mut room: Option<u32> = None;
    for (index, driver) in drivers.iter().enumerate() {
        let number = match &place.source {
            PlaceSource::Surveyed(found) => number_that_fit(driver, found),
            PlaceSource::Proposed { .. } => 1,
        };
        let enclosed = enclosure_price(driver, setting, catalogue);
        let share = driver.derating.share(ambient);
        if let (true, Some(enclosure), true) = (number > 0, enclosed, share > 0.0 && share.is_finite()) {
            fits.push(Fit { driver: index, share: share.min(1.0), enclosure });
            // Room is counted for the part that takes most of it, so that any choice of parts fits.
            room = Some(room.map_or(number, |least| least.min(number)));
        }
    }
    let room = match place.source {
        PlaceSource::Surveyed(_) => room,
        PlaceSource::Proposed { .. } => None,
    };
    Place { id: place.id.clone(), mains: place.mains.clone(), fits, room }
}

/// What it costs to let a driver stand in a setting: nothing where its own code suits, an enclosure where it does not;
/// `None` where the catalogue has none.
fn enclosure_price(driver: &Driver, setting: Setting, catalogue: &Catalogue) -> Option<Money> {
    if ingress::suits(&driver.ingress, setting) {
        return Some(Money::ZERO);
    }
    stock::enclosure(catalogue).map(|fixing| fixing.item.price)
}

/// Setting of a place, or of the rail where the place is only proposed.
pub(crate) fn setting_at(survey: &Survey, draft: &RailDraft<'_>, place: &PlaceForRail<'_>) -> Setting {
    match &place.source {
        PlaceSource::Surveyed(found) => {
            found.exposure.as_ref().map_or(survey.site.exposure.setting, |exposure| exposure.setting)
        }
        PlaceSource::Proposed { .. } => draft.exposure.setting,
    }
}

/// Whether a thing needs an enclosure at a place.
pub(crate) fn needs_box(code: &Ingress, survey: &Survey, draft: &RailDraft<'_>, place: &PlaceForRail<'_>) -> bool {
    !ingress::suits(code, setting_at(survey, draft, place))
}

/// The ways for extension leads, each with the leads that go through all of its routes and into the tube.
fn paths(survey: &Survey, draft: &RailDraft<'_>, places: &[PlaceForRail<'_>], leads: &[&Lead]) -> Vec<Path> {
    let entries = ways_in(draft.rail);
    let mut paths = Vec::new();
    for (place, source) in places.iter().enumerate() {
        for (way_in, way) in &source.ways {
            let mut clear = opening(draft.rail, &entries[*way_in].id);
            for route in way.routes.iter().filter_map(|id| by_id(&survey.routes, id, |route| &route.id)) {
                clear = narrower(clear, route.clear);
                clear = narrower(clear, widest(&route.passage));
            }
            let fitting: Vec<usize> = (0..leads.len())
                .filter(|lead| clear.is_none_or(|clear| leads[*lead].outside_diameter <= clear))
                .collect();
            paths.push(Path { place, way_in: *way_in, length: way.length, routes: way.routes.clone(), leads: fitting });
        }
    }
    paths
}

/// The clear diameter of a way in and of the post that it leads through.
pub(crate) fn opening(rail: &survey::Rail, way_in: &Id) -> Option<Length> {
    let feature = rail.features.iter().find(|feature| &feature.id == way_in)?;
    let FeatureKind::WayIn { opening, post } = &feature.kind else { return None };
    let into =
        post.as_ref().and_then(|post| rail.features.iter().find(|feature| &feature.id == post)).and_then(|feature| {
            match &feature.kind {
                FeatureKind::Post { into_post, .. } => widest(into_post),
                _ => None,
            }
        });
    narrower(Some(*opening), into)
}

pub(crate) fn widest(passage: &Passage) -> Option<Length> {
    match passage {
        Passage::Proved { widest, .. } => Some(*widest),
        Passage::Unknown | Passage::Assumed | Passage::Blocked { .. } => None,
    }
}

pub(crate) fn narrower(a: Option<Length>, b: Option<Length>) -> Option<Length> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (one, other) => one.or(other),
    }
}

pub(crate) fn driver_option(driver: &Driver, reserve_percent: u8) -> DriverOption {
    let tolerance = f64::from(driver.tolerance_permille) / 1000.0;
    DriverOption {
        part: driver.item.part.clone(),
        price: driver.item.price,
        outputs: driver.outputs,
        output_limit: driver.output_limit,
        rated: driver.rated,
        reserve_percent,
        low: driver.output * (1.0 - tolerance),
        high: driver.output * (1.0 + tolerance),
        short_circuit: driver.short_circuit,
    }
}

/// Resistance of one pole of a lead's connector.
pub(crate) fn contact_ohms(lead: &Lead) -> Ohms {
    lead.connector.as_ref().map_or(Ohms::ZERO, |connector| Ohms::new(f64::from(connector.milliohms) / 1000.0))
}

pub(crate) fn lead_option(lead: &Lead, catalogue: &Catalogue, warm: Celsius) -> Option<LeadOption> {
    let contact = contact_ohms(lead);
    let pole = lead.connector.as_ref().map_or(lead.carries, |connector| connector.limit);
    let connection = i64::from(catalogue.labour.connection_minutes);
    let (supply, allowance, ends_made_off) = match &lead.supply {
        Supply::Reel { .. } => (LeadSupply::Reel { per_metre: lead.item.price }, CUT_LEAD_ALLOWANCE, 2),
        Supply::MadeUp(lengths) => (
            LeadSupply::MadeUp {
                lengths: lengths.clone(),
                plug: contact,
                plug_carries: pole,
                // Plugging two together takes no time worth charging.
                plug_cost: Money::ZERO,
            },
            MADE_UP_LEAD_ALLOWANCE,
            // The driver's end and the joint at the way in are still made by hand.
            2,
        ),
    };
    Some(LeadOption {
        part: lead.item.part.clone(),
        area: lead.area,
        ohms_per_m: stock::ohms_per_m(lead, warm)?,
        carries: lead.carries.min(pole),
        supply,
        allowance,
        ends: contact * 2.0,
        ends_cost: catalogue.labour.minutes(connection * ends_made_off),
    })
}

fn run_option(lead: &Lead, conductors: u8, warm: Celsius) -> Option<RunOption> {
    Some(RunOption {
        part: lead.item.part.clone(),
        area: lead.area,
        ohms_per_m: stock::ohms_per_m(lead, warm)?,
        carries: lead.carries,
        per_metre: lead.item.price,
        lengths: stock::lengths_side_by_side(lead, conductors),
    })
}

pub(crate) fn costs(catalogue: &Catalogue, mains: Option<&Lead>, conductors: u8) -> Costs {
    let labour = &catalogue.labour;
    // A tenth of the time for ten metres is the time for one, rounded once.
    let per_metre = |minutes_per_10_m: u32| {
        let for_ten = labour.minutes(i64::from(minutes_per_10_m)).to_ten_thousandths();
        Money::ten_thousandths((for_ten + 5).div_euclid(10))
    };
    let lay = per_metre(labour.lead_minutes_per_10_m);
    let seal = stock::price(stock::end_seal(catalogue));
    Costs {
        mount_driver: labour.minutes(i64::from(labour.driver_minutes)),
        mains_per_metre: mains.map_or(Money::ZERO, |lead| lead.item.price) + lay,
        mains_ends: labour.minutes(2 * i64::from(labour.connection_minutes))
            + mains.map_or(Money::ZERO, |lead| lead.item.price.per_metre(MAINS_ALLOWANCE)),
        lay_per_metre: lay,
        thread_per_metre: per_metre(labour.thread_minutes_per_10_m),
        // The smallest gland stands for all, since the lead is not chosen yet.
        per_chain: stock::price(stock::gland(catalogue, Length::ZERO)),
        per_arm: seal * i64::from(conductors),
    }
}
