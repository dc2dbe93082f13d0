//! A fitted bolt to take to the lathe: every land with its band, numbered to its hole.

use crate::DrawingError;
use crate::error::length;
use crate::lettering::wrapped;
use crate::svg::{
    Anchor, At, Dash, Fill, GREY, INK, Lettering, PALE, Pen, Picture, Svg, arrow_head,
};
use mechanics::bolt::{BoltDesign, Head, Land, LandRole, Security};

/// What stands on the drawing beside the bolt itself.
#[derive(Clone, Debug)]
pub struct BoltDrawing<'a> {
    /// The bolt.
    pub bolt: &'a BoltDesign,
    /// Engine and joint.
    pub title: String,
    /// Material.
    pub material: String,
    /// Names of the members, head side first.
    pub members: &'a [String],
    /// Size to which its holes are reamed first (m); `None` when they stay as gauged.
    pub reamed_m: Option<f64>,
    /// Day.
    pub day: String,
}

const WIDTH: f64 = 770.0;
const LEFT: f64 = 40.0;
const TEXT: Lettering = Lettering::new(8.5);
const SMALL: Lettering = Lettering::new(7.5);
const LINE: Pen = Pen::ink(1.1);
const THIN: Pen = Pen::ink(0.5);

/// Draws one bolt.
///
/// Lengths and diameters are to one scale; the differences between lands are drawn larger, and the
/// drawing says by how much.
///
/// # Errors
/// A size that is not finite or cannot be drawn.
pub fn bolt_drawing(d: &BoltDrawing<'_>) -> Result<Picture, DrawingError> {
    let bolt = d.bolt;
    for land in &bolt.lands {
        for (what, m) in [
            ("a land's diameter", land.diameter_min_m),
            ("a land's diameter", land.diameter_max_m),
            ("a land's place", land.from_m),
            ("a land's place", land.to_m),
        ] {
            length(what, m)?;
        }
    }
    if bolt.lands.is_empty() {
        return Err(DrawingError::Nothing { what: "the bolt has no lands" });
    }
    let (head_m, head_width_m) = head_size(bolt.head);
    length("the length under the head", bolt.length_under_head_m)?;
    length("the head", head_m + head_width_m)?;
    let widest = bolt.lands.iter().map(|l| l.diameter_max_m).fold(head_width_m, f64::max);
    let scale = ((WIDTH - 2.0 * LEFT - 40.0) / (head_m + bolt.length_under_head_m))
        .min(150.0 / widest.max(1e-4));
    let mut svg = Svg::new(WIDTH, 560.0);
    let axis = 178.0;
    let x = |m: f64| LEFT + 20.0 + (head_m + m) * scale;
    // The smallest land is drawn to scale and the others larger by the steps, drawn out.
    let smallest = bolt.lands.iter().map(Land::middle_m).fold(f64::INFINITY, f64::min);
    let largest = bolt.lands.iter().map(Land::middle_m).fold(0.0, f64::max);
    let step = largest - smallest;
    let out = if step > 1e-9 { (7.0 / (step * scale)).clamp(1.0, 200.0) } else { 1.0 };
    let half = |m: f64| 0.5 * scale * (smallest + (m - smallest) * out);
    head(&mut svg, bolt.head, (x(-head_m), axis), scale, half(smallest));
    thread(
        &mut svg,
        bolt,
        (x(bolt.length_under_head_m - bolt.thread.length_m), x(bolt.length_under_head_m)),
        axis,
        scale,
    );
    let neck = 0.5 * scale * bolt.thread.major_m;
    let grip = x(bolt.grip_m);
    let thread_from = x(bolt.length_under_head_m - bolt.thread.length_m);
    if thread_from > grip + 0.1 {
        svg.polygon(
            &[
                (grip, axis - neck),
                (thread_from, axis - neck),
                (thread_from, axis + neck),
                (grip, axis + neck),
            ],
            Fill::None,
            Some(LINE),
        );
    }
    for land in &bolt.lands {
        draw_land(&mut svg, land, axis, &x, half(land.middle_m()), bolt.lead_m * scale);
    }
    svg.line(
        (x(-head_m) - 12.0, axis),
        (x(bolt.length_under_head_m) + 12.0, axis),
        Pen::grey(0.5).dashed(Dash::Axis),
    );
    diameters(&mut svg, d, axis, &x, &half);
    lengths(&mut svg, d, axis, &x);
    stamp(&mut svg, d, (x(-head_m), axis), head_width_m * scale);
    let y = table(&mut svg, d, 318.0);
    let y = notes(&mut svg, d, y + 24.0, out);
    let bottom = title_block(&mut svg, d, y + 12.0);
    svg.set_height(bottom + 14.0);
    let title = format!("bolt {} of {}", bolt.hole_number, d.title);
    let description = format!(
        "{title}: {} lands, {:.1} mm under the head, made to hole {} only",
        bolt.lands.iter().filter(|l| l.role == LandRole::Fitted).count(),
        1e3 * bolt.length_under_head_m,
        bolt.hole_number
    );
    svg.finish(&title, &description)
}

