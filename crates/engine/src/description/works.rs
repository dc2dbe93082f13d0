//! The records of strip, lift and build: shed, people, shifts, kit, places, works with their ways,
//! lifts, simple solids, and what has been done so far.

use super::{Text, merge};
use serde::Deserialize;
use toml::Spanned;

/// A whole number with its place.
pub type Count = Spanned<i64>;
/// A yes or no with its place.
pub type YesNo = Spanned<bool>;

layered_shape! {
    /// `[shed]`: when work begins, where the engine stands, what moving it takes.
    ShedText {
        /// First day of the strip.
        begins: Option<Text>,
        /// First day of the build.
        build_begins: Option<Text>,
        /// Last day of the calendar.
        until: Option<Text>,
        /// Where the engine stands at the start of the strip.
        stands: Option<Text>,
        /// Where it stands at the start of the build.
        build_stands: Option<Text>,
        /// People on the bar and at the scotches.
        bar_people: Option<Count>,
        /// Time of any move.
        bar_set_up: Option<Text>,
        /// Time for a whole turn besides.
        bar_turn: Option<Text>,
        /// What takes no longer than this is not left over a break half done.
        unbroken: Option<Text>,
        /// Works that come before the engine is moved.
        bar_after: Option<Vec<Text>>,
        /// Days on which the shed is shut.
        shut: Option<Vec<Text>>,
    }
}

layered_shape! {
    /// `[[person]]`
    PersonText {
        /// Initials or another short name.
        id: Option<Text>,
        /// Name.
        name: Option<Text>,
        /// What they hold a ticket for: slinger, inspector.
        tickets: Option<Vec<Text>>,
        /// Remark.
        note: Option<Text>,
    }
}

layered_shape! {
    /// `[[shift]]`: who is there when.
    ShiftText {
        /// Short id.
        id: Option<Text>,
        /// Days of the week, or dates.
        on: Option<Vec<Text>>,
        /// Hours: `09:00-12:30`.
        hours: Option<Vec<Text>>,
        /// People.
        people: Option<Vec<Text>>,
        /// First day it holds.
        from: Option<Text>,
        /// Last day it holds.
        until: Option<Text>,
    }
}

layered_shape! {
    /// `[[kit]]`
    KitText {
        /// Short id.
        id: Option<Text>,
        /// Name.
        name: Option<Text>,
        /// How many there are; one when not given.
        count: Option<Count>,
        /// Dates or days of the week on which it is there; always when not given.
        there: Option<Vec<Text>>,
        /// Weather in which it is not used: rain, wind, frost.
        not_in: Option<Vec<Text>>,
        /// Setting it up at a new spot is counted.
        set_ups: Option<YesNo>,
    }
}

layered_shape! {
    /// `[[place]]`: where people stand.
    PlaceText {
        /// Short id, as `by` in a `[[reach]]`: pit, above, side.
        id: Option<Text>,
        /// Name.
        name: Option<Text>,
        /// How many works can go on there at once; one when not given.
        room: Option<Count>,
        /// Weather in which it is not used.
        not_in: Option<Vec<Text>>,
        /// Dates on which it is shut.
        shut: Option<Vec<Text>>,
    }
}

layered_shape! {
    /// `[[work.way]]`
    WayText {
        /// Short id within its work.
        id: Option<Text>,
        /// How, in words.
        how: Option<Text>,
        /// How long.
        time: Option<Text>,
        /// How many people.
        people: Option<Count>,
        /// Kit that is shared: `crane`, `2 trestles`.
        kit: Option<Vec<Text>>,
        /// Small tools and material to fetch, in words.
        bring: Option<Vec<Text>>,
        /// Joints or features whose `[[reach]]` windows it needs, all of them.
        reach: Option<Vec<Text>>,
        /// Positions of the wheels, any of them: `left pin bottom`.
        at: Option<Vec<Text>>,
        /// How far either side of them.
        either_side: Option<Text>,
        /// Place it is done from.
        from: Option<Text>,
        /// Places kept clear of everybody meanwhile.
        keeps_clear: Option<Vec<Text>>,
        /// It is done at the bench, off the engine.
        bench: Option<YesNo>,
        /// It is begun and ended in one spell of work.
        same_day: Option<YesNo>,
        /// What comes first for this way: `WORK: reason`.
        needs: Option<Vec<Text>>,
        /// What it leaves hanging: `WHAT until WORK`.
        leaves: Option<Vec<Text>>,
        /// Kit that stays where it is: `KIT until WORK`.
        stays: Option<Vec<Text>>,
        /// lift, jack, hydraulic, hot, drop, below, or words.
        hazards: Option<Vec<Text>>,
        /// Chance that it will not go.
        fails: Option<Text>,
        /// Its lift.
        lift: Option<Text>,
        /// Where kit whose set-ups are counted stands.
        spot: Option<Text>,
    }
}

