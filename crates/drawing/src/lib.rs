//! Drawings as SVG, made once for page and paper alike.

pub mod motion;
