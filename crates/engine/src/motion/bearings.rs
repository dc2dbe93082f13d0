//! What each bearing of the motion carries through a revolution, for whoever judges its duty.

use super::coupling::CouplingWorking;
use super::error::{Missing, NoAnswer};
use super::mechanism::Mechanism;
use super::resolve::Notes;
use super::working::{SteamSaid, Working, working};
use crate::judge::Judgement;
use crate::model::{Engine, JointIx};
use mechanics::motion::{Contributor, CylinderState, WheelAngle};
use quantity::{Dimension, print_both};

/// Which bearing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BearingKind {
    /// Connecting rod on the crank pin.
    BigEnd,
    /// Connecting rod on the crosshead pin.
    SmallEnd,
    /// Slippers on their bars.
    SlideBar,
    /// Journal in its axlebox.
    Axlebox,
    /// Coupling rods on one pin.
    CouplingBush,
}

impl BearingKind {
    /// The words for it.
    pub fn word(self) -> &'static str {
        match self {
            BearingKind::BigEnd => "big end",
            BearingKind::SmallEnd => "small end",
            BearingKind::SlideBar => "slide bars",
            BearingKind::Axlebox => "axlebox",
            BearingKind::CouplingBush => "coupling bush",
        }
    }

    /// What the two parts of its load are, seen from the part that holds the metal.
    pub fn frame(self) -> &'static str {
        match self {
            BearingKind::BigEnd => {
                "pin on the brasses: along, positive on the brass away from the rod; across, up from the rod"
            }
            BearingKind::SmallEnd => {
                "pin on the bush: along, positive towards the big end; across, up from the rod"
            }
            BearingKind::SlideBar => {
                "crosshead on the bars: along nothing; across, positive on the upper bar"
            }
            BearingKind::Axlebox => "journal on the box: along, forward; across, upward",
            BearingKind::CouplingBush => "pin on the bush: along, forward; across, upward",
        }
    }
}

/// A load at one wheel angle; what the parts are says [`BearingKind::frame`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadAt {
    /// Wheel angle, rad.
    pub wheel_angle_rad: f64,
    /// Along, N.
    pub along_n: f64,
    /// Across, N.
    pub across_n: f64,
}

impl LoadAt {
    /// Amount, N.
    pub fn load_n(&self) -> f64 {
        self.along_n.hypot(self.across_n)
    }
}

/// How the bearing rubs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rubbing {
    /// Turns or swings: mean and greatest angular speed in it, rad/s.
    Turns {
        /// Mean of its amount, rad/s.
        mean_rad_s: f64,
        /// Greatest, rad/s.
        greatest_rad_s: f64,
    },
    /// Slides: mean and greatest speed, m/s.
    Slides {
        /// Mean of its amount, m/s.
        mean_m_s: f64,
        /// Greatest, m/s.
        greatest_m_s: f64,
    },
}

/// One bearing through a revolution.
#[derive(Clone, Debug)]
pub struct BearingLoad {
    /// Which.
    pub kind: BearingKind,
    /// Its name: `big end of left`.
    pub name: String,
    /// The joint of the engine that it is, where the file says.
    pub joint: Option<JointIx>,
    /// Position of its cylinder, for a bearing of rod or crosshead.
    pub cylinder: Option<usize>,
    /// Position of its axle, for a box or a bush.
    pub axle: Option<usize>,
    /// Greatest load, N.
    pub greatest_n: f64,
    /// Wheel angle of the greatest, rad.
    pub greatest_at_rad: f64,
    /// Mean of the load's amount, N.
    pub mean_n: f64,
    /// Greatest load against the direction of the greatest, N; nothing where it never turns round.
    pub opposite_n: f64,
    /// How it rubs.
    pub rubbing: Rubbing,
    /// One point a step, half a degree apart from wheel angle 0: a polar diagram.
    pub points: Vec<LoadAt>,
    /// What has been left out of this one, in words.
    pub left_out: Vec<String>,
}

impl BearingLoad {
    /// The load passes from one side of the bearing to the other in every turn.
    pub fn reverses(&self) -> bool {
        0.0 < self.opposite_n
    }
}

/// Every bearing of the motion at one working point.
#[derive(Clone, Debug)]
pub struct BearingLoads {
    /// Speed of the wheels, rad/s.
    pub wheel_rad_s: f64,
    /// Speed of the engine, m/s.
    pub speed_m_s: f64,
    /// What the steam does, in words.
    pub steam: String,
    /// Those that could be worked out.
    pub bearings: Vec<BearingLoad>,
    /// What the others lack.
    pub missing: Vec<Missing>,
    /// What they rest on.
    pub notes: Notes,
}

impl BearingLoads {
    /// The bearing that is this joint.
    pub fn of_joint(&self, joint: JointIx) -> Option<&BearingLoad> {
        self.bearings.iter().find(|b| b.joint == Some(joint))
    }

