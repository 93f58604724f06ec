//! The whole site.

use super::wire::{RailPage, SitePage};
use super::{Scheme, controls, findings, places, rail};

pub(super) fn site_page(scheme: Scheme<'_>, file: &str) -> SitePage {
    let site = &scheme.survey.site;
    let rails: Vec<RailPage> = scheme.survey.rails.iter().map(|surveyed| rail::page(scheme, surveyed)).collect();
    SitePage {
        title: site.label.clone(),
        subtitle: subtitle(site),
        file: file.to_owned(),
        plan_id: scheme.plan.plan_id.clone(),
        rails,
        mains_points: places::mains(scheme),
        zones: controls::zones(scheme),
        findings: findings::lines(scheme),
        tally: findings::tally(scheme.findings),
    }
}

fn subtitle(site: &survey::Site) -> String {
    let invented = if site.invented { "invented site" } else { "" };
    let surveyed = site.surveyed_on.as_ref().map(|day| format!("surveyed {day}")).unwrap_or_default();
    [invented, site.address.as_str(), surveyed.as_str()]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join(" · ")
}
