//! Side view of one cylinder's motion at a position of the wheels.

use super::svg::{Anchor, DARK, FAINT, INK, METAL, Moves, PALE, PAPER, Pen, RED, Svg};
use super::{CylinderBody, DrawingError, DrawingStyle, DrawnUnits};
use mechanics::motion::{Bound, CylinderNo, CylinderState, Motion, Running, WheelAngle};

/// What a side view shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideView {
    /// Cylinder drawn in full; the others appear as centre lines.
    pub cylinder: CylinderNo,
    /// Its parts.
    pub body: CylinderBody,
    /// Driving tyre diameter, m.
    pub tyre_diameter_m: f64,
    /// Position of the wheels.
    pub wheel: WheelAngle,
}

/// Side view in true proportion, seen from the right-hand side of the engine (front to the right).
///
/// One cylinder is drawn in full with both covers and the clearance at each, the other cranks and
/// rods as thin centre lines, so that inside motion can be read like outside motion.
///
/// # Errors
/// A size out of range; no cylinder of that number.
pub fn side_view(
    motion: &Motion,
    running: &Running,
    view: &SideView,
    style: &DrawingStyle,
) -> Result<String, DrawingError> {
    const TYRE: Bound = Bound::new("tyre diameter", "m", 0.3, 3.0);
    style.check()?;
    view.body.check()?;
    let radius = 0.5 * TYRE.check(view.tyre_diameter_m)?;
    let line = motion.line(view.cylinder)?;
    let states = motion.at(view.wheel, running)?;
    let state = motion.cylinder_at(view.cylinder, view.wheel, running)?;
    let body = &view.body;

    let line_place = LinePlace {
        sin: line.incline_rad.sin(),
        cos: line.incline_rad.cos(),
        offset_m: line.offset_m,
    };
    // Room on the page: from behind the wheel to in front of the cylinder, rail to the highest.
    let text = style.text;
    let margin = 1.2 * text;
    let front_end = line_place.at(body.front_cover_m + 0.12, 0.6 * body.bore_m);
    let front_foot = line_place.at(body.front_cover_m + 0.12, -0.6 * body.bore_m);
    // Behind the wheel there is room for the name of the back dead centre.
    let left = -(radius + 0.13);
    let right = front_end.0.max(front_foot.0).max(radius);
    let top = (1.04 * radius).max(front_end.1 + 0.04);
    let scale = (style.width - 2.0 * margin) / (right - left);
    let head = 5.6 * text;
    let foot = 2.2 * text;
    let height = head + (top + radius) * scale + foot;
    let page = Page { scale, x0: margin - left * scale, y0: head + top * scale };

    let mut svg = Svg::new("the side view", style);
    let own = view.cylinder.0;
    let mut marked = Ok(());
    svg.placed((page.x0, page.y0), scale, |svg| {
        wheel_and_rail(svg, &page, radius, left, right, &state);
        cylinder(svg, &page, &line_place, body);
        marked = slide_bars(svg, &page, &line_place, motion, running, view);
        svg.moving(Moves::Piston, own, |svg| piston(svg, &page, &line_place, body, &state));
        svg.moving(Moves::Crank, own, |svg| crank_web(svg, &page, body, &state));
        svg.moving(Moves::Rod, own, |svg| rod(svg, &page, body, &state));
        svg.moving(Moves::Crank, own, |svg| crank_centres(svg, &page, body, &state));
        svg.moving(Moves::Not, own, |svg| clearances(svg, &page, &line_place, body, &state, style));
        if marked.is_ok() {
            marked = marks(svg, &page, motion, running, view);
        }
        others(svg, &page, &states, view.cylinder);
        scale_bar(svg, &page, style, height);
        captions(svg, style, &state, view, height);
    });
    marked?;
    svg.finish(style.width, height, &title(&state))
}

/// From the engine frame to the page.
struct Page {
    scale: f64,
    x0: f64,
    y0: f64,
}

impl Page {
    fn at(&self, (x, z): (f64, f64)) -> (f64, f64) {
        (self.x0 + x * self.scale, self.y0 - z * self.scale)
    }

    fn point(&self, p: mechanics::motion::PointXz) -> (f64, f64) {
        self.at((p.x_m, p.z_m))
    }
}

/// From the cylinder line to the engine frame: along it from the foot of the axle centre, and
/// upward from it.
struct LinePlace {
    sin: f64,
    cos: f64,
    offset_m: f64,
}

