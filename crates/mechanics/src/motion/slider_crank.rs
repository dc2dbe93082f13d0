//! Exact slider-crank with an offset line: positions, derivatives, dead centres and the inverse.

use super::bounds::{ANGLE, CRANK_THROW, OFFSET, ROD_CENTRES};
use super::{Bound, MotionError};

const CRANK: Bound = Bound { what: "crank angle", ..ANGLE };

/// Share of the rod centres that throw plus offset may reach. At 0.95 the rod would lie 72
/// degrees from the line, far past anything that was ever built.
const REACH_LIMIT: f64 = 0.95;

/// Crank, rod and a straight line of travel that may pass the axle centre at a distance.
///
/// Coordinates: `s` along the line from the foot of the axle centre, positive towards the
/// cylinder; `w` square to it, positive upwards; crank angle `f` from the line, growing in
/// forward rotation, so the crank pin is at `s = r cos f`, `w = -r sin f`, and the crosshead pin
/// at `w = e`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SliderCrank {
    pub(crate) throw_m: f64,
    pub(crate) rod_m: f64,
    pub(crate) offset_m: f64,
}

/// Crosshead and rod at one crank angle, with derivatives by the crank angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SliderCrankState {
    /// Crosshead pin along the line from the foot of the axle centre, m.
    pub position_m: f64,
    /// First derivative of the position by the crank angle, m/rad.
    pub position_per_rad_m: f64,
    /// Second derivative of the position by the crank angle, m/rad².
    pub position_per_rad2_m: f64,
    /// Rod to the line, rad; positive with the crank pin below the line of the crosshead pin.
    pub rod_angle_rad: f64,
    /// First derivative of the rod angle by the crank angle, rad/rad.
    pub rod_angle_per_rad: f64,
    /// Second derivative of the rod angle by the crank angle, rad/rad².
    pub rod_angle_per_rad2: f64,
}

/// Both dead centres of one line: where crank and rod lie on one straight line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DeadCentres {
    /// Crank angle of the front dead centre, rad.
    pub front_crank_rad: f64,
    /// Crank angle of the back dead centre, rad, reached going forward from the front one.
    pub back_crank_rad: f64,
    /// Crosshead pin at the front dead centre, m from the foot of the axle centre.
    pub front_m: f64,
    /// Crosshead pin at the back dead centre, m.
    pub back_m: f64,
}

impl DeadCentres {
    /// Stroke: with an offset a little more than twice the throw, m.
    pub fn stroke_m(&self) -> f64 {
        self.front_m - self.back_m
    }
}

/// Derivatives of the crosshead position at a fixed crank angle (all m/m but the last).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SliderCrankPartials {
    /// By the crank throw.
    pub by_throw: f64,
    /// By the rod centres.
    pub by_rod: f64,
    /// By the offset of the line from the axle centre.
    pub by_offset: f64,
    /// By the crank angle, m/rad.
    pub by_angle_m: f64,
}

/// The letters of the derivation below, at one crank angle.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RodLine {
    pub(crate) s: f64,
    pub(crate) ds: f64,
    pub(crate) dds: f64,
    pub(crate) u: f64,
    pub(crate) q: f64,
    pub(crate) iq: f64,
    pub(crate) dg: f64,
    pub(crate) ddg: f64,
}

// Own derivation, in the coordinates of the type:
//
//   crank pin  P = (r cos f, -r sin f)          crosshead pin  S = (s, e)
//   l² = (s - r cos f)² + (e + r sin f)²
//   u = e + r sin f        (crank pin below the crosshead pin's line)
//   q = sqrt(l² - u²)      (rod's length along the line; positive: rod points to the cylinder)
//   s = r cos f + q,       sin g = u/l,  cos g = q/l
//
// with ' = d/df:  u' = r cos f,  u'' = -r sin f
//   q'  = -u u'/q
//   q'' = -(u'² + u u'')/q - (u u')²/q³
//   g'  = u'/q
//   g'' = u''/q + u u'²/q³
//
// Dead centres: s' = 0 where crank and rod are in line. Stretched out, the crosshead pin is l + r
// from the axle centre, folded l - r, at height e:
//   s = sqrt((l + r)² - e²), the crank points at it:      sin f = -e/(l + r)
//   s = sqrt((l - r)² - e²), the crank points away:       sin f =  e/(l - r), cos f < 0
impl SliderCrank {
    /// A slider-crank of crank throw `r`, rod centres `l` and offset `e` (line above the axle
    /// centre positive), all in metres.
    ///
    /// # Errors
    /// A size not finite or out of range; [`MotionError::RodTooShort`] when `r + |e| > 0.95 l`.
    pub fn new(crank_throw_m: f64, rod_centres_m: f64, offset_m: f64) -> Result<Self, MotionError> {
        let throw_m = CRANK_THROW.check(crank_throw_m)?;
        let rod_m = ROD_CENTRES.check(rod_centres_m)?;
        let offset_m = OFFSET.check(offset_m)?;
        let reach_m = throw_m + offset_m.abs();
        let limit_m = REACH_LIMIT * rod_m;
        if limit_m < reach_m {
            return Err(MotionError::RodTooShort { reach_m, limit_m });
        }
        Ok(Self { throw_m, rod_m, offset_m })
    }

