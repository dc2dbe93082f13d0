//! Uncertainty budgets after JCGM 100: standard uncertainties from limits and repeats, combined,
//! with effective degrees of freedom, coverage factor and ranked contributors.

mod combine;
mod standard;
mod student;

pub(crate) use combine::one_sided_factor;
pub use combine::{Budget, Component, Dof, Expanded, Ranked, combine, coverage_factor};
pub use standard::{
    LimitShape, Pooled, mean_uncertainty, pooled_sd, repeat_sd, uncertainty_of_limits,
};
pub(crate) use student::student_cdf;
