//! Works, ways, lifts, shed and crew as described: checked against the engine.

use crate::model::{Date, FeatureIx, JointIx, MaterialIx, PartIx};
use crate::motion::Said;
use mechanics::lifting::{FourLegRule, Solid};
use sequence::{Hazard, Wait, Weather};
use std::collections::HashMap;

/// Everything described about strip, lift and build.
#[derive(Clone, Debug, Default)]
pub struct WorksModel {
    /// When and where.
    pub shed: Shed,
    /// People.
    pub crew: Vec<Person>,
    /// Who is there when.
    pub shifts: Vec<Shift>,
    /// Shared kit; the last ones are the tickets that people hold.
    pub kit: Vec<KitItem>,
    /// Where people stand.
    pub places: Vec<Standing>,
    /// Works of strip and build.
    pub works: Vec<Work>,
    /// Lifts.
    pub lifts: Vec<Lift>,
    /// Simple solids of parts.
    pub solids: Vec<PartSolid>,
    /// How parts hold, cover and carry each other, and how well their masses are known.
    pub parts: HashMap<PartIx, PartTies>,
    /// Parts that hold a joint together.
    pub joint_held_by: HashMap<JointIx, Vec<PartIx>>,
    /// What happened, in the order it was written.
    pub progress: Vec<Happened>,
}

impl WorksModel {
    /// The work of an id.
    pub fn work_by_id(&self, id: &str) -> Option<usize> {
        self.works.iter().position(|w| w.id == id.trim())
    }

    /// The lift of an id.
    pub fn lift_by_id(&self, id: &str) -> Option<usize> {
        self.lifts.iter().position(|l| l.id == id.trim())
    }

    /// The known work nearest to a name that is not known.
    pub fn nearest_work(&self, id: &str) -> Option<&str> {
        crate::problem::nearest(id, self.works.iter().map(|w| w.id.as_str()))
    }
}

/// Strip or build.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Taking apart.
    Strip,
    /// Putting together.
    Build,
}

impl Stage {
    /// The word.
    pub fn word(self) -> &'static str {
        match self {
            Stage::Strip => "strip",
            Stage::Build => "build",
        }
    }
}

/// When and where strip and build go on.
#[derive(Clone, Debug, Default)]
pub struct Shed {
    /// First day of the strip.
    pub begins: Option<Date>,
    /// First day of the build.
    pub build_begins: Option<Date>,
    /// Last day of the calendar.
    pub until: Option<Date>,
    /// Where the engine stands at the start of the strip.
    pub stands: Option<Said>,
    /// Where it stands at the start of the build.
    pub build_stands: Option<Said>,
    /// People on the bar.
    pub bar_people: Option<u32>,
    /// Minutes of any move.
    pub bar_set_up_min: Option<u32>,
    /// Minutes of a whole turn besides.
    pub bar_turn_min: Option<u32>,
    /// Ways that take no longer are not left over a break half done, minutes.
    pub unbroken_min: u32,
    /// Works before the engine is moved: work, wait, reason.
    pub bar_after: Vec<Stated>,
    /// Days on which the shed is shut.
    pub shut: Vec<Date>,
}

/// A person.
#[derive(Clone, Debug)]
pub struct Person {
    /// Short name.
    pub id: String,
    /// Name.
    pub name: String,
    /// Tickets held.
    pub tickets: Vec<String>,
}

/// Days of the week or dates.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum On {
    /// A day of the week, Monday 0.
    Weekday(usize),
    /// A date.
    Date(Date),
}

impl On {
    /// Whether a date is meant.
    pub fn holds(&self, date: Date) -> bool {
        match self {
            On::Weekday(d) => date.weekday() == *d,
            On::Date(d) => *d == date,
        }
    }
}

