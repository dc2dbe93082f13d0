#!/usr/bin/env python3
"""Independent check of motion, forces, clearance and balance.

Nothing of the Rust formulas is used: positions come from solving the length of the rod with
SciPy's root finder, speeds and accelerations from differentiating that constraint and solving the
linear equations, forces from the Newton-Euler equations of both bodies as one linear system, dead
centres from SciPy's minimiser, derivatives of the clearance from differences of a chain written
here, balance weights from NumPy's linear solver.

Exit 0: everything agrees. Exit 1: something does not. Exit 77: NumPy or SciPy is missing, nothing
was checked.
"""

import math
import pathlib
import subprocess
import sys

try:
    import numpy as np
    import scipy
    from scipy import integrate, optimize
except ImportError as missing:
    print(f"SKIPPED, nothing was checked: {missing}. Install numpy and scipy to run this check.")
    sys.exit(77)

ROOT = pathlib.Path(__file__).resolve().parent.parent
ENGINES = 400
RANDOM = np.random.default_rng(20)


def rust(lines):
    """Answers of the example program, one list of numbers a line."""
    run = subprocess.run(
        ["cargo", "run", "--release", "--quiet", "-p", "mechanics", "--example", "motion_solve"],
        input="\n".join(lines) + "\n", text=True, capture_output=True, check=True, cwd=ROOT)
    answers = []
    for question, line in zip(lines, run.stdout.splitlines(), strict=True):
        if line.startswith("error"):
            raise SystemExit(f"the program refused: {question}: {line}")
        answers.append(np.array([float(word) for word in line.split()]))
    return answers


def engine():
    """A random engine: sizes, axle position, angle and speed."""
    r = RANDOM.uniform(0.2, 0.4)
    length = r * RANDOM.uniform(3.5, 9.0)
    return dict(
        r=r, l=length, b=RANDOM.uniform(-0.25, 0.25), h=RANDOM.uniform(-0.1, 0.1),
        fore=RANDOM.uniform(-0.01, 0.01), rise=RANDOM.uniform(-0.06, 0.06),
        a=RANDOM.uniform(0, 2 * math.pi), w=RANDOM.uniform(-40, 40), dw=RANDOM.uniform(-20, 20))


def numbers(e):
    return [e[k] for k in ("r", "l", "b", "h", "fore", "rise", "a", "w", "dw")]


def frame(e):
    """Direction of the line and square to it, in the engine frame (x forward, z up)."""
    along = np.array([math.cos(e["b"]), math.sin(e["b"])])
    return along, np.array([-along[1], along[0]])


def crank(e, a):
    """Crank pin with its first and second derivative by the wheel angle."""
    axle = np.array([e["fore"], e["rise"]])
    r = e["r"]
    return (axle + r * np.array([math.cos(a), -math.sin(a)]),
            r * np.array([-math.sin(a), -math.cos(a)]),
            r * np.array([-math.cos(a), math.sin(a)]))


def crosshead(e, a):
    """Crosshead along its line: the root of |S - P| = l in front of the pin."""
    along, square = frame(e)
    pin = crank(e, a)[0]
    gap = lambda s: np.linalg.norm(s * along + e["h"] * square - pin) - e["l"]
    foot = float(along @ pin)
    return optimize.brentq(gap, foot, foot + 2 * e["l"], xtol=1e-15, rtol=8.9e-16)


def motion(e):
    """Position, velocity, acceleration of the crosshead and of the rod's angle in the frame."""
    along, square = frame(e)
    a, w, dw = e["a"], e["w"], e["dw"]
    pin, dpin, ddpin = crank(e, a)
    vpin, apin = dpin * w, ddpin * w * w + dpin * dw
    s = crosshead(e, a)
    rod = s * along + e["h"] * square - pin
    # Pin + l (cos t, sin t) = S: unknown speeds (s', t'), then accelerations.
    turn = np.array([-rod[1], rod[0]])
    matrix = np.column_stack([along, -turn])
    v, t1 = np.linalg.solve(matrix, vpin)
    acc, t2 = np.linalg.solve(matrix, apin - rod * t1 * t1)
    angle = math.atan2(rod @ square, rod @ along)
    return s, v, acc, angle, t1, t2, pin, apin, rod


def dead_centres(e):
    """Extremes of the crosshead, searched for; crank angles from the line."""
    out = []
    for sign, around in ((-1, -e["b"]), (1, math.pi - e["b"])):
        best = optimize.minimize_scalar(
            lambda a, sign=sign: sign * crosshead(e, a),
            bounds=(around - 1.0, around + 1.0), method="bounded", options=dict(xatol=1e-10))
        out.append((best.x + e["b"], sign * best.fun))
    return out


