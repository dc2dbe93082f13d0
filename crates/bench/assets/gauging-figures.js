// Figures as the trade writes them, looked at without the bench: only so far as is needed to ask
// about a slip. What stands in the book is read by the bench itself.

const METRES = {
  mm: 1e-3, millimetres: 1e-3, in: 25.4e-3, inch: 25.4e-3, inches: 25.4e-3, '"': 25.4e-3, "″": 25.4e-3,
  thou: 25.4e-6, hundredths: 1e-5, cm: 1e-2, m: 1,
};

/** One number with its unit: metres, or null when it is none. */
function term(text, unit) {
  const found = /^(\d+(?:\.\d*)?|\.\d+)?(?:(?:^|[ -]+)(\d+)\/(2|4|8|16|32|64))? *(\D*)$/.exec(text.trim());
  if (!found || (found[1] === undefined && found[2] === undefined)) return null;
  const [, whole, over, under, named] = found;
  if (over !== undefined && whole !== undefined && whole.includes(".")) return null;
  const metres = METRES[(named.trim() || (over === undefined ? unit : "in")).toLowerCase()];
  if (metres === undefined) return null;
  const value = Number(whole ?? 0) + (over === undefined ? 0 : Number(over) / Number(under));
  return value * metres;
}

/** A figure: a size, or a size with an allowance after it. Metres, or null. */
export function metres(text, unit) {
  const sign = /^\s*[-−]/.test(text) ? -1 : 1;
  const rest = text.replace(/^\s*[-−+]\s*/, "");
  const split = /^(.*[^\s])\s+([+−-])\s+(.+)$/.exec(rest);
  if (split) {
    // The size before an allowance says its own unit.
    if (!namesUnit(split[1])) return null;
    const size = term(split[1], unit), more = term(split[3], unit);
    if (size === null || more === null) return null;
    return sign * (size + (split[2] === "+" ? more : -more));
  }
  const size = term(rest, unit);
  return size === null ? null : sign * size;
}

/** Whether a figure names its own unit. */
export const namesUnit = (text) => /[a-zA-Zµ"'″′]/.test(text);

/** The figure as it is kept: character for character, with the unit chosen where it names none. */
export const asWritten = (text, unit) => (namesUnit(text) ? text.trim() : `${text.trim()} ${unit}`);

/** Whether it was written in inches. */
export const inInches = (text) => /in|thou|"|″/.test(text);

const plain = (number, places) => String(Number(number.toFixed(places)));

/** "1 in larger". */
export function apart(m, inches) {
  const way = m > 0 ? "larger" : "smaller", off = Math.abs(m), inch = off / 25.4e-3;
  if (!inches) return `${plain(off * 1e3, 2)} mm ${way}`;
  return inch >= 0.1 ? `${plain(inch, 3)} in ${way}` : `${plain(inch * 1e3, 1)} thou ${way}`;
}

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

/**
 * What is asked about a figure, as the bench asks it: `feature` as the bench told it, `place` of
 * it, `fellows` in metres typed in this sitting, `gauge` or undefined.
 */
export function doubts(si, feature, place, fellows, gauge, inches) {
  const out = [], usual = feature.expected;
  if (si <= 0) out.push("this is nothing or less than nothing");
  if (usual) {
    const middle = median(fellows);
    if (middle !== undefined && Math.abs(si - middle) > Math.max(0.5e-3, 0.001 * Math.abs(middle))) {
      out.push(`this is ${apart(si - middle, inches)} than the others just typed`);
    } else {
      const last = place.previous;
      const against = last
        ? { ...usual, si: last.si, words: `the last (${last.text})`, far_m: Math.max(2e-3, 0.02 * Math.abs(last.si)), gains: feature.gains }
        : usual;
      const off = si - against.si;
      if (Math.abs(off) > against.far_m) {
        out.push(`this is ${apart(off, inches)} than ${against.words}`);
      } else if (off * against.gains > usual.gain_m) {
        const metal = against.gains > 0 ? "grown" : "closed in";
        out.push(`this is ${apart(off, inches)} than ${against.words}: a worn surface has not ${metal}`);
      }
    }
  }
  if (gauge && gauge.from_m !== null && gauge.to_m !== null) {
    const past = 0.02 * (gauge.to_m - gauge.from_m);
    if (si < gauge.from_m - past || si > gauge.to_m + past) out.push("this is outside the range of the gauge");
  }
  return out;
}
