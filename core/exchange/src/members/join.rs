//! A device asks to be let in, with the code of an invitation.

use super::{Code, Entry, Label, Newcomer};
use crate::DeviceId;
use crate::bytes::{Reader, Writer};
use crate::seal::{Identity, Keys, Purpose};

const FIRST: &[u8] = b"newel join 1";

/// A request as it stands in the folder. Only who has the invitation's secret can read who it is, and only who had it
/// could have written it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Join {
    /// Who asks.
    pub device: DeviceId,
    /// The key that team keys are to be wrapped for.
    pub receives: [u8; 32],
    /// The invitation it has.
    pub invitation: [u8; 8],
    label: Vec<u8>,
}

impl Join {
    /// The signed bytes of a request.
    #[must_use]
    pub fn write(own: &Identity, code: &Code, label: &Label) -> Vec<u8> {
        let keys = Keys::new(&code.key());
        let context = [own.id().0, own.receives()].concat();
        let mut writer = Writer::default();
        writer.raw(FIRST).raw(&own.id().0).raw(&own.receives()).raw(&code.invitation());
        writer.part(&keys.seal(Purpose::Label, &context, &label.bytes()));
        let signature = own.sign(&writer.0);
        writer.raw(&signature);
        writer.0
    }

    /// What a device writes that finds itself removed: a request without an invitation. Members who still count it as one
    /// of them see that it reads another log than they do.
    pub(crate) fn objection(own: &Identity) -> Vec<u8> {
        let nobody = Label { person: String::new(), device: String::new() };
        Self::write(own, &Code { team: [0; 10], secret: [0; 16] }, &nobody)
    }

    /// Reads a request and proves its signature; `None` where it is none.
    #[must_use]
    pub fn read(bytes: &[u8]) -> Option<Self> {
        let (unsigned, signature) = bytes.split_last_chunk::<64>()?;
        let mut reader = Reader(unsigned);
        if reader.raw(FIRST.len())? != FIRST {
            return None;
        }
        let device = DeviceId(reader.array()?);
        let join =
            Self { device, receives: reader.array()?, invitation: reader.array()?, label: reader.part()?.to_vec() };
        reader.end()?;
        device.signed(unsigned, signature).then_some(join)
    }

    /// Who it is by its own word; `None` where it was not written with this code.
    #[must_use]
    pub fn label(&self, code: &Code) -> Option<Label> {
        let context = [self.device.0, self.receives].concat();
        let bytes = Keys::new(&code.key()).open(Purpose::Label, &context, &self.label).ok()?;
        Label::read(&bytes).filter(|_| self.invitation == code.invitation())
    }

    /// The device as an entry lets it in, its label sealed for the team.
    #[must_use]
    pub fn newcomer(&self, label: &Label, keys: &Keys) -> Newcomer {
        newcomer(self.device, self.receives, label, keys)
    }
}

/// A device as an entry lets it in.
pub(crate) fn newcomer(device: DeviceId, receives: [u8; 32], label: &Label, keys: &Keys) -> Newcomer {
    Newcomer { device, receives, label: keys.seal(Purpose::Label, &device.0, &label.bytes()) }
}

impl Newcomer {
    /// Who it is by its own word, as whoever let it in wrote down; `None` without the key.
    #[must_use]
    pub fn label(&self, keys: &Keys) -> Option<Label> {
        Label::read(&keys.open(Purpose::Label, &self.device.0, &self.label).ok()?)
    }
}

impl Entry {
    /// The device that this entry lets in.
    #[must_use]
    pub fn newcomer(&self) -> Option<&Newcomer> {
        match &self.body {
            super::Body::Found { founder, .. } => Some(founder),
            super::Body::Approve { newcomer, .. } => Some(newcomer),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_request_is_read_by_whoever_has_the_code() {
        let own = Identity::new([1; 32]);
        let (code, other) = (Code::new(&[1; 32], [2; 16]), Code::new(&[1; 32], [3; 16]));
        let label = Label { person: "Invented Person".to_owned(), device: "tablet".to_owned() };
        let bytes = Join::write(&own, &code, &label);
        assert!(!bytes.windows(8).any(|part| part == b"Invented"));
        let join = Join::read(&bytes).expect("a request");
        assert_eq!((join.label(&code), join.label(&other)), (Some(label), None));
        let stolen = Join { device: DeviceId([9; 32]), ..join };
        assert_eq!(stolen.label(&code), None, "the words are bound to the keys");
        for at in 0..bytes.len() {
            let mut altered = bytes.clone();
            altered[at] ^= 1;
            assert_eq!(Join::read(&altered), None, "byte {at}");
        }
    }
}
