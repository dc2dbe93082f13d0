//! Readings that look like slips, and parts that look exchanged.

use super::Swap;
use super::feature::FeatureState;
use super::joint::JointState;
use crate::model::{Date, Engine, FeatureIx, FeatureKind, JointIx, JointKind, Measure, When};
use mechanics::metrology::suspect::{
    DriftReading, Expected, OpposedReading, OutlierTest, SettingSlip, Strength, SwappedDigits,
    UnitSlip, UnitSlipKind, drift, opposed_disagreements, outliers, setting_slip, swapped_digits,
    unit_slip,
};
use std::collections::BTreeMap;

/// Why a reading looks like a slip.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// It would be as expected in another unit.
    Unit(UnitSlip),
    /// It is off by whole turns of the thimble or a wrong anvil.
    Setting(SettingSlip),
    /// Two neighbouring digits exchanged would bring it among its fellows.
    Digits(SwappedDigits),
    /// Far from its fellows; the figure is their median, metres.
    Outlier(f64),
    /// The same diameter read from the other side differs by this, metres.
    OtherSide(f64),
    /// The readings of the feature run with the order they were taken in, by this in all, metres.
    Drift(f64),
    /// Taken after the gauge's calibration ran out.
    GaugeLapsed(Date),
    /// Outside the gauge's range.
    OutOfRange,
    /// The day lies after the day of judging.
    InFuture,
}

/// A reading that looks like a slip.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspicion {
    /// Position in the engine's readings.
    pub reading: u32,
    /// Why.
    pub why: Why,
    /// What was meant, metres, where it can be guessed.
    pub meant_m: Option<f64>,
    /// It does not count until a person says otherwise.
    pub set_aside: bool,
}

/// How far a worn surface may honestly lie from what is expected of it: a tenth, and no less than
/// two millimetres. A unit slip is off by a factor; a turn of the thimble is looked for within
/// the fellows instead.
fn believable(size_m: f64) -> f64 {
    (0.1 * size_m.abs()).max(2e-3)
}

/// Looks at the readings of one feature. `across` are positions of the two-point readings of this
/// overhaul; `expected` is the size last time or as made.
pub(super) fn suspicions(
    engine: &Engine,
    ix: FeatureIx,
    across: &[u32],
    expected: Option<f64>,
) -> Vec<Suspicion> {
    let mut out: Vec<Suspicion> = Vec::new();
    for row in across {
        about_the_gauge(engine, *row, &mut out);
    }
    let values: Vec<f64> = across.iter().map(|r| engine.readings[*r as usize].si).collect();
    let kind = engine.feature(ix).kind;
    // A stand is anywhere in its travel: the drawing says nothing of what it should read.
    let expected = expected.filter(|_| kind != FeatureKind::Stand);
    let centre = expected.or_else(|| median(&values));
    let mut slipped = vec![false; across.len()];
    for (i, row) in across.iter().enumerate() {
        let Some(size) = centre.filter(|c| *c != 0.0) else { break };
        let expectation = Expected { value_m: size, within_m: believable(size) };
        if let Ok(Some(slip)) = unit_slip(values[i], &expectation)
            && (kind.is_round() || !of_radius(slip.kind))
        {
            slipped[i] = true;
            let meant_m = Some(slip.meant_m);
            out.push(Suspicion { reading: *row, why: Why::Unit(slip), meant_m, set_aside: true });
        }
    }
    among_fellows(engine, across, &values, &mut slipped, &mut out);
    if kind.is_round() {
        from_the_other_side(engine, across, &slipped, &mut out);
        with_the_order(engine, across, &values, &slipped, &mut out);
    }
    // A figure in the wrong unit is out of the gauge's range for that reason alone.
    let wrong_unit: Vec<u32> =
        out.iter().filter(|s| matches!(s.why, Why::Unit(_))).map(|s| s.reading).collect();
    out.retain(|s| s.why != Why::OutOfRange || !wrong_unit.contains(&s.reading));
    out.sort_by_key(|s| s.reading);
    out
}

/// Only round things have a radius: a tyre or a brake block worn to half its thickness is no slip.
fn of_radius(kind: UnitSlipKind) -> bool {
    matches!(kind, UnitSlipKind::RadiusForDiameter | UnitSlipKind::DiameterForRadius)
}

