//! Power cuts: a photo that was taken in is there afterwards, and no name stands over half a photo, whatever was lost.
//!
//! The drive is simulated by `faults::Tree`; its model is that of fsync(2).

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use faults::{FileId, Loss, Tree};
use photos::{Content, Drive, Edge, Library, System, Writing};

use crate::made::{folder, import, jpeg, other, photos};

/// Writes by the system and notes everything.
#[derive(Debug)]
struct Noted(Arc<Tree>);

struct NotedFile {
    file: Box<dyn Writing>,
    id: FileId,
    tree: Arc<Tree>,
}

impl Read for NotedFile {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        self.file.read(into)
    }
}

impl Seek for NotedFile {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.file.seek(to)
    }
}

impl Write for NotedFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let at = self.file.stream_position()?;
        let written = self.file.write(bytes)?;
        self.tree.write(self.id, usize::try_from(at).unwrap(), &bytes[..written]);
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}

impl Writing for NotedFile {
    fn sync(&mut self) -> io::Result<()> {
        self.file.sync()?;
        self.tree.sync(self.id);
        Ok(())
    }
}

impl Drive for Noted {
    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        System.make_folder(folder)?;
        self.0.folder(folder);
        Ok(())
    }

    fn create(&self, file: &Path) -> io::Result<Box<dyn Writing>> {
        let made = System.create(file)?;
        Ok(Box::new(NotedFile { file: made, id: self.0.file(file), tree: Arc::clone(&self.0) }))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        System.rename(from, to)?;
        self.0.rename(from, to);
        Ok(())
    }

    fn remove(&self, file: &Path) -> io::Result<()> {
        System.remove(file)?;
        self.0.remove(file);
        Ok(())
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        System.sync_folder(folder)?;
        self.0.sync_folder(folder);
        Ok(())
    }
}

/// Numbers that look random and are the same at every run (Knuth's linear congruence, MMIX).
fn thrown(seed: u64) -> impl FnMut() -> u64 {
    let mut state = seed;
    move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        state >> 33
    }
}

/// What was acknowledged at each mark: photos that were taken in and not removed since.
struct Safe<'t> {
    tree: &'t Tree,
    here: BTreeSet<Content>,
    marks: Vec<BTreeSet<Content>>,
}

impl Safe<'_> {
    fn add(&mut self, contents: impl IntoIterator<Item = Content>) {
        self.here.extend(contents);
        self.marks.push(self.here.clone());
        self.tree.mark(self.marks.len() as u64 - 1);
    }
}

fn files(from: &Path, numbers: std::ops::Range<u32>) -> PathBuf {
    fs::create_dir_all(from).unwrap();
    for n in numbers {
        fs::write(from.join(format!("{n:02}.jpg")), jpeg(64, 48, n)).unwrap();
    }
    from.to_owned()
}

/// Imports, photos received whole and by the piece, one removed, one altered on the disk and received anew.
fn work(home: &Path, from: &Path, tree: &Arc<Tree>) -> Vec<BTreeSet<Content>> {
    let mut safe = Safe { tree, here: BTreeSet::new(), marks: Vec::new() };
    for opening in 0..3 {
        let library = Library::open_on(home, Arc::new(Noted(Arc::clone(tree)))).unwrap();
        library.sweep().unwrap();
        let lines = import(&library, &[files(&from.join(opening.to_string()), opening * 5..opening * 5 + 5)]);
        assert_eq!(photos(&lines), 5, "{lines:?}");
        safe.add(library.contents().unwrap());
        let whole = other(image::ImageFormat::Png, 40, 30, 100 + opening);
        library.receive(Content::of(&whole), &whole).unwrap();
        safe.add([Content::of(&whole)]);
        let pieces = jpeg(900, 700, 200 + opening);
        library.receive_from(Content::of(&pieces), &mut pieces.as_slice()).unwrap();
        safe.add([Content::of(&pieces)]);
        let wrong = library.receive_from(Content::of(b"another"), &mut pieces.as_slice());
        assert!(wrong.is_err(), "{wrong:?}");
        // From the moment a removal begins the photo may be there or not.
        safe.here.remove(&Content::of(&whole));
        safe.add([]);
        library.remove(Content::of(&whole)).unwrap();
        library.receive(Content::of(&whole), &whole).unwrap();
        safe.add([Content::of(&whole)]);
    }
    safe.marks
}

#[test]
fn a_power_cut_loses_no_photo_and_leaves_none_half_stored() {
    let (home, from) = (folder("power-home").canonicalize().unwrap(), folder("power-from"));
    let tree = Arc::new(Tree::below(&home));
    let marks = work(&home, &from, &tree);
    let (mut throw, mut lost, cut) = (thrown(7), 0, folder("power-cut"));
    let all = Library::at(&home).contents().unwrap().len();
    for moment in 0..tree.moments() {
        let safe = tree.marked(moment).map(|mark| &marks[usize::try_from(mark).unwrap()]);
        for loss in Loss::ALL {
            fs::remove_dir_all(&cut).unwrap();
            tree.cut(moment, loss, &mut throw, &cut);
            let library = Library::open(&cut).unwrap();
            library.sweep().unwrap();
            let here: BTreeSet<Content> = library.contents().unwrap().into_iter().collect();
            for content in safe.into_iter().flatten() {
                assert!(here.contains(content), "{loss:?} at {moment}: {content} was taken in and is gone");
            }
            for content in &here {
                // Reading proves the bytes.
                library.read(*content).unwrap_or_else(|why| panic!("{loss:?} at {moment}: {why}"));
            }
            lost += usize::from(here.len() < all);
        }
    }
    assert!(lost > 100, "hardly any cut lost anything; the check shows nothing");
}

#[test]
fn a_thumbnail_that_a_power_cut_tore_is_made_again() {
    let (home, from) = (folder("torn-home").canonicalize().unwrap(), folder("torn-from"));
    let tree = Arc::new(Tree::below(&home));
    let library = Library::open_on(&home, Arc::new(Noted(Arc::clone(&tree)))).unwrap();
    for n in 0..6 {
        fs::write(from.join(format!("{n}.jpg")), jpeg(900, 700, n)).unwrap();
    }
    assert_eq!(photos(&import(&library, &[from])), 6);
    let (mut throw, cut, mut torn) = (thrown(3), folder("torn-cut"), 0);
    for _ in 0..40 {
        fs::remove_dir_all(&cut).unwrap();
        tree.cut(tree.moments() - 1, Loss::Torn, &mut throw, &cut);
        let found = Library::open(&cut).unwrap();
        for content in library.contents().unwrap() {
            for edge in [Edge::Small, Edge::Large] {
                let whole = fs::read(library.thumbnail(content, edge).unwrap()).unwrap();
                torn +=
                    usize::from(found.thumbnail_there(content, edge).is_some_and(|at| fs::read(at).unwrap() != whole));
                let again = found.thumbnail(content, edge).unwrap();
                assert_eq!(fs::read(again).unwrap(), whole, "{content} {edge:?}");
            }
        }
    }
    assert!(torn > 5, "hardly any thumbnail was torn; the check shows nothing");
}
