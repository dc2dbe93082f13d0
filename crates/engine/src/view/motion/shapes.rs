//! The shapes of the motion that leave the program.

use super::super::figure::Figure;
use super::super::shape::{shape_of, shapes};
use super::super::shapes::{ContributorView, LimitView};
use quantity::{Dimension, System, Unit, print, print_in};
use serde::Serialize;

/// A quantity that is not a length, in both systems.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Amount {
    /// SI value.
    pub si: f64,
    /// SI unit.
    pub unit: &'static str,
    /// Metric.
    pub metric: String,
    /// Imperial.
    pub imperial: String,
}

shape_of!(Amount, "A quantity that is not a length, in both systems.", {
    si: f64, unit: &'static str, metric: String, imperial: String,
} | {});

impl Amount {
    /// Of a kind; loads and the like are given to three figures or so.
    pub fn new(si: f64, dimension: Dimension) -> Amount {
        let doubt = Some(si.abs() / 500.0).filter(|u| *u > 0.0);
        Amount {
            si,
            unit: dimension.si_symbol(),
            metric: print(si, dimension, System::Metric, doubt),
            imperial: print(si, dimension, System::Imperial, doubt),
        }
    }

    /// Of an engine on the rail: kilometres and miles an hour.
    pub fn speed(si: f64) -> Amount {
        let doubt = Some(si.abs() / 500.0).filter(|u| *u > 0.0);
        Amount {
            si,
            unit: Dimension::Speed.si_symbol(),
            metric: print_in(si, Unit::KILOMETRE_PER_HOUR, doubt),
            imperial: print_in(si, Unit::MILE_PER_HOUR, doubt),
        }
    }
}

