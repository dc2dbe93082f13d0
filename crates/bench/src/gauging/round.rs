//! The places at which a feature is gauged, in the order a person goes round: station after
//! station, at each all directions.

use engine::judge::Judgement;
use engine::model::FeatureIx;
use engine::view::GaugingRound;

/// A place.
#[derive(Clone, Debug)]
pub(crate) struct Place {
    /// Station as the engine names it; empty when it has none.
    pub(crate) station: String,
    /// Direction as a table has it; empty when it has none.
    pub(crate) direction: String,
    /// In words.
    pub(crate) words: String,
    /// The last figure there: as written, metres, day.
    pub(crate) previous: Option<Previous>,
}

/// A figure that stands in the book.
#[derive(Clone, Debug)]
pub(crate) struct Previous {
    /// As written.
    pub(crate) text: String,
    /// Metres.
    pub(crate) si: f64,
    /// Day, or empty.
    pub(crate) when: String,
}

/// The places of a feature, and the directions among them.
pub(crate) fn round(judgement: &Judgement, ix: FeatureIx) -> (Vec<Place>, Vec<f64>) {
    let round = GaugingRound::of(judgement, ix);
    let previous = |station, direction_rad| {
        round.previous(station, direction_rad).map(|last| Previous {
            text: last.text.to_string(),
            si: last.si,
            when: last.when.map(|d| d.to_string()).unwrap_or_default(),
        })
    };
    let mut places = Vec::new();
    for (at, station) in &round.stations {
        if round.directions_rad.is_empty() {
            let times = if station.is_empty() { GaugingRound::REPEATS } else { 1 };
            for time in 0..times {
                places.push(Place {
                    station: (*station).to_owned(),
                    direction: String::new(),
                    words: match (station.is_empty(), time) {
                        (false, _) => format!("at {station}"),
                        (true, 0) => "the reading".to_owned(),
                        (true, _) => "once more, taken afresh".to_owned(),
                    },
                    previous: previous(*at, None),
                });
            }
        }
        for d in &round.directions_rad {
            let across = direction_words(*d);
            places.push(Place {
                station: (*station).to_owned(),
                direction: degrees(*d),
                words: match station.is_empty() {
                    true => format!("across {across}"),
                    false => format!("at {station}, across {across}"),
                },
                previous: previous(*at, Some(*d)),
            });
        }
    }
    (places, round.directions_rad)
}

/// Degrees without the last bits of the turn to radians and back.
fn degrees(radians: f64) -> String {
    let text = format!("{:.1}", radians.to_degrees());
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

fn direction_words(radians: f64) -> String {
    let degrees = degrees(radians);
    match degrees.as_str() {
        "0" => "0° (level)".to_owned(),
        "90" => "90° (upright)".to_owned(),
        _ => format!("{degrees}°"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn degrees_read_as_people_write_them() {
        assert_eq!(degrees(135f64.to_radians()), "135");
        assert_eq!(degrees(22.5f64.to_radians()), "22.5");
    }
}
