//! Turns the guidance off, to show what it is worth.

use std::sync::LazyLock;

static UNGUIDED: LazyLock<bool> = LazyLock::new(|| std::env::var_os("NEWEL_UNGUIDED").is_some());

unsafe extern "C" {
    // The linker's names for both ends of the section that holds the coverage counters.
    #[link_name = "__start___sancov_cntrs"]
    static mut FIRST: u8;
    #[link_name = "__stop___sancov_cntrs"]
    static mut END: u8;
}

/// With `NEWEL_UNGUIDED` set, forgets what the run has covered, so that libFuzzer learns nothing from it: the same code
/// runs on inputs made in the same way, and no input ever earns a place.
pub fn forget_coverage() {
    if *UNGUIDED {
        let (first, end) = (&raw mut FIRST, &raw mut END);
        // SAFETY: the linker puts both ends around one array of bytes, which only this thread writes.
        unsafe { first.write_bytes(0, end.offset_from_unsigned(first)) };
    }
}
