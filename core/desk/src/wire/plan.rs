//! The plan document.
