//! A tyre shrunk on its wheel centre: the old rules beside what is computed, and what warmth of the
//! brake blocks leaves.

use super::{PressDetail, rings};
use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section, Standing};
use mechanics::press::{Material, Running, TyreRule, running, tyre_shrink_allowance_m};

/// Tyres lie between these on their inside (own choice: a shrunk collar is no tyre).
const TYRES_M: (f64, f64) = (0.45, 2.6);

const RULES: [(&str, TyreRule, &str); 3] = [
    (
        "master mechanics",
        TyreRule::MasterMechanics,
        "American Railway Master Mechanics' Association, in Machinery's Handbook, from memory",
    ),
    (
        "eightieth inch per foot",
        TyreRule::EightiethInchPerFoot,
        "an eightieth of an inch for each foot, common practice",
    ),
    (
        "thousandth per inch",
        TyreRule::ThousandthPerInch,
        "a thousandth of the diameter, Dooley, Applied Science for Metal-Workers",
    ),
];

/// Says the allowance by rule and what is left of the grip when the blocks have warmed the tyre.
pub(super) fn tyre(
    ask: &mut Ask<'_>,
    slices: &[(f64, f64, f64)],
    (hub, pin): (Material, Material),
    pin_m: (f64, f64),
    detail: &PressDetail,
    out: &mut Design,
) {
    let what = "the tyre's shrinkage";
    let joint = ask.judgement.engine().joint(ask.joint);
    let Some(bore_m) = ask.judgement.feature(joint.outer).size.as_ref().map(|e| e.si()) else {
        return;
    };
    let named = ask.maybe_text("tyre-rule");
    if named.is_none() && !(TYRES_M.0..=TYRES_M.1).contains(&bore_m) {
        return;
    }
    let interference = match (&detail.sizing, detail.interference_m) {
        (_, Some((i, u))) => (i - 2.0 * u, i + 2.0 * u),
        (Some(s), None) => (s.interference_min_m, s.interference_max_m),
        (None, None) => (pin_m.0 - bore_m, pin_m.1 - bore_m),
    };
    let mut lines = vec![
        Line::one("wheel centre", 0.5 * (pin_m.0 + pin_m.1), Of::Size),
        Line::band("interference", interference.0, interference.1, Of::Difference),
    ];
    for (name, rule, source) in RULES {
        if named.is_some_and(|n| n != name) {
            continue;
        }
        match tyre_shrink_allowance_m(bore_m, rule) {
            Ok(m) => {
                let far = interference.1 < 0.75 * m || interference.0 > 1.25 * m;
                lines.push(Line::one("by rule", m, Of::Difference).note(source).stands(if far {
                    Standing::Look
                } else {
                    Standing::Plain
                }));
            }
            Err(e) if named.is_some() => out.absent.push(because(what, e)),
            // A rule that does not reach to this size has nothing to say of it.
            Err(_) => {}
        }
    }
    if let Some(rise_k) = ask.maybe("tyre-rise") {
        let how = Running {
            hub_rise_k: rise_k,
            pin_rise_k: 0.0,
            speed_rad_s: ask.maybe("turning").unwrap_or(0.0),
        };
        let least = interference.0.max(0.0);
        let answer = rings(bore_m, slices, hub, pin).and_then(|all| {
            all.iter().map(|(_, r)| running(r, least, how)).collect::<Result<Vec<_>, _>>()
        });
        match answer {
            Ok(states) => {
                let left = states.iter().map(|s| s.interference_m).fold(f64::INFINITY, f64::min);
                let pressure = states.iter().map(|s| s.pressure_pa).fold(f64::INFINITY, f64::min);
                lines.push(
                    Line::one("left of the least, warm and turning", left, Of::Difference)
                        .good_if(left > 0.0)
                        .note(format!("tyre {rise_k:.0} K above its centre")),
                );
                lines.push(Line::one("grip then", pressure, Of::Stress));
            }
            Err(e) => out.absent.push(because(what, e)),
        }
    } else {
        out.absent.push(crate::design::shapes::Absent {
            what: "what warmth of the brake blocks leaves of the grip".to_owned(),
            why: String::new(),
            wants: vec![
                "tyre-rise = \"80 K\" (how much hotter than its wheel centre brake blocks make a tyre)"
                    .to_owned(),
            ],
        });
    }
    out.sections.push(Section::new("tyre on its centre", lines));
    out.caution("a tyre that has been dragged hot by its blocks may have turned: look for the mark across tyre and centre, and sound it, before it runs");
    out.caution("heat a tyre evenly all round and never to a colour: its temper, and a competent person, decide; a tyre that slips from its lift crushes");
    out.not_considered.push("lip, gutter ring and fastenings of the tyre; its wear and what turning it in the lathe takes from its stiffness");
}
