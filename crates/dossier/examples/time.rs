//! How long a dossier and a thousand tags take:
//! `cargo run --release -p dossier --example time -- BOOK DAY PAGES`
//!
//! The record is laid end to end with itself until the dossier has the pages asked for.

use book::Book;
use engine::judge::Judgement;
use engine::model::Date;
use paper::{SheetOptions, TagSize};
use std::path::Path;
use std::time::Instant;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [file, day, pages] = args.as_slice() else { return Err("say BOOK DAY PAGES".into()) };
    let pages: usize = pages.parse()?;
    let day = Date::parse(day)?;
    let start = Instant::now();
    let mut book = Book::open_file(Path::new(file))?;
    println!("opened in {:.2?}", start.elapsed());
    let start = Instant::now();
    let judgement = Judgement::of(book.fold().engine_sources().read(Some(day))?.engine);
    println!("judged in {:.2?}", start.elapsed());
    let start = Instant::now();
    let once = dossier::record(&mut book, Some(&judgement), Some(day))?;
    println!("gathered {} entries in {:.2?}", once.entries.len(), start.elapsed());
    let options = SheetOptions::default();
    let mut record = once.clone();
    loop {
        let start = Instant::now();
        let set = paper::dossier(Some(&judgement), &record, &options)?;
        println!("{} pages, {} kB in {:.2?}", set.pages, set.pdf.len() / 1000, start.elapsed());
        if set.pages >= pages {
            break;
        }
        let times = pages.div_ceil(set.pages).max(2);
        for _ in 1..times {
            record.entries.extend(once.entries.iter().cloned());
            record.readings.extend(once.readings.iter().cloned());
            record.work.extend(once.work.iter().cloned());
            record.places.extend(once.places.iter().cloned());
        }
    }
    let some = dossier::tags(Some(book.fold()), Some(judgement.engine()));
    let tags: Vec<_> = some.iter().cycle().take(1000).cloned().collect();
    for size in TagSize::ALL {
        let start = Instant::now();
        let set = paper::tag_sheets(&tags, size, &options)?;
        println!(
            "{} tags, {size:?}: {} pages, {} kB in {:.2?}",
            tags.len(),
            set.pages,
            set.pdf.len() / 1000,
            start.elapsed()
        );
    }
    Ok(())
}
