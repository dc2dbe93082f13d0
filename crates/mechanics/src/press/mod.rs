//! Pressed and shrunk joints.
