//! Size and form of a nominally cylindrical surface from two-point diameters.

use super::axial::{self, AxialShape, EndToEnd};
use super::clean_up::{self, CleanUp};
use super::readings::{Caution, DiameterReading, SurfaceKind, group};
use super::station::{StationForm, station_form};
use crate::metrology::{MetrologyError, Missing, Weighted};

/// What a table of two-point diameters says of a surface.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderForm {
    /// Journal or bore.
    pub kind: SurfaceKind,
    /// Plain mean of all readings, m.
    pub mean_size: Weighted,
    /// Diameter, at mid-length and over all directions, of the least-squares surface
    /// `d = c + s x + direction terms`, m. Equal to the plain mean when every station was read
    /// in the same, evenly spread directions; the better figure when cells are missing.
    pub least_squares_size: Result<Weighted, Missing>,
    /// Index of the largest reading of all.
    pub largest: usize,
    /// Index of the smallest reading of all.
    pub smallest: usize,
    /// Largest reading less smallest reading, m.
    pub spread: Result<Weighted, Missing>,
    /// Each station that was read, in axial order.
    pub stations: Vec<StationForm>,
    /// Slope of the diameter along the axis, m per m, positive where it grows with the station's
    /// axial position. From the same least-squares surface, so that an ovality read in different
    /// directions at different stations does not pass for a taper.
    pub taper: Result<Weighted, Missing>,
    /// Diameter at one end less that at the other.
    pub end_to_end: Result<EndToEnd, Missing>,
    /// Middle less mean of the two ends, in diameter, m, from the quadratic term over the length
    /// read: positive where the middle is larger.
    pub crown: Result<Weighted, Missing>,
    /// What the readings allow as the clean-up size.
    pub clean_up: CleanUp,
    /// What the readings cannot see. Show these with the results.
    pub cautions: Vec<Caution>,
}

impl CylinderForm {
    /// The station with the greatest ovality, if any station shows one.
    pub fn greatest_ovality(&self) -> Option<(&StationForm, &Weighted)> {
        self.stations
            .iter()
            .filter_map(|s| s.ovality.as_ref().ok().map(|o| (s, o)))
            .max_by(|a, b| a.1.value.total_cmp(&b.1.value))
    }

    /// The name of the shape along the axis, by the sign of the crown alone. Whether the crown
    /// is more than the uncertainty of the readings is for the caller to judge.
    pub fn axial_shape(&self) -> Result<AxialShape, Missing> {
        self.crown.as_ref().map(|c| AxialShape::of(self.kind, c.value)).map_err(|m| *m)
    }
}

/// Size and form from two-point diameters.
///
/// - `stations_m`: places of the stations along the axis; any order, any origin.
/// - `readings`: in any order, with gaps and repeats as they come.
///
/// Equations: see [`CylinderForm`], [`StationForm`] and their parts; each is an ordinary
/// least-squares result or a difference of readings (own derivation, JCGM 100:2008 5.1 for the
/// weights). Valid for diameters up to 100 m and up to 1000 readings.
///
/// # Errors
/// No readings; a station index that does not exist; a figure that is not finite, a diameter
/// not above zero or above 100 m, a station beyond 1000 m, a direction beyond 1000 rad.
///
/// # Example
/// ```
/// use mechanics::metrology::form::{DiameterReading, SurfaceKind, cylinder_form};
/// let read = |station, degrees: f64, mm: f64| DiameterReading {
///     station,
///     direction_rad: Some(degrees.to_radians()),
///     diameter_m: mm / 1000.0,
/// };
/// let form = cylinder_form(
///     SurfaceKind::Journal,
///     &[0.0, 0.2],
///     &[read(0, 0.0, 203.10), read(0, 90.0, 203.04), read(1, 0.0, 203.06), read(1, 90.0, 203.02)],
/// )?;
/// assert!((form.mean_size.value - 0.203055).abs() < 1e-12);
/// assert!((form.taper.unwrap().value - -0.00003 / 0.2).abs() < 1e-12);
/// assert!(form.crown.is_err()); // two stations cannot show a barrel
/// # Ok::<(), mechanics::metrology::MetrologyError>(())
/// ```
pub fn cylinder_form(
    kind: SurfaceKind,
    stations_m: &[f64],
    readings: &[DiameterReading],
) -> Result<CylinderForm, MetrologyError> {
    let grouped = group(stations_m, readings)?;
    let sizes = &grouped.sizes;
    let all: Vec<usize> = (0..sizes.len()).collect();
    let mean_size = Weighted::mean_of(&all, sizes).ok_or(MetrologyError::TooFew {
        what: "diameter readings",
        need: 1,
        got: 0,
    })?;
    let (mut largest, mut smallest) = (0, 0);
    for i in 1..sizes.len() {
        if sizes[i] > sizes[largest] {
            largest = i;
        }
        if sizes[i] < sizes[smallest] {
            smallest = i;
        }
    }
    let stations: Vec<StationForm> = grouped
        .stations
        .iter()
        .map(|(station, list)| station_form(&grouped, *station, stations_m[*station], list))
        .collect();
    let fit = axial::fit(&grouped);
    let mut cautions = vec![Caution::OddLobesUnseen, Caution::BestAxisAssumed];
    if grouped.positions >= 2 {
        cautions.push(Caution::BendUnseen);
    }
    if grouped.direction_groups.is_none() {
        cautions.push(Caution::DirectionsUnknown);
    }
    Ok(CylinderForm {
        kind,
        mean_size,
        least_squares_size: fit.size,
        largest,
        smallest,
        spread: if sizes.len() < 2 {
            Err(Missing::Readings { need: 2, got: sizes.len() })
        } else {
            Ok(Weighted::difference(largest, smallest, sizes))
        },
        taper: fit.taper,
        end_to_end: axial::end_to_end(&grouped),
        crown: fit.crown,
        clean_up: clean_up::clean_up(kind, &grouped, &stations, (largest, smallest)),
        stations,
        cautions,
    })
}
