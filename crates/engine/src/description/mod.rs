//! An engine as a person writes it: TOML, every text with its place so that a fault can be
//! pointed at.
//!
//! These are the shapes of the file, not of the engine: everything is optional and nothing is
//! checked against anything else here. [`crate::model`] does that.

mod duty;
mod merge;
mod read;

pub use duty::{DutyText, DutyValue};
pub use read::{MAX_DESCRIPTION_BYTES, SourceText, Sources};

use serde::Deserialize;
use toml::Spanned;

/// A text with its place in the file.
pub type Text = Spanned<String>;

/// One file's worth of description.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Description {
    /// Name, railway, pattern, dates.
    pub engine: Option<EngineHead>,
    /// Answers to the pattern's questions.
    #[serde(default)]
    pub dimensions: indexmap::IndexMap<String, Text>,
    /// How well the workshop holds size, and what it assumes when a reading does not say.
    pub workshop: Option<WorkshopText>,
    /// Materials and their expansion.
    #[serde(default, rename = "material")]
    pub materials: Vec<MaterialText>,
    /// Gauges.
    #[serde(default, rename = "gauge")]
    pub gauges: Vec<GaugeText>,
    /// Parts.
    #[serde(default, rename = "part")]
    pub parts: Vec<PartText>,
    /// Features.
    #[serde(default, rename = "feature")]
    pub features: Vec<FeatureText>,
    /// Joints.
    #[serde(default, rename = "joint")]
    pub joints: Vec<JointText>,
    /// Limits.
    #[serde(default, rename = "limit")]
    pub limits: Vec<LimitText>,
    /// Chains.
    #[serde(default, rename = "chain")]
    pub chains: Vec<ChainText>,
    /// Readings written by hand in the engine's own file.
    #[serde(default, rename = "reading")]
    pub readings: Vec<ReadingText>,
    /// Conditions found by eye, ear or dye.
    #[serde(default, rename = "finding")]
    pub findings: Vec<FindingText>,
    /// Readings taken back, with the reason.
    #[serde(default, rename = "strike-out")]
    pub strike_outs: Vec<StrikeOutText>,
    /// Decisions.
    #[serde(default, rename = "decision")]
    pub decisions: Vec<DecisionText>,
    /// What the cylinders share.
    pub motion: Option<MotionText>,
    /// Cylinders.
    #[serde(default, rename = "cylinder")]
    pub cylinders: Vec<CylinderText>,
    /// Coupled axles, for balance.
    #[serde(default, rename = "axle")]
    pub axles: Vec<AxleText>,
    /// Masses that turn with an axle.
    #[serde(default, rename = "turning-mass")]
    pub turning_masses: Vec<TurningMassText>,
    /// Strength of parts under stress that comes and goes.
    #[serde(default)]
    pub fatigue: Vec<FatigueText>,
    /// Where the wheels must stand to get at something.
    #[serde(default, rename = "reach")]
    pub reaches: Vec<ReachText>,
    /// Marks of bump tests.
    #[serde(default, rename = "bump")]
    pub bumps: Vec<BumpText>,
    /// What joints have to do, for designing their repair.
    #[serde(default, rename = "duty")]
    pub duties: Vec<DutyText>,
    /// When and where strip and build go on.
    pub shed: Option<ShedText>,
    /// People.
    #[serde(default, rename = "person")]
    pub crew: Vec<PersonText>,
    /// Who is there when.
    #[serde(default, rename = "shift")]
    pub shifts: Vec<ShiftText>,
    /// Shared kit.
    #[serde(default, rename = "kit")]
    pub kit: Vec<KitText>,
    /// Where people stand.
    #[serde(default, rename = "place")]
    pub places: Vec<PlaceText>,
    /// Works with their ways.
    #[serde(default, rename = "work")]
    pub works: Vec<WorkText>,
    /// Lifts.
    #[serde(default, rename = "lift")]
    pub lifts: Vec<LiftText>,
    /// Simple solids of parts.
    #[serde(default, rename = "solid")]
    pub solids: Vec<SolidText>,
    /// What has been done so far.
    #[serde(default, rename = "progress")]
    pub progress: Vec<ProgressText>,
}

/// A record of the file: every field optional, names with dashes, nothing unknown taken.
macro_rules! text_shape {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident : $kind:ty),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, Deserialize)]
        #[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
        pub struct $name {
            $($(#[$field_doc])* pub $field: $kind,)+
        }
    };
}

