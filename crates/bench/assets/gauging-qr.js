// Reads a QR code from a picture, for browsers that do not do it themselves: symbols after ISO/IEC
// 18004, versions 1 to 10, whole and lying about flat. What it reads is checked by the symbol's own
// error correction; what it cannot read is null, never a guess.

/** Error correction codewords a block, and blocks, by version, for L, M, Q, H (ISO/IEC 18004, table 9). */
const CORRECTION = [
  [7, 10, 13, 17], [10, 16, 22, 28], [15, 26, 18, 22], [20, 18, 26, 16], [26, 24, 18, 22],
  [18, 16, 24, 28], [20, 18, 18, 26], [24, 22, 22, 26], [30, 22, 20, 24], [18, 26, 24, 28],
];
const BLOCKS = [
  [1, 1, 1, 1], [1, 1, 1, 1], [1, 1, 2, 2], [1, 2, 2, 4], [1, 2, 4, 4], [2, 4, 4, 4], [2, 4, 6, 5], [2, 4, 6, 6], [2, 5, 8, 8], [4, 5, 8, 8],
];
/** Centres of the alignment patterns (table E.1). */
const ALIGNMENT = [[], [6, 18], [6, 22], [6, 26], [6, 30], [6, 34], [6, 22, 38], [6, 24, 42], [6, 26, 46], [6, 28, 50]];

/** Black or not, against the mean of what lies about: a shadow over half a tag does no harm. */
function blackened({ data, width, height }) {
  const grey = new Uint8Array(width * height), sums = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y < height; y += 1) {
    let row = 0;
    for (let x = 0; x < width; x += 1) {
      const i = y * width + x, p = 4 * i;
      grey[i] = (data[p] * 77 + data[p + 1] * 151 + data[p + 2] * 28) >> 8;
      row += grey[i];
      sums[(y + 1) * (width + 1) + x + 1] = sums[y * (width + 1) + x + 1] + row;
    }
  }
  const far = Math.max(8, Math.round(Math.max(width, height) / 10)), black = new Uint8Array(width * height);
  for (let y = 0; y < height; y += 1) {
    const [t, b] = [Math.max(0, y - far), Math.min(height, y + far + 1)];
    for (let x = 0; x < width; x += 1) {
      const [l, r] = [Math.max(0, x - far), Math.min(width, x + far + 1)], w = width + 1;
      const mean = (sums[b * w + r] - sums[t * w + r] - sums[b * w + l] + sums[t * w + l]) / ((b - t) * (r - l));
      black[y * width + x] = grey[y * width + x] < mean - 6 ? 1 : 0;
    }
  }
  return { black, width, height, at: (x, y) => x >= 0 && y >= 0 && x < width && y < height && black[Math.floor(y) * width + Math.floor(x)] === 1 };
}

const inRatio = (runs) => {
  const module = runs.reduce((a, b) => a + b, 0) / 7;
  return module >= 1 && [1, 1, 3, 1, 1].every((wanted, n) => Math.abs(runs[n] - wanted * module) < wanted * module * 0.5 + 0.4) ? module : 0;
};

/** Runs through a black place along a line: outer, white, middle, white, outer; and its middle. */
function across(image, x, y, dx, dy, most) {
  const runs = [0, 0, 0, 0, 0];
  let ends = [0, 0];
  for (const [side, sign] of [[0, -1], [1, 1]]) {
    let k = sign === 1 ? 1 : 0;
    for (const [n, black] of [[2, true], [sign < 0 ? 1 : 3, false], [sign < 0 ? 0 : 4, true]]) {
      let run = 0;
      while (run <= most && image.at(x + sign * k * dx, y + sign * k * dy) === black) { run += 1; k += 1; }
      runs[n] += run;
      if (n === 2) ends[side] = run;
    }
  }
  const module = inRatio(runs);
  return module ? { module, middle: (ends[1] - ends[0] + 1) / 2 } : null;
}

/** What looks like a corner may be none: so many are tried, three at a time. */
const MOST_CORNERS = 14;