impl LinePlace {
    fn at(&self, s: f64, up: f64) -> (f64, f64) {
        let w = self.offset_m + up;
        (s * self.cos - w * self.sin, s * self.sin + w * self.cos)
    }

    fn block(&self, page: &Page, s: (f64, f64), up: (f64, f64)) -> [(f64, f64); 4] {
        [
            page.at(self.at(s.0, up.0)),
            page.at(self.at(s.1, up.0)),
            page.at(self.at(s.1, up.1)),
            page.at(self.at(s.0, up.1)),
        ]
    }
}

fn wheel_and_rail(
    svg: &mut Svg,
    page: &Page,
    radius: f64,
    left: f64,
    right: f64,
    state: &CylinderState,
) {
    let axle = page.point(state.axle_centre);
    let rail = page.at((0.0, state.axle_centre.z_m - radius)).1;
    let (x1, x2) = (page.at((left, 0.0)).0, page.at((right, 0.0)).0);
    svg.line((x1, rail), (x2, rail), Pen::line(INK, 2.5));
    svg.circle(axle, radius * page.scale, Pen::line(INK, 1.6));
    svg.circle(axle, 0.92 * radius * page.scale, Pen::line(FAINT, 0.8));
}

/// Centre lines of the other cylinders, over everything so that none is hidden.
fn others(svg: &mut Svg, page: &Page, states: &[CylinderState], drawn: CylinderNo) {
    for (i, s) in states.iter().enumerate() {
        if i == drawn.0 {
            continue;
        }
        let pen = Pen::line(DARK, 1.1).dashed("7 4");
        let (axle, pin, head) =
            (page.point(s.axle_centre), page.point(s.crank_pin), page.point(s.crosshead_pin));
        let end = Pen::shape(DARK, 1.2, PAPER);
        svg.moving(Moves::Crank, i, |svg| svg.line(axle, pin, pen));
        svg.moving(Moves::Rod, i, |svg| {
            svg.line(pin, head, pen);
            svg.circle(pin, 4.0, end);
            svg.circle(head, 4.0, end);
        });
        // The name stands over or under the pin, away from the axle; with the crank level, on the
        // side where this cylinder's own crank is not. It reaches inward, so as to stay in the wheel.
        let (dx, dy) = (pin.0 - axle.0, pin.1 - axle.1);
        let length = dx.hypot(dy).max(1e-9);
        let text = svg.text_height();
        let level = dy.abs() < 0.35 * length;
        let own = page.point(states[drawn.0].crank_pin).1 - axle.1;
        let down = if level { own <= 0.0 } else { 0.0 < dy };
        let inward = 0.9 * text;
        let (anchor, x) = if level || dx.abs() < 0.4 * length {
            (Anchor::Middle, pin.0)
        } else if 0.0 < dx {
            (Anchor::End, pin.0 + inward)
        } else {
            (Anchor::Start, pin.0 - inward)
        };
        let at = (x, pin.1 + if down { 1.1 * text } else { -1.1 * text });
        let name = s.place.words();
        svg.moving(Moves::Not, i, |svg| svg.halo_label(at, anchor, 0.8, name));
    }
}

fn cylinder(svg: &mut Svg, page: &Page, line: &LinePlace, body: &CylinderBody) {
    let wall = 0.07 * body.bore_m;
    let half = 0.5 * body.bore_m;
    let (back, front) = (body.back_cover_m, body.front_cover_m);
    let cover = 0.10 * body.bore_m;
    let iron = Pen::shape(INK, 1.2, METAL);
    svg.polygon(&line.block(page, (back, front), (-half, half)), Pen::shape(INK, 0.8, PAPER));
    for up in [(half, half + wall), (-half - wall, -half)] {
        svg.polygon(&line.block(page, (back - 0.5 * cover, front + 0.5 * cover), up), iron);
    }
    let tall = half + 1.6 * wall;
    svg.polygon(&line.block(page, (front, front + cover), (-tall, tall)), iron);
    // The back cover in two halves round the piston rod and its gland.
    let rod = 0.5 * body.piston_rod_m;
    for up in [(rod, tall), (-tall, -rod)] {
        svg.polygon(&line.block(page, (back - cover, back), up), iron);
    }
    let gland = 2.2 * rod;
    for up in [(rod, gland), (-gland, -rod)] {
        svg.polygon(&line.block(page, (back - 2.4 * cover, back - cover), up), iron);
    }
}

