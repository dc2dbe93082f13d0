//! The book as a whole. Everything that a store must do is asked of every store by one suite.

mod carried;
mod crash;
mod damage;
mod form_2;
mod joined;
mod kept;
#[cfg(feature = "postgres")]
mod on_postgres;
mod rules;
mod sample;
#[cfg(feature = "postgres")]
mod server;
mod stores;
mod whole;

#[cfg(not(feature = "postgres"))]
#[test]
#[ignore = "NOT RUN without the feature: cargo nextest run -p book --features postgres"]
fn postgres_conforms() {
    panic!("nothing about PostgreSQL was tested; build with --features postgres");
}
