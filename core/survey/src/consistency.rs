//! The survey’s own findings: what does not add up while the surveyor still stands there.