/// Who is there when.
#[derive(Clone, Debug)]
pub struct Shift {
    /// Days.
    pub on: Vec<On>,
    /// From and until, minutes of the clock.
    pub hours: Vec<(u32, u32)>,
    /// Positions in the crew.
    pub people: Vec<usize>,
    /// First day.
    pub from: Option<Date>,
    /// Last day.
    pub until: Option<Date>,
}

/// Shared kit, or a ticket that people hold.
#[derive(Clone, Debug)]
pub struct KitItem {
    /// Short id.
    pub id: String,
    /// Name.
    pub name: String,
    /// How many.
    pub count: u32,
    /// Days on which it is there; always when `None`.
    pub there: Option<Vec<On>>,
    /// Weather that rules it out.
    pub not_in: Vec<Weather>,
    /// Set-ups are counted.
    pub set_ups: bool,
    /// It is a ticket: there are as many as people there who hold it.
    pub ticket: bool,
}

/// Where people stand.
#[derive(Clone, Debug)]
pub struct Standing {
    /// Short id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Room.
    pub room: u32,
    /// Weather that rules it out.
    pub not_in: Vec<Weather>,
    /// Days on which it is shut.
    pub shut: Vec<Date>,
}

/// What sort of work, where parts and joints do not say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WorkKind {
    /// Parts come off.
    TakeOff,
    /// Parts go on.
    PutOn,
    /// A state changes.
    Change,
    /// Something is supported.
    Support,
    /// Something is gauged.
    Gauge,
    /// Something goes away and comes back.
    Send,
    /// A hold point.
    Hold,
}

impl WorkKind {
    /// The word.
    pub fn word(self) -> &'static str {
        match self {
            WorkKind::TakeOff => "off",
            WorkKind::PutOn => "on",
            WorkKind::Change => "change",
            WorkKind::Support => "support",
            WorkKind::Gauge => "gauge",
            WorkKind::Send => "send",
            WorkKind::Hold => "hold point",
        }
    }
}

/// A tie that a person stated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stated {
    /// The earlier work.
    pub work: usize,
    /// Wait after it.
    pub wait: Wait,
    /// Why.
    pub reason: String,
}

/// A work.
#[derive(Clone, Debug)]
pub struct Work {
    /// Id.
    pub id: String,
    /// What is done.
    pub name: String,
    /// Strip or build.
    pub stage: Stage,
    /// Sort.
    pub kind: WorkKind,
    /// Only when a way needs it.
    pub when_needed: bool,
    /// Parts that come off.
    pub takes_off: Vec<PartIx>,
    /// Parts that go on.
    pub puts_on: Vec<PartIx>,
    /// Joints drawn apart.
    pub undoes: Vec<JointIx>,
    /// Joints made.
    pub makes: Vec<JointIx>,
    /// Features gauged bare.
    pub gauges: Vec<FeatureIx>,
    /// Joints read while together.
    pub reads: Vec<JointIx>,
    /// Stated ties that turn round in the build.
    pub after: Vec<Stated>,
    /// Stated ties that do not.
    pub needs: Vec<Stated>,
    /// Everything in its stage that does not come before it waits for it.
    pub holds_all: bool,
    /// The strip work that it undoes.
    pub reverse_of: Option<usize>,
    /// Remark.
    pub note: String,
    /// Ways.
    pub ways: Vec<Way>,
}

