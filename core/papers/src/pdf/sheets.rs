//! What stands on the sheets of the PDF, in order.

use plan::document::{PatternFigures, RailPlan};
use survey::Verdict;
use typst::foundations::Value;

use super::blocks::{self, Across, Loud, Start};
use crate::cautions::{CAUTIONS, DISCLAIMER};
use crate::drawing::Drawing;
use crate::rail_sheet::{legend, rail_sheet, volts_line};
use crate::table::Table;
use crate::{PaperInput, figures, schedules, wording};

/// Reasons against drilling that are written on a rail's sheet; one is enough to stop.
const REASONS: usize = 12;

/// Every block of the paper.
pub fn all(input: &PaperInput) -> Vec<Value> {
    let mut out = Vec::new();
    title(&mut out, input);
    for rail in &input.plan.rails {
        rail_blocks(&mut out, input, rail);
    }
    feeds(&mut out, input);
    ordering(&mut out, input);
    out.push(blocks::heading("Findings", Start::NewSheet));
    out.push(blocks::words(&counts(input)));
    schedule(&mut out, &schedules::findings(input), "No rule had anything to say; that is not a pass.");
    out
}

fn counts(input: &PaperInput) -> String {
    format!("{}. Worst first; the reason stands beside each verdict.", crate::text::verdict_counts(input))
}

fn title(out: &mut Vec<Value>, input: &PaperInput) {
    let (site, plan) = (&input.survey.site, input.plan);
    out.push(blocks::heading(&site.label, Start::Below));
    if let Some(warning) = input.invented() {
        out.push(blocks::notice(Loud::Stop, warning, []));
    }
    let or_dash = |words: Option<&String>| words.map_or_else(|| figures::NONE.to_owned(), Clone::clone);
    let money = |amount: units::Money| format!("{} {}", amount.to_hundredths(), input.catalogue.currency);
    out.push(blocks::facts(&[
        ("Address", site.address.clone()),
        ("Surveyed", format!("{} by {}", or_dash(site.surveyed_on.as_ref()), or_dash(site.surveyor.as_ref()))),
        ("Issued", input.issued.to_owned()),
        ("Catalogue", format!("{}, prices of {}", input.catalogue.label, input.catalogue.priced_on)),
        ("Plan", format!("{}, engine {}", plan.plan_id, plan.engine_version)),
        (
            "Cost of feeds",
            format!(
                "{}; proved to be at least {}, gap {}",
                money(plan.objective.cost),
                money(plan.objective.lower_bound),
                format_args!("{} {}", plan.objective.gap(), input.catalogue.currency)
            ),
        ),
        ("Findings", crate::text::verdict_counts(input)),
    ]));
    let stops: Vec<String> = input
        .findings_in_order()
        .into_iter()
        .filter(|finding| finding.verdict == Verdict::Stop)
        .map(|finding| format!("{}: {}", wording::subject(&finding.subject, input.survey), finding.message))
        .collect();
    if !stops.is_empty() {
        let shown = stops.len().min(8);
        let mut lines: Vec<&str> = stops[..shown].iter().map(String::as_str).collect();
        let more = format!("and {} more under Findings", stops.len() - shown);
        if stops.len() > shown {
            lines.push(&more);
        }
        out.push(blocks::notice(Loud::Stop, "What stops this job", lines));
    }
    out.push(blocks::subheading("Rails", Start::Below));
    schedule(out, &schedules::summary(input), "The brief names no rail, so nothing is laid out.");
    out.push(blocks::subheading("Cautions", Start::Below));
    let lines = CAUTIONS.iter().map(|caution| caution.full);
    out.push(blocks::notice(Loud::Care, DISCLAIMER, lines));
}

