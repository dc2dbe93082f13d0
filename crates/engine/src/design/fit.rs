//! What was gauged beside the fit that a duty names: achieved clearance or interference, its
//! uncertainty, and the verdict by ISO 14253-1.

use super::ask::Ask;
use super::duty::Value;
use super::shapes::{Design, Line, Of, Section, Standing};
use super::wanted::fit_limits;
use crate::judge::{Estimate, Judgement};
use crate::model::{JointIx, JointKind, Measure};
use mechanics::fits::{
    Band, FitJudgement, FitKind, FitLimits, FitReading, Measured, MemberJudgement, OffMember,
    Place, judge_reading,
};

/// A pair as gauged against its fit.
#[derive(Clone, Debug, PartialEq)]
pub struct AchievedFit {
    /// The fit as the duty writes it.
    pub symbol: String,
    /// Where the duty stands.
    pub from: String,
    /// Its limits at the joint's size.
    pub limits: FitLimits,
    /// The judgement, guard band for 95 per cent.
    pub judged: FitJudgement,
}

impl AchievedFit {
    /// What it is: within the band, too loose, too tight, or not to be told.
    pub fn word(&self) -> &'static str {
        match self.judged.place {
            Place::Inside => "within",
            Place::Above => "too loose",
            Place::Below => "too tight",
            Place::CannotTell => "cannot tell",
        }
    }

    /// Which member is off for certain, in words.
    pub fn off(&self) -> &'static str {
        match self.judged.off {
            OffMember::Neither => "neither is for certain outside its own limits",
            OffMember::One(mechanics::fits::Member::Hole) => "the hole is outside its own limits",
            OffMember::One(mechanics::fits::Member::Shaft) => "the shaft is outside its own limits",
            OffMember::Both => "both are outside their own limits",
        }
    }

    /// The fit is one of interference, so that figures are told as that.
    pub fn is_interference(&self) -> bool {
        self.limits.kind() == FitKind::Interference
    }
}

/// The achieved fit of a joint whose duty names a fit; `None` where there is nothing to compare.
///
/// # Errors
/// Why it cannot be told: a fit that cannot be read, a side that is not gauged.
pub fn achieved_fit(judgement: &Judgement, ix: JointIx) -> Option<Result<AchievedFit, String>> {
    let entry = judgement.engine().duties.get(&ix)?.entries.get("fit")?;
    let Value::Text(symbol) = &entry.value else { return None };
    compare(judgement, ix, symbol, &entry.from)
}

fn compare(
    judgement: &Judgement,
    ix: JointIx,
    symbol: &str,
    from: &str,
) -> Option<Result<AchievedFit, String>> {
    let joint = judgement.engine().joint(ix);
    let duty = judgement.engine().duties.get(&ix);
    let lines = |name: &str| duty.is_some_and(|d| d.entries.contains_key(name));
    // Of a bearing that is lined, the fit is that of its bush in the eye, which is not there yet.
    if matches!(joint.kind, JointKind::Wedged | JointKind::Tapered)
        || (joint.kind == JointKind::Running && lines("bush-wall"))
    {
        return None;
    }
    let size = |f| judgement.feature(f).size.as_ref();
    let (Some(hole), Some(shaft)) = (size(joint.outer), size(joint.inner)) else {
        return Some(Err("both sides must be gauged to compare them with the fit".to_owned()));
    };
    let state = judgement.joint(ix);
    let pair = [Measure::Clearance, Measure::Interference].iter().find_map(|m| state.measure(*m));
    // What both gauges share cancels in the difference: u(c)^2 = u_h^2 + u_s^2 - 2 s^2.
    let shared_u_m = pair.map_or(0.0, |c| shared(hole.u(), shaft.u(), c.u()));
    let measured = |e: &Estimate| Measured { size_m: e.si(), u_m: e.u() };
    let made = || {
        let limits = fit_limits(judgement, joint.outer, symbol)?;
        let reading = FitReading { shared_u_m, ..FitReading::new(measured(hole), measured(shaft)) };
        let judged = judge_reading(&limits, &reading).map_err(|e| e.to_string())?;
        Ok(AchievedFit { symbol: symbol.to_owned(), from: from.to_owned(), limits, judged })
    };
    Some(made())
}

fn shared(u_hole: f64, u_shaft: f64, u_pair: f64) -> f64 {
    (0.5 * (u_hole.powi(2) + u_shaft.powi(2) - u_pair.powi(2)))
        .max(0.0)
        .sqrt()
        .min(u_hole.min(u_shaft))
}

/// The achieved fit on a design.
pub(super) fn fit_lines(ask: &mut Ask<'_>, out: &mut Design) {
    let Some(symbol) = ask.maybe_text("fit") else { return };
    let from = ask.from("fit");
    let fit = match compare(ask.judgement, ask.joint, symbol, &from) {
        None => return,
        Some(Ok(fit)) => fit,
        Some(Err(why)) => {
            out.absent.push(super::ask::because("the fit as gauged", why));
            return;
        }
    };
    let tight = fit.is_interference();
    let (word, band, value) = if tight {
        let i = fit.limits.interference();
        ("interference", (i.min_m, i.max_m), -fit.judged.clearance_m)
    } else {
        let c = fit.limits.clearance;
        ("clearance", (c.min_m, c.max_m), fit.judged.clearance_m)
    };
    let standing = |place: Place| match place {
        Place::Inside => Standing::Good,
        Place::CannotTell => Standing::Look,
        Place::Above | Place::Below => Standing::Bad,
    };
    let u = fit.judged.clearance_u_m;
    let mut lines = vec![
        Line::band(format!("{word} by {symbol}"), band.0, band.1, Of::Difference).note(format!(
            "hole {} and shaft {} um on {:.3} mm",
            deviations(Band { min_m: fit.limits.hole.lower_m, max_m: fit.limits.hole.upper_m }),
            deviations(Band { min_m: fit.limits.shaft.lower_m, max_m: fit.limits.shaft.upper_m }),
            1e3 * fit.limits.size_m
        )),
        Line::one(format!("{word} as gauged"), value, Of::Difference)
            .note(format!("± {:.4} mm (k = 2)", 2e3 * u)),
        Line::words("against the fit", fit.word()).stands(standing(fit.judged.place)).note(
            match fit.judged.place {
                Place::Inside => "by the guard band of ISO 14253-1, 95 %".to_owned(),
                Place::CannotTell => format!(
                    "within the guard band of a limit, {:.4} mm: a finer gauge could tell",
                    1.645e3 * u
                ),
                _ => format!("outside by {:.3} mm", 1e3 * fit.judged.outside_by_m.abs()),
            },
        ),
    ];
    for (name, m) in [("hole", &fit.judged.hole), ("shaft", &fit.judged.shaft)] {
        lines.push(member(name, m, standing(m.place)));
    }
    lines.push(Line::words("so", fit.off()));
    out.sections.push(Section::new("the fit as gauged", lines));
}

fn deviations(b: Band) -> String {
    format!("{:+.0}/{:+.0}", 1e6 * b.max_m, 1e6 * b.min_m)
}

fn member(name: &str, m: &MemberJudgement, standing: Standing) -> Line {
    let words = match m.place {
        Place::Inside => "inside its own limits",
        Place::Below => "below its own limits",
        Place::Above => "above its own limits",
        Place::CannotTell => "cannot tell against its own limits",
    };
    Line::words(format!("the {name}"), words)
        .stands(standing)
        .note(format!("{:+.1} um from the size it is named by", 1e6 * m.deviation_m))
}
