//! Units that people write and that are refused on purpose, each with what to write instead.

use super::error::ParseErrorKind;
use super::fault::Fault;

/// The refusal for `word`, if it is one of those that have a reason of their own.
pub(super) fn fault_for(word: &str, at: usize) -> Option<Fault> {
    let lower = word.to_lowercase();
    let (reason, hint) = match lower.as_str() {
        "cst" | "centistokes" | "stokes" | "mm2/s" | "mm²/s" | "mm^2/s" | "m2/s" | "m²/s" => (
            "a kinematic viscosity, which needs the oil's density before a bearing can use it",
            "multiply by the density and write the dynamic viscosity: cSt x g/cm3 = cP",
        ),
        "sec redwood" | "redwood" | "ssu" | "sus" | "saybolt" => (
            "an outflow time of one make of viscometer, not a viscosity",
            "convert with the viscometer's table and write cP",
        ),
        "c" | "f" => (
            "one letter is not enough for a temperature scale",
            "write degC or degF for how hot, K or delta degF for how much hotter",
        ),
        "tenth" | "tenths" => (
            "a tenth of a thou to one shop and of a millimetre to another",
            "write 0.0003 in, 0.3 thou or 0.3 mm",
        ),
        "eighths" | "sixteenths" | "thirty-seconds" | "sixty-fourths" | "64ths" | "32nds"
        | "16ths" => ("a fraction is written with its line", "write 3/16 in"),
        "psig" | "psia" | "psi g" | "psi a" | "barg" | "bara" | "bar g" | "bar a" | "bar(g)"
        | "bar(a)" => (
            "whether a pressure is above the atmosphere's or above nothing is not kept with it",
            "write psi or bar, and say in the remark which it is",
        ),
        "#" | "no" | "no." | "swg" | "bwg" => (
            "a number of a gauge or screw series is not a size",
            "write the size of that number in mm or in",
        ),
        "lbf/ft" | "lb/ft" | "lbs/ft" => (
            "a weight per foot of length, which may be a mass or a force",
            "write lbf/in for a spring rate, or the whole mass in lb",
        ),
        "gpm" | "gph" => (
            "gallons of which country, per what",
            "write gal/min or gal/h for the imperial gallon, or l/min",
        ),
        _ => return None,
    };
    Some(Fault::new(ParseErrorKind::RefusedUnit, at, format!("`{word}`: {reason}"), hint))
}
