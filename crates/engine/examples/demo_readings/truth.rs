//! What the engine really is: a size and a shape for every surface, from the drawing, the tolerance
//! and the wear. The readings are taken of this, and nobody but the generator knows it.

use super::chance::Chance;
use engine::model::{
    Engine, Feature, FeatureIx, FeatureKind, Joint, JointKind, Measure, Surface, When,
};
use std::collections::HashMap;

/// One thou, metres.
pub(crate) const THOU: f64 = 25.4e-6;

/// A surface at 20 degC.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Shape {
    /// Mean size, metres.
    pub(crate) size_m: f64,
    /// Largest less smallest diameter.
    pub(crate) ovality_m: f64,
    /// Direction of the largest diameter, radians.
    pub(crate) largest_at_rad: f64,
    /// Size at the last station less that at the first.
    pub(crate) taper_m: f64,
    /// Size in the middle less that at the ends.
    pub(crate) barrel_m: f64,
    /// Size at the last overhaul.
    pub(crate) last_m: f64,
}

impl Shape {
    /// Size at a place from -1 (first station) to 1 (last) and a direction. Over evenly spread
    /// directions and three evenly spread places the mean is `size_m`.
    pub(crate) fn at(&self, place: f64, direction_rad: f64) -> f64 {
        self.size_m
            + 0.5 * self.ovality_m * (2.0 * (direction_rad - self.largest_at_rad)).cos()
            + 0.5 * self.taper_m * place
            + self.barrel_m * (2.0 / 3.0 - place * place)
    }
}

/// What is out of the ordinary in one engine.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Special {
    /// Share of the way from refit to the service limit that a joint has used.
    pub(crate) life: &'static [(&'static str, f64)],
    /// Metal taken off a surface at earlier overhauls (on to its mate), thou.
    pub(crate) worked: &'static [(&'static str, f64)],
    /// Shapes set outright, thou: feature, what, how much.
    pub(crate) shapes: &'static [(&'static str, Set, f64)],
    /// Packing behind the wedge of a joint, thou.
    pub(crate) packing: &'static [(&'static str, f64)],
}

/// What of a shape is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Set {
    /// Ovality.
    Oval,
    /// Taper.
    Taper,
    /// Barrel of a journal; bell-mouth of a bore when negative.
    Barrel,
    /// Size, added to what it came to.
    Size,
}

/// The true shape of every feature, in the engine's order.
pub(crate) fn truth(engine: &Engine, seed: u64, special: &Special) -> Vec<Shape> {
    let mut maker = Maker { engine, seed, special, made: HashMap::new() };
    for ix in 0..engine.joints.len() {
        if engine.joints[ix].kind != JointKind::Wedged {
            maker.joint(&engine.joints[ix]);
        }
    }
    for joint in engine.joints.iter().filter(|j| j.kind == JointKind::Wedged) {
        maker.wedge(joint);
    }
    let mut shapes: Vec<Shape> = (0..engine.features.len()).map(|i| maker.shape(i)).collect();
    for (id, set, thou) in special.shapes {
        if let Some(ix) = engine.feature_by_id(id) {
            let shape = &mut shapes[ix.index()];
            match set {
                Set::Oval => shape.ovality_m = thou * THOU,
                Set::Taper => shape.taper_m = thou * THOU,
                Set::Barrel => shape.barrel_m = thou * THOU,
                Set::Size => shape.size_m += thou * THOU,
            }
        }
    }
    shapes
}

struct Maker<'a> {
    engine: &'a Engine,
    seed: u64,
    special: &'a Special,
    made: HashMap<FeatureIx, Shape>,
}

