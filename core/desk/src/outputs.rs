//! Writes papers into a folder: all of them, or none.

use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use crate::planned::Planned;

/// A kind of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// `plan.pdf`: drawings, schedules, findings and cautions.
    Pdf,
    /// One CSV file for each schedule.
    Csv,
    /// `report.txt`: the aligned report.
    Txt,
    /// `plan.json`: the plan document.
    Json,
}

/// Why papers could not be made or written.
#[derive(Debug, thiserror::Error)]
pub enum OutputError {
    /// The folder or a file in it can't be written.
    #[error("{}: can't be written: {cause}", .path.display())]
    Folder {
        /// The folder or file.
        path: PathBuf,
        /// What the system says.
        cause: io::Error,
    },
    /// This build makes no PDF.
    #[error("this build of Newel makes no PDF; ask for csv, txt or json")]
    NoPdf,
    /// The PDF could not be made.
    #[error("{0}")]
    Pdf(String),
}

impl Paper {
    /// Every kind that this build makes.
    #[must_use]
    pub fn all() -> Vec<Self> {
        let mut all = vec![Self::Csv, Self::Txt, Self::Json];
        if cfg!(feature = "pdf") {
            all.insert(0, Self::Pdf);
        }
        all
    }

    /// Its files, by name.
    ///
    /// # Errors
    /// Only for a PDF: a build without it, a day of issue that is none, or a fault of the engine.
    pub fn files(self, planned: &Planned, issued: &str) -> Result<Vec<(String, Vec<u8>)>, OutputError> {
        let one = |name: &str, bytes: Vec<u8>| Ok(vec![(name.to_owned(), bytes)]);
        match self {
            Self::Pdf => one("plan.pdf", pdf(planned, issued)?),
            Self::Csv => Ok(papers::csv_files(&planned.paper_input(issued))),
            Self::Txt => one("report.txt", planned.to_text(issued).into_bytes()),
            Self::Json => one("plan.json", planned.to_json().into_bytes()),
        }
    }
}

#[cfg(feature = "pdf")]
fn pdf(planned: &Planned, issued: &str) -> Result<Vec<u8>, OutputError> {
    papers::pdf(&planned.paper_input(issued)).map_err(|error| OutputError::Pdf(error.to_string()))
}

#[cfg(not(feature = "pdf"))]
fn pdf(_: &Planned, _: &str) -> Result<Vec<u8>, OutputError> {
    Err(OutputError::NoPdf)
}

/// Makes papers and writes them into a folder, which is made where it is missing; returns the names of the files.
///
/// Every paper is made before the first byte is written, and every file is whole on disk under another name before the
/// first one is renamed, so that neither a fault nor a full disk leaves part of the papers behind.
///
/// # Errors
/// A paper that can't be made, or a folder that can't be written; the folder then is as it was.
pub fn write_outputs(dir: &Path, planned: &Planned, issued: &str, which: &[Paper]) -> Result<Vec<String>, OutputError> {
    let mut files = Vec::new();
    for paper in which {
        files.extend(paper.files(planned, issued)?);
    }
    write_files(dir, &files)?;
    Ok(files.into_iter().map(|(name, _)| name).collect())
}

/// Writes one file by way of another beside it, so that a full disk leaves the old one as it was.
///
/// # Errors
/// The folder or the file can't be written.
pub fn write_file(path: &Path, bytes: &[u8]) -> Result<(), OutputError> {
    write_file_with(path, |mut file| file.write_all(bytes).map_err(at(path)))
}

/// As [`write_file`], of bytes that are made while they are written; they are on the disk before the file appears.
pub(crate) fn write_file_with<E: From<OutputError>>(
    path: &Path,
    write: impl FnOnce(&fs::File) -> Result<(), E>,
) -> Result<(), E> {
    let waiting = path.with_file_name(waiting_name());
    let whole = |file: &fs::File| file.sync_all().map_err(at(path)).and_then(|()| rename(&waiting, path));
    let made = fs::File::create(&waiting).map_err(at(path)).map_err(E::from);
    let written = made.and_then(|file| write(&file).and_then(|()| Ok(whole(&file)?)));
    if written.is_err() {
        // Best effort: half a file is of no use to anybody.
        let _ = fs::remove_file(&waiting);
    }
    written
}

/// Writes files into a folder by way of a folder beside them.
fn write_files(dir: &Path, files: &[(String, Vec<u8>)]) -> Result<(), OutputError> {
    let is_new = !dir.exists();
    // The waiting place is on the same disk as the target, so that renaming moves no bytes.
    let waiting = if is_new { beside(dir) } else { dir.join(waiting_name()) };
    let written =
        fill(&waiting, files).and_then(|()| if is_new { rename(&waiting, dir) } else { moved(&waiting, dir, files) });
    if written.is_err() || !is_new {
        // Best effort: what is left of the waiting place is of no use to anybody.
        let _ = fs::remove_dir_all(&waiting);
    }
    written
}

fn waiting_name() -> String {
    format!(".newel-{}", std::process::id())
}

fn beside(dir: &Path) -> PathBuf {
    match dir.parent() {
        Some(parent) => parent.join(waiting_name()),
        None => PathBuf::from(waiting_name()),
    }
}

fn at(path: &Path) -> impl FnOnce(io::Error) -> OutputError {
    let path = path.to_owned();
    move |cause| OutputError::Folder { path, cause }
}

fn fill(waiting: &Path, files: &[(String, Vec<u8>)]) -> Result<(), OutputError> {
    fs::create_dir_all(waiting).map_err(at(waiting))?;
    for (name, bytes) in files {
        let path = waiting.join(name);
        fs::write(&path, bytes).map_err(at(&path))?;
    }
    Ok(())
}

fn moved(waiting: &Path, dir: &Path, files: &[(String, Vec<u8>)]) -> Result<(), OutputError> {
    // What can't be replaced is found before anything is replaced.
    for (name, _) in files {
        let target = dir.join(name);
        if target.is_dir() {
            return Err(at(&target)(io::Error::other("a folder of this name is in the way")));
        }
    }
    files.iter().try_for_each(|(name, _)| rename(&waiting.join(name), &dir.join(name)))
}

fn rename(from: &Path, to: &Path) -> Result<(), OutputError> {
    fs::rename(from, to).map_err(at(to))
}
