//! Bearing duty: pressure, rubbing speed, the oil film and its supply.