    /// Working point in words: speed of the wheels and what the steam does.
    pub fn at_words(&self) -> String {
        format!(
            "{} and {}",
            print_both(self.speed_m_s, Dimension::Speed, Some(self.speed_m_s.abs() / 500.0)),
            self.steam
        )
    }
}

/// Loads of every bearing with the wheels turning at `wheel_rad_s` and this steam.
///
/// Loads are those of `mechanics::loads`: rigid parts, no weight of the moving parts, no blows. A
/// box carries its dead load steadily, springs being soft beside the rail: what the rods press up
/// and down goes straight to the rail.
///
/// # Errors
/// Everything without which no load can be had: tyre, bore, piston rod, masses.
pub fn bearing_loads(
    judgement: &Judgement,
    wheel_rad_s: f64,
    steam: &SteamSaid,
) -> Result<BearingLoads, NoAnswer> {
    let mechanism = Mechanism::of(judgement)?;
    let speed_m_s = 0.5 * wheel_rad_s * mechanism.tyre()?.diameter_m;
    let w = working(judgement, &mechanism, speed_m_s, steam)?;
    bearings_of(judgement.engine(), &mechanism, &w)
}

/// Loads of every bearing from loads of the motion already worked out.
///
/// # Errors
/// An angle out of range; loads of another motion.
pub fn bearings_of(
    engine: &Engine,
    mechanism: &Mechanism,
    w: &Working,
) -> Result<BearingLoads, NoAnswer> {
    let running = mechanism.running(w.wheel_rad_s);
    let mut bearings = Vec::new();
    let states: Vec<Vec<CylinderState>> = w
        .loads
        .wheel_angle_rad
        .iter()
        .map(|a| mechanism.motion.at(WheelAngle::from_rad(*a)?, &running))
        .collect::<Result<_, _>>()?;
    for at in 0..engine.motion.cylinders.len() {
        of_cylinder(engine, w, &states, at, &mut bearings);
    }
    let mut missing = Vec::new();
    match &w.coupling {
        Ok(c) => of_axles(engine, w, c, &mut bearings),
        Err(lacks) => missing.extend(lacks.iter().cloned()),
    }
    match &w.boxes {
        Ok(boxes) => {
            for b in boxes {
                let points: Vec<LoadAt> = w
                    .loads
                    .wheel_angle_rad
                    .iter()
                    .zip(&b.forward_n)
                    .map(|(a, x)| LoadAt { wheel_angle_rad: *a, along_n: *x, across_n: b.dead_n })
                    .collect();
                let axle = &engine.motion.axles[b.axle];
                let side = if b.left { "left" } else { "right" };
                let name = format!("{side} axlebox of the {} axle", axle.id);
                let joint = axle.joints.get(if b.left { "left-box" } else { "right-box" }).copied();
                let place = Place { kind: BearingKind::Axlebox, name, joint };
                let mut one = place.load(points, turns(w.wheel_rad_s));
                one.axle = Some(b.axle);
                one.left_out.clone_from(&b.left_out);
                bearings.push(one);
            }
        }
        Err(lacks) => missing.extend(lacks.iter().cloned()),
    }
    missing.sort();
    missing.dedup();
    Ok(BearingLoads {
        wheel_rad_s: w.wheel_rad_s,
        speed_m_s: w.speed_m_s,
        steam: w.steam.clone(),
        bearings,
        missing,
        notes: w.notes.clone(),
    })
}

fn turns(wheel_rad_s: f64) -> Rubbing {
    Rubbing::Turns { mean_rad_s: wheel_rad_s.abs(), greatest_rad_s: wheel_rad_s.abs() }
}

/// Mean and greatest amount.
fn amounts(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let (mut sum, mut most, mut n) = (0.0, 0.0_f64, 0.0);
    for v in values {
        sum += v.abs();
        most = most.max(v.abs());
        n += 1.0;
    }
    (if n > 0.0 { sum / n } else { 0.0 }, most)
}

