//! How long it takes to look through every fit of a size.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use mechanics::fits::{Band, Basis, FitWanted, Grade, choose_fits, parse_symbol};

fn wanted(basis: Basis, finest: Grade, coarsest: u8) -> FitWanted {
    let band = Band { min_m: -75e-6, max_m: -20e-6 };
    let mut wanted = FitWanted::new(0.060, band);
    wanted.basis = basis;
    wanted.finest = finest;
    wanted.coarsest = Grade::it(coarsest).unwrap_or(Grade::IT0);
    wanted
}

/// A band so wide that every pair lies within it: the most work there can be.
fn everything() -> FitWanted {
    let mut wanted = wanted(Basis::AnyPair, Grade::IT01, 18);
    wanted.clearance = Band { min_m: -1.0, max_m: 1.0 };
    wanted
}

fn choose(c: &mut Criterion) {
    let it5 = Grade::it(5).unwrap_or(Grade::IT0);
    for (name, wanted) in [
        ("fits/choose/either basis, IT5 to IT11", wanted(Basis::EitherBasis, it5, 11)),
        ("fits/choose/any pair, IT5 to IT11", wanted(Basis::AnyPair, it5, 11)),
        ("fits/choose/any pair, every grade", wanted(Basis::AnyPair, Grade::IT01, 18)),
        ("fits/choose/any pair, every grade, all within", everything()),
    ] {
        let answer = choose_fits(&wanted).expect("the size is in the tables");
        assert!(answer.found > 0 && answer.candidates.len() == answer.found.min(10));
        println!("{name}: {} of {} fits lie within the band", answer.found, answer.examined);
        c.bench_function(name, |b| b.iter(|| choose_fits(black_box(&wanted))));
    }
    c.bench_function("fits/limits/60 H7 s6 from text", |b| {
        b.iter(|| {
            let symbol = parse_symbol(black_box("60 H7/s6")).ok()?;
            symbol.fit()?.at(symbol.size_m?).ok()
        });
    });
}

criterion_group!(benches, choose);
criterion_main!(benches);
