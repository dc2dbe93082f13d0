//! Every drawing there is, with plain figures, written into the directory named:
//! `cargo run -p drawing --example sampler -- DIR`

use drawing::*;
use std::f64::consts::PI;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let dir = std::env::args().nth(1).ok_or("name a directory to write into")?;
    for (name, picture) in pictures()? {
        std::fs::write(std::path::Path::new(&dir).join(format!("{name}.svg")), picture.svg)?;
    }
    Ok(())
}

fn pictures() -> Result<Vec<(String, Picture)>, DrawingError> {
    let mut out = Vec::new();
    let mark = |mm: f64, text: &str| Some(Mark { at_m: mm * 1e-3, text: text.to_owned() });
    let limit =
        LimitSize { bound: Bound::Least, size_m: 202.4e-3, text: "least in service".to_owned() };
    for (name, base, limits, verdict) in [
        ("polar", 202.62, vec![], Verdict::Near),
        ("polar-limit", 202.42, vec![limit.clone()], Verdict::Beyond),
    ] {
        let stations: Vec<StationDiameters> = ["inner", "middle", "outer"]
            .iter()
            .enumerate()
            .map(|(i, s)| StationDiameters {
                name: (*s).to_owned(),
                diameters: (0..4)
                    .map(|k| Diameter {
                        angle_rad: f64::from(k) * PI / 4.0,
                        diameter_m: (base
                            + 0.02 * i as f64
                            + 0.05 * (f64::from(k) * PI / 2.0 - 0.7).cos())
                            * 1e-3,
                    })
                    .collect(),
            })
            .collect();
        let profile = ProfilePlot {
            title: "crank-pin.left".to_owned(),
            surface: Surface::Outside,
            stations: stations
                .iter()
                .enumerate()
                .map(|(i, s)| {
                    let sizes = s.diameters.iter().map(|d| d.diameter_m);
                    ProfileStation {
                        name: s.name.clone(),
                        at_m: i as f64 * 0.06,
                        mean_m: sizes.clone().sum::<f64>() / 4.0,
                        least_m: sizes.clone().fold(f64::INFINITY, f64::min),
                        most_m: sizes.fold(f64::NEG_INFINITY, f64::max),
                    }
                })
                .collect(),
            as_made: mark(203.2, "8 in"),
            limits: limits.clone(),
            verdict,
            notes: vec!["Taper 0.040 mm (1.6 thou).".to_owned()],
        };
        out.push((format!("profile-{name}"), profile_plot(&profile)?));
        let plot = PolarPlot {
            title: "crank-pin.left".to_owned(),
            surface: Surface::Outside,
            stations,
            as_made: mark(203.2, "8 in"),
            limits,
            verdict,
        };
        out.push((name.to_owned(), polar_plot(&plot)?));
    }
    for (i, (value, verdict)) in [
        (0.22, Verdict::Within),
        (0.45, Verdict::Near),
        (0.49, Verdict::CannotTell),
        (0.61, Verdict::Beyond),
    ]
    .into_iter()
    .enumerate()
    {
        let bar = LimitBar {
            name: "clearance in service".to_owned(),
            least: (i % 2 == 1).then(|| Mark { at_m: 0.1e-3, text: "0.10 mm (3.9 thou)".into() }),
            most: mark(0.5, "0.50 mm (20 thou)"),
            as_made: mark(0.15, "0.15 mm"),
            guard_m: 0.018e-3,
            value: mark(value, &format!("{value:.3} ± 0.022 mm")),
            expanded_m: 0.022e-3,
            verdict,
        };
        out.push((format!("bar-{i}"), limit_bar(&bar)?));
    }
    let points: Vec<DialPoint> = (0..24)
        .map(|i| {
            let a = f64::from(i) / 24.0 * 2.0 * PI;
            DialPoint { angle_rad: a, radial_m: 1e-5 * (2.0 * a.cos() + (3.0 * a).cos()) }
        })
        .collect();
    let circle = OffsetCircle { x_m: 2e-5, y_m: 0.0, radial_m: 0.0 };
    out.push((
        "traverse".to_owned(),
        traverse_plot(&TraversePlot {
            title: "axle journal, left".to_owned(),
            stations: vec![TraverseStation {
                name: "middle".to_owned(),
                points,
                least_squares: Some(circle),
                minimum_zone: Some(ZoneCircles { middle: circle, roundness_m: 2e-5 }),
            }],
        })?,
    ));
    use SketchShape as S;
    for shape in [
        S::Journal,
        S::Pin,
        S::Bore,
        S::Hole,
        S::Cone,
        S::Socket,
        S::Thickness,
        S::Gap,
        S::Centres,
        S::Length,
    ] {
        out.push((
            format!("sketch-{shape:?}").to_lowercase(),
            machine_sketch(&MachineSketch {
                title: "crank-pin.left".to_owned(),
                shape,
                metric: "202.70 ± 0.02 mm".to_owned(),
                imperial: "7.9803 ± 0.0008 in".to_owned(),
                length: Some("120 mm".to_owned()),
                notes: vec!["by grinding; clean up all over, fillets to the drawing".to_owned()],
            })?,
        ));
    }
    for v in Verdict::ALL {
        out.push((format!("sign-{}", v.word().replace(' ', "-")), sign_picture(v, 10.0)?));
    }
    Ok(out)
}
