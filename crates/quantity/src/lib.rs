//! Units as the trade writes them, and values that know where their uncertainty came from.