fn slide_bars(
    svg: &mut Svg,
    page: &Page,
    line: &LinePlace,
    motion: &Motion,
    running: &Running,
    view: &SideView,
) -> Result<(), DrawingError> {
    let ends = motion.dead_centres(view.cylinder, &running.axle)?;
    let half = 0.5 * view.body.crosshead_length_m;
    let (from, to) = (ends.back_m - half - 0.03, ends.front_m + half + 0.03);
    let (apart, thick) = (0.5 * view.body.bars_apart_m, 0.10 * view.body.bore_m);
    for up in [(apart, apart + thick), (-apart - thick, -apart)] {
        svg.polygon(&line.block(page, (from, to), up), Pen::shape(INK, 1.0, PALE));
    }
    Ok(())
}

fn piston(
    svg: &mut Svg,
    page: &Page,
    line: &LinePlace,
    body: &CylinderBody,
    state: &CylinderState,
) {
    let pin = state.crosshead_m;
    let face = pin + body.pin_to_piston_m;
    let rod = 0.5 * body.piston_rod_m;
    svg.polygon(
        &line.block(page, (pin + 0.3 * body.crosshead_length_m, face), (-rod, rod)),
        Pen::shape(INK, 1.0, METAL),
    );
    let half = 0.497 * body.bore_m;
    svg.polygon(
        &line.block(page, (face, face + body.piston_thickness_m), (-half, half)),
        Pen::shape(INK, 1.4, RED),
    );
    let (long, deep) = (0.5 * body.crosshead_length_m, 0.5 * body.bars_apart_m);
    let block = [
        line.at(pin - long, -deep),
        line.at(pin + long, -deep),
        line.at(pin + long, -0.7 * deep),
        line.at(pin + 0.7 * long, -1.3 * rod),
        line.at(pin + 0.7 * long, 1.3 * rod),
        line.at(pin + long, 0.7 * deep),
        line.at(pin + long, deep),
        line.at(pin - long, deep),
        line.at(pin - long, 0.7 * deep),
        line.at(pin - 0.5 * long, 0.45 * deep),
        line.at(pin - 0.5 * long, -0.45 * deep),
        line.at(pin - long, -0.7 * deep),
    ]
    .map(|p| page.at(p));
    svg.polygon(&block, Pen::shape(INK, 1.2, METAL));
}

fn rod(svg: &mut Svg, page: &Page, body: &CylinderBody, state: &CylinderState) {
    let (big, small) = (page.point(state.crank_pin), page.point(state.crosshead_pin));
    let (dx, dy) = (small.0 - big.0, small.1 - big.1);
    let length = dx.hypot(dy).max(1e-9);
    let across = (-dy / length, dx / length);
    let (deep, thin) = (0.55 * body.rod_depth_m * page.scale, 0.42 * body.rod_depth_m * page.scale);
    let side = |p: (f64, f64), h: f64| (p.0 + across.0 * h, p.1 + across.1 * h);
    let shank = [side(big, deep), side(small, thin), side(small, -thin), side(big, -deep)];
    svg.polygon(&shank, Pen::shape(INK, 1.3, PALE));
    svg.circle(big, 0.5 * body.big_end_m * page.scale, Pen::shape(INK, 1.4, PALE));
    svg.circle(small, 0.5 * body.small_end_m * page.scale, Pen::shape(INK, 1.4, PALE));
    svg.circle(small, 0.24 * body.small_end_m * page.scale, Pen::shape(INK, 1.2, PAPER));
    svg.line(big, small, Pen::line(INK, 0.7).dashed("10 3 2 3"));
}

/// The far web with its bosses; the rod comes over it.
fn crank_web(svg: &mut Svg, page: &Page, body: &CylinderBody, state: &CylinderState) {
    let (axle, pin) = (page.point(state.axle_centre), page.point(state.crank_pin));
    let (wide, narrow) = (0.72 * body.axle_m * page.scale, 0.72 * body.crank_pin_m * page.scale);
    let (dx, dy) = (pin.0 - axle.0, pin.1 - axle.1);
    let length = dx.hypot(dy).max(1e-9);
    let across = (-dy / length, dx / length);
    let side = |p: (f64, f64), h: f64| (p.0 + across.0 * h, p.1 + across.1 * h);
    let pen = Pen::shape(INK, 1.2, METAL);
    svg.circle(axle, wide, pen);
    svg.circle(pin, narrow, pen);
    svg.polygon(
        &[side(axle, wide), side(pin, narrow), side(pin, -narrow), side(axle, -wide)],
        Pen { stroke: METAL, ..pen },
    );
    for sign in [1.0, -1.0] {
        svg.line(side(axle, sign * wide), side(pin, sign * narrow), Pen::line(INK, 1.2));
    }
    svg.circle(axle, 0.5 * body.axle_m * page.scale, Pen::shape(INK, 1.4, PALE));
}

