//! Opening long contents fast: AES-256-SIV (RFC 5297), and the HMAC of the name in one pass.
//!
//! A CMAC is one long chain in which each block waits for the one before, and so is an SHA-256; a processor that is given
//! steps of both by turns does the one while the other waits. The bytes are the same as any other implementation's, which
//! the tests prove: everything is sealed by the crate `aes-siv` and opened here.

use aes::Aes256;
use aes::cipher::array::Array;
use aes::cipher::consts::U16;
use aes::cipher::{
    Block, BlockCipherEncBackend, BlockCipherEncClosure, BlockCipherEncrypt, BlockSizeUser, InnerIvInit, KeyInit,
    StreamCipher,
};
use hmac::{Hmac, Mac};
use sha2::Sha256;

/// Bytes of the proof before the content.
pub(super) const PROOF: usize = 16;
/// So much is deciphered and then proved at a time, bytes: it stays in the processor's nearest memory.
const PIECE: usize = 16 << 10;
/// Blocks of AES in one block of SHA-256.
const IN_STEP: usize = 4;

type AesBlock = Block<Aes256>;

/// Opens what is sealed: the proof, then the content, which stands deciphered in its place. `None` where it is not what
/// was sealed with these headers; then the content is wiped. `name` has taken in the content.
pub(super) fn open<'a>(
    key: &[u8; 64],
    headers: [&[u8]; 2],
    sealed: &'a mut [u8],
    name: &mut Hmac<Sha256>,
) -> Option<&'a mut [u8]> {
    let (proof, content) = sealed.split_first_chunk_mut::<PROOF>()?;
    let (of_proof, of_content) = key.split_at(32);
    let (mac, cipher) = (Cmac::new(of_proof)?, Aes256::new_from_slice(of_content).ok()?);
    // Two bits are left out, so that counting carries over 32 bits at most (RFC 5297, 2.5).
    let mut counter = *proof;
    counter[8] &= 0x7f;
    counter[12] &= 0x7f;
    let mut stream = ctr::Ctr128BE::from_core(ctr::CtrCore::inner_iv_init(cipher, &counter.into()));
    let mut chain = mac.vector(&headers, content.len());
    let (long, tail) = content.split_at_mut(content.len().saturating_sub(PROOF) / 16 * 16);
    for piece in long.chunks_mut(PIECE) {
        stream.apply_keystream(piece);
        mac.aes.encrypt_with_backend(Pass { chain: &mut chain.state, name, piece });
    }
    stream.apply_keystream(tail);
    name.update(tail);
    let found = chain.end(&mac, tail);
    // All bytes are compared, however early the first differs.
    let differ = found.iter().zip(proof).fold(0, |differ, (a, b)| differ | (a ^ *b));
    if differ == 0 {
        Some(content)
    } else {
        content.fill(0);
        None
    }
}

/// CMAC (RFC 4493) with AES-256.
struct Cmac {
    aes: Aes256,
    /// What a last block is mixed with that is full.
    full: u128,
    /// The same for one that was padded.
    padded: u128,
}

/// S2V (RFC 5297, 2.4) at work on its last string.
struct Chain {
    /// The CMAC so far.
    state: u128,
    /// What the end of the string is mixed with.
    vector: u128,
}

fn block(bytes: &[u8]) -> u128 {
    let mut block = [0; 16];
    block[..bytes.len()].copy_from_slice(bytes);
    u128::from_be_bytes(block)
}

/// A string that is no full block, with a one and noughts behind it.
fn padded(bytes: &[u8]) -> u128 {
    block(bytes) | 1 << (127 - 8 * bytes.len())
}

/// Doubling in the field of RFC 4493, 2.3.
fn doubled(block: u128) -> u128 {
    (block << 1) ^ ((block >> 127) * 0x87)
}

impl Cmac {
    fn new(key: &[u8]) -> Option<Self> {
        let aes = Aes256::new_from_slice(key).ok()?;
        let full = doubled(enciphered(&aes, 0));
        Some(Self { aes, full, padded: doubled(full) })
    }

    /// Of a whole string.
    fn of(&self, string: &[u8]) -> u128 {
        let (long, last) = string.split_at(string.len().saturating_sub(1) / 16 * 16);
        let chain = long.chunks(16).fold(0, |state, piece| enciphered(&self.aes, state ^ block(piece)));
        self.end(chain, last)
    }

    /// The last step, with a block that is full or less.
    fn end(&self, chain: u128, last: &[u8]) -> u128 {
        let mixed = if last.len() == 16 { block(last) ^ self.full } else { padded(last) ^ self.padded };
        enciphered(&self.aes, chain ^ mixed)
    }

    /// S2V up to its last string, which has so many bytes.
    fn vector(&self, headers: &[&[u8]], last: usize) -> Chain {
        let start = self.of(&[0; 16]);
        let vector = headers.iter().fold(start, |vector, header| doubled(vector) ^ self.of(header));
        Chain { state: 0, vector: if last < 16 { doubled(vector) } else { vector } }
    }
}

impl Chain {
    /// The proof, of a string that ends with these at most 31 bytes.
    fn end(self, mac: &Cmac, tail: &[u8]) -> [u8; PROOF] {
        let proof = match tail.len().checked_sub(PROOF) {
            None => mac.end(self.state, &(padded(tail) ^ self.vector).to_be_bytes()),
            Some(before) => {
                let mut mixed = [0; 31];
                mixed[..tail.len()].copy_from_slice(tail);
                for (byte, with) in mixed[before..].iter_mut().zip(self.vector.to_be_bytes()) {
                    *byte ^= with;
                }
                let (first, rest) = mixed[..tail.len()].split_at(if before == 0 { 0 } else { 16 });
                let state = if before == 0 { self.state } else { enciphered(&mac.aes, self.state ^ block(first)) };
                mac.end(state, rest)
            }
        };
        proof.to_be_bytes()
    }
}