/// A record that an engine's own file may lay over its pattern's.
macro_rules! layered_shape {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident : $kind:ty),+ $(,)? }) => {
        text_shape! { $(#[$doc])* $name { $($(#[$field_doc])* $field: $kind),+ } }

        impl $name {
            /// This record laid over another: whatever is given here wins, the rest stays.
            pub(crate) fn over(self, base: Self) -> Self {
                $name { $($field: merge::Over::over(self.$field, base.$field),)+ }
            }
        }
    };
}

mod motion;
mod works;

pub use motion::{
    AxleText, BumpText, CylinderText, FatigueText, MotionText, ReachText, TurningMassText,
};
pub use works::{
    Count, DrawText, JackText, KitText, LiftText, PersonText, PlaceText, ProgressText, ShedText,
    ShiftText, SlideText, SolidText, WayText, WorkText, YesNo,
};

layered_shape! {
    /// `[engine]`
    EngineHead {
        /// Name or number.
        name: Option<Text>,
        /// Whose engine.
        railway: Option<Text>,
        /// Layout it is made from.
        pattern: Option<Text>,
        /// First day of this overhaul: earlier readings are "last time".
        overhaul_began: Option<Text>,
        /// Anything worth telling the reader.
        note: Option<Text>,
    }
}

layered_shape! {
    /// `[workshop]`: standard deviations of finished sizes, by way of working.
    WorkshopText {
        /// Turning.
        turning: Option<Text>,
        /// Grinding.
        grinding: Option<Text>,
        /// Boring bronze, iron or steel.
        boring: Option<Text>,
        /// Boring white metal.
        metal_boring: Option<Text>,
        /// Reaming.
        reaming: Option<Text>,
        /// Planing, milling.
        planing: Option<Text>,
        /// Filing and scraping by hand.
        filing: Option<Text>,
        /// Step between repair sizes.
        repair_step: Option<Text>,
        /// Least depth of cut that still cleans a surface, on diameter.
        least_cut: Option<Text>,
        /// Temperature of parts and gauges when a reading does not say.
        temperature: Option<Text>,
        /// Standard uncertainty of that assumption.
        temperature_doubt: Option<Text>,
        /// Standard uncertainty of a temperature that was read.
        thermometer: Option<Text>,
        /// Standard uncertainty of the difference between part and gauge temperature.
        soak_doubt: Option<Text>,
        /// Probability asked for before a verdict is given, per cent.
        confidence: Option<toml::Spanned<f64>>,
        /// Share of the wear allowance left at which a joint is called near, per cent.
        near: Option<toml::Spanned<f64>>,
    }
}

layered_shape! {
    /// `[[material]]`
    MaterialText {
        /// Name.
        id: Option<Text>,
        /// Linear expansion.
        expansion: Option<Text>,
        /// Its standard uncertainty.
        expansion_doubt: Option<Text>,
        /// Density.
        density: Option<Text>,
        /// Modulus of elasticity.
        modulus: Option<Text>,
        /// Poisson's ratio.
        poisson: Option<Text>,
        /// Yield strength, or the proof stress that a competent person allows.
        yield_strength: Option<Text>,
        /// Where modulus, ratio and strength come from.
        strength_source: Option<Text>,
        /// Where the figures come from.
        source: Option<Text>,
    }
}

layered_shape! {
    /// `[[gauge]]`
    GaugeText {
        /// Name or number on the instrument.
        id: Option<Text>,
        /// What it is.
        kind: Option<Text>,
        /// Smallest it reads.
        from: Option<Text>,
        /// Largest it reads.
        to: Option<Text>,
        /// Limits of its error: plus or minus this.
        error: Option<Text>,
        /// Standard deviation of repeats when too few were taken to tell.
        repeat: Option<Text>,
        /// Known correction, added to what it shows.
        correction: Option<Text>,
        /// Material, for its own expansion.
        material: Option<Text>,
        /// Last calibration.
        calibrated: Option<Text>,
        /// When that runs out.
        due: Option<Text>,
    }
}

layered_shape! {
    /// `[[part]]`
    PartText {
        /// Short id.
        id: Option<Text>,
        /// Name as said in the shop.
        name: Option<Text>,
        /// Part it belongs to.
        inside: Option<Text>,
        /// left, right or nothing.
        side: Option<Text>,
        /// Material.
        material: Option<Text>,
        /// Mass, weighed or from the drawing.
        mass: Option<Text>,
        /// Tag tied to it.
        tag: Option<Text>,
        /// Where it lies.
        place: Option<Text>,
        /// Standard uncertainty of its mass.
        mass_doubt: Option<Text>,
        /// Balance point, x, y, z from its own datum.
        balance: Option<Vec<Text>>,
        /// Standard uncertainty of that on each axis.
        balance_doubt: Option<Vec<Text>>,
        /// It fastens what it mates with: bolt, pin, wedge, cotter, nut.
        fastens: Option<toml::Spanned<bool>>,
        /// Parts that hold it.
        held_by: Option<Vec<Text>>,
        /// Parts that cover it.
        covered_by: Option<Vec<Text>>,
        /// Parts that it rests on.
        supported_by: Option<Vec<Text>>,
    }
}

layered_shape! {
    /// `[[feature]]`
    FeatureText {
        /// Short id.
        id: Option<Text>,
        /// Part it is on.
        part: Option<Text>,
        /// journal, bore, thickness, ...
        kind: Option<Text>,
        /// Name as said in the shop.
        name: Option<Text>,
        /// Size when new.
        as_made: Option<Text>,
        /// Its tolerance, plus or minus.
        tolerance: Option<Text>,
        /// Size last time, when there are no readings of it.
        last: Option<Text>,
        /// Gauged length along the axis.
        length: Option<Text>,
        /// Names of the stations along the axis, evenly spaced unless `station-at` says.
        stations: Option<Vec<Text>>,
        /// Where each station is along the axis.
        station_at: Option<Vec<Text>>,
        /// Never smaller than this.
        least: Option<Text>,
        /// Never larger than this.
        most: Option<Text>,
        /// The size wears with use (the default) or does not.
        surface: Option<Text>,
        /// Ways this surface can be worked.
        can: Option<Vec<Text>>,
        /// Features that make up the two halves of a split bearing, fixed half first.
        halves: Option<Vec<Text>>,
        /// Direction across the joint faces of a split bearing (the direction that closes).
        closes_at: Option<Text>,
        /// Features of one family are best made to one size.
        family: Option<Text>,
        /// When there is no reading, take the size as made (with its tolerance) in chains.
        assume_as_made: Option<toml::Spanned<bool>>,
    }
}

layered_shape! {
    /// `[[joint]]`
    JointText {
        /// Short id.
        id: Option<Text>,
        /// running, sliding, fitted, ...
        kind: Option<Text>,
        /// Name as said in the shop.
        name: Option<Text>,
        /// Feature inside: the journal, the slipper, the bolt, the wedge.
        inner: Option<Text>,
        /// Feature outside: the bore, the bars, the hole, the slot.
        outer: Option<Text>,
        /// Features that fill the space between: brasses in a slot, liners, packing.
        fills: Option<Vec<Text>>,
        /// Taper, for tapered and wedged joints.
        taper: Option<Text>,
        /// Wedge: feature that says how far it stands.
        stand: Option<Text>,
        /// Wedge: stand when driven no further than home.
        stand_least: Option<Text>,
        /// Wedge: stand at the other end of its travel.
        stand_most: Option<Text>,
        /// Joints of one group have parts that could be exchanged by mistake.
        group: Option<Text>,
        /// Parts that hold it together.
        held_by: Option<Vec<Text>>,
    }
}

layered_shape! {
    /// `[[limit]]`
    LimitText {
        /// Feature, joint or chain.
        on: Option<Text>,
        /// What of it: size, ovality, clearance, ...
        of: Option<Text>,
        /// made, refit or service.
        when: Option<Text>,
        /// Not less than.
        min: Option<Text>,
        /// Not more than.
        max: Option<Text>,
        /// drawing, standard, common practice, engineer.
        source: Option<Text>,
        /// Reference: drawing number, clause, who and when.
        note: Option<Text>,
    }
}

layered_shape! {
    /// `[[chain]]`
    ChainText {
        /// Short id.
        id: Option<Text>,
        /// Name as said in the shop.
        name: Option<Text>,
        /// Signed terms: "+ feature", "- feature", "0.5 feature".
        terms: Option<Vec<Text>>,
        /// Size wanted.
        as_made: Option<Text>,
    }
}

text_shape! {
    /// `[[reading]]`
    ReadingText {
        /// Feature.
        feature: Option<Text>,
        /// Value and unit.
        value: Option<Text>,
        /// Station along the axis.
        station: Option<Text>,
        /// Direction around it.
        direction: Option<Text>,
        /// across (two-point, the default) or dial.
        kind: Option<Text>,
        /// Gauge.
        gauge: Option<Text>,
        /// Person.
        by: Option<Text>,
        /// Day.
        when: Option<Text>,
        /// Temperature of the part.
        temperature: Option<Text>,
        /// How often it was taken with this mean.
        repeats: Option<toml::Spanned<i64>>,
        /// Remark.
        note: Option<Text>,
    }
}

text_shape! {
    /// `[[finding]]`
    FindingText {
        /// Feature or joint it was found on.
        on: Option<Text>,
        /// Condition word.
        condition: Option<Text>,
        /// Person.
        by: Option<Text>,
        /// Day.
        when: Option<Text>,
        /// Remark.
        note: Option<Text>,
    }
}

text_shape! {
    /// `[[strike-out]]`
    StrikeOutText {
        /// Feature.
        feature: Option<Text>,
        /// Station.
        station: Option<Text>,
        /// Direction.
        direction: Option<Text>,
        /// The figure as written.
        value: Option<Text>,
        /// Why.
        reason: Option<Text>,
        /// Who.
        by: Option<Text>,
    }
}

text_shape! {
    /// `[[decision]]`
    DecisionText {
        /// Joint.
        joint: Option<Text>,
        /// leave, clean up, re-metal, line, renew, close.
        repair: Option<Text>,
        /// Target sizes, feature by feature.
        make: Option<Vec<MakeText>>,
        /// Who decided.
        by: Option<Text>,
        /// Day.
        when: Option<Text>,
        /// Why.
        reason: Option<Text>,
    }
}

text_shape! {
    /// One target of a decision.
    MakeText {
        /// Feature.
        feature: Option<Text>,
        /// Size to make it to.
        to: Option<Text>,
        /// Plus or minus.
        tolerance: Option<Text>,
    }
}
