//! How numbers and texts stand in what is written: one way to write each value, so that the same content has the same
//! bytes whoever writes it.
//!
//! A number is seven bits a byte, lowest first, the top bit set on all but the last byte, without a needless last byte. A
//! part is its length as such a number and then its bytes.

/// Writes.
#[derive(Debug, Default)]
pub(crate) struct Writer(pub Vec<u8>);

impl Writer {
    /// Bytes as they are, of a length that the reader knows.
    pub fn raw(&mut self, bytes: &[u8]) -> &mut Self {
        self.0.extend_from_slice(bytes);
        self
    }

    pub fn number(&mut self, mut number: u64) -> &mut Self {
        loop {
            let low = (number & 0x7f) as u8;
            number >>= 7;
            self.0.push(if number == 0 { low } else { low | 0x80 });
            if number == 0 {
                return self;
            }
        }
    }

    pub fn part(&mut self, bytes: &[u8]) -> &mut Self {
        self.number(bytes.len() as u64).raw(bytes)
    }

    /// A list: how many, then each.
    pub fn list<T>(&mut self, items: &[T], mut each: impl FnMut(&mut Self, &T)) -> &mut Self {
        self.number(items.len() as u64);
        for item in items {
            each(self, item);
        }
        self
    }
}

/// Reads what [`Writer`] wrote; `None` where the bytes are something else.
#[derive(Clone, Debug)]
pub(crate) struct Reader<'a>(pub &'a [u8]);

impl<'a> Reader<'a> {
    pub fn raw(&mut self, bytes: usize) -> Option<&'a [u8]> {
        let (taken, left) = self.0.split_at_checked(bytes)?;
        self.0 = left;
        Some(taken)
    }

    pub fn array<const N: usize>(&mut self) -> Option<[u8; N]> {
        self.raw(N)?.try_into().ok()
    }

    pub fn byte(&mut self) -> Option<u8> {
        Some(self.raw(1)?[0])
    }

    pub fn number(&mut self) -> Option<u64> {
        let mut number = 0u64;
        for shift in (0..64).step_by(7) {
            let byte = self.byte()?;
            let low = u64::from(byte & 0x7f);
            if low << shift >> shift != low {
                return None;
            }
            number |= low << shift;
            if byte & 0x80 == 0 {
                // A last byte of nothing is a second way to write the same number.
                return (byte != 0 || shift == 0).then_some(number);
            }
        }
        None
    }

    pub fn part(&mut self) -> Option<&'a [u8]> {
        let length = usize::try_from(self.number()?).ok()?;
        self.raw(length)
    }

    pub fn text(&mut self) -> Option<String> {
        String::from_utf8(self.part()?.to_vec()).ok()
    }

    /// A list, each item of which takes one byte at least, so that no claimed length takes memory by itself.
    pub fn list<T>(&mut self, mut each: impl FnMut(&mut Self) -> Option<T>) -> Option<Vec<T>> {
        let many = usize::try_from(self.number()?).ok().filter(|many| *many <= self.0.len())?;
        let mut items = Vec::new();
        for _ in 0..many {
            items.push(each(self)?);
        }
        Some(items)
    }

    /// That nothing follows.
    pub fn end(&self) -> Option<()> {
        self.0.is_empty().then_some(())
    }
}

/// Bytes as lower-case hexadecimal digits.
pub(crate) fn hex(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    bytes.iter().flat_map(|byte| [byte >> 4, byte & 15]).map(|digit| char::from(DIGITS[usize::from(digit)])).collect()
}

/// The 32 bytes of 64 lower-case hexadecimal digits.
pub(crate) fn unhex(digits: &str) -> Option<[u8; 32]> {
    let digit = |byte: u8| match byte {
        b'0'..=b'9' => Some(byte - b'0'),
        b'a'..=b'f' => Some(byte - b'a' + 10),
        _ => None,
    };
    let pairs = digits.as_bytes().chunks(2).map(|pair| Some(digit(*pair.first()?)? << 4 | digit(*pair.get(1)?)?));
    pairs.collect::<Option<Vec<u8>>>()?.try_into().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_has_one_way_to_be_written() {
        for number in [0, 1, 127, 128, 300, u64::from(u32::MAX), u64::MAX - 1, u64::MAX] {
            let mut writer = Writer::default();
            writer.number(number);
            let mut reader = Reader(&writer.0);
            assert_eq!((reader.number(), reader.end()), (Some(number), Some(())));
        }
        for wrong in [&[0x80][..], &[0x80, 0], &[0xff; 10], &[0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 2]]
        {
            assert_eq!(Reader(wrong).number(), None, "{wrong:?}");
        }
    }

    #[test]
    fn a_claimed_length_takes_no_memory() {
        let mut writer = Writer::default();
        writer.number(u64::MAX).raw(b"x");
        assert_eq!(Reader(&writer.0).part(), None);
        assert_eq!(Reader(&writer.0).list(|reader| reader.byte()), None);
    }

    #[test]
    fn digits_are_lower_case_only() {
        let bytes: [u8; 32] = std::array::from_fn(|n| n as u8 * 7);
        assert_eq!(unhex(&hex(&bytes)), Some(bytes));
        assert_eq!(unhex(&hex(&bytes).to_uppercase()), None);
        assert_eq!(unhex(&hex(&bytes)[1..]), None);
    }
}