    /// Crank throw, m.
    pub fn crank_throw_m(&self) -> f64 {
        self.throw_m
    }

    /// Rod centres, m.
    pub fn rod_centres_m(&self) -> f64 {
        self.rod_m
    }

    /// Offset of the line above the axle centre, m.
    pub fn offset_m(&self) -> f64 {
        self.offset_m
    }

    /// Position, rod angle and their derivatives at a crank angle.
    ///
    /// Equation: `s = r cos f + sqrt(l² - (e + r sin f)²)`, `sin g = (e + r sin f)/l`, and their
    /// first and second derivatives by `f`; own derivation shown in the source, exact for any
    /// obliquity. With `e = 0` it is the textbook slider-crank (e.g. Khurmi & Gupta, *Theory of
    /// Machines*, ch. 15).
    /// Units: m, rad; signs as in [`SliderCrank`].
    /// Valid range: any angle within ±1e5 rad.
    /// Worked value: r 150 mm, l 600 mm, f 60°, 450 rev/min gives 6.905 m/s and 124.95 m/s²
    /// (case SC-01 of the reference list; the book's series form gives 6.89 and 124.9).
    ///
    /// # Errors
    /// The angle is not finite or out of range.
    pub fn at(&self, crank_angle_rad: f64) -> Result<SliderCrankState, MotionError> {
        let (sin, cos) = CRANK.check(crank_angle_rad)?.sin_cos();
        Ok(self.at_sin_cos(sin, cos))
    }

    pub(crate) fn at_sin_cos(&self, sin: f64, cos: f64) -> SliderCrankState {
        let rod = self.rod_line(sin, cos);
        SliderCrankState {
            position_m: rod.s,
            position_per_rad_m: rod.ds,
            position_per_rad2_m: rod.dds,
            rod_angle_rad: (rod.u / self.rod_m).asin(),
            rod_angle_per_rad: rod.dg,
            rod_angle_per_rad2: rod.ddg,
        }
    }

    /// The inner step of every batch: no checks, no inverse sine.
    #[inline(always)]
    pub(crate) fn rod_line(&self, sin: f64, cos: f64) -> RodLine {
        let (r, l) = (self.throw_m, self.rod_m);
        let du = r * cos;
        let rs = r * sin;
        let u = self.offset_m + rs;
        let q = (l * l - u * u).sqrt();
        let iq = 1.0 / q;
        let dg = du * iq;
        let dq = -u * dg;
        RodLine {
            s: du + q,
            ds: dq - rs,
            dds: (u * rs - du * du - dq * dq) * iq - du,
            u,
            q,
            iq,
            dg,
            ddg: (u * dg * dg - rs) * iq,
        }
    }

    /// Exact dead centres.
    ///
    /// Equation: front `f = -asin(e/(l + r))`, `s = sqrt((l + r)² - e²)`; back
    /// `f = π - asin(e/(l - r))`, `s = sqrt((l - r)² - e²)`. Own derivation (crank and rod in one
    /// straight line), shown in the source.
    /// Units: rad and m. Worked value: with `e = 0`, 0 and π, `l + r` and `l - r`.
    pub fn dead_centres(&self) -> DeadCentres {
        let (r, l, e) = (self.throw_m, self.rod_m, self.offset_m);
        let (out, folded) = (l + r, l - r);
        DeadCentres {
            front_crank_rad: -(e / out).asin(),
            back_crank_rad: std::f64::consts::PI - (e / folded).asin(),
            front_m: ((out - e) * (out + e)).sqrt(),
            back_m: ((folded - e) * (folded + e)).sqrt(),
        }
    }