shapes! {
    /// Where everything is.
    PositionView {
        /// The position, in words that can be said back.
        said: String,
        /// Wheel angle, degrees.
        wheel_deg: f64,
        /// Every cylinder.
        cylinders: Vec<CylinderPositionView>,
        /// What the answer rests on.
        notes: Vec<String>,
    }

    /// Where one cylinder's motion is.
    CylinderPositionView {
        /// Id.
        cylinder: String,
        /// left inside and so on.
        place: &'static str,
        /// Crank past its front dead centre in forward running, degrees.
        past_front_deg: f64,
        /// The pin's place in words.
        pin: String,
        /// Crank pin in front of the axle; behind it when negative.
        pin_ahead: Figure,
        /// Crank pin above the axle; below it when negative.
        pin_above: Figure,
        /// Piston from the front end of its stroke.
        piston_from_front: Figure,
        /// The same, per cent of the stroke.
        stroke_percent: f64,
        /// Which way it goes when the engine goes forward.
        going: &'static str,
        /// Rod to the cylinder line, degrees; positive with the crank pin below.
        rod_deg: f64,
    }

    /// The motion at equal steps of one forward turn, for a page that shows it moving.
    RevolutionView {
        /// Engine.
        engine: String,
        /// Where the turn begins, in words that can be said back.
        from: String,
        /// Wheel angle of each step, degrees; goes on past 360 where the turn began later.
        wheel_deg: Vec<f64>,
        /// Tyre diameter, m; absent where it is not described.
        tyre_m: Option<f64>,
        /// Distance rolled since the first step, m; empty without a tyre.
        rolled_m: Vec<f64>,
        /// Cylinders.
        cylinders: Vec<MovingCylinderView>,
        /// What the answer rests on.
        notes: Vec<String>,
    }

    /// One cylinder's points through the turn. Places are `[x, z]` in m: x forward, z up, from the
    /// middle of the driving axle as drawn.
    MovingCylinderView {
        /// Id.
        cylinder: String,
        /// left inside and so on.
        place: &'static str,
        /// To the left of the engine's middle, m.
        left_m: f64,
        /// Incline of the line, degrees, front end higher.
        incline_deg: f64,
        /// Crank throw, m.
        throw_m: f64,
        /// Rod centres, m.
        rod_m: f64,
        /// Stroke, m.
        stroke_m: f64,
        /// Driving axle in the plane of this cylinder.
        axle: [f64; 2],
        /// Crank pin at each step.
        crank_pin: Vec<[f64; 2]>,
        /// Crosshead pin at each step.
        crosshead_pin: Vec<[f64; 2]>,
        /// Piston from the front end of its stroke at each step, m.
        from_front_m: Vec<f64>,
        /// Crank past its front dead centre at each step, degrees.
        past_front_deg: Vec<f64>,
        /// Along the line, from the crosshead pin to the piston's back face and on to its front
        /// face, m; absent where the clearance chain is not described.
        pin_to_piston_m: Option<[f64; 2]>,
        /// Inner faces of back and front cover along the line, from the foot of the axle on it, m.
        covers_m: Option<[f64; 2]>,
        /// Bore, m.
        bore_m: Option<f64>,
    }

    /// One way of going there.
    MoveView {
        /// forward or backward.
        way: &'static str,
        /// Along the rail.
        distance: Figure,
        /// Turn of the wheels, degrees.
        turn_deg: f64,
        /// If exactly that distance is gone the crank stands there within this, standard
        /// uncertainty, degrees.
        arrival_doubt_deg: f64,
    }

    /// From one position to another.
    BringView {
        /// Where the engine stands.
        from: PositionView,
        /// Where it will stand.
        to: PositionView,
        /// The shorter way.
        shorter: MoveView,
        /// The other way.
        other: MoveView,
        /// Tyre diameter.
        tyre: Figure,
        /// To be gone through before the engine is moved.
        cautions: Vec<&'static str>,
        /// What the answer rests on.
        notes: Vec<String>,
    }

    /// A window of the wheels.
    WindowView {
        /// Begins, as a position of a crank.
        from: String,
        /// Ends, going forward.
        until: String,
        /// Begins, wheel angle, degrees.
        from_deg: f64,
        /// Length, degrees.
        length_deg: f64,
    }

    /// A job that wants the wheels somewhere.
    ReachJobView {
        /// Joint or feature.
        to: String,
        /// pit, above or side.
        by: &'static str,
        /// Windows.
        windows: Vec<WindowView>,
        /// It can be got at where the engine stands.
        now: bool,
        /// Forward into the next window.
        forward: Option<MoveView>,
        /// Backward into the next window.
        backward: Option<MoveView>,
        /// Remark.
        note: String,
    }

    /// A place to stop at.
    StopView {
        /// Jobs done there.
        jobs: Vec<String>,
        /// The window.
        window: WindowView,
        /// Forward from the stop before, or from where the engine stands.
        forward: MoveView,
    }

    /// Windows of a set of jobs.
    ReachView {
        /// Where the engine stands.
        from: String,
        /// Jobs.
        jobs: Vec<ReachJobView>,
        /// Windows in which all can be reached.
        common: Vec<WindowView>,
        /// Stops in forward order.
        stops: Vec<StopView>,
        /// To be gone through before the engine is moved.
        cautions: Vec<&'static str>,
        /// What the answer rests on.
        notes: Vec<String>,
    }

    /// Clearances of every cylinder.
    ClearancesView {
        /// Cylinders.
        cylinders: Vec<CylinderClearanceView>,
        /// Cylinders without an answer: what is missing and where to write it.
        missing: Vec<String>,
        /// Things to know.
        cautions: Vec<&'static str>,
    }

    /// Clearances of one cylinder.
    CylinderClearanceView {
        /// Id.
        cylinder: String,
        /// Stroke.
        stroke: Figure,
        /// Front and back.
        ends: Vec<EndView>,
        /// Correlation of the two.
        correlation: f64,
        /// Bump test, where there is one.
        bump: Option<BumpView>,
        /// What the answer rests on.
        notes: Vec<String>,
    }

    /// Clearance at one end.
    EndView {
        /// front or back.
        end: &'static str,
        /// With every pin in the middle of its brasses.
        clearance: Figure,
        /// With all slack taken up towards this cover.
        slack_taken_up: Figure,
        /// As made.
        as_made: Option<Figure>,
        /// In service.
        verdict: &'static str,
        /// For putting back.
        refit_verdict: &'static str,
        /// Verdict by limit.
        limits: Vec<LimitView>,
        /// Least with every source at its limit.
        worst_least: Figure,
        /// Greatest with every source at its limit.
        worst_greatest: Figure,
        /// 95 engines of 100 drawn lie above this and below the next.
        drawn_low: Figure,
        /// See there.
        drawn_high: Figure,
        /// Mean and standard deviation of the engines drawn.
        drawn_mean: Figure,
        /// Share of them below the least in service (below nothing where no limit says), per cent.
        drawn_below_percent: f64,
        /// Sizes that contribute, the largest doubt first.
        sizes: Vec<SizePartView>,
        /// Where the uncertainty comes from.
        budget: Vec<ContributorView>,
    }

    /// One size's part in a clearance.
    SizePartView {
        /// In words.
        size: &'static str,
        /// Its field in the file.
        field: &'static str,
        /// Its value.
        value: Figure,
        /// Change of the clearance for a change of the size.
        per_size: f64,
        /// Its standard uncertainty in the clearance.
        u: Figure,
    }

    /// A bump test.
    BumpView {
        /// Marks as written: bump front, front end, back end, bump back.
        marks: Vec<String>,
        /// Front clearance read.
        front: Figure,
        /// Back clearance read.
        back: Figure,
        /// Stroke read.
        stroke: Figure,
        /// Read less worked out: front, stroke, back.
        misfit: Vec<Figure>,
        /// Probability of so large a misfit with nothing wrong.
        by_chance: f64,
        /// In words.
        words: String,
        /// Explanations, likeliest first.
        culprits: Vec<CulpritView>,
        /// Probability of what is left over if the likeliest is true; very small: look for two.
        left_over: f64,
        /// What the odds start from.
        priors: String,
    }

    /// An explanation.
    CulpritView {
        /// What: one of these, which the marks alone cannot tell apart.
        what: Vec<&'static str>,
        /// Probability of all of them together.
        probability: f64,
        /// Times likelier than nothing wrong.
        odds: f64,
        /// The first of them wrong by; absent for nothing wrong.
        by: Option<Figure>,
    }

    /// Ways to centre a piston.
    CentreView {
        /// Cylinder.
        cylinder: String,
        /// Where the clearances come from.
        from: &'static str,
        /// Front now.
        front: Figure,
        /// Back now.
        back: Figure,
        /// Front less back wanted.
        wanted: Figure,
        /// Ways.
        ways: Vec<CentreWayView>,
        /// What the answer rests on.
        notes: Vec<String>,
    }

    /// One way.
    CentreWayView {
        /// Size changed.
        change: &'static str,
        /// By how much; positive longer, thicker or further forward.
        by: Figure,
        /// Which way that is, in words.
        direction: &'static str,
        /// It can be.
        possible: bool,
        /// Front afterwards.
        front: Figure,
        /// Back afterwards.
        back: Figure,
        /// What it does elsewhere.
        elsewhere: Vec<String>,
        /// Joints its features are in.
        joints: Vec<String>,
        /// Chains its features are in.
        chains: Vec<String>,
    }

    /// Loads at a speed.
    LoadsView {
        /// Speed of the engine.
        speed: Amount,
        /// Speed of the wheels.
        wheels: Amount,
        /// What the steam does.
        steam: String,
        /// Cylinders.
        cylinders: Vec<CylinderLoadsView>,
        /// Mean tractive effort at the rim from the turning moment.
        tractive_mean: Amount,
        /// Least.
        tractive_least: Amount,
        /// Wheel position of the least.
        least_at: String,
        /// Greatest.
        tractive_greatest: Amount,
        /// Wheel position of the greatest.
        greatest_at: String,
        /// By the standard formula.
        tractive_standard: Option<Amount>,
        /// Mean turning moment of all cylinders.
        moment_mean: Amount,
        /// Least.
        moment_least: Amount,
        /// Greatest.
        moment_greatest: Amount,
        /// Coupling rods, front to back; empty where they are not described.
        coupling: Vec<CouplingView>,
        /// Axleboxes; empty where they are not described.
        boxes: Vec<BoxView>,
        /// Fatigue of rods and pins.
        fatigue: Vec<FatigueView>,
        /// Every bearing through the revolution.
        bearings: Vec<BearingView>,
        /// What is missing for the rest, and where to write it.
        missing: Vec<String>,
        /// What the answer rests on.
        notes: Vec<String>,
        /// Things to know.
        cautions: Vec<&'static str>,
    }

    /// Loads of one cylinder.
    CylinderLoadsView {
        /// Id.
        cylinder: String,
        /// Greatest steam force.
        steam: Amount,
        /// Greatest load on the crank pin.
        pin: Amount,
        /// Crank past front dead centre there, degrees.
        pin_at_deg: f64,
        /// Mean load on the crank pin.
        pin_mean: Amount,
        /// Greatest load of the brass away from the rod.
        outer_brass: Amount,
        /// Greatest load of the brass next to the rod.
        inner_brass: Amount,
        /// Greatest load of the crosshead pin.
        small_end: Amount,
        /// Greatest force on the upper bar.
        upper_bar: Amount,
        /// Greatest force on the lower bar.
        lower_bar: Amount,
        /// Greatest pressure on the bars.
        bar_pressure: Option<Amount>,
        /// Big end: greatest and mean pressure, greatest rubbing speed.
        big_end: Option<DutyView>,
        /// Small end.
        gudgeon: Option<DutyView>,
        /// The rod as a strut and a beam.
        rod: Option<RodView>,
    }

    /// The two coupling rods between one axle and the next.
    CouplingView {
        /// Axle in front.
        front_axle: String,
        /// Axle behind.
        back_axle: String,
        /// Greatest pull of either.
        tension: Amount,
        /// Greatest thrust of either.
        thrust: Amount,
        /// As a strut and a beam, whipping in it; absent where it is not described.
        rod: Option<RodView>,
    }

    /// An axlebox through the revolution.
    BoxView {
        /// Axle.
        axle: String,
        /// left or right.
        side: &'static str,
        /// Dead load on it, held by the spring.
        dead: Amount,
        /// Greatest push forward.
        forward: Amount,
        /// Greatest push backward.
        backward: Amount,
        /// What is left out.
        left_out: Vec<String>,
    }

    /// Fatigue of one part.
    FatigueView {
        /// connecting rod, piston rod, crank pin, coupling rod.
        part: &'static str,
        /// Of which cylinder, or between which axles.
        of: String,
        /// Greatest stress, tension positive, the concentration in it.
        greatest: Option<Amount>,
        /// Least.
        least: Option<Amount>,
        /// Factor on the stress.
        concentration: Option<f64>,
        /// goodman, soderberg, gerber.
        criterion: Option<&'static str>,
        /// Strength used by stress that comes and goes, per cent.
        used_percent: Option<f64>,
        /// Greatest stress as a share of yield, per cent.
        yield_percent: Option<f64>,
        /// Where the strength comes from.
        source: String,
        /// Why it cannot be told, and what to write where.
        missing: Vec<String>,
    }

    /// One bearing through the revolution.
    BearingView {
        /// Its name.
        name: String,
        /// Joint of the engine that it is.
        joint: Option<String>,
        /// Greatest load.
        greatest: Amount,
        /// Wheel position of the greatest.
        greatest_at: String,
        /// Mean of its amount.
        mean: Amount,
        /// Greatest load against the direction of the greatest.
        opposite: Amount,
        /// It passes from side to side in every turn.
        reverses: bool,
        /// What the two parts of every point are.
        frame: &'static str,
        /// Along and across, N, at equal steps of the wheel from 0: every fifth degree.
        points_n: Vec<[f64; 2]>,
        /// What is left out.
        left_out: Vec<String>,
    }

    /// Duty of a bearing.
    DutyView {
        /// Greatest pressure on the projected area.
        greatest: Amount,
        /// Mean pressure.
        mean: Amount,
        /// Greatest rubbing speed.
        rubbing: Amount,
    }

    /// Strength of a rod.
    RodView {
        /// Greatest thrust.
        thrust: Amount,
        /// Buckling load in the plane of the motion.
        in_plane: Amount,
        /// Buckling load sideways.
        sideways: Amount,
        /// The lesser of the two over the thrust; absent without thrust.
        factor: Option<f64>,
        /// Greatest bending moment by whipping.
        whipping: Amount,
        /// Greatest fibre stress with thrust and whipping.
        stress: Amount,
        /// The same as a share of yield, per cent.
        yield_percent: f64,
    }

    /// Balance.
    BalanceView {
        /// Speed.
        speed: Amount,
        /// Share of the reciprocating masses balanced, per cent.
        balanced_percent: f64,
        /// Masses of each cylinder.
        masses: Vec<CylinderMassView>,
        /// Axles.
        axles: Vec<AxleView>,
        /// What is left over is with the weights fitted.
        as_fitted: bool,
        /// Left over.
        left_over: LeftOverView,
        /// Greatest hammer blow of a wheel by speed.
        by_speed: Vec<BlowView>,
        /// With the masses proposed and the weights left as they are.
        heavier: Option<LeftOverView>,
        /// Change of the weights wanted by the masses proposed.
        heavier_wanted: Vec<AxleView>,
        /// What the answer rests on.
        notes: Vec<String>,
        /// Things to know.
        cautions: Vec<&'static str>,
    }

    /// Masses of one cylinder.
    CylinderMassView {
        /// Id.
        cylinder: String,
        /// To and fro, the rod's share in it.
        reciprocating: Amount,
        /// Turning at the crank pin, the rod's share in it.
        turning: Amount,
    }

    /// One axle.
    AxleView {
        /// Id.
        axle: String,
        /// Weights wanted, left and right.
        wanted: Vec<WeightView>,
        /// Weights fitted.
        fitted: Vec<WeightView>,
        /// Hammer blow, left and right wheel.
        blow: Vec<Amount>,
        /// Speed at which a wheel would lift.
        lifts_at: Option<Amount>,
    }

    /// A weight.
    WeightView {
        /// left or right.
        side: &'static str,
        /// Mass times radius, kg·m.
        kg_m: f64,
        /// The same at the radius described.
        mass: Option<Amount>,
        /// Behind the crank of lag zero in forward running, degrees.
        lag_deg: f64,
    }

    /// What is left over at the speed.
    LeftOverView {
        /// Greatest hammer blow of one wheel.
        greatest_blow: Amount,
        /// Hammer blow of the whole engine.
        engine_blow: Amount,
        /// Variation of the tractive effort.
        tractive_variation: Amount,
        /// Swaying couple.
        swaying: Amount,
    }

    /// Hammer blow at a speed.
    BlowView {
        /// Speed.
        speed: Amount,
        /// Greatest hammer blow of a wheel.
        blow: Amount,
    }
}
