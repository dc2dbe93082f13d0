//! A load on its slings, from the side and from the end.

use super::space::{Space, outline};
use super::words::{NOT_A_PERMISSION, force, mm, wrapped};
use crate::error::length;
use crate::svg::{Anchor, At, Dash, Fill, GREY, INK, Lettering, OUT, PALE, PAPER, Pen, Svg};
use crate::{DrawingError, Picture};
use mechanics::lifting::{Body, GearFinding, GearVerdict, Hang, Leg, ModeBasis};

const WIDTH: f64 = 500.0;
const MARGIN: f64 = 8.0;
/// Columns of leg figures beside the side view.
const SIDE_NOTES: f64 = 98.0;
const END_VIEW: f64 = 104.0;
const HIGHEST: f64 = 230.0;
const SMALL: Lettering = Lettering::new(7.5);
const USUAL: Lettering = Lettering::new(8.5);

/// A load on its slings.
#[derive(Clone, Debug)]
pub struct SlingDiagram<'a> {
    /// What is lifted.
    pub title: String,
    /// Mass and balance point.
    pub body: &'a Body,
    /// The legs.
    pub legs: &'a [Leg],
    /// How it hangs by them.
    pub hang: &'a Hang,
    /// What the gear says to it, where it was asked.
    pub verdict: Option<&'a GearVerdict>,
    /// The part as a box between two corners, m in its own frame.
    pub part_m: [[f64; 3]; 2],
}

/// The load as it hangs, from the side (its x axis to the right) and from the end (its y axis to the
/// left), legs with angle, tension and use of their rating, balance point and hook.
///
/// # Errors
/// As many legs drawn as hang are wanted; figures that are not finite or no place on an engine.
pub fn sling_diagram(diagram: &SlingDiagram<'_>) -> Result<Picture, DrawingError> {
    let hang = diagram.hang;
    if diagram.legs.is_empty() || diagram.legs.len() != hang.legs.len() {
        return Err(DrawingError::Nothing { what: "legs that match the way the load hangs" });
    }
    let eyes = diagram.legs.iter().map(|l| l.eye_m);
    for p in eyes.clone().chain(diagram.part_m).chain([hang.hook_m, diagram.body.centre_m()]) {
        for c in p {
            length("a place on the load", c)?;
        }
    }
    let space = Space::new(hang.hook_m, hang.up);
    let corners: Vec<[f64; 3]> = (0..8)
        .map(|i| space.place([0, 1, 2].map(|axis| diagram.part_m[(i >> axis) & 1][axis])))
        .collect();
    let eyes: Vec<[f64; 3]> = eyes.map(|e| space.place(e)).collect();
    let centre = space.place(diagram.body.centre_m());

    let all = || corners.iter().chain(&eyes).chain([&centre, &[0.0; 3]]);
    let span = |axis: usize| {
        let low = all().map(|p| p[axis]).fold(f64::INFINITY, f64::min);
        let high = all().map(|p| p[axis]).fold(f64::NEG_INFINITY, f64::max);
        (low, high)
    };
    let (side, end, up) = (span(0), span(1), span(2));
    let side_room = WIDTH - 3.0 * MARGIN - 2.0 * SIDE_NOTES - END_VIEW - 10.0;
    let high_enough = |size: f64| size.max(1e-3);
    let scale = (side_room / high_enough(side.1 - side.0))
        .min((END_VIEW - 12.0) / high_enough(end.1 - end.0))
        .min(HIGHEST / high_enough(up.1 - up.0));

    let mut svg = Svg::new(WIDTH, 0.0);
    svg.text(
        (MARGIN, 16.0),
        &USUAL.bold().fitted(&diagram.title, WIDTH - 2.0 * MARGIN),
        Lettering::new(11.0).bold(),
    );
    let mass = format!(
        "{:.0} ± {:.0} kg, weight {}",
        diagram.body.mass_kg(),
        2.0 * diagram.body.u_mass_kg(),
        force(hang.weight_n)
    );
    svg.text((MARGIN, 28.0), &mass, USUAL);

    // The hook stands below this line, with its fall above it.
    let top = 60.0;
    let side_left = MARGIN + SIDE_NOTES;
    let side_middle = side_left + 0.5 * side_room;
    let end_middle = WIDTH - MARGIN - 0.5 * END_VIEW;
    let mut view = |axis: usize, middle: f64, range: (f64, f64), sign: f64, name: &str| {
        let mid = 0.5 * (range.0 + range.1);
        let at =
            |p: &[f64; 3]| (middle + sign * (p[axis] - mid) * scale, top + (up.1 - p[2]) * scale);
        draw_view(&mut svg, &corners, &eyes, &centre, hang, &at);
        svg.text((middle, top - 22.0), name, SMALL.at(Anchor::Middle).in_colour(GREY));
    };
    view(0, side_middle, side, 1.0, "from the side");
    view(1, end_middle, end, -1.0, "from the left end");
    let at = |p: &[f64; 3]| {
        (side_middle + (p[0] - 0.5 * (side.0 + side.1)) * scale, top + (up.1 - p[2]) * scale)
    };
    let bottom = top + (up.1 - up.0) * scale;
    let notes_end = leg_notes(&mut svg, diagram, &eyes, &at, (side_left, side_room, top));

    let mut y = bottom.max(notes_end) + 16.0;
    for (line, out) in told(diagram) {
        let letter = if out { USUAL.bold().in_colour(OUT) } else { USUAL };
        for row in wrapped(&line, WIDTH - 2.0 * MARGIN, letter) {
            svg.text((MARGIN, y), &row, letter);
            y += 11.0;
        }
    }
    for row in wrapped(NOT_A_PERMISSION, WIDTH - 2.0 * MARGIN, SMALL) {
        y += 10.0;
        svg.text((MARGIN, y - 5.0), &row, SMALL);
    }
    svg.set_height(y + 4.0);
    let description = format!("{}: {mass}, on {} legs", diagram.title, diagram.legs.len());
    svg.finish(&diagram.title, &description)
}