fn head_size(head: Head) -> (f64, f64) {
    match head {
        Head::Hexagon { across_m, height_m } => (height_m, across_m / 0.866_025_4),
        Head::Square { across_m, height_m } => (height_m, across_m),
        Head::Round { diameter_m, height_m } => (height_m, diameter_m),
        Head::Countersunk { diameter_m, angle_rad } => {
            // Drawn as deep as its cone goes to a third of its diameter.
            ((diameter_m / 3.0) / (0.5 * angle_rad).tan().max(0.1), diameter_m)
        }
    }
}

fn head(svg: &mut Svg, head: Head, at: At, scale: f64, shank_half: f64) {
    let (height, width) = head_size(head);
    let (h, w) = (height * scale, 0.5 * width * scale);
    let (x, y) = at;
    match head {
        Head::Countersunk { .. } => svg.polygon(
            &[(x, y - w), (x, y + w), (x + h, y + shank_half), (x + h, y - shank_half)],
            Fill::None,
            Some(LINE),
        ),
        Head::Hexagon { .. } => {
            let c = 0.12 * h;
            svg.polygon(
                &[
                    (x + c, y - w),
                    (x + h, y - w),
                    (x + h, y + w),
                    (x + c, y + w),
                    (x, y + 0.8 * w),
                    (x, y - 0.8 * w),
                ],
                Fill::None,
                Some(LINE),
            );
            svg.line((x + 0.4 * c, y - 0.5 * w), (x + h, y - 0.5 * w), THIN);
            svg.line((x + 0.4 * c, y + 0.5 * w), (x + h, y + 0.5 * w), THIN);
        }
        _ => svg.rect((x, y - w), h, 2.0 * w, Fill::None, Some(LINE)),
    }
}

fn thread(svg: &mut Svg, bolt: &BoltDesign, (from, to): (f64, f64), axis: f64, scale: f64) {
    let half = 0.5 * bolt.thread.major_m * scale;
    let root = half - 0.6 * bolt.thread.pitch_m * scale;
    let c = (half - root).min(0.3 * (to - from)).max(0.5);
    svg.polygon(
        &[
            (from, axis - half),
            (to - c, axis - half),
            (to, axis - root),
            (to, axis + root),
            (to - c, axis + half),
            (from, axis + half),
        ],
        Fill::None,
        Some(LINE),
    );
    // The thin line of a thread's root, ISO 6410-1 (from memory).
    svg.line((from, axis - root), (to, axis - root), THIN);
    svg.line((from, axis + root), (to, axis + root), THIN);
    svg.line((to - c, axis - half), (to - c, axis + half), LINE);
}

