//! Sliding joints: liners, re-metalled slippers, pressure on the bars.

use super::ask::{Ask, because};
use super::loading::TurnLoad;
use super::plan::{Plan, judgement_size};
use super::shapes::{Design, Line, Of, Section, Standing};
use super::wanted::{clearance_wanted, limit};
use super::{loading, metal, pressure};
use crate::model::{FeatureIx, Measure, RepairKind, When};
use mechanics::bearing;

/// What goes on one face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceLayer {
    /// It is white metal, cast on; else a liner.
    pub cast: bool,
    /// Thickness when finished (m).
    pub thick_m: f64,
    /// Thickness as cast, or what is machined off the face first (m), where known.
    pub before_m: Option<f64>,
}

/// One of the two sides that slide.
#[derive(Clone, Debug, PartialEq)]
pub struct SlideSide {
    /// Name of the feature.
    pub name: String,
    /// Size when done, least and most (m).
    pub done_m: (f64, f64),
    /// Size as gauged (m).
    pub now_m: Option<f64>,
    /// What goes on its two faces, first and second.
    pub layers: Option<[FaceLayer; 2]>,
}

/// The calculation behind a sliding joint.
#[derive(Clone, Debug, PartialEq)]
pub struct SlideDetail {
    /// Names of the two faces.
    pub faces: [String; 2],
    /// What is between.
    pub inner: SlideSide,
    /// What is round it.
    pub outer: SlideSide,
    /// Clearance when done, least and most (m).
    pub clearance_m: (f64, f64),
    /// How far the part stands from its line towards the second face (m); `None` when not gauged.
    pub stands_off_m: Option<f64>,
    /// Pressure and speed.
    pub duty: Option<bearing::Duty>,
    /// Load through a turn, from the motion.
    pub turn: Option<TurnLoad>,
}

pub(super) fn design_slide(ask: &mut Ask<'_>, plan: &Plan, out: &mut Design) {
    let judgement = ask.judgement;
    let engine = judgement.engine();
    let joint = engine.joint(ask.joint);
    let faces = faces(ask);
    let stands_off_m = ask.maybe("stands-off");
    let mut layers: Vec<(FeatureIx, [FaceLayer; 2])> = Vec::new();
    if plan.repair == RepairKind::Line {
        for f in [joint.inner, joint.outer] {
            if let Some(l) = liner(ask, plan, f, &faces, stands_off_m, out) {
                layers.push((f, l));
            }
        }
        if limit(&joint.limits, Measure::Clearance, When::Refit)
            .is_some_and(|l| l.min_si().is_none())
        {
            out.absent
                .push(because("the least clearance", "the limit for putting back has no least"));
        }
    }
    if plan.repair == RepairKind::ReMetal {
        // A gap is metalled on both its faces, and so is a crosshead over its slippers.
        metal::pour_flat(ask, 2.0, out);
        for f in [joint.inner, joint.outer] {
            if let Some(l) = cast(ask, plan, f, &faces, stands_off_m, out) {
                layers.push((f, l));
            }
        }
    }
    let band = |f| {
        plan.target(f).map(|t| (t.to_m - t.tolerance_m, t.to_m + t.tolerance_m)).or_else(|| {
            let e = judgement.feature(f).size.as_ref()?;
            Some((e.si() - 2.0 * e.u(), e.si() + 2.0 * e.u()))
        })
    };
    let (Some(inner), Some(outer)) = (band(joint.inner), band(joint.outer)) else {
        out.absent.push(because("clearance when done", "both faces must be gauged"));
        return;
    };
    let (least, most) = (outer.0 - inner.1, outer.1 - inner.0);
    let mut lines =
        vec![Line::band("clearance when done", least, most, Of::Difference).note("worst corners")];
    lines.extend(clearance_wanted(
        &joint.limits,
        (least, most),
        "finish the one and make the other to suit",
    ));
    out.sections.push(Section::new("clearance", lines));
    let turn = loading::turn_load(ask, out);
    if let Some(t) = &turn {
        loading::turn_lines(ask, t, out);
    }
    let said = turn.is_some() || ["load", "rubbing-speed", "width"].iter().any(|n| ask.has(n));
    let duty = if said { pressure::duty(ask, None, turn.as_ref(), out) } else { None };
    let _ = ask.absent("");
    let side = |f: FeatureIx, done_m| SlideSide {
        name: engine.feature(f).name.clone(),
        done_m,
        now_m: judgement_size(judgement, f),
        layers: layers.iter().find(|(g, _)| *g == f).map(|(_, l)| *l),
    };
    out.detail.slide = Some(Box::new(SlideDetail {
        inner: side(joint.inner, inner),
        outer: side(joint.outer, outer),
        faces,
        clearance_m: (least, most),
        stands_off_m,
        duty,
        turn,
    }));
}

fn faces(ask: &mut Ask<'_>) -> [String; 2] {
    match ask.maybe_texts("faces") {
        Some([a, b, ..]) => [a.clone(), b.clone()],
        _ => ["first face".to_owned(), "second face".to_owned()],
    }
}

