//! Where uncertainty comes from: every source has one id, so that what two figures share is
//! counted once.

use crate::model::{Engine, FeatureIx, GaugeIx, MaterialIx};
use quantity::SourceId;

/// A source of uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// Zero and calibration error of a gauge: the same in every reading taken with it.
    Gauge(GaugeIx),
    /// Expansion of a material.
    Expansion(MaterialIx),
    /// The shop's thermometer.
    Thermometer,
    /// The temperature assumed for readings that give none.
    AssumedTemperature,
    /// Part and gauge not at one temperature, while this feature was read.
    Soak(FeatureIx),
    /// Repeatability and last figure of the readings of this feature.
    Own(FeatureIx),
    /// Tolerance of a size taken from the drawing.
    Drawing(FeatureIx),
    /// How well the workshop holds a size still to be made.
    Making(FeatureIx),
    /// Plus and minus written beside a size of the motion, by its place in that list.
    Written(u32),
}

const BITS: u32 = 28;
const MASK: u32 = (1 << BITS) - 1;

impl Source {
    /// Its id. Indices stay below 2^28: an engine is held to far fewer records when built.
    pub fn id(self) -> SourceId {
        let (tag, index) = match self {
            Source::Gauge(ix) => (0, ix.index()),
            Source::Expansion(ix) => (1, ix.index()),
            Source::Thermometer => (2, 0),
            Source::AssumedTemperature => (3, 0),
            Source::Soak(ix) => (4, ix.index()),
            Source::Own(ix) => (5, ix.index()),
            Source::Drawing(ix) => (6, ix.index()),
            Source::Making(ix) => (7, ix.index()),
            Source::Written(at) => (8, at as usize),
        };
        SourceId((tag << BITS) | (index as u32 & MASK))
    }

    /// From its id; `None` for an id that is not one of these.
    pub fn of(id: SourceId) -> Option<Source> {
        let index = (id.0 & MASK) as usize;
        Some(match id.0 >> BITS {
            0 => Source::Gauge(GaugeIx::new(index)),
            1 => Source::Expansion(MaterialIx::new(index)),
            2 => Source::Thermometer,
            3 => Source::AssumedTemperature,
            4 => Source::Soak(FeatureIx::new(index)),
            5 => Source::Own(FeatureIx::new(index)),
            6 => Source::Drawing(FeatureIx::new(index)),
            7 => Source::Making(FeatureIx::new(index)),
            8 => Source::Written(index as u32),
            _ => return None,
        })
    }

    /// In words.
    pub fn words(self, engine: &Engine) -> String {
        let feature =
            |ix: FeatureIx| engine.features.get(ix.index()).map_or("?", |f| f.id.as_str());
        match self {
            Source::Gauge(ix) => {
                let id = engine.gauges.get(ix.index()).map_or("?", |g| g.id.as_str());
                format!("zero and calibration of gauge {id}")
            }
            Source::Expansion(ix) => {
                let id = engine.materials.get(ix.index()).map_or("?", |m| m.id.as_str());
                format!("expansion of {id}")
            }
            Source::Thermometer => "thermometer".to_owned(),
            Source::AssumedTemperature => "temperature not written down".to_owned(),
            Source::Soak(ix) => format!("part and gauge not at one temperature, {}", feature(ix)),
            Source::Own(ix) => format!("repeatability of readings, {}", feature(ix)),
            Source::Drawing(ix) => format!("tolerance of size as made, {}", feature(ix)),
            Source::Making(ix) => format!("how well the workshop holds {}", feature(ix)),
            Source::Written(at) => {
                let name = engine.motion.written.get(at as usize).map_or("?", String::as_str);
                format!("plus and minus written, {name}")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_come_back() {
        for source in [
            Source::Gauge(GaugeIx::new(3)),
            Source::Thermometer,
            Source::AssumedTemperature,
            Source::Own(FeatureIx::new(123_456)),
            Source::Making(FeatureIx::new(0)),
            Source::Written(7),
        ] {
            assert_eq!(Source::of(source.id()), Some(source));
        }
    }
}