layered_shape! {
    /// `[[work]]`
    WorkText {
        /// Short id.
        id: Option<Text>,
        /// One such work for each of these; `<each>`, `<1>` and `<2>` stand for it and its words.
        each: Option<Vec<Text>>,
        /// What is done, in words.
        name: Option<Text>,
        /// strip or build.
        stage: Option<Text>,
        /// change, support, gauge, send, hold; what comes off or goes on says so itself.
        kind: Option<Text>,
        /// It comes into a plan only when a way needs it.
        when_needed: Option<YesNo>,
        /// Parts that come off.
        takes_off: Option<Vec<Text>>,
        /// Parts that go on.
        puts_on: Option<Vec<Text>>,
        /// Joints drawn or driven apart.
        undoes: Option<Vec<Text>>,
        /// Joints driven or pulled home.
        makes: Option<Vec<Text>>,
        /// Features, joints or chains gauged: their surfaces must be bare.
        gauges: Option<Vec<Text>>,
        /// Joints read while they are together.
        reads: Option<Vec<Text>>,
        /// What comes first, turned round in the build: `WORK: reason`, `WORK, 10 days later: reason`.
        after: Option<Vec<Text>>,
        /// What comes first, not turned round.
        needs: Option<Vec<Text>>,
        /// Everything in its stage that does not come before it waits for it.
        holds_all: Option<YesNo>,
        /// The strip work that this one undoes.
        reverse_of: Option<Text>,
        /// Remark for the card.
        note: Option<Text>,
        /// Its ways, best known first.
        way: Option<Vec<WayText>>,
    }
}

text_shape! {
    /// `slide` of a lift: a part that slides off its seat on to the crane, along one axis.
    SlideText {
        /// The seat, inner and outer edge.
        seat: Option<Vec<Text>>,
        /// The length of the part that fits it, inner and outer end.
        fit: Option<Vec<Text>>,
        /// Ends of the whole part.
        ends: Option<Vec<Text>>,
        /// grips or bears.
        hold: Option<Text>,
        /// Where the hook holds the part.
        hook: Option<Text>,
        /// Its pull; the part's weight when not given.
        pull: Option<Text>,
        /// tension or height.
        keep: Option<Text>,
        /// Where hands hold.
        hands: Option<Text>,
        /// The most they can push.
        hands_most: Option<Text>,
        /// Slope outwards and up.
        incline: Option<Text>,
        /// Friction: one figure or low, likely, high.
        friction: Option<Text>,
        /// Its balance point along the slide; that of the lift along x when not given.
        balance: Option<Text>,
    }
}

text_shape! {
    /// One jack or packing of a lift by jacks.
    JackText {
        /// Where its head bears, x and y.
        at: Option<Vec<Text>>,
        /// Rating; without one it is packing or a stand.
        rated: Option<Text>,
        /// Height of the packing under it.
        packing: Option<Text>,
        /// Its width at the foot.
        packing_width: Option<Text>,
        /// Area of the jack's foot on it.
        foot: Option<Text>,
    }
}

