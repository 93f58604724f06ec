//! What can be asked of `newel`.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::catalogue::CatalogueCommand;
use crate::device::DeviceCommand;
use crate::exchange::ExchangeCommand;
use crate::photo::PhotoCommand;
use crate::site::SiteCommand;

/// Plans LED lighting for handrails that are already standing, from a survey file and a catalogue.
///
/// Exit status: 0 done; 2 the input can't be used, with one line for each fault on standard error; 3 done, and there are
/// findings that stop the job (with --strict); 130 stopped by Ctrl-C, what was done before stays.
#[derive(Debug, Parser)]
#[command(name = "newel", version)]
pub struct Asked {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// The folder of the store of sites; NEWEL_HOME where absent, else the platform's folder for data.
    #[arg(long, global = true, value_name = "DIR")]
    pub home: Option<PathBuf>,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Plans a site and prints the report for people.
    Plan {
        /// What to plan from.
        #[command(flatten)]
        input: Input,
        /// Print the plan document as JSON instead, and nothing else.
        #[arg(long, conflicts_with = "csv")]
        json: bool,
        /// Write one CSV file for each schedule into this folder instead.
        #[arg(long, value_name = "DIR")]
        csv: Option<PathBuf>,
    },
    /// Writes the papers of a site into a folder.
    Papers {
        /// What to plan from.
        #[command(flatten)]
        input: Input,
        /// The folder; it is made where it is missing.
        #[arg(long, value_name = "DIR")]
        out: PathBuf,
        /// Only these kinds, with commas between them.
        #[arg(long, value_name = "KINDS", value_delimiter = ',')]
        only: Vec<Kind>,
    },
    /// Reads a survey file, lists its faults or else its own findings, and plans nothing.
    Check {
        /// The survey file, JSON or TOML.
        file: PathBuf,
        /// Exit with 3 where a finding stops the job.
        #[arg(long)]
        strict: bool,
    },
    /// Keeps sites: adds them, lists them, looks back at them, sends them. A site is named by its id, the beginning of
    /// its id, or its label.
    #[command(subcommand)]
    Site(SiteCommand),
    /// Keeps the photos of sites: adds files, finds where they belong, marks them up, copies them for a client.
    #[command(subcommand)]
    Photo(PhotoCommand),
    /// Keeps the firm's catalogues, and says which is in force.
    #[command(subcommand)]
    Catalogue(CatalogueCommand),
    /// This device and the others whose changes count here.
    #[command(subcommand)]
    Device(DeviceCommand),
    /// Shares everything with the team's other devices through a folder, a drive on the web or an object store that all of
    /// them reach. The first device starts a
    /// team and invites; each other one joins with the code that it was given, and is let in with approve. From then on
    /// `newel exchange run` gives what is new here and takes what is new there.
    #[command(subcommand)]
    Exchange(ExchangeCommand),
    /// Prints the JSON Schema of a document.
    Schema {
        /// The document.
        document: Document,
    },
}

/// What to plan from.
#[derive(Args, Debug)]
pub struct Input {
    /// The survey file, JSON or TOML.
    pub file: PathBuf,
    /// The catalogue, TOML or JSON; the invented demo catalogue where absent.
    #[arg(long, value_name = "FILE")]
    pub catalogue: Option<PathBuf>,
    /// Exit with 3 where a finding stops the job.
    #[arg(long)]
    pub strict: bool,
    /// Day of issue on the papers, such as 2030-03-04; today (UTC) where absent.
    #[arg(long, value_name = "DAY", value_parser = day)]
    pub issued: Option<String>,
}

/// Reads a day of issue.
pub fn day(text: &str) -> Result<String, String> {
    if desk::day::is_day(text) { Ok(text.to_owned()) } else { Err("accepted: a day such as 2030-03-04".to_owned()) }
}

/// A kind of paper.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Kind {
    /// Drawings, schedules, findings and cautions on paper.
    Pdf,
    /// One CSV file for each schedule.
    Csv,
    /// The report as text.
    Txt,
    /// The plan document.
    Json,
}

impl From<Kind> for desk::Paper {
    fn from(kind: Kind) -> Self {
        match kind {
            Kind::Pdf => Self::Pdf,
            Kind::Csv => Self::Csv,
            Kind::Txt => Self::Txt,
            Kind::Json => Self::Json,
        }
    }
}

/// A document with a schema.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Document {
    /// The survey file.
    Survey,
    /// The brief within the survey file.
    Brief,
    /// The plan document.
    Plan,
    /// The quotation, which this release does not make yet.
    Quotation,
    /// The catalogue file.
    Catalogue,
    /// What `site list --json` prints.
    SiteList,
    /// What `site history --json` prints.
    SiteHistory,
    /// What `site disagreements --json` prints.
    SiteDisagreements,
    /// What `site search --json` prints.
    SiteSearch,
    /// What `site receive --json` prints.
    SiteArrival,
    /// What `site edit` reads.
    SiteEdit,
    /// What `photo list --json` prints.
    PhotoList,
    /// What `photo show --json` prints.
    PhotoShown,
    /// What `photo add --json` prints.
    PhotoImport,
    /// What `photo client --json` prints.
    PhotoCopies,
    /// What `photo mark` reads.
    PhotoMarks,
    /// What `catalogue list --json` prints.
    CatalogueList,
    /// What `catalogue import --json` prints.
    CatalogueImport,
    /// What `device list --json` prints.
    DeviceList,
    /// What `exchange place --json` prints.
    ExchangePlace,
    /// What `exchange status --json` prints.
    ExchangeStatus,
    /// What `exchange run --json` prints.
    ExchangeRound,
    /// What `exchange invite --json` prints.
    ExchangeInvitation,
}
