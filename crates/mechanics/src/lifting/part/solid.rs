//! Simple solids: volume and centroid from their sizes.

use super::super::error::{LiftingError, Range, check_larger};
use std::f64::consts::{PI, TAU};

const SIZE: Range = Range::new("size", "m", 1e-6, 100.0);
const U_SIZE: Range = Range::new("standard uncertainty of a size", "m", 0.0, 10.0);
const ARC: Range = Range::new("arc of a ring", "rad", 1e-3, TAU);
const COORDINATE: Range = Range::new("a place on a solid", "m", -100.0, 100.0);

/// A size and how well it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// The size, m.
    pub value_m: f64,
    /// Its standard uncertainty, m.
    pub u_m: f64,
}

impl Size {
    /// A size taken as exact.
    #[must_use]
    pub const fn exact(value_m: f64) -> Self {
        Self { value_m, u_m: 0.0 }
    }

    /// A size with its standard uncertainty, m.
    #[must_use]
    pub const fn new(value_m: f64, u_m: f64) -> Self {
        Self { value_m, u_m }
    }
}

/// A round hole through a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateHole {
    /// Place along the plate's length from its corner, m.
    pub x_m: f64,
    /// Place along its width from the corner, m.
    pub y_m: f64,
    /// Diameter, m.
    pub diameter: Size,
}

/// A simple solid in its own frame: its length runs along x from 0.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Solid {
    /// Rectangular bar: length on x, width on y and height on z, both centred.
    Bar {
        /// Length.
        length: Size,
        /// Width, on y.
        width: Size,
        /// Height, on z.
        height: Size,
    },
    /// Round bar, its axis x.
    Cylinder {
        /// Diameter.
        diameter: Size,
        /// Length.
        length: Size,
    },
    /// Tube, bush or flat ring, its axis x.
    Tube {
        /// Outer diameter.
        outer: Size,
        /// Inner diameter.
        inner: Size,
        /// Length.
        length: Size,
    },
    /// Plate from a corner: length on x, width on y, thickness on z, all from 0, with holes.
    Plate {
        /// Length.
        length: Size,
        /// Width.
        width: Size,
        /// Thickness.
        thickness: Size,
        /// Round holes, none of them touching another or the edge.
        holes: Vec<PlateHole>,
    },
    /// Cone or frustum, its axis x: one diameter at x = 0, the other at the end.
    Cone {
        /// Diameter at x = 0.
        first: Size,
        /// Diameter at the far end; it may be 0 for a full cone.
        last: Size,
        /// Length.
        length: Size,
    },
    /// Prism: a section of straight sides in y and z, drawn along x.
    Prism {
        /// Corners (y, z) in order round, m; taken as exact.
        corners_m: Vec<[f64; 2]>,
        /// Length.
        length: Size,
    },
    /// A piece of a flat ring about the x axis, its middle towards +z: half a strap's bow, a brass.
    RingSector {
        /// Outer diameter.
        outer: Size,
        /// Inner diameter; it may be 0.
        inner: Size,
        /// Thickness along x, from 0.
        length: Size,
        /// Whole angle of the piece, rad, up to a full turn; taken as exact.
        arc_rad: f64,
    },
    /// Ring of round section about the x axis, centred on the datum.
    RoundRing {
        /// Diameter of the ring, to the middle of its section.
        middle: Size,
        /// Diameter of the section.
        section: Size,
    },
    /// T section: web from z = 0 up, flange on top, centred on y.
    TSection {
        /// Width of the flange.
        flange_width: Size,
        /// Thickness of the flange.
        flange_thickness: Size,
        /// Thickness of the web.
        web_thickness: Size,
        /// Height of the web below the flange.
        web_height: Size,
        /// Length.
        length: Size,
    },
    /// I section: lower flange from z = 0, web, upper flange, centred on y.
    ISection {
        /// Width of the lower flange.
        lower_width: Size,
        /// Thickness of the lower flange.
        lower_thickness: Size,
        /// Width of the upper flange.
        upper_width: Size,
        /// Thickness of the upper flange.
        upper_thickness: Size,
        /// Thickness of the web.
        web_thickness: Size,
        /// Height of the web between the flanges.
        web_height: Size,
        /// Length.
        length: Size,
    },
}

