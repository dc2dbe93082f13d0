//! The uncertainty that is stated is the uncertainty there is.

use crate::demo_readings::GOODS;
use crate::demo_readings::shed::{Shed, Slips, places};
use crate::demo_readings::sheet::Save;
use crate::demo_readings::truth::{Special, truth};
use crate::{engine_of, joint, own_file, true_measure, written_and_judged};
use engine::view;

#[test]
fn the_true_clearance_lies_in_the_interval_as_often_as_it_says() {
    // JCGM 100:2008, 6.2: an interval at 95 % holds the true value 95 times in a hundred. Five
    // hundred engines are made, each with its own truth, its own gauge errors within their limits
    // (even over them), repeatability, expansions, thermometer and cold; their readings are
    // written down as text, rounded, read back and judged. The share of 500 has a standard
    // deviation of 1 %, so 92 to 98.2 % is three of them, with room on the upper side because an
    // even error has no tails.
    let demo_text = String::from_utf8(own_file(&GOODS)).expect("UTF-8");
    let engine = engine_of(demo_text.split("[[reading]]").next().expect("a text"));
    for id in ["axlebox.driving.left", "slide-bars.left"] {
        let ix = joint(&engine, id);
        let (inner, outer) = (engine.joint(ix).inner, engine.joint(ix).outer);
        let trials = 500;
        let mut held = 0;
        let mut u_sum = 0.0;
        let mut square = 0.0;
        for seed in 1000..1000 + trials {
            let shapes = truth(&engine, seed, &Special::default());
            let shed = Shed::new(&engine, seed);
            let mut rows = Vec::new();
            for (f, day) in [(inner, seed as usize % 20), (outer, (seed as usize + 7) % 20)] {
                let taken = shed.gauge(f, &shapes[f.index()], day, &Slips::default());
                assert_eq!(taken.len(), places(&engine, f).len());
                rows.extend(taken);
            }
            let judgement = written_and_judged(&engine, &rows, seed, Save::Plain);
            let shown = view::joint_view(&judgement, ix);
            let figure = &shown.measures.first().expect("gauged").figure;
            assert!(shown.degrees_of_freedom.is_none(), "no repeats: 1.96 is the factor");
            let u = figure.u_si.expect("an uncertainty");
            let off = figure.si - true_measure(&engine, &shapes, ix);
            held += usize::from(off.abs() <= 1.96 * u);
            u_sum += u;
            square += off * off;
        }
        let share = held as f64 / trials as f64;
        let (mean_u, spread) = (u_sum / trials as f64, (square / trials as f64).sqrt());
        println!("{id}: {share} held; u {:.1} um, spread {:.1} um", mean_u * 1e6, spread * 1e6);
        assert!((0.92..=0.982).contains(&share), "{id}: {share} of the intervals hold the truth");
        // And the uncertainty is of the size of the errors that were made, not merely large enough.
        assert!((0.8..1.25).contains(&(mean_u / spread)), "{id}: u {mean_u}, spread {spread}");
    }
}
