//! Shear, bearing and edges of a fitted bolt under load.

use super::BoltError;
use super::error::need;

/// One member as the load sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadMember {
    /// Share of the bolt's load it takes, signed: in a strap round a butt the legs take -0.5
    /// each and the butt 1 (-). The shares of all members sum to 0.
    pub share: f64,
    /// Diameter of the land in it (m).
    pub land_m: f64,
    /// Length that bears (m).
    pub length_m: f64,
    /// From the hole's centre to the nearest edge the load pulls towards (m).
    pub edge_m: f64,
}

/// The load of a joint of several bolts.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltLoad {
    /// Load of the whole joint (N).
    pub total_n: f64,
    /// How many bolts share it.
    pub bolts: u32,
    /// Load of the worst bolt over the even share (-), 1 or more: bolts that do not all fit alike
    /// do not share alike.
    pub worst_factor: f64,
    /// The members, head side first.
    pub members: Vec<LoadMember>,
    /// Shear stress allowed (Pa), from the responsible engineer.
    pub shear_allowed_pa: f64,
    /// Bearing pressure allowed (Pa).
    pub bearing_allowed_pa: f64,
    /// Least edge distance over hole diameter (-); 1.5 is common practice.
    pub edge_ratio_least: f64,
}

/// One shear plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlaneStress {
    /// The plane lies behind this member.
    pub after_member: usize,
    /// Force across it (N).
    pub force_n: f64,
    /// Diameter of the smaller land at it (m).
    pub diameter_m: f64,
    /// Mean shear stress (Pa); the greatest, at the middle of a round section, is a third more.
    pub shear_pa: f64,
}

/// One member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MemberStress {
    /// Bearing pressure on the projected area (Pa).
    pub bearing_pa: f64,
    /// Edge distance over hole diameter (-).
    pub edge_ratio: f64,
    /// Shear of the metal between hole and edge, two planes of length `edge - d/2` (Pa).
    pub tear_out_pa: f64,
}

/// The stresses of the worst bolt.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltStress {
    /// Load of the worst bolt (N).
    pub bolt_n: f64,
    /// Shear planes, head side first.
    pub planes: Vec<PlaneStress>,
    /// Members, head side first.
    pub members: Vec<MemberStress>,
    /// Allowed over greatest shear (-); infinite without load.
    pub shear_margin: f64,
    /// Allowed over greatest bearing (-).
    pub bearing_margin: f64,
    /// Whether every member keeps the edge distance.
    pub edges_kept: bool,
}

/// Shear, bearing and edges of the worst bolt of a joint.
///
/// `F = total/bolts * worst factor`; across the plane behind member i the force is
/// `F |sum of shares to i|`, the mean shear `4 F/(pi d^2)` with the smaller land beside it;
/// bearing `F |share|/(d l)`; tear-out `F |share|/(2 (e - d/2) l)`.
///
/// Valid range: short bolts that fit (no bending), load square to the bolt. Source: Shigley,
/// *Mechanical Engineering Design* (bolted and pinned joints in shear); Khurmi & Gupta, *Machine
/// Design* (knuckle joint). Worked value: 150 kN on a 52 mm pin in double shear -> 35.3 MPa;
/// eye 65 mm thick -> bearing 44.4 MPa (Khurmi, knuckle joint; from memory).
///
/// # Errors
/// [`BoltError::TooFew`] under two members, [`BoltError::LoadDoesNotBalance`],
/// [`BoltError::BadNumber`].
pub fn load_bolt(load: &BoltLoad) -> Result<BoltStress, BoltError> {
    check(load)?;
    let bolt_n = load.total_n.abs() / f64::from(load.bolts) * load.worst_factor;
    let mut planes = Vec::new();
    let mut sum = 0.0;
    for (after_member, pair) in load.members.windows(2).enumerate() {
        sum += pair[0].share;
        let diameter_m = pair[0].land_m.min(pair[1].land_m);
        let force_n = bolt_n * f64::abs(sum);
        let shear_pa = force_n / (std::f64::consts::FRAC_PI_4 * diameter_m * diameter_m);
        planes.push(PlaneStress { after_member, force_n, diameter_m, shear_pa });
    }
    let members: Vec<MemberStress> = load
        .members
        .iter()
        .map(|m| {
            let force_n = bolt_n * m.share.abs();
            MemberStress {
                bearing_pa: force_n / (m.land_m * m.length_m),
                edge_ratio: m.edge_m / m.land_m,
                tear_out_pa: force_n / (2.0 * (m.edge_m - 0.5 * m.land_m) * m.length_m),
            }
        })
        .collect();
    let greatest_shear = planes.iter().map(|p| p.shear_pa).fold(0.0, f64::max);
    let greatest_bearing = members.iter().map(|m| m.bearing_pa).fold(0.0, f64::max);
    Ok(BoltStress {
        bolt_n,
        shear_margin: load.shear_allowed_pa / greatest_shear,
        bearing_margin: load.bearing_allowed_pa / greatest_bearing,
        edges_kept: members.iter().all(|m| m.edge_ratio >= load.edge_ratio_least - 1e-12),
        planes,
        members,
    })
}

fn check(load: &BoltLoad) -> Result<(), BoltError> {
    let given = load.members.len();
    if given < 2 {
        return Err(BoltError::TooFew { what: "members under load", given, least: 2 });
    }
    need("load", load.total_n, "N", true, "a number")?;
    need("bolts", f64::from(load.bolts), "-", load.bolts > 0, "1 or more")?;
    need("worst factor", load.worst_factor, "-", load.worst_factor >= 1.0, "1 or more")?;
    need("shear allowed", load.shear_allowed_pa, "Pa", load.shear_allowed_pa > 0.0, "above 0")?;
    let bearing = load.bearing_allowed_pa;
    need("bearing allowed", bearing, "Pa", bearing > 0.0, "above 0")?;
    let ratio = load.edge_ratio_least;
    need("least edge ratio", ratio, "-", ratio >= 0.0, "not negative")?;
    let mut sum = 0.0;
    for m in &load.members {
        need("share of the load", m.share, "-", true, "a number")?;
        need("land", m.land_m, "m", m.land_m > 0.0, "above 0")?;
        need("bearing length", m.length_m, "m", m.length_m > 0.0, "above 0")?;
        let beyond = m.edge_m > 0.5 * m.land_m;
        need("edge distance", m.edge_m, "m", beyond, "more than half the hole")?;
        sum += m.share;
    }
    if sum.abs() > 1e-6 {
        return Err(BoltError::LoadDoesNotBalance { sum });
    }
    Ok(())
}