/// What each face has to give: half of it, and what the part stands off its line moved over, so that
/// it comes back on the line.
///
/// Own derivation: standing off by `e` towards the second face, the part is lifted by `e` when the
/// layer there is `e` thicker and the other `e` thinner.
fn shares(needs_m: f64, stands_off_m: Option<f64>) -> [f64; 2] {
    let e = stands_off_m.unwrap_or(0.0);
    [0.5 * needs_m - e, 0.5 * needs_m + e]
}

fn line_words(stands_off_m: Option<f64>, faces: &[String; 2]) -> Line {
    match stands_off_m {
        Some(e) => Line::one(
            format!("stands off its line towards the {}", faces[1]),
            e,
            Of::Difference,
        )
        .note("brought back on the line by the two thicknesses"),
        None => Line::words(
            "its line",
            "shared evenly, so that the part stays where it stands: gauge it against its line and write stands-off",
        )
        .stands(Standing::Look),
    }
}

/// Liners on the two faces of a feature.
fn liner(
    ask: &mut Ask<'_>,
    plan: &Plan,
    f: FeatureIx,
    faces: &[String; 2],
    stands_off_m: Option<f64>,
    out: &mut Design,
) -> Option<[FaceLayer; 2]> {
    let engine = ask.judgement.engine();
    let (t, now) = (plan.target(f)?, judgement_size(ask.judgement, f)?);
    let needs = (t.to_m - now).abs();
    let share = shares(needs, stands_off_m);
    let mut lines = vec![
        Line::one("the two faces have to give together", needs, Of::Difference).note(format!(
            "from {:.3} to {:.3} mm",
            1e3 * now,
            1e3 * t.to_m
        )),
        line_words(stands_off_m, faces),
    ];
    let given = ask.maybe("metal-thickness");
    let layers: Vec<FaceLayer> = share
        .iter()
        .map(|s| match given {
            Some(thick_m) => FaceLayer { cast: false, thick_m, before_m: Some(thick_m - s) },
            None => FaceLayer { cast: false, thick_m: *s, before_m: None },
        })
        .collect();
    for (name, l) in faces.iter().zip(&layers) {
        match l.before_m {
            Some(off) => {
                lines.push(
                    Line::one(format!("{name}: liner"), l.thick_m, Of::Size)
                        .note("one piece, bedded all over and secured as the engineer says"),
                );
                lines.push(
                    Line::one(format!("{name}: machine off first"), off, Of::Size)
                        .stands(if off >= 0.0 { Standing::Plain } else { Standing::Bad })
                        .note(if off >= 0.0 {
                            "so that the liner comes flush to the size"
                        } else {
                            "the liner is thinner than this face has to give: a thicker one is wanted"
                        }),
                );
            }
            None => lines.push(
                Line::one(format!("{name}: liner, face not machined"), l.thick_m, Of::Size)
                    .stands(if l.thick_m > 0.0 { Standing::Plain } else { Standing::Bad })
                    .note(if l.thick_m > 0.0 {
                        "a thin liner does not stay: metal-thickness in the duty gives the depths for a thicker one"
                    } else {
                        "this face has to lose metal, not gain it: line the other alone"
                    }),
            ),
        }
    }
    if given.is_some_and(|g| g >= needs) {
        lines.push(
            Line::one(
                "one face lined only: machine off it",
                given.unwrap_or(needs) - needs,
                Of::Size,
            )
            .note(format!("moves the part by {:.3} mm away from that face", 0.5e3 * needs)),
        );
    }
    let title = format!("lining {}", engine.feature(f).name);
    out.sections.push(Section::making(&title, lines));
    <[FaceLayer; 2]>::try_from(layers).ok()
}

/// White metal on the two faces of a feature: where each comes to from the part's middle.
fn cast(
    ask: &mut Ask<'_>,
    plan: &Plan,
    f: FeatureIx,
    faces: &[String; 2],
    stands_off_m: Option<f64>,
    out: &mut Design,
) -> Option<[FaceLayer; 2]> {
    let target = plan.target(f)?;
    let thick_m = ask.maybe("metal-thickness")?;
    let machining_m = ask.maybe("machining");
    let from_middle = shares(target.to_m, stands_off_m);
    let mut lines = vec![line_words(stands_off_m, faces)];
    for (name, m) in faces.iter().zip(from_middle) {
        lines.push(
            Line::band(
                format!("{name}: from the part's middle"),
                m - 0.5 * target.tolerance_m,
                m + 0.5 * target.tolerance_m,
                Of::Size,
            )
            .note("machined after pouring, both faces in one setting"),
        );
    }
    let title = format!("facing {}", ask.judgement.engine().feature(f).name);
    out.sections.push(Section::making(&title, lines));
    let layer = FaceLayer { cast: true, thick_m, before_m: machining_m.map(|a| thick_m + a) };
    Some([layer; 2])
}
