//! Where on the engine a joint is, roughly enough for a plan of the running gear.
//!
//! Read from the words of ids as the patterns give them (`big-end.left`, `horn.driving.right`). A
//! joint that says nothing of its place is elsewhere, and is still shown.

use crate::model::{Engine, JointIx};

/// How far along the engine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Along {
    /// At the cylinders.
    Cylinder,
    /// At the crossheads and bars.
    Crosshead,
    /// At a coupled axle, counted from the front.
    Axle(usize),
    /// At the valve gear, before the driving axle.
    Gear,
    /// At an axle of the tender, counted from the front.
    Tender(usize),
    /// Between engine and tender.
    Drawbar,
    /// Not told.
    Elsewhere,
}

/// How far out from the middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Out {
    /// Valve gear, between the motions.
    Middle,
    /// Piston to big end.
    Motion,
    /// Axleboxes, horns, springs.
    Box,
    /// Coupling rods and their pins.
    Rods,
}

/// Which side of the engine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Left, looking forward.
    Left,
    /// Right.
    Right,
    /// Neither.
    Both,
}

/// The place of a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JointPlace {
    /// Joint.
    pub joint: JointIx,
    /// How far along.
    pub along: Along,
    /// How far out.
    pub out: Out,
    /// Which side.
    pub side: Side,
}

/// A plan of the running gear.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GearPlan {
    /// Coupled axles by name, front first.
    pub axles: Vec<String>,
    /// The one that the cylinders drive, by its place in that list.
    pub driving: usize,
    /// Tender axles.
    pub tender_axles: usize,
    /// The cylinders are between the frames.
    pub inside: bool,
    /// Every joint.
    pub places: Vec<JointPlace>,
}

/// Where every joint is.
pub fn gear_plan(engine: &Engine) -> GearPlan {
    let axles: Vec<String> = if engine.motion.axles.is_empty() {
        let named = engine.parts.iter().filter_map(|p| p.id.strip_prefix("axle."));
        named.filter(|n| !n.contains('.')).map(str::to_owned).collect()
    } else {
        engine.motion.axles.iter().map(|a| a.id.clone()).collect()
    };
    let driven = engine.motion.axles.iter().position(|a| a.driven);
    let driving =
        driven.or_else(|| axles.iter().position(|a| a == "driving")).unwrap_or(axles.len() / 2);
    let inside = engine.motion.cylinders.is_empty()
        || engine.motion.cylinders.iter().any(|c| c.place.is_inside());
    let places: Vec<JointPlace> = engine
        .joints
        .iter()
        .enumerate()
        .map(|(n, joint)| {
            let (along, out, side) = place_of(&joint.id, &axles, driving);
            JointPlace { joint: JointIx::new(n), along, out, side }
        })
        .collect();
    let tender_axles = places
        .iter()
        .filter_map(|p| match p.along {
            Along::Tender(n) => Some(n + 1),
            _ => None,
        })
        .max()
        .unwrap_or(0);
    GearPlan { axles, driving, tender_axles, inside, places }
}

fn place_of(id: &str, axles: &[String], driving: usize) -> (Along, Out, Side) {
    let words: Vec<&str> = id.split('.').collect();
    let first = words.first().copied().unwrap_or("");
    let side = match () {
        () if words.contains(&"left") => Side::Left,
        () if words.contains(&"right") => Side::Right,
        () => Side::Both,
    };
    let axle = axles.iter().position(|a| words.contains(&a.as_str()));
    let at_axle = |out| (Along::Axle(axle.unwrap_or(driving)), out, side);
    match first {
        "piston" | "ring" | "neck-bush" => (Along::Cylinder, Out::Motion, side),
        "valve" | "valve-guide" => (Along::Cylinder, Out::Middle, side),
        "piston-rod" if words.contains(&"piston") => (Along::Cylinder, Out::Motion, side),
        "piston-rod" | "small-end" | "gudgeon-pin" | "slide-bars" | "cotter" => {
            (Along::Crosshead, Out::Motion, side)
        }
        "big-end" | "brass" | "wedge" | "strap" => at_axle(Out::Motion),
        "eccentric" | "return-crank" => at_axle(Out::Middle),
        "link" | "die" | "die-pin" | "valve-rod" | "lifting-link" | "reversing-shaft" | "lever"
        | "trunnion" => (Along::Gear, Out::Middle, side),
        "axlebox" | "horn" | "crown" | "spring" | "brake" => at_axle(Out::Box),
        "coupling-rod" | "coupling-pin" | "bush" | "knuckle" => at_axle(Out::Rods),
        "tender" | "tender-guide" => {
            let number = words.iter().find_map(|w| w.parse::<usize>().ok()).unwrap_or(1);
            // An axle of that number would be longer than any tender.
            (Along::Tender(number.clamp(1, 12) - 1), Out::Box, side)
        }
        "drawbar" | "brake-shaft" => (Along::Drawbar, Out::Middle, side),
        _ => (Along::Elsewhere, Out::Middle, side),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_of_the_patterns_say_where_they_are() {
        let axles = ["leading", "driving", "trailing"].map(str::to_owned);
        for (id, along, out, side) in [
            ("big-end.left", Along::Axle(1), Out::Motion, Side::Left),
            ("horn.trailing.right.flanges", Along::Axle(2), Out::Box, Side::Right),
            ("coupling-rod.left.leading", Along::Axle(0), Out::Rods, Side::Left),
            ("piston-rod.right.piston", Along::Cylinder, Out::Motion, Side::Right),
            ("piston-rod.right.crosshead", Along::Crosshead, Out::Motion, Side::Right),
            ("tender.3.left", Along::Tender(2), Out::Box, Side::Left),
            ("drawbar.front", Along::Drawbar, Out::Middle, Side::Both),
            ("<b>", Along::Elsewhere, Out::Middle, Side::Both),
        ] {
            assert_eq!(place_of(id, &axles, 1), (along, out, side), "{id}");
        }
        assert_eq!(place_of("tender.999.left", &axles, 1).0, Along::Tender(11));
    }
}