impl Solid {
    /// Volume, m³, and centroid, m in the solid's own frame.
    ///
    /// Source: closed forms of the centroid tables of any handbook of mechanics (Beer & Johnston,
    /// Vector Mechanics for Engineers: Statics, inside covers; from memory): frustum
    /// `x = h (r₁² + 2 r₁ r₂ + 3 r₂²) / (4 (r₁² + r₁ r₂ + r₂²))` from the end of radius r₁; ring
    /// piece of whole angle θ `z = (4/3) sin(θ/2)/θ · (R³ − r³)/(R² − r²)`; polygon by the shoelace
    /// sums; T and I by areas and their moments.
    ///
    /// # Errors
    /// Sizes outside 1e-6 to 100 m, inner not below outer, holes over the edge or over each other.
    pub fn volume_and_centroid(&self) -> Result<(f64, [f64; 3]), LiftingError> {
        self.check()?;
        Ok(self.measure(None))
    }

    /// The sizes that carry an uncertainty, in the order of the fields.
    #[must_use]
    pub fn sizes(&self) -> Vec<Size> {
        match self {
            Self::Bar { length, width, height } => vec![*length, *width, *height],
            Self::Cylinder { diameter, length } => vec![*diameter, *length],
            Self::Tube { outer, inner, length } => vec![*outer, *inner, *length],
            Self::Plate { length, width, thickness, holes } => {
                let mut sizes = vec![*length, *width, *thickness];
                sizes.extend(holes.iter().map(|h| h.diameter));
                sizes
            }
            Self::Cone { first, last, length } => vec![*first, *last, *length],
            Self::Prism { length, .. } => vec![*length],
            Self::RingSector { outer, inner, length, .. } => vec![*outer, *inner, *length],
            Self::RoundRing { middle, section } => vec![*middle, *section],
            Self::TSection {
                flange_width,
                flange_thickness,
                web_thickness,
                web_height,
                length,
            } => {
                vec![*flange_width, *flange_thickness, *web_thickness, *web_height, *length]
            }
            Self::ISection {
                lower_width,
                lower_thickness,
                upper_width,
                upper_thickness,
                web_thickness,
                web_height,
                length,
            } => vec![
                *lower_width,
                *lower_thickness,
                *upper_width,
                *upper_thickness,
                *web_thickness,
                *web_height,
                *length,
            ],
        }
    }

    pub(super) fn check(&self) -> Result<(), LiftingError> {
        for (i, size) in self.sizes().iter().enumerate() {
            // A full cone ends in a point, a sector may reach the middle.
            let may_vanish = matches!(self, Self::Cone { .. } | Self::RingSector { .. })
                && i == 1
                && size.value_m == 0.0;
            if !may_vanish {
                SIZE.check(size.value_m)?;
            }
            U_SIZE.check(size.u_m)?;
        }
        match self {
            Self::Tube { outer, inner, .. } => {
                check_larger(("outer diameter", outer.value_m), ("inner diameter", inner.value_m))
            }
            Self::RingSector { outer, inner, arc_rad, .. } => {
                ARC.check(*arc_rad)?;
                check_larger(("outer diameter", outer.value_m), ("inner diameter", inner.value_m))
            }
            Self::RoundRing { middle, section } => check_larger(
                ("diameter of the ring", middle.value_m),
                ("diameter of its section", section.value_m),
            ),
            Self::TSection { flange_width, web_thickness, .. } => not_below(
                ("flange width", flange_width.value_m),
                ("web thickness", web_thickness.value_m),
            ),
            Self::ISection { lower_width, upper_width, web_thickness, .. } => {
                let web = ("web thickness", web_thickness.value_m);
                not_below(("lower flange width", lower_width.value_m), web)?;
                not_below(("upper flange width", upper_width.value_m), web)
            }
            Self::Plate { length, width, holes, .. } => {
                check_holes(length.value_m, width.value_m, holes)
            }
            Self::Prism { corners_m, .. } => check_corners(corners_m),
            Self::Bar { .. } | Self::Cylinder { .. } | Self::Cone { .. } => Ok(()),
        }
    }