/** The three corner patterns: places that are 1:1:3:1:1 across, down and slantwise. */
function corners(image) {
  const found = [];
  for (let y = 0; y < image.height; y += 1) {
    let start = 0, runs = [];
    for (let x = 1; x <= image.width; x += 1) {
      if (x < image.width && image.black[y * image.width + x] === image.black[y * image.width + x - 1]) continue;
      runs.push(x - start);
      start = x;
      if (runs.length > 5) runs.shift();
      if (runs.length < 5 || image.black[y * image.width + x - 1] !== 1 || !inRatio(runs)) continue;
      const cx = x - runs[4] - runs[3] - runs[2] / 2, most = 4 * inRatio(runs) + 4;
      const down = across(image, cx, y, 0, 1, most);
      if (!down) continue;
      const cy = y + down.middle, flat = across(image, cx, cy, 1, 0, most);
      if (!flat || !across(image, cx + flat.middle, cy, 0.7071, 0.7071, most * 1.5)) continue;
      const here = { x: Math.floor(cx) + flat.middle, y: cy, module: (down.module + flat.module) / 2, seen: 1 };
      const same = found.find((f) => Math.hypot(f.x - here.x, f.y - here.y) < 3 * here.module);
      if (same) {
        same.x += (here.x - same.x) / (same.seen + 1);
        same.y += (here.y - same.y) / (same.seen + 1);
        same.module += (here.module - same.module) / (same.seen + 1);
        same.seen += 1;
      } else {
        found.push(here);
      }
    }
  }
  return found.filter((f) => f.seen > 1).sort((a, b) => b.seen - a.seen).slice(0, MOST_CORNERS);
}

/** From four points to four points: a plane seen aslant. */
function perspective(from, to) {
  const rows = [];
  from.forEach(([x, y], n) => {
    const [u, v] = to[n];
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y, u], [0, 0, 0, x, y, 1, -v * x, -v * y, v]);
  });
  for (let c = 0; c < 8; c += 1) {
    let best = c;
    for (let r = c + 1; r < 8; r += 1) if (Math.abs(rows[r][c]) > Math.abs(rows[best][c])) best = r;
    if (Math.abs(rows[best][c]) < 1e-9) return null;
    [rows[c], rows[best]] = [rows[best], rows[c]];
    for (let r = 0; r < 8; r += 1) {
      if (r === c) continue;
      const f = rows[r][c] / rows[c][c];
      for (let k = c; k < 9; k += 1) rows[r][k] -= f * rows[c][k];
    }
  }
  const [a, b, c, d, e, f, g, h] = rows.map((row, n) => row[8] / row[n]);
  return (x, y) => { const w = g * x + h * y + 1; return [(a * x + b * y + c) / w, (d * x + e * y + f) / w]; };
}

/** The alignment pattern nearest to where it should be: black, white about it, black about that. */
function alignment(image, [ex, ey], module) {
  let best = null;
  const far = Math.ceil(5 * module), ring = [[1, 0], [0, 1], [-1, 0], [0, -1], [1, 1], [-1, 1], [1, -1], [-1, -1]];
  for (let dy = -far; dy <= far; dy += 1) {
    for (let dx = -far; dx <= far; dx += 1) {
      const x = ex + dx, y = ey + dy;
      if (!image.at(x, y)) continue;
      if (!ring.every(([i, j]) => !image.at(x + i * module, y + j * module) && image.at(x + 2 * i * module, y + 2 * j * module))) continue;
      if (!best || Math.hypot(dx, dy) < best.off - 0.5) best = { off: Math.hypot(dx, dy), sum: [x, y], count: 1 };
      else if (Math.hypot(x - best.sum[0] / best.count, y - best.sum[1] / best.count) < module) { best.sum[0] += x; best.sum[1] += y; best.count += 1; }
    }
  }
  return best ? best.sum.map((s) => s / best.count) : null;
}

