//! A length in both systems.

use super::shape::shape_of;
use crate::judge::Estimate;
use quantity::{Dimension, Quantity, System, print, print_difference};
use serde::Serialize;

/// A length as it is shown.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// Metres.
    pub si: f64,
    /// Standard uncertainty, metres, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub u_si: Option<f64>,
    /// In millimetres.
    pub metric: String,
    /// In inches or thou.
    pub imperial: String,
}

shape_of!(Figure, "A length in both systems; si in metres.", {
    si: f64, metric: String, imperial: String,
} | { u_si: f64 });

impl Figure {
    /// A size with its uncertainty.
    pub fn size(estimate: &Estimate) -> Figure {
        Figure::of_size(estimate.si(), Some(estimate.u()))
    }

    /// A size.
    pub fn of_size(si: f64, u: Option<f64>) -> Figure {
        let u = u.filter(|u| *u > 0.0);
        Figure {
            si,
            u_si: u,
            metric: print(si, Dimension::Length, System::Metric, u),
            imperial: print(si, Dimension::Length, System::Imperial, u),
        }
    }

    /// A size to work to: two decimals of a millimetre and four of an inch, whatever holds it.
    pub fn to_make(si: f64) -> Figure {
        Figure {
            si,
            u_si: None,
            metric: format!("{:.2} mm", si * 1e3),
            imperial: format!("{:.4} in", si / 25.4e-3),
        }
    }

    /// A plus-or-minus.
    pub fn tolerance(si: f64) -> Figure {
        Figure {
            si,
            u_si: None,
            metric: format!("{:.3} mm", si * 1e3),
            imperial: format!("{:.1} thou", si / 25.4e-6),
        }
    }

    /// A small difference: clearance, wear, ovality.
    pub fn difference(estimate: &Estimate) -> Figure {
        Figure::of_difference(estimate.si(), Some(estimate.u()))
    }

    /// A small difference.
    pub fn of_difference(si: f64, u: Option<f64>) -> Figure {
        let u = u.filter(|u| *u > 0.0);
        // The sign is kept where it means something, below zero; "+3 thou of clearance" is not
        // how anybody says it.
        let plain = |system| print_difference(si, system, u).trim_start_matches('+').to_owned();
        Figure { si, u_si: u, metric: plain(System::Metric), imperial: plain(System::Imperial) }
    }

    /// A limit, with the text as it was written where it came from a person.
    pub fn limit(quantity: &Quantity) -> Figure {
        let si = quantity.si();
        // A fraction of an inch is exact: its last place says nothing of how well it is meant.
        let step = quantity.resolution_si().clamp(4e-6, 10e-6);
        let mut figure = if si.abs() < 5e-3 {
            Figure::of_difference(si, Some(step / 2.0))
        } else {
            Figure::of_size(si, Some(step / 2.0))
        };
        figure.u_si = None;
        match quantity.unit().system() {
            Some(System::Metric) => figure.metric = quantity.text().to_owned(),
            Some(System::Imperial) => figure.imperial = quantity.text().to_owned(),
            None => {}
        }
        figure
    }

    /// Both, metric first.
    pub fn both(&self) -> String {
        format!("{} ({})", self.metric, self.imperial)
    }
}
