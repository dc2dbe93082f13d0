//! The shapes that leave the program.

use super::figure::Figure;
use super::shape::shapes;

shapes! {
    /// An engine at a glance.
    Summary {
        /// Name.
        engine: String,
        /// Whose.
        railway: String,
        /// Remark.
        note: String,
        /// Pattern.
        pattern: Option<String>,
        /// Day of judging.
        judged_on: Option<String>,
        /// First day of the overhaul.
        overhaul_began: Option<String>,
        /// How many of each.
        counts: Counts,
        /// Joints, worst first.
        joints: Vec<JointLine>,
        /// Chains, worst first, without those that a piston clearance tells.
        chains: Vec<ChainView>,
        /// Piston clearances, worst first.
        pistons: Vec<PistonLine>,
        /// How many of them.
        piston_counts: PistonCounts,
        /// Features not in any joint that are beyond or near a limit of their own.
        loose_features: Vec<LimitView>,
        /// Readings that look like slips.
        suspicious: Vec<SuspicionView>,
        /// Parts that look exchanged.
        swaps: Vec<SwapView>,
        /// Conditions found.
        findings: Vec<FindingView>,
        /// Gauges.
        gauges: Vec<GaugeView>,
        /// Things to know.
        cautions: Vec<String>,
    }

    /// How many of each.
    Counts {
        /// Parts.
        parts: usize,
        /// Features.
        features: usize,
        /// Features with a size.
        features_gauged: usize,
        /// Joints.
        joints: usize,
        /// Chains.
        chains: usize,
        /// Readings.
        readings: usize,
        /// Joints beyond.
        beyond: usize,
        /// Joints near.
        near: usize,
        /// Joints that cannot be told.
        cannot_tell: usize,
        /// Joints within.
        within: usize,
        /// Joints without a limit.
        no_limit: usize,
    }

    /// Piston clearances by verdict.
    PistonCounts {
        /// Beyond.
        beyond: usize,
        /// Near.
        near: usize,
        /// That cannot be told, or are not described in full.
        cannot_tell: usize,
        /// Within.
        within: usize,
        /// Without a limit.
        no_limit: usize,
    }

    /// A piston clearance in one line, with its limits.
    PistonLine {
        /// Cylinder and end: left front.
        id: String,
        /// Cylinder.
        cylinder: String,
        /// front or back.
        end: &'static str,
        /// In words.
        name: String,
        /// Verdict in service.
        verdict: &'static str,
        /// Verdict for putting back.
        refit_verdict: &'static str,
        /// With every pin in the middle of its brasses; absent where the motion is not described
        /// in full.
        clearance: Option<Figure>,
        /// With all slack taken up towards this cover.
        slack_taken_up: Option<Figure>,
        /// As made.
        as_made: Option<Figure>,
        /// Difference from as made.
        change: Option<Figure>,
        /// The limit that decides, in words, or what is missing.
        because: String,
        /// Verdict by limit.
        limits: Vec<LimitView>,
        /// Sizes that contribute most to its doubt, in words.
        doubt_from: Vec<String>,
    }

    /// A joint in one line.
    JointLine {
        /// Id.
        id: String,
        /// Name.
        name: String,
        /// Kind.
        kind: &'static str,
        /// Verdict in service.
        verdict: &'static str,
        /// Verdict for putting back.
        refit_verdict: &'static str,
        /// Its main measure: what it is called.
        measure: &'static str,
        /// And what it is.
        value: Option<Figure>,
        /// The limit that decides, in words.
        because: String,
    }

    /// A joint in full.
    JointView {
        /// Id.
        id: String,
        /// Name.
        name: String,
        /// Kind.
        kind: &'static str,
        /// Verdict in service.
        verdict: &'static str,
        /// Verdict for putting back.
        refit_verdict: &'static str,
        /// Its measures.
        measures: Vec<MeasureView>,
        /// What was gauged beside the fit its duty names.
        fit: Option<FitView>,
        /// Main measure as made.
        as_made: Option<Figure>,
        /// Main measure last time.
        last_time: Option<Figure>,
        /// Change of the main measure since made.
        change_since_made: Option<Figure>,
        /// And since last time.
        change_since_last: Option<Figure>,
        /// Verdict by limit.
        limits: Vec<LimitView>,
        /// Where the uncertainty of the main measure comes from, largest first.
        budget: Vec<ContributorView>,
        /// Effective degrees of freedom of the main measure; absent when infinite.
        degrees_of_freedom: Option<f64>,
        /// Its features, inner first.
        features: Vec<FeatureView>,
        /// Features without a size.
        missing: Vec<String>,
        /// Chains its features are in.
        chains: Vec<String>,
        /// Things to know.
        cautions: Vec<String>,
        /// Decisions made, oldest first.
        decisions: Vec<DecisionView>,
    }

    /// A pair as gauged beside its fit.
    FitView {
        /// The fit as its duty writes it.
        symbol: String,
        /// Where that stands.
        from: String,
        /// Within, too loose, too tight, or cannot tell; empty where it cannot be compared.
        verdict: &'static str,
        /// Clearance or interference.
        of: &'static str,
        /// As gauged.
        achieved: Option<Figure>,
        /// Least by the fit.
        least: Option<Figure>,
        /// Most by the fit.
        most: Option<Figure>,
        /// Which side is off, or why it cannot be compared.
        words: String,
    }

    /// A measure.
    MeasureView {
        /// What.
        measure: &'static str,
        /// Figure.
        figure: Figure,
    }

    /// A contributor to an uncertainty.
    ContributorView {
        /// In words.
        source: String,
        /// Its standard uncertainty in the result.
        u: Figure,
        /// Share of the variance, per cent.
        share_percent: f64,
    }

    /// A figure against a limit.
    LimitView {
        /// Feature, when the limit is on one.
        feature: Option<String>,
        /// Of what.
        of: &'static str,
        /// When.
        when: &'static str,
        /// Not less than.
        min: Option<Figure>,
        /// Not more than.
        max: Option<Figure>,
        /// Who says so.
        source: &'static str,
        /// Reference.
        note: String,
        /// What it is.
        value: Option<Figure>,
        /// Guard band.
        guard: Figure,
        /// Distance to the nearer limit.
        margin: Option<Figure>,
        /// Share of the wear allowance left, per cent.
        allowance_left_percent: Option<f64>,
        /// Probability of being inside.
        probability_inside: Option<f64>,
        /// Verdict.
        verdict: &'static str,
        /// Became cannot tell because of a gauge out of calibration.
        gauge_lapsed: bool,
        /// Gauges that could tell.
        could_tell: Vec<String>,
    }

    /// A feature.
    FeatureView {
        /// Id.
        id: String,
        /// Name.
        name: String,
        /// Part.
        part: String,
        /// Kind.
        kind: &'static str,
        /// Round or not.
        round: bool,
        /// Metal inside the surface (journal) or outside (bore).
        metal_inside: bool,
        /// As made.
        as_made: Option<Figure>,
        /// Mean size at 20 degC.
        size: Option<Figure>,
        /// Largest place.
        largest: Option<Figure>,
        /// Smallest place.
        smallest: Option<Figure>,
        /// Cleans up at.
        clean_up: Option<Figure>,
        /// Form.
        form: Vec<MeasureView>,
        /// Lost since made.
        worn_since_made: Option<Figure>,
        /// Lost since last time.
        worn_since_last: Option<Figure>,
        /// Condition found.
        condition: Option<&'static str>,
        /// Station names and their places, metres.
        stations: Vec<StationView>,
        /// Readings.
        readings: Vec<ReadingView>,
        /// Why there is no size.
        missing: Option<String>,
        /// Things to know.
        cautions: Vec<String>,
    }

    /// A station.
    StationView {
        /// Name.
        name: String,
        /// Along the axis, metres.
        at_m: f64,
    }

    /// A reading.
    ReadingView {
        /// Position in the engine's list.
        number: u32,
        /// Station.
        station: String,
        /// Degrees.
        direction_deg: Option<f64>,
        /// As written.
        text: String,
        /// Metres as read.
        si: f64,
        /// across or dial.
        kind: &'static str,
        /// Gauge.
        gauge: String,
        /// Person.
        by: String,
        /// Day.
        when: String,
        /// Degrees Celsius.
        temperature_c: Option<f64>,
        /// Counted or not.
        counted: bool,
        /// counts, dial, last time, set aside, struck out, or no gauge.
        status: &'static str,
        /// Struck out.
        struck: bool,
    }

    /// A chain.
    ChainView {
        /// Id.
        id: String,
        /// Name.
        name: String,
        /// Verdict in service.
        verdict: &'static str,
        /// Length.
        length: Option<Figure>,
        /// As made.
        as_made: Option<Figure>,
        /// Difference from as made.
        change: Option<Figure>,
        /// Verdict by limit.
        limits: Vec<LimitView>,
        /// Terms.
        terms: Vec<TermView>,
        /// Where the uncertainty comes from.
        budget: Vec<ContributorView>,
        /// Terms without a size.
        missing: Vec<String>,
        /// Terms taken as made.
        assumed: Vec<String>,
        /// The piston clearance that tells this figure: left front. Where it stands in the lists,
        /// this chain does not.
        told_by: Option<String>,
    }

    /// A chain drawn many times.
    SimulationView {
        /// Draws.
        draws: u64,
        /// Seed.
        seed: u64,
        /// Mean.
        mean: Figure,
        /// Standard deviation.
        standard_deviation: Figure,
        /// 95 per cent of draws lie from here.
        low: Figure,
        /// To here.
        high: Figure,
        /// Every source at its worst: least.
        worst_low: Figure,
        /// And greatest.
        worst_high: Figure,
        /// Share of draws inside the limits in service, where there are any.
        inside: Option<f64>,
        /// First-order standard uncertainty beside it.
        first_order: Figure,
    }

    /// A term of a chain.
    TermView {
        /// Factor.
        factor: f64,
        /// Feature.
        feature: String,
        /// Size.
        size: Option<Figure>,
    }

    /// A reading that looks like a slip.
    SuspicionView {
        /// Feature.
        feature: String,
        /// Station.
        station: String,
        /// Degrees.
        direction_deg: Option<f64>,
        /// As written.
        text: String,
        /// Row in its file.
        row: u32,
        /// Gauge.
        gauge: String,
        /// What looks wrong.
        why: String,
        /// One word for it.
        slip: &'static str,
        /// What was meant.
        meant: Option<Figure>,
        /// It does not count until a person says otherwise.
        set_aside: bool,
    }

    /// Parts that look exchanged.
    SwapView {
        /// Joint.
        joint: String,
        /// The part in it.
        part: String,
        /// Joint it would suit.
        suits: String,
        /// In words.
        words: String,
    }

    /// A condition found.
    FindingView {
        /// Feature.
        feature: String,
        /// Condition.
        condition: &'static str,
        /// By.
        by: String,
        /// When.
        when: String,
        /// In their words.
        note: String,
    }

    /// A gauge.
    GaugeView {
        /// Id.
        id: String,
        /// Kind.
        kind: String,
        /// Limits of error.
        error: Figure,
        /// Repeatability used.
        repeatability: Figure,
        /// From how many degrees of freedom; 0 when from its description.
        repeats: f64,
        /// Due.
        due: Option<String>,
        /// Readings taken with it.
        readings: usize,
        /// Of which after it was due.
        lapsed_readings: usize,
    }

    /// A decision.
    DecisionView {
        /// What.
        repair: &'static str,
        /// Sizes.
        make: Vec<String>,
        /// Who.
        by: String,
        /// When.
        when: String,
        /// Why.
        reason: String,
    }

    /// What could be done.
    OptionView {
        /// What.
        repair: &'static str,
        /// In words.
        words: String,
        /// It can be done.
        can_be_done: bool,
        /// It is recommended.
        recommended: bool,
        /// Why not.
        against: Vec<String>,
        /// Sizes.
        targets: Vec<TargetView>,
        /// Main measure afterwards.
        after: Option<Figure>,
        /// Probability of being inside the limits for putting back.
        probability: Option<f64>,
        /// Other joints that move.
        joints: Vec<EffectView>,
        /// Chains that move.
        chains: Vec<EffectView>,
        /// Piston clearances that move, front before back.
        pistons: Vec<EffectView>,
        /// The same in words, one sentence a cylinder.
        piston_words: Vec<String>,
    }

    /// A size to make.
    TargetView {
        /// Feature.
        feature: String,
        /// Its name.
        name: String,
        /// Size at 20 degC.
        to: Figure,
        /// Plus or minus.
        tolerance: Figure,
        /// How.
        way: &'static str,
        /// Made to suit this feature's finished size.
        to_suit: Option<String>,
        /// And this much more.
        more: Option<Figure>,
    }

    /// What moves.
    EffectView {
        /// Joint or chain.
        id: String,
        /// Measure.
        measure: &'static str,
        /// Before.
        before: Option<Figure>,
        /// After.
        after: Option<Figure>,
        /// By how much.
        moves: Option<Figure>,
        /// Verdict before.
        verdict_before: &'static str,
        /// Verdict after.
        verdict_after: &'static str,
        /// Probability of being inside its limits.
        probability: Option<f64>,
    }

    /// A trial.
    TrialView {
        /// What was proposed.
        acts: Vec<String>,
        /// Sizes it makes.
        sizes: Vec<SizeChangeView>,
        /// Joints that move.
        joints: Vec<EffectView>,
        /// Chains that move.
        chains: Vec<EffectView>,
        /// Piston clearances that move.
        pistons: Vec<EffectView>,
        /// The same in words, one sentence a cylinder.
        piston_words: Vec<String>,
    }

    /// A size changed.
    SizeChangeView {
        /// Feature.
        feature: String,
        /// Before.
        before: Option<Figure>,
        /// After.
        after: Figure,
    }

    /// The machine-to list.
    MachineToView {
        /// Lines.
        lines: Vec<MachineToLineView>,
        /// Things to do that make no size.
        to_do: Vec<OpenView>,
        /// Liners.
        liners: Vec<LinerView>,
        /// Joints still open, with the reason.
        open: Vec<OpenView>,
        /// Families.
        families: Vec<FamilyView>,
        /// Things to know.
        cautions: Vec<String>,
    }

    /// A line of the list.
    MachineToLineView {
        /// Joint.
        joint: String,
        /// Repair.
        repair: &'static str,
        /// Part.
        part: String,
        /// Feature.
        feature: String,
        /// Its name.
        name: String,
        /// Size as read.
        now: Option<Figure>,
        /// Size to make.
        to: Figure,
        /// Plus or minus.
        tolerance: Figure,
        /// How.
        way: &'static str,
        /// To suit.
        to_suit: Option<String>,
        /// And this much more.
        more: Option<Figure>,
        /// Who decided; absent when recommended only.
        decided_by: Option<String>,
        /// Another line wants another size.
        conflict: bool,
    }

    /// A liner.
    LinerView {
        /// Joint.
        joint: String,
        /// Thickness.
        thickness: Figure,
    }

    /// A joint still open.
    OpenView {
        /// Joint.
        joint: String,
        /// Why.
        why: String,
    }

    /// A family.
    FamilyView {
        /// Name.
        family: String,
        /// Members on the list.
        members: Vec<String>,
        /// Size that serves them all.
        common: Figure,
    }
}
