//! The `newel` command: a thin shell over `desk`.

mod args;
mod catalogue;
mod device;
mod exchange;
mod input;
mod output;
mod photo;
mod place;
mod progress;
mod site;

use std::io::{self, Write};
use std::path::Path;
use std::process::ExitCode;

use args::{Asked, Command, Document, Input};
use clap::{Parser, ValueEnum};
use desk::{Faults, Paper, Planned, demo};
use output::{Done, exit, list, print};

/// Quicker for the many small lists of a plan, on two threads.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// The input can't be used.
const REFUSED: u8 = 2;
/// Ctrl-C stopped it, as shells have it.
const STOPPED_BY_PERSON: u8 = 130;

fn main() -> ExitCode {
    let asked = Asked::parse();
    desk::use_platform_keyring();
    let home = asked.home.as_deref();
    let done = match asked.command {
        Command::Plan { input, json, csv } => plan(&input, json, csv.as_deref()),
        Command::Papers { input, out, only } => papers(&input, &out, &only),
        Command::Check { file, strict } => check(&file, strict),
        Command::Site(command) => site::run(home, command),
        Command::Photo(command) => photo::run(home, command),
        Command::Catalogue(command) => catalogue::run(home, command),
        Command::Device(command) => device::run(home, command),
        Command::Exchange(command) => exchange::run(home, command),
        Command::Schema { document } => schema(document),
    };
    done.unwrap_or_else(|refusal| {
        // Standard error may be closed; there is nobody left to tell then.
        let _ = writeln!(io::stderr(), "{refusal}");
        ExitCode::from(REFUSED)
    })
}

fn planned(input: &Input) -> Result<Planned, Faults> {
    let survey = input::bytes(&input.file);
    let named = input.catalogue.as_deref().map(|path| (input::bytes(path), input::name(path)));
    let (catalogue, name) = named.unwrap_or_else(|| {
        output::say_demo_catalogue();
        (Ok(demo::CATALOGUE.to_vec()), demo::CATALOGUE_NAME.to_owned())
    });
    match (survey, catalogue) {
        (Ok(survey), Ok(catalogue)) => desk::plan_files((&survey, &input::name(&input.file)), (&catalogue, &name)),
        (Err(faults), Ok(_)) | (Ok(_), Err(faults)) => Err(faults),
        (Err(faults), Err(more)) => Err(faults.and(more)),
    }
}

fn issued(input: &Input) -> String {
    input.issued.clone().unwrap_or_else(desk::day::today)
}

fn plan(input: &Input, json: bool, csv: Option<&Path>) -> Done {
    let planned = planned(input)?;
    if let Some(dir) = csv {
        list(dir, &desk::write_outputs(dir, &planned, &issued(input), &[Paper::Csv])?)?;
    } else if json {
        print(&planned.to_json())?;
    } else {
        print(&planned.to_text(&issued(input)))?;
    }
    Ok(exit(planned.has_stops(), input.strict))
}

fn papers(input: &Input, out: &Path, only: &[args::Kind]) -> Done {
    let planned = planned(input)?;
    let mut which: Vec<Paper> =
        if only.is_empty() { Paper::all() } else { only.iter().map(|kind| Paper::from(*kind)).collect() };
    which.sort_unstable();
    which.dedup();
    list(out, &desk::write_outputs(out, &planned, &issued(input), &which)?)?;
    Ok(exit(planned.has_stops(), input.strict))
}

fn check(file: &Path, strict: bool) -> Done {
    let checked = desk::check_survey(&input::bytes(file)?, &input::name(file))?;
    print(&checked.text)?;
    Ok(exit(checked.has_stops, strict))
}

fn schema(document: Document) -> Done {
    use desk::wire::schemas;
    let schema = match document {
        Document::Survey => schemas::survey(),
        Document::Brief => schemas::brief(),
        Document::Plan => schemas::plan(),
        Document::Catalogue => schemas::catalogue(),
        Document::Quotation => {
            return Err(
                "quotation: this release makes no quotations yet; accepted: survey, brief, plan, catalogue".into()
            );
        }
        // The others carry the names under which desk lists them.
        other => {
            let value = other.to_possible_value();
            let name = value.as_ref().map_or("", |value| value.get_name());
            let found = schemas::of_sites().into_iter().find(|(known, _)| *known == name);
            found.map(|(_, schema)| schema).ok_or_else(|| format!("{name}: there is no schema of this name"))?
        }
    };
    print(&desk::json_text(&schema))?;
    Ok(ExitCode::SUCCESS)
}
