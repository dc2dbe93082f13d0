//! The table of units. One row, one unit; factors exact by definition.
//!
//! The source of every factor is in the group's comment. A factor with an endless decimal is
//! written as a quotient of two exact decimals.

// the exact digits of a literal are used besides its rounded value
#![allow(clippy::excessive_precision)]

use super::{Scale, Unit};
use crate::decimal::Decimal;
use crate::{Dimension, System};

macro_rules! scale {
    ($numerator:literal) => {
        scale!($numerator / 1.0)
    };
    ($numerator:literal / $denominator:literal) => {
        Scale {
            numerator: $numerator,
            denominator: $denominator,
            shift: 0.0,
            exact_numerator: Decimal::of_literal(stringify!($numerator)),
            exact_denominator: Decimal::of_literal(stringify!($denominator)),
            exact_shift: Decimal::ZERO,
            times_pi: false,
        }
    };
    (pi $numerator:literal / $denominator:literal) => {
        Scale { times_pi: true, ..scale!($numerator / $denominator) }
    };
    (shift $shift:literal, $numerator:literal / $denominator:literal) => {
        Scale {
            shift: $shift,
            exact_shift: Decimal::of_literal(stringify!($shift)),
            ..scale!($numerator / $denominator)
        }
    };
}

macro_rules! system {
    (Metric) => {
        Some(System::Metric)
    };
    (Imperial) => {
        Some(System::Imperial)
    };
    (Both) => {
        None
    };
}

macro_rules! units {
    ($($id:ident $dimension:ident $system:ident $symbol:literal $name:literal
       [$($scale:tt)+] $spellings:expr;)+) => {
        impl Unit {
            $(
                #[doc = concat!("The ", $name, ".")]
                pub const $id: Unit = Unit {
                    symbol: $symbol,
                    name: $name,
                    dimension: Dimension::$dimension,
                    scale: scale!($($scale)+),
                    system: system!($system),
                    spellings: &$spellings,
                };
            )+
        }
        pub(super) static ALL: &[Unit] = &[$(Unit::$id),+];
    };
}

