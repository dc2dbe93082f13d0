//! Drawings of a joint from what the engine says of it.

use super::figures::{expanded_m, minus};
use super::shapes::Shown;
use crate::error::PaperError;
use crate::text::Words;
use drawing::*;
use engine::judge::{FeatureState, Judgement, LimitVerdict};
use engine::model::{
    DIRECTION_UNSAID, Feature, FeatureIx, JointIx, Measure, Metal, ReadingKind, STATION_UNSAID,
    When,
};
use engine::view::{Figure, LimitView};
use std::f64::consts::TAU;

/// A drawing as the sheet takes it.
pub(super) fn shown(
    which: &str,
    picture: Result<Picture, DrawingError>,
) -> Result<Shown, PaperError> {
    let p = picture.map_err(|why| PaperError::Drawing { which: which.to_owned(), why })?;
    Ok(Shown { svg: p.svg, width_pt: p.width_pt, height_pt: p.height_pt, alt: p.description })
}

/// Drawings of a joint, and which could not be made and why: a figure that cannot be drawn is no
/// reason to withhold the report.
#[derive(Default)]
pub(super) struct Drawn {
    pub(super) shown: Vec<Shown>,
    pub(super) faults: Vec<String>,
}

impl Drawn {
    fn take(&mut self, which: &str, picture: Result<Picture, DrawingError>) {
        match shown(which, picture) {
            Ok(shown) => self.shown.push(shown),
            Err(fault) => self.faults.push(fault.to_string()),
        }
    }
}

/// Drawings of a joint as SVG, each with what it shows in words; and which could not be made, and
/// why.
#[derive(Clone, Debug, Default)]
pub struct JointPictures {
    /// Its figures against the limits that decide.
    pub bars: Vec<(String, String)>,
    /// Its worst surfaces: polar, along the axis, dial traverse.
    pub plots: Vec<(String, String)>,
    /// What could not be drawn.
    pub faults: Vec<String>,
}

/// The drawings of a joint that the condition report shows.
pub fn joint_pictures(judgement: &Judgement, joint: JointIx) -> JointPictures {
    let view = engine::view::joint_view(judgement, joint);
    let (bars, plots) = (bars(judgement, joint, &view.limits), plots(judgement, joint));
    let told = |all: Vec<Shown>| all.into_iter().map(|s| (s.svg, s.alt)).collect();
    let faults = bars.faults.into_iter().chain(plots.faults).collect();
    JointPictures { bars: told(bars.shown), plots: told(plots.shown), faults }
}

pub(super) fn verdict(word: &str) -> Verdict {
    Verdict::from_word(word).unwrap_or(Verdict::NoLimit)
}

/// Bars drawn for a joint at most; the table of limits has all of them.
const MOST_BARS: usize = 4;

/// The bars of a joint's figures against the limits that decide: those that are not within, the
/// worst first, and the main measure in service.
pub(super) fn bars(judgement: &Judgement, joint: JointIx, views: &[LimitView]) -> Drawn {
    let mut out = Drawn::default();
    let main = judgement.engine().joint(joint).kind.measure();
    // The view lists the same limits in the same order.
    let mut all: Vec<(&LimitVerdict, &LimitView)> =
        judgement.joint(joint).limits.iter().zip(views).collect();
    all.retain(|(l, v)| {
        verdict(v.verdict) < Verdict::Within || (l.measure == main && l.when == When::Service)
    });
    let service_first = |when: When| u8::from(when != When::Service);
    all.sort_by_key(|(l, v)| (service_first(l.when), verdict(v.verdict), l.measure != main));
    for pair in all.into_iter().take(MOST_BARS) {
        bar(judgement, joint, pair, &mut out);
    }
    out
}

fn bar(
    judgement: &Judgement,
    joint: JointIx,
    (limit, view): (&LimitVerdict, &LimitView),
    out: &mut Drawn,
) {
    let (Some(value_m), Some(value)) = (limit.value_si, &view.value) else { return };
    let name = match &view.feature {
        Some(f) => format!("{} of {f}, {}", view.of, when_words(limit.when)),
        None => format!("{}, {}", view.of, when_words(limit.when)),
    };
    let expanded = expanded_m(limit.u_si, limit.degrees_of_freedom);
    let mark = |figure: &Option<Figure>, at_m: Option<f64>| {
        figure.as_ref().zip(at_m).map(|(f, at_m)| Mark { at_m, text: minus(&f.both()) })
    };
    let picture = limit_bar(&LimitBar {
        name: Words::new(&name).text().to_owned(),
        least: mark(&view.min, limit.min_si),
        most: mark(&view.max, limit.max_si),
        as_made: as_made(judgement, joint, limit),
        guard_m: limit.guard_si,
        value: Some(Mark { at_m: value_m, text: minus(&value.both()) }),
        expanded_m: expanded,
        verdict: verdict(view.verdict),
    });
    out.take(&name, picture);
}

