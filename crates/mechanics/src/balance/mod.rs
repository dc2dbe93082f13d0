//! Balance of rotating and reciprocating masses, hammer blow.