/** The symbol's modules, by row and column, for three corners in the order top left, top right, bottom left. */
function sampled(image, [tl, tr, bl], size) {
  const moduleOf = (tl.module + tr.module + bl.module) / 3;
  const at = (m) => m + 0.5, far = size - 3.5;
  let last = [tr.x + bl.x - tl.x, tr.y + bl.y - tl.y], lastAt = [far, far];
  if (size > 21) {
    const share = (size - 10) / (size - 7);
    const guess = [tl.x + share * (last[0] - tl.x), tl.y + share * (last[1] - tl.y)];
    const seen = alignment(image, guess, moduleOf);
    if (seen) { last = seen; lastAt = [size - 6.5, size - 6.5]; }
  }
  const place = perspective([[3.5, 3.5], [far, 3.5], [3.5, far], lastAt], [[tl.x, tl.y], [tr.x, tr.y], [bl.x, bl.y], last]);
  if (!place) return null;
  return Array.from({ length: size }, (_, y) => Array.from({ length: size }, (_, x) => (image.at(...place(at(x), at(y))) ? 1 : 0)));
}

/** Level and mask: the one of the 32 words that differs least, in three bits at most (annex C). */
function format(grid) {
  const size = grid.length;
  const near = [[0, 8], [1, 8], [2, 8], [3, 8], [4, 8], [5, 8], [7, 8], [8, 8], [8, 7], [8, 5], [8, 4], [8, 3], [8, 2], [8, 1], [8, 0]];
  const away = Array.from({ length: 15 }, (_, n) => (n < 7 ? [8, size - 1 - n] : [size - 15 + n, 8]));
  let best = null;
  for (const places of [near, away]) {
    const read = places.reduce((word, [x, y]) => (word << 1) | grid[y][x], 0);
    for (let data = 0; data < 32; data += 1) {
      let rest = data << 10;
      for (let bit = 14; bit >= 10; bit -= 1) if (rest & (1 << bit)) rest ^= 0x537 << (bit - 10);
      let off = (((data << 10) | rest) ^ 0x5412) ^ read, count = 0;
      for (; off; off &= off - 1) count += 1;
      if (!best || count < best.count) best = { count, level: [1, 0, 3, 2][data >> 3], mask: data & 7 };
    }
  }
  return best.count <= 3 ? best : null;
}

const MASKS = [
  (x, y) => (x + y) % 2, (_, y) => y % 2, (x) => x % 3, (x, y) => (x + y) % 3, (x, y) => (Math.floor(y / 2) + Math.floor(x / 3)) % 2,
  (x, y) => ((x * y) % 2) + ((x * y) % 3), (x, y) => (((x * y) % 2) + ((x * y) % 3)) % 2, (x, y) => (((x + y) % 2) + ((x * y) % 3)) % 2,
];

/** Whether a module carries no data. */
function fixed(size) {
  const version = (size - 17) / 4, centres = ALIGNMENT[version - 1];
  const corner = (c, r) => (c === 6 && r === 6) || (c === 6 && r === size - 7) || (c === size - 7 && r === 6);
  return (x, y) => (x < 9 && y < 9) || (x < 9 && y >= size - 8) || (x >= size - 8 && y < 9) || x === 6 || y === 6
    || (version >= 7 && ((x < 6 && y >= size - 11) || (y < 6 && x >= size - 11)))
    || centres.some((c) => centres.some((r) => !corner(c, r) && Math.abs(x - c) <= 2 && Math.abs(y - r) <= 2));
}

function codewords(grid, mask) {
  const size = grid.length, skip = fixed(size), out = [];
  let bits = 0, word = 0, up = true;
  for (let right = size - 1; right > 0; right -= 2) {
    if (right === 6) right -= 1;
    for (let k = 0; k < size; k += 1) {
      const y = up ? size - 1 - k : k;
      for (const x of [right, right - 1]) {
        if (skip(x, y)) continue;
        word = (word << 1) | (grid[y][x] ^ (MASKS[mask](x, y) === 0 ? 1 : 0));
        bits += 1;
        if (bits === 8) { out.push(word); bits = 0; word = 0; }
      }
    }
    up = !up;
  }
  return out;
}

