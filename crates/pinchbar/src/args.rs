//! The words of the command line.

use clap::{Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Judge the running gear of a steam locomotive from gauge readings, and work out what to machine
/// every part to.
///
/// An engine is a folder: engine.toml, more .toml files beside it if wanted, and readings in .csv
/// files. Exit codes: 0 done; 1 done, something is beyond its limit; 2 the command or its input is
/// wrong; 3 done, but some of the input was refused and is listed; 4 a fault of program or disk.
#[derive(Debug, Parser)]
#[command(name = "pinchbar", version, max_term_width = 100)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) verb: Verb,
    /// Print JSON for a script instead of words.
    #[arg(long, global = true)]
    pub(crate) json: bool,
    /// Which system to print first.
    #[arg(long, global = true, value_enum, default_value_t = Units::Metric)]
    pub(crate) units: Units,
    /// Day of judging, year-month-day; the computer's own day when not given.
    #[arg(long, global = true, value_name = "DAY")]
    pub(crate) today: Option<String>,
}

/// System of units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    /// Millimetres.
    Metric,
    /// Inches and thou.
    Imperial,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    /// Lay out the demo engine, judge it and write its condition report.
    Demo {
        /// Which engine.
        #[arg(long, value_enum, default_value_t = DemoEngine::Goods)]
        engine: DemoEngine,
        /// Folder to lay it out in.
        #[arg(long, default_value = "pinchbar-demo")]
        to: PathBuf,
    },
    /// List the patterns, or what one of them asks.
    Pattern {
        /// Pattern.
        id: Option<String>,
    },
    /// Make a new engine from a pattern.
    New {
        /// Folder for the engine; must not exist, or be empty.
        folder: PathBuf,
        /// Pattern; see `pinchbar pattern`.
        #[arg(long)]
        pattern: String,
        /// Name or number of the engine.
        #[arg(long)]
        name: String,
        /// Whose engine.
        #[arg(long, default_value = "")]
        railway: String,
        /// A dimension: big-end-pin="7 3/4 in". May be given many times.
        #[arg(long = "set", value_name = "NAME=SIZE")]
        set: Vec<String>,
        /// Ask for every dimension on the terminal.
        #[arg(long)]
        ask: bool,
    },
    /// Add a table of readings, or one reading.
    Add {
        /// Engine folder.
        engine: PathBuf,
        /// Table as a spreadsheet saves it (CSV).
        table: Option<PathBuf>,
        /// One reading: feature.
        #[arg(long, requires = "value", conflicts_with = "table")]
        feature: Option<String>,
        /// One reading: figure and unit.
        #[arg(long, requires = "feature", allow_hyphen_values = true)]
        value: Option<String>,
        /// Station along the axis.
        #[arg(long, default_value = "")]
        station: String,
        /// Direction around it: degrees, V, H, or 3 o'clock.
        #[arg(long, default_value = "")]
        direction: String,
        /// Gauge.
        #[arg(long, default_value = "")]
        gauge: String,
        /// Who read it.
        #[arg(long, default_value = "")]
        by: String,
        /// Day it was read, if not today.
        #[arg(long, default_value = "")]
        when: String,
        /// Temperature of the part.
        #[arg(long, default_value = "")]
        temperature: String,
    },
    /// Judge an engine: what is beyond its limit first.
    Judge {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// List every joint, not only those that want attention.
        #[arg(long)]
        all: bool,
    },
    /// One joint: readings, budget, limits, options.
    Joint {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Joint.
        joint: String,
    },
    /// One chain: terms, budget, worst case, and a simulation of it.
    Chain {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Chain.
        chain: String,
        /// Draws of the simulation.
        #[arg(long, default_value_t = 1_000_000)]
        draws: u64,
        /// Seed of the simulation.
        #[arg(long, default_value_t = 1)]
        seed: u64,
    },
    /// Try something without doing it: every joint and chain that moves.
    Try {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// What: "close big-end.left.bore 8 thou", "make crank-pin.left 203.2 mm",
        /// "line wedge.left 1.5 mm".
        #[arg(required = true)]
        acts: Vec<String>,
    },
    /// Record a decision.
    Decide {
        /// Engine folder.
        engine: PathBuf,
        /// Joint.
        joint: String,
        /// leave, close, clean up, re-metal, line or renew.
        repair: String,
        /// A size: big-end.left.bore="203.40 mm". Left out, the sizes are worked out.
        #[arg(long = "make", value_name = "FEATURE=SIZE")]
        make: Vec<String>,
        /// Who decided.
        #[arg(long)]
        by: String,
        /// Why.
        #[arg(long, default_value = "")]
        reason: String,
    },
    /// Strike out a reading: it stays on the record but no longer counts.
    StrikeOut {
        /// Engine folder.
        engine: PathBuf,
        /// Feature.
        feature: String,
        /// The figure, character for character as `joint` lists it.
        #[arg(allow_hyphen_values = true)]
        value: String,
        /// Station, when the figure stands at more than one.
        #[arg(long)]
        station: Option<String>,
        /// Direction, likewise.
        #[arg(long)]
        direction: Option<String>,
        /// Why it does not count.
        #[arg(long)]
        reason: String,
        /// Who says so.
        #[arg(long, default_value = "")]
        by: String,
    },
    /// What to machine every part to.
    MachineTo {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Put right as well what is within in service but beyond what it may be when put back.
        #[arg(long)]
        refit: bool,
    },
    /// Where everything in the motion is at a position of the wheels.
    Where {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Position: "left 40 past front", "right big end bottom", "left 1/3 from front going back".
        /// With --steps, where the turn begins; wheel angle 0 when left out.
        #[arg(required_unless_present = "steps")]
        position: Option<String>,
        /// Everything at so many equal steps of one forward turn.
        #[arg(long, value_name = "NUMBER")]
        steps: Option<usize>,
        /// Draw it: file to write (.svg). With --steps, one sheet of small pictures, or a folder
        /// for a picture a step where the name does not end in .svg.
        #[arg(long, value_name = "FILE")]
        svg: Option<PathBuf>,
        /// As if this were so: "close big-end.left.bore 8 thou", "left-box-rise = 1/2 in",
        /// "left throw = 13 1/16 in", "part piston.left mass = 240 lb". May be given many times.
        #[arg(long = "if", value_name = "CHANGE")]
        what_if: Vec<String>,
    },
    /// How far along the rail to bar the engine to bring something where it is wanted.
    Bring {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Where to: "right big end bottom".
        position: String,
        /// Where it stands now: "left 40 past front".
        #[arg(long, value_name = "POSITION")]
        from: String,
        /// Standard uncertainty of the angle it stands at now: "2 deg".
        #[arg(long, value_name = "ANGLE")]
        doubt: Option<String>,
        /// Draw it: file to write (.svg).
        #[arg(long, value_name = "FILE")]
        svg: Option<PathBuf>,
        /// As if this were so: "close big-end.left.bore 8 thou", "left-box-rise = 1/2 in",
        /// "left throw = 13 1/16 in", "part piston.left mass = 240 lb". May be given many times.
        #[arg(long = "if", value_name = "CHANGE")]
        what_if: Vec<String>,
    },
    /// Where to stop so that joints can be got at: windows of each, and windows they share.
    Reach {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Joints or features; all that have a window when none is named.
        jobs: Vec<String>,
        /// Where it stands now: "left 40 past front".
        #[arg(long, value_name = "POSITION")]
        from: String,
        /// Standard uncertainty of the angle it stands at now: "2 deg".
        #[arg(long, value_name = "ANGLE")]
        doubt: Option<String>,
        /// As if this were so: "close big-end.left.bore 8 thou", "left-box-rise = 1/2 in",
        /// "left throw = 13 1/16 in", "part piston.left mass = 240 lb". May be given many times.
        #[arg(long = "if", value_name = "CHANGE")]
        what_if: Vec<String>,
    },
    /// Piston clearances at both covers, what they rest on, and the bump test against them.
    Clearances {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Show every size and where its doubt comes from.
        #[arg(long)]
        all: bool,
        /// Draw it: file to write (.svg).
        #[arg(long, value_name = "FILE")]
        svg: Option<PathBuf>,
        /// As if this were so: "close big-end.left.bore 8 thou", "left-box-rise = 1/2 in",
        /// "left throw = 13 1/16 in", "part piston.left mass = 240 lb". May be given many times.
        #[arg(long = "if", value_name = "CHANGE")]
        what_if: Vec<String>,
    },
    /// What to change so that a piston stands in the middle, and what each change moves.
    Centre {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Cylinder.
        cylinder: String,
        /// Take the clearances from the bump test instead of the sizes.
        #[arg(long)]
        bump_test: bool,
        /// Front less back clearance wanted.
        #[arg(long, default_value = "0 mm", allow_hyphen_values = true)]
        wanted: String,
        /// As if this were so: "close big-end.left.bore 8 thou", "left-box-rise = 1/2 in",
        /// "left throw = 13 1/16 in", "part piston.left mass = 240 lb". May be given many times.
        #[arg(long = "if", value_name = "CHANGE")]
        what_if: Vec<String>,
    },
    /// Loads of the motion through a revolution: pins, bars, rods, tractive effort.
    Loads {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Speed: "30 mph".
        #[arg(long)]
        speed: String,
        /// Steam pressure for the whole stroke, or from which the cut-off diagram is drawn.
        #[arg(long, conflicts_with = "diagram")]
        pressure: Option<String>,
        /// Share of the stroke at cut-off: "30 %".
        #[arg(long, requires = "pressure")]
        cut_off: Option<String>,
        /// Indicator diagrams: CSV file of end,share,pressure.
        #[arg(long, value_name = "FILE")]
        diagram: Option<PathBuf>,
        /// Draw it: file to write (.svg).
        #[arg(long, value_name = "FILE")]
        svg: Option<PathBuf>,
        /// As if this were so: "close big-end.left.bore 8 thou", "left-box-rise = 1/2 in",
        /// "left throw = 13 1/16 in", "part piston.left mass = 240 lb". May be given many times.
        #[arg(long = "if", value_name = "CHANGE")]
        what_if: Vec<String>,
    },
    /// Balance weights wanted on every wheel, and hammer blow.
    Balance {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Speed: "30 mph".
        #[arg(long)]
        speed: String,
        /// A changed mass: "left reciprocating 5 kg", "right turning -3 kg". May be given many
        /// times.
        #[arg(long = "heavier", value_name = "CHANGE")]
        heavier: Vec<String>,
        /// As if this were so: "close big-end.left.bore 8 thou", "left-box-rise = 1/2 in",
        /// "left throw = 13 1/16 in", "part piston.left mass = 240 lb". May be given many times.
        #[arg(long = "if", value_name = "CHANGE")]
        what_if: Vec<String>,
    },
    /// Design the repair of a joint: sizes, forces, stresses, cautions; or of every joint that is
    /// beyond its limit.
    Design {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// Joint; left out, every joint beyond its limit.
        joint: Option<String>,
        /// Try another line of its duty: load="9 tonf", friction="0.05; 0.08; 0.12". May be given
        /// many times.
        #[arg(long = "with", value_name = "NAME=VALUE")]
        with: Vec<String>,
        /// What was read in pressing it: table (CSV) with the columns stroke and force.
        #[arg(long, value_name = "FILE.csv", requires = "joint")]
        press_record: Option<PathBuf>,
        /// Write the drawing.
        #[arg(long, value_name = "FILE.svg", requires = "joint")]
        svg: Option<PathBuf>,
        /// Write the sheet for the bench, .pdf or .html; of all joints into one .pdf.
        #[arg(long, value_name = "FILE.pdf")]
        sheet: Option<PathBuf>,
        /// Paper of a .pdf.
        #[arg(long, value_enum, default_value_t = Sheet::A4)]
        paper: Sheet,
        /// Write sheets and drawings of every joint designed into this folder.
        #[arg(long, value_name = "FOLDER", conflicts_with = "joint")]
        to: Option<PathBuf>,
        /// Write the film over clearances and loads, as a table (CSV).
        #[arg(long, value_name = "FILE.csv", requires = "joint")]
        map: Option<PathBuf>,
    },
    /// Limits and fits: the figures of a symbol, or the fits that give a wanted clearance.
    Fit {
        /// "60 H7/s6", "25 g6", "2 in RC4", "3 in FN2".
        symbol: Option<String>,
        /// Size, for finding a fit.
        #[arg(long, requires = "clearance", conflicts_with = "symbol")]
        size: Option<String>,
        /// Clearance wanted: "0.02 mm to 0.08 mm"; negative is interference.
        #[arg(long, requires = "size", allow_hyphen_values = true)]
        clearance: Option<String>,
        /// Inside of a tyre: its shrinkage by the old rules, and the heat to put it on.
        #[arg(long, value_name = "SIZE", conflicts_with_all = ["symbol", "size"])]
        tyre: Option<String>,
        /// Gap wanted when the hot tyre goes on.
        #[arg(long, requires = "tyre", default_value = "0.5 mm")]
        gap: String,
    },
    /// The oil film of a bearing by hand: eccentricity, thinnest film, friction, oil, temperature.
    Film(Box<FilmArgs>),
    /// Write the condition report.
    Report {
        /// Engine folder, or one engine file.
        engine: PathBuf,
        /// File to write: .pdf or .html.
        #[arg(long, default_value = "condition-report.pdf")]
        to: PathBuf,
        /// Paper.
        #[arg(long, value_enum, default_value_t = Sheet::A4)]
        paper: Sheet,
    },
    /// Serve the bench: pages for laptop and phone, over one engine's book.
    #[cfg(feature = "bench")]
    Bench {
        /// Book.
        #[arg(required_unless_present = "demo")]
        book: Option<PathBuf>,
        /// Address and port to serve at. Other than this machine only with a password for
        /// everybody who may write; it is then encrypted.
        #[arg(long, default_value = "127.0.0.1:8470", value_name = "ADDRESS")]
        at: std::net::SocketAddr,
        /// A name or address by which other machines reach this one, for the certificate. May be
        /// given many times.
        #[arg(long = "known-as", value_name = "NAME")]
        known_as: Vec<String>,
        /// Folder for the workshop's own certificate authority; beside the book when not given.
        #[arg(long, value_name = "FOLDER")]
        authority: Option<PathBuf>,
        /// Lay out the demo's book in a temporary folder and serve that.
        #[arg(long, conflicts_with = "book")]
        demo: bool,
    },
    /// Write a blank gauge sheet of a part or joint: sketches, and boxes to write the figures in.
    Sheet {
        /// Engine folder, one engine file, or a book.
        engine: PathBuf,
        /// Part or joint.
        about: String,
        #[command(flatten)]
        sheet: SheetArgs,
    },
    /// Write tags to tie to parts, with the codes of the book or of the engine's description.
    Tags {
        /// Book, engine folder or one engine file.
        engine: PathBuf,
        /// Parts; all that have a code when none is named.
        parts: Vec<String>,
        /// How large.
        #[arg(long, value_enum, default_value_t = TagSizeWord::TieOn)]
        size: TagSizeWord,
        #[command(flatten)]
        sheet: SheetArgs,
    },
    /// Write job cards, cautions first: of works as the plan has them, or as files describe them.
    Card {
        /// Engine folder, engine file or book.
        engine: PathBuf,
        /// Works.
        works: Vec<String>,
        /// A card described in a file (.toml). May be given many times.
        #[arg(long = "from", value_name = "CARD.toml")]
        from: Vec<PathBuf>,
        /// Works of the build, not of the strip.
        #[arg(long)]
        build: bool,
        #[command(flatten)]
        sheet: SheetArgs,
    },
    /// Write the dossier: everything the book says, each claim with the entry it rests on.
    Dossier {
        /// Book.
        book: PathBuf,
        #[command(flatten)]
        sheet: SheetArgs,
    },
    /// Plan the strip or the build: order, ways, where the engine stands, with a proven bound.
    Plan {
        /// Engine folder, engine file or book.
        engine: PathBuf,
        /// The build, not the strip.
        #[arg(long)]
        build: bool,
        /// Only as far as this work, part or joint.
        #[arg(long, value_name = "PART|WORK")]
        only_to: Option<String>,
        /// Search for so long; the plan then depends on the machine. Left out, a set number of
        /// plans is tried and the same input gives the same plan.
        #[arg(long, value_name = "S")]
        seconds: Option<f64>,
        /// Seed of the search.
        #[arg(long, default_value_t = 1)]
        seed: u64,
        /// Make a new plan from nothing, even where there is one.
        #[arg(long)]
        afresh: bool,
        /// Give the reason for every line.
        #[arg(long)]
        reasons: bool,
        /// Draw it: file to write (.svg).
        #[arg(long, value_name = "FILE")]
        svg: Option<PathBuf>,
        /// Write it as a table (.csv).
        #[arg(long, value_name = "FILE")]
        csv: Option<PathBuf>,
        #[command(flatten)]
        print: PrintArgs,
    },
    /// The day's list: what to do, what to fetch, cautions.
    Today {
        /// Engine folder, engine file or book.
        engine: PathBuf,
        /// The day; when not given, the one that the plan has come to.
        #[arg(long, value_name = "DAY")]
        day: Option<String>,
        /// From when: "10:30".
        #[arg(long, value_name = "TIME")]
        from: Option<String>,
        /// How many people are here.
        #[arg(long)]
        people: Option<u32>,
        /// How long they can work, hours.
        #[arg(long)]
        hours: Option<f64>,
        /// Kit and places that are not there: crane,pit.
        #[arg(long, value_delimiter = ',', value_name = "KIT")]
        without: Vec<String>,
        /// Weather: rain, wind, frost.
        #[arg(long, value_delimiter = ',', value_name = "WEATHER")]
        weather: Vec<String>,
        /// The build, not the strip.
        #[arg(long)]
        build: bool,
        #[command(flatten)]
        print: PrintArgs,
        /// Write its job cards: file to write (.pdf).
        #[arg(long, value_name = "FILE.pdf")]
        cards: Option<PathBuf>,
    },
    /// Record that a work is done; the plan mends itself around it.
    Done {
        /// Engine folder or book.
        engine: PathBuf,
        /// Work.
        work: String,
        /// The way it was done; when not given, the one planned.
        #[arg(long)]
        way: Option<String>,
        /// When it ended: "2026-10-10 11:30"; when not given, as planned.
        #[arg(long, value_name = "TIME")]
        when: Option<String>,
        /// Where the engine stands now: "left 40 past front".
        #[arg(long, value_name = "POSITION")]
        stands: Option<String>,
        /// Not done after all, or a way that goes after all.
        #[arg(long)]
        undo: bool,
        /// Why, with --undo.
        #[arg(long, default_value = "")]
        why: String,
        /// Who says so.
        #[arg(long, default_value = "")]
        by: String,
    },
    /// Record that a way will not go; the plan mends itself around it.
    Stuck {
        /// Engine folder or book.
        engine: PathBuf,
        /// Work.
        work: String,
        /// The way; when not given, the one planned.
        #[arg(long)]
        way: Option<String>,
        /// What happened: "will not move".
        #[arg(long, default_value = "")]
        why: String,
        /// When it was given up: "2026-10-10 11:30"; when not given, when it should have been done.
        #[arg(long, value_name = "TIME")]
        when: Option<String>,
        /// Who says so.
        #[arg(long, default_value = "")]
        by: String,
    },
    /// Why one work is before another; of one alone, how soon it can be done and what would help.
    Why {
        /// Engine folder, engine file or book.
        engine: PathBuf,
        /// Work, part or joint.
        first: String,
        /// Work, part or joint that comes later.
        then: Option<String>,
        /// The build, not the strip.
        #[arg(long)]
        build: bool,
    },
    /// A lift: masses, leg tensions, load transfer, jacks, cautions.
    Lift {
        /// Engine folder, engine file or book.
        engine: PathBuf,
        /// Lift; all of them in a list when not given.
        lift: Option<String>,
        /// Draw it: file to write (.svg).
        #[arg(long, value_name = "FILE", requires = "lift")]
        svg: Option<PathBuf>,
        #[command(flatten)]
        print: PrintArgs,
    },
    /// The book: the record that outlives the overhaul. A book file can stand wherever an engine
    /// folder can.
    Book {
        #[command(subcommand)]
        verb: crate::verbs::book::BookVerb,
    },
}

