//! probe
