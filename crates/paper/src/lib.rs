//! Printed sheets and reports.