    /// Volume and centroid, with one of the sizes shifted where asked.
    pub(super) fn measure(&self, shift: Option<(usize, f64)>) -> (f64, [f64; 3]) {
        let mut s: Vec<f64> = self.sizes().iter().map(|s| s.value_m).collect();
        if let Some((i, by)) = shift {
            s[i] += by;
        }
        match self {
            Self::Bar { .. } => (s[0] * s[1] * s[2], [0.5 * s[0], 0.0, 0.0]),
            Self::Cylinder { .. } => (0.25 * PI * s[0] * s[0] * s[1], [0.5 * s[1], 0.0, 0.0]),
            Self::Tube { .. } => {
                (0.25 * PI * (s[0] * s[0] - s[1] * s[1]) * s[2], [0.5 * s[2], 0.0, 0.0])
            }
            Self::Plate { holes, .. } => {
                let mut area = s[0] * s[1];
                let mut moment = [0.5 * area * s[0], 0.5 * area * s[1]];
                for (hole, d) in holes.iter().zip(&s[3..]) {
                    let gone = 0.25 * PI * d * d;
                    area -= gone;
                    moment[0] -= gone * hole.x_m;
                    moment[1] -= gone * hole.y_m;
                }
                (area * s[2], [moment[0] / area, moment[1] / area, 0.5 * s[2]])
            }
            Self::Cone { .. } => {
                let (a, b) = (0.5 * s[0], 0.5 * s[1]);
                let sum = a * a + a * b + b * b;
                let x = s[2] * (a * a + 2.0 * a * b + 3.0 * b * b) / (4.0 * sum);
                (PI * s[2] * sum / 3.0, [x, 0.0, 0.0])
            }
            Self::Prism { corners_m, .. } => {
                let (area, [y, z]) = polygon(corners_m);
                (area * s[0], [0.5 * s[0], y, z])
            }
            Self::RingSector { arc_rad, .. } => {
                let (r, q) = (0.5 * s[0], 0.5 * s[1]);
                let squares = r * r - q * q;
                let z =
                    4.0 / 3.0 * (0.5 * arc_rad).sin() / arc_rad * (r.powi(3) - q.powi(3)) / squares;
                (0.5 * arc_rad * squares * s[2], [0.5 * s[2], 0.0, z])
            }
            Self::RoundRing { .. } => (0.25 * PI * PI * s[0] * s[1] * s[1], [0.0; 3]),
            Self::TSection { .. } => {
                let (flange, web) = (s[0] * s[1], s[2] * s[3]);
                let area = flange + web;
                let z = (flange * (s[3] + 0.5 * s[1]) + web * 0.5 * s[3]) / area;
                (area * s[4], [0.5 * s[4], 0.0, z])
            }
            Self::ISection { .. } => {
                let (low, high, web) = (s[0] * s[1], s[2] * s[3], s[4] * s[5]);
                let area = low + high + web;
                let z = (low * 0.5 * s[1]
                    + web * (s[1] + 0.5 * s[5])
                    + high * (s[1] + s[5] + 0.5 * s[3]))
                    / area;
                (area * s[6], [0.5 * s[6], 0.0, z])
            }
        }
    }
}

fn not_below(
    (outer, outer_m): (&'static str, f64),
    (inner, inner_m): (&'static str, f64),
) -> Result<(), LiftingError> {
    if outer_m >= inner_m {
        Ok(())
    } else {
        Err(LiftingError::NotLarger { outer, outer_m, inner, inner_m })
    }
}

fn check_holes(length_m: f64, width_m: f64, holes: &[PlateHole]) -> Result<(), LiftingError> {
    super::super::error::check_count("holes", holes.len(), (0, 10_000))?;
    for (i, hole) in holes.iter().enumerate() {
        COORDINATE.check(hole.x_m)?;
        COORDINATE.check(hole.y_m)?;
        let radius = 0.5 * hole.diameter.value_m;
        let edge = hole.x_m.min(hole.y_m).min(length_m - hole.x_m).min(width_m - hole.y_m);
        check_larger(("hole centre to plate edge", edge), ("hole radius", radius))?;
        for other in &holes[..i] {
            let apart = (hole.x_m - other.x_m).hypot(hole.y_m - other.y_m);
            let both = radius + 0.5 * other.diameter.value_m;
            check_larger(("distance of two holes", apart), ("their radii together", both))?;
        }
    }
    Ok(())
}

fn check_corners(corners_m: &[[f64; 2]]) -> Result<(), LiftingError> {
    super::super::error::check_count("corners of a section", corners_m.len(), (3, 10_000))?;
    for corner in corners_m {
        COORDINATE.check(corner[0])?;
        COORDINATE.check(corner[1])?;
    }
    let (area, _) = polygon(corners_m);
    Range::new("area of a section", "m2", 1e-12, 1e4).check(area)?;
    Ok(())
}

/// Area, without sign, and centroid of a polygon that does not cross itself.
fn polygon(corners: &[[f64; 2]]) -> (f64, [f64; 2]) {
    let (mut twice, mut y, mut z) = (0.0, 0.0, 0.0);
    // Taken from the first corner, so that a section far from the axis loses no digits.
    let [y0, z0] = corners[0];
    for (i, a) in corners.iter().enumerate() {
        let b = corners[(i + 1) % corners.len()];
        let (a, b) = ([a[0] - y0, a[1] - z0], [b[0] - y0, b[1] - z0]);
        let cross = a[0] * b[1] - b[0] * a[1];
        twice += cross;
        y += (a[0] + b[0]) * cross;
        z += (a[1] + b[1]) * cross;
    }
    (0.5 * twice.abs(), [y0 + y / (3.0 * twice), z0 + z / (3.0 * twice)])
}
