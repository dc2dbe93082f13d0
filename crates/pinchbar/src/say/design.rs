//! A design on a terminal.

use super::table;
use crate::args::Units;
use crate::failure::put;
use engine::view::{DesignView, ItemView};

fn sign(item: &ItemView) -> &'static str {
    match item.stands {
        "good" => "✓ ",
        "look" => "? ",
        "bad" => "✖ ",
        _ => "",
    }
}

fn figures(item: &ItemView, units: Units) -> String {
    if item.imperial.is_empty() {
        return item.metric.clone();
    }
    match units {
        Units::Metric => format!("{} ({})", item.metric, item.imperial),
        Units::Imperial => format!("{} ({})", item.imperial, item.metric),
    }
}

/// One design.
pub(crate) fn design(view: &DesignView, units: Units) {
    put!("{}: {} ({}, {})", view.engine, view.name, view.kind, view.verdict);
    let by = view
        .decided_by
        .as_ref()
        .map_or_else(|| "recommended".to_owned(), |who| format!("decided, {who}"));
    put!("repair: {} ({by})", view.words);
    for caution in &view.cautions {
        put!("! {caution}");
    }
    for section in &view.sections {
        put!("\n{}:", section.title);
        // Long words are set apart, so that a sentence does not widen every column.
        let (short, long): (Vec<&ItemView>, Vec<&ItemView>) =
            section.items.iter().partition(|i| figures(i, units).chars().count() <= 44);
        let rows: Vec<Vec<String>> = short
            .iter()
            .map(|i| vec![format!("{}{}", sign(i), i.label), figures(i, units), i.note.clone()])
            .collect();
        table::rows(&rows);
        for i in long {
            let note = if i.note.is_empty() { String::new() } else { format!(" ({})", i.note) };
            put!("  {}{}: {}{note}", sign(i), i.label, figures(i, units));
        }
    }
    if !view.absent.is_empty() {
        put!("\nnot worked out:");
        for a in &view.absent {
            if a.why.is_empty() {
                put!("  {}; write in its [[duty]] or as told:", a.what);
            } else {
                put!("  {}: {}", a.what, a.why);
            }
            for line in &a.wants {
                put!("      {line}");
            }
        }
    }
    rests_on(view);
    put!("\nnot considered: {}.", view.not_considered.join("; "));
    put!("The responsible engineer releases the work; gauge again after every operation.");
}

/// What was taken from elsewhere line by line; the duty's own lines only by where they stand.
fn rests_on(view: &DesignView) {
    put!("\nrests on:");
    let mut files: Vec<(&str, Vec<&str>)> = Vec::new();
    for g in &view.given {
        match g.from.rsplit_once(':').filter(|(_, n)| n.parse::<u32>().is_ok()) {
            Some((file, _)) => match files.iter_mut().find(|(f, _)| *f == file) {
                Some((_, names)) => names.push(&g.name),
                None => files.push((file, vec![&g.name])),
            },
            None => put!("  {} = {}   [{}]", g.name, g.text, g.from),
        }
    }
    for (file, names) in files {
        put!("  {}: {} (--json and the sheet list their values)", file, names.join(", "));
    }
}

/// Every joint designed, one line each.
pub(crate) fn designed(views: &[DesignView], written: &[(Option<String>, Option<String>)]) {
    let rows: Vec<Vec<String>> = views
        .iter()
        .zip(written)
        .map(|(v, (sheet, drawing))| {
            let made = v.sections.iter().filter(|s| s.to_make).map(|s| s.title.as_str());
            vec![
                v.joint.clone(),
                v.repair.to_owned(),
                made.collect::<Vec<_>>().join("; "),
                if v.absent.is_empty() {
                    String::new()
                } else {
                    format!("{} not worked out", v.absent.len())
                },
                [sheet.as_deref(), drawing.as_deref()]
                    .into_iter()
                    .flatten()
                    .collect::<Vec<_>>()
                    .join(", "),
            ]
        })
        .collect();
    table::print(&["joint", "repair", "designed", "", "written"], &rows);
}
