#!/usr/bin/env python3
"""Speed of a revolution with loads beside NumPy, in the same run and on the same numbers.

Four cylinders at a tenth of a degree: kinematics, steam from indicator diagrams, exact rod
dynamics, slide bar friction, pin loads and turning moment. Peers: plain Python loops, and NumPy
on whole arrays. The answers are compared before the times are.

Exit 0: answers agree and the program is at least 100 times the loops and 3 times NumPy.
Exit 1: not so. Exit 77: NumPy is missing, nothing was measured.
"""

import math
import pathlib
import statistics
import subprocess
import sys
import time

try:
    import numpy as np
except ImportError as missing:
    print(f"SKIPPED, nothing was measured: {missing}. Install numpy to run this check.")
    sys.exit(77)

ROOT = pathlib.Path(__file__).resolve().parent.parent
STEPS = 3600
SPEED, ACCEL = 27.0, 1.5
LOOPS_WANTED, NUMPY_WANTED = 100.0, 3.0


def diagram(cut, clear):
    """A hyperbolic diagram of 120 points; shares and pressures of both strokes, growing share."""
    out_x = np.concatenate([[0.0], np.linspace(cut, 0.85, 60), [1.0]])
    out_p = np.concatenate([[12e5], 13e5 * (clear + cut) / (clear + out_x[1:-1]) - 1e5, [0.3e5]])
    home_x = np.concatenate([np.linspace(0.0, 0.25, 60), [1.0]])
    home_p = np.concatenate([1.3e5 * (clear + 0.25) / (clear + home_x[:-1]) - 1e5, [0.3e5]])
    home_p = np.minimum(home_p, 12e5)
    return (out_x, out_p), (home_x, home_p)


def cylinders():
    made = []
    for i in range(4):
        inside = i in (1, 2)
        made.append(dict(
            r=0.33, l=2.0 if inside else 3.1, b=0.08 if inside else 0.0, h=0.01,
            k=[math.pi / 2, 1.5 * math.pi, math.pi, 0.0][i], af=0.139, ab=0.134,
            mc=280.0, m=210.0, c=1.2, inertia=110.0, mu=0.05,
            front=diagram(0.30, 0.09), back=diagram(0.32, 0.08)))
    return made


def case_text(made, repeats):
    lines = []
    for c in made:
        keys = ("r", "l", "b", "h", "k", "af", "ab", "mc", "m", "c", "inertia", "mu")
        lines.append("cylinder " + " ".join(repr(float(c[k])) for k in keys))
        for end in ("front", "back"):
            (ox, op), (hx, hp) = c[end]
            x, p = np.concatenate([ox, hx[::-1], [0.0]]), np.concatenate([op, hp[::-1], op[:1]])
            lines.append(f"{end} " + " ".join(f"{a!r} {b!r}" for a, b in
                                              zip(x.tolist(), p.tolist())))
    lines.append(f"run {SPEED} {ACCEL} {STEPS} {repeats}")
    return "\n".join(lines) + "\n"


def rust(made):
    run = subprocess.run(
        ["cargo", "run", "--release", "--quiet", "-p", "mechanics", "--example", "motion_speed"],
        input=case_text(made, 301), text=True, capture_output=True, check=True, cwd=ROOT)
    times, moment, sums = [], None, []
    for line in run.stdout.splitlines():
        word, rest = line.split(" ", 1)
        values = [float(v) for v in rest.split()]
        if word in ("seconds", "repeated"):
            times.append(values[0])
        elif word == "moment":
            moment = np.array(values)
        else:
            sums.append(values)
    return times, moment, np.array(sums)


def with_arrays(made):
    """Whole arrays, one row a cylinder: as fast as NumPy goes without tricks."""
    row = lambda k: np.array([c[k] for c in made])[:, None]
    r, l, b, h, k, af, ab, mc, m, c, inertia, mu = (
        row(k) for k in ("r", "l", "b", "h", "k", "af", "ab", "mc", "m", "c", "inertia", "mu"))
    f = np.arange(STEPS) * (2 * math.pi / STEPS) - k + b
    sin, cos = np.sin(f), np.cos(f)
    u = h + r * sin
    q = np.sqrt(l * l - u * u)
    dg = r * cos / q
    dq = -u * dg
    s, ds = r * cos + q, dq - r * sin
    dds = (u * r * sin - (r * cos) ** 2 - dq * dq) / q - r * cos
    ddg = (u * dg * dg - r * sin) / q
    v, a = ds * SPEED, dds * SPEED**2 + ds * ACCEL
    turn2, turn_up = dg * dg * SPEED**2, ddg * SPEED**2 + dg * ACCEL
    front = np.sqrt((l + r) ** 2 - h * h)
    share = (front - s) / (front - np.sqrt((l - r) ** 2 - h * h))
    back = ds <= 0
    steam = np.empty_like(share)
    for i, cyl in enumerate(made):
        x, y = share[i], 1.0 - share[i]
        going_back = back[i]
        pf = np.where(going_back, np.interp(x, *cyl["front"][0]), np.interp(x, *cyl["front"][1]))
        pb = np.where(going_back, np.interp(y, *cyl["back"][1]), np.interp(y, *cyl["back"][0]))
        steam[i] = pb * cyl["ab"] - pf * cyl["af"]
    sin_g, cos_g, tan_g = u / l, q / l, u / q
    rod_s = m * (a + c * (sin_g * turn_up + cos_g * turn2))
    rod_w = m * c * (sin_g * turn2 - cos_g * turn_up)
    big = inertia * turn_up + (l - c) * (cos_g * rod_w - sin_g * rod_s)
    rs0 = mc * a - steam
    bar0 = big / q - tan_g * rs0
    drag = mu * np.sign(v)
    bar = bar0 / (1.0 + tan_g * drag * np.sign(bar0))
    rs, rw = rs0 + drag * np.abs(bar), -bar
    along, across = -rs - rod_s, -rw - rod_w
    moment = -r * (cos * across + sin * along)
    small, thrust = np.hypot(rs, rw), rs * cos_g + rw * sin_g
    return moment.sum(0), [steam, bar, small, thrust, along, across, moment]