def newton_euler(e, steam, mc, m, c, inertia, friction, g):
    """Forces of both bodies from one linear system; friction by trying both signs."""
    along, square = frame(e)
    s, v, acc, _, t1, t2, pin, apin, rod = motion(e)
    unit = rod / e["l"]
    normal = np.array([-unit[1], unit[0]])
    place = s * along + e["h"] * square
    centre = place - c * unit
    # Acceleration of the centre of mass from the pin's, along and square to the rod.
    away = e["l"] - c
    acentre = apin + away * (t2 * normal - t1 * t1 * unit)
    weight = np.array([0.0, -g])
    way = np.sign(v)
    cross = lambda p, q: p[0] * q[1] - p[1] * q[0]
    for sign in (1.0, -1.0):
        # Unknown: R (rod on crosshead, 2), N (bars on crosshead), B (pin on rod, 2).
        matrix = np.zeros((5, 5))
        right = np.zeros(5)
        # Crosshead in x and z.
        for k in range(2):
            matrix[k, k] = 1.0
            matrix[k, 2] = square[k] - friction * way * sign * along[k]
            right[k] = mc * acc * along[k] - steam * along[k] - mc * weight[k]
            matrix[2 + k, k] = -1.0
            matrix[2 + k, 3 + k] = 1.0
            right[2 + k] = m * (acentre[k] - weight[k])
        for k in range(2):
            one = np.eye(2)[k]
            matrix[4, k] = -cross(place - centre, one)
            matrix[4, 3 + k] = cross(pin - centre, one)
        right[4] = inertia * t2
        x = np.linalg.solve(matrix, right)
        if x[2] * sign >= 0:
            break
    on_pin = -x[3:5]
    arm = pin - np.array([e["fore"], e["rise"]])
    # Forward rotation is clockwise in (x, z).
    moment = -cross(arm, on_pin)
    return [x[2], on_pin @ along, on_pin @ square, moment, np.linalg.norm(x[:2]),
            x[:2] @ unit, x[3:5] @ unit]


def chain(incline, z):
    """Front and back clearance at the dead centres, all slack forward; z in the Rust order."""
    (length, front_spigot, back_spigot, front_joint, back_joint, piston, cone_piston, pin_cone,
     rod, big, small, throw, offset, to_cylinder, fore, rise, big_slack, small_slack,
     journal_slack, horn_slack) = z
    e = dict(r=throw, l=rod + big + small + (big_slack + small_slack + journal_slack) / 2,
             b=incline, h=offset, fore=fore + horn_slack / 2, rise=rise)
    (_, front), (_, back) = dead_centres(e)
    piston_back = lambda s: s + pin_cone + cone_piston
    front_cover = to_cylinder + length + front_joint - front_spigot
    back_cover = to_cylinder - back_joint + back_spigot
    return np.array([front_cover - piston_back(front) - piston, piston_back(back) - back_cover])


def random_chain():
    return RANDOM.uniform(-0.2, 0.2), np.array([
        RANDOM.uniform(0.7, 0.9), 0.012, 0.014, 0.001, 0.001, RANDOM.uniform(0.1, 0.15),
        RANDOM.uniform(0.9, 1.1), 0.15, RANDOM.uniform(1.6, 2.2), 0.0005, -0.0003,
        RANDOM.uniform(0.28, 0.35), RANDOM.uniform(-0.05, 0.05), RANDOM.uniform(2.6, 2.8),
        RANDOM.uniform(-0.005, 0.005), RANDOM.uniform(-0.04, 0.04), 3e-4, 2e-4, 3e-4, 4e-4])


class Tally:
    """Largest disagreement of each kind, against its limit."""

    def __init__(self):
        self.worst = {}

    def see(self, name, got, wanted, limit):
        worst = float(np.max(np.abs(np.asarray(got) - np.asarray(wanted))))
        old = self.worst.get(name, (0.0, limit))[0]
        self.worst[name] = (max(old, worst), limit)

    def report(self):
        bad = 0
        for name, (worst, limit) in self.worst.items():
            good = worst <= limit
            bad += not good
            print(f"{'agrees ' if good else 'DIFFERS'} {name}: {worst:.2e} (limit {limit:.0e})")
        return bad


def join(word, values):
    return word + " " + " ".join(repr(float(v)) for v in values)


