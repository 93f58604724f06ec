//! PNG: only chunks that say how the pixels look (third edition, section 11), and the kept fields.

/// Chunks that a copy needs.
const NEEDED: &[&[u8; 4]] = &[
    b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB", b"cICP", b"mDCV",
    b"cLLI", b"bKGD", b"pHYs",
];

pub(super) fn png(bytes: &[u8], block: Option<&[u8]>) -> Option<Vec<u8>> {
    let (signature, mut rest) = bytes.split_at_checked(8)?;
    let mut copy = signature.to_vec();
    let mut written = false;
    loop {
        let length = usize::try_from(u32::from_be_bytes(*rest.first_chunk::<4>()?)).ok()?;
        let (chunk, after) = rest.split_at_checked(length.checked_add(12)?)?;
        let kind: &[u8; 4] = chunk[4..].first_chunk()?;
        if kind == b"IDAT"
            && !written
            && let Some(block) = block
        {
            copy.extend_from_slice(&eXIf(block)?);
            written = true;
        }
        if NEEDED.contains(&kind) {
            copy.extend_from_slice(chunk);
        }
        if kind == b"IEND" {
            return Some(copy);
        }
        rest = after;
    }
}

#[allow(non_snake_case, reason = "the chunk's own name")]
fn eXIf(block: &[u8]) -> Option<Vec<u8>> {
    let mut chunk = u32::try_from(block.len()).ok()?.to_be_bytes().to_vec();
    chunk.extend_from_slice(b"eXIf");
    chunk.extend_from_slice(block);
    let check = crc(&chunk[4..]);
    chunk.extend_from_slice(&check.to_be_bytes());
    Some(chunk)
}

/// The check of a chunk (PNG third edition, annex D: CRC-32 of ISO 3309).
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| if sum & 1 == 1 { 0xedb8_8320 ^ (sum >> 1) } else { sum >> 1 })
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_check_is_the_published_one() {
        // The check value of CRC-32 for the digits 1 to 9, as commonly published (from memory).
        assert_eq!(super::crc(b"123456789"), 0xcbf4_3926);
    }
}