fn about_the_gauge(engine: &Engine, row: u32, out: &mut Vec<Suspicion>) {
    let r = &engine.readings[row as usize];
    let mut note = |why| out.push(Suspicion { reading: row, why, meant_m: None, set_aside: false });
    if let Some((today, day)) = engine.today.zip(r.when)
        && day > today
    {
        note(Why::InFuture);
    }
    let Some(gauge) = r.gauge.map(|g| engine.gauge(g)) else { return };
    if let Some((due, day)) = gauge.due.zip(r.when)
        && day > due
    {
        note(Why::GaugeLapsed(due));
    }
    // A range is named by its ends, and gauges read a little past both.
    let past = gauge.to_m.zip(gauge.from_m).map_or(0.0, |(b, a)| 0.02 * (b - a));
    if gauge.from_m.is_some_and(|a| r.si < a - past) || gauge.to_m.is_some_and(|b| r.si > b + past)
    {
        note(Why::OutOfRange);
    }
}

/// What an honest reading of this place may show, from its fellows.
struct Fellows {
    /// Where its own figure stands among the ordered ones.
    own: usize,
    centre: f64,
    tolerance: f64,
}

/// Figures in order.
#[derive(Default)]
struct Ordered(Vec<f64>);

impl Ordered {
    fn push(&mut self, value: f64) {
        self.0.push(value);
    }

    fn sort(&mut self) {
        self.0.sort_by(f64::total_cmp);
    }

    fn place(&self, value: f64) -> usize {
        self.0.partition_point(|v| v.total_cmp(&value).is_lt())
    }

    fn take_out(&mut self, value: f64) {
        let at = self.place(value);
        if at < self.0.len() {
            self.0.remove(at);
        }
    }

    /// How many there are besides any one of them.
    fn others(&self) -> usize {
        self.0.len().saturating_sub(1)
    }

    /// All but one that is equal to `value`; none when fewer than two are left.
    fn without(&self, value: f64, floor: f64) -> Option<Fellows> {
        let n = self.others();
        if n < 2 {
            return None;
        }
        let own = self.place(value);
        let at = |k: usize| self.0[if k < own { k } else { k + 1 }];
        let centre = if n % 2 == 1 { at(n / 2) } else { (at(n / 2 - 1) + at(n / 2)) / 2.0 };
        let spread = (centre - at(0)).max(at(n - 1) - centre);
        Some(Fellows { own, centre, tolerance: (2.0 * spread).max(4.0 * floor) })
    }
}

/// Digits exchanged, a turn of the thimble, or simply far off: judged among the other readings of
/// the feature, first those in the same direction, for an oval surface reads differently in
/// another.
fn among_fellows(
    engine: &Engine,
    across: &[u32],
    values: &[f64],
    slipped: &mut [bool],
    out: &mut Vec<Suspicion>,
) {
    let reading = |i: usize| &engine.readings[across[i] as usize];
    let left: Vec<usize> = (0..values.len()).filter(|i| !slipped[*i]).collect();
    let floor = left
        .iter()
        .map(|i| {
            let r = reading(*i);
            r.gauge.map_or(0.0, |g| engine.gauge(g).repeat_m).max(r.resolution_si / 2.0)
        })
        .fold(5e-6, f64::max);
    let figures: Vec<f64> = left.iter().map(|i| values[*i]).collect();
    let far: Vec<(usize, Strength)> = match outliers(&figures, floor) {
        Ok(OutlierTest::Tested(found)) => {
            found.iter().map(|o| (left[o.reading], o.strength)).collect()
        }
        _ => Vec::new(),
    };
    let folded = |i: usize| reading(i).direction_rad.rem_euclid(std::f64::consts::PI);
    // Each reading is held against the rest of its direction, or of the feature where there are
    // too few. Both are kept in order, so that leaving one out costs no sorting.
    let mut groups: Vec<(f64, Ordered)> = Vec::new();
    let mut group_of = vec![None; values.len()];
    for i in left.iter().copied() {
        let direction = folded(i);
        if !direction.is_finite() {
            continue;
        }
        let at = groups.iter().position(|(d, _)| (d - direction).abs() < 1e-6);
        let at = at.unwrap_or_else(|| {
            groups.push((direction, Ordered::default()));
            groups.len() - 1
        });
        groups[at].1.push(values[i]);
        group_of[i] = Some(at);
    }
    for (_, group) in &mut groups {
        group.sort();
    }
    let mut all = Ordered::default();
    left.iter().for_each(|i| all.push(values[*i]));
    all.sort();
    for i in left.iter().copied() {
        let r = reading(i);
        let own: Option<usize> = group_of[i];
        let strength = far.iter().find(|(j, _)| *j == i).map(|(_, s)| *s);
        let among = own.map(|at| &groups[at].1).filter(|g| 2 <= g.others()).unwrap_or(&all);
        let Some(fellows) = among.without(values[i], floor) else { continue };
        let off = (values[i] - fellows.centre).abs();
        if off <= 2.0 * fellows.tolerance {
            continue;
        }
        let expectation = Expected { value_m: fellows.centre, within_m: fellows.tolerance };
        let digits = swap_in(&r.text, values[i], among, &fellows);
        let setting = setting_slip(values[i], &expectation).ok().flatten();
        let (why, meant, set_aside) = match (digits, setting) {
            (Some(d), _) => {
                let meant = d.meant;
                (Why::Digits(d), meant, true)
            }
            (None, Some(s)) => {
                let meant = s.meant_m;
                (Why::Setting(s), meant, true)
            }
            // Wear is uneven: an outlier with no slip to explain it counts, unless it lies where
            // no wear reaches.
            (None, None) if strength >= Some(Strength::Moderate) && off > 50.0 * floor => {
                (Why::Outlier(fellows.centre), fellows.centre, off > believable(fellows.centre))
            }
            (None, None) => continue,
        };
        if set_aside {
            slipped[i] = true;
            if let Some(at) = own {
                groups[at].1.take_out(values[i]);
            }
            all.take_out(values[i]);
        }
        out.push(Suspicion { reading: across[i], why, meant_m: Some(meant), set_aside });
    }
}