/// One view: part, legs, plumb line, balance point, hook.
fn draw_view(
    svg: &mut Svg,
    corners: &[[f64; 3]],
    eyes: &[[f64; 3]],
    centre: &[f64; 3],
    hang: &Hang,
    at: &dyn Fn(&[f64; 3]) -> At,
) {
    let seen: Vec<At> = corners.iter().map(at).collect();
    svg.polygon(&outline(&seen), Fill::Colour(PALE), Some(Pen::ink(0.9)));
    for i in 0..8 {
        for axis in 0..3 {
            let j = i | (1 << axis);
            if i != j {
                svg.line(seen[i], seen[j], Pen::grey(0.4));
            }
        }
    }
    svg.polygon(&outline(&seen), Fill::None, Some(Pen::ink(0.9)));
    let hook = at(&[0.0; 3]);
    let g = at(centre);
    svg.line((hook.0, hook.1 + 4.0), g, Pen::grey(0.7).dashed(Dash::Axis));
    for (eye, state) in eyes.iter().zip(&hang.legs) {
        let pen =
            if state.gap_m > 1e-6 { Pen::ink(0.9).dashed(Dash::Dashed) } else { Pen::ink(1.3) };
        svg.line(hook, at(eye), pen);
        svg.circle(at(eye), 2.2, Fill::Colour(PAPER), Some(Pen::ink(0.9)));
    }
    // The fall and the hook.
    svg.line((hook.0, hook.1 - 17.0), (hook.0, hook.1 - 3.5), Pen::ink(2.0));
    svg.circle(hook, 3.5, Fill::Colour(PAPER), Some(Pen::ink(1.3)));
    balance_mark(svg, g, 4.5);
}

/// The mark of a balance point: a circle with opposite quarters filled.
pub(super) fn balance_mark(svg: &mut Svg, (x, y): At, r: f64) {
    svg.circle((x, y), r, Fill::Colour(PAPER), None);
    for from in [0.0, std::f64::consts::PI] {
        let mut quarter = vec![(x, y)];
        quarter.extend((0..=8).map(|i| {
            let a = from + std::f64::consts::FRAC_PI_2 * f64::from(i) / 8.0;
            (x + r * a.cos(), y - r * a.sin())
        }));
        svg.polygon(&quarter, Fill::Colour(INK), None);
    }
    svg.circle((x, y), r, Fill::None, Some(Pen::ink(0.9)));
}

/// Figures of the legs to both sides of the side view, tied to their legs. Gives where they end.
fn leg_notes(
    svg: &mut Svg,
    diagram: &SlingDiagram<'_>,
    eyes: &[[f64; 3]],
    at: &dyn Fn(&[f64; 3]) -> At,
    (left, room, top): (f64, f64, f64),
) -> f64 {
    const LINE: f64 = 9.0;
    let hook = at(&[0.0; 3]);
    let mut ends = top;
    // Halves by the legs' own side, evened out so that neither column overflows.
    let mut order: Vec<usize> = (0..eyes.len()).collect();
    order.sort_by(|&a, &b| eyes[a][0].total_cmp(&eyes[b][0]).then(a.cmp(&b)));
    let half = order.len() / 2;
    for (right, group) in [(false, &order[..half]), (true, &order[half..])] {
        let mut group = group.to_vec();
        group.sort_unstable();
        let mut y = top + 4.0;
        for i in group {
            let lines = leg_lines(diagram, i);
            let column = if right { left + room + 6.0 } else { MARGIN };
            let over = diagram.verdict.is_some_and(|v| v.leg_share[i] > 1.0);
            for (k, line) in lines.iter().enumerate() {
                let letter = if k == 0 { SMALL.bold() } else { SMALL };
                let letter =
                    if over && k + 1 == lines.len() { letter.in_colour(OUT) } else { letter };
                svg.text(
                    (column, y + LINE * k as f64),
                    &letter.fitted(line, SIDE_NOTES - 8.0),
                    letter,
                );
            }
            // The number again on its leg, nearer the eye where legs lie behind each other.
            let eye = at(&eyes[i]);
            let along = 0.45 + 0.14 * i as f64;
            let on = (hook.0 + along * (eye.0 - hook.0), hook.1 + along * (eye.1 - hook.1));
            svg.circle(on, 5.2, Fill::Colour(PAPER), Some(Pen::ink(0.7)));
            let number = SMALL.at(Anchor::Middle);
            svg.text((on.0, on.1 + 2.6), &(i + 1).to_string(), number);
            y += LINE * lines.len() as f64 + 7.0;
        }
        ends = ends.max(y - 7.0);
    }
    ends
}

