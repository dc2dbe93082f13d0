//! Reading and judging, beside a bare reading of the same rows by the `csv` crate.
//!
//! `judge/demo`: the whole of the goods demo from cold texts; `judge/one-reading`: one reading of
//! it changed; `judge/table/N`: N readings of a large engine read and judged; `peer/csv/N`: the
//! same table only split into cells by the `csv` crate.

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use engine::description::SourceText;
use engine::judge::{Change, Judgement};
use engine::model::{Date, Engine};
use engine::readings::read_table;
use std::fmt::Write as _;
use std::hint::black_box;

const GOODS: &str = include_str!("../../../demo/goods/engine.toml");
const GOODS_TABLES: &[&str] = &[
    include_str!("../../../demo/goods/readings-strip.csv"),
    include_str!("../../../demo/goods/readings-wheels.csv"),
];

fn goods() -> Engine {
    let source = SourceText { file: "engine.toml".into(), text: GOODS.into() };
    let mut loaded = engine::load(vec![source], Date::new(2026, 11, 20).ok());
    for (i, table) in GOODS_TABLES.iter().enumerate() {
        read_table(&mut loaded.engine, i as u16, table.as_bytes()).expect("the demo reads");
    }
    loaded.finish().0
}

/// An engine of `readings` readings: pairs of journal and bore, 25 readings each.
fn large(readings: usize) -> (Engine, String) {
    let pairs = readings.div_ceil(50);
    let mut text = "[engine]\nname = \"large\"\n[[material]]\nid = \"steel\"\nexpansion = \"11.5e-6 /K\"\n[[gauge]]\nid = \"M\"\nerror = \"0.005 mm\"\nmaterial = \"steel\"\n[[part]]\nid = \"p\"\nmaterial = \"steel\"\n".to_owned();
    let mut table = "feature,station,direction,reading,gauge,when,temperature\n".to_owned();
    for i in 0..pairs {
        for (kind, size) in [("journal", 200.0), ("bore", 200.2)] {
            let _ = write!(
                text,
                "[[feature]]\nid = \"{kind}.{i}\"\npart = \"p\"\nkind = \"{kind}\"\nas-made = \"{size} mm\"\nstations = [\"A\", \"B\", \"C\", \"D\", \"E\"]\nlength = \"200 mm\"\n"
            );
            for n in 0..25 {
                // A small wobble, so that nothing is equal to anything by accident.
                let wobble = ((i * 31 + n * 7) % 19) as f64 * 0.002;
                let _ = writeln!(
                    table,
                    "{kind}.{i},{},{},{:.3} mm,M,2026-03-14,12",
                    ["A", "B", "C", "D", "E"][n / 5],
                    (n % 5) * 36,
                    size - wobble
                );
            }
        }
        let _ = write!(
            text,
            "[[joint]]\nid = \"j.{i}\"\nkind = \"running\"\ninner = \"journal.{i}\"\nouter = \"bore.{i}\"\n[[limit]]\non = \"j.{i}\"\nof = \"clearance\"\nmax = \"0.5 mm\"\nsource = \"common practice\"\n"
        );
    }
    let source = SourceText { file: "engine.toml".into(), text };
    let (engine, problems) = engine::load(vec![source], None).finish();
    assert!(problems.is_empty(), "{problems:?}");
    (engine, table)
}

fn judge(c: &mut Criterion) {
    c.bench_function("judge/demo", |b| {
        b.iter(|| {
            let judgement = Judgement::of(goods());
            assert!(judgement.joints().len() > 100);
            black_box(judgement)
        })
    });
    let mut judgement = Judgement::of(goods());
    let reading = judgement.engine().readings[100].clone();
    c.bench_function("judge/one-reading", |b| {
        let mut up = true;
        b.iter(|| {
            up = !up;
            let mut changed = reading.clone();
            changed.si += if up { 25e-6 } else { 0.0 };
            let done = judgement.change(Change::Correct(100, changed)).expect("it is there");
            assert!(done.features.contains(&reading.feature));
        })
    });
    let mut group = c.benchmark_group("judge/table");
    group.sample_size(10);
    for n in [10_000, 100_000, 1_000_000] {
        let (engine, table) = large(n);
        group.throughput(Throughput::Elements(n as u64));
        group.bench_function(BenchmarkId::new("read-and-judge", n), |b| {
            b.iter(|| {
                let mut engine = engine.clone();
                let read = read_table(&mut engine, 0, table.as_bytes()).expect("reads");
                assert_eq!(read.refused_count(), 0);
                let judgement = Judgement::of(engine);
                assert!(
                    judgement.joints().iter().all(|j| j.verdict == engine::judge::Verdict::Within)
                );
            })
        });
        group.bench_function(BenchmarkId::new("peer-csv-cells", n), |b| {
            b.iter(|| {
                let mut reader = csv::Reader::from_reader(table.as_bytes());
                let mut record = csv::StringRecord::new();
                let mut cells = 0;
                while reader.read_record(&mut record).expect("reads") {
                    cells += record.len();
                }
                assert!(cells >= 7 * n);
            })
        });
    }
    group.finish();
}

criterion_group!(benches, judge);
criterion_main!(benches);