/// Digits exchanged in the figure as written: its number alone, scaled to metres.
fn swap_in(text: &str, si: f64, all: &Ordered, among: &Fellows) -> Option<SwappedDigits> {
    let figure: String =
        text.trim().chars().take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ',')).collect();
    let figure = figure.trim_end_matches(['.', ',']).replace(',', ".");
    let number: f64 = figure.parse().ok().filter(|n| *n != 0.0)?;
    // "8 3/16" begins with a number that is not the whole figure: the scale would be absurd.
    let scale = si / number;
    let plain =
        [1e-3, 25.4e-3, 1.0, 1e-2, 25.4e-6, 1e-5].iter().any(|u| (scale / u - 1.0).abs() < 1e-9);
    if !plain {
        return None;
    }
    let fellows: Vec<f64> =
        (0..all.0.len()).filter(|k| *k != among.own).map(|k| all.0[k] / scale).collect();
    let mut found = swapped_digits(&figure, &fellows, among.tolerance / scale).ok().flatten()?;
    found.meant *= scale;
    Some(found)
}

fn from_the_other_side(
    engine: &Engine,
    across: &[u32],
    slipped: &[bool],
    out: &mut Vec<Suspicion>,
) {
    let kept: Vec<usize> = (0..across.len())
        .filter(|i| !slipped[*i] && engine.readings[across[*i] as usize].direction_rad.is_finite())
        .collect();
    let mut repeatability: f64 = 2e-6;
    let readings: Vec<OpposedReading> = kept
        .iter()
        .map(|i| {
            let r = &engine.readings[across[*i] as usize];
            let own = r
                .gauge
                .map_or(0.0, |g| engine.gauge(g).repeat_m)
                .hypot(r.resolution_si / 12f64.sqrt());
            repeatability = repeatability.max(own);
            OpposedReading {
                station: usize::from(r.station),
                direction_rad: r.direction_rad,
                diameter_m: r.si,
            }
        })
        .collect();
    let Ok(found) = opposed_disagreements(&readings, repeatability) else { return };
    for pair in found.into_iter().filter(|p| p.strength == Strength::Strong) {
        out.push(Suspicion {
            reading: across[kept[pair.second]],
            why: Why::OtherSide(pair.difference_m),
            meant_m: None,
            set_aside: false,
        });
    }
}

