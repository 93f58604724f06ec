//! The journal of files and folders written plainly, and the states in which a power cut may leave them.
//!
//! The model of a drive is that of POSIX (`fsync`, `rename`; Linux man-pages fsync(2)): a sync of a file makes its bytes
//! safe but not its name; a name, of a file or of a folder, is safe once the folder that holds it was synced. Of later
//! bytes any may be there or not, torn at sectors. Names of one folder come and go in the order in which they were
//! written, and a name given in place of another changes at once; two folders know nothing of each other.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use crate::journal::{Change, first};
use crate::{Loss, lock};

/// Names a file of a [`Tree`] while it is written, whatever it is called meanwhile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FileId(usize);

#[derive(Clone, Debug)]
enum Step {
    Folder(PathBuf),
    File(PathBuf, FileId),
    Write(FileId, usize, Vec<u8>),
    Sync(FileId),
    Rename(PathBuf, PathBuf),
    Remove(PathBuf),
    SyncFolder(PathBuf),
    Mark(u64),
}

/// What happened below a folder that was empty and safe at the start.
#[derive(Debug)]
pub struct Tree {
    root: PathBuf,
    state: Mutex<(Vec<Step>, usize)>,
}

impl Tree {
    /// A journal of what happens below a folder, which is empty.
    #[must_use]
    pub fn below(root: &Path) -> Self {
        Self { root: root.to_owned(), state: Mutex::new((Vec::new(), 0)) }
    }

    fn note(&self, step: Step) {
        lock(&self.state).0.push(step);
    }

    /// A folder was made, with those above it that were absent.
    ///
    /// # Panics
    /// It is not below the root; so with every path here.
    pub fn folder(&self, folder: &Path) {
        let inner = folder.strip_prefix(&self.root).expect("below the root");
        let above: Vec<&Path> = inner.ancestors().filter(|part| !part.as_os_str().is_empty()).collect();
        above.into_iter().rev().for_each(|part| self.note(Step::Folder(self.root.join(part))));
    }

    /// A file was made, empty.
    pub fn file(&self, path: &Path) -> FileId {
        let mut state = lock(&self.state);
        state.1 += 1;
        let id = FileId(state.1);
        state.0.push(Step::File(path.to_owned(), id));
        id
    }

    /// Bytes were written into a file from a place on.
    pub fn write(&self, file: FileId, at: usize, bytes: &[u8]) {
        self.note(Step::Write(file, at, bytes.to_vec()));
    }

    /// A file was synced.
    pub fn sync(&self, file: FileId) {
        self.note(Step::Sync(file));
    }

    /// A file was given another name.
    pub fn rename(&self, from: &Path, to: &Path) {
        self.note(Step::Rename(from.to_owned(), to.to_owned()));
    }

    /// A file was removed.
    pub fn remove(&self, path: &Path) {
        self.note(Step::Remove(path.to_owned()));
    }

    /// A folder was synced.
    pub fn sync_folder(&self, folder: &Path) {
        self.note(Step::SyncFolder(folder.to_owned()));
    }

    /// The program said that something is safe.
    pub fn mark(&self, number: u64) {
        self.note(Step::Mark(number));
    }

    /// How many moments there are at which the power may fail: before the first step, and after each.
    #[must_use]
    pub fn moments(&self) -> usize {
        lock(&self.state).0.len() + 1
    }

    /// The last number that the program had marked as safe at a moment.
    #[must_use]
    pub fn marked(&self, moment: usize) -> Option<u64> {
        let steps = &lock(&self.state).0;
        steps[..moment].iter().rev().find_map(|step| if let Step::Mark(number) = step { Some(*number) } else { None })
    }

    /// Writes into an empty folder what may be found when the power failed at a moment; `throw` gives random numbers.
    ///
    /// # Panics
    /// The folder cannot be written.
    pub fn cut(&self, moment: usize, loss: Loss, throw: &mut impl FnMut() -> u64, into: &Path) {
        let steps = &lock(&self.state).0[..moment];
        let mut drive = Drive::new(&self.root);
        steps.iter().for_each(|step| drive.see(step));
        drive.found(0, loss, throw, into);
    }
}

#[derive(Clone, Debug)]
enum Name {
    Given(OsString, usize),
    Gone(OsString),
    Moved(OsString, OsString, usize),
}

/// What a name stands for.
#[derive(Debug)]
enum Node {
    File { safe: Vec<u8>, pending: Vec<Change> },
    Folder { now: BTreeMap<OsString, usize>, safe: BTreeMap<OsString, usize>, pending: Vec<Name> },
}

