//! A card full of photos, made of the demo's pictures.

use std::path::{Path, PathBuf};

/// A picture of the demo site with a comment after its first marker (ITU-T T.81, B.2.4.5): another file, the same picture.
pub fn photo(picture: &str, comment: &str) -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/demo/photos").join(picture);
    let picture = std::fs::read(path).expect("the demo's picture");
    let length = u16::try_from(comment.len() + 2).expect("short").to_be_bytes();
    [&picture[..2], &[0xff, 0xfe], &length, comment.as_bytes(), &picture[2..]].concat()
}

/// Writes so many different photos into a folder, which is made where it is absent.
pub fn fill(folder: &Path, count: usize, word: &str) -> Vec<PathBuf> {
    std::fs::create_dir_all(folder).expect("a folder");
    (0..count)
        .map(|n| {
            let path = folder.join(format!("{word}-{n:04}.jpg"));
            std::fs::write(&path, photo("ramp.jpg", &format!("{word} {n}"))).expect("a photo");
            path
        })
        .collect()
}
