//! Ingress codes of what is fitted against where it stands.

use std::collections::BTreeSet;

use catalogue::Ingress;
use plan::ingress::{needed, suits};
use survey::{Finding, Setting, Subject, Verdict};

use crate::Job;

const SOURCE: &str =
    "IEC 60529 clause 6 (from memory): the second numeral is a set of declared tests; 7 or 8 covers no jet or splash";

/// Luminaires against the setting of their rail; drivers and decoders against that of their place.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, planned) in job.lit_rails() {
        let setting = job.survey.exposure_of(rail).setting;
        let parts: BTreeSet<&str> = planned.luminaires.iter().map(|luminaire| luminaire.part.as_str()).collect();
        for part in parts.into_iter().filter_map(|part| job.catalogue.luminaire(part)) {
            let code = &part.ingress;
            let ok = suits(code, setting);
            let finding =
                finding(Subject::Rail(rail.id.clone()), if ok { Verdict::Pass } else { Verdict::Stop }, code, setting);
            found.push(
                finding
                    .says(format!(
                        "{} on rail {} is {}; {} asks for {}.",
                        part.item.part,
                        rail.label,
                        words(code),
                        place_words(setting),
                        needed_words(setting)
                    ))
                    .advises(if ok {
                        ""
                    } else {
                        "Choose a luminaire with a code that covers this, dual marks counted."
                    }),
            );
        }
    }
    for driver in &job.plan.drivers {
        let Some(part) = job.catalogue.driver(&driver.part) else { continue };
        boxed(job, driver.place.as_ref(), Subject::Driver(driver.id.clone()), &driver.id, &part.ingress, found);
    }
    for control in &job.plan.controls {
        let Some(part) = job.catalogue.controls.iter().find(|part| part.item.part == control.part) else { continue };
        let driver = job.plan.drivers.iter().find(|driver| control.place.contains(&format!("driver {},", driver.id)));
        let Some(driver) = driver else { continue };
        let subject = Subject::Driver(driver.id.clone());
        boxed(job, driver.place.as_ref(), subject, &control.device, &part.ingress, found);
    }
}

/// A thing that may stand in an enclosure where its own code does not suit.
fn boxed(
    job: Job<'_>,
    place: Option<&survey::Id>,
    subject: Subject,
    name: &str,
    code: &Ingress,
    found: &mut Vec<Finding>,
) {
    let Some(place) = place.and_then(|id| job.survey.driver_places.iter().find(|place| &place.id == id)) else {
        return;
    };
    let setting = place.exposure.as_ref().map_or(job.survey.site.exposure.setting, |exposure| exposure.setting);
    let ok = suits(code, setting);
    let finding = finding(subject, if ok { Verdict::Pass } else { Verdict::Caution }, code, setting);
    found.push(if ok {
        finding.says(format!(
            "{name} is {}; {} asks for {}.",
            words(code),
            place_words(setting),
            needed_words(setting)
        ))
    } else {
        finding
            .says(format!(
                "{name} is {} where {} asks for {}; it stands in an enclosure, whose code the catalogue does not state.",
                words(code),
                place_words(setting),
                needed_words(setting)
            ))
            .advises("Choose an enclosure and glands whose code covers this.")
    });
}

fn finding(subject: Subject, verdict: Verdict, code: &Ingress, setting: Setting) -> Finding {
    let mut finding = Finding::new("ingress", subject, verdict, SOURCE).found(words(code));
    finding.limit = Some(survey::Figure::Words(needed_words(setting)));
    finding
}

/// A code as it is marked: `IP66/IP67`.
fn words(code: &Ingress) -> String {
    let first = code.first.map_or_else(|| "X".to_owned(), |numeral| numeral.to_string());
    if code.second.is_empty() {
        return format!("IP{first}X");
    }
    code.second.iter().map(|second| format!("IP{first}{second}")).collect::<Vec<_>>().join("/")
}

fn needed_words(setting: Setting) -> String {
    let (first, second) = needed(setting);
    format!("IP{first}{second}")
}

const fn place_words(setting: Setting) -> &'static str {
    match setting {
        Setting::IndoorDry => "a dry place indoors",
        Setting::IndoorDamp => "a damp place indoors",
        Setting::OutdoorSheltered => "a sheltered place outdoors",
        Setting::OutdoorOpen => "an open place outdoors",
        Setting::OutdoorHosed => "a place that is hosed",
        Setting::MaySubmerge => "a place that may be under water",
    }
}
