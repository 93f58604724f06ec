//! The code that an invited person types: it names the team and holds the secret of the invitation.
//!
//! A version byte, 10 bytes of the team's hash, 16 secret bytes and 2 bytes of SHA-256 over these, in base 32 with digits
//! that are not read for one another (crockford.com/base32.html), in groups of four.

use sha2::{Digest, Sha256};

use crate::members::Hash;
use crate::seal::derived;

const DIGITS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const VERSION: u8 = 1;
const BYTES: usize = 29;

/// An invitation as it is handed over.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Code {
    /// How the team's hash begins.
    pub team: [u8; 10],
    /// The invitation's secret.
    pub secret: [u8; 16],
}

impl std::fmt::Debug for Code {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // A secret belongs in no log.
        f.write_str("Code(…)")
    }
}

/// Why a text is no code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CodeError {
    /// A sign is no digit of a code.
    #[error("{0:?} does not stand in a code; accepted: the code as it was printed, 47 letters and digits")]
    Sign(char),
    /// It is too short or too long.
    #[error("it has {0} letters and digits; accepted: the code as it was printed, 47 of them")]
    Length(usize),
    /// A letter is wrong.
    #[error("a letter or digit in it is wrong; compare it with the code as it was printed")]
    Wrong,
    /// It is of a newer release.
    #[error("a newer release made this code; update Newel")]
    Newer,
}

impl Code {
    /// For a team, of 16 random bytes.
    #[must_use]
    pub fn new(team: &Hash, secret: [u8; 16]) -> Self {
        let mut start = [0; 10];
        start.copy_from_slice(&team[..10]);
        Self { team: start, secret }
    }

    /// The id under which the log has the invitation.
    #[must_use]
    pub fn invitation(&self) -> [u8; 8] {
        derived(&self.secret, b"invitation")
    }

    /// The key that seals the request made with it.
    pub(crate) fn key(&self) -> [u8; 32] {
        derived(&self.secret, b"join")
    }

    /// Whether it is for this team.
    #[must_use]
    pub fn is_for(&self, team: &Hash) -> bool {
        team.starts_with(&self.team)
    }

    /// Reads a code; small letters, spaces and dashes do no harm, nor do O for 0 and I or L for 1.
    ///
    /// # Errors
    /// It is none, or a letter is wrong.
    pub fn read(text: &str) -> Result<Self, CodeError> {
        let mut digits = Vec::new();
        for sign in text.chars().filter(|sign| !sign.is_whitespace() && *sign != '-') {
            let plain = match sign.to_ascii_uppercase() {
                'O' => '0',
                'I' | 'L' => '1',
                other => other,
            };
            let value = DIGITS.iter().position(|digit| char::from(*digit) == plain).ok_or(CodeError::Sign(sign))?;
            digits.push(value as u32);
        }
        if digits.len() != (BYTES * 8).div_ceil(5) {
            return Err(CodeError::Length(digits.len()));
        }
        let (mut bytes, mut bits, mut held) = (Vec::new(), 0u32, 0u32);
        for digit in digits {
            held = held << 5 | digit;
            bits += 5;
            if bits >= 8 {
                bits -= 8;
                bytes.push((held >> bits) as u8);
                held &= (1 << bits) - 1;
            }
        }
        let (body, check) = bytes.split_at(BYTES - 2);
        if held != 0 || Sha256::digest(body)[..2] != *check {
            return Err(CodeError::Wrong);
        }
        if body[0] != VERSION {
            return Err(CodeError::Newer);
        }
        let (mut team, mut secret) = ([0; 10], [0; 16]);
        team.copy_from_slice(&body[1..11]);
        secret.copy_from_slice(&body[11..]);
        Ok(Self { team, secret })
    }

    /// The code as it is printed.
    #[must_use]
    pub fn text(&self) -> String {
        let mut bytes = vec![VERSION];
        bytes.extend_from_slice(&self.team);
        bytes.extend_from_slice(&self.secret);
        let check = Sha256::digest(&bytes);
        bytes.extend_from_slice(&check[..2]);
        let (mut text, mut bits, mut held) = (String::new(), 0u32, 0u32);
        let mut put = |digit: u32| {
            if text.len() % 5 == 4 {
                text.push('-');
            }
            text.push(char::from(DIGITS[digit as usize & 31]));
        };
        for byte in bytes {
            held = held << 8 | u32::from(byte);
            bits += 8;
            while bits >= 5 {
                bits -= 5;
                put(held >> bits);
                held &= (1 << bits) - 1;
            }
        }
        if bits > 0 {
            put(held << (5 - bits));
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_read_however_it_is_typed() {
        let code = Code::new(&[0xfe; 32], std::array::from_fn(|n| n as u8 * 16 + 1));
        let text = code.text();
        assert_eq!(Code::read(&text), Ok(code));
        assert_eq!(Code::read(&text.to_lowercase().replace('-', " ").replace('0', "o").replace('1', "l")), Ok(code));
        assert!(code.is_for(&[0xfe; 32]) && !code.is_for(&[0xfd; 32]));
    }

    #[test]
    fn every_wrong_letter_is_noticed() {
        let text = Code::new(&[1; 32], [2; 16]).text().replace('-', "");
        assert_eq!(text.len(), 47);
        let mut passed = 0;
        for at in 0..text.len() {
            for digit in DIGITS {
                let mut typed = text.clone().into_bytes();
                if typed[at] == *digit {
                    continue;
                }
                typed[at] = *digit;
                passed += usize::from(Code::read(std::str::from_utf8(&typed).expect("digits")).is_ok());
            }
        }
        // Two bytes of proof let one in 65,536 pass, of 1,457 tried.
        assert_eq!(passed, 0);
        assert_eq!(Code::read(&text[1..]), Err(CodeError::Length(46)));
        assert_eq!(Code::read("U"), Err(CodeError::Sign('U')));
    }
}
