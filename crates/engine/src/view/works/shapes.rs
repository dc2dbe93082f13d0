//! The shapes of strip, lift and build that leave the program.

use super::super::figure::Figure;
use super::super::motion::Amount;
use super::super::shape::shapes;

shapes! {
    /// A plan.
    PlanView {
        /// Engine.
        engine: String,
        /// strip or build.
        stage: &'static str,
        /// What it goes to, when not to the end.
        only_to: Option<String>,
        /// When it begins.
        begins: String,
        /// When the last work ends.
        ends: String,
        /// Working time from the first day to the end.
        elapsed: String,
        /// The same in minutes.
        elapsed_min: u64,
        /// No plan is shorter than this, minutes.
        bound_min: u64,
        /// How far, at most, the plan is above the best there can be, per cent of it.
        gap_percent: f64,
        /// Proven to be the best.
        optimal: bool,
        /// Moves of the engine.
        moves: u64,
        /// Set-ups of crane and the like.
        set_ups: u64,
        /// Hours of people.
        people_hours: f64,
        /// Works still to do.
        works: usize,
        /// Works done.
        done: Vec<DoneView>,
        /// What will not go.
        stuck: Vec<StuckView>,
        /// Day by day.
        days: Vec<PlanDayView>,
        /// What is otherwise than in the plan before.
        changes: Vec<ChangeView>,
        /// Ways that can never be done, and why.
        ways_out: Vec<String>,
        /// What was taken for granted.
        notes: Vec<String>,
        /// What always goes with it.
        caution: &'static str,
    }

    /// A work that is done.
    DoneView {
        /// Work.
        work: String,
        /// What.
        name: String,
        /// How.
        how: String,
        /// When it ended.
        ended: String,
    }

    /// A way that will not go.
    StuckView {
        /// Work.
        work: String,
        /// What.
        name: String,
        /// Which way.
        how: String,
        /// Why, as it was said.
        why: String,
    }

    /// One day of a plan.
    PlanDayView {
        /// Date.
        date: String,
        /// Day of the week.
        weekday: &'static str,
        /// Who is there.
        people: Vec<String>,
        /// Hours.
        hours: String,
        /// What is done.
        lines: Vec<LineView>,
        /// Works that go on from the day before.
        goes_on: Vec<String>,
        /// What hangs when the day ends.
        hangs: Vec<String>,
    }

    /// One line of a plan or of a day's list.
    LineView {
        /// Number in the plan, from 1; none for a move.
        number: Option<usize>,
        /// off, on, change, support, gauge, send, hold point, or bar.
        kind: &'static str,
        /// Time of the clock.
        from: String,
        /// When it ends: time, with the date where that is another.
        until: String,
        /// Working minutes.
        minutes: u64,
        /// Work.
        work: String,
        /// What is done.
        name: String,
        /// Way.
        way: String,
        /// How.
        how: String,
        /// How many people.
        people: u32,
        /// Who, as a proposal.
        who: Vec<String>,
        /// Kit.
        kit: Vec<String>,
        /// What else to fetch.
        bring: Vec<String>,
        /// Where from.
        place: String,
        /// Where the wheels stand.
        position: String,
        /// Cautions.
        cautions: Vec<String>,
        /// What it leaves hanging.
        leaves: Vec<String>,
        /// Kit that stays where it is, and until when.
        stays: Vec<String>,
        /// Why it comes here.
        why: String,
        /// The other ways there are.
        others: Vec<WayView>,
        /// Its lift.
        lift: Option<String>,
        /// Chance that it will not go, per cent.
        fails_percent: f64,
        /// Remark.
        note: String,
    }

    /// A way.
    WayView {
        /// Id.
        way: String,
        /// How.
        how: String,
        /// Minutes.
        minutes: u32,
        /// People.
        people: u32,
        /// Kit.
        kit: Vec<String>,
        /// What it needs first.
        needs: Vec<String>,
        /// What of that is not in the plan otherwise, with its minutes and people.
        besides: Vec<String>,
        /// People-minutes more than the way planned, with all it needs besides; less where negative.
        more_people_min: i64,
        /// Chance that it will not go either, per cent.
        fails_percent: f64,
        /// It will not go, as was recorded.
        stuck: bool,
    }

    /// A change.
    ChangeView {
        /// Work.
        work: String,
        /// What the work does.
        name: String,
        /// What is otherwise.
        what: String,
        /// Why.
        why: String,
        /// It is only later or sooner.
        only_time: bool,
        /// It is only taken out of its place in the order.
        only_order: bool,
    }

    /// A day's list.
    DayListView {
        /// Engine.
        engine: String,
        /// Date.
        date: String,
        /// Day of the week.
        weekday: &'static str,
        /// How many people, spell by spell.
        people: String,
        /// What to do.
        lines: Vec<LineView>,
        /// Kit to fetch.
        fetch: Vec<String>,
        /// Small things to fetch.
        bring: Vec<String>,
        /// Lifts of the day.
        lifts: Vec<String>,
        /// Cautions, each once.
        cautions: Vec<String>,
        /// Works whose turn it is that cannot be done with who and what is there, and why.
        waits: Vec<String>,
        /// What hangs overnight.
        hangs_overnight: Vec<String>,
        /// Chance that every way begun goes at once, per cent.
        all_go_percent: f64,
        /// When the whole stage would end with the day like this.
        then_ends: String,
        /// What was taken for granted.
        notes: Vec<String>,
    }

    /// Why one is before another.
    WhyView {
        /// The earlier.
        first: String,
        /// The later.
        then: String,
        /// It must be.
        must: bool,
        /// It is so.
        is: bool,
        /// Reasons.
        reasons: Vec<String>,
    }

    /// How soon something can be off, and what would help.
    SoonestView {
        /// Work.
        work: String,
        /// What it does.
        name: String,
        /// When the plan has it done.
        in_plan: String,
        /// When it could be done if all else waits.
        alone: String,
        /// Working time until then.
        alone_takes: String,
        /// It cannot be sooner than this.
        not_before: String,
        /// The works on the way, in order.
        by: Vec<String>,
        /// How the plan does it; empty where it is not in the plan.
        how: String,
        /// The other ways there are.
        ways: Vec<WayView>,
        /// What would save how much.
        savings: Vec<SavingView>,
    }

    /// What a change would save.
    SavingView {
        /// The change.
        what: String,
        /// Saved between the two plans found.
        saves: String,
        /// Saved for certain.
        at_least: String,
        /// Saved at most.
        at_most: String,
        /// The same in minutes.
        found_min: u64,
        /// For certain.
        at_least_min: u64,
        /// At most.
        at_most_min: u64,
    }

    /// A work as described, with what comes before it.
    WorkView {
        /// Id.
        work: String,
        /// What.
        name: String,
        /// strip or build.
        stage: &'static str,
        /// Sort.
        kind: &'static str,
        /// Only when a way needs it.
        when_needed: bool,
        /// Parts off or on.
        parts: Vec<String>,
        /// What comes first and why.
        after: Vec<String>,
        /// Ways.
        ways: Vec<WayView>,
    }

    /// A chart of a plan: panels, rows, bars.
    ChartView {
        /// Title.
        title: String,
        /// One a day.
        panels: Vec<PanelView>,
        /// People, tickets, kit.
        rows: Vec<ChartRowView>,
        /// Where the engine stands.
        engine: Vec<ChartBarView>,
        /// What is away or waited for.
        waits: Vec<ChartBarView>,
        /// Numbers and what they stand for.
        key: Vec<(usize, String)>,
    }

    /// One day of a chart.
    PanelView {
        /// Day in words.
        label: String,
        /// Clock minute at which it begins.
        opens_min: u32,
        /// Clock minute at which it ends.
        closes_min: u32,
        /// Spells in which nobody is there, clock minutes.
        empty: Vec<(u32, u32)>,
    }

    /// One row.
    ChartRowView {
        /// Name.
        name: String,
        /// It is a person.
        person: bool,
        /// Its bars.
        bars: Vec<ChartBarView>,
        /// Panels and clock minutes in which it is not there.
        away: Vec<(usize, u32, u32)>,
    }

    /// One bar.
    ChartBarView {
        /// Panel in which it begins.
        panel: usize,
        /// Clock minute.
        from_min: u32,
        /// Panel in which it ends.
        to_panel: usize,
        /// Clock minute.
        until_min: u32,
        /// Number in the plan.
        number: Option<usize>,
        /// Words.
        label: String,
        /// bench, engine, hold, lift, bar, stands or wait.
        look: &'static str,
    }

    /// A lift.
    LiftView {
        /// Id.
        lift: String,
        /// What.
        name: String,
        /// Datum in words.
        datum: String,
        /// Parts on the hook.
        parts: Vec<LiftPartView>,
        /// Mass.
        mass: Amount,
        /// Its standard uncertainty.
        mass_doubt: Amount,
        /// Balance point, x, y, z.
        balance: Vec<Figure>,
        /// Slings.
        sling: Option<SlingView>,
        /// Load transfer.
        slide: Option<SlideView>,
        /// Jacks.
        jacks: Option<JacksView>,
        /// Draw.
        draw: Option<DrawView>,
        /// Works that use it.
        used_by: Vec<String>,
        /// Cautions.
        cautions: Vec<&'static str>,
        /// What was taken for granted.
        notes: Vec<String>,
    }

    /// A part on the hook.
    LiftPartView {
        /// Part.
        part: String,
        /// Name.
        name: String,
        /// Mass.
        mass: Amount,
        /// weighed or composed.
        how: &'static str,
    }

    /// Slings.
    SlingView {
        /// Gear in words.
        gear: String,
        /// Rating of one leg.
        rated: Amount,
        /// Legs.
        legs: Vec<LegView>,
        /// Tilt, degrees.
        tilt_deg: f64,
        /// Hook above the balance point.
        hook_above: Figure,
        /// Within rating by statics.
        within_by_statics: bool,
        /// Within rating by mode factor.
        within_by_mode: bool,
        /// Mass over the rating by mode factor, per cent.
        mode_percent: Option<f64>,
        /// What else is to be told.
        findings: Vec<String>,
    }

    /// One leg.
    LegView {
        /// Number, from 1.
        leg: usize,
        /// Angle to the vertical, degrees.
        angle_deg: f64,
        /// Tension.
        tension: Amount,
        /// The most it can come to.
        most: Amount,
        /// Of its rating, per cent.
        share_percent: f64,
    }

    /// Load transfer.
    SlideView {
        /// The table, seated to off.
        stages: Vec<StageView>,
        /// Where something changes.
        events: Vec<String>,
        /// How to set the hook.
        advice: Vec<String>,
    }

    /// One row of it.
    StageView {
        /// How far out.
        out: Figure,
        /// The seat's inner edge carries; negative: holds down.
        seat_inner: Amount,
        /// The outer edge.
        seat_outer: Amount,
        /// The crane.
        crane: Amount,
        /// Hands; negative: hold down.
        hands: Amount,
        /// To draw it on, likely and at high friction.
        pull: Amount,
        /// At high friction.
        pull_high: Amount,
        /// How it stands.
        state: &'static str,
        /// It is not held.
        bad: bool,
    }

    /// Jacks.
    JacksView {
        /// Loads.
        loads: Vec<JackView>,
        /// Balance point to the nearest side of the supports.
        margin: Figure,
        /// What is left of it.
        left: Figure,
        /// Tilt that would tip it, degrees.
        tip_deg: f64,
        /// What else is to be told.
        findings: Vec<String>,
    }

    /// One support.
    JackView {
        /// Number, from 1.
        support: usize,
        /// Jack or packing.
        kind: &'static str,
        /// Load, all alike.
        load: Amount,
        /// The most.
        most: Amount,
        /// Of its rating, per cent.
        share_percent: Option<f64>,
    }

    /// A draw.
    DrawView {
        /// Force, low, likely, high.
        force: Vec<Amount>,
        /// Where it comes from.
        source: String,
        /// Pressure at the likely force.
        pressure: Amount,
        /// At the high one.
        pressure_high: Amount,
        /// Of the rating at the likely force, per cent.
        share_percent: f64,
        /// What the tackle must stand when the valve lifts.
        at_valve: Amount,
        /// What can be said.
        finding: &'static str,
    }
}