fn of_cylinder(
    engine: &Engine,
    w: &Working,
    states: &[Vec<CylinderState>],
    at: usize,
    out: &mut Vec<BearingLoad>,
) {
    let c = &engine.motion.cylinders[at];
    let trace = &w.loads.cylinders[at];
    let joint_of =
        |k: Contributor| c.chain.get(&k).and_then(|s| s.joints.first()).map(|(_, ix)| *ix);
    let mut push = |place: Place, points: Vec<LoadAt>, rubbing: Rubbing| {
        let mut one = place.load(points, rubbing);
        one.cylinder = Some(at);
        out.push(one);
    };
    let big = w.cylinders[at]
        .polar
        .points
        .iter()
        .map(|p| LoadAt {
            wheel_angle_rad: p.wheel_angle_rad,
            along_n: p.brass_outer_n,
            across_n: p.brass_up_n,
        })
        .collect();
    let (mean_rad_s, greatest_rad_s) =
        amounts(states.iter().map(|s| w.wheel_rad_s + s[at].rod_speed_rad_s));
    push(
        Place {
            kind: BearingKind::BigEnd,
            name: format!("big end of {}", c.id),
            joint: joint_of(Contributor::BigEndSlack),
        },
        big,
        Rubbing::Turns { mean_rad_s, greatest_rad_s },
    );
    // R on the crosshead has Rw = -N without weight, and its part along the rod is the thrust T:
    // Rs cos g + Rw sin g = T. The pin presses the rod's bush with -R; from small to big end is
    // (-cos g, -sin g), up from the rod (-sin g, cos g): along T, across Rs sin g - Rw cos g.
    let small = (0..trace.small_end_thrust_n.len())
        .map(|i| {
            let (sin, cos) = states[i][at].rod_angle_rad.sin_cos();
            let rw = -trace.slide_bar_n[i];
            let rs = (trace.small_end_thrust_n[i] - rw * sin) / cos;
            LoadAt {
                wheel_angle_rad: w.loads.wheel_angle_rad[i],
                along_n: trace.small_end_thrust_n[i],
                across_n: rs * sin - rw * cos,
            }
        })
        .collect();
    let (mean_rad_s, greatest_rad_s) = amounts(states.iter().map(|s| s[at].rod_speed_rad_s));
    push(
        Place {
            kind: BearingKind::SmallEnd,
            name: format!("small end of {}", c.id),
            joint: joint_of(Contributor::SmallEndSlack),
        },
        small,
        Rubbing::Turns { mean_rad_s, greatest_rad_s },
    );
    let bars = trace
        .slide_bar_n
        .iter()
        .zip(&w.loads.wheel_angle_rad)
        .map(|(n, a)| LoadAt { wheel_angle_rad: *a, along_n: 0.0, across_n: -n })
        .collect();
    let (mean_m_s, greatest_m_s) = amounts(states.iter().map(|s| s[at].velocity_m_s));
    push(
        Place {
            kind: BearingKind::SlideBar,
            name: format!("slide bars of {}", c.id),
            joint: c.joints.get("slide-bars").copied(),
        },
        bars,
        Rubbing::Slides { mean_m_s, greatest_m_s },
    );
}

fn of_axles(engine: &Engine, w: &Working, c: &CouplingWorking, out: &mut Vec<BearingLoad>) {
    for pin in &c.pins {
        let axle = &engine.motion.axles[pin.axle];
        let (side, field) = if pin.left {
            ("left", "left-coupling-bush")
        } else {
            ("right", "right-coupling-bush")
        };
        // The pin presses the bush with the opposite of what the rods do to the pin.
        let points = (0..pin.forward_n.len())
            .map(|i| LoadAt {
                wheel_angle_rad: w.loads.wheel_angle_rad[i],
                along_n: -pin.forward_n[i],
                across_n: -pin.upward_n[i],
            })
            .collect();
        let place = Place {
            kind: BearingKind::CouplingBush,
            name: format!("{side} coupling bush of the {} axle", axle.id),
            joint: axle.joints.get(field).copied(),
        };
        let mut one = place.load(points, turns(w.wheel_rad_s));
        one.axle = Some(pin.axle);
        one.left_out.clone_from(&c.left_out);
        out.push(one);
    }
}

struct Place {
    kind: BearingKind,
    name: String,
    joint: Option<JointIx>,
}

impl Place {
    fn load(self, points: Vec<LoadAt>, rubbing: Rubbing) -> BearingLoad {
        let mut greatest = LoadAt { wheel_angle_rad: 0.0, along_n: 0.0, across_n: 0.0 };
        let mut sum = 0.0;
        for p in &points {
            sum += p.load_n();
            if greatest.load_n() < p.load_n() {
                greatest = *p;
            }
        }
        let most = greatest.load_n();
        // A hair is what the last figure of the arithmetic makes of nothing.
        let against = |p: &LoadAt| {
            -(p.along_n * greatest.along_n + p.across_n * greatest.across_n)
                / most.max(f64::MIN_POSITIVE)
        };
        let opposite = points.iter().map(against).fold(0.0, f64::max);
        BearingLoad {
            kind: self.kind,
            name: self.name,
            joint: self.joint,
            cylinder: None,
            axle: None,
            greatest_n: most,
            greatest_at_rad: greatest.wheel_angle_rad,
            mean_n: sum / points.len().max(1) as f64,
            opposite_n: if opposite <= 1e-9 * most { 0.0 } else { opposite },
            rubbing,
            points,
            left_out: Vec::new(),
        }
    }
}
