//! The force to drive a bolt home, and to draw it.

use super::error::need;
use super::{BoltDesign, BoltError, HoleForm};
use crate::press::{
    Behaviour, FrictionBand, HubStation, Material, PinStation, PressCurve, StrokeInput, press_curve,
};

/// A member as a ring round its hole.
#[derive(Debug, Clone, PartialEq)]
pub struct DriveMember {
    /// The hole.
    pub hole: HoleForm,
    /// Outside diameter of the ring the member is taken as (m): twice the least edge distance is
    /// on the weak side, the width of the member on the stiff side.
    pub outer_m: f64,
    /// Its material.
    pub material: Material,
    /// Gap between this member and the next (m).
    pub gap_after_m: f64,
}

/// A hydraulic jack that draws the bolt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jack {
    /// Effective area of its ram (m^2): the annulus in a pulling jack.
    pub area_m2: f64,
    /// Pressure it is rated for (Pa).
    pub rated_pa: f64,
}

/// What the drive needs.
#[derive(Debug, Clone, PartialEq)]
pub struct DriveInput {
    /// The members, head side first, the same as those of the design.
    pub members: Vec<DriveMember>,
    /// The bolt's material.
    pub bolt_material: Material,
    /// Friction while moving.
    pub friction: FrictionBand,
    /// Interference lost to smoothing (m).
    pub smoothing_loss_m: f64,
    /// Standard uncertainty of a land against its hole (m): twice it widens the band.
    pub interference_u_m: f64,
    /// Whether the members are taken as elastic, or may yield round the bolt.
    pub behaviour: Behaviour,
    /// Force to start a bolt that has stood, over the force to keep it moving (-): 1 or more.
    /// Rust and time make this large; it has no upper bound worth the name.
    pub breakaway: f64,
    /// The jack, when one is used.
    pub jack: Option<Jack>,
}

/// Force and pressure.
#[derive(Debug, Clone, PartialEq)]
pub struct DriveResult {
    /// Force along the stroke from the leading edge at the head-side face to home.
    pub curve: PressCurve,
    /// How far the bolt still has to go when it first grips in the high curve (m); `None` when
    /// it slides all the way.
    pub grips_before_home_m: Option<f64>,
    /// Force to start it out: low, likely, high (N).
    pub draw_n: (f64, f64, f64),
    /// Jack pressure for that: low, likely, high (Pa); `None` without a jack.
    pub jack_pa: Option<(f64, f64, f64)>,
    /// Whether the jack's rating covers the high figure.
    pub jack_covers: Option<bool>,
    /// Cautions. Show them all.
    pub cautions: Vec<&'static str>,
}

/// Force to drive a designed bolt home, and force and jack pressure to draw it.
///
/// The bolt is a pin with its lands at the middle of their bands, the members are rings with the
/// bores of their stations; the force is that of [`press_curve`], member beside member, each with
/// its own material. Half the widest land tolerance and twice the uncertainty widen the band.
/// Drawing starts at `breakaway` times the force at home; jack pressure is force over ram area.
///
/// Source: as [`press_curve`]; Pascal for the jack.
///
/// # Errors
/// [`BoltError::Unequal`] when members and design differ, [`BoltError::BadNumber`],
/// [`BoltError::Press`].
pub fn drive_bolt(design: &BoltDesign, input: &DriveInput) -> Result<DriveResult, BoltError> {
    let expected = design.lands.iter().map(|l| l.member + 1).max().unwrap_or(0);
    let given = input.members.len();
    if given != expected {
        return Err(BoltError::Unequal { what: "members to drive through", given, expected });
    }
    let u = input.interference_u_m;
    need("uncertainty of the interference", u, "m", u >= 0.0, "not negative")?;
    need("breakaway", input.breakaway, "-", input.breakaway >= 1.0, "1 or more")?;
    if let Some(jack) = input.jack {
        need("jack area", jack.area_m2, "m^2", jack.area_m2 > 0.0, "above 0")?;
        need("jack rating", jack.rated_pa, "Pa", jack.rated_pa > 0.0, "above 0")?;
    }
    let mut pin = Vec::new();
    let mut half_tolerance: f64 = 0.0;
    for land in design.lands.iter().rev() {
        let size_m = land.middle_m();
        for end in [land.to_m, land.from_m] {
            let at_m = (design.grip_m - end).max(0.0);
            pin.push(PinStation { at_m, size_m, bore_m: 0.0 });
        }
        half_tolerance = half_tolerance.max(0.5 * (land.diameter_max_m - land.diameter_min_m));
    }
    let curve = press_curve(&StrokeInput {
        hub: hub_stations(&input.members)?,
        pin,
        pin_material: input.bolt_material,
        home_m: design.grip_m,
        smoothing_loss_m: input.smoothing_loss_m,
        interference_spread_m: half_tolerance + 2.0 * u,
        friction: input.friction,
        behaviour: input.behaviour,
        points: 201,
        cells: 64,
    })?;
    let home = curve.home;
    let times = |n: f64| n * input.breakaway;
    let draw_n = (times(home.low_n), times(home.likely_n), times(home.high_n));
    let jack_pa =
        input.jack.map(|j| (draw_n.0 / j.area_m2, draw_n.1 / j.area_m2, draw_n.2 / j.area_m2));
    let jack_covers = input.jack.zip(jack_pa).map(|(j, p)| p.2 <= j.rated_pa);
    let mut cautions = vec![
        "a jack stores energy and the bolt may let go at once: restrain bolt and jack, stand out of line, watch the gauge; a competent person works it",
        "stop when the force passes the high figure: find out what holds before going on",
        "a land that is dragged through a member scores it: oil it, and look at the bore after",
    ];
    if jack_covers == Some(false) {
        cautions.push("the jack's rating does not cover the high figure: use a larger ram");
    }
    Ok(DriveResult {
        grips_before_home_m: curve.grips_from_m.map(|s| (home.stroke_m - s).max(0.0)),
        curve,
        draw_n,
        jack_pa,
        jack_covers,
        cautions,
    })
}

fn hub_stations(members: &[DriveMember]) -> Result<Vec<HubStation>, BoltError> {
    let mut stations = Vec::new();
    let mut start = 0.0;
    for (index, member) in members.iter().enumerate() {
        need("ring round a hole", member.outer_m, "m", member.outer_m > 0.0, "above 0")?;
        need("gap", member.gap_after_m, "m", member.gap_after_m >= 0.0, "not negative")?;
        let at = |depth_m: f64| HubStation {
            at_m: start + depth_m,
            bore_m: member.hole.mean_at_m(depth_m),
            outer_m: member.outer_m,
            material: member.material,
        };
        let length_m = member.hole.length_m;
        stations.push(at(0.0));
        let inside = member.hole.stations.iter().map(|s| s.depth_m);
        stations.extend(inside.filter(|d| *d > 0.0 && *d < length_m).map(at));
        stations.push(at(length_m));
        if member.gap_after_m > 0.0 && index + 1 < members.len() {
            // A gap grips nothing: a bore that no land can touch.
            let last = at(length_m);
            let bore_m = 1.5 * last.bore_m;
            let outer_m = last.outer_m.max(2.0 * bore_m);
            stations.push(HubStation { bore_m, outer_m, ..last });
            let at_m = last.at_m + member.gap_after_m;
            stations.push(HubStation { at_m, bore_m, outer_m, ..last });
        }
        start += length_m + member.gap_after_m;
    }
    Ok(stations)
}
