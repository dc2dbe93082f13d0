//! The book beside bare SQLite and bare PostgreSQL, each peer in the same run.
//!
//! `cargo bench -p book --features postgres`; a number after `--` is the largest book of the growth
//! table (1 000 000 takes some minutes), words after it the parts to run: `append`, `growth`,
//! `join`, `postgres`; all without any. What a cold program does is measured in processes of its
//! own.

mod append;
mod child;
mod filled;
mod growth;
mod join;
#[cfg(feature = "postgres")]
mod postgres;
#[cfg(feature = "postgres")]
#[path = "../../tests/book/server.rs"]
mod server;
mod time;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).filter(|w| w != "--bench").collect();
    if child::asked(&words) {
        return;
    }
    let most = words.iter().find_map(|w| w.parse::<u64>().ok()).unwrap_or(200_000);
    let named: Vec<&String> = words.iter().filter(|w| w.parse::<u64>().is_err()).collect();
    let wanted = |part: &str| named.is_empty() || named.iter().any(|w| *w == part);
    let folder = tempfile::TempDir::new().expect("a folder");
    if wanted("append") {
        append::durable(folder.path());
    }
    if wanted("growth") {
        growth::heading();
        for entries in [1_000, 10_000, 100_000, 200_000, 1_000_000] {
            if entries <= most {
                growth::of(folder.path(), entries);
            }
        }
    }
    if wanted("join") {
        for entries in [1_000, 10_000, 100_000, 1_000_000] {
            if entries <= most {
                join::two_copies(folder.path(), entries);
            }
        }
    }
    #[cfg(feature = "postgres")]
    if wanted("postgres") {
        postgres::all(most.min(200_000));
    }
}
