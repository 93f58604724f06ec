//! Random bytes and new ids from the machine's own source.

use survey::Id;

use super::SiteError;

/// Random bytes.
pub fn bytes<const N: usize>() -> Result<[u8; N], SiteError> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|why| SiteError::NoRandom(why.to_string()))?;
    Ok(bytes)
}

/// A new id (UUID version 7, RFC 9562): ids made later sort later.
pub fn id(now_ms: i64) -> Result<Id, SiteError> {
    let since = u64::try_from(now_ms).unwrap_or(0);
    let text = uuid::Builder::from_unix_timestamp_millis(since, &bytes()?).into_uuid().to_string();
    Id::new(&text).ok_or(SiteError::NoId(text))
}
