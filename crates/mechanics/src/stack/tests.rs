//! Checks of drawing and tallying.
