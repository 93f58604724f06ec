//! Load on the contacts of relays and on the channels of dimmers and decoders.

use survey::{Finding, Subject, Verdict};

use crate::Job;

const SOURCE: &str = "maker's rating of the contact or channel";

/// The current of each contact or busiest channel against its rating, and the inrush of the drivers on a contact against
/// the peak that it stands. The peaks are added up, since all drivers are switched at one moment.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for device in &job.plan.controls {
        let Some(part) = job.catalogue.controls.iter().find(|control| control.item.part == device.part) else {
            continue;
        };
        let (name, subject) = (&device.device, || Subject::Part(device.part.clone()));
        if let Some(load) = device.load {
            let verdict = if load <= part.contact { Verdict::Pass } else { Verdict::Stop };
            let advice = if verdict == Verdict::Pass {
                ""
            } else {
                "Use a part with a stronger contact, or more chains of less current."
            };
            found.push(
                Finding::new("contact-load", subject(), verdict, SOURCE)
                    .compared(load.get(), part.contact.get(), "A")
                    .says(format!(
                        "{name} carries {load:.2} for {}; its contact is good for {:.2}.",
                        device.serves.join(", "),
                        part.contact
                    ))
                    .advises(advice),
            );
        }
        let Some(inrush) = device.inrush else { continue };
        let Some(stands) = part.contact_inrush else {
            found.push(
                Finding::new("contact-inrush", subject(), Verdict::NotEvaluated, SOURCE)
                    .found("peak that the contact stands not stated")
                    .says(format!("{name} switches an inrush of {inrush:.1} for {}.", device.serves.join(", ")))
                    .advises("Ask the maker for the peak that one contact stands and write it in the catalogue."),
            );
            continue;
        };
        let verdict = if inrush <= stands { Verdict::Pass } else { Verdict::Stop };
        let advice =
            if verdict == Verdict::Pass { "" } else { "Use a relay for higher inrush, or drivers with less of it." };
        found.push(
            Finding::new("contact-inrush", subject(), verdict, SOURCE)
                .compared(inrush.get(), stands.get(), "A")
                .says(format!(
                    "{name} switches an inrush of {inrush:.1} for {}; its contact stands {stands:.1}.",
                    device.serves.join(", ")
                ))
                .advises(advice),
        );
    }
}
