//! Two-point diameter readings and how they group by station and direction.

use std::f64::consts::PI;

use crate::metrology::MetrologyError;
use crate::metrology::error::within;

/// Whether the metal is inside or outside the surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SurfaceKind {
    /// An outside surface: a journal, a pin, a wheel seat.
    Journal,
    /// An inside surface: a brass, a bush, a cylinder bore.
    Bore,
}

/// One two-point diameter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DiameterReading {
    /// Index into the list of stations, from 0.
    pub station: usize,
    /// Direction of the measured diameter around the axis; a turn of π is the same diameter.
    /// `None` if nobody wrote it down.
    pub direction_rad: Option<f64>,
    /// The diameter as read (after temperature correction if that was done).
    pub diameter_m: f64,
}

/// What the readings cannot see, to be shown beside every result that rests on them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Caution {
    /// Diameters read between two points are blind to odd-lobed shapes.
    OddLobesUnseen,
    /// Diameters say nothing of where the centre of each station lies.
    BendUnseen,
    /// The clean-up size holds only if the work is set up on the best axis.
    BestAxisAssumed,
    /// Directions were not recorded, so an ovality may be larger than the readings show.
    DirectionsUnknown,
}

impl Caution {
    /// The caution in words.
    ///
    /// Source of the first: ISO 4292:1985, two-point measurement does not detect odd numbers of
    /// lobes (from memory); it follows from `r(θ) + r(θ + π)` with `r = R + a cos nθ`, n odd.
    pub fn text(self) -> &'static str {
        match self {
            Self::OddLobesUnseen => {
                "diameters read between two points cannot see an odd-lobed shape (3, 5, 7 lobes): \
                 the surface may be out of round by more than this; a dial traverse or a V-block shows it"
            }
            Self::BendUnseen => {
                "diameters do not show a bend: the centres of the stations may not lie on one line"
            }
            Self::BestAxisAssumed => {
                "the clean-up size is the most the readings allow; it is reached only on the best \
                 axis, with no bend and no odd lobes, and leaves nothing for the cut to bite"
            }
            Self::DirectionsUnknown => {
                "directions were not all recorded: the largest and smallest diameters may have been missed"
            }
        }
    }
}

/// Two directions closer than this (rad, about 0.06 degree) are the same direction.
const SAME_DIRECTION_RAD: f64 = 1e-3;
/// Most readings taken in one table; above it someone has passed a scan, not a gauge sheet, and the
/// weights of every result on every reading would fill the memory.
pub(super) const MOST_READINGS: usize = 1_000;

/// The readings, checked and grouped.
#[derive(Debug, Clone)]
pub(super) struct Grouped {
    /// Sizes in the order given, m.
    pub(super) sizes: Vec<f64>,
    /// Axial position of each reading, m.
    pub(super) axial: Vec<f64>,
    /// Index of the direction group of each reading; `None` unless every direction is known.
    pub(super) direction_groups: Option<Vec<usize>>,
    /// Representative direction of each group, 0 to π.
    pub(super) directions: Vec<f64>,
    /// Readings of each station that has any: (station, readings), in axial order.
    pub(super) stations: Vec<(usize, Vec<usize>)>,
    /// Number of different axial positions read.
    pub(super) positions: usize,
}

/// Folds a direction into 0 to π.
pub(super) fn fold_direction(direction_rad: f64) -> f64 {
    let folded = direction_rad.rem_euclid(PI);
    if PI - folded < SAME_DIRECTION_RAD { 0.0 } else { folded }
}

pub(super) fn group(
    stations_m: &[f64],
    readings: &[DiameterReading],
) -> Result<Grouped, MetrologyError> {
    if readings.is_empty() {
        return Err(MetrologyError::TooFew { what: "diameter readings", need: 1, got: 0 });
    }
    if readings.len() > MOST_READINGS {
        return Err(MetrologyError::TooMany {
            what: "diameter readings",
            limit: MOST_READINGS,
            got: readings.len(),
        });
    }
    for &station_m in stations_m {
        within("station", station_m, (-1000.0, 1000.0), "m")?;
    }
    for reading in readings {
        if reading.station >= stations_m.len() {
            return Err(MetrologyError::NoSuch {
                what: "station",
                index: reading.station,
                count: stations_m.len(),
            });
        }
        within("diameter", reading.diameter_m, (f64::MIN_POSITIVE, 100.0), "m")?;
        if let Some(direction_rad) = reading.direction_rad {
            within("direction", direction_rad, (-1e3, 1e3), "rad")?;
        }
    }
    let sizes: Vec<f64> = readings.iter().map(|r| r.diameter_m).collect();
    let axial: Vec<f64> = readings.iter().map(|r| stations_m[r.station]).collect();

    let mut directions: Vec<f64> = Vec::new();
    let direction_groups = readings
        .iter()
        .map(|r| {
            r.direction_rad.map(|d| {
                let folded = fold_direction(d);
                let known = directions.iter().position(|k| (k - folded).abs() < SAME_DIRECTION_RAD);
                known.unwrap_or_else(|| {
                    directions.push(folded);
                    directions.len() - 1
                })
            })
        })
        .collect::<Option<Vec<usize>>>();

    let mut stations: Vec<(usize, Vec<usize>)> = Vec::new();
    for (i, reading) in readings.iter().enumerate() {
        match stations.iter_mut().find(|(station, _)| *station == reading.station) {
            Some((_, list)) => list.push(i),
            None => stations.push((reading.station, vec![i])),
        }
    }
    stations.sort_by(|a, b| stations_m[a.0].total_cmp(&stations_m[b.0]).then(a.0.cmp(&b.0)));
    let mut distinct: Vec<f64> = stations.iter().map(|(s, _)| stations_m[*s]).collect();
    distinct.dedup();
    Ok(Grouped { sizes, axial, direction_groups, directions, positions: distinct.len(), stations })
}

impl Grouped {
    /// Readings of a list gathered by direction; each reading alone if directions are unknown.
    pub(super) fn by_direction(&self, list: &[usize]) -> Vec<Vec<usize>> {
        let Some(groups) = &self.direction_groups else {
            return list.iter().map(|&i| vec![i]).collect();
        };
        let mut gathered: Vec<(usize, Vec<usize>)> = Vec::new();
        for &i in list {
            match gathered.iter_mut().find(|(group, _)| *group == groups[i]) {
                Some((_, members)) => members.push(i),
                None => gathered.push((groups[i], vec![i])),
            }
        }
        gathered.into_iter().map(|(_, members)| members).collect()
    }

    /// Direction of a reading, folded; `None` if directions are unknown.
    pub(super) fn direction(&self, reading: usize) -> Option<f64> {
        self.direction_groups.as_ref().map(|groups| self.directions[groups[reading]])
    }
}
