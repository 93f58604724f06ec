//! Stairs stay lit when a sensor or a control cable is lost.

use catalogue::WhenLost;
use survey::{Answer, Finding, Subject, Verdict};

use crate::Job;

const SOURCE: &str = "common practice, no source";

/// What each relay, dimmer and decoder of a zone leaves the light at when nothing tells it what to do. A sensor that has
/// failed tells it nothing either.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for zone in job.plan.zones.iter().filter(|zone| zone.stairs != Answer::No) {
        let mut judged: Vec<&str> = Vec::new();
        let devices = job.plan.controls.iter().filter(|device| device.zone == zone.id && !device.serves.is_empty());
        for device in devices {
            if judged.contains(&device.part.as_str()) {
                continue;
            }
            judged.push(&device.part);
            let part = job.catalogue.controls.iter().find(|control| control.item.part == device.part);
            let (verdict, words, advice) = match (part.and_then(|part| part.when_lost), zone.stairs) {
                (Some(WhenLost::Lit), _) => (Verdict::Pass, "leaves the light on", ""),
                (Some(WhenLost::Settable), _) => {
                    (Verdict::Pass, "can be set to leave the light on, and is to be set so", "")
                }
                (Some(WhenLost::Dark), Answer::Yes) => (
                    Verdict::Stop,
                    "leaves the stairs dark",
                    "Use a part whose contact is closed at rest, or one that can be set so.",
                ),
                (Some(WhenLost::Dark), _) => (
                    Verdict::NotEvaluated,
                    "leaves the zone dark, and nobody has said whether it lights stairs",
                    "Say in the brief whether the zone lights stairs.",
                ),
                (None, _) => (
                    Verdict::NotEvaluated,
                    "does not state what it does",
                    "Ask the maker, try it in the workshop, and write it in the catalogue.",
                ),
            };
            found.push(
                Finding::new("stairs-stay-lit", Subject::Zone(zone.id.clone()), verdict, SOURCE)
                    .says(format!(
                        "When a sensor or a control cable of zone {} is lost, {} ({}) {words}.",
                        zone.label, device.device, device.part
                    ))
                    .advises(advice),
            );
        }
    }
}