fn enciphered(aes: &Aes256, block: u128) -> u128 {
    let mut block = AesBlock::from(block.to_be_bytes());
    aes.encrypt_block(&mut block);
    u128::from_be_bytes(block.into())
}

/// Whole blocks, taken into the CMAC and into the name by turns.
struct Pass<'a> {
    chain: &'a mut u128,
    name: &'a mut Hmac<Sha256>,
    piece: &'a [u8],
}

impl BlockSizeUser for Pass<'_> {
    type BlockSize = U16;
}

impl BlockCipherEncClosure for Pass<'_> {
    #[inline(always)]
    fn call<B: BlockCipherEncBackend<BlockSize = U16>>(self, aes: &B) {
        let mut state = AesBlock::from(self.chain.to_be_bytes());
        for step in self.piece.chunks(16 * IN_STEP) {
            self.name.update(step);
            let (blocks, _) = Array::<u8, U16>::slice_as_chunks(step);
            for block in blocks {
                // As one number: byte by byte the next step would wait for memory.
                let mixed = u128::from_ne_bytes(state.into()) ^ u128::from_ne_bytes((*block).into());
                state = mixed.to_ne_bytes().into();
                aes.encrypt_block((&mut state).into());
            }
        }
        *self.chain = u128::from_be_bytes(state.into());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use aes_siv::siv::Aes256Siv;

    fn name_of(content: &[u8]) -> Vec<u8> {
        let mut name = <Hmac<Sha256> as hmac::KeyInit>::new_from_slice(&[3; 32]).expect("a key");
        name.update(content);
        name.finalize().into_bytes().to_vec()
    }

    fn opened(key: &[u8; 64], headers: [&[u8]; 2], sealed: &[u8]) -> Option<(Vec<u8>, Vec<u8>)> {
        let mut name = <Hmac<Sha256> as hmac::KeyInit>::new_from_slice(&[3; 32]).expect("a key");
        let mut sealed = sealed.to_vec();
        let content = open(key, headers, &mut sealed, &mut name)?.to_vec();
        Some((content, name.finalize().into_bytes().to_vec()))
    }

    #[test]
    fn what_another_implementation_seals_is_opened_whatever_its_length() {
        let key: [u8; 64] = std::array::from_fn(|n| n as u8 ^ 0x5c);
        let lengths = (0..200).chain([PIECE - 1, PIECE, PIECE + 1, PIECE + 15, PIECE + 16, PIECE + 17, 3 * PIECE + 70]);
        for length in lengths {
            let content: Vec<u8> = (0..length).map(|n| (n * 7 + n / 256) as u8).collect();
            for headers in [[&b"nine byte"[..], b""], [b"", b"heads/a.1"], [&[7; 16], &[8; 33]]] {
                let sealed = Aes256Siv::new(&key.into()).encrypt(headers, &content).expect("sealed");
                let found = opened(&key, headers, &sealed);
                assert_eq!(found, Some((content.clone(), name_of(&content))), "{length} bytes");
                let mut other = sealed.clone();
                other[length] ^= 1;
                assert_eq!(opened(&key, headers, &other), None, "{length} bytes, one bit flipped");
                assert_eq!(opened(&key, [headers[1], headers[0]], &sealed), None, "headers in another order");
            }
        }
        assert_eq!(opened(&key, [b"", b""], &[0; 15]), None);
    }

    #[test]
    fn what_is_refused_is_wiped() {
        let key = [9; 64];
        let mut sealed = Aes256Siv::new(&key.into()).encrypt([b"", b""], &[0x5a; 100]).expect("sealed");
        sealed[0] ^= 1;
        let mut name = <Hmac<Sha256> as hmac::KeyInit>::new_from_slice(&[3; 32]).expect("a key");
        assert_eq!(open(&key, [b"", b""], &mut sealed, &mut name), None);
        assert_eq!(sealed[PROOF..], [0; 100]);
    }

    #[test]
    fn cmac_is_that_of_nist_sp_800_38b_with_256_bit_keys() {
        // Examples 9 to 12 of its appendix D.3, from memory.
        let key = "603deb1015ca71be2b73aef0857d77811f352c073b6108d72d9810a30914dff4";
        let unhex = |digits: &str| -> Vec<u8> {
            (0..digits.len()).step_by(2).map(|n| u8::from_str_radix(&digits[n..n + 2], 16).expect("digits")).collect()
        };
        let message = unhex(
            "6bc1bee22e409f96e93d7e117393172aae2d8a571e03ac9c9eb76fac45af8e5130c81c46a35ce411e5fbc1191a0a52eff69f2445df4f9b17ad2b417be66c3710",
        );
        let mac = Cmac::new(&unhex(key)).expect("a key");
        for (length, expected) in [
            (0, "028962f61b7bf89efc6b551f4667d983"),
            (16, "28a7023f452e8f82bd4bf28d8c37c35c"),
            (40, "aaf3d8f1de5640c232f5b169b9c911e6"),
            (64, "e1992190549f6ed5696a2c056c315410"),
        ] {
            assert_eq!(mac.of(&message[..length]).to_be_bytes()[..], unhex(expected), "{length} bytes");
        }
    }
}