/// A drift shows as readings that run with their order once station and direction are allowed
/// for; it needs more readings than those have levels.
fn with_the_order(
    engine: &Engine,
    across: &[u32],
    values: &[f64],
    slipped: &[bool],
    out: &mut Vec<Suspicion>,
) {
    let mut directions: Vec<u64> = Vec::new();
    let mut readings = Vec::new();
    let mut days: BTreeMap<Option<Date>, usize> = BTreeMap::new();
    for (i, row) in across.iter().enumerate().filter(|(i, _)| !slipped[*i]) {
        let r = &engine.readings[*row as usize];
        *days.entry(r.when).or_default() += 1;
        // A half turn is the same diameter.
        let folded = r.direction_rad.rem_euclid(std::f64::consts::PI).to_bits();
        let direction = directions.iter().position(|d| *d == folded).unwrap_or_else(|| {
            directions.push(folded);
            directions.len() - 1
        });
        readings.push(DriftReading {
            // One reading after another: rows keep the order of the sheet.
            time_s: i as f64,
            station: usize::from(r.station),
            direction,
            reading_m: values[i],
        });
    }
    if days.len() != 1 {
        return;
    }
    if let Ok(found) = drift(&readings)
        && found.strength == Some(Strength::Strong)
        && let Some(first) = across.first()
    {
        out.push(Suspicion {
            reading: *first,
            why: Why::Drift(found.total_m),
            meant_m: None,
            set_aside: false,
        });
    }
}

fn median(values: &[f64]) -> Option<f64> {
    let mut sorted: Vec<f64> = values.iter().copied().filter(|v| v.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    let n = sorted.len();
    match n {
        0 => None,
        n if n % 2 == 1 => Some(sorted[n / 2]),
        n => Some((sorted[n / 2 - 1] + sorted[n / 2]) / 2.0),
    }
}

/// Within each group: a part that does not suit its own place but suits another's. Bolts are
/// numbered to their holes because they are not alike; one made to the wrong hole shows here.
pub(super) fn swaps(
    engine: &Engine,
    features: &[FeatureState],
    joints: &[JointState],
) -> Vec<Swap> {
    let mut groups: BTreeMap<&str, Vec<JointIx>> = BTreeMap::new();
    for (i, joint) in engine.joints.iter().enumerate() {
        if let Some(group) = &joint.group
            && matches!(
                joint.kind,
                JointKind::Fitted | JointKind::Pressed | JointKind::Running | JointKind::Sliding
            )
        {
            groups.entry(group).or_default().push(JointIx::new(i));
        }
    }
    let mut out = Vec::new();
    for members in groups.values() {
        for own in members {
            let main = engine.joint(*own).kind.measure();
            // Off by more than its doubt: a bolt a micrometre loose on paper is no swap.
            let now = joints[own.index()]
                .measure(main)
                .filter(|e| off_by(engine, *own, e.si()) > 2.0 * e.u())
                .map(|e| e.si());
            let Some(now_m) = now else { continue };
            let best = members
                .iter()
                .filter(|other| *other != own)
                .filter_map(|other| there(engine, features, *own, *other).map(|m| (*other, m)))
                .map(|(other, m)| (off_by(engine, other, m), other, m))
                .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            if let Some((off, suits, there_m)) = best
                && off <= 0.0
            {
                out.push(Swap { joint: *own, suits, now_m, there_m });
            }
        }
    }
    out
}

/// How far a measure lies outside the limits for putting back (or as made); zero or less inside.
fn off_by(engine: &Engine, ix: JointIx, value: f64) -> f64 {
    let joint = engine.joint(ix);
    let main = joint.kind.measure();
    [When::Refit, When::Made, When::Service]
        .iter()
        .find_map(|when| joint.limits.iter().find(|l| l.measure == main && l.when == *when))
        .map_or(f64::NEG_INFINITY, |l| {
            let below = l.min_si().map_or(f64::NEG_INFINITY, |m| m - value);
            let above = l.max_si().map_or(f64::NEG_INFINITY, |m| value - m);
            below.max(above)
        })
}

/// The main measure if the inner part of one joint stood in the place of another.
fn there(engine: &Engine, features: &[FeatureState], part: JointIx, place: JointIx) -> Option<f64> {
    let inner = features[engine.joint(part).inner.index()].size.as_ref()?.si();
    let outer = features[engine.joint(place).outer.index()].size.as_ref()?.si();
    Some(match engine.joint(place).kind.measure() {
        Measure::Interference => inner - outer,
        _ => outer - inner,
    })
}
