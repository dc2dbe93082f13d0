//! Polar diagram of a crank pin's load.

use super::axes::round_step;
use super::style::DrawnUnit;
use super::svg::{Anchor, FAINT, INK, PALE, PAPER, Pen, RED, Svg};
use super::{DrawingError, DrawingStyle};
use mechanics::loads::{LoadError, PinPolar, PolarPoint};

/// Load of one crank pin through a revolution, twice: on the pin (crank pointing up the page) and
/// on the brasses (rod pointing to the right). Every thirtieth degree of the wheel angle is marked.
///
/// Each curve shows where the load presses: its distance from the middle is the load, its
/// direction the side of the pin or brass that is pressed.
///
/// # Errors
/// A diagram without points or with loads that are no numbers.
pub fn polar_plot(
    polar: &PinPolar,
    name: &str,
    style: &DrawingStyle,
) -> Result<String, DrawingError> {
    style.check()?;
    let count = polar.points.len();
    if count == 0 {
        let what = "points of the polar diagram";
        return Err(LoadError::Count { what, count, low: 1, high: 2_000_000 }.into());
    }
    let text = style.text;
    let panel = 0.5 * style.width;
    let radius = 0.5 * panel - 3.4 * text;
    let top = 5.2 * text;
    let centre_y = top + radius + 1.6 * text;
    let unit = style.units.force();
    let step = round_step((polar.greatest_n * unit.per_si).max(1e-3), 4.0);
    let rings = (polar.greatest_n * unit.per_si / step).ceil().max(1.0);
    let scale = radius / (rings * step / unit.per_si);

    let mut svg = Svg::new("the polar diagram", style);
    let title = format!("Crank-pin load, {name}");
    svg.sized_label((1.2 * text, 1.1 * text), Anchor::Start, 1.15, &title);
    let facts = format!(
        "greatest {} at wheel angle {:.1}°, mean {}; numbers are wheel angles in degrees",
        unit.say(polar.greatest_n),
        polar.greatest_at_rad.to_degrees(),
        unit.say(polar.mean_n)
    );
    svg.sized_label((1.2 * text, 2.6 * text), Anchor::Start, 0.9, &facts);

    // On the pin: the load pushes the pin, so the side pressed is the one it comes from.
    let on_pin = |p: &PolarPoint| (-p.pin_forward_n, p.pin_outward_n);
    // On the brasses: pressed where the load goes; the rod points right, the outer brass is left.
    let on_brass = |p: &PolarPoint| (-p.brass_outer_n, -p.brass_up_n);
    let ruled = Rings { step, count: rings as usize, scale, unit };
    panel_of(&mut svg, (0.5 * panel, centre_y), &ruled, polar, &on_pin);
    panel_of(&mut svg, (1.5 * panel, centre_y), &ruled, polar, &on_brass);

    let label = |svg: &mut Svg, x: f64, y: f64, anchor, words: &str| {
        svg.patch_label((x, y), anchor, 0.85, words);
    };
    let (left, right) = (0.5 * panel, 1.5 * panel);
    label(
        &mut svg,
        left,
        centre_y - radius - 0.9 * text,
        Anchor::Middle,
        "outward, away from the axle",
    );
    label(
        &mut svg,
        left,
        centre_y + radius + 0.9 * text,
        Anchor::Middle,
        "on the pin (crank up the page)",
    );
    label(&mut svg, right, centre_y - radius - 0.9 * text, Anchor::Middle, "upper side");
    label(
        &mut svg,
        right,
        centre_y + radius + 0.9 * text,
        Anchor::Middle,
        "on the brasses (rod to the right)",
    );
    svg.finish(style.width, centre_y + radius + 2.4 * text, &title)
}

/// Rings of equal load.
struct Rings {
    /// Between two of them, in the picture's unit.
    step: f64,
    count: usize,
    /// Page units for a newton.
    scale: f64,
    unit: DrawnUnit,
}

impl Rings {
    /// Radius of one on the page.
    fn radius(&self, i: usize) -> f64 {
        i as f64 * self.step / self.unit.per_si * self.scale
    }
}

fn panel_of(
    svg: &mut Svg,
    centre: (f64, f64),
    rings: &Rings,
    polar: &PinPolar,
    direction: &dyn Fn(&PolarPoint) -> (f64, f64),
) {
    let text = svg.text_height();
    let (count, scale) = (rings.count, rings.scale);
    for i in 1..=count {
        let r = rings.radius(i);
        svg.circle(centre, r, Pen::line(if i == count { FAINT } else { PALE }, 0.9));
    }
    let far = rings.radius(count);
    svg.line((centre.0 - far, centre.1), (centre.0 + far, centre.1), Pen::line(PALE, 0.9));
    svg.line((centre.0, centre.1 - far), (centre.0, centre.1 + far), Pen::line(PALE, 0.9));

    let page = |p: &PolarPoint| {
        let (x, y) = direction(p);
        (centre.0 + x * scale, centre.1 + y * scale)
    };
    let mut points: Vec<_> = polar.points.iter().map(page).collect();
    points.push(points[0]);
    svg.polyline(&points, Pen::line(RED, 1.8));
    svg.circle(centre, 3.0, Pen::shape(INK, 1.0, INK));
    // Numbers of the rings along a line between the axes, then the angles.
    for i in 1..=count {
        let r = rings.radius(i) * std::f64::consts::FRAC_1_SQRT_2;
        let words = format!("{} {}", super::svg::number(i as f64 * rings.step), rings.unit.name);
        svg.patch_label((centre.0 + r, centre.1 + r), Anchor::Middle, 0.65, &words);
    }
    let n = polar.points.len();
    let dots: Vec<_> = (0..12).map(|k| page(&polar.points[k * n / 12])).collect();
    let mut taken: Vec<(f64, f64)> = dots.clone();
    for (k, p) in dots.iter().enumerate() {
        svg.circle(*p, 2.6, Pen::shape(RED, 1.0, PAPER));
        let outward = (p.1 - centre.1).atan2(p.0 - centre.0);
        let at = free_place(*p, outward, text, &taken);
        taken.push(at);
        if 1.3 * text < (at.0 - p.0).hypot(at.1 - p.1) {
            svg.line(*p, at, Pen::line(FAINT, 0.6));
        }
        svg.patch_label(at, Anchor::Middle, 0.65, &format!("{}", 30 * k));
    }
}

/// A place for a number near its point: outward first, then to the sides, then further off, the
/// first that is clear of what stands there already (or the last one tried).
fn free_place(p: (f64, f64), outward: f64, text: f64, taken: &[(f64, f64)]) -> (f64, f64) {
    const TURNS: [f64; 7] = [0.0, 0.9, -0.9, 1.6, -1.6, 2.4, -2.4];
    let mut at = p;
    for far in [1.0, 1.8, 2.6, 3.4] {
        for turn in TURNS {
            let a = outward + turn;
            at = (p.0 + far * text * a.cos(), p.1 + far * text * a.sin());
            let clear = taken
                .iter()
                .all(|t| 1.4 * text < (t.0 - at.0).abs() || 0.75 * text < (t.1 - at.1).abs());
            if clear {
                return at;
            }
        }
    }
    at
}