units! {
    NUMBER Number Both "" "plain number" [1.0] [];
    PERCENT Number Both "%" "per cent" [1.0 / 100.0] ["percent", "per cent"];
    PARTS_PER_MILLION Number Both "ppm" "part per million" [1.0 / 1000000.0] [];
    // Slopes and allowances: a shrink allowance is given in thou per inch of diameter.
    THOU_PER_INCH Number Imperial "thou/in" "thousandth of an inch per inch" [1.0 / 1000.0]
        ["thou/inch", "mil/in", "mils/in"];
    INCH_PER_FOOT Number Imperial "in/ft" "inch per foot" [1.0 / 12.0] ["inch/foot"];
    MILLIMETRE_PER_METRE Number Metric "mm/m" "millimetre per metre" [1.0 / 1000.0] ["mm/metre"];
    MICROMETRE_PER_METRE Number Metric "µm/m" "micrometre per metre" [1.0 / 1000000.0] ["um/m"];

    // Length. 1 yd = 0.9144 m: international yard and pound agreement, 1959. A thou is a
    // thousandth of an inch, here and in every British shop; a hundredth is a hundredth of a
    // millimetre, the division of a metric dial gauge (common practice).
    METRE Length Metric "m" "metre" [1.0] ["metre", "metres", "meter", "meters"];
    CENTIMETRE Length Metric "cm" "centimetre" [1.0 / 100.0]
        ["centimetre", "centimetres", "centimeter", "centimeters"];
    MILLIMETRE Length Metric "mm" "millimetre" [1.0 / 1000.0]
        ["millimetre", "millimetres", "millimeter", "millimeters"];
    HUNDREDTH Length Metric "hundredths" "hundredth of a millimetre" [1.0 / 100000.0]
        ["hundredth", "hundredth mm", "hundredths mm", "hundredths of a mm"];
    MICROMETRE Length Metric "µm" "micrometre" [1.0 / 1000000.0]
        ["um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"];
    NANOMETRE Length Metric "nm" "nanometre" [1.0 / 1000000000.0] ["nanometre", "nanometres"];
    KILOMETRE Length Metric "km" "kilometre" [1000.0] ["kilometre", "kilometres"];
    INCH Length Imperial "in" "inch" [0.0254] ["\"", "''", "inch", "inches", "ins"];
    THOU Length Imperial "thou" "thousandth of an inch" [0.0000254]
        ["th", "thous", "mil", "mils", "thousandth", "thousandths"];
    FOOT Length Imperial "ft" "foot" [0.3048] ["'", "foot", "feet"];
    YARD Length Imperial "yd" "yard" [0.9144] ["yard", "yards", "yds"];
    MILE Length Imperial "mile" "statute mile" [1609.344] ["miles"];

    SQUARE_METRE Area Metric "m²" "square metre" [1.0] ["sq m", "square metre", "square metres"];
    SQUARE_CENTIMETRE Area Metric "cm²" "square centimetre" [1.0 / 10000.0] ["sq cm"];
    SQUARE_MILLIMETRE Area Metric "mm²" "square millimetre" [1.0 / 1000000.0]
        ["sq mm", "square millimetre", "square millimetres"];
    SQUARE_INCH Area Imperial "in²" "square inch" [0.00064516]
        ["sq in", "square inch", "square inches", "sq ins"];
    SQUARE_FOOT Area Imperial "ft²" "square foot" [0.09290304]
        ["sq ft", "square foot", "square feet"];

    // Volume. The gallon is the imperial one, 4.54609 litres exactly (Weights and Measures Act
    // 1985); the US gallon is 231 in3 and has to be written as such.
    CUBIC_METRE Volume Metric "m³" "cubic metre" [1.0] ["cubic metre", "cubic metres"];
    LITRE Volume Metric "l" "litre" [1.0 / 1000.0]
        ["L", "ltr", "litre", "litres", "liter", "liters"];
    MILLILITRE Volume Metric "ml" "millilitre" [1.0 / 1000000.0]
        ["mL", "millilitre", "millilitres"];
    CUBIC_CENTIMETRE Volume Metric "cm³" "cubic centimetre" [1.0 / 1000000.0] ["cc", "cu cm"];
    CUBIC_MILLIMETRE Volume Metric "mm³" "cubic millimetre" [1.0 / 1000000000.0] ["cu mm"];
    CUBIC_INCH Volume Imperial "in³" "cubic inch" [0.000016387064]
        ["cu in", "cubic inch", "cubic inches"];
    CUBIC_FOOT Volume Imperial "ft³" "cubic foot" [0.028316846592]
        ["cu ft", "cubic foot", "cubic feet"];
    GALLON Volume Imperial "gal" "gallon (imperial, 4.54609 litres)" [0.00454609]
        ["gallon", "gallons", "imperial gallon", "imperial gallons", "imp gal", "UK gal"];
    PINT Volume Imperial "pint" "pint (imperial, an eighth of a gallon)" [0.00056826125]
        ["pints"];
    US_GALLON Volume Imperial "US gal" "US gallon (231 cubic inches)" [0.003785411784]
        ["US gallon", "US gallons"];

    DEGREE Angle Both "°" "degree of arc" [pi 1.0 / 180.0] ["deg", "degree", "degrees", "degs"];
    ARC_MINUTE Angle Both "arcmin" "minute of arc" [pi 1.0 / 10800.0]
        ["min of arc", "mins of arc", "minute of arc", "minutes of arc", "arc min",
         "arc minute", "arc minutes"];
    ARC_SECOND Angle Both "arcsec" "second of arc" [pi 1.0 / 648000.0]
        ["sec of arc", "secs of arc", "second of arc", "seconds of arc", "arc sec",
         "arc second", "arc seconds"];
    RADIAN Angle Metric "rad" "radian" [1.0] ["radian", "radians"];
    MILLIRADIAN Angle Metric "mrad" "milliradian" [1.0 / 1000.0] ["milliradian", "milliradians"];
    REVOLUTION Angle Both "rev" "whole turn" [pi 2.0 / 1.0]
        ["turn", "turns", "revs", "revolution", "revolutions"];

    // Mass. 1 lb = 0.45359237 kg: international yard and pound agreement, 1959. A bare ton is
    // the long ton of 2240 lb, the ton of every British drawing and weight diagram; the tonne
    // is written t.
    KILOGRAM Mass Metric "kg" "kilogram" [1.0]
        ["kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes", "kgs"];
    GRAM Mass Metric "g" "gram" [1.0 / 1000.0] ["gram", "grams", "gramme", "grammes", "gm"];
    MILLIGRAM Mass Metric "mg" "milligram" [1.0 / 1000000.0] ["milligram", "milligrams"];
    TONNE Mass Metric "t" "tonne (1000 kg)" [1000.0]
        ["tonne", "tonnes", "metric ton", "metric tons"];
    TON Mass Imperial "long ton" "ton (long ton, 2240 lb)" [1016.0469088]
        ["ton", "tons", "long tons", "UK ton", "UK tons", "imperial ton", "imperial tons"];
    SHORT_TON Mass Imperial "short ton" "short ton (2000 lb)" [907.18474]
        ["short tons", "US ton", "US tons"];
    HUNDREDWEIGHT Mass Imperial "cwt" "hundredweight (112 lb)" [50.80234544]
        ["cwts", "hundredweight", "hundredweights"];
    QUARTER Mass Imperial "qr" "quarter (28 lb)" [12.70058636] ["qrs", "quarter", "quarters"];
    STONE Mass Imperial "stone" "stone (14 lb)" [6.35029318] ["st"];
    POUND Mass Imperial "lb" "pound" [0.45359237] ["lbs", "pound", "pounds", "lbm"];
    OUNCE Mass Imperial "oz" "ounce" [0.028349523125] ["ozs", "ounce", "ounces"];

    KILOGRAM_PER_CUBIC_METRE Density Metric "kg/m³" "kilogram per cubic metre" [1.0]
        ["kg/cubic metre"];
    GRAM_PER_CUBIC_CENTIMETRE Density Metric "g/cm³" "gram per cubic centimetre" [1000.0]
        ["g/cc", "kg/l", "kg/litre", "t/m3"];
    POUND_PER_CUBIC_INCH Density Imperial "lb/in³" "pound per cubic inch"
        [0.45359237 / 0.000016387064] ["lb/cu in", "lb/cubic inch"];
    POUND_PER_CUBIC_FOOT Density Imperial "lb/ft³" "pound per cubic foot"
        [0.45359237 / 0.028316846592] ["lb/cu ft", "lb/cubic foot"];

    // Force. A pound-force is a pound times standard gravity 9.80665 m/s2 exactly; a ton-force
    // is 2240 of them, not the 2000 of the American ton.
    NEWTON Force Metric "N" "newton" [1.0] ["newton", "newtons"];
    KILONEWTON Force Metric "kN" "kilonewton" [1000.0] ["kilonewton", "kilonewtons"];
    MEGANEWTON Force Metric "MN" "meganewton" [1000000.0] ["meganewton", "meganewtons"];
    KILOGRAM_FORCE Force Metric "kgf" "kilogram-force" [9.80665] ["kilogram force", "kp"];
    TONNE_FORCE Force Metric "tf" "tonne-force (1000 kgf)" [9806.65] ["tonne force"];
    POUND_FORCE Force Imperial "lbf" "pound-force" [4.4482216152605]
        ["lbsf", "pound force", "pounds force", "lb force"];
    TON_FORCE Force Imperial "tonf" "ton-force (long, 2240 lbf)" [9964.01641818352]
        ["tonsf", "ton force", "tons force", "long tonf", "long ton force", "UK tonf"];
    SHORT_TON_FORCE Force Imperial "short tonf" "short ton-force (2000 lbf)" [8896.443230521]
        ["short ton force", "short tons force", "US tonf"];

    NEWTON_PER_METRE ForcePerLength Metric "N/m" "newton per metre" [1.0] ["newton/metre"];
    NEWTON_PER_MILLIMETRE ForcePerLength Metric "N/mm" "newton per millimetre" [1000.0]
        ["kN/m", "newton/millimetre"];
    KILONEWTON_PER_MILLIMETRE ForcePerLength Metric "kN/mm" "kilonewton per millimetre"
        [1000000.0] ["MN/m"];
    POUND_FORCE_PER_INCH ForcePerLength Imperial "lbf/in" "pound-force per inch"
        [4.4482216152605 / 0.0254] ["lb/in", "lbs/in", "lb/inch", "lbf/inch"];
    TON_FORCE_PER_INCH ForcePerLength Imperial "tonf/in" "ton-force (2240 lbf) per inch"
        [9964.01641818352 / 0.0254]
        ["ton/in", "tons/in", "ton/inch", "tons/inch", "tonf/inch", "tonsf/in"];

    // Pressure. The inch of mercury is the conventional one, 25.4 x 133.322387415 Pa (BS 350-1).
    PASCAL Pressure Metric "Pa" "pascal" [1.0] ["pascal", "pascals", "N/m2"];
    KILOPASCAL Pressure Metric "kPa" "kilopascal" [1000.0] ["kilopascal", "kilopascals"];
    MEGAPASCAL Pressure Metric "MPa" "megapascal" [1000000.0]
        ["megapascal", "megapascals", "N/mm2", "N/sq mm"];
    GIGAPASCAL Pressure Metric "GPa" "gigapascal" [1000000000.0]
        ["gigapascal", "gigapascals", "kN/mm2"];
    BAR Pressure Metric "bar" "bar" [100000.0] ["bars"];
    MILLIBAR Pressure Metric "mbar" "millibar" [100.0] ["millibar", "millibars"];
    KILOGRAM_FORCE_PER_SQUARE_CENTIMETRE Pressure Metric "kgf/cm²"
        "kilogram-force per square centimetre" [98066.5] ["kg/cm2", "kgf/sq cm", "kg/sq cm"];
    POUND_FORCE_PER_SQUARE_INCH Pressure Imperial "psi" "pound-force per square inch"
        [4.4482216152605 / 0.00064516]
        ["lbf/in2", "lb/in2", "lbs/in2", "lbf/sq in", "lb/sq in", "lbs/sq in", "lb/square inch",
         "lbf/square inch"];
    THOUSAND_PSI Pressure Imperial "ksi" "thousand pounds-force per square inch"
        [4448.2216152605 / 0.00064516] [];
    TON_FORCE_PER_SQUARE_INCH Pressure Imperial "tonf/in²" "ton-force (2240 lbf) per square inch"
        [9964.01641818352 / 0.00064516]
        ["ton/in2", "tons/in2", "tonsf/in2", "tonf/sq in", "ton/sq in", "tons/sq in", "tsi",
         "ton/square inch", "tons/square inch", "tonf/square inch"];
    INCH_OF_MERCURY Pressure Imperial "inHg" "inch of mercury (conventional)" [3386.388640341]
        ["in Hg", "inches Hg", "inches of mercury", "in of mercury"];

    NEWTON_METRE Torque Metric "N m" "newton metre" [1.0] ["newton metre", "newton metres"];
    KILONEWTON_METRE Torque Metric "kN m" "kilonewton metre" [1000.0] [];
    NEWTON_MILLIMETRE Torque Metric "N mm" "newton millimetre" [1.0 / 1000.0] [];
    KILOGRAM_FORCE_METRE Torque Metric "kgf m" "kilogram-force metre" [9.80665] ["kg m"];
    POUND_FORCE_FOOT Torque Imperial "lbf ft" "pound-force foot" [1.3558179483314004]
        ["lb ft", "lbs ft", "ft lbf", "ft lb", "ft lbs", "foot pound", "foot pounds",
         "pound foot", "pounds feet"];
    POUND_FORCE_INCH Torque Imperial "lbf in" "pound-force inch" [0.1129848290276167]
        ["lb in", "lbs in", "in lbf", "in lb", "in lbs", "inch pound", "inch pounds"];
    TON_FORCE_INCH Torque Imperial "tonf in" "ton-force (2240 lbf) inch" [253.086017021861408]
        ["ton in", "tons in", "in tonf", "in tons", "inch tons"];

    // Temperature: 0 degC = 273.15 K exactly, 1 degF = 5/9 K, 0 degF = 459.67 degF from absolute
    // zero (ISO 80000-5).
    DEGREE_CELSIUS Temperature Metric "°C" "degree Celsius" [shift 273.15, 1.0 / 1.0]
        ["° C", "degC", "deg C", "℃", "Celsius", "degrees C", "degrees Celsius", "deg Celsius",
         "centigrade"];
    DEGREE_FAHRENHEIT Temperature Imperial "°F" "degree Fahrenheit" [shift 459.67, 5.0 / 9.0]
        ["° F", "degF", "deg F", "℉", "Fahrenheit", "degrees F", "degrees Fahrenheit"];

    // The word delta, or the kelvin, marks a difference: 5 degC is how hot, 5 K how much hotter.
    KELVIN TemperatureDifference Metric "K" "kelvin, as a difference" [1.0]
        ["kelvin", "kelvins", "delta K", "ΔK", "delta degC", "delta deg C", "delta °C", "Δ °C",
         "Δ degC", "degC difference", "°C difference", "degC diff", "C deg"];
    FAHRENHEIT_DIFFERENCE TemperatureDifference Imperial "Δ°F"
        "degree Fahrenheit, as a difference" [5.0 / 9.0]
        ["delta degF", "delta deg F", "delta °F", "Δ °F", "Δ degF", "degF difference",
         "°F difference", "degF diff", "F deg"];

    PER_KELVIN Expansion Metric "/K" "per kelvin" [1.0]
        ["1/K", "K^-1", "K⁻¹", "/degC", "/deg C", "/°C", "/kelvin"];
    MILLIONTH_PER_KELVIN Expansion Metric "µm/m K" "micrometre per metre and kelvin"
        [1.0 / 1000000.0] ["ppm/K", "ppm/degC", "ppm/°C", "µm/(m K)", "um/m K", "um/(m K)"];
    PER_FAHRENHEIT Expansion Imperial "/°F" "per degree Fahrenheit" [9.0 / 5.0]
        ["/degF", "/deg F"];

    SECOND Time Both "s" "second" [1.0] ["sec", "secs", "second", "seconds"];
    MILLISECOND Time Metric "ms" "millisecond" [1.0 / 1000.0] ["millisecond", "milliseconds"];
    MINUTE Time Both "min" "minute of time" [60.0] ["mins", "minute", "minutes"];
    HOUR Time Both "h" "hour" [3600.0] ["hr", "hrs", "hour", "hours"];
    DAY Time Both "day" "day of 24 hours" [86400.0] ["days"];

    METRE_PER_SECOND Speed Metric "m/s" "metre per second" [1.0] ["metres/second"];
    MILLIMETRE_PER_SECOND Speed Metric "mm/s" "millimetre per second" [1.0 / 1000.0] [];
    METRE_PER_MINUTE Speed Metric "m/min" "metre per minute" [1.0 / 60.0] [];
    KILOMETRE_PER_HOUR Speed Metric "km/h" "kilometre per hour" [1.0 / 3.6] ["kph", "km/hr"];
    MILE_PER_HOUR Speed Imperial "mph" "mile per hour" [0.44704]
        ["mile/h", "miles/h", "miles/hour", "mile/hour", "m.p.h"];
    FOOT_PER_SECOND Speed Imperial "ft/s" "foot per second" [0.3048]
        ["ft/sec", "feet/second", "feet/sec", "fps"];
    FOOT_PER_MINUTE Speed Imperial "ft/min" "foot per minute" [0.00508]
        ["feet/minute", "feet/min", "fpm"];
    INCH_PER_SECOND Speed Imperial "in/s" "inch per second" [0.0254] ["in/sec"];

    RADIAN_PER_SECOND AngularSpeed Metric "rad/s" "radian per second" [1.0] ["rad/sec"];
    REVOLUTION_PER_MINUTE AngularSpeed Both "rpm" "revolution per minute" [pi 1.0 / 30.0]
        ["rev/min", "revs/min", "r/min", "r.p.m", "revolutions/minute"];
    REVOLUTION_PER_SECOND AngularSpeed Both "rev/s" "revolution per second" [pi 2.0 / 1.0]
        ["rev/sec", "revs/s", "revs/sec", "r/s", "rps"];
    DEGREE_PER_SECOND AngularSpeed Both "°/s" "degree per second" [pi 1.0 / 180.0]
        ["deg/s", "deg/sec"];

    // Power. The horsepower is 550 ft lbf/s; the metric one is 75 kgf m/s.
    WATT Power Metric "W" "watt" [1.0] ["watt", "watts"];
    KILOWATT Power Metric "kW" "kilowatt" [1000.0] ["kilowatt", "kilowatts"];
    MEGAWATT Power Metric "MW" "megawatt" [1000000.0] ["megawatt", "megawatts"];
    HORSEPOWER Power Imperial "hp" "horsepower (550 ft lbf/s)" [745.69987158227022]
        ["horsepower", "horse power", "h.p", "bhp", "ihp"];
    METRIC_HORSEPOWER Power Metric "metric hp" "metric horsepower (75 kgf m/s)" [735.49875]
        ["metric horsepower"];

    // Energy. The British thermal unit is the International Table one (ISO 80000-5). A foot
    // pound is read as a torque everywhere, because that is what a workshop writes.
    JOULE Energy Metric "J" "joule" [1.0] ["joule", "joules"];
    KILOJOULE Energy Metric "kJ" "kilojoule" [1000.0] ["kilojoule", "kilojoules"];
    MEGAJOULE Energy Metric "MJ" "megajoule" [1000000.0] ["megajoule", "megajoules"];
    KILOWATT_HOUR Energy Metric "kW h" "kilowatt hour" [3600000.0] ["kilowatt hour"];
    BRITISH_THERMAL_UNIT Energy Imperial "Btu" "British thermal unit (International Table)"
        [1055.05585262] ["Btus", "B.t.u"];

    // Viscosity. The reyn is 1 lbf s/in2.
    PASCAL_SECOND Viscosity Metric "Pa s" "pascal second" [1.0] ["N s/m2", "kg/m s"];
    MILLIPASCAL_SECOND Viscosity Metric "mPa s" "millipascal second" [1.0 / 1000.0] [];
    POISE Viscosity Metric "P" "poise" [1.0 / 10.0] ["poise"];
    CENTIPOISE Viscosity Metric "cP" "centipoise" [1.0 / 1000.0]
        ["cp", "cPs", "centipoise", "centipoises"];
    REYN Viscosity Imperial "reyn" "reyn (lbf s/in²)" [4.4482216152605 / 0.00064516]
        ["reyns", "lbf s/in2"];
    MICROREYN Viscosity Imperial "µreyn" "microreyn" [0.0000044482216152605 / 0.00064516]
        ["ureyn", "microreyn", "microreyns", "µreyns"];

    CUBIC_METRE_PER_SECOND VolumeFlow Metric "m³/s" "cubic metre per second" [1.0] [];
    CUBIC_METRE_PER_HOUR VolumeFlow Metric "m³/h" "cubic metre per hour" [1.0 / 3600.0] [];
    LITRE_PER_SECOND VolumeFlow Metric "l/s" "litre per second" [1.0 / 1000.0]
        ["L/s", "litre/s", "litres/s", "litre/second", "litres/second"];
    LITRE_PER_MINUTE VolumeFlow Metric "l/min" "litre per minute" [1.0 / 60000.0]
        ["L/min", "litre/min", "litres/min", "litre/minute", "litres/minute", "lpm"];
    LITRE_PER_HOUR VolumeFlow Metric "l/h" "litre per hour" [1.0 / 3600000.0]
        ["L/h", "litre/h", "litres/h", "litre/hour", "litres/hour"];
    MILLILITRE_PER_MINUTE VolumeFlow Metric "ml/min" "millilitre per minute" [1.0 / 60000000.0]
        ["mL/min", "cm3/min", "cc/min"];
    CUBIC_CENTIMETRE_PER_SECOND VolumeFlow Metric "cm³/s" "cubic centimetre per second"
        [1.0 / 1000000.0] ["ml/s", "mL/s", "cc/s"];
    CUBIC_INCH_PER_SECOND VolumeFlow Imperial "in³/s" "cubic inch per second" [0.000016387064]
        ["in3/sec", "cu in/s", "cu in/sec"];
    CUBIC_INCH_PER_MINUTE VolumeFlow Imperial "in³/min" "cubic inch per minute"
        [0.000016387064 / 60.0] ["cu in/min"];
    GALLON_PER_MINUTE VolumeFlow Imperial "gal/min" "imperial gallon per minute"
        [0.00454609 / 60.0] ["gallon/minute", "gallons/minute", "gallons/min"];
    GALLON_PER_HOUR VolumeFlow Imperial "gal/h" "imperial gallon per hour"
        [0.00454609 / 3600.0] ["gallon/hour", "gallons/hour", "gal/hr"];
}
