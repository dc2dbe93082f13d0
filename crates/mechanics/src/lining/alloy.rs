//! White metals: composition, melting range, pouring temperature, weight.
//!
//! Where a figure is not known none is given. Temperatures of ASTM B23 are those of its appendix,
//! which are given for information there too: the maker's sheet rules.

/// A white metal by its standard name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum WhiteMetal {
    /// ASTM B23 alloy 1: tin 91.
    AstmB23Alloy1,
    /// ASTM B23 alloy 2: tin 89.
    AstmB23Alloy2,
    /// ASTM B23 alloy 3: tin 84.
    AstmB23Alloy3,
    /// ASTM B23 alloy 11: tin 87.5.
    AstmB23Alloy11,
    /// ASTM B23 alloy 7: lead 75, tin 10.
    AstmB23Alloy7,
    /// ASTM B23 alloy 8: lead 80, tin 5.
    AstmB23Alloy8,
    /// ASTM B23 alloy 13: lead 84, tin 6.
    AstmB23Alloy13,
    /// ASTM B23 alloy 15: lead 82, tin 1.
    AstmB23Alloy15,
    /// ISO 4381 SnSb12Cu6Pb.
    Iso4381SnSb12Cu6Pb,
}

/// How far a figure has been checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FigureStanding {
    /// Recalled; look it up before leaning on it.
    FromMemory,
    /// Read in a public text that copies the standard; the rest of the row is from memory.
    PartlyReadInCopy,
    /// Read in a public text that copies the standard.
    ReadInCopy,
}

/// Nominal composition, per cent by mass; the base metal makes up the rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Composition {
    /// Tin.
    pub tin: f64,
    /// Antimony.
    pub antimony: f64,
    /// Copper.
    pub copper: f64,
    /// Lead.
    pub lead: f64,
}

/// What is known of a white metal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AlloySheet {
    /// Which.
    pub alloy: WhiteMetal,
    /// Its name in its standard.
    pub name: &'static str,
    /// UNS number, where it has one.
    pub uns: Option<&'static str>,
    /// Nominal composition, per cent.
    pub composition: Composition,
    /// Begins to melt, K.
    pub solidus_k: Option<f64>,
    /// Wholly molten, K.
    pub liquidus_k: Option<f64>,
    /// Usual pouring temperature, K, as a range.
    pub pouring_k: Option<(f64, f64)>,
    /// Density, kg/m3.
    pub density_kg_m3: Option<f64>,
    /// Brinell hardness at 20 degC.
    pub brinell: Option<f64>,
    /// Where the figures come from.
    pub source: &'static str,
    /// How far they have been checked.
    pub standing: FigureStanding,
}

impl AlloySheet {
    /// Does it hold lead enough that lead's hazards lead the cautions? From 0.35 per cent, the
    /// most that ASTM B23 lets into its tin-based alloys.
    #[must_use]
    pub fn holds_lead(&self) -> bool {
        self.composition.lead > 0.35
    }
}

const fn fahrenheit(f: f64) -> f64 {
    (f - 32.0) / 1.8 + 273.15
}

const B23: &str = "ASTM B23-00, Table 1 and Table X1 (melting and pouring temperatures and density), \
                   also Machinery's Handbook";
const ISO: &str = "ISO 4381 (DIN ISO 4381 record): casting range 480 to 520 degC";

/// Figures of one alloy of ASTM B23 in the standard's own units.
struct B23Row {
    alloy: WhiteMetal,
    name: &'static str,
    uns: &'static str,
    /// Tin, antimony, copper, lead.
    parts: [f64; 4],
    /// Solidus, liquidus, pouring, degF.
    degrees_f: Option<[f64; 3]>,
    density: Option<f64>,
    brinell: Option<f64>,
    standing: FigureStanding,
}

const fn b23(row: B23Row) -> AlloySheet {
    let (solidus_k, liquidus_k, pouring_k) = match row.degrees_f {
        Some([solidus, liquidus, pouring]) => (
            Some(fahrenheit(solidus)),
            Some(fahrenheit(liquidus)),
            Some((fahrenheit(pouring), fahrenheit(pouring))),
        ),
        None => (None, None, None),
    };
    let [tin, antimony, copper, lead] = row.parts;
    AlloySheet {
        alloy: row.alloy,
        name: row.name,
        uns: Some(row.uns),
        composition: Composition { tin, antimony, copper, lead },
        solidus_k,
        liquidus_k,
        pouring_k,
        density_kg_m3: row.density,
        brinell: row.brinell,
        source: B23,
        standing: row.standing,
    }
}