pub(super) fn when_words(when: When) -> &'static str {
    match when {
        When::Made => "as made",
        When::Refit => "to put back",
        When::Service => "in service",
    }
}

/// Where the figure stood as made: a joint's main measure, or a feature's size.
fn as_made(judgement: &Judgement, joint: JointIx, limit: &LimitVerdict) -> Option<Mark> {
    let engine = judgement.engine();
    match limit.feature {
        Some(f) if limit.measure == Measure::Size => made(engine.feature(f)),
        None if limit.measure == engine.joint(joint).kind.measure() => {
            let at_m = judgement.joint(joint).as_made_si?;
            Some(Mark { at_m, text: minus(&Figure::of_difference(at_m, Some(1e-6)).metric) })
        }
        _ => None,
    }
}

/// The drawings of a joint's worst surface, and of any other that is beyond or near a limit of its
/// own: polar, along the axis, and its dial traverse.
pub(super) fn plots(judgement: &Judgement, joint: JointIx) -> Drawn {
    let mut out = Drawn::default();
    let mut surfaces = features_of(judgement, joint);
    // What cannot be drawn cannot be the worst drawn.
    surfaces.retain(|ix| !judgement.feature(*ix).counted.is_empty());
    let worn =
        |ix: FeatureIx| judgement.feature(ix).worn_since_made.as_ref().map_or(0.0, |e| e.si());
    surfaces.sort_by(|a, b| {
        own_verdict(judgement, joint, *a)
            .cmp(&own_verdict(judgement, joint, *b))
            .then(worn(*b).total_cmp(&worn(*a)))
    });
    for (i, ix) in surfaces.into_iter().enumerate() {
        if i == 0 || own_verdict(judgement, joint, ix) <= Verdict::Near {
            draw_surface(judgement, joint, ix, &mut out);
        }
    }
    out
}

fn draw_surface(judgement: &Judgement, joint: JointIx, ix: FeatureIx, out: &mut Drawn) {
    let feature = judgement.engine().feature(ix);
    let state = judgement.feature(ix);
    let read = Read::of(judgement, ix);
    let title = Words::new(&feature.id).text().to_owned();
    if feature.kind.is_round()
        && let Some(stations) = read.by_station(feature)
    {
        let plot = PolarPlot {
            title: title.clone(),
            surface: surface(feature),
            stations,
            as_made: made(feature),
            limits: size_limits(feature),
            verdict: own_verdict(judgement, joint, ix),
        };
        out.take(&feature.id, polar_plot(&plot));
    }
    if let Some(stations) = read.profile(feature) {
        let plot = ProfilePlot {
            title: format!("{title}, along the axis"),
            surface: surface(feature),
            stations,
            as_made: made(feature),
            limits: size_limits(feature),
            verdict: own_verdict(judgement, joint, ix),
            notes: form_notes(state),
        };
        out.take(&feature.id, profile_plot(&plot));
    }
    if let Some(plot) = traverse(judgement, ix) {
        out.take(&feature.id, traverse_plot(&plot));
    }
}

pub(super) fn features_of(judgement: &Judgement, joint: JointIx) -> Vec<FeatureIx> {
    let joint = judgement.engine().joint(joint);
    let mut all = vec![joint.inner, joint.outer];
    all.extend(&joint.fills);
    all.extend(joint.stand.map(|s| s.feature));
    all.dedup();
    all
}

fn surface(feature: &Feature) -> Surface {
    match feature.kind.metal() {
        Metal::Outside => Surface::Inside,
        Metal::Inside | Metal::Neither => Surface::Outside,
    }
}

fn made(feature: &Feature) -> Option<Mark> {
    feature.as_made.as_ref().map(|q| Mark { at_m: q.si(), text: q.text().to_owned() })
}

/// Limits of the size in service, each end on its own.
fn size_limits(feature: &Feature) -> Vec<LimitSize> {
    let mut out = Vec::new();
    for l in feature.limits.iter().filter(|l| l.measure == Measure::Size && l.when == When::Service)
    {
        let ends = [(Bound::Least, "least", l.min_si()), (Bound::Most, "most", l.max_si())];
        for (bound, word, size_m) in ends {
            if let Some(size_m) = size_m {
                out.push(LimitSize { bound, size_m, text: format!("{word} in service") });
            }
        }
    }
    out
}

/// The worst verdict in service on this feature's own limits.
fn own_verdict(judgement: &Judgement, joint: JointIx, ix: FeatureIx) -> Verdict {
    judgement
        .joint(joint)
        .limits
        .iter()
        .filter(|l| l.feature == Some(ix) && l.when == When::Service)
        .map(|l| verdict(l.verdict.word()))
        .min()
        .unwrap_or(Verdict::NoLimit)
}

