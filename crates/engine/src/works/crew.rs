//! Who does what: names for the people that a plan only counts.

use super::plan::Planned;
use crate::model::Engine;
use sequence::WorkId;

/// One person at one work without a break.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PersonBar {
    /// Position in the crew.
    pub person: usize,
    /// The work; `None`: at the bar, moving the engine.
    pub work: Option<WorkId>,
    /// From, working minutes.
    pub start_min: u64,
    /// Until.
    pub end_min: u64,
}

/// One thing that wants hands.
struct Need {
    work: Option<WorkId>,
    start_min: u64,
    end_min: u64,
    people: usize,
    tickets: Vec<(String, u32)>,
}

/// Shares the works of a plan out among those who are there: whoever is at a work stays at it while
/// they are there, tickets go before the rest. A proposal; the foreman decides.
pub fn people_bars(engine: &Engine, planned: &Planned) -> Vec<PersonBar> {
    let needs = needs(engine, planned);
    let model = &engine.works;
    let mut bars: Vec<PersonBar> = Vec::new();
    let mut opens = 0u64;
    for spell in &planned.assembled.spells {
        let closes = opens + u64::from(spell.minutes);
        let here: Vec<&Need> =
            needs.iter().filter(|n| n.start_min < closes && n.end_min > opens).collect();
        let mut cuts: Vec<u64> = here
            .iter()
            .flat_map(|n| [n.start_min.clamp(opens, closes), n.end_min.clamp(opens, closes)])
            .collect();
        cuts.sort_unstable();
        cuts.dedup();
        for pair in cuts.windows(2) {
            let (from, until) = (pair[0], pair[1]);
            let going: Vec<&&Need> =
                here.iter().filter(|n| n.start_min <= from && n.end_min >= until).collect();
            let mut free: Vec<usize> = spell.people.clone();
            let mut at: Vec<Vec<usize>> = vec![Vec::new(); going.len()];
            let before = |person: usize| {
                let mut mine = bars.iter().rev().filter(|b| b.person == person);
                mine.next().filter(|b| b.end_min <= from).map(|b| b.work)
            };
            // Tickets, first those who are at that work already; then whoever was at a work; then
            // whoever is free, those without a ticket first so that tickets stay free.
            for (n, seats) in going.iter().zip(&mut at) {
                for (ticket, count) in &n.tickets {
                    for _ in 0..*count {
                        let holds = |p: &usize| model.crew[*p].tickets.contains(ticket);
                        let been = free.iter().position(|p| holds(p) && before(*p) == Some(n.work));
                        if let Some(i) = been.or_else(|| free.iter().position(holds)) {
                            seats.push(free.remove(i));
                        }
                    }
                }
            }
            for (n, seats) in going.iter().zip(&mut at) {
                while seats.len() < n.people {
                    match free.iter().position(|p| before(*p) == Some(n.work)) {
                        Some(i) => seats.push(free.remove(i)),
                        None => break,
                    }
                }
            }
            free.sort_by_key(|p| (model.crew[*p].tickets.len(), *p));
            for (n, seats) in going.iter().zip(&mut at) {
                while seats.len() < n.people && !free.is_empty() {
                    seats.push(free.remove(0));
                }
            }
            for (n, seats) in going.iter().zip(at) {
                for person in seats {
                    let last = bars.iter_mut().rev().find(|b| b.person == person);
                    match last {
                        Some(b) if b.work == n.work && b.end_min == from => b.end_min = until,
                        _ => bars.push(PersonBar {
                            person,
                            work: n.work,
                            start_min: from,
                            end_min: until,
                        }),
                    }
                }
            }
        }
        opens = closes;
    }
    bars.sort_by_key(|b| (b.start_min, b.person));
    bars
}

fn needs(engine: &Engine, planned: &Planned) -> Vec<Need> {
    let scheme = &planned.assembled.scheme;
    let mut all = Vec::new();
    for s in planned.progress.running.iter().chain(&planned.plan.steps) {
        let Some(way) = scheme.way(s.work, s.way) else { continue };
        let tickets = way
            .kit
            .iter()
            .filter_map(|(k, n)| engine.works.kit.get(k.0).map(|kit| (kit, *n)))
            .filter(|(kit, _)| kit.ticket)
            .map(|(kit, n)| (kit.id.clone(), n))
            .collect();
        all.push(Need {
            work: Some(s.work),
            start_min: s.start_min,
            end_min: s.end_min,
            people: way.people as usize,
            tickets,
        });
    }
    for m in &planned.plan.moves {
        all.push(Need {
            work: None,
            start_min: m.start_min,
            end_min: m.end_min,
            people: scheme.barring.people as usize,
            tickets: Vec::new(),
        });
    }
    all.sort_by_key(|n| (n.start_min, n.end_min, n.work));
    all
}
