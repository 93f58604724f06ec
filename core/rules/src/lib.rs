//! Screening rules: one file per standard or practice, each turning survey, catalogue and plan into findings.