fn crank_centres(svg: &mut Svg, page: &Page, body: &CylinderBody, state: &CylinderState) {
    let (axle, pin) = (page.point(state.axle_centre), page.point(state.crank_pin));
    svg.circle(pin, 0.5 * body.crank_pin_m * page.scale, Pen::shape(INK, 1.6, PAPER));
    svg.line(axle, pin, Pen::line(RED, 2.4));
    for p in [axle, pin] {
        svg.circle(p, 3.2, Pen::shape(RED, 1.0, RED));
    }
}

/// A round length in the foot of the picture, where no part of the engine is.
fn scale_bar(svg: &mut Svg, page: &Page, style: &DrawingStyle, height: f64) {
    const METRIC: [(f64, &str); 4] = [(1.0, "1 m"), (0.5, "0.5 m"), (0.2, "0.2 m"), (0.1, "0.1 m")];
    const IMPERIAL: [(f64, &str); 4] =
        [(0.9144, "3 ft"), (0.6096, "2 ft"), (0.3048, "1 ft"), (0.1524, "6 in")];
    let text = style.text;
    let lengths = match style.units {
        DrawnUnits::Metric => METRIC,
        DrawnUnits::Imperial => IMPERIAL,
    };
    let room = 0.24 * style.width;
    let (length, name) =
        lengths.into_iter().find(|(m, _)| m * page.scale <= room).unwrap_or(lengths[3]);
    let (a, y) = (4.8 * text, height - text);
    let b = a + length * page.scale;
    svg.line((a, y), (b, y), Pen::line(INK, 1.0));
    for x in [a, b] {
        svg.line((x, y - 0.35 * text), (x, y + 0.35 * text), Pen::line(INK, 1.0));
    }
    svg.patch_label((0.5 * (a + b), y), Anchor::Middle, 0.8, name);
}

fn clearances(
    svg: &mut Svg,
    page: &Page,
    line: &LinePlace,
    body: &CylinderBody,
    state: &CylinderState,
    style: &DrawingStyle,
) {
    let unit = style.units.length();
    let face = state.crosshead_m + body.pin_to_piston_m;
    let front = body.front_cover_m - face - body.piston_thickness_m;
    let back = face - body.back_cover_m;
    // Two dimension lines under the cylinder, each from the piston to its cover.
    let under = -0.72 * body.bore_m;
    let piston_front = face + body.piston_thickness_m;
    let spans = [
        (body.back_cover_m, face, back, "back"),
        (piston_front, body.front_cover_m, front, "front"),
    ];
    let text = svg.text_height();
    let lowest = [body.back_cover_m, body.front_cover_m]
        .map(|s| page.at(line.at(s, under)).1)
        .into_iter()
        .fold(f64::NEG_INFINITY, f64::max);
    for (row, (from, to, gap, name)) in spans.into_iter().rev().enumerate() {
        let (a, b) = (page.at(line.at(from, under)), page.at(line.at(to, under)));
        for (s, p) in [(from, a), (to, b)] {
            let edge = page.at(line.at(s, -0.5 * body.bore_m));
            svg.line(edge, p, Pen::line(INK, 0.6));
        }
        svg.line(a, b, Pen::line(INK, 1.0));
        let along = (b.1 - a.1).atan2(b.0 - a.0);
        if 22.0 < (b.0 - a.0).hypot(b.1 - a.1) {
            svg.arrow_head(b, along, 8.0);
            svg.arrow_head(a, along + std::f64::consts::PI, 8.0);
        }
        // Front over back under the cylinder, each at its own end, so that they never meet.
        let (cover, anchor) = if name == "back" {
            (body.back_cover_m, Anchor::Start)
        } else {
            (body.front_cover_m, Anchor::End)
        };
        let x = page.at(line.at(cover, under)).0;
        let y = lowest + (1.1 + 1.3 * row as f64) * text;
        svg.sized_label((x, y), anchor, 0.95, &format!("{name} {}", unit.say(gap)));
    }
}

