//! Rows of the store, as they stand in a site's file and in the feeds of the exchange. Whatever is read is written again as it
//! was, but for parts that a newer release has added behind those that this one knows.

use record::store::row_again;

use crate::read::Read;

/// One row.
pub fn store_row(data: &[u8]) -> Read {
    let Some(again) = row_again(data) else { return Read::Refused };
    assert!(data.starts_with(&again), "a row comes back otherwise");
    assert_eq!(row_again(&again).as_ref(), Some(&again), "a row is not what was written");
    Read::Whole
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::path::Path;
    use std::process::Command;

    /// Another program writes the seeds, from the description of the rows; so it says whether the reader keeps to that.
    #[test]
    fn the_seeds_are_read_where_they_are_whole() {
        let here = Path::new(env!("CARGO_MANIFEST_DIR"));
        let folder = std::env::temp_dir().join(format!("newel-fuzz-rows-{}", std::process::id()));
        let made = Command::new("python3").arg(here.join("seeds.py")).arg(&folder).status().expect("python3");
        assert!(made.success());
        let files = std::fs::read_dir(folder.join("store_row")).expect("seeds").map(|file| file.expect("one").path());
        let read: Vec<Read> = files.map(|path| store_row(&std::fs::read(path).expect("bytes"))).collect();
        let refused = read.iter().filter(|read| **read == Read::Refused).count();
        // Of a newer release, cut short, and of an id that is too short.
        assert_eq!((read.len(), refused), (11, 3), "{read:?}");
        let _ = std::fs::remove_dir_all(&folder);
    }
}
