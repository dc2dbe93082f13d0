//! All that is told to a phone: every feature with its places, previous figures and sketch, the
//! gauges and the people; so that any feature can be gauged out of range.

use super::doubt::{Expected, far_from_before, far_from_fellows, gains, least_gain};
use super::round::{Place, Previous, round};
use crate::marks::pair;
use crate::snapshot::{Judged, Snapshot};
use crate::state::held;
use crate::visit::Units;
use drawing::{GaugingSketch, GaugingStation, SketchShape, gauging_sketch};
use engine::judge::Judgement;
use engine::model::{Feature, FeatureIx, FeatureKind, Gauge};
use engine::view::{Figure, verdict_sign};
use serde::Serialize;
use std::collections::HashMap;
use std::sync::{Arc, Mutex};

/// What a phone keeps.
#[derive(Debug, Serialize)]
pub(crate) struct EngineTold {
    book: String,
    name: String,
    /// Hash of the entry it was told after.
    head: String,
    /// Day of judging, where it is not the day it is.
    day: String,
    features: Vec<FeatureTold>,
    sketches: Vec<String>,
    gauges: Vec<GaugeTold>,
    people: Vec<String>,
}

/// A feature.
#[derive(Debug, Serialize)]
pub(crate) struct FeatureTold {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) kind: &'static str,
    pub(crate) part: String,
    pub(crate) part_name: String,
    pub(crate) tag: String,
    pub(crate) joints: Vec<JointTold>,
    /// It has no size yet.
    pub(crate) wanting: bool,
    /// As made, as written.
    pub(crate) made: String,
    pub(crate) expected: Option<ExpectedTold>,
    /// How far from figures of the same sitting is asked about, metres.
    far_m: f64,
    /// Which way it gains metal: +1 outward, -1 inward, 0 neither.
    gains: f64,
    pub(crate) places: Vec<PlaceTold>,
    /// Position in the sketches; absent when it cannot be drawn.
    pub(crate) sketch: Option<usize>,
    /// Ids of the gauges whose range takes it in.
    pub(crate) gauges: Vec<String>,
}

/// A joint it is in.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct JointTold {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) verdict: &'static str,
    pub(crate) sign: &'static str,
    pub(crate) measure: &'static str,
    /// Metric and imperial.
    pub(crate) value: Option<[String; 2]>,
    pub(crate) because: String,
}

/// What a figure is compared with.
#[derive(Debug, Serialize)]
pub(crate) struct ExpectedTold {
    si: f64,
    words: String,
    far_m: f64,
    gains: f64,
    gain_m: f64,
}

/// A place.
#[derive(Debug, Serialize)]
pub(crate) struct PlaceTold {
    pub(crate) station: String,
    pub(crate) direction: String,
    pub(crate) words: String,
    pub(crate) previous: Option<PreviousTold>,
}

/// A figure that stands in the book.
#[derive(Debug, Serialize)]
pub(crate) struct PreviousTold {
    pub(crate) text: String,
    si: f64,
    pub(crate) when: String,
}

/// A gauge.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct GaugeTold {
    pub(crate) id: String,
    kind: String,
    pub(crate) from_m: Option<f64>,
    pub(crate) to_m: Option<f64>,
    due: String,
    /// Its calibration has run out.
    pub(crate) lapsed: bool,
}

impl From<Previous> for PreviousTold {
    fn from(p: Previous) -> PreviousTold {
        PreviousTold { text: p.text, si: p.si, when: p.when }
    }
}

/// What it was worked out from, and the bytes.
type Worked = Option<(String, Arc<Vec<u8>>)>;

/// What was told last, kept until the next entry.
#[derive(Clone, Debug, Default)]
pub(crate) struct Kept(Arc<Mutex<Worked>>);

impl Kept {
    /// The whole engine as JSON; worked out once an entry.
    pub(crate) fn json(
        &self,
        snap: &Snapshot,
        judged: &Judged,
        fixed_day: bool,
    ) -> Result<Arc<Vec<u8>>, String> {
        let head = head_of(snap);
        if let Some((known, json)) = held(&self.0).as_ref()
            && *known == head
        {
            return Ok(Arc::clone(json));
        }
        let told = engine_told(snap, judged, fixed_day);
        let json = Arc::new(serde_json::to_vec(&told).map_err(|e| e.to_string())?);
        *held(&self.0) = Some((head, Arc::clone(&json)));
        Ok(json)
    }
}

