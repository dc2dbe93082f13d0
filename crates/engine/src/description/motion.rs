//! The records of the motion: cylinders, axles, turning masses, windows and bump marks.

use super::{Text, merge};
use serde::Deserialize;

layered_shape! {
    /// `[motion]`: what the cylinders share.
    MotionText {
        /// Tyre diameter on tread of the driven wheels.
        tyre: Option<Text>,
        /// two inside, two outside, three, four: where the cranks stand, unless a cylinder says.
        sequence: Option<Text>,
        /// left or right: the crank that passes a mark first in forward gear.
        leading: Option<Text>,
        /// even cranks or even beats, for three cylinders.
        beats: Option<Text>,
        /// Distance between the middles of the driving axleboxes.
        box_centres: Option<Text>,
        /// Left driving box forward of the middle of its horns.
        left_box_fore: Option<Text>,
        /// Right driving box forward of the middle of its horns.
        right_box_fore: Option<Text>,
        /// Left driving box above its drawn height against the frames.
        left_box_rise: Option<Text>,
        /// Right driving box above its drawn height against the frames.
        right_box_rise: Option<Text>,
        /// Boiler pressure.
        pressure: Option<Text>,
        /// Mean effective pressure as a share of the boiler's, for the standard tractive effort.
        mean_share: Option<Text>,
        /// Pressure while exhausting.
        back_pressure: Option<Text>,
        /// The atmosphere.
        atmosphere: Option<Text>,
        /// Clearance volume as a share of the swept volume.
        clearance_volume: Option<Text>,
        /// Share of the stroke at which the exhaust opens.
        release: Option<Text>,
        /// Share of the stroke still to run home when the exhaust shuts.
        compression: Option<Text>,
        /// Material of the connecting rods.
        rod_material: Option<Text>,
        /// Its modulus of elasticity.
        rod_elastic: Option<Text>,
        /// Its yield stress.
        rod_yield: Option<Text>,
        /// End condition of the rod sideways, 1 (pins) to 4 (held).
        rod_ends_sideways: Option<Text>,
        /// Where those figures come from.
        rod_source: Option<Text>,
        /// Share of the reciprocating masses that is balanced.
        balanced: Option<Text>,
        /// Throw of the coupling cranks.
        coupling_throw: Option<Text>,
        /// Angle of the left coupling cranks behind the crank of lag zero in forward running.
        left_coupling_lag: Option<Text>,
        /// Angle of the right coupling cranks.
        right_coupling_lag: Option<Text>,
    }
}

layered_shape! {
    /// `[[cylinder]]`: one cylinder with its crank, rod and piston.
    CylinderText {
        /// Short id, as said in the shop: left, right, middle, left inside.
        id: Option<Text>,
        /// Name.
        name: Option<Text>,
        /// left outside, left inside, middle, right inside, right outside.
        place: Option<Text>,
        /// From the engine's middle to the middle of the crank pin.
        from_middle: Option<Text>,
        /// Angle of this crank behind the crank of lag zero in forward running.
        lag: Option<Text>,
        /// Incline of the line, front end higher: an angle or 1 in 12; with a minus, lower.
        incline: Option<Text>,
        /// Height of the line above the driving axle as drawn, square to the line.
        offset: Option<Text>,
        /// Crank throw.
        throw: Option<Text>,
        /// Rod centres.
        rod_centres: Option<Text>,
        /// Change of the rod centres by taking up the big end since they were read.
        big_end_take_up: Option<Text>,
        /// Change of the rod centres by taking up the small end since they were read.
        small_end_take_up: Option<Text>,
        /// Cylinder over its end faces.
        cylinder_length: Option<Text>,
        /// How far the front cover reaches in.
        front_spigot: Option<Text>,
        /// How far the back cover reaches in.
        back_spigot: Option<Text>,
        /// Front cover joint as pulled up.
        front_joint: Option<Text>,
        /// Back cover joint as pulled up.
        back_joint: Option<Text>,
        /// Piston over the faces that would meet the covers.
        piston_thickness: Option<Text>,
        /// Rod from the gauge plane of its cone to the piston's back face.
        cone_to_piston: Option<Text>,
        /// Crosshead pin to the gauge plane of the cone seat.
        pin_to_cone: Option<Text>,
        /// Along the line from the axle centre as drawn to the cylinder's back face.
        axle_to_cylinder: Option<Text>,
        /// Big-end clearance on the diameter.
        big_end_slack: Option<Text>,
        /// Small-end clearance on the diameter.
        small_end_slack: Option<Text>,
        /// Axle journal clearance along the rod.
        journal_slack: Option<Text>,
        /// Fore-and-aft gap of the box in its horns.
        horn_slack: Option<Text>,
        /// Chain that says the same as the front clearance with the box otherwise in its horns: the
        /// cylinder tells it instead.
        front_chain: Option<Text>,
        /// Chain that says the same as the back clearance.
        back_chain: Option<Text>,
        /// Bore.
        bore: Option<Text>,
        /// Piston rod diameter.
        piston_rod: Option<Text>,
        /// Tail rod diameter.
        tail_rod: Option<Text>,
        /// Piston, rod, crosshead and pin together.
        piston_mass: Option<Text>,
        /// Connecting rod with its brasses.
        rod_mass: Option<Text>,
        /// Centre of mass of the rod from the small end.
        rod_balance_point: Option<Text>,
        /// Turning mass at the crank throw besides the rod's share: pin, webs.
        crank_mass: Option<Text>,
        /// Friction coefficient of the slippers.
        slide_friction: Option<Text>,
        /// Friction of rings and glands.
        piston_friction: Option<Text>,
        /// Crank pin diameter.
        crank_pin: Option<Text>,
        /// Length of the big end that bears.
        big_end_length: Option<Text>,
        /// Crosshead pin diameter.
        crosshead_pin: Option<Text>,
        /// Length of the small end that bears.
        small_end_length: Option<Text>,
        /// Joint of the slippers in their bars.
        slide_bars: Option<Text>,
        /// Slipper length.
        slipper_length: Option<Text>,
        /// Slipper width.
        slipper_width: Option<Text>,
        /// Rod section, depth in the plane of the motion.
        rod_depth: Option<Text>,
        /// Rod section, width sideways.
        rod_width: Option<Text>,
        /// Thickness of the flanges of a fluted rod.
        rod_flange: Option<Text>,
        /// Thickness of its web.
        rod_web: Option<Text>,
    }
}

