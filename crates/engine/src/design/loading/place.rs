//! Which bearing of the motion a joint is.

use crate::design::ask::Ask;
use crate::motion::{Cylinder, Mechanism};
use mechanics::motion::{Contributor, CylinderNo, WheelAngle};

/// What a bearing is in the motion; cylinders and axles by their place in the engine's lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carries {
    /// The big end of a cylinder's rod.
    BigEnd(usize),
    /// The little end of a cylinder's rod.
    LittleEnd(usize),
    /// The slide bars of a cylinder.
    SlideBars(usize),
    /// An axlebox: of the axle that the cylinders drive, or of a coupled one.
    Axlebox {
        /// On the left.
        left: bool,
        /// Its axle, where the engine lists axles.
        axle: Option<usize>,
    },
    /// A horn of the axle that the cylinders drive.
    Horn {
        /// On the left.
        left: bool,
    },
    /// The bush of a coupling rod.
    CouplingPin {
        /// On the left.
        left: bool,
        /// Axle of its pin.
        axle: usize,
    },
}

/// What the joint that is asked about carries of the motion, if anything.
///
/// The slack that a cylinder's record names in its clearance chain is that of the joint itself;
/// slide bars are known by the part whose width the record names; coupling rods and coupled boxes
/// by the axle their duty names.
pub(in crate::design) fn carries(ask: &mut Ask<'_>) -> Option<Carries> {
    let engine = ask.judgement.engine();
    let ix = ask.joint;
    let joint = engine.joint(ix);
    for (at, c) in engine.motion.cylinders.iter().enumerate() {
        let names = |k: Contributor| {
            c.chain.get(&k).is_some_and(|s| s.joints.iter().any(|(_, j)| *j == ix))
        };
        let is_pin = |f: &str| {
            c.sizes.get(f).is_some_and(|s| s.features.iter().any(|(_, f)| *f == joint.inner))
        };
        if names(Contributor::BigEndSlack) || is_pin("crank-pin") {
            return Some(Carries::BigEnd(at));
        }
        if names(Contributor::SmallEndSlack) || is_pin("crosshead-pin") {
            return Some(Carries::LittleEnd(at));
        }
        if names(Contributor::JournalSlack) {
            let axle = engine.motion.axles.iter().position(|a| a.driven);
            return Some(Carries::Axlebox { left: is_left(c), axle });
        }
        if names(Contributor::HornSlack) {
            return Some(Carries::Horn { left: is_left(c) });
        }
        let on_bars = c.sizes.get("slipper-width").is_some_and(|s| {
            s.features.iter().any(|(_, width)| {
                let part = engine.feature(*width).part;
                [joint.inner, joint.outer]
                    .iter()
                    .any(|f| f != width && engine.feature(*f).part == part)
                    && joint.inner != *width
                    && joint.outer != *width
            })
        });
        if on_bars {
            return Some(Carries::SlideBars(at));
        }
    }
    let id = ask.maybe_text("coupled-axle")?;
    let axle = engine.motion.axles.iter().position(|a| a.id == id)?;
    let side = |f| engine.parts[engine.feature(f).part.index()].side.as_str();
    let sides = [side(joint.inner), side(joint.outer)];
    let left = sides.iter().find(|s| matches!(**s, "left" | "right")).map(|s| *s == "left")?;
    let rod = ask.has("coupling-throw") && ask.maybe_text("place") != Some("driving axle");
    Some(if rod {
        Carries::CouplingPin { left, axle }
    } else {
        Carries::Axlebox { left, axle: Some(axle) }
    })
}

fn is_left(c: &Cylinder) -> bool {
    use mechanics::motion::Place;
    matches!(c.place, Place::OutsideLeft | Place::InsideLeft)
}

/// Where the crank is at a wheel angle, in words.
pub(super) fn crank_words(
    ask: &Ask<'_>,
    mechanism: &Mechanism,
    carries: Carries,
    wheel_rad: f64,
) -> String {
    let engine = ask.judgement.engine();
    let at = match carries {
        Carries::BigEnd(at) | Carries::LittleEnd(at) | Carries::SlideBars(at) => at,
        Carries::Axlebox { left, .. }
        | Carries::Horn { left }
        | Carries::CouplingPin { left, .. } => {
            engine.motion.cylinders.iter().position(|c| is_left(c) == left).unwrap_or(0)
        }
    };
    let past = WheelAngle::from_rad(wheel_rad)
        .and_then(|w| mechanism.motion.cylinder_at(CylinderNo(at), w, &mechanism.running(0.0)))
        .map(|s| s.past_front_dead_centre_rad.to_degrees());
    let id = engine.motion.cylinders.get(at).map_or("", |c| c.id.as_str());
    match past {
        Ok(deg) => format!("{id} crank {:.0} deg past front dead centre", deg.rem_euclid(360.0)),
        Err(_) => format!("wheel angle {:.0} deg", wheel_rad.to_degrees()),
    }
}
