//! Bytes as people and files see them.

/// Two hexadecimal digits for each byte, in lower case.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