text_shape! {
    /// `draw` of a lift: a part drawn by hydraulic jack.
    DrawText {
        /// Force needed: one figure or low, likely, high.
        force: Option<Text>,
        /// Where the force comes from.
        source: Option<Text>,
        /// How many jacks.
        jacks: Option<Count>,
        /// Area of one ram.
        area: Option<Text>,
        /// Rated force of one.
        rated: Option<Text>,
        /// Pressure of the pump's valve.
        valve: Option<Text>,
        /// Stroke.
        stroke: Option<Text>,
    }
}

layered_shape! {
    /// `[[lift]]`
    LiftText {
        /// Short id.
        id: Option<Text>,
        /// One such lift for each of these, as with works.
        each: Option<Vec<Text>>,
        /// What is lifted, in words.
        name: Option<Text>,
        /// Parts on the hook.
        parts: Option<Vec<Text>>,
        /// What hangs on besides: slings, keeps, oil.
        and: Option<Text>,
        /// Balance point, x, y, z from the datum of the lift.
        balance: Option<Vec<Text>>,
        /// Its standard uncertainty on each axis.
        balance_doubt: Option<Vec<Text>>,
        /// Standard uncertainty of the whole mass.
        mass_doubt: Option<Text>,
        /// Where the datum is, in words.
        datum: Option<Text>,
        /// Corner of a box round the load.
        box_from: Option<Vec<Text>>,
        /// Its opposite corner.
        box_to: Option<Vec<Text>>,
        /// Eyes, each x, y, z.
        eyes: Option<Vec<Vec<Text>>>,
        /// Lengths of the legs; one for all or one each.
        legs: Option<Vec<Text>>,
        /// Gear in words.
        gear: Option<Text>,
        /// Working load limit of one leg.
        rated: Option<Text>,
        /// straight or choked.
        hitch: Option<Text>,
        /// Share of the rating that an edge leaves.
        edge: Option<Text>,
        /// Tilt allowed.
        most_tilt: Option<Text>,
        /// Sliding off its seat.
        slide: Option<SlideText>,
        /// Drawing.
        draw: Option<DrawText>,
        /// Jacks and packing.
        jack: Option<Vec<JackText>>,
        /// Height of the jack heads above the datum.
        heads: Option<Text>,
        /// Side force to be reckoned with.
        side: Option<Text>,
        /// Slope of floor or rail.
        grade: Option<Text>,
        /// Remark.
        note: Option<Text>,
    }
}

layered_shape! {
    /// `[[solid]]`: a simple solid of a part, for its mass and balance point.
    SolidText {
        /// Short id.
        id: Option<Text>,
        /// Part.
        of: Option<Text>,
        /// bar, cylinder, tube, cone, ring.
        shape: Option<Text>,
        /// Length, along x.
        length: Option<Text>,
        /// Width, along y.
        width: Option<Text>,
        /// Height, along z.
        height: Option<Text>,
        /// Outer diameter; of a cone the one at x = 0.
        outer: Option<Text>,
        /// Inner diameter; of a cone the other.
        inner: Option<Text>,
        /// Whole angle of a ring.
        arc: Option<Text>,
        /// Where its datum lies, x, y, z.
        at: Option<Vec<Text>>,
        /// Turns about x, y and z.
        turned: Option<Vec<Text>>,
        /// It is a hole.
        hole: Option<YesNo>,
        /// Material; the part's when not given.
        material: Option<Text>,
        /// Standard uncertainty of every size.
        doubt: Option<Text>,
    }
}

text_shape! {
    /// `[[progress]]`: what happened. One of `done`, `stuck`, `undone` says what and when.
    ProgressText {
        /// Work.
        work: Option<Text>,
        /// Way.
        way: Option<Text>,
        /// Done: when it ended.
        done: Option<Text>,
        /// Will not go: when it was given up.
        stuck: Option<Text>,
        /// Not done after all: when that was seen.
        undone: Option<Text>,
        /// When it was begun.
        began: Option<Text>,
        /// Where the engine stands now.
        stands: Option<Text>,
        /// Why, in words.
        why: Option<Text>,
        /// Who says so.
        by: Option<Text>,
    }
}

