//! SQLite's C interface to files: each call is passed on to the system's own layer and noted.
//!
//! Safety throughout: SQLite calls these with the pointers that its interface promises (sqlite.org/c3ref/vfs.html and
//! sqlite.org/c3ref/io_methods.html); the file of the layer below lies right behind ours, in memory that SQLite gave us
//! for both, since `szOsFile` is the sum of the two.

use std::ffi::{CStr, c_char, c_int, c_void};
use std::path::{Path, PathBuf};
use std::sync::Once;

use rusqlite::ffi::{
    self, SQLITE_FULL, SQLITE_IOERR_FSYNC, SQLITE_IOERR_WRITE, SQLITE_OK, sqlite3_file, sqlite3_io_methods, sqlite3_vfs,
};

use crate::{Event, Refusal, lock, watched};

/// Our file; the one of the layer below follows it.
#[repr(C)]
struct File {
    base: sqlite3_file,
    /// Its name, owned by this file; null where it has none.
    name: *mut PathBuf,
}

/// The file of the layer below, and what can be done with it.
unsafe fn below(file: *mut sqlite3_file) -> (*mut sqlite3_file, &'static sqlite3_io_methods) {
    // SAFETY: see the head of this module.
    unsafe {
        let real = file.cast::<File>().add(1).cast::<sqlite3_file>();
        (real, &*(*real).pMethods)
    }
}

unsafe fn name<'a>(file: *mut sqlite3_file) -> Option<&'a Path> {
    // SAFETY: `open` wrote either null or a path that lives until `close`.
    unsafe { (*file.cast::<File>()).name.as_ref().map(PathBuf::as_path) }
}

/// Passes a call on to the layer below.
macro_rules! pass {
    ($($ours:ident = $theirs:ident ($($arg:ident: $ty:ty),*) $(-> $out:ty)?;)+) => {$(
        unsafe extern "C" fn $ours(file: *mut sqlite3_file $(, $arg: $ty)*) $(-> $out)? {
            // SAFETY: see the head of this module.
            unsafe {
                let (real, methods) = below(file);
                methods.$theirs.expect("the system's layer has it")(real $(, $arg)*)
            }
        }
    )+};
}

pass! {
    read = xRead(to: *mut c_void, amount: c_int, at: i64) -> c_int;
    file_size = xFileSize(size: *mut i64) -> c_int;
    lock_file = xLock(level: c_int) -> c_int;
    unlock_file = xUnlock(level: c_int) -> c_int;
    is_reserved = xCheckReservedLock(out: *mut c_int) -> c_int;
    control = xFileControl(op: c_int, arg: *mut c_void) -> c_int;
    sector_size = xSectorSize() -> c_int;
    traits = xDeviceCharacteristics() -> c_int;
    shared_map = xShmMap(page: c_int, size: c_int, extend: c_int, out: *mut *mut c_void) -> c_int;
    shared_lock = xShmLock(offset: c_int, n: c_int, flags: c_int) -> c_int;
    shared_barrier = xShmBarrier();
    shared_unmap = xShmUnmap(delete: c_int) -> c_int;
}

/// Refuses, or does and notes what was done.
fn noted(
    name: Option<&Path>,
    is_write: bool,
    event: impl FnOnce(PathBuf) -> Event,
    real: impl FnOnce() -> c_int,
) -> c_int {
    let Some((name, state)) = name.and_then(|name| Some((name, watched(name)?))) else { return real() };
    let mut state = lock(&state);
    match state.refuses(is_write) {
        Some(Refusal::Full) => return SQLITE_FULL,
        Some(Refusal::Broken) => return if is_write { SQLITE_IOERR_WRITE } else { SQLITE_IOERR_FSYNC },
        None => {}
    }
    let code = real();
    if code == SQLITE_OK {
        state.events.push(event(name.to_owned()));
    }
    code
}

unsafe extern "C" fn write(file: *mut sqlite3_file, from: *const c_void, amount: c_int, at: i64) -> c_int {
    // SAFETY: see the head of this module; `from` holds `amount` bytes.
    unsafe {
        let bytes = std::slice::from_raw_parts(from.cast::<u8>(), usize::try_from(amount).unwrap_or(0));
        let event = |file| Event::Write { file, at: usize::try_from(at).unwrap_or(0), bytes: bytes.to_vec() };
        let (real, methods) = below(file);
        noted(name(file), true, event, || methods.xWrite.expect("there")(real, from, amount, at))
    }
}