/// Which state of the book was told: its last entry, and the day of judging.
pub(crate) fn head_of(snap: &Snapshot) -> String {
    let day = snap.today.map(|d| d.to_string()).unwrap_or_default();
    format!("{}-{day}", snap.head.hash)
}

fn engine_told(snap: &Snapshot, judged: &Judged, fixed_day: bool) -> EngineTold {
    let judgement = &judged.judgement;
    let engine = judgement.engine();
    let joints = joints_told(judged);
    let mut sketches: Vec<String> = Vec::new();
    let mut known: HashMap<String, usize> = HashMap::new();
    let features = engine
        .features
        .iter()
        .filter_map(|f| engine.feature_by_id(&f.id))
        .map(|ix| {
            let (mut told, svg) = feature_told(snap, judgement, ix, &joints);
            // Sketches of like features are the same: a phone keeps each once.
            told.sketch = svg.map(|svg| {
                *known.entry(svg).or_insert_with_key(|svg| {
                    sketches.push(svg.clone());
                    sketches.len() - 1
                })
            });
            told
        })
        .collect();
    EngineTold {
        book: snap.book_id.clone(),
        name: snap.fold.name().to_owned(),
        head: head_of(snap),
        day: snap.today.filter(|_| fixed_day).map(|d| d.to_string()).unwrap_or_default(),
        features,
        sketches,
        gauges: engine.gauges.iter().map(|g| gauge_told(g, snap)).collect(),
        people: people(snap),
    }
}

/// Who may be named as the reader.
pub(crate) fn people(snap: &Snapshot) -> Vec<String> {
    let with_roles = snap.fold.people().iter().filter(|p| !p.roles.is_empty());
    with_roles.map(|p| p.name.clone()).collect()
}

/// Joints as they are told, by id.
pub(crate) fn joints_told(judged: &Judged) -> HashMap<&str, JointTold> {
    let told = |j: &engine::view::JointLine| JointTold {
        id: j.id.clone(),
        name: j.name.clone(),
        verdict: j.verdict,
        sign: verdict_sign(j.verdict),
        measure: j.measure,
        value: j.value.as_ref().map(|v| {
            let (metric, imperial) = pair(Units::Metric, v);
            [metric.to_owned(), imperial.to_owned()]
        }),
        because: j.because.clone(),
    };
    judged.summary().joints.iter().map(|j| (j.id.as_str(), told(j))).collect()
}

/// A feature, and its sketch.
pub(crate) fn feature_told(
    snap: &Snapshot,
    judgement: &Judgement,
    ix: FeatureIx,
    joints: &HashMap<&str, JointTold>,
) -> (FeatureTold, Option<String>) {
    let engine = judgement.engine();
    let feature = engine.feature(ix);
    let state = judgement.feature(ix);
    let part = engine.parts.get(feature.part.index());
    let part_id = part.map_or("", |p| p.id.as_str());
    let (places, directions) = round(judgement, ix);
    let expected = expected(feature, &places);
    let svg = sketch(feature, &directions);
    let size = expected.as_ref().map(|e| e.si);
    let told = FeatureTold {
        id: feature.id.clone(),
        name: if feature.name.is_empty() { feature.id.clone() } else { feature.name.clone() },
        kind: feature.kind.word(),
        part: part_id.to_owned(),
        part_name: part.map_or("", |p| if p.name.is_empty() { &p.id } else { &p.name }).to_owned(),
        tag: snap.fold.thing(part_id).ok().and_then(|(_, t)| t.tag.clone()).unwrap_or_default(),
        joints: feature
            .in_joints
            .iter()
            .filter_map(|j| joints.get(engine.joint(*j).id.as_str()).cloned())
            .collect(),
        wanting: state.size.is_none(),
        made: feature.as_made.as_ref().map_or(String::new(), |q| q.text().to_owned()),
        far_m: far_from_fellows(size.unwrap_or(0.0)),
        gains: gains(feature.kind),
        gauges: engine.gauges.iter().filter(|g| spans(g, size)).map(|g| g.id.clone()).collect(),
        expected: expected.map(|e| ExpectedTold {
            si: e.si,
            words: e.words,
            far_m: e.far_m,
            gains: e.gains,
            gain_m: least_gain(),
        }),
        places: places
            .into_iter()
            .map(|p| PlaceTold {
                station: p.station,
                direction: p.direction,
                words: p.words,
                previous: p.previous.map(PreviousTold::from),
            })
            .collect(),
        sketch: None,
    };
    (told, svg)
}

