//! The main job against something outside: published figures where there are some, hand
//! calculations where there are none, each named at the check.

use engine::description::SourceText;
use engine::judge::{Judgement, Source, Verdict};
use engine::model::{Date, Measure};
use engine::readings::read_table;

const HEAD: &str = r#"
[engine]
name = "Check"

[workshop]
thermometer = "0 K"
soak-doubt = "0 K"

[[material]]
id = "steel"
expansion = "11.5e-6 /K"
expansion-doubt = "0 /K"
[[material]]
id = "bronze"
expansion = "18e-6 /K"
expansion-doubt = "0 /K"

[[gauge]]
id = "M"
kind = "micrometer"
error = "0.00346410161513775 mm"
repeat = "0 mm"
material = "steel"
[[gauge]]
id = "N"
kind = "micrometer"
error = "0.00346410161513775 mm"
repeat = "0 mm"
material = "steel"

[[part]]
id = "axle"
material = "steel"
[[part]]
id = "brass"
material = "bronze"

[[feature]]
id = "journal"
part = "axle"
kind = "journal"
as-made = "200 mm"
[[feature]]
id = "bore"
part = "brass"
kind = "bore"
as-made = "200 mm"
[[joint]]
id = "bearing"
kind = "running"
inner = "journal"
outer = "bore"
"#;

fn judged(description: &str, table: &str) -> Judgement {
    let source = SourceText { file: "engine.toml".into(), text: format!("{HEAD}{description}") };
    let mut loaded = engine::load(vec![source], Date::new(2026, 11, 20).ok());
    let read = read_table(&mut loaded.engine, 0, table.as_bytes()).expect("readable");
    assert_eq!(read.refused_count(), 0, "{:?}", read.refused);
    let (engine, problems) = loaded.finish();
    assert!(problems.is_empty(), "{problems:#?}");
    Judgement::of(engine)
}

fn joint_measure(j: &Judgement, joint: &str, measure: Measure) -> (f64, f64) {
    let ix = j.engine().joint_by_id(joint).expect("there");
    let e = j.joint(ix).measure(measure).expect("measured");
    (e.si(), e.u())
}

/// Handbook expansions, steel 11.5e-6 and tin bronze 18e-6 per K: a 200 mm bronze bore and a steel
/// journal read alike at 5 degC differ by 200 x 6.5e-6 x 15 = 0.0195 mm at 20 degC.
#[test]
fn a_cold_bronze_bore_grows_when_brought_to_20_degc() {
    let j = judged(
        "",
        "feature,reading,gauge,temperature\njournal,200.000 mm,M,5\nbore,200.000 mm,M,5\n",
    );
    let (clearance, _) = joint_measure(&j, "bearing", Measure::Clearance);
    // The product of both expansions, 200 x 1.6e-8, is below a nanometre's worth of the check.
    assert!((clearance - 0.0195e-3).abs() < 0.01e-6, "{clearance}");
}

/// JCGM 100:2008 5.2 and F.1.2.3: an error common to two figures goes out of their difference. Limits of
/// error 2 sqrt 3 um are a standard uncertainty of 2 um; last figure written 1 um: 1/sqrt 12 um a reading.
#[test]
fn the_zero_error_of_one_gauge_does_not_count_twice() {
    let one = "feature,reading,gauge,temperature\njournal,200.000 mm,M,20\nbore,200.200 mm,M,20\n";
    let two = one.replace("200.200 mm,M", "200.200 mm,N");
    let last_figure = (2.0f64 / 12.0).sqrt() * 1e-6;
    let (_, shared) = joint_measure(&judged("", one), "bearing", Measure::Clearance);
    assert!((shared - last_figure).abs() < 1e-12, "only the last figures are left: {shared}");
    let (_, apart) = joint_measure(&judged("", &two), "bearing", Measure::Clearance);
    assert!((apart - (8e-12 + last_figure * last_figure).sqrt()).abs() < 1e-12, "{apart}");
}

/// ISO 14253-1:2017, default confidence 95 % one-sided, and JCGM 106:2012 8.3.2 (both from memory):
/// bore 60 H7 (0 to +30 um) with u = 2 um is proven from +3.3 to +26.7 um.
#[test]
fn a_bore_60_h7_is_proven_between_its_guard_bands() {
    let description = "[[feature]]\nid = \"h\"\npart = \"axle\"\nkind = \"hole\"\nas-made = \"60 mm\"\n\
        [[limit]]\non = \"h\"\nof = \"size\"\nwhen = \"made\"\nmin = \"60 mm\"\nmax = \"60.030 mm\"\nsource = \"standard\"\nnote = \"ISO 286-2, 60 H7\"\n\
        [[feature]]\nid = \"p\"\npart = \"axle\"\nkind = \"pin\"\nas-made = \"60 mm\"\n\
        [[joint]]\nid = \"fit\"\nkind = \"fitted\"\ninner = \"p\"\nouter = \"h\"\n";
    let verdict = |um: f64| {
        // Written to a ten-millionth, so that the last figure adds nothing to the 2 um.
        let table = format!(
            "feature,reading,gauge,temperature\nh,{:.7} mm,M,20\np,60.0000000 mm,M,20\n",
            60.0 + um / 1000.0
        );
        let j = judged(description, &table);
        let ix = j.engine().joint_by_id("fit").expect("there");
        let limit =
            j.joint(ix).limits.iter().find(|l| l.measure == Measure::Size).expect("judged").clone();
        assert!((limit.guard_si - 3.29e-6).abs() < 0.01e-6, "guard {}", limit.guard_si);
        limit.verdict
    };
    assert_eq!(verdict(-3.4), Verdict::Beyond);
    assert_eq!(verdict(-3.2), Verdict::CannotTell);
    assert_eq!(verdict(3.2), Verdict::CannotTell);
    assert_eq!(verdict(3.4), Verdict::Within);
    assert_eq!(verdict(26.6), Verdict::Within);
    assert_eq!(verdict(26.8), Verdict::CannotTell);
    assert_eq!(verdict(33.4), Verdict::Beyond);
}