impl WorkText {
    /// This record laid over another; its ways by their ids.
    pub(crate) fn laid_over(mut self, mut base: WorkText) -> WorkText {
        let id = |w: &WayText| w.id.as_ref().map(|t| t.get_ref().clone());
        self.way = match (self.way.take(), base.way.take()) {
            (Some(top), Some(below)) => Some(merge::lay(below, top, id, WayText::over)),
            (top, below) => top.or(below),
        };
        self.over(base)
    }

    /// One record for each thing in `each`.
    pub(crate) fn for_each(self) -> Vec<WorkText> {
        spread(self, |w| w.each.take(), WorkText::filled)
    }
}

impl LiftText {
    /// One record for each thing in `each`.
    pub(crate) fn for_each(self) -> Vec<LiftText> {
        spread(self, |l| l.each.take(), LiftText::filled)
    }
}

fn spread<T: Clone>(
    mut record: T,
    each: impl Fn(&mut T) -> Option<Vec<Text>>,
    filled: impl Fn(T, &Filling) -> T,
) -> Vec<T> {
    match each(&mut record) {
        None => vec![record],
        Some(all) => all
            .iter()
            .take(1000)
            .map(|t| filled(record.clone(), &Filling::of(t.get_ref())))
            .collect(),
    }
}

/// What `<each>`, `<1>` ... and `<other>` stand for.
pub(crate) struct Filling(Vec<(String, String)>);

impl Filling {
    fn of(text: &str) -> Filling {
        let mut pairs = vec![("<each>".to_owned(), text.trim().to_owned())];
        for (i, word) in text.split_whitespace().enumerate() {
            pairs.push((format!("<{}>", i + 1), word.to_owned()));
        }
        if let Some(other) = match text.trim() {
            "left" => Some("right"),
            "right" => Some("left"),
            _ => None,
        } {
            pairs.push(("<other>".to_owned(), other.to_owned()));
        }
        Filling(pairs)
    }
}

/// Words put in where a record says `<each>`; places in the file stay.
trait Filled: Sized {
    fn filled(self, with: &Filling) -> Self;
}

impl Filled for Text {
    fn filled(self, with: &Filling) -> Text {
        let span = self.span();
        let mut text = self.into_inner();
        if text.contains('<') {
            for (from, to) in &with.0 {
                text = text.replace(from, to);
            }
        }
        Spanned::new(span, text)
    }
}

impl<T: Filled> Filled for Option<T> {
    fn filled(self, with: &Filling) -> Self {
        self.map(|t| t.filled(with))
    }
}

impl<T: Filled> Filled for Vec<T> {
    fn filled(self, with: &Filling) -> Self {
        self.into_iter().map(|t| t.filled(with)).collect()
    }
}

impl Filled for Count {
    fn filled(self, _: &Filling) -> Self {
        self
    }
}

impl Filled for YesNo {
    fn filled(self, _: &Filling) -> Self {
        self
    }
}

macro_rules! filled {
    ($($name:ident { $($field:ident),+ $(,)? })+) => {
        $(impl Filled for $name {
            fn filled(self, with: &Filling) -> Self {
                $name { $($field: self.$field.filled(with),)+ }
            }
        })+
    };
}

filled! {
    WorkText {
        id, each, name, stage, kind, when_needed, takes_off, puts_on, undoes, makes, gauges, reads,
        after, needs, holds_all, reverse_of, note, way,
    }
    WayText {
        id, how, time, people, kit, bring, reach, at, either_side, from, keeps_clear, bench, same_day,
        needs, leaves, stays, hazards, fails, lift, spot,
    }
    LiftText {
        id, each, name, parts, and, balance, balance_doubt, mass_doubt, datum, box_from, box_to, eyes,
        legs, gear, rated, hitch, edge, most_tilt, slide, draw, jack, heads, side, grade, note,
    }
    SlideText {
        seat, fit, ends, hold, hook, pull, keep, hands, hands_most, incline, friction, balance,
    }
    JackText { at, rated, packing, packing_width, foot }
    DrawText { force, source, jacks, area, rated, valve, stroke }
}