use FigureStanding::{FromMemory, PartlyReadInCopy, ReadInCopy};

/// Every white metal known here.
pub const WHITE_METALS: [AlloySheet; 9] = [
    b23(B23Row {
        alloy: WhiteMetal::AstmB23Alloy1,
        name: "ASTM B23 alloy 1",
        uns: "L13910",
        parts: [91.0, 4.5, 4.5, 0.0],
        degrees_f: Some([433.0, 700.0, 825.0]),
        density: Some(7340.0),
        brinell: Some(17.0),
        standing: PartlyReadInCopy,
    }),
    b23(B23Row {
        alloy: WhiteMetal::AstmB23Alloy2,
        name: "ASTM B23 alloy 2",
        uns: "L13890",
        parts: [89.0, 7.5, 3.5, 0.0],
        degrees_f: Some([466.0, 669.0, 795.0]),
        density: Some(7390.0),
        brinell: Some(24.5),
        standing: PartlyReadInCopy,
    }),
    b23(B23Row {
        alloy: WhiteMetal::AstmB23Alloy3,
        name: "ASTM B23 alloy 3",
        uns: "L13840",
        parts: [84.0, 8.0, 8.0, 0.0],
        degrees_f: Some([464.0, 792.0, 915.0]),
        density: Some(7460.0),
        brinell: Some(27.0),
        standing: PartlyReadInCopy,
    }),
    b23(B23Row {
        alloy: WhiteMetal::AstmB23Alloy11,
        name: "ASTM B23 alloy 11",
        uns: "L13870",
        parts: [87.5, 6.75, 5.75, 0.0],
        degrees_f: None,
        density: None,
        brinell: None,
        standing: PartlyReadInCopy,
    }),
    b23(B23Row {
        alloy: WhiteMetal::AstmB23Alloy7,
        name: "ASTM B23 alloy 7",
        uns: "L53585",
        parts: [10.0, 15.0, 0.0, 75.0],
        degrees_f: Some([464.0, 514.0, 640.0]),
        density: Some(9730.0),
        brinell: Some(22.5),
        standing: PartlyReadInCopy,
    }),
    b23(B23Row {
        alloy: WhiteMetal::AstmB23Alloy8,
        name: "ASTM B23 alloy 8",
        uns: "L53565",
        parts: [5.0, 15.0, 0.0, 80.0],
        degrees_f: Some([459.0, 522.0, 645.0]),
        density: Some(10_040.0),
        brinell: Some(20.0),
        standing: PartlyReadInCopy,
    }),
    b23(B23Row {
        alloy: WhiteMetal::AstmB23Alloy13,
        name: "ASTM B23 alloy 13",
        uns: "L53346",
        parts: [6.0, 10.0, 0.0, 84.0],
        degrees_f: None,
        density: None,
        brinell: None,
        standing: PartlyReadInCopy,
    }),
    b23(B23Row {
        alloy: WhiteMetal::AstmB23Alloy15,
        name: "ASTM B23 alloy 15",
        uns: "L53620",
        parts: [1.0, 16.0, 0.0, 82.0],
        degrees_f: Some([479.0, 538.0, 662.0]),
        density: Some(10_050.0),
        brinell: Some(21.0),
        standing: FromMemory,
    }),
    AlloySheet {
        alloy: WhiteMetal::Iso4381SnSb12Cu6Pb,
        name: "ISO 4381 SnSb12Cu6Pb",
        uns: None,
        composition: Composition { tin: 80.0, antimony: 12.0, copper: 6.0, lead: 2.0 },
        solidus_k: Some(456.15),
        liquidus_k: Some(673.15),
        pouring_k: Some((753.15, 793.15)),
        density_kg_m3: Some(7400.0),
        brinell: Some(25.0),
        source: ISO,
        standing: ReadInCopy,
    },
];

/// The sheet of an alloy.
#[must_use]
pub fn alloy_sheet(alloy: WhiteMetal) -> &'static AlloySheet {
    let place = match alloy {
        WhiteMetal::AstmB23Alloy1 => 0,
        WhiteMetal::AstmB23Alloy2 => 1,
        WhiteMetal::AstmB23Alloy3 => 2,
        WhiteMetal::AstmB23Alloy11 => 3,
        WhiteMetal::AstmB23Alloy7 => 4,
        WhiteMetal::AstmB23Alloy8 => 5,
        WhiteMetal::AstmB23Alloy13 => 6,
        WhiteMetal::AstmB23Alloy15 => 7,
        WhiteMetal::Iso4381SnSb12Cu6Pb => 8,
    };
    &WHITE_METALS[place]
}