/// What a figure is compared with where its own place has none: the last figures of the feature,
/// the size last time, the drawing. A stand is anywhere in its travel.
pub(crate) fn expected(feature: &Feature, places: &[Place]) -> Option<Expected> {
    if feature.kind == FeatureKind::Stand {
        return None;
    }
    let mut read: Vec<f64> =
        places.iter().filter_map(|p| p.previous.as_ref()).map(|p| p.si).collect();
    read.sort_by(f64::total_cmp);
    let (si, words, gains) = if let Some(middle) = read.get(read.len() / 2) {
        (*middle, "the last".to_owned(), gains(feature.kind))
    } else if let Some(last) = &feature.last {
        (last.si(), format!("last time ({})", last.text()), gains(feature.kind))
    } else {
        // Parts have been built up and bushed since they were drawn.
        let made = feature.as_made.as_ref()?;
        (made.si(), format!("its drawing ({})", made.text()), 0.0)
    };
    Some(Expected { si, words, far_m: far_from_before(si), gains })
}

fn spans(gauge: &Gauge, size: Option<f64>) -> bool {
    size.is_some_and(|s| {
        gauge.from_m.is_some_and(|from| from <= s) && gauge.to_m.is_some_and(|to| s <= to)
    })
}

/// A gauge as it is told.
pub(crate) fn gauge_told(gauge: &Gauge, snap: &Snapshot) -> GaugeTold {
    GaugeTold {
        id: gauge.id.clone(),
        kind: gauge.kind.clone(),
        from_m: gauge.from_m,
        to_m: gauge.to_m,
        due: gauge.due.map(|d| d.to_string()).unwrap_or_default(),
        lapsed: gauge.due.zip(snap.today).is_some_and(|(due, today)| due < today),
    }
}

impl GaugeTold {
    /// In words: what it spans, and whether it may be trusted.
    pub(crate) fn words(&self, units: Units) -> String {
        let mut words = self.id.clone();
        if let Some((from, to)) = self.from_m.zip(self.to_m) {
            let (from, to) = (Figure::of_size(from, None), Figure::of_size(to, None));
            words.push_str(&format!(", {} to {}", pair(units, &from).0, pair(units, &to).0));
        }
        if self.lapsed {
            words.push_str(&format!(" (calibration ran out {})", self.due));
        }
        words
    }
}

/// Where the gauge goes; the same for all features of one kind, stations and directions.
fn sketch(feature: &Feature, directions: &[f64]) -> Option<String> {
    let picture = gauging_sketch(&GaugingSketch {
        title: feature.kind.word().to_owned(),
        shape: shape(feature.kind),
        stations: feature
            .stations
            .iter()
            .enumerate()
            .map(|(i, name)| GaugingStation {
                name: name.clone(),
                at_m: feature.station_at_m.get(i).copied().filter(|m| m.is_finite()).unwrap_or(0.0),
            })
            .collect(),
        directions_rad: directions.to_vec(),
    });
    picture.ok().map(|p| p.svg)
}

fn shape(kind: FeatureKind) -> SketchShape {
    use FeatureKind as K;
    match kind {
        K::Journal => SketchShape::Journal,
        K::Pin | K::Piston => SketchShape::Pin,
        K::Bore | K::Cylinder => SketchShape::Bore,
        K::Hole => SketchShape::Hole,
        K::Cone => SketchShape::Cone,
        K::Socket => SketchShape::Socket,
        K::Thickness => SketchShape::Thickness,
        K::Gap => SketchShape::Gap,
        K::Centres => SketchShape::Centres,
        K::Length | K::Stand => SketchShape::Length,
    }
}