fn marks(
    svg: &mut Svg,
    page: &Page,
    motion: &Motion,
    running: &Running,
    view: &SideView,
) -> Result<(), DrawingError> {
    // Both dead centres of this crank on the wheel's rim.
    let state = motion.cylinder_at(view.cylinder, view.wheel, running)?;
    let line = motion.line(view.cylinder)?;
    let ends = motion.dead_centres(view.cylinder, &running.axle)?;
    let axle = page.point(state.axle_centre);
    let tread = 0.5 * view.tyre_diameter_m * page.scale;
    let text = svg.text_height();
    for (crank, name) in [(ends.front_crank_rad, "FDC"), (ends.back_crank_rad, "BDC")] {
        // On the page, clockwise from the right, the crank stands at its absolute angle.
        let a = crank - line.incline_rad;
        let at = |r: f64| (axle.0 + r * a.cos(), axle.1 + r * a.sin());
        svg.line(at(0.92 * tread), at(tread + 0.4 * text), Pen::line(INK, 1.8));
        // Above its mark, where the rod is only while the crank is near it.
        let mark = at(tread);
        let (anchor, dx) =
            if name == "FDC" { (Anchor::Start, 0.5 * text) } else { (Anchor::End, -0.5 * text) };
        svg.sized_label((mark.0 + dx, mark.1 - 0.9 * text), anchor, 0.8, name);
    }
    // The way from front dead centre to the crank, forward.
    let from = ends.front_crank_rad - line.incline_rad;
    let past = state.past_front_dead_centre_rad;
    // Between the sweep of the big end and the tyre.
    let sweep = (line.crank_throw_m + 0.5 * view.body.big_end_m) * page.scale;
    let r = 0.5 * (sweep + 0.92 * tread).min(1.84 * tread);
    if 0.02 < past {
        svg.moving(Moves::Not, view.cylinder.0, |svg| {
            svg.arc(axle, r, from, from + past, Pen::line(INK, 1.0));
            let to = from + past;
            let tip = (axle.0 + r * to.cos(), axle.1 + r * to.sin());
            svg.arrow_head(tip, to + std::f64::consts::FRAC_PI_2, 10.0);
        });
    }
    Ok(())
}

fn captions(
    svg: &mut Svg,
    style: &DrawingStyle,
    state: &CylinderState,
    view: &SideView,
    height: f64,
) {
    let text = style.text;
    let unit = style.units.length();
    let past = state.past_front_dead_centre_rad.to_degrees();
    let lines = [
        format!("{}, wheel angle {:.1}°", title(state), view.wheel.folded().deg()),
        format!(
            "crank {past:.1}° past front dead centre; rod {:.2}° to the line; tyre {}",
            // A hair below nothing is nothing.
            if state.rod_angle_rad.abs() < 8e-5 { 0.0 } else { state.rod_angle_rad.to_degrees() },
            unit.say(view.tyre_diameter_m)
        ),
        format!(
            "crosshead {} back from the front end of its stroke of {} ({:.1} %)",
            unit.say(state.from_front_m),
            unit.say(state.stroke_m),
            100.0 * state.from_front_share.clamp(0.0, 1.0)
        ),
    ];
    svg.moving(Moves::Not, view.cylinder.0, |svg| {
        for (i, line) in lines.iter().enumerate() {
            let size = if i == 0 { 1.15 } else { 0.95 };
            let y = text * (1.1 + 1.45 * i as f64);
            svg.sized_label((1.2 * text, y), Anchor::Start, size, line);
        }
    });
    let y = height - text;
    svg.sized_label((1.2 * text, y), Anchor::Start, 0.8, "back");
    svg.sized_label((style.width - 3.2 * text, y), Anchor::End, 0.8, "front");
    svg.line((style.width - 2.9 * text, y), (style.width - 1.2 * text, y), Pen::line(INK, 1.2));
    svg.arrow_head((style.width - 1.0 * text, y), 0.0, 9.0);
    svg.sized_label((0.56 * style.width, y), Anchor::Middle, 0.8, "seen from the right-hand side");
}

fn title(state: &CylinderState) -> String {
    format!("Motion of the {} cylinder", state.place.words())
}
