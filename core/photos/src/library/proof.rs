//! What proves a thumbnail whole: a comment in the JPEG with eight bytes of the SHA-256 of all other bytes.

use sha2::{Digest, Sha256};

/// Marker and length of the comment (ITU-T T.81, B.2.4.5).
const COMMENT: [u8; 4] = [0xff, 0xfe, 0, 10];
const PROOF: usize = 8;

/// Where the comment stands: behind the JFIF header, which comes first (JFIF 1.02), or at the very start.
fn place(jpeg: &[u8]) -> usize {
    match jpeg {
        [0xff, 0xd8, 0xff, 0xe0, high, low, ..] => 4 + usize::from(u16::from_be_bytes([*high, *low])),
        _ => 2,
    }
}

fn of(parts: [&[u8]; 2]) -> [u8; PROOF] {
    let digest = parts.iter().fold(Sha256::new(), |digest, part| digest.chain_update(part)).finalize();
    std::array::from_fn(|index| digest[index])
}

/// A JPEG with its proof; as it came where it is no JPEG.
pub(super) fn proved(mut jpeg: Vec<u8>) -> Vec<u8> {
    let at = place(&jpeg);
    if let Some((head, rest)) = jpeg.split_at_checked(at) {
        let proof = of([head, rest]);
        jpeg.splice(at..at, COMMENT.into_iter().chain(proof));
    }
    jpeg
}

/// Whether a file is what [`proved`] gave.
pub(super) fn is_whole(file: &[u8]) -> bool {
    let parts = file.split_at_checked(place(file)).and_then(|(head, rest)| {
        let (proof, rest) = rest.strip_prefix(&COMMENT)?.split_first_chunk()?;
        Some(of([head, rest]) == *proof)
    });
    parts.unwrap_or(false)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_other_byte_is_noticed() {
        let header = [0xff, 0xd8, 0xff, 0xe0, 0, 16, b'J', b'F', b'I', b'F', 0, 1, 1, 0, 0, 1, 0, 1, 0, 0];
        let jpeg: Vec<u8> = header.into_iter().chain(0..90).chain([0xff, 0xd9]).collect();
        let file = proved(jpeg.clone());
        assert!(is_whole(&file));
        assert_eq!(file.len(), jpeg.len() + COMMENT.len() + PROOF);
        for at in 0..file.len() {
            let mut other = file.clone();
            other[at] ^= 1;
            assert!(!is_whole(&other), "byte {at}");
            assert!(!is_whole(&file[..at]), "cut at {at}");
        }
        assert!(!is_whole(&jpeg));
    }
}
