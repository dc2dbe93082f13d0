//! Which bolt of a group fits which hole.

use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Section, Standing};
use crate::design::wanted::gauged;
use crate::model::JointIx;
use mechanics::bolt::{self as mb, MatchInput, Matching};
use mechanics::fits::Band;

/// Number of this joint among its group, and the group.
pub(super) fn number_in_group(ask: &Ask<'_>) -> (u32, Vec<String>) {
    let group = group(ask);
    let engine = ask.judgement.engine();
    let at = group.iter().position(|j| *j == ask.joint).unwrap_or(0);
    (at as u32 + 1, group.iter().map(|j| engine.joint(*j).id.clone()).collect())
}

/// Which bolt fits which hole, as they are.
pub(super) fn matching(
    ask: &mut Ask<'_>,
    members: &[f64],
    wanted: Band,
    u_m: f64,
    out: &mut Design,
) -> Option<Matching> {
    let what = "which bolt fits which hole";
    let group = group(ask);
    if group.len() < 2 || group.len() > 60 {
        return None;
    }
    let engine = ask.judgement.engine();
    let by_member = |feature| -> Option<Vec<f64>> {
        let (readings, _) = gauged(ask.judgement, feature);
        let mut start = 0.0;
        let mut means = Vec::new();
        for (i, length) in members.iter().enumerate() {
            let last = i + 1 == members.len();
            let inside: Vec<f64> = readings
                .iter()
                .filter(|r| r.depth_m >= start && (last || r.depth_m < start + length))
                .map(|r| r.size_m)
                .collect();
            if inside.is_empty() {
                return None;
            }
            means.push(inside.iter().sum::<f64>() / inside.len() as f64);
            start += length;
        }
        Some(means)
    };
    let bolts: Option<Vec<Vec<f64>>> =
        group.iter().map(|j| by_member(engine.joint(*j).inner)).collect();
    let holes: Option<Vec<Vec<f64>>> =
        group.iter().map(|j| by_member(engine.joint(*j).outer)).collect();
    let (Some(bolts_m), Some(holes_m)) = (bolts, holes) else {
        out.absent
            .push(because(what, "not every bolt and hole of the group is gauged in every member"));
        return None;
    };
    let input = MatchInput {
        interference: vec![wanted; members.len()],
        u_m,
        tagged: Some((0..group.len()).collect()),
        bolts_m,
        holes_m,
    };
    match mb::match_bolts(&input) {
        Ok(m) => {
            let id = |i: usize| engine.joint(group[i]).id.as_str();
            let mut lines = Vec::new();
            for b in &m.matches {
                let words = match b.hole {
                    None => "no hole".to_owned(),
                    Some(h) => {
                        let least = b.interference_m.iter().copied().fold(f64::INFINITY, f64::min);
                        let most =
                            b.interference_m.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                        format!(
                            "suits hole {} ({}) best: {:+.1} to {:+.1} um, {}",
                            h + 1,
                            id(h),
                            1e6 * least,
                            1e6 * most,
                            if b.fits { "fits" } else { "does not fit" }
                        )
                    }
                };
                let own = b.hole == Some(b.bolt);
                lines.push(
                    Line::words(format!("bolt tagged {} ({})", b.bolt + 1, id(b.bolt)), words)
                        .stands(if b.fits && own { Standing::Good } else { Standing::Look }),
                );
            }
            for ring in &m.swapped {
                let names: Vec<&str> = ring.iter().map(|i| id(*i)).collect();
                lines.push(
                    Line::words("likely changed places", names.join(", ")).stands(Standing::Bad),
                );
            }
            out.sections.push(Section::new("existing bolts of the group, as they are", lines));
            Some(m)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}

fn group(ask: &Ask<'_>) -> Vec<JointIx> {
    let engine = ask.judgement.engine();
    match &engine.joint(ask.joint).group {
        None => vec![ask.joint],
        Some(name) => (0..engine.joints.len())
            .map(JointIx::new)
            .filter(|j| engine.joint(*j).group.as_ref() == Some(name))
            .collect(),
    }
}