def look_up(x, xs, ps):
    for i in range(len(xs) - 1):
        if x <= xs[i + 1]:
            return ps[i] + (ps[i + 1] - ps[i]) * (x - xs[i]) / (xs[i + 1] - xs[i])
    return ps[-1]


def with_loops(made):
    """Plain loops over steps and cylinders, floats from the standard library."""
    total = [0.0] * STEPS
    plain = [{k: v if isinstance(v, float) else
              [(list(map(float, x)), list(map(float, p))) for x, p in v]
              for k, v in c.items()} for c in made]
    for c in plain:
        r, l, h = c["r"], c["l"], c["h"]
        front, stroke = math.sqrt((l + r)**2 - h*h), None
        stroke = front - math.sqrt((l - r)**2 - h*h)
        kept = []
        for i in range(STEPS):
            f = i * (2 * math.pi / STEPS) - c["k"] + c["b"]
            sin, cos = math.sin(f), math.cos(f)
            u = h + r * sin
            q = math.sqrt(l * l - u * u)
            dg = r * cos / q
            dq = -u * dg
            s, ds = r * cos + q, dq - r * sin
            dds = (u * r * sin - (r * cos)**2 - dq * dq) / q - r * cos
            ddg = (u * dg * dg - r * sin) / q
            v, a = ds * SPEED, dds * SPEED**2 + ds * ACCEL
            turn2, turn_up = dg * dg * SPEED**2, ddg * SPEED**2 + dg * ACCEL
            x = min(max((front - s) / stroke, 0.0), 1.0)
            which = 0 if ds <= 0 else 1
            steam = (look_up(1.0 - x, *c["back"][1 - which]) * c["ab"]
                     - look_up(x, *c["front"][which]) * c["af"])
            sin_g, cos_g, tan_g = u / l, q / l, u / q
            rod_s = c["m"] * (a + c["c"] * (sin_g * turn_up + cos_g * turn2))
            rod_w = c["m"] * c["c"] * (sin_g * turn2 - cos_g * turn_up)
            big = c["inertia"] * turn_up + (l - c["c"]) * (cos_g * rod_w - sin_g * rod_s)
            rs0 = c["mc"] * a - steam
            bar0 = big / q - tan_g * rs0
            drag = c["mu"] * math.copysign(1.0, v)
            bar = bar0 / (1.0 + tan_g * drag * math.copysign(1.0, bar0))
            rs, rw = rs0 + drag * abs(bar), -bar
            along, across = -rs - rod_s, -rw - rod_w
            moment = -r * (cos * across + sin * along)
            kept.append((steam, bar, math.hypot(rs, rw), rs * cos_g + rw * sin_g,
                         along, across, moment))
            total[i] += moment
    return np.array(total)


def timed(work, repeats):
    seconds = []
    for _ in range(repeats):
        start = time.perf_counter()
        answer = work()
        seconds.append(time.perf_counter() - start)
    return statistics.median(seconds), answer


def main():
    made = cylinders()
    (fresh_s, rust_s), moment, sums = rust(made)
    array_s, (total, parts) = timed(lambda: with_arrays(made), 101)
    loop_s, loop_total = timed(lambda: with_loops(made), 3)

    scale = np.abs(total).max()
    # At a dead centre rounding decides which stroke of the diagram applies: a step or two apart.
    apart = max(np.abs(moment - total[::10]).max(), np.abs(loop_total - total).max()) / scale
    wanted = np.array([[p[i].sum() for p in parts] for i in range(len(made))])
    amount = np.array([[np.abs(p[i]).sum() for p in parts] for i in range(len(made))])
    sums_apart = (np.abs(sums - wanted) / amount).max()
    print(f"answers: moment apart by {apart:.1e} of its greatest, sums by {sums_apart:.1e}")
    print(f"{len(made)} cylinders, {STEPS} steps, median of one revolution:")
    print(f"  this program     {rust_s * 1e6:10.1f} us   "
          f"({fresh_s * 1e6:.1f} us when memory is asked for afresh)")
    print(f"  NumPy {np.__version__:<10} {array_s * 1e6:10.1f} us   {array_s / rust_s:8.1f} times   ({array_s / fresh_s:.1f})")
    print(f"  Python loops     {loop_s * 1e6:10.1f} us   {loop_s / rust_s:8.1f} times   ({loop_s / fresh_s:.1f})")
    good = (apart < 1e-9 and sums_apart < 1e-3
            and LOOPS_WANTED <= loop_s / rust_s and NUMPY_WANTED <= array_s / rust_s)
    print("as wanted" if good else
          f"NOT as wanted: {LOOPS_WANTED:.0f} times the loops and {NUMPY_WANTED:.0f} times NumPy")
    sys.exit(0 if good else 1)


if __name__ == "__main__":
    main()
