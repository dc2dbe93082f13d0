//! The shapes of a report.

use crate::text::{Line, Narrow, Words};
use serde::Serialize;

macro_rules! shapes {
    ($($(#[$doc:meta])* $name:ident { $($field:ident : $kind:ty),+ $(,)? })+) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Debug, Serialize)]
            pub(crate) struct $name { $(pub(crate) $field: $kind,)+ }
        )+
    };
}

shapes! {
    /// A whole condition report.
    Report {
        paper: &'static str,
        head: Head,
        signs: Vec<Sign>,
        found: Vec<Words>,
        tiles: Vec<Tile>,
        worst: Vec<JointRow>,
        rest: Vec<JointRow>,
        chains: Vec<ChainRow>,
        loose: Vec<LimitRow>,
        suspicious: Vec<SuspicionRow>,
        swaps: Vec<Words>,
        findings: Vec<FindingRow>,
        full: Vec<JointPage>,
        full_note: Words,
        machine_to: MachineToList,
        repairs: Vec<RepairPart>,
        gauges: Vec<GaugeRow>,
        cautions: Vec<Words>,
        not_considered: Vec<Words>,
    }

    /// Whose engine, and when.
    Head {
        engine: Words,
        railway: Words,
        pattern: Words,
        note: Words,
        overhaul_began: Words,
        judged_on: Words,
    }

    /// The sign of a verdict.
    Sign { word: &'static str, svg: String }

    /// A count with its verdict.
    Tile { verdict: &'static str, count: usize }

    /// A length in both systems.
    Pair { metric: String, imperial: String }

    /// A drawing.
    Shown { svg: String, width_pt: f64, height_pt: f64, alt: String }

    /// A joint in one row.
    JointRow {
        verdict: &'static str,
        refit: &'static str,
        id: Words,
        name: Words,
        kind: &'static str,
        measure: Words,
        of: Words,
        value: Option<Pair>,
        limit: Option<Pair>,
        because: Words,
        left: Words,
    }

    /// A figure against a limit.
    LimitRow {
        verdict: &'static str,
        of: Words,
        measure: &'static str,
        when: &'static str,
        limit: Pair,
        source: &'static str,
        note: Words,
        value: Option<Pair>,
        guard: Pair,
        margin: Option<Pair>,
        probability: String,
        left: String,
        remark: Words,
    }

    /// A chain in one row.
    ChainRow {
        verdict: &'static str,
        id: Words,
        name: Words,
        length: Option<Pair>,
        as_made: Option<Pair>,
        change: Option<Pair>,
        limits: Vec<LimitRow>,
        terms: Vec<Words>,
        remark: Words,
    }

    /// A reading that looks wrong, or several of one surface that look wrong alike.
    SuspicionRow {
        feature: Words,
        places: Words,
        texts: Words,
        rows: Words,
        gauge: Words,
        slip: &'static str,
        why: Words,
        meant: Option<Pair>,
        set_aside: bool,
    }

    /// A condition found.
    FindingRow { feature: Words, condition: &'static str, by: Words, when: Words, note: Words }

    /// A joint set out in full.
    JointPage {
        verdict: &'static str,
        refit: &'static str,
        id: Words,
        name: Words,
        kind: &'static str,
        measures: Vec<MeasureRow>,
        surfaces: Vec<SurfacesTable>,
        bars: Vec<Shown>,
        plots: Vec<Shown>,
        plots_note: Words,
        limits: Vec<LimitRow>,
        budget_of: Words,
        budget_note: Words,
        budget: Vec<BudgetRow>,
        readings: Vec<ReadingsTable>,
        options: Vec<OptionRow>,
        impossible: Vec<Words>,
        decisions: Vec<Words>,
        cautions: Vec<Words>,
        also: Vec<Words>,
    }

    /// A measure with its expanded uncertainty.
    MeasureRow { measure: Words, value: Pair, strong: bool }

    /// Surfaces of a joint side by side.
    SurfacesTable { features: Vec<Words>, rows: Vec<SurfaceRow> }

    /// One measure of several surfaces.
    SurfaceRow { measure: &'static str, cells: Vec<Option<Pair>> }

    /// A contributor to an uncertainty.
    BudgetRow { source: Words, u: Pair, share_percent: f64 }

    /// Readings of one feature as they were written.
    ReadingsTable {
        feature: Words,
        about: Words,
        sessions: Vec<Words>,
        directions: Vec<String>,
        rows: Vec<ReadingsRow>,
        listed: Vec<ListedReading>,
    }

    /// Readings of one station in one session.
    ReadingsRow { session: String, station: Words, cells: Vec<Vec<ReadingCell>> }

    /// One reading.
    ReadingCell { text: Words, state: &'static str }

    /// One of readings that are too many for columns.
    ListedReading { session: String, place: Words, text: Words, state: &'static str }

    /// What could be done.
    OptionRow {
        repair: &'static str,
        words: Words,
        recommended: bool,
        targets: Vec<TargetRow>,
        after: Option<Pair>,
        probability: String,
        moves: Vec<MoveRow>,
        moves_more: usize,
    }

    /// A size to make.
    TargetRow { feature: Words, to: Pair, tolerance: Pair, way: &'static str, suit: Words }

    /// What else moves.
    MoveRow { id: Words, words: Words, before: &'static str, after: &'static str }

    /// The machine-to list.
    MachineToList {
        lines: Vec<MachineToRow>,
        liners: Vec<LinerRow>,
        open: Vec<OpenRow>,
        families: Vec<FamilyRow>,
    }

    /// A surface to make.
    MachineToRow {
        joint: Words,
        part: Words,
        feature: Words,
        name: Words,
        now: Option<Pair>,
        to: Pair,
        tolerance: Pair,
        repair: &'static str,
        way: &'static str,
        suit: Words,
        decided: Words,
        conflict: bool,
    }

    /// A liner.
    LinerRow { joint: Words, thickness: Pair }

    /// A joint still open.
    OpenRow { joint: Words, why: Words }

    /// A family.
    FamilyRow { family: Words, members: Vec<Words>, common: Pair }

    /// A gauge.
    GaugeRow {
        id: Words,
        kind: Words,
        error: Pair,
        repeatability: Pair,
        repeats: Words,
        due: Words,
        readings: usize,
        lapsed: usize,
    }

    /// The machine-to list as a sheet of its own.
    MachineToSheet {
        paper: &'static str,
        head: Head,
        cards: Vec<Card>,
        list: MachineToList,
        cautions: Vec<Words>,
    }

    /// A surface to make, with its sketch.
    Card { row: MachineToRow, sketch: Shown }

    /// A blank gauge sheet.
    GaugeSheet {
        paper: &'static str,
        head: Head,
        about_word: &'static str,
        about: Words,
        name: Words,
        tag: Words,
        side: Words,
        features: Vec<GaugeBlock>,
        cautions: Vec<Words>,
    }

    /// A surface to gauge.
    GaugeBlock {
        feature: Words,
        name: Words,
        kind: &'static str,
        part: Words,
        as_made: Option<[String; 2]>,
        last: Words,
        sketch: Shown,
        qr: String,
        qr_words: String,
        qr_note: &'static str,
        gauges: Vec<Words>,
        lapsed: Vec<Words>,
        notes: Vec<Words>,
        rows_are: &'static str,
        grids: Vec<GaugeGrid>,
        conditions: Vec<&'static str>,
    }

    /// Boxes that have their columns in common.
    GaugeGrid { columns: Vec<Words>, rows: Vec<GaugeLine> }

    /// Boxes of a station.
    GaugeLine { station: Words, boxes: Vec<Option<GaugeBox>> }

    /// A box for one figure.
    GaugeBox { number: usize, previous: Words }

    /// Tags to cut apart.
    TagSheet {
        paper: &'static str,
        size: &'static str,
        width_mm: f64,
        height_mm: f64,
        across: usize,
        down: usize,
        cells: Vec<TagCell>,
    }

    /// A tag.
    TagCell { qr: String, code: Words, name: Words, part: Words, side: Words, engine: Words }

    /// Engine and what stands in the foot of a sheet that no judgement is behind.
    PlainHead { engine: Words, foot: Words }

    /// Job cards.
    JobCards { paper: &'static str, head: PlainHead, cards: Vec<CardContent> }

    /// A job card.
    CardContent {
        work: Words,
        engine: Words,
        title: Words,
        when: Words,
        takes: Words,
        qr: String,
        cautions: Vec<Words>,
        people: Vec<Words>,
        kit: Vec<Words>,
        position: Words,
        position_drawing: Option<Shown>,
        first: Vec<Words>,
        parts: Vec<PartRow>,
        steps: Vec<StepRow>,
        lifts: Vec<LiftRow>,
        lift_drawing: Option<Shown>,
        notes: Vec<Words>,
    }

    /// A part on a card.
    PartRow { part: Words, name: Words, tag: Narrow<12>, to: Words }

    /// A step.
    StepRow { text: Words, caution: Words, figure: Words, hold_point: Words }

    /// A lift on a card.
    LiftRow {
        what: Narrow<12>,
        mass: Narrow<12>,
        with: Narrow<12>,
        leg: Narrow<12>,
        limit: Narrow<12>,
        share: Narrow<8>,
    }

    /// A plan.
    PlanContent {
        paper: &'static str,
        head: PlainHead,
        title: Words,
        from: Words,
        takes: Words,
        by: Words,
        notes: Vec<Words>,
        cautions: Vec<Words>,
        days: Vec<DayContent>,
        not_considered: Vec<Words>,
    }

    /// A day.
    DayContent { title: Words, position: Words, chart: Option<Shown>, works: Vec<PlanRow> }

    /// A work of a day.
    PlanRow {
        from: Narrow<10>,
        to: Narrow<10>,
        work: Words,
        people: Narrow<9>,
        kit: Narrow<10>,
        note: Words,
    }

    /// A lift.
    LiftContent {
        paper: &'static str,
        head: PlainHead,
        title: Words,
        mass: Words,
        with: Words,
        cautions: Vec<Words>,
        tables: Vec<TableContent>,
        drawings: Vec<Shown>,
        notes: Vec<Words>,
        steps: Vec<StepRow>,
        not_considered: Vec<Words>,
    }

    /// Figures with headings.
    TableContent { title: Words, heading: Vec<Narrow<12>>, rows: Vec<Vec<Narrow<12>>> }

    /// Repairs for the bench.
    RepairSheets { paper: &'static str, head: Head, sheets: Vec<RepairContent> }

    /// A repair.
    RepairContent {
        title: &'static str,
        joint: Words,
        name: Words,
        kind: &'static str,
        verdict: &'static str,
        words: Words,
        decided: Words,
        cautions: Vec<Words>,
        sketches: Vec<Shown>,
        upright: Vec<Shown>,
        turned: Vec<Shown>,
        make: Vec<RepairSection>,
        other: Vec<RepairSection>,
        press_readings: usize,
        absent: Vec<AbsentRow>,
        given: Vec<RestsRow>,
        not_considered: Vec<Words>,
    }

    /// Lines of a repair that belong together.
    RepairSection { title: Words, rows: Vec<RepairRow> }

    /// A line.
    RepairRow {
        label: Words,
        first: Words,
        second: Words,
        note: Words,
        stands: &'static str,
        figure: bool,
    }

    /// What was not worked out.
    AbsentRow { what: Words, why: Words }

    /// What a repair rests on.
    RestsRow { name: Words, what: Words, text: Words, from: Words }

    /// A repair in the report.
    RepairPart {
        joint: Words,
        name: Words,
        repair: &'static str,
        words: Words,
        decided: Words,
        make: Vec<RepairSection>,
        bad: Vec<RepairRow>,
        absent: Vec<Words>,
        cautions: Vec<Words>,
    }

    /// A dossier.
    DossierContent {
        paper: &'static str,
        head: PlainHead,
        book: Words,
        begun: Words,
        last: Words,
        sequence: u64,
        hash: String,
        checked: Words,
        judged: Option<JudgedPart>,
        people: Vec<PersonRow>,
        descriptions: Vec<RecordRow>,
        found: Vec<RecordRow>,
        readings: Vec<SurfaceReadings>,
        decisions: Vec<DecisionRow>,
        work: Vec<RecordRow>,
        hold_points: Vec<HoldRow>,
        sign_offs: Vec<RecordRow>,
        concessions: Vec<RecordRow>,
        past_concessions: Vec<RecordRow>,
        calibrations: Vec<RecordRow>,
        places: Vec<RecordRow>,
        notes: Vec<RecordRow>,
        struck: Vec<RecordRow>,
        photographs: Vec<PhotographRow>,
        open: Vec<RecordRow>,
        entries: Vec<EntryLine>,
    }

    /// What a dossier has of a judgement.
    JudgedPart {
        head: Head,
        counts: Vec<Words>,
        joints: Vec<JointRow>,
        limits: Vec<LimitLine>,
        sources: Vec<Words>,
        suspicious: Vec<SuspicionRow>,
        gauges: Vec<GaugeRow>,
        machine_to: MachineToList,
        cautions: Vec<Words>,
        not_considered: Vec<Words>,
    }

    /// A limit and what was found.
    LimitLine {
        of: Words,
        measure: &'static str,
        when: &'static str,
        limit: Pair,
        value: Option<Pair>,
        verdict: &'static str,
        source: usize,
    }

    /// Something said.
    RecordRow {
        entry: String,
        day: Words,
        by: Words,
        about: Words,
        text: Words,
        note: Words,
        struck: Words,
    }

    /// A person.
    PersonRow { name: Words, roles: Words, entry: String, wrote: u64 }

    /// Readings of a surface.
    SurfaceReadings { feature: Words, name: Words, sittings: Vec<SittingRows> }

    /// Readings taken together.
    SittingRows { words: Words, readings: Vec<ReadingItem> }

    /// A reading with its entry.
    ReadingItem { sequence: u64, place: Words, text: Words, struck: bool }

    /// A decision with what stood before it.
    DecisionRow {
        record: RecordRow,
        make: Vec<Words>,
        rests_on: Vec<String>,
        replaced_by: Option<String>,
    }

    /// A hold point.
    HoldRow { set: RecordRow, reached: Option<RecordRow>, released: Option<RecordRow> }

    /// A photograph.
    PhotographRow { record: RecordRow, picture: String }

    /// An entry in the appendix.
    EntryLine { entry: String, time: Line, by: Words, words: Line, struck: bool }
}