fn rail_blocks(out: &mut Vec<Value>, input: &PaperInput, rail: &RailPlan) {
    let name = wording::named(rail.id.as_str(), Some(&rail.label));
    let surveyed = input.survey.rail(&rail.id);
    out.push(blocks::heading(&format!("Rail {name}"), Start::NewSheet));
    let sheet = rail_sheet(input, rail);
    let mut facts = Vec::new();
    if let Some(surveyed) = surveyed {
        facts.push((
            "Tube, datum",
            format!(
                "{}; datum: {}; its mark: {}",
                wording::tube(&surveyed.tube),
                surveyed.datum.end,
                surveyed.datum.mark
            ),
        ));
    }
    let layout = match (&rail.lit, &rail.pattern) {
        (Some(lit), _) => schedules::lit_words(lit),
        (None, Some(pattern)) => layout_words(rail, pattern),
        (None, None) => nothing(),
    };
    facts.push(("Layout", layout));
    for other in &rail.alternatives {
        facts.push(("Alternative", layout_words(rail, &other.figures)));
    }
    if !rail.luminaires.is_empty() {
        facts.push(("Cost of feeds", input.cost_of(rail)));
    }
    facts.push(("Drawing", sheet.scale));
    out.push(blocks::facts(&facts));
    if !rail.not_ready.is_empty() {
        let more = format!("and {} more reasons, all in the text report", rail.not_ready.len().saturating_sub(REASONS));
        let rest = (rail.not_ready.len() > REASONS).then_some(more.as_str());
        let reasons = rail.not_ready.iter().take(REASONS).map(String::as_str).chain(rest);
        out.push(blocks::notice(
            Loud::Stop,
            if rail.lit.is_some() {
                "NOT READY TO FIT: no module is dimensioned on this sheet, because"
            } else {
                "NOT READY TO DRILL: no hole is dimensioned on this sheet, because"
            },
            reasons,
        ));
    }
    out.push(blocks::drawing(&legend(crate::rail_sheet::WIDTH_MM)));
    for drawing in &sheet.strips {
        out.push(blocks::drawing(drawing));
    }
    let drilling = schedules::drilling(input, &rail.id);
    if rail.not_ready.is_empty() && !drilling.rows.is_empty() {
        out.push(blocks::subheading(&format!("Drilling schedule, rail {name}"), start_of(&drilling)));
        out.push(blocks::words(
            "Measure every hole from the datum; use the straight's own mark as a check. Spacing is for proving only. \
             Around: along the tube's girth from the line of its underside towards the walked side.",
        ));
        out.push(blocks::table(&drilling, Across::Halves));
    }
    let modules = schedules::modules(input, rail);
    if rail.not_ready.is_empty() && !modules.rows.is_empty() {
        out.push(blocks::subheading(&format!("Modules, rail {name}"), start_of(&modules)));
        out.push(blocks::words("Measure the start of every module from the datum, so that no error adds up."));
        out.push(blocks::table(&modules, Across::Halves));
    }
    let locks = schedules::locks(input, rail);
    if !locks.rows.is_empty() {
        out.push(blocks::subheading(&format!("Kept where a person put it, rail {name}"), start_of(&locks)));
        out.push(blocks::table(&locks, Across::Halves));
    }
    if let Some(surveyed) = surveyed {
        let features = schedules::features(surveyed);
        if !features.rows.is_empty() {
            out.push(blocks::subheading(&format!("Bends and features, rail {name}"), start_of(&features)));
            out.push(blocks::table(&features, Across::Halves));
        }
    }
}

/// A schedule that is too long to be kept together starts on a sheet of its own.
fn start_of(table: &Table) -> Start {
    if blocks::stays_together(table) { Start::Below } else { Start::NewSheet }
}

fn nothing() -> String {
    "nothing is laid out on this rail".to_owned()
}

fn layout_words(rail: &RailPlan, pattern: &PatternFigures) -> String {
    let mut parts = vec![format!("{} luminaires, {}", pattern.count, wording::pattern(pattern.kind))];
    if let Some(target) = rail.target {
        parts.push(format!("target spacing {} mm", figures::mm(target)));
    }
    if let (Some(least), Some(greatest)) = (pattern.least_gap, pattern.greatest_gap) {
        parts.push(format!("reached {} to {} mm", figures::tenths_mm(least), figures::tenths_mm(greatest)));
    }
    parts.push(format!("worst departure {} mm", figures::tenths_mm(pattern.worst_departure)));
    parts.join(", ")
}

fn feeds(out: &mut Vec<Value>, input: &PaperInput) {
    out.push(blocks::heading("Drivers and circuits", Start::NewSheet));
    out.push(blocks::subheading("Drivers", Start::Below));
    schedule(out, &schedules::drivers(input), "No driver is needed.");
    out.push(blocks::subheading(
        "Circuits, worst case: low end of the source, warm conductors, all at full output",
        Start::Below,
    ));
    out.push(blocks::words(
        "Least: volts at the worst lamp. It must stay above both limits, that of the drop rule and that of the lamp.",
    ));
    schedule(out, &schedules::circuits(input), "There is no circuit.");
    let lines: Vec<Drawing> = input.plan.rails.iter().filter_map(|rail| volts_line(input, rail)).collect();
    if !lines.is_empty() {
        out.push(blocks::subheading("Volts along each rail", Start::Below));
        out.extend(lines.iter().map(blocks::drawing));
    }
    out.push(blocks::heading("Cable schedule", Start::NewSheet));
    schedule(out, &schedules::cables(input), "There is no cable.");
    out.push(blocks::subheading("Cut list over reels", Start::Below));
    schedule(out, &schedules::reels(input), "Nothing is cut from a reel.");
}

fn ordering(out: &mut Vec<Value>, input: &PaperInput) {
    out.push(blocks::heading("Parts, controls, tests", Start::NewSheet));
    out.push(blocks::subheading("Parts", Start::Below));
    schedule(out, &schedules::parts(input), "No part is needed.");
    out.push(blocks::subheading("Controls", Start::Below));
    schedule(out, &schedules::control_lines(input), "No control line is planned.");
    schedule(out, &schedules::controls(input), "No control device is planned.");
    out.push(blocks::subheading("Tests", start_of(&schedules::tests(input))));
    let tests = schedules::tests(input);
    if tests.rows.is_empty() {
        out.push(blocks::words("There is nothing to test."));
    } else {
        out.push(blocks::table(&tests, Across::Halves));
    }
}

fn schedule(out: &mut Vec<Value>, table: &Table, without_rows: &str) {
    out.push(if table.rows.is_empty() { blocks::words(without_rows) } else { blocks::table(table, Across::Sheet) });
}