const EXP = new Uint8Array(512), LOG = new Uint8Array(256);
for (let n = 0, v = 1; n < 255; n += 1) { EXP[n] = v; EXP[n + 255] = v; LOG[v] = n; v <<= 1; if (v > 255) v ^= 0x11d; }
const times = (a, b) => (a && b ? EXP[LOG[a] + LOG[b]] : 0);
const over = (a, b) => (a ? EXP[(LOG[a] + 255 - LOG[b]) % 255] : 0);
/** A polynomial's value, its highest term first. */
const value = (poly, x) => poly.reduce((sum, c) => times(sum, x) ^ c, 0);

/** Puts a block right (Reed and Solomon, with Berlekamp and Massey's and Forney's ways), or null. */
function righted(block, correction) {
  const syndromes = Array.from({ length: correction }, (_, n) => value(block, EXP[n]));
  if (syndromes.every((s) => s === 0)) return block;
  // Lowest term first from here on.
  let locator = [1], before = [1], length = 0, gap = 1, last = 1;
  for (let n = 0; n < correction; n += 1) {
    let off = syndromes[n];
    for (let k = 1; k <= length; k += 1) off ^= times(locator[k] ?? 0, syndromes[n - k]);
    if (off === 0) { gap += 1; continue; }
    const old = [...locator], factor = over(off, last);
    before.forEach((c, k) => { locator[k + gap] = (locator[k + gap] ?? 0) ^ times(factor, c); });
    for (let k = 0; k < locator.length; k += 1) locator[k] ??= 0;
    if (2 * length <= n) { length = n + 1 - length; before = old; last = off; gap = 1; } else { gap += 1; }
  }
  if (2 * length > correction) return null;
  const evaluator = Array.from({ length: correction }, (_, n) => locator.slice(0, n + 1).reduce((sum, c, k) => sum ^ times(c, syndromes[n - k]), 0)).slice(0, length);
  const low = (poly, x) => value([...poly].reverse(), x);
  const out = [...block];
  let fixedUp = 0;
  for (let p = 0; p < block.length; p += 1) {
    const inverse = EXP[(255 - p) % 255];
    if (low(locator, inverse) !== 0) continue;
    const slope = locator.reduce((sum, c, k) => (k % 2 ? sum ^ times(c, EXP[(LOG[inverse] * (k - 1)) % 255]) : sum), 0);
    if (slope === 0) return null;
    out[block.length - 1 - p] ^= times(EXP[p % 255], over(low(evaluator, inverse), slope));
    fixedUp += 1;
  }
  return fixedUp === length && syndromes.every((_, n) => value(out, EXP[n]) === 0) ? out : null;
}

/** Blocks of a version and level: how many data codewords each has. */
export function blocks(version, level, total) {
  const count = BLOCKS[version - 1][level], correction = CORRECTION[version - 1][level];
  const data = total - count * correction, short = Math.floor(data / count), long = data % count;
  return { correction, sizes: Array.from({ length: count }, (_, n) => short + (n >= count - long ? 1 : 0)) };
}

/** Codewords that a version holds. */
export function capacity(version) {
  const size = 17 + 4 * version, skip = fixed(size);
  let modules = 0;
  for (let y = 0; y < size; y += 1) for (let x = 0; x < size; x += 1) if (!skip(x, y)) modules += 1;
  return Math.floor(modules / 8);
}

function data(words, version, level) {
  const { correction, sizes } = blocks(version, level, words.length);
  const parts = sizes.map(() => []);
  let k = 0;
  for (let n = 0; n < Math.max(...sizes); n += 1) sizes.forEach((size, b) => { if (n < size) parts[b].push(words[k++]); });
  for (let n = 0; n < correction; n += 1) parts.forEach((p) => p.push(words[k++]));
  const out = [];
  for (const [b, part] of parts.entries()) {
    const right = righted(part, correction);
    if (!right) return null;
    out.push(...right.slice(0, sizes[b]));
  }
  return out;
}

const LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

