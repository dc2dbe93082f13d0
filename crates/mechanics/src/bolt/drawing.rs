//! The finished design of a fitted bolt: everything a dimensioned drawing needs.

/// What a length of the shank is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LandRole {
    /// Fits its member with the wanted interference or clearance.
    Fitted,
    /// Leads the fitted part into its member and slides in it.
    Pilot,
    /// Crosses a gap between members, at the size of the land behind it.
    Bridge,
}

/// One length of the shank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Land {
    /// Index of the member it lies in (or behind which its gap lies), head side first.
    pub member: usize,
    /// What it is for.
    pub role: LandRole,
    /// Where it begins, from under the head (m).
    pub from_m: f64,
    /// Where it ends (m).
    pub to_m: f64,
    /// Smallest finished diameter (m).
    pub diameter_min_m: f64,
    /// Largest finished diameter (m).
    pub diameter_max_m: f64,
    /// Interference at the hole's mean size, least (smallest land) and most (largest) (m).
    pub interference_m: (f64, f64),
    /// Interference at the largest and smallest readings of the hole: least and most anywhere
    /// (m).
    pub local_interference_m: (f64, f64),
}

impl Land {
    /// Length (m).
    pub fn length_m(&self) -> f64 {
        self.to_m - self.from_m
    }

    /// Middle of the finished band (m).
    pub fn middle_m(&self) -> f64 {
        0.5 * (self.diameter_min_m + self.diameter_max_m)
    }
}

/// Shape of a head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Head {
    /// Hexagon, across flats (m) and height (m).
    Hexagon {
        /// Across flats (m).
        across_m: f64,
        /// Height (m).
        height_m: f64,
    },
    /// Square.
    Square {
        /// Across flats (m).
        across_m: f64,
        /// Height (m).
        height_m: f64,
    },
    /// Round (cheese).
    Round {
        /// Diameter (m).
        diameter_m: f64,
        /// Height (m).
        height_m: f64,
    },
    /// Countersunk.
    Countersunk {
        /// Largest diameter (m).
        diameter_m: f64,
        /// Included angle (rad).
        angle_rad: f64,
    },
}

/// The thread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thread {
    /// Major diameter (m).
    pub major_m: f64,
    /// Pitch (m).
    pub pitch_m: f64,
    /// Length of thread (m).
    pub length_m: f64,
    /// Washers and run-out between the last member and the thread (m).
    pub run_out_m: f64,
}

/// How the nut is kept from coming off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Security {
    /// Split pin through bolt and slotted or plain nut.
    SplitPin {
        /// Diameter of the pin's hole (m).
        hole_m: f64,
    },
    /// A second nut.
    LockNut,
    /// A taper pin or cotter through the bolt beyond the nut.
    Cotter {
        /// Small diameter or thickness (m).
        size_m: f64,
    },
    /// A plate or tab over the nut's flats.
    LockingPlate,
    /// Nothing but the nut: only where a competent person accepts it.
    None,
}

impl Security {
    /// What to mind about it. Common practice.
    pub fn note(self) -> &'static str {
        match self {
            Self::SplitPin { .. } => {
                "fit a new split pin of the largest size the hole takes, legs bent clear; drill the hole after the nut is pulled up"
            }
            Self::LockNut => {
                "hold the one nut while the other is locked against it; mark both across"
            }
            Self::Cotter { .. } => {
                "drive the cotter against the nut's face and open or rivet its end"
            }
            Self::LockingPlate => "the plate must bear on a flat, and its own screw be secured",
            Self::None => {
                "no positive locking is shown: a bolt of the motion or running gear that comes loose can wreck the engine; a competent person decides"
            }
        }
    }
}

/// How a fitted land goes home.
#[derive(Debug, Clone, PartialEq)]
pub struct SlideStep {
    /// Index of the member it fits.
    pub member: usize,
    /// How far the bolt still has to go when this land first grips (m).
    pub tightens_before_home_m: f64,
    /// Members it has to be dragged through on the way, because their holes are not larger than
    /// it by the sliding clearance.
    pub drags_through: Vec<usize>,
    /// The hole its member would need so that every land beyond slides through it (m); `None`
    /// when it is large enough, or the last member.
    pub open_to_m: Option<f64>,
    /// The smallest reamer at hand for that (m).
    pub open_with_m: Option<f64>,
}

/// Something to know before the bolt is made.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum DesignFinding {
    /// Somewhere in the hole the fit is tighter than wanted, because of the hole's form.
    TighterInPlaces {
        /// Index of the member.
        member: usize,
        /// Most interference anywhere (m).
        most_m: f64,
        /// Most wanted (m).
        wanted_m: f64,
    },
    /// Somewhere in the hole the fit is looser than wanted.
    LooserInPlaces {
        /// Index of the member.
        member: usize,
        /// Least interference anywhere (m).
        least_m: f64,
        /// Least wanted (m).
        wanted_m: f64,
    },
    /// A land has to be dragged through a member on the way.
    DragsThrough {
        /// Index of the member the land fits.
        land: usize,
        /// Index of the member it drags through.
        through: usize,
    },
    /// The thread does not pass freely through the smallest hole.
    ThreadTooLarge {
        /// Major diameter (m).
        major_m: f64,
        /// The largest that passes (m).
        passes_m: f64,
    },
    /// The holes are out of line by more than the fits give way: a straight bolt bears on one
    /// side in one member and on the other in the next, its interference there up to twice the
    /// offset more.
    OutOfLine {
        /// Radius of the least circle round the members' centres (m).
        offset_m: f64,
        /// The least diametral clearance of the lands (m), 0 for interference.
        clearance_m: f64,
    },
}

/// A fitted bolt, complete enough to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltDesign {
    /// The number of the hole it is made to: stamp it on the head and beside the hole.
    pub hole_number: u32,
    /// Head.
    pub head: Head,
    /// The shank from under the head to the thread, land by land.
    pub lands: Vec<Land>,
    /// Thread.
    pub thread: Thread,
    /// Security of the nut.
    pub security: Security,
    /// Length gripped: members and gaps (m).
    pub grip_m: f64,
    /// Length under the head, thread included (m).
    pub length_under_head_m: f64,
    /// Length of the lead (small taper) on the leading edge of each fitted land (m).
    pub lead_m: f64,
    /// How the fitted lands go home, head side first.
    pub slide: Vec<SlideStep>,
    /// How far the bolt still has to go when it first grips anywhere (m); 0 when nothing grips.
    pub tightens_before_home_m: f64,
    /// What to know before making it.
    pub findings: Vec<DesignFinding>,
    /// Notes for the drawing.
    pub notes: Vec<&'static str>,
    /// Cautions for the fitting. Show them all.
    pub cautions: Vec<&'static str>,
}