/// A bearing and what it runs in.
#[derive(Debug, clap::Args)]
pub(crate) struct FilmArgs {
    /// Journal: "8 in".
    #[arg(long)]
    pub(crate) diameter: String,
    /// Length of the metal along the journal: "7 3/8 in".
    #[arg(long)]
    pub(crate) length: String,
    /// Clearance on the diameter: "0.010 in".
    #[arg(long)]
    pub(crate) clearance: String,
    /// Load: "7 tonf".
    #[arg(long)]
    pub(crate) load: String,
    /// Speed of the journal in its bearing: "250 rpm".
    #[arg(long)]
    pub(crate) speed: String,
    /// Oil: two readings of its sheet, "220 mm2/s at 40 degC; 19 mm2/s at 100 degC", or one
    /// viscosity, "27 mPa s".
    #[arg(long)]
    pub(crate) oil: String,
    /// Oil as it enters: "30 degC".
    #[arg(long)]
    pub(crate) inlet: Option<String>,
    /// Air round the bearing; as the oil enters when not given.
    #[arg(long)]
    pub(crate) air: Option<String>,
    /// Heat that box or rod sheds to the air: "8 W/K".
    #[arg(long)]
    pub(crate) surface_heat: Option<String>,
    /// Density of the oil at 15 degC: "900 kg/m3".
    #[arg(long)]
    pub(crate) density: Option<String>,
    /// The inlet is flooded with fresh oil.
    #[arg(long)]
    pub(crate) flooded: bool,
    /// Arc of the brass: "160 deg"; a full ring when not given.
    #[arg(long)]
    pub(crate) arc: Option<String>,
    /// From the inlet edge of the brass to the load, as the journal turns; its middle when not given.
    #[arg(long, requires = "arc")]
    pub(crate) load_angle: Option<String>,
    /// Roughness Rq of journal and metal: "0.4 um; 0.8 um".
    #[arg(long)]
    pub(crate) finish: Option<String>,
    /// The load swings about its mean.
    #[arg(long, conflicts_with = "reversing")]
    pub(crate) swinging: bool,
    /// The load reverses every turn.
    #[arg(long)]
    pub(crate) reversing: bool,
    /// Write the film over 40 clearances and 40 loads, as a table (CSV).
    #[arg(long, value_name = "FILE.csv")]
    pub(crate) map: Option<PathBuf>,
}

