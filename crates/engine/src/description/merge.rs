//! Laying an engine's own file over its pattern: fields given in the file win.

use super::Description;
use indexmap::IndexMap;

/// A value that may be laid over another.
pub(crate) trait Over {
    /// `self` where it says something, else `base`.
    fn over(self, base: Self) -> Self;
}

impl<T> Over for Option<T> {
    fn over(self, base: Self) -> Self {
        self.or(base)
    }
}

pub(super) fn lay<T, K: std::hash::Hash + Eq>(
    base: Vec<T>,
    top: Vec<T>,
    key: impl Fn(&T) -> Option<K>,
    over: impl Fn(T, T) -> T,
) -> Vec<T> {
    let mut out: Vec<Option<T>> = base.into_iter().map(Some).collect();
    let mut seen: IndexMap<K, usize> = IndexMap::new();
    for (i, item) in out.iter().enumerate() {
        if let Some(k) = item.as_ref().and_then(&key) {
            seen.insert(k, i);
        }
    }
    for item in top {
        match key(&item).and_then(|k| seen.get(&k).copied()) {
            Some(i) => {
                out[i] = match out[i].take() {
                    Some(below) => Some(over(item, below)),
                    None => Some(item),
                }
            }
            None => out.push(Some(item)),
        }
    }
    out.into_iter().flatten().collect()
}

impl Description {
    /// This description laid over `base`: records with the id of one in `base` change only the
    /// fields they give; others are added.
    pub(crate) fn laid_over(self, base: Description) -> Description {
        let id = |t: &Option<super::Text>| t.as_ref().map(|t| t.get_ref().clone());
        let mut dimensions = base.dimensions;
        dimensions.extend(self.dimensions);
        let limit_key = |l: &super::LimitText| match (&l.on, &l.of, &l.when) {
            (Some(on), of, when) => Some((
                on.get_ref().clone(),
                of.as_ref().map(|t| t.get_ref().clone()),
                when.as_ref().map(|t| t.get_ref().clone()),
            )),
            _ => None,
        };
        let append = |mut a: Vec<_>, b: Vec<_>| {
            a.extend(b);
            a
        };
        Description {
            engine: match (self.engine, base.engine) {
                (Some(top), Some(below)) => Some(top.over(below)),
                (top, below) => top.or(below),
            },
            dimensions,
            workshop: match (self.workshop, base.workshop) {
                (Some(top), Some(below)) => Some(top.over(below)),
                (top, below) => top.or(below),
            },
            materials: lay(base.materials, self.materials, |m| id(&m.id), |a, b| a.over(b)),
            gauges: lay(base.gauges, self.gauges, |g| id(&g.id), |a, b| a.over(b)),
            parts: lay(base.parts, self.parts, |p| id(&p.id), |a, b| a.over(b)),
            features: lay(base.features, self.features, |f| id(&f.id), |a, b| a.over(b)),
            joints: lay(base.joints, self.joints, |j| id(&j.id), |a, b| a.over(b)),
            limits: lay(base.limits, self.limits, limit_key, |a, b| a.over(b)),
            chains: lay(base.chains, self.chains, |c| id(&c.id), |a, b| a.over(b)),
            duties: lay(
                base.duties,
                self.duties,
                |d| d.text("of").map(str::to_owned),
                super::DutyText::over,
            ),
            readings: append(base.readings, self.readings),
            findings: {
                let mut all = base.findings;
                all.extend(self.findings);
                all
            },
            strike_outs: {
                let mut all = base.strike_outs;
                all.extend(self.strike_outs);
                all
            },
            decisions: {
                let mut all = base.decisions;
                all.extend(self.decisions);
                all
            },
            motion: match (self.motion, base.motion) {
                (Some(top), Some(below)) => Some(top.over(below)),
                (top, below) => top.or(below),
            },
            cylinders: lay(base.cylinders, self.cylinders, |c| id(&c.id), |a, b| a.over(b)),
            axles: lay(base.axles, self.axles, |a| id(&a.id), |a, b| a.over(b)),
            fatigue: lay(base.fatigue, self.fatigue, |f| id(&f.id), |a, b| a.over(b)),
            turning_masses: lay(
                base.turning_masses,
                self.turning_masses,
                |m| id(&m.id),
                |a, b| a.over(b),
            ),
            reaches: lay(
                base.reaches,
                self.reaches,
                |r| id(&r.to).zip(id(&r.crank)),
                |a, b| a.over(b),
            ),
            bumps: {
                let mut all = base.bumps;
                all.extend(self.bumps);
                all
            },
            shed: match (self.shed, base.shed) {
                (Some(top), Some(below)) => Some(top.over(below)),
                (top, below) => top.or(below),
            },
            crew: lay(base.crew, self.crew, |p| id(&p.id), |a, b| a.over(b)),
            shifts: lay(base.shifts, self.shifts, |s| id(&s.id), |a, b| a.over(b)),
            kit: lay(base.kit, self.kit, |k| id(&k.id), |a, b| a.over(b)),
            places: lay(base.places, self.places, |p| id(&p.id), |a, b| a.over(b)),
            works: lay(base.works, self.works, |w| id(&w.id), |a, b| a.laid_over(b)),
            lifts: lay(base.lifts, self.lifts, |l| id(&l.id), |a, b| a.over(b)),
            solids: lay(base.solids, self.solids, |s| id(&s.id), |a, b| a.over(b)),
            progress: {
                let mut all = base.progress;
                all.extend(self.progress);
                all
            },
        }
    }
}