    /// The two crank angles at which the crosshead pin stands at a given place: first the one
    /// with the piston travelling *back* in forward rotation (less than half a turn past front
    /// dead centre), then the one travelling forward. At a dead centre both are the same.
    ///
    /// Equation: with `d² = s² + e²`, the crank stands at `A` from the line to the crosshead pin,
    /// `tan²(A/2) = (l² - (d - r)²)/((d + r)² - l²)`, and that line at `atan2(e, s)` above the
    /// cylinder line: `f = -atan2(e, s) ± A`. Own derivation (half-angle form of the law of
    /// cosines, which keeps its digits at the dead centres).
    /// Units: m in, rad out.
    ///
    /// # Errors
    /// [`MotionError::OutsideStroke`] beyond either end of the stroke.
    pub fn crank_angles_at(&self, crosshead_m: f64) -> Result<[f64; 2], MotionError> {
        const CROSSHEAD: Bound = Bound::new("crosshead position", "m", 0.0, 2e5);
        let s = CROSSHEAD.check(crosshead_m)?;
        let (r, l, e) = (self.throw_m, self.rod_m, self.offset_m);
        let ends = self.dead_centres();
        // A place a hair beyond the end (rounding of a caller who went through the stroke
        // fraction) counts as the end itself.
        let hair = 1e-12 * (l + r);
        if s < ends.back_m - hair || ends.front_m + hair < s {
            return Err(MotionError::OutsideStroke {
                position_m: s,
                back_m: ends.back_m,
                front_m: ends.front_m,
            });
        }
        let d = s.hypot(e);
        let near = ((l - (d - r)) * (l + (d - r))).max(0.0);
        let far = ((d + r - l) * (d + r + l)).max(0.0);
        let spread = 2.0 * near.sqrt().atan2(far.sqrt());
        let middle = -e.atan2(s);
        Ok([middle + spread, middle - spread])
    }

    /// Exact derivatives of the crosshead position by the sizes at a fixed crank angle.
    ///
    /// Equation: `ds/dr = cos f - u sin f/q`, `ds/dl = l/q`, `ds/de = -u/q`, with
    /// `u = e + r sin f`, `q = sqrt(l² - u²)`. Own derivation (differentiating the position).
    /// At a dead centre they are also the derivatives of the dead-centre position itself, since
    /// there `ds/df = 0`.
    /// Units: m/m, the last m/rad.
    ///
    /// # Errors
    /// The angle is not finite or out of range.
    pub fn partials(&self, crank_angle_rad: f64) -> Result<SliderCrankPartials, MotionError> {
        let (sin, cos) = CRANK.check(crank_angle_rad)?.sin_cos();
        let rod = self.rod_line(sin, cos);
        Ok(SliderCrankPartials {
            by_throw: cos - rod.u * sin * rod.iq,
            by_rod: self.rod_m * rod.iq,
            by_offset: -rod.u * rod.iq,
            by_angle_m: rod.ds,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_what_cannot_turn() {
        assert!(SliderCrank::new(0.3, 0.3, 0.0).is_err());
        assert!(SliderCrank::new(0.3, 1.0, 0.7).is_err());
        for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 1e9] {
            assert!(SliderCrank::new(bad, 1.8, 0.0).is_err());
            assert!(SliderCrank::new(0.3, bad, 0.0).is_err());
        }
        assert!(SliderCrank::new(0.3, 1.8, f64::NAN).is_err());
    }

    #[test]
    fn the_inverse_gives_back_the_angle() -> Result<(), MotionError> {
        for offset_m in [-0.05, 0.0, 0.08] {
            let sc = SliderCrank::new(0.3, 1.7, offset_m)?;
            let ends = sc.dead_centres();
            for i in 0..=100 {
                let past = f64::from(i) / 100.0 * (ends.back_crank_rad - ends.front_crank_rad);
                let f = ends.front_crank_rad + past;
                let s = sc.at(f)?.position_m.min(ends.front_m).max(ends.back_m);
                let [back, forward] = sc.crank_angles_at(s)?;
                assert!((sc.at(back)?.position_m - s).abs() < 1e-13);
                assert!((sc.at(forward)?.position_m - s).abs() < 1e-13);
                // Near the ends the angle is worth only the square root of the position's digits.
                assert!((back - f).abs() < 1e-7, "{offset_m} {i} {back} {f}");
            }
        }
        Ok(())
    }
}