/// What is told of one leg.
fn leg_lines(diagram: &SlingDiagram<'_>, i: usize) -> Vec<String> {
    let leg = &diagram.hang.legs[i];
    let mut lines = vec![format!("leg {}: {:.1}° to plumb", i + 1, leg.angle_rad.to_degrees())];
    lines.push(format!("{} long", mm(diagram.legs[i].length_m)));
    if leg.gap_m > 1e-6 {
        lines.push(format!("slack by {}", mm(leg.gap_m)));
    }
    let t = leg.tension;
    if t.most_n - t.least_n > 1e-3 * diagram.hang.weight_n {
        lines.push(format!("evenly {}", force(t.even_n)));
        lines.push(format!("up to {}", force(t.most_n)));
    } else {
        lines.push(force(t.even_n));
    }
    if let Some(verdict) = diagram.verdict {
        let share = verdict.leg_share[i];
        let word = if share > 1.0 { "OVER: " } else { "" };
        lines.push(format!("{word}{:.0} % of its rating", 100.0 * share));
    }
    lines
}

/// What is told of the whole, and whether it is a warning.
fn told(diagram: &SlingDiagram<'_>) -> Vec<(String, bool)> {
    let hang = diagram.hang;
    let [hx, hy, _] = hang.hook_m;
    let lower = |lean: f64, plus: &str, minus: &str| {
        let deg = lean.to_degrees();
        if deg.abs() < 0.05 {
            String::new()
        } else {
            format!(", {} side {:.1}° low", if deg > 0.0 { plus } else { minus }, deg.abs())
        }
    };
    let mut lines = vec![(
        format!(
            "Hangs {:.1}° from how it sits{}{}. Hook {} along (x) and {} across (y) from the part's \
             datum, {} over its balance point.",
            hang.tilt_rad.to_degrees(),
            lower(hang.lean_rad[0], "right", "left"),
            lower(hang.lean_rad[1], "far", "near"),
            mm(hx),
            mm(hy),
            mm(hang.drop_m)
        ),
        false,
    )];
    if hang.above_eyes_m > 0.0 {
        let above = mm(hang.above_eyes_m);
        lines.push((
            format!("The balance point lies {above} above the eyes: a leg lost turns it over."),
            true,
        ));
    }
    if let Some(four) = &hang.four {
        lines.push((
            format!(
                "Four legs: statics cannot tell which carry. On three evenly {}, on two {} each.",
                force(four.on_three_n),
                force(four.on_two_n)
            ),
            false,
        ));
    }
    let slack = |f: &GearFinding| match f {
        GearFinding::OverIfOthersSlack { share, .. } => Some(*share),
        _ => None,
    };
    let findings = diagram.verdict.map_or(&[][..], |v| &v.findings);
    if let Some(share) = findings.iter().filter_map(slack).reduce(f64::max) {
        lines.push((
            format!(
                "If others hang slack a leg carries up to {:.0} % of its rating: see that all four \
                 take load.",
                100.0 * share
            ),
            true,
        ));
    }
    if let Some(verdict) = diagram.verdict {
        let basis = match verdict.basis {
            ModeBasis::AllLegs => "mode factor of all legs",
            ModeBasis::OneLegInDoubt => "legs unlike: one leg counted, in doubt",
        };
        let by_mode = match verdict.mode_share {
            Some(share) => format!("{:.0} % of the rating ({basis})", 100.0 * share),
            None => "no rating holds: a leg is over 60° from plumb".to_owned(),
        };
        let most = verdict.leg_share.iter().copied().fold(0.0, f64::max);
        lines.push((
            format!("By statics {:.0} % of the rating at the worst leg; by the standards' tables {by_mode}.", 100.0 * most),
            !(verdict.within_by_mode && verdict.within_by_statics),
        ));
    }
    lines
}