/// Hand calculation. Slot 300 mm, halves 120 + 125 mm, wedge 1 in 12, 52 mm thick where it bears at
/// stand zero. It stands at 24 mm: 52 - 24/12 = 50 mm there. 300 - 245 - 50 = 5 mm nobody accounts for. Least
/// stand 6 mm: (24 - 6)/12 = 1.5 mm still to take up. Mid-travel at (6 + 78)/2 = 42 mm: the wedge gives
/// up (42 - 24)/12 = 1.5 mm, so one liner of 5 + 1.5 = 6.5 mm takes the place of the packing.
#[test]
fn a_packing_behind_a_wedge_is_found_and_replaced() {
    let description = r#"
[[feature]]
id = "slot"
part = "axle"
kind = "gap"
as-made = "300 mm"
[[feature]]
id = "fixed"
part = "axle"
kind = "thickness"
as-made = "120 mm"
[[feature]]
id = "moving"
part = "axle"
kind = "thickness"
as-made = "125 mm"
[[feature]]
id = "wedge"
part = "axle"
kind = "thickness"
as-made = "52 mm"
[[feature]]
id = "stand"
part = "axle"
kind = "stand"
[[joint]]
id = "cotter"
kind = "wedged"
inner = "wedge"
outer = "slot"
fills = ["fixed", "moving"]
taper = "1 in 12"
stand = "stand"
stand-least = "6 mm"
stand-most = "78 mm"
[[limit]]
on = "cotter"
of = "unaccounted"
max = "0.2 mm"
source = "common practice"
"#;
    let table = "feature,reading,gauge,temperature\nslot,300.00 mm,M,20\nfixed,120.00 mm,M,20\nmoving,125.00 mm,M,20\nwedge,52.00 mm,M,20\nstand,24.0 mm,M,20\n";
    let j = judged(description, table);
    let near = |measure, expected: f64| {
        let (value, _) = joint_measure(&j, "cotter", measure);
        assert!((value - expected).abs() < 1e-9, "{measure}: {value}");
    };
    near(Measure::Unaccounted, 5e-3);
    near(Measure::TravelLeft, 1.5e-3);
    let ix = j.engine().joint_by_id("cotter").expect("there");
    assert_eq!(j.joint(ix).verdict, Verdict::Beyond);
    let options = engine::repair::options_for(&j, ix);
    let liner = options.iter().find_map(|o| o.liner_m).expect("a liner is offered");
    assert!((liner - 6.5e-3).abs() < 1e-9, "{liner}");
    let after = options
        .iter()
        .find(|o| o.liner_m.is_some())
        .and_then(|o| o.after.clone())
        .expect("worked out");
    assert!((after.si() - 3e-3).abs() < 1e-9, "half the travel as thickness: {}", after.si());
}

/// JCGM 101:2008 9.2.3 Table 3 (from memory): the sum of four rectangular figures, each of standard
/// uncertainty 1, has 95 % within +-3.88, where the first-order normal gives +-3.92. Here four
/// sizes as made with tolerances sqrt 3 um.
#[test]
fn a_chain_of_four_rectangular_sizes() {
    let mut description = String::new();
    for i in 1..=4 {
        description += &format!(
            "[[feature]]\nid = \"f{i}\"\npart = \"axle\"\nkind = \"length\"\nas-made = \"10 mm\"\ntolerance = \"0.00173205080756888 mm\"\nassume-as-made = true\n"
        );
    }
    description += "[[chain]]\nid = \"sum\"\nterms = [\"+ f1\", \"+ f2\", \"+ f3\", \"+ f4\"]\n";
    let j = judged(&description, "feature,reading,gauge\njournal,200.000 mm,M\n");
    let chain = j.chain(j.engine().chain_by_id("sum").expect("there"));
    let length = chain.length.as_ref().expect("as made serves");
    assert!((length.si() - 0.04).abs() < 1e-15);
    assert!((length.u() - 2e-6).abs() < 1e-15, "{}", length.u());
    assert_eq!(chain.assumed.len(), 4);
    let simulated =
        length.simulate(j.features(), (None, None), 1_000_000, 7).expect("enough draws");
    let interval = simulated.outcome.symmetric_interval(0.95).expect("a probability");
    let half = (interval.high - interval.low) / 2.0;
    assert!((half - 3.88e-6).abs() < 0.01e-6, "{half}");
    // Four half widths of sqrt 3 um at once.
    assert!((simulated.worst_case.1 - 0.04 - 4.0 * 3f64.sqrt() * 1e-6).abs() < 1e-12);
}

/// A budget names where the doubt comes from, and its shares make a whole.
#[test]
fn a_budget_adds_up() {
    let j =
        judged("", "feature,reading,gauge,temperature\njournal,200.00 mm,M,9\nbore,200.20 mm,N,\n");
    let ix = j.engine().joint_by_id("bearing").expect("there");
    let clearance = j.joint(ix).measure(Measure::Clearance).expect("measured");
    let parts = clearance.contributors();
    let share: f64 = parts.iter().map(|(_, _, s)| s).sum();
    assert!((share - 1.0).abs() < 1e-12, "{parts:?}");
    assert!(
        parts.iter().any(|(s, ..)| *s == Source::AssumedTemperature),
        "one row gave no temperature: {parts:?}"
    );
}
