//! Fitted bolts and pins made to measured holes.