def main():
    tally = Tally()
    engines = [engine() for _ in range(ENGINES)]
    extra = [dict(steam=RANDOM.uniform(-2e5, 2e5), mc=RANDOM.uniform(0, 400),
                  m=RANDOM.uniform(0, 300), c=RANDOM.uniform(0.3, 0.8) * e["l"],
                  inertia=RANDOM.uniform(0, 150), friction=RANDOM.choice([0.0, 0.08]),
                  g=RANDOM.choice([0.0, 9.81])) for e in engines]
    lines = [join("line", numbers(e)) for e in engines]
    lines += [join("force", numbers(e) + list(x.values())) for e, x in zip(engines, extra)]
    answers = rust(lines)
    for e, got in zip(engines, answers[:ENGINES]):
        s, v, acc, angle, t1, t2, *_ = motion(e)
        tally.see("crosshead position, m", got[0], s, 1e-13)
        tally.see("velocity, m/s", got[1], v, 1e-11)
        tally.see("acceleration, m/s2", got[2], acc, 1e-8)
        tally.see("rod angle, rad", got[3], angle, 1e-13)
        tally.see("rod speed, rad/s", got[4], t1, 1e-11)
        tally.see("rod acceleration, rad/s2", got[5], t2, 1e-8)
        (f, front), (b, back) = dead_centres(e)
        tally.see("dead centre positions, m", got[8:10], [front, back], 1e-12)
        # A minimum is found in angle only to the root of the machine's precision.
        near = lambda x, y: math.remainder(x - y, 2 * math.pi)
        tally.see("dead centre angles, rad", [near(got[6], f), near(got[7], b)], 0.0, 1e-6)
    for e, x, got in zip(engines, extra, answers[ENGINES:]):
        wanted = newton_euler(e, **x)
        tally.see("forces and moment, N and N m", got, wanted, 1e-5)

    chains = [random_chain() for _ in range(60)]
    for (incline, z), got in zip(chains, rust([join("chain", [i, *z]) for i, z in chains])):
        tally.see("clearance, m", got[:2], chain(incline, z), 1e-12)
        step = 1e-4
        for k in range(20):
            d = np.zeros(20)
            d[k] = step
            slope = (chain(incline, z + d) - chain(incline, z - d)) / (2 * step)
            tally.see("clearance derivatives", got[[2 + k, 22 + k]], slope, 1e-7)

    # Drawing engines: mean and spread against NumPy's own draws of the same distribution.
    incline, z = chains[0]
    spread = RANDOM.uniform(1e-4, 5e-4, 20)
    n = 400_000
    got = rust([join("draw", [11, n, incline, *z, *spread])])[0]
    drawn = z + spread * RANDOM.standard_normal((20_000, 20))
    first = chain(incline, z)
    slopes = np.array([(chain(incline, z + 1e-4 * unit) - chain(incline, z - 1e-4 * unit)) / 2e-4
                       for unit in np.eye(20)])
    sample = first + (drawn - z) @ slopes
    tally.see("drawn mean, standard errors", (got[[0, 2]] - sample.mean(0))
              / (sample.std(0) / math.sqrt(20_000)), 0.0, 4.5)
    tally.see("drawn spread, standard errors", (got[[1, 3]] / sample.std(0) - 1)
              * math.sqrt(2 * 20_000), 0.0, 4.5)

    for _ in range(5):
        left, right = RANDOM.uniform(0.6, 0.9), -RANDOM.uniform(0.6, 0.9)
        masses = [(RANDOM.uniform(10, 300), RANDOM.uniform(0.1, 0.5),
                   RANDOM.uniform(0, 7), RANDOM.uniform(-1, 1)) for _ in range(6)]
        got = rust([join("planes", [left, right, *np.ravel(masses)])])[0]
        total = sum(m * r * np.exp(1j * k) for m, r, k, _y in masses)
        couple = sum(m * r * np.exp(1j * k) * y for m, r, k, y in masses)
        w = np.linalg.solve(np.array([[1, 1], [left, right]], complex), -np.array([total, couple]))
        tally.see("balance weights, kg m", [got[0] * np.exp(1j * got[1]),
                                            got[2] * np.exp(1j * got[3])], w, 1e-9)

    x = np.sort(np.concatenate([[0, 1], RANDOM.uniform(0, 1, 40)]))
    out, home = 1e6 / (1 + 3 * x), 1e5 * (1 + x[::-1] ** 4)
    home[-1], home[0] = out[-1], out[0]
    points = [*zip(x, out), *list(zip(x, home))[::-1]]
    got = rust([join("diagram", np.ravel(points))])[0]
    area = integrate.trapezoid(out, x) - integrate.trapezoid(home, x)
    tally.see("mean effective pressure, Pa", got, area, 1e-6)

    for _ in range(5):
        length, k, e, c = (RANDOM.uniform(1, 3), RANDOM.uniform(0.02, 0.05),
                           RANDOM.uniform(0.001, 0.02), RANDOM.uniform(0.03, 0.08))
        area, sy, modulus = 0.006, 300e6, 207e9
        got = rust([join("secant", [length, area, k, sy, modulus, e, c])])[0][0]
        euler = math.pi ** 2 * modulus * area * (k / length) ** 2
        rest = lambda p: p / area * (1 + e * c / k**2 / math.cos(
            length / (2 * k) * math.sqrt(p / (area * modulus)))) - sy
        load = optimize.brentq(rest, 1.0, min(euler * (1 - 1e-9), sy * area))
        tally.see("secant load, relative", got / load, 1.0, 1e-9)

    print(f"NumPy {np.__version__}, SciPy {scipy.__version__}, {ENGINES} random engines")
    sys.exit(1 if tally.report() else 0)


if __name__ == "__main__":
    main()