layered_shape! {
    /// `[[axle]]`: a coupled axle, for balance and for what its boxes and rods carry; from front
    /// to back in the file.
    AxleText {
        /// Short id.
        id: Option<Text>,
        /// yes for the axle the cylinders drive.
        driven: Option<toml::Spanned<bool>>,
        /// From the engine's middle to the planes of the balance weights.
        weight_plane: Option<Text>,
        /// Share of the balanced reciprocating masses whose weights sit on this axle.
        reciprocating_share: Option<Text>,
        /// Balance weight fitted left: mass.
        left_weight: Option<Text>,
        /// Radius of its centre of mass.
        left_weight_radius: Option<Text>,
        /// Its angle behind the crank of lag zero in forward running.
        left_weight_lag: Option<Text>,
        /// Balance weight fitted right: mass.
        right_weight: Option<Text>,
        /// Radius of its centre of mass.
        right_weight_radius: Option<Text>,
        /// Its angle behind the crank of lag zero in forward running.
        right_weight_lag: Option<Text>,
        /// Load of one wheel on the rail at rest.
        wheel_load: Option<Text>,
        /// Both wheels, axle and what is fast on them.
        wheelset_mass: Option<Text>,
        /// Joint of the left journal in its box.
        left_box: Option<Text>,
        /// Joint of the right journal in its box.
        right_box: Option<Text>,
        /// Joint of the left coupling pin in its bush.
        left_coupling_bush: Option<Text>,
        /// Joint of the right coupling pin in its bush.
        right_coupling_bush: Option<Text>,
        /// From the engine's middle to the middle of the coupling pins.
        coupling_from_middle: Option<Text>,
        /// Length, between the pins, of the rods from this axle to the next behind.
        coupling_rod: Option<Text>,
        /// Mass of one such rod.
        coupling_rod_mass: Option<Text>,
        /// Depth of its section.
        coupling_rod_depth: Option<Text>,
        /// Width of its section.
        coupling_rod_width: Option<Text>,
    }
}

layered_shape! {
    /// `[[turning-mass]]`: a mass that turns with an axle: coupling pin, rod share, eccentric.
    TurningMassText {
        /// Short id.
        id: Option<Text>,
        /// Axle.
        axle: Option<Text>,
        /// Mass.
        mass: Option<Text>,
        /// Radius of its centre.
        radius: Option<Text>,
        /// Its angle behind the crank of lag zero in forward running.
        lag: Option<Text>,
        /// left or right.
        side: Option<Text>,
        /// From the engine's middle.
        from_middle: Option<Text>,
    }
}

layered_shape! {
    /// `[[reach]]`: where the wheels must stand for something to be got at.
    ReachText {
        /// Joint or feature.
        to: Option<Text>,
        /// Cylinder whose crank the angles are of.
        crank: Option<Text>,
        /// From this angle past its front dead centre.
        from: Option<Text>,
        /// Until this angle, going forward.
        until: Option<Text>,
        /// pit, above or side.
        by: Option<Text>,
        /// Remark.
        note: Option<Text>,
    }
}

text_shape! {
    /// `[[bump]]`: one mark of a bump test.
    BumpText {
        /// Cylinder.
        cylinder: Option<Text>,
        /// bump front, front end, back end or bump back.
        mark: Option<Text>,
        /// Position on the bar from any zero, towards the front positive.
        at: Option<Text>,
        /// Gauge.
        gauge: Option<Text>,
        /// How the slack lay when the ends of the stroke were marked: middle, forward, back.
        slack: Option<Text>,
        /// Person.
        by: Option<Text>,
        /// Day.
        when: Option<Text>,
    }
}

layered_shape! {
    /// `[[fatigue]]`: strength of a part under stress that comes and goes, and who says so.
    FatigueText {
        /// Short id.
        id: Option<Text>,
        /// connecting rod, piston rod, crank pin or coupling rod.
        part: Option<Text>,
        /// Diameter of the section judged, for a piston rod or a crank pin.
        diameter: Option<Text>,
        /// From the middle of the load to the section judged, for a crank pin.
        arm: Option<Text>,
        /// Ultimate tensile strength.
        ultimate: Option<Text>,
        /// Yield strength.
        r#yield: Option<Text>,
        /// Endurance limit of the part as it is: surface, size and corrosion taken off.
        endurance: Option<Text>,
        /// Factor on the stress for shoulder, hole or keyway at the section.
        concentration: Option<Text>,
        /// goodman, soderberg or gerber.
        criterion: Option<Text>,
        /// Where those figures come from.
        source: Option<Text>,
    }
}