unsafe extern "C" fn truncate(file: *mut sqlite3_file, size: i64) -> c_int {
    // SAFETY: see the head of this module.
    unsafe {
        let event = |file| Event::Truncate { file, size: usize::try_from(size).unwrap_or(0) };
        let (real, methods) = below(file);
        noted(name(file), true, event, || methods.xTruncate.expect("there")(real, size))
    }
}

unsafe extern "C" fn sync(file: *mut sqlite3_file, flags: c_int) -> c_int {
    // SAFETY: see the head of this module.
    unsafe {
        let (real, methods) = below(file);
        noted(name(file), false, Event::Sync, || methods.xSync.expect("there")(real, flags))
    }
}

unsafe extern "C" fn close(file: *mut sqlite3_file) -> c_int {
    // SAFETY: see the head of this module; the name is taken back once, here.
    unsafe {
        let (real, methods) = below(file);
        let ours = file.cast::<File>();
        if !(*ours).name.is_null() {
            drop(Box::from_raw((*ours).name));
            (*ours).name = std::ptr::null_mut();
        }
        methods.xClose.expect("there")(real)
    }
}

static METHODS: sqlite3_io_methods = sqlite3_io_methods {
    iVersion: 2,
    xClose: Some(close),
    xRead: Some(read),
    xWrite: Some(write),
    xTruncate: Some(truncate),
    xSync: Some(sync),
    xFileSize: Some(file_size),
    xLock: Some(lock_file),
    xUnlock: Some(unlock_file),
    xCheckReservedLock: Some(is_reserved),
    xFileControl: Some(control),
    xSectorSize: Some(sector_size),
    xDeviceCharacteristics: Some(traits),
    xShmMap: Some(shared_map),
    xShmLock: Some(shared_lock),
    xShmBarrier: Some(shared_barrier),
    xShmUnmap: Some(shared_unmap),
    xFetch: None,
    xUnfetch: None,
};

/// The layer below a layer of ours.
unsafe fn system(vfs: *mut sqlite3_vfs) -> *mut sqlite3_vfs {
    // SAFETY: `install` wrote it.
    unsafe { (*vfs).pAppData.cast() }
}

unsafe fn path(name: *const c_char) -> Option<PathBuf> {
    if name.is_null() {
        return None;
    }
    // SAFETY: SQLite's names end with a zero byte.
    let text = unsafe { CStr::from_ptr(name) };
    text.to_str().ok().map(PathBuf::from)
}

unsafe extern "C" fn open(
    vfs: *mut sqlite3_vfs,
    file_name: *const c_char,
    file: *mut sqlite3_file,
    flags: c_int,
    out: *mut c_int,
) -> c_int {
    // SAFETY: see the head of this module.
    unsafe {
        let ours = file.cast::<File>();
        ours.write(File { base: sqlite3_file { pMethods: std::ptr::null() }, name: std::ptr::null_mut() });
        let real = ours.add(1).cast::<sqlite3_file>();
        let code = (*system(vfs)).xOpen.expect("there")(system(vfs), file_name, real, flags, out);
        if code == SQLITE_OK {
            if let Some(name) = path(file_name) {
                if let Some(state) = watched(&name) {
                    lock(&state).events.push(Event::Open(name.clone()));
                }
                (*ours).name = Box::into_raw(Box::new(name));
            }
            (*ours).base.pMethods = &raw const METHODS;
        }
        code
    }
}

unsafe extern "C" fn delete(vfs: *mut sqlite3_vfs, file_name: *const c_char, sync_folder: c_int) -> c_int {
    // SAFETY: see the head of this module.
    unsafe {
        let name = path(file_name);
        let event = |file| Event::Delete { file, kept: sync_folder != 0 };
        // A file can be deleted on a full drive.
        let real = || (*system(vfs)).xDelete.expect("there")(system(vfs), file_name, sync_folder);
        noted(name.as_deref(), false, event, real)
    }
}

/// Puts this layer under every database that is opened from now on.
pub(crate) fn install() {
    static DONE: Once = Once::new();
    DONE.call_once(|| {
        // SAFETY: the layer is made of the system's own and lives for ever.
        unsafe {
            ffi::sqlite3_initialize();
            let system = ffi::sqlite3_vfs_find(std::ptr::null());
            let mut ours = *system;
            ours.szOsFile += c_int::try_from(size_of::<File>()).expect("small");
            ours.pNext = std::ptr::null_mut();
            ours.zName = c"faults".as_ptr();
            ours.pAppData = system.cast();
            ours.xOpen = Some(open);
            ours.xDelete = Some(delete);
            let code = ffi::sqlite3_vfs_register(Box::into_raw(Box::new(ours)), 1);
            assert_eq!(code, SQLITE_OK, "the layer is registered");
        }
    });
}
