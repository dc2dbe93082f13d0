//! The demo engine's book: its readings one by one as they were taken, and an invented overhaul of
//! four years around them, written by the same verbs' entries as any other book.

use crate::failure::Failure;
use book::{Book, Error, Password, Pen, Role, Said, Start};
use engine::model::Date;
use std::path::Path;

const ENGINEER: &str = "responsible engineer";
/// Who signs in the demo does so with this; it guards nothing.
pub(crate) const PASSWORD: &str = "the demo password";
/// Reader, fitters, inspector: five people with the engineer.
const PEOPLE: &[(&str, &[Role])] = &[
    ("M.E.", &[Role::Records]),
    ("J.K.", &[Role::Records, Role::Fits]),
    ("T.O.", &[Role::Records, Role::Fits]),
    ("R.V.", &[Role::Records, Role::Releases]),
];
const BAYS: [&str; 5] =
    ["bay 1", "bay 2", "rack by the north wall", "wheel road", "stores, shelf 4"];
const TINS: [&str; 3] = ["tin 1", "tin 2", "tin 3"];

fn failed(error: Error) -> Failure {
    Failure::Fault(format!("the demo's book: {error}"))
}

struct Story {
    book: Book,
    secret: Password,
    /// Entries of one person on one day, not yet written.
    waiting: Vec<Said>,
    who: String,
    day: String,
    /// The story is told up to this day.
    until: Option<String>,
}

impl Story {
    fn pen(&self) -> Result<Pen, Failure> {
        let mut pen = Pen::new(&self.who, "laptop by the vice", &format!("{}T09:00:00Z", self.day))
            .map_err(failed)?;
        if self.who == ENGINEER || self.who == "R.V." {
            pen.show(&self.book, &self.secret).map_err(failed)?;
        }
        Ok(pen)
    }

    fn flush(&mut self) -> Result<(), Failure> {
        if !self.waiting.is_empty() {
            let pen = self.pen()?;
            let said = std::mem::take(&mut self.waiting);
            self.book.append_all(&pen, said).map_err(failed)?;
        }
        Ok(())
    }

    fn says(&mut self, who: &str, day: &str, said: Said) -> Result<(), Failure> {
        if self.until.as_deref().is_some_and(|until| until < day) {
            return Ok(());
        }
        if self.who != who || self.day != day {
            self.flush()?;
            who.clone_into(&mut self.who);
            day.clone_into(&mut self.day);
        }
        self.waiting.push(said);
        Ok(())
    }
}

/// Day number `n` of the overhaul, from the 5th of October 2026; every month has 28 days here.
fn day(n: usize) -> String {
    let month = 9 + n / 28;
    format!("{}-{:02}-{:02}", 2026 + month / 12, month % 12 + 1, n % 28 + 1)
}

/// Writes the book: the whole story, or up to a day.
pub(crate) fn write(to: &Path, files: &[(&str, &str)], until: Option<Date>) -> Result<(), Failure> {
    let mut part = to.as_os_str().to_owned();
    part.push(".part");
    let part = Path::new(&part);
    // Left by a demo that was stopped in the middle; nobody else writes such a name here.
    let _ = std::fs::remove_file(part);
    let secret = Password::new(PASSWORD).map_err(failed)?;
    let pen = Pen::new(ENGINEER, "office", "2026-10-05T08:00:00Z").map_err(failed)?;
    let start = Start { name: "the demo engine".to_owned(), password: Some(secret.clone()) };
    let book = Book::create_file(part, &pen, &start).map_err(failed)?;
    let mut story = Story {
        book,
        secret,
        waiting: Vec::new(),
        who: ENGINEER.to_owned(),
        day: "2026-10-05".to_owned(),
        until: until.map(|d| d.to_string()),
    };
    people_and_description(&mut story, files)?;
    readings(&mut story, files)?;
    overhaul(&mut story)?;
    story.flush()?;
    drop(story);
    std::fs::rename(part, to)
        .map_err(|e| Failure::Fault(format!("{} could not be written: {e}", to.display())))
}

fn people_and_description(story: &mut Story, files: &[(&str, &str)]) -> Result<(), Failure> {
    let hashed = story.secret.hashed().map_err(failed)?;
    let first = "2026-10-05";
    for (name, roles) in PEOPLE {
        let signs = roles.contains(&Role::Releases);
        let password = if signs { hashed.clone() } else { String::new() };
        let said = Said::Person { name: (*name).to_owned(), roles: roles.to_vec(), password };
        story.says(ENGINEER, first, said)?;
    }
    for (file, text) in files.iter().filter(|(file, _)| file.ends_with(".toml")) {
        let said = Said::Described { file: (*file).to_owned(), text: (*text).to_owned() };
        story.says(ENGINEER, first, said)?;
    }
    Ok(())
}

