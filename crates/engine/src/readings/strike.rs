//! Readings taken back. The figure stays; it only no longer counts.

use crate::description::{Description, Sources};
use crate::model::Engine;
use crate::problem::{Place, Problem};
use crate::readings::parse_direction;

/// Strikes out the readings a description names.
pub(crate) fn strike_out(
    engine: &mut Engine,
    description: &Description,
    sources: &Sources,
) -> Vec<Problem> {
    let mut problems = Vec::new();
    for s in &description.strike_outs {
        let (Some(name), Some(value)) = (&s.feature, &s.value) else {
            problems.push(Problem::new(
                Place::file(sources.own_file()),
                "a strike-out wants the feature and the figure as written",
                "feature = \"...\", value = \"...\", reason = \"...\"",
            ));
            continue;
        };
        let place = sources.place(name.span().start);
        if s.reason.as_ref().is_none_or(|r| r.get_ref().trim().is_empty()) {
            problems.push(Problem::new(
                place,
                "a strike-out without a reason",
                "say why the figure does not count",
            ));
            continue;
        }
        let Some(feature) = engine.feature_by_id(name.get_ref().trim()) else {
            problems.push(Problem::new(
                place,
                format!("there is no feature \"{}\"", name.get_ref()),
                "",
            ));
            continue;
        };
        let station = s.station.as_ref().map(|t| t.get_ref().trim().to_owned());
        let direction = s.direction.as_ref().and_then(|t| parse_direction(t.get_ref()).ok());
        let stations = engine.feature(feature).stations.clone();
        let mut struck = 0;
        for r in &mut engine.readings {
            let same_station = station.as_ref().is_none_or(|want| {
                stations.get(usize::from(r.station)).is_some_and(|s| s.eq_ignore_ascii_case(want))
            });
            let same_direction = direction.is_none_or(|d| (r.direction_rad - d).abs() < 1e-6);
            if r.feature == feature
                && same_station
                && same_direction
                && *r.text == *value.get_ref().trim()
            {
                r.struck = true;
                struck += 1;
            }
        }
        if struck == 0 {
            problems.push(Problem::new(
                place,
                format!(
                    "no reading \"{}\" of {} was found to strike out",
                    value.get_ref(),
                    name.get_ref()
                ),
                "give the figure character for character, with its station and direction",
            ));
        }
    }
    problems
}