fn form_notes(state: &FeatureState) -> Vec<String> {
    let said: Vec<String> = state
        .form
        .iter()
        .filter(|(m, _)| matches!(m, Measure::Taper | Measure::Barrel))
        .map(|(m, e)| format!("{m} {}", Figure::difference(e).both()))
        .collect();
    if said.is_empty() { Vec::new() } else { vec![format!("Judged: {}.", said.join("; "))] }
}

/// Readings of a feature that counted, as positions on a drawing.
struct Read {
    /// Station, direction, size.
    rows: Vec<(u16, f64, f64)>,
}

impl Read {
    /// Sizes as read, moved together so that their mean is the feature's mean size at 20 degC:
    /// departures are those read, the place on the scale is the one judged.
    fn of(judgement: &Judgement, ix: FeatureIx) -> Read {
        let engine = judgement.engine();
        let state = judgement.feature(ix);
        let mut rows: Vec<(u16, f64, f64)> = state
            .counted
            .iter()
            .map(|row| &engine.readings[*row as usize])
            .filter(|r| r.kind == ReadingKind::Across && r.si.is_finite())
            .map(|r| (r.station, r.direction_rad, r.si))
            .collect();
        if let Some(size) = &state.size
            && !rows.is_empty()
        {
            let mean = rows.iter().map(|r| r.2).sum::<f64>() / rows.len() as f64;
            for r in &mut rows {
                r.2 += size.si() - mean;
            }
        }
        Read { rows }
    }

    fn stations(&self) -> Vec<u16> {
        let mut all: Vec<u16> = self.rows.iter().map(|r| r.0).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Diameters by station, where directions were given.
    fn by_station(&self, feature: &Feature) -> Option<Vec<StationDiameters>> {
        let stations: Vec<StationDiameters> = self
            .stations()
            .into_iter()
            .map(|station| StationDiameters {
                name: station_name(feature, station),
                diameters: self
                    .rows
                    .iter()
                    .filter(|r| r.0 == station && r.1 != DIRECTION_UNSAID)
                    .map(|r| Diameter { angle_rad: r.1, diameter_m: r.2 })
                    .collect(),
            })
            .filter(|s| s.diameters.len() > 1)
            .collect();
        (!stations.is_empty()).then_some(stations)
    }

    /// Mean and extremes by station, where there are two or more along the axis.
    fn profile(&self, feature: &Feature) -> Option<Vec<ProfileStation>> {
        let stations: Vec<ProfileStation> = self
            .stations()
            .into_iter()
            .filter_map(|station| {
                let at_m = *feature.station_at_m.get(usize::from(station))?;
                let sizes = || self.rows.iter().filter(|r| r.0 == station).map(|r| r.2);
                let n = sizes().count() as f64;
                at_m.is_finite().then(|| ProfileStation {
                    name: station_name(feature, station),
                    at_m,
                    mean_m: sizes().sum::<f64>() / n,
                    least_m: sizes().fold(f64::INFINITY, f64::min),
                    most_m: sizes().fold(f64::NEG_INFINITY, f64::max),
                })
            })
            .collect();
        (stations.len() > 1).then_some(stations)
    }
}

fn station_name(feature: &Feature, station: u16) -> String {
    if station == STATION_UNSAID {
        return "place not given".to_owned();
    }
    feature
        .stations
        .get(usize::from(station))
        .map_or_else(String::new, |s| Words::new(s).text().to_owned())
}

/// The dial traverse of a feature, where there is one.
fn traverse(judgement: &Judgement, ix: FeatureIx) -> Option<TraversePlot> {
    let engine = judgement.engine();
    let feature = engine.feature(ix);
    let state = judgement.feature(ix);
    let stations: Vec<TraverseStation> = state
        .dials
        .iter()
        .map(|(station, found)| {
            let circle = |c: &mechanics::metrology::circle::ReferenceCircle| OffsetCircle {
                x_m: c.x_m,
                y_m: c.y_m,
                radial_m: c.radial_m,
            };
            TraverseStation {
                name: station_name(feature, *station),
                points: judgement
                    .rows(ix)
                    .iter()
                    .map(|row| &engine.readings[*row as usize])
                    .filter(|r| {
                        r.kind == ReadingKind::Dial
                            && !r.struck
                            && r.station == *station
                            && r.direction_rad.is_finite()
                            && engine
                                .overhaul_began
                                .zip(r.when)
                                .is_none_or(|(began, day)| day >= began)
                    })
                    .map(|r| DialPoint {
                        angle_rad: r.direction_rad.rem_euclid(TAU),
                        radial_m: r.si,
                    })
                    .collect(),
                least_squares: found.least_squares.as_ref().ok().map(circle),
                minimum_zone: found
                    .minimum_zone
                    .as_ref()
                    .ok()
                    .map(|c| ZoneCircles { middle: circle(c), roundness_m: c.roundness_m }),
            }
        })
        .filter(|s| !s.points.is_empty())
        .collect();
    (!stations.is_empty()).then(|| TraversePlot {
        title: format!("{}, dial traverse", Words::new(&feature.id).text()),
        stations,
    })
}
