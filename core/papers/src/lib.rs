//! Draws finished results as text, CSV and PDF; computes nothing that the plan has not already settled.
