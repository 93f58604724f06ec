//! Protection codes.

/// An ingress code after IEC 60529. The first numeral is a scale; the second is a set of declared tests, since 7 or 8
/// does not cover 5 or 6 unless both are declared.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Ingress {
    /// First numeral, `None` for X.
    pub first: Option<u8>,
    /// Declared second numerals in rising order; empty for X.
    pub second: Vec<u8>,
}

/// What a lead may be used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LeadUse {
    /// Mains point to driver.
    Mains,
    /// Driver output to a way in, and on through the tube to where a chain starts.
    Extension,
    /// From an extension lead, or from a decoder, to the first module of a chain.
    Luminaire,
    /// Along a chain, tapped or cut at luminaires.
    Run,
    /// Between linear modules, across what a module can't cross.
    Link,
    /// Control signals.
    Control,
}
