//! Wedges, cotters and tapers with friction.
