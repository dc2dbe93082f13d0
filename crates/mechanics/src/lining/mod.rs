//! Split bearings and white metal.