/// Where a sheet goes and on what.
#[derive(Debug, clap::Args)]
pub(crate) struct SheetArgs {
    /// File to write: .pdf.
    #[arg(long, value_name = "FILE.pdf")]
    pub(crate) to: PathBuf,
    /// Paper.
    #[arg(long, value_enum, default_value_t = Sheet::A4)]
    pub(crate) paper: Sheet,
    /// Address of the shed's own pages, for the QR codes: `https://bench.local:8443`. Without it a
    /// code holds the name itself.
    #[arg(long, value_name = "URL")]
    pub(crate) address: Option<String>,
}

/// A sheet beside what is said.
#[derive(Debug, clap::Args)]
pub(crate) struct PrintArgs {
    /// Write its sheet: file to write (.pdf).
    #[arg(long, value_name = "FILE.pdf")]
    pub(crate) sheet: Option<PathBuf>,
    /// Paper of the sheet.
    #[arg(long, value_enum, default_value_t = Sheet::A4)]
    pub(crate) paper: Sheet,
}

/// How large a tag is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum TagSizeWord {
    /// 60 by 120 mm, tied on with wire.
    TieOn,
    /// 90 by 45 mm, for tins, drawers and shelves.
    Tin,
    /// 45 by 25 mm, for pins and bolts.
    Small,
    /// 180 by 130 mm, for wheels and frames.
    Large,
}

/// Paper size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Sheet {
    /// ISO A4.
    A4,
    /// US Letter.
    Letter,
}

/// Demo engines, both invented.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum DemoEngine {
    /// A six-coupled goods engine with two inside cylinders.
    Goods,
    /// A small narrow-gauge engine with outside cylinders.
    Narrow,
}