/// A way.
#[derive(Clone, Debug)]
pub struct Way {
    /// Short id.
    pub id: String,
    /// How.
    pub how: String,
    /// Minutes.
    pub minutes: u32,
    /// People.
    pub people: u32,
    /// Kit and how many.
    pub kit: Vec<(usize, u32)>,
    /// What else to fetch.
    pub bring: Vec<String>,
    /// Joints or features whose windows it needs; `None`: those of the joints it has to do with.
    pub reach: Option<Vec<String>>,
    /// Positions, any of them.
    pub at: Vec<Said>,
    /// Either side of those, radians.
    pub either_side_rad: f64,
    /// Place.
    pub from: Option<usize>,
    /// Places kept clear.
    pub keeps_clear: Vec<usize>,
    /// At the bench.
    pub bench: bool,
    /// Begun and ended in one spell.
    pub same_day: bool,
    /// What comes first for this way.
    pub needs: Vec<Stated>,
    /// What it leaves hanging, and until which work; a second work puts it right where every way left
    /// of the first needs that before.
    pub leaves: Vec<(String, Vec<usize>)>,
    /// Kit that stays where it is, how many, and until which work is done.
    pub stays: Vec<(usize, u32, usize)>,
    /// Hazards.
    pub hazards: Vec<Hazard>,
    /// Chance of failing.
    pub fails: f64,
    /// Lift.
    pub lift: Option<usize>,
    /// Spot of counted kit.
    pub spot: String,
}

/// How a part holds, covers and carries others, and how well its mass is known.
#[derive(Clone, Debug, Default)]
pub struct PartTies {
    /// It fastens what it mates with.
    pub fastens: bool,
    /// What holds it.
    pub held_by: Vec<PartIx>,
    /// What covers it.
    pub covered_by: Vec<PartIx>,
    /// What it rests on.
    pub supported_by: Vec<PartIx>,
    /// Standard uncertainty of its mass, kg.
    pub mass_doubt_kg: Option<f64>,
    /// Its balance point from its own datum, m.
    pub balance_m: Option<[f64; 3]>,
    /// Standard uncertainty of that, m.
    pub balance_doubt_m: [f64; 3],
}

/// A solid of a part.
#[derive(Clone, Debug)]
pub struct PartSolid {
    /// Part.
    pub of: PartIx,
    /// Shape and sizes.
    pub solid: Solid,
    /// Where its datum lies in the part.
    pub at_m: [f64; 3],
    /// Turns.
    pub turned_rad: [f64; 3],
    /// It is a hole.
    pub hole: bool,
    /// Material.
    pub material: MaterialIx,
    /// Standard uncertainty of where it sits, m.
    pub doubt_m: f64,
}

/// A lift as described.
#[derive(Clone, Debug)]
pub struct Lift {
    /// Id.
    pub id: String,
    /// What is lifted.
    pub name: String,
    /// Parts on the hook.
    pub parts: Vec<PartIx>,
    /// Besides them, kg.
    pub and_kg: f64,
    /// Balance point from the datum, m; that of its one part when not given.
    pub balance_m: Option<[f64; 3]>,
    /// Its standard uncertainty, m.
    pub balance_doubt_m: [f64; 3],
    /// Standard uncertainty of the mass, kg, where it is given for the whole.
    pub mass_doubt_kg: Option<f64>,
    /// Where the datum is.
    pub datum: String,
    /// Box round the load.
    pub box_m: Option<[[f64; 3]; 2]>,
    /// Slings.
    pub sling: Option<Sling>,
    /// Sliding off.
    pub slide: Option<Slide>,
    /// Drawing.
    pub draw: Option<Draw>,
    /// Jacks.
    pub jacks: Option<Jacks>,
    /// Remark.
    pub note: String,
}

/// Slings of a lift.
#[derive(Clone, Debug)]
pub struct Sling {
    /// Eyes, m.
    pub eyes_m: Vec<[f64; 3]>,
    /// Leg lengths, m.
    pub legs_m: Vec<f64>,
    /// Gear in words.
    pub gear: String,
    /// Rating of one leg, kg.
    pub rated_kg: f64,
    /// Choked.
    pub choked: bool,
    /// Share of the rating that an edge leaves.
    pub edge: f64,
    /// Tilt allowed, rad.
    pub most_tilt_rad: f64,
    /// How many of four legs count.
    pub four: FourLegRule,
}

