//! Loads through a revolution: steam, inertia, rods as struts.