impl Node {
    const fn folder() -> Self {
        Self::Folder { now: BTreeMap::new(), safe: BTreeMap::new(), pending: Vec::new() }
    }
}

/// A drive while the journal is played; its first node is the root.
struct Drive {
    root: PathBuf,
    nodes: Vec<Node>,
    files: BTreeMap<usize, usize>,
}

impl Drive {
    fn new(root: &Path) -> Self {
        Self { root: root.to_owned(), nodes: vec![Node::folder()], files: BTreeMap::new() }
    }

    /// The node of a path, if it is there.
    fn at(&self, path: &Path) -> Option<usize> {
        let inner = path.strip_prefix(&self.root).expect("below the root");
        inner.iter().try_fold(0, |node, name| match &self.nodes[node] {
            Node::Folder { now, .. } => now.get(name).copied(),
            Node::File { .. } => None,
        })
    }

    fn above(&self, path: &Path) -> (usize, OsString) {
        let folder = self.at(path.parent().expect("in a folder")).expect("a folder that is there");
        (folder, path.file_name().expect("a name").to_owned())
    }

    fn change(&mut self, folder: usize, change: Name) {
        let Node::Folder { now, pending, .. } = &mut self.nodes[folder] else { panic!("a file is no folder") };
        apply(now, &change);
        pending.push(change);
    }

    fn see(&mut self, step: &Step) {
        match step {
            Step::Mark(_) => {}
            Step::Folder(path) if self.at(path).is_some() => {}
            Step::Folder(path) => {
                let (folder, name) = self.above(path);
                self.nodes.push(Node::folder());
                self.change(folder, Name::Given(name, self.nodes.len() - 1));
            }
            Step::File(path, id) => {
                let (folder, name) = self.above(path);
                self.nodes.push(Node::File { safe: Vec::new(), pending: Vec::new() });
                self.files.insert(id.0, self.nodes.len() - 1);
                self.change(folder, Name::Given(name, self.nodes.len() - 1));
            }
            Step::Write(id, at, bytes) => self.pending(*id).1.push(Change::Write(*at, bytes.clone())),
            Step::Sync(id) => {
                let (safe, pending) = self.pending(*id);
                std::mem::take(pending).iter().for_each(|change| change.apply(safe, || true));
            }
            Step::Rename(from, to) => {
                let node = self.at(from).expect("a file that is there");
                let ((out, old), (into, new)) = (self.above(from), self.above(to));
                if out == into {
                    self.change(into, Name::Moved(old, new, node));
                } else {
                    self.change(into, Name::Given(new, node));
                    self.change(out, Name::Gone(old));
                }
            }
            Step::Remove(path) => {
                let (folder, name) = self.above(path);
                self.change(folder, Name::Gone(name));
            }
            Step::SyncFolder(path) => {
                let folder = self.at(path).expect("a folder that is there");
                if let Node::Folder { now, safe, pending } = &mut self.nodes[folder] {
                    pending.clear();
                    safe.clone_from(now);
                }
            }
        }
    }

    fn pending(&mut self, id: FileId) -> (&mut Vec<u8>, &mut Vec<Change>) {
        match &mut self.nodes[self.files[&id.0]] {
            Node::File { safe, pending } => (safe, pending),
            Node::Folder { .. } => panic!("a folder is no file"),
        }
    }

    /// Writes what is found of a folder's node into a folder.
    fn found(&self, node: usize, loss: Loss, throw: &mut impl FnMut() -> u64, into: &Path) {
        match &self.nodes[node] {
            Node::File { safe, pending } => {
                let mut bytes = safe.clone();
                loss.keep(pending, &mut bytes, throw);
                std::fs::write(into, bytes).expect("written");
            }
            Node::Folder { safe, pending, .. } => {
                let mut names = safe.clone();
                let kept = first(pending.len(), loss, throw);
                pending[..kept].iter().for_each(|change| apply(&mut names, change));
                std::fs::create_dir_all(into).expect("made");
                for (name, inner) in names {
                    self.found(inner, loss, throw, &into.join(name));
                }
            }
        }
    }
}

fn apply(names: &mut BTreeMap<OsString, usize>, change: &Name) {
    match change {
        Name::Given(name, node) => {
            names.insert(name.clone(), *node);
        }
        Name::Gone(name) => {
            names.remove(name);
        }
        Name::Moved(old, new, node) => {
            names.remove(old);
            names.insert(new.clone(), *node);
        }
    }
}
