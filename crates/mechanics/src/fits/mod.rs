//! ISO 286 and ANSI B4.1 limits and fits.