/// A part that slides off its seat.
#[derive(Clone, Debug)]
pub struct Slide {
    /// Seat, inner and outer edge, m.
    pub seat_m: [f64; 2],
    /// Fit of the part, m.
    pub fit_m: [f64; 2],
    /// Ends of the part, m.
    pub ends_m: [f64; 2],
    /// The seat holds both ways.
    pub grips: bool,
    /// Hook, m.
    pub hook_m: Option<f64>,
    /// Its pull, N; the weight when not given.
    pub pull_n: Option<f64>,
    /// The height is kept, not the pull.
    pub height: bool,
    /// Hands, m and N.
    pub hands: Option<(f64, f64)>,
    /// Incline, rad.
    pub incline_rad: f64,
    /// Friction, low, likely, high.
    pub friction: [f64; 3],
    /// Balance point along the slide, m.
    pub balance_m: Option<f64>,
}

/// A hydraulic draw.
#[derive(Clone, Debug)]
pub struct Draw {
    /// Force, low, likely, high, N.
    pub force_n: [f64; 3],
    /// Where it comes from.
    pub source: String,
    /// Jacks.
    pub jacks: u32,
    /// Area of one ram, m².
    pub area_m2: f64,
    /// Rating of one, N.
    pub rated_n: f64,
    /// Pump's valve, Pa.
    pub valve_pa: f64,
    /// Stroke, m.
    pub stroke_m: f64,
}

/// A load on jacks.
#[derive(Clone, Debug)]
pub struct Jacks {
    /// Supports.
    pub supports: Vec<JackAt>,
    /// Heads over the datum, m.
    pub heads_m: f64,
    /// Side force, N.
    pub side_n: f64,
    /// Slope, rad.
    pub grade_rad: f64,
}

/// One jack or stand.
#[derive(Clone, Debug)]
pub struct JackAt {
    /// Where, m.
    pub at_m: [f64; 2],
    /// Rating, kg; none for packing.
    pub rated_kg: Option<f64>,
    /// Packing: height, width, foot area.
    pub packing: Option<(f64, f64, f64)>,
}

/// A day and a minute of the clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment {
    /// Day.
    pub date: Date,
    /// Minute of the clock; `None`: some time that day.
    pub clock_min: Option<u32>,
}

impl Moment {
    /// From `2026-10-10` or `2026-10-10 11:30`.
    ///
    /// # Errors
    /// Says what is wrong and the form wanted.
    pub fn parse(text: &str) -> Result<Moment, String> {
        let text = text.trim();
        let (day, clock) = match text.split_once([' ', 'T']) {
            Some((day, clock)) => (day, Some(clock)),
            None => (text, None),
        };
        let date = Date::parse(day)?;
        let clock_min = clock.map(parse_clock).transpose()?;
        Ok(Moment { date, clock_min })
    }
}

impl std::fmt::Display for Moment {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.clock_min {
            Some(m) => write!(f, "{} {:02}:{:02}", self.date, m / 60, m % 60),
            None => write!(f, "{}", self.date),
        }
    }
}

/// Minute of the clock from `09:30`.
pub(crate) fn parse_clock(text: &str) -> Result<u32, String> {
    let wrong = || format!("\"{text}\" is not a time of the clock; write it 09:30");
    let (h, m) = text.trim().split_once(':').ok_or_else(wrong)?;
    let (h, m): (u32, u32) = (h.parse().map_err(|_| wrong())?, m.parse().map_err(|_| wrong())?);
    if h < 24 && m < 60 { Ok(60 * h + m) } else { Err(wrong()) }
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq)]
pub struct Happened {
    /// Work.
    pub work: usize,
    /// What.
    pub what: What,
    /// When it ended or was seen.
    pub when: Moment,
    /// Way, where it was said.
    pub way: Option<usize>,
    /// Why.
    pub why: String,
    /// Who says so.
    pub by: String,
    /// Where the engine stood then, where it was said.
    pub stands: Option<Said>,
}

/// What happened to a work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// Done, begun then if that was said.
    Done(Option<Moment>),
    /// A way will not go.
    Stuck,
    /// Not done after all.
    Undone,
}