impl Maker<'_> {
    fn chance(&self, word: &str) -> Chance {
        Chance::of(self.seed, word)
    }

    fn feature(&self, ix: FeatureIx) -> &Feature {
        self.engine.feature(ix)
    }

    /// Share of the wear allowance used: most joints are well inside, some near, a few beyond.
    fn life(&self, joint: &Joint) -> f64 {
        if let Some((_, life)) = self.special.life.iter().find(|(id, _)| *id == joint.id) {
            return *life;
        }
        let mut chance = self.chance(&format!("life {}", joint.id));
        match chance.between(0.0, 1.0) {
            p if p < 0.80 => chance.between(0.05, 0.60),
            p if p < 0.94 => chance.between(0.60, 0.78),
            p if p < 0.98 => chance.between(0.86, 0.95),
            _ => chance.between(1.04, 1.25),
        }
    }

    /// Size when new or last repaired: drawing, tolerance, and metal taken off since.
    fn as_repaired(&self, ix: FeatureIx) -> f64 {
        let feature = self.feature(ix);
        let made = feature.as_made.as_ref().map_or(0.0, |q| q.si());
        let mut chance = self.chance(&format!("made {}", feature.id));
        let within = chance.normal(0.4).clamp(-1.0, 1.0) * feature.tolerance_m;
        let worked = self.special.worked.iter().find(|(id, _)| *id == feature.id);
        let worked_m = worked.map_or(0.0, |(_, thou)| thou * THOU);
        match feature.kind.metal() {
            engine::model::Metal::Outside => made + within + worked_m,
            _ => made + within - worked_m,
        }
    }

    fn fills(&mut self, joint: &Joint) -> f64 {
        joint.fills.iter().map(|f| self.place(*f, None).size_m).sum()
    }

    /// Puts a feature down with a size, worn by some amount; an already placed one stays.
    fn place(&mut self, ix: FeatureIx, sized: Option<(f64, f64)>) -> Shape {
        if let Some(shape) = self.made.get(&ix) {
            return *shape;
        }
        let (size_m, worn_m) = sized.unwrap_or_else(|| (self.as_repaired(ix), 0.0));
        let feature = self.feature(ix);
        let mut chance = self.chance(&format!("form {}", feature.id));
        let grown = match feature.kind.metal() {
            engine::model::Metal::Outside => -worn_m,
            _ => worn_m,
        };
        let shape = Shape {
            size_m,
            last_m: size_m + grown,
            ovality_m: if feature.kind.is_round() {
                0.15 * THOU + worn_m * chance.between(0.35, 0.75)
            } else {
                0.0
            },
            // The load lies along the rod, a little off it.
            largest_at_rad: match feature.kind {
                FeatureKind::Journal | FeatureKind::Pin => 90f64.to_radians(),
                _ => 0.0,
            } + chance.normal(0.2),
            taper_m: worn_m * chance.between(-0.22, 0.22),
            // Two stations cannot show a barrel, and their mean must stay the size.
            barrel_m: if feature.stations.len() > 2 {
                worn_m * chance.between(-0.12, 0.12)
            } else {
                0.0
            },
        };
        self.made.insert(ix, shape);
        shape
    }

    fn joint(&mut self, joint: &Joint) {
        let life = self.life(joint);
        let main = joint.kind.measure();
        let find = |when| joint.limits.iter().find(|l| l.measure == main && l.when == when);
        let Some(refit) = find(When::Refit) else { return };
        let mut chance = self.chance(&format!("fit {}", joint.id));
        let low = refit.min_si().unwrap_or(0.0);
        let high = refit.max_si().unwrap_or(low + 4.0 * THOU);
        let new = low + (high - low) * chance.between(0.2, 0.8);
        let service = find(When::Service);
        let end = match main {
            Measure::Clearance => service.and_then(|l| l.max_si()).unwrap_or(3.0 * high),
            _ => service.and_then(|l| l.min_si()).unwrap_or(low),
        };
        // Fits that do not move lose little; that they have lost all is the exception.
        let used = if main == Measure::Clearance { life } else { 0.6 * life };
        let used = if life > 1.0 { life } else { used };
        let now = new + used * (end - new);
        match joint.kind {
            JointKind::Running | JointKind::Sliding => self.moving(joint, now, now - new),
            JointKind::Tapered => {
                let taper = joint.taper.unwrap_or(1.0);
                let socket = self.place(joint.outer, None).size_m;
                self.place(joint.inner, Some((socket + now * taper, 0.0)));
            }
            JointKind::Fitted | JointKind::Pressed | JointKind::Shrunk => {
                let fills = self.fills(joint);
                let outer = self.place(joint.outer, None).size_m;
                self.place(joint.inner, Some((outer + now - fills, 0.0)));
            }
            JointKind::Wedged => {}
        }
    }

    /// Running and sliding: both sides wear, the softer one more.
    fn moving(&mut self, joint: &Joint, clearance_m: f64, worn_m: f64) {
        let fills = self.fills(joint);
        let soft = |ix: FeatureIx| {
            let part = &self.engine.parts[self.feature(ix).part.index()];
            part.material.is_some_and(|m| self.engine.materials[m.index()].id == "bronze")
        };
        let inner_share = match (soft(joint.inner), soft(joint.outer)) {
            (true, false) => 0.7,
            (false, true) => 0.25,
            _ => 0.5,
        };
        if let (Some(outer), false) =
            (self.made.get(&joint.outer).copied(), self.made.contains_key(&joint.inner))
        {
            self.place(joint.inner, Some((outer.size_m - fills - clearance_m, worn_m)));
            return;
        }
        let inner_worn = inner_share * worn_m;
        let inner_new = self.as_repaired(joint.inner);
        let inner = self.place(joint.inner, Some((inner_new - inner_worn, inner_worn)));
        self.place(joint.outer, Some((inner.size_m + fills + clearance_m, worn_m - inner_worn)));
    }

    /// The stand follows from what fills the slot: nothing is unaccounted for but packing.
    fn wedge(&mut self, joint: &Joint) {
        let (Some(stand), Some(taper)) = (joint.stand, joint.taper) else { return };
        for f in &joint.fills {
            // Brasses that have been closed before: some thou off each joint face.
            let is_half = self.engine.features.iter().any(|b| b.halves.contains(f));
            if is_half {
                let mut chance = self.chance(&format!("closed {}", self.feature(*f).id));
                let new = self.as_repaired(*f);
                let filed = chance.between(4.0, 22.0) * THOU;
                self.place(*f, Some((new - filed, filed)));
                if let Some(shape) = self.made.get_mut(f) {
                    (shape.taper_m, shape.barrel_m) = (chance.normal(0.4 * THOU), 0.0);
                }
            }
        }
        let fills = self.fills(joint);
        let packing = self.special.packing.iter().find(|(id, _)| *id == joint.id);
        let packing_m = packing.map_or(0.0, |(_, thou)| thou * THOU);
        let slot = self.place(joint.outer, None).size_m;
        let wedge = self.place(joint.inner, None).size_m;
        let at = (wedge + fills + packing_m - slot) / taper;
        self.place(stand.feature, Some((at, 0.0)));
    }

    /// Whatever no joint has placed.
    fn shape(&mut self, index: usize) -> Shape {
        let feature = &self.engine.features[index];
        let Some(ix) = self.engine.feature_by_id(&feature.id) else { return Shape::default() };
        if self.made.contains_key(&ix) {
            return self.place(ix, None);
        }
        let new = self.as_repaired(ix);
        let mut chance = self.chance(&format!("worn {}", feature.id));
        let worn = |chance: &mut Chance| {
            // Wheels of an axle are turned as a pair: one word for both sides.
            let axle = feature.id.replace(".left", "").replace(".right", "");
            let pair = axle.replace(".tread", "").replace(".tyre", "");
            let mut turned = self.chance(&format!("tyres {pair}"));
            let turned = turned.between(250.0, 900.0) * THOU;
            if feature.id.ends_with(".tread") {
                2.0 * turned + chance.between(0.0, 18.0) * THOU
            } else if feature.id.ends_with(".tyre") {
                turned
            } else if feature.id.ends_with(".flange") {
                chance.between(8.0, 60.0) * THOU
            } else if feature.surface == Surface::Wears
                && feature.kind.metal() != engine::model::Metal::Neither
            {
                chance.between(2.0, 20.0) * THOU
            } else {
                0.0
            }
        };
        let worn_m = worn(&mut chance);
        let size = match feature.kind.metal() {
            engine::model::Metal::Outside => new + worn_m,
            _ => new - worn_m,
        };
        let is_wheel = feature.id.ends_with(".tread") || feature.id.ends_with(".tyre");
        self.place(ix, Some((size, if is_wheel { 0.0 } else { worn_m })))
    }
}