/// Every reading as an entry of its own, by whoever took it, on the day.
fn readings(story: &mut Story, files: &[(&str, &str)]) -> Result<(), Failure> {
    let mut all: Vec<(String, String, Said)> = Vec::new();
    for (file, text) in files.iter().filter(|(file, _)| file.ends_with(".csv")) {
        let Some((heading, rows)) = text.split_once('\n') else { continue };
        let delimiter = if heading.contains(';') { ';' } else { ',' };
        let column = |name: &str| {
            heading.trim_start_matches('\u{feff}').trim().split(delimiter).position(|c| c == name)
        };
        let (by, when) = (column("by"), column("when"));
        for row in rows.lines().filter(|r| !r.trim().is_empty()) {
            // From the end, for a figure in quotation marks may hold a delimiter, a name may not.
            let cells: Vec<&str> = row.split(delimiter).collect();
            let cell = |at: Option<usize>| {
                let columns = heading.split(delimiter).count();
                at.and_then(|at| (at + cells.len()).checked_sub(columns))
                    .and_then(|at| cells.get(at))
                    .map_or("", |c| c.trim())
            };
            let taken = Date::parse(cell(when)).map_or_else(|_| day(7), |d| d.to_string());
            let known = PEOPLE.iter().any(|(name, _)| *name == cell(by));
            // Sheets of the last overhaul were copied in by the engineer on the first day.
            let (who, when) = if known && "2026-10-05" <= taken.as_str() {
                (cell(by).to_owned(), taken)
            } else {
                (ENGINEER.to_owned(), "2026-10-05".to_owned())
            };
            let table = format!("{heading}\n{row}\n");
            all.push((when, who, Said::Readings { file: (*file).to_owned(), table }));
        }
    }
    all.sort_by(|a, b| (&a.0, &a.1).cmp(&(&b.0, &b.1)));
    for (when, who, said) in all {
        story.says(&who, &when, said)?;
    }
    Ok(())
}

/// Tags, places, work, hold points, signatures: invented, from the parts and joints there are.
fn overhaul(story: &mut Story) -> Result<(), Failure> {
    story.flush()?;
    let read = story.book.fold().engine_sources().read(None).map_err(Failure::Fault)?;
    let parts: Vec<String> = read.engine.parts.iter().map(|p| p.id.clone()).collect();
    let joints: Vec<String> = read.engine.joints.iter().map(|j| j.id.clone()).collect();
    let moved = |thing: &str, to: &str| Said::Moved { thing: thing.to_owned(), to: to.to_owned() };
    for (n, tin) in TINS.iter().enumerate() {
        story.says("T.O.", &day(29), moved(tin, BAYS[n]))?;
    }
    for (n, part) in parts.iter().enumerate() {
        let tag = book::Tag::numbered(100 + n as u64).code().to_owned();
        story.says("T.O.", &day(30 + n / 12), Said::Tagged { part: part.clone(), tag })?;
        let place = if n % 4 == 3 { TINS[n % TINS.len()] } else { BAYS[n % BAYS.len()] };
        story.says("T.O.", &day(30 + n / 12), moved(part, place))?;
    }
    let held: Vec<&String> = joints.iter().filter(|j| j.starts_with("big-end")).collect();
    for joint in &held {
        let said = Said::HoldPoint {
            id: format!("bedding of {joint}"),
            about: (*joint).clone(),
            what: "look at the bedding with the strap drawn up, before it goes on the crank"
                .to_owned(),
            not_by_doer: true,
        };
        story.says(ENGINEER, &day(45), said)?;
    }
    let worked = |about: &str, what: &str, reaches: &str| Said::Worked {
        about: about.to_owned(),
        what: what.to_owned(),
        reaches: reaches.to_owned(),
    };
    for (n, part) in parts.iter().enumerate() {
        let (who, start) = (["J.K.", "T.O."][n % 2], 200 + n * 4);
        story.says(
            who,
            &day(start),
            worked(part, "boiled out, cleaned and looked over with a lamp", ""),
        )?;
    }
    for joint in &held {
        let point = format!("bedding of {joint}");
        story.says("J.K.", &day(900), worked(joint, "bored, scraped in to blue", ""))?;
        story.says(
            "J.K.",
            &day(905),
            worked(joint, "bedding four fifths, strap drawn up", &point),
        )?;
        let said = Said::Released {
            hold_point: point,
            note: "bedding even, oil grooves clear".to_owned(),
        };
        story.says("R.V.", &day(908), said)?;
        story.says("J.K.", &day(910), worked(joint, "put on the crank and cottered", ""))?;
    }
    // Two are left behind, so that there is something to look for.
    for (n, part) in parts.iter().enumerate().skip(2) {
        story.says("T.O.", &day(1000 + n * 2), moved(part, "engine"))?;
    }
    let said = Said::SignedOff {
        about: "engine".to_owned(),
        what: "motion refitted; to be run in light, oil and bearings watched".to_owned(),
    };
    story.says(ENGINEER, "2030-10-04", said)
}
