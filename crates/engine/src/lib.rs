//! The engine model.
