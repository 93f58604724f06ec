//! WebP: only chunks that hold the picture and its colours (RFC 9649, section 2), and the kept fields.

const NEEDED: &[&[u8; 4]] = &[b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF", b"ICCP"];
const EXIF_FLAG: u8 = 0x08;
const XMP_FLAG: u8 = 0x04;

pub(super) fn webp(bytes: &[u8], block: Option<&[u8]>) -> Option<Vec<u8>> {
    let mut rest = bytes.get(12..)?;
    let mut chunks = Vec::new();
    let mut extended = false;
    while let Some(head) = rest.first_chunk::<8>() {
        let kind: &[u8; 4] = head.first_chunk()?;
        let length = usize::try_from(u32::from_le_bytes(*head[4..].first_chunk()?)).ok()?;
        // Chunks of odd length are padded; the last pad is sometimes missing.
        let whole = length.checked_add(8)?;
        let chunk = rest.get(..whole)?;
        if NEEDED.contains(&kind) {
            let start = chunks.len();
            chunks.extend_from_slice(chunk);
            if kind == b"VP8X" {
                extended = true;
                let flags = chunks.get_mut(start + 8)?;
                *flags &= !(EXIF_FLAG | XMP_FLAG);
                if block.is_some() {
                    *flags |= EXIF_FLAG;
                }
            }
            chunks.resize(chunks.len().next_multiple_of(2), 0);
        }
        rest = rest.get(whole.next_multiple_of(2)..).unwrap_or_default();
    }
    if let Some(block) = block.filter(|_| extended) {
        chunks.extend_from_slice(b"EXIF");
        chunks.extend_from_slice(&u32::try_from(block.len()).ok()?.to_le_bytes());
        chunks.extend_from_slice(block);
        chunks.resize(chunks.len().next_multiple_of(2), 0);
    }
    let mut copy = b"RIFF".to_vec();
    copy.extend_from_slice(&u32::try_from(chunks.len() + 4).ok()?.to_le_bytes());
    copy.extend_from_slice(b"WEBP");
    copy.extend_from_slice(&chunks);
    (!chunks.is_empty()).then_some(copy)
}