/** The text of the segments (7.4): figures, capitals, and bytes, which are taken for UTF-8. */
function text(words, version) {
  let at = 0;
  const take = (n) => { let v = 0; for (let k = 0; k < n; k += 1, at += 1) v = (v << 1) | ((words[at >> 3] >> (7 - (at & 7))) & 1); return v; };
  const left = () => words.length * 8 - at, bytes = [], long = version >= 10;
  const say = (s) => bytes.push(...new TextEncoder().encode(s));
  while (left() >= 4) {
    const mode = take(4);
    if (mode === 0) break;
    const width = { 1: long ? 12 : 10, 2: long ? 11 : 9, 4: long ? 16 : 8 }[mode];
    if (!width || left() < width) return null;
    let count = take(width);
    const wanted = mode === 4 ? 8 * count : mode === 1 ? Math.ceil((10 * count) / 3) : Math.ceil((11 * count) / 2);
    if (left() < wanted) return null;
    if (mode === 4) { while (count--) bytes.push(take(8)); continue; }
    if (mode === 1) {
      for (; count > 0; count -= 3) { const n = Math.min(3, count); say(String(take([0, 4, 7, 10][n])).padStart(n, "0")); }
    } else {
      for (; count > 1; count -= 2) { const v = take(11); say((LETTERS[Math.floor(v / 45)] ?? "") + LETTERS[v % 45]); }
      if (count === 1) say(LETTERS[take(6)] ?? "");
    }
  }
  // The standard's own reading is ISO 8859-1; today's writers mean UTF-8.
  const all = new Uint8Array(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(all);
  } catch {
    return Array.from(all, (b) => String.fromCharCode(b)).join("");
  }
}

/** The text of one symbol's modules, or null. */
export function read(grid) {
  const version = (grid.length - 17) / 4, told = format(grid);
  if (!told) return null;
  const words = data(codewords(grid, told.mask), version, told.level);
  return words && text(words, version);
}

/** Three corners in the order top left, top right, bottom left, as the picture has them; or null. */
function ordered(three) {
  const far = (a, b) => Math.hypot(a.x - b.x, a.y - b.y);
  const [a, b, c] = three, sides = [[far(b, c), a, b, c], [far(a, c), b, a, c], [far(a, b), c, a, b]].sort((p, q) => q[0] - p[0]);
  const [longest, tl, p, q] = sides[0], [l, m] = [far(tl, p), far(tl, q)];
  if (Math.max(l, m) > 1.6 * Math.min(l, m) || Math.abs(longest - Math.hypot(l, m)) > 0.25 * longest) return null;
  const modules = three.map((t) => t.module);
  if (Math.max(...modules) > 1.7 * Math.min(...modules)) return null;
  // On a page, down being down, from the top right to the bottom left is clockwise.
  return (p.x - tl.x) * (q.y - tl.y) - (p.y - tl.y) * (q.x - tl.x) > 0 ? [tl, p, q] : [tl, q, p];
}

/** The text of a QR code in a picture (`ImageData`), or null. */
export function decode(picture) {
  const image = blackened(picture), found = corners(image);
  for (let i = 0; i < found.length; i += 1) for (let j = i + 1; j < found.length; j += 1) for (let k = j + 1; k < found.length; k += 1) {
    const three = ordered([found[i], found[j], found[k]]);
    if (!three) continue;
    const [tl, tr, bl] = three, module = (tl.module + tr.module + bl.module) / 3;
    const span = (Math.hypot(tr.x - tl.x, tr.y - tl.y) + Math.hypot(bl.x - tl.x, bl.y - tl.y)) / 2;
    const guess = Math.round((span / module + 7 - 17) / 4);
    // Of a symbol that stands aslant the modules look narrower or wider than they are.
    for (const version of [guess, guess - 1, guess + 1, guess + 2, guess - 2].filter((v) => v >= 1 && v <= 10)) {
      const grid = sampled(image, three, 17 + 4 * version);
      const told = grid && read(grid);
      if (told) return told;
    }
  }
  return null;
}
