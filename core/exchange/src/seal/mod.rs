//! How content is hidden and proved: deterministic authenticated encryption, so that the same content is the same file
//! whoever writes it, and names that say nothing without the key.
//!
//! From a team key, HKDF-SHA-256 (RFC 5869) makes one key for each purpose; a name is HMAC-SHA-256 (RFC 2104) of the
//! plain content; sealing is AES-256 in SIV mode with CMAC (RFC 5297).

mod keys;
mod siv;
mod wrap;

pub(crate) use keys::key_of;
pub use keys::{KeyId, Keys, Name, Purpose, SealError};
pub use wrap::{Identity, Wrapped};

/// Bytes derived from a secret for one use of this crate.
pub(crate) fn derived<const N: usize>(secret: &[u8], info: &[u8]) -> [u8; N] {
    derive(b"newel exchange 1", secret, info)
}

/// As many keys as anybody draws from one random seed, each by a number of its own: none tells anything of another.
pub fn drawn(seed: [u8; 32]) -> impl FnMut() -> [u8; 32] {
    let mut number = 0_u64;
    move || {
        number += 1;
        derived(&seed, &[b"drawn ", &number.to_be_bytes()[..]].concat())
    }
}

/// HKDF-SHA-256 of a secret for one use.
fn derive<const N: usize>(salt: &[u8], secret: &[u8], info: &[u8]) -> [u8; N] {
    let mut made = [0; N];
    // It fails only for more than 255 times 32 bytes, and nobody asks for more than 64.
    let _ = hkdf::Hkdf::<sha2::Sha256>::new(Some(salt), secret).expand(info, &mut made);
    made
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bytes::hex;
    use aes_siv::{KeyInit, siv::Aes256Siv};
    use hmac::{Hmac, Mac};

    fn unhex(digits: &str) -> Vec<u8> {
        let pairs = digits.as_bytes().chunks(2).map(|pair| std::str::from_utf8(pair).expect("digits"));
        pairs.map(|pair| u8::from_str_radix(pair, 16).expect("digits")).collect()
    }

    #[test]
    fn no_two_keys_that_are_drawn_are_alike() {
        let keys = |seed: u8| -> Vec<[u8; 32]> { std::iter::repeat_with(drawn([seed; 32])).take(1_000).collect() };
        let mut all = [keys(1), keys(2)].concat();
        assert_eq!(all[..1_000], keys(1));
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), 2_000);
    }

    #[test]
    fn hkdf_is_that_of_rfc_5869_appendix_a() {
        // A.1, of which we take the first 32 bytes of 42, and A.2, 64 of 82.
        let found: [u8; 32] = derive(&unhex("000102030405060708090a0b0c"), &[0x0b; 22], &unhex("f0f1f2f3f4f5f6f7f8f9"));
        assert_eq!(hex(&found), "3cb25f25faacd57a90434f64d0362f2a2d2d0a90cf1a5a4c5db02d56ecc4c5bf");
        let range = |from: u8, to: u8| (from..=to).collect::<Vec<u8>>();
        let found: [u8; 64] = derive(&range(0x60, 0xaf), &range(0, 0x4f), &range(0xb0, 0xff));
        assert_eq!(
            hex(&found),
            "b11e398dc80327a1c8e7f78c596a49344f012eda2d4efad8a050cc4c19afa97c59045a99cac7827271cb41c65e590e09da3275600c2f09b8367793a9aca3db71"
        );
    }

    #[test]
    fn hmac_is_that_of_rfc_4231_section_4() {
        let mac = |key: &[u8], data: &[u8]| {
            let mut mac = Hmac::<sha2::Sha256>::new_from_slice(key).expect("any length");
            mac.update(data);
            hex(&mac.finalize().into_bytes())
        };
        // Test cases 1 and 2.
        let expected = "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7";
        assert_eq!(mac(&[0x0b; 20], b"Hi There"), expected);
        let expected = "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843";
        assert_eq!(mac(b"Jefe", b"what do ya want for nothing?"), expected);
    }

    #[test]
    fn siv_is_that_of_rfc_5297_appendix_a_1() {
        // The standard's vectors have AES-128; the mode is the same code for both.
        let key = unhex("fffefdfcfbfaf9f8f7f6f5f4f3f2f1f0f0f1f2f3f4f5f6f7f8f9fafbfcfdfeff");
        let mut siv = aes_siv::siv::Aes128Siv::new_from_slice(&key).expect("a key");
        let header = unhex("101112131415161718191a1b1c1d1e1f2021222324252627");
        let sealed = siv.encrypt([&header], &unhex("112233445566778899aabbccddee")).expect("sealed");
        assert_eq!(hex(&sealed), "85632d07c6e8f37f950acd320a2ecc9340c02b9690c4dc04daef7f6afe5c");
        assert!(Aes256Siv::new_from_slice(&key).is_err(), "32 bytes are no key of AES-256-SIV");
    }
}