fn draw_land(svg: &mut Svg, land: &Land, axis: f64, x: &dyn Fn(f64) -> f64, half: f64, lead: f64) {
    let (a, b) = (x(land.from_m), x(land.to_m));
    let fitted = land.role == LandRole::Fitted;
    let lead = if fitted { lead.min(0.4 * (b - a)) } else { 0.0 };
    let drop = if fitted { 2.0 } else { 0.0 };
    svg.polygon(
        &[
            (a, axis - half),
            (b - lead, axis - half),
            (b, axis - half + drop),
            (b, axis + half - drop),
            (b - lead, axis + half),
            (a, axis + half),
        ],
        Fill::Colour(if fitted { PALE } else { crate::svg::PAPER }),
        Some(LINE),
    );
}

/// Millimetres to a hundredth, without idle noughts.
fn mm(m: f64) -> String {
    let text = format!("{:.2}", 1e3 * m);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// `50.8 (2.000 in)`.
fn both(m: f64) -> String {
    format!("{} ({:.3} in)", mm(m), m / 25.4e-3)
}

/// Letter of a land.
fn letter(i: usize) -> String {
    match u8::try_from(i).ok().filter(|i| *i < 26) {
        Some(i) => char::from(b'A' + i).to_string(),
        None => format!("L{}", i + 1),
    }
}

fn diameters(
    svg: &mut Svg,
    d: &BoltDrawing<'_>,
    axis: f64,
    x: &dyn Fn(f64) -> f64,
    half: &dyn Fn(f64) -> f64,
) {
    for (i, land) in d.bolt.lands.iter().enumerate() {
        let middle = x(land.middle_of());
        let text = format!(
            "{}  ø {:.3} – {:.3}",
            letter(i),
            1e3 * land.diameter_min_m,
            1e3 * land.diameter_max_m
        );
        let row = if i % 2 == 0 { 52.0 } else { 72.0 };
        let top = axis - half(land.middle_m());
        svg.line((middle, row + 4.0), (middle, top), THIN);
        svg.polygon(&arrow_head((middle, top), (0.0, 1.0), 6.0), Fill::Colour(INK), None);
        svg.label((middle, row), &text, TEXT.bold().at(Anchor::Middle));
    }
    let thread = d.bolt.thread;
    let middle = x(d.bolt.length_under_head_m - 0.5 * thread.length_m);
    let top = axis - 0.5 * thread.major_m * (x(1.0) - x(0.0));
    svg.line((middle, 96.0), (middle, top), THIN);
    svg.label(
        (middle, 92.0),
        &format!("thread ø {}, pitch {:.2}", both(thread.major_m), 1e3 * thread.pitch_m),
        SMALL.at(Anchor::Middle),
    );
}

/// Middle of a land along the bolt.
trait Middle {
    fn middle_of(&self) -> f64;
}

impl Middle for Land {
    fn middle_of(&self) -> f64 {
        0.5 * (self.from_m + self.to_m)
    }
}

fn dimension(svg: &mut Svg, (from, to): (f64, f64), y: f64, text: &str) {
    svg.line((from, y), (to, y), THIN);
    let head = 6.0f64.min(0.4 * (to - from).abs());
    svg.polygon(&arrow_head((from, y), (-1.0, 0.0), head), Fill::Colour(INK), None);
    svg.polygon(&arrow_head((to, y), (1.0, 0.0), head), Fill::Colour(INK), None);
    // A short length has its figure under the line.
    let below = SMALL.width(text) > (to - from).abs() - 14.0;
    let y = if below { y + 11.0 } else { y + 2.8 };
    svg.label((0.5 * (from + to), y), text, SMALL.at(Anchor::Middle));
}

fn lengths(svg: &mut Svg, d: &BoltDrawing<'_>, axis: f64, x: &dyn Fn(f64) -> f64) {
    let bolt = d.bolt;
    let y = axis + 92.0;
    let mut ends = vec![0.0];
    for land in &bolt.lands {
        if (land.to_m - ends[ends.len() - 1]).abs() > 1e-9 {
            ends.push(land.to_m);
        }
    }
    for e in &ends {
        svg.line((x(*e), axis + 50.0), (x(*e), y + 4.0), Pen::grey(0.4));
    }
    for pair in ends.windows(2) {
        dimension(svg, (x(pair[0]), x(pair[1])), y, &both(pair[1] - pair[0]));
    }
    let total = bolt.length_under_head_m;
    let from_thread = total - bolt.thread.length_m;
    svg.line((x(total), axis + 30.0), (x(total), y + 30.0), Pen::grey(0.4));
    svg.line((x(0.0), y), (x(0.0), y + 30.0), Pen::grey(0.4));
    svg.line((x(from_thread), axis + 30.0), (x(from_thread), y + 4.0), Pen::grey(0.4));
    dimension(svg, (x(from_thread), x(total)), y, &both(bolt.thread.length_m));
    dimension(svg, (x(0.0), x(total)), y + 26.0, &format!("{} under the head", both(total)));
}

fn stamp(svg: &mut Svg, d: &BoltDrawing<'_>, (x, axis): At, head_width: f64) {
    let at = (x - 4.0, axis - 0.5 * head_width - 30.0);
    svg.circle((at.0 + 16.0, at.1), 13.0, Fill::None, Some(Pen::ink(1.4)));
    svg.text(
        (at.0 + 16.0, at.1 + 6.0),
        &d.bolt.hole_number.to_string(),
        Lettering::new(17.0).bold().at(Anchor::Middle),
    );
    svg.text(
        (LEFT - 20.0, 30.0),
        &format!("BOLT {}   –   {}", d.bolt.hole_number, d.title),
        Lettering::new(14.0).bold(),
    );
    svg.text((WIDTH - 20.0, 30.0), "millimetres at 20 °C", SMALL.at(Anchor::End));
}

const COLUMNS: [(f64, &str); 7] = [
    (20.0, ""),
    (44.0, "land"),
    (176.0, "from – to under head"),
    (320.0, "ø finish, mm"),
    (440.0, "ø finish, in"),
    (560.0, "interference, mm"),
    (660.0, "finished ø (write in)"),
];

fn table(svg: &mut Svg, d: &BoltDrawing<'_>, top: f64) -> f64 {
    let mut y = top;
    for (x, head) in COLUMNS {
        svg.text((x, y), head, SMALL.bold());
    }
    svg.line((20.0, y + 4.0), (WIDTH - 20.0, y + 4.0), THIN);
    for (i, land) in d.bolt.lands.iter().enumerate() {
        y += 17.0;
        let member = d.members.get(land.member).map_or("", String::as_str);
        let role = match land.role {
            LandRole::Fitted => "fits",
            LandRole::Pilot => "pilot in",
            LandRole::Bridge => "clear of",
        };
        let cells = [
            letter(i),
            TEXT.fitted(&format!("{role} {member}"), 126.0),
            format!(
                "{:.1} – {:.1} ({:.2} – {:.2} in)",
                1e3 * land.from_m,
                1e3 * land.to_m,
                land.from_m / 25.4e-3,
                land.to_m / 25.4e-3
            ),
            format!("{:.3} – {:.3}", 1e3 * land.diameter_min_m, 1e3 * land.diameter_max_m),
            format!("{:.4} – {:.4}", land.diameter_min_m / 25.4e-3, land.diameter_max_m / 25.4e-3),
            format!("{:+.3} to {:+.3}", 1e3 * land.interference_m.0, 1e3 * land.interference_m.1),
        ];
        for ((x, _), cell) in COLUMNS.iter().zip(&cells) {
            svg.text((*x, y), cell, TEXT);
        }
        svg.rect((660.0, y - 10.0), 90.0, 14.0, Fill::None, Some(THIN));
    }
    y
}

fn head_words(head: Head) -> String {
    match head {
        Head::Hexagon { across_m, height_m } => {
            format!("Head hexagon, {} across flats, {} high.", both(across_m), both(height_m))
        }
        Head::Square { across_m, height_m } => {
            format!("Head square, {} across flats, {} high.", both(across_m), both(height_m))
        }
        Head::Round { diameter_m, height_m } => {
            format!("Head round, ø {}, {} high.", both(diameter_m), both(height_m))
        }
        Head::Countersunk { diameter_m, angle_rad } => format!(
            "Head countersunk, ø {}, {:.0}° included.",
            both(diameter_m),
            angle_rad.to_degrees()
        ),
    }
}

fn security_words(security: Security) -> String {
    match security {
        Security::SplitPin { hole_m } => {
            format!("Nut kept by a split pin, hole ø {}.", both(hole_m))
        }
        Security::Cotter { size_m } => format!("Nut kept by a cotter, {} thick.", both(size_m)),
        Security::LockNut => "Nut kept by a lock nut.".to_owned(),
        Security::LockingPlate => "Nut kept by a locking plate.".to_owned(),
        _ => "Nothing but the nut keeps it: only where a competent person accepts that.".to_owned(),
    }
}

fn notes(svg: &mut Svg, d: &BoltDrawing<'_>, top: f64, out: f64) -> f64 {
    let bolt = d.bolt;
    let mut notes = vec![format!(
        "Made to hole {0} only: stamp {0} on the head and beside the hole. Not interchangeable with any other bolt.",
        bolt.hole_number
    )];
    notes.push(format!("{} {}", head_words(bolt.head), security_words(bolt.security)));
    if let Some(m) = d.reamed_m {
        notes.push(format!(
            "Ream the holes in line to {:.3} mm ({:.4} in) first, gauge them, and move each land by what its hole differs from that.",
            1e3 * m,
            m / 25.4e-3
        ));
    }
    notes.push(if bolt.tightens_before_home_m < 0.5 * bolt.grip_m {
        format!(
            "Slides in by hand to {:.1} mm from home, then tightens. Lead {:.1} mm on every land.",
            1e3 * bolt.tightens_before_home_m,
            1e3 * bolt.lead_m
        )
    } else {
        format!(
            "No step: it is driven {:.1} mm to home. Lead {:.1} mm on every land.",
            1e3 * bolt.tightens_before_home_m,
            1e3 * bolt.lead_m
        )
    });
    if out > 1.5 {
        notes.push(format!("Steps between lands are drawn {out:.0} times their size."));
    }
    // The first note says what the first line here says with its number.
    notes.extend(bolt.notes.iter().skip(1).map(|n| (*n).to_owned()));
    let mut y = top;
    for note in notes {
        for line in wrapped(&note, WIDTH - 60.0, SMALL.size) {
            svg.text((30.0, y), &line, SMALL);
            y += 11.0;
        }
    }
    for caution in &bolt.cautions {
        for line in wrapped(&format!("! {caution}"), WIDTH - 60.0, SMALL.size) {
            svg.text((30.0, y), &line, SMALL.bold());
            y += 11.0;
        }
    }
    y
}

fn title_block(svg: &mut Svg, d: &BoltDrawing<'_>, top: f64) -> f64 {
    let cells = [
        (20.0, 90.0, "bolt for hole", d.bolt.hole_number.to_string()),
        (110.0, 150.0, "material", d.material.clone()),
        (260.0, 110.0, "day", d.day.clone()),
        (370.0, 130.0, "made by", String::new()),
        (500.0, 130.0, "gauged by", String::new()),
        (630.0, 120.0, "fitted, drove at", String::new()),
    ];
    for (x, w, name, value) in cells {
        svg.rect((x, top), w, 30.0, Fill::None, Some(THIN));
        svg.text((x + 3.0, top + 8.0), name, Lettering::new(6.5).in_colour(GREY));
        svg.text((x + 5.0, top + 23.0), &TEXT.bold().fitted(&value, w - 10.0), TEXT.bold());
    }
    top + 30.0
}
