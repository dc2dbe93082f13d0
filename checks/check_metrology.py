"""Compares sizes, fits, factors and stacks with NumPy and SciPy on random data.

Exit code 0: all agree. 1: something disagrees beyond its tolerance. 77: NumPy or SciPy missing.
"""

import itertools
import sys

from ask import Mechanics, need

np, scipy, optimize, stats = need("numpy", "scipy", "scipy.optimize", "scipy.stats")

rng = np.random.default_rng(20240229)
mechanics = Mechanics()
failures = 0
counts = {}


def agree(name, got, expected, tolerance):
    """Counts one comparison; prints it if it fails."""
    global failures
    done, worst = counts.get(name, (0, 0.0))
    got, expected = np.atleast_1d(got), np.atleast_1d(expected)
    error = float(np.max(np.abs(got - expected))) if not isinstance(got[0], str) else np.inf
    counts[name] = (done + 1, max(worst, error / tolerance))
    if not error <= tolerance:
        failures += 1
        print(f"DISAGREES {name}: {got} against {expected}, tolerance {tolerance}")


def ring(n, spread, arc=2 * np.pi):
    """Points near a circle of radius about 0.1 somewhere, and flat for the question."""
    centre = rng.uniform(-0.05, 0.05, 2)
    angle = np.sort(rng.uniform(0, arc, n)) if arc < 6 else np.arange(n) * 2 * np.pi / n
    r = 0.1 * (1 + spread * rng.uniform(-1, 1, n))
    return centre[0] + r * np.cos(angle), centre[1] + r * np.sin(angle)


def flat(*columns):
    return np.column_stack(columns).ravel()


def circles():
    for case in range(60):
        n = int(rng.integers(6, 60))
        arc = 2 * np.pi if case % 2 else rng.uniform(2.0, 5.9)
        x, y = ring(n, 10 ** rng.uniform(-5, -1.5), arc)

        def residual(c):
            return np.hypot(x - c[0], y - c[1]) - c[2]

        # Tightest tolerances SciPy takes; from several starts, the best.
        best = min(
            (
                optimize.least_squares(
                    residual, [x.mean() + dx, y.mean(), 0.1], xtol=1e-15, ftol=1e-15, gtol=1e-15
                )
                for dx in (0.0, 0.02)
            ),
            key=lambda s: s.cost,
        )
        agree("least-squares circle", mechanics.ask("fit_circle", *flat(x, y)), best.x, 2e-8)


def zone_by_search(x, y):
    """Minimum zone by repeated linear programs in SciPy's own solver, an independent route to
    the same optimum, started from the mean."""
    c = np.array([x.mean(), y.mean()])
    width = np.inf
    for _ in range(60):
        d = np.hypot(x - c[0], y - c[1])
        if np.ptp(d) >= width:
            break
        width = np.ptp(d)
        u = np.column_stack([(x - c[0]) / d, (y - c[1]) / d])
        one = np.ones((len(x), 1))
        a = np.vstack([np.hstack([-u, -one, -one]), np.hstack([u, one, -one])])
        # In units of the present width: the solver's tolerance is absolute.
        e = (d - d.mean()) / width
        s = optimize.linprog(
            [0, 0, 0, 1], A_ub=a, b_ub=np.concatenate([-e, e]), bounds=[(None, None)] * 4
        )
        c = c + width * s.x[:2]
    return width


def circumscribed_by_trial(x, y):
    """Least radius over all pairs and triples of points that hold the rest: exact, slow."""
    p = np.column_stack([x, y])
    best = np.inf

    def hold(c, r):
        return np.all(np.hypot(p[:, 0] - c[0], p[:, 1] - c[1]) <= r * (1 + 1e-12))

    for i, j in itertools.combinations(range(len(p)), 2):
        c, r = (p[i] + p[j]) / 2, np.hypot(*(p[i] - p[j])) / 2
        if r < best and hold(c, r):
            best = r
    for i, j, k in itertools.combinations(range(len(p)), 3):
        a = 2 * np.array([p[j] - p[i], p[k] - p[i]])
        if abs(np.linalg.det(a)) < 1e-12:
            continue
        c = np.linalg.solve(a, [p[j] @ p[j] - p[i] @ p[i], p[k] @ p[k] - p[i] @ p[i]])
        r = np.hypot(*(p[i] - c))
        if r < best and hold(c, r):
            best = r
    return best


def zones():
    for _ in range(30):
        x, y = ring(int(rng.integers(8, 80)), 10 ** rng.uniform(-5, -1.5))
        got = mechanics.ask("zone_circle", *flat(x, y))
        agree("minimum-zone circle (LP)", got[3], zone_by_search(x, y), 1e-11)
        # Nelder and Mead's search from many starts must not find a narrower one.
        best = min(
            optimize.minimize(
                lambda c: np.ptp(np.hypot(x - c[0], y - c[1])),
                np.array(got[:2]) + rng.normal(0, 0.01, 2),
                method="Nelder-Mead",
                options={"xatol": 1e-12, "fatol": 1e-13, "maxiter": 4000},
            ).fun
            for _ in range(4)
        )
        agree("no narrower zone (search)", max(0.0, got[3] - best), 0.0, 1e-11)
    for _ in range(12):
        x, y = ring(int(rng.integers(5, 20)), 10 ** rng.uniform(-4, -1))
        got = mechanics.ask("circumscribed", *flat(x, y))
        agree("circumscribed circle", got[2], circumscribed_by_trial(x, y), 1e-12)


def extremes(basis, y):
    """Half zone, largest inside and smallest outside of y ≈ basis·β by SciPy's linear programs."""
    n, k = basis.shape
    free = [(None, None)] * (k + 1)
    one = np.ones((n, 1))
    cost = np.zeros(k + 1)
    cost[-1] = 1
    scale = np.abs(y).max()
    z = optimize.linprog(
        cost,
        A_ub=np.vstack([np.hstack([basis, -one]), np.hstack([-basis, -one])]),
        b_ub=np.concatenate([y, -y]) / scale,
        bounds=free,
    ).fun
    size = np.zeros(k)
    size[0] = 1
    inside = optimize.linprog(-size, A_ub=basis, b_ub=y / scale, bounds=free[:k])
    outside = optimize.linprog(size, A_ub=-basis, b_ub=-y / scale, bounds=free[:k])
    return 2 * z * scale, -inside.fun * scale, outside.fun * scale


def traverses():
    for _ in range(40):
        n = int(rng.integers(8, 200))
        angle = np.sort(rng.uniform(0, 2 * np.pi, n)) if rng.random() < 0.5 else np.arange(n) * 2 * np.pi / n
        radial = 1e-5 * rng.normal(size=n) + 1e-4 * np.cos(angle - rng.uniform(0, 6))
        basis = np.column_stack([np.ones(n), np.cos(angle), np.sin(angle)])
        got = np.array(mechanics.ask("traverse", *flat(angle, radial))).reshape(4, 4)
        c, *_ = np.linalg.lstsq(basis, radial, rcond=None)
        agree("traverse, least squares", got[0, :3], c[[1, 2, 0]], 1e-15)
        agree("traverse, roundness", got[0, 3], np.ptp(radial - basis @ c), 1e-15)
        zone, inside, outside = extremes(basis, radial)
        agree("traverse, minimum zone", got[1, 3], zone, 1e-13)
        agree("traverse, inscribed", got[2, 2], inside, 1e-13)
        agree("traverse, circumscribed", got[3, 2], outside, 1e-13)


def cylinders():
    for _ in range(20):
        stations = np.sort(rng.uniform(0, 0.4, int(rng.integers(2, 6))))
        per = int(rng.integers(6, 24))
        s = np.repeat(np.arange(len(stations)), per)
        angle = rng.uniform(0, 2 * np.pi, len(s))
        z = stations[s]
        radial = 2e-5 * rng.normal(size=len(s)) + 1e-4 * z * np.cos(angle) + 5e-5 * np.sin(angle)
        m = (z.min() + z.max()) / 2
        c, sn = np.cos(angle), np.sin(angle)
        basis = np.column_stack([np.ones(len(s)), c, sn, c * (z - m), sn * (z - m)])
        got = mechanics.ask("cylinder", len(stations), *stations, *flat(s, angle, radial))
        ls, *_ = np.linalg.lstsq(basis, radial, rcond=None)
        zone, inside, _ = extremes(basis, radial)
        agree("cylinder, least squares", got[0], 0.2 + 2 * ls[0], 1e-14)
        agree("cylinder, departures", got[1], np.ptp(radial - basis @ ls), 1e-14)
        agree("cylinder, minimum zone", got[2], zone, 1e-13)
        agree("cylinder, clean-up", got[3], 0.2 + 2 * inside, 1e-13)


def forms():
    for _ in range(40):
        stations = np.sort(rng.uniform(0, 0.4, int(rng.integers(3, 6))))
        directions = rng.uniform(0, np.pi, int(rng.integers(3, 6)))
        cells = [
            (s, d)
            for s in range(len(stations))
            for d in directions
            if rng.random() < 0.85
        ]
        s = np.array([c[0] for c in cells])
        d = np.array([c[1] for c in cells])
        if len(set(s)) < 3 or len(set(d)) < 3:
            continue
        size = 0.2 + 1e-4 * rng.normal(size=len(s))
        x = stations[s]
        lo, hi = x.min(), x.max()
        t = (x - (lo + hi) / 2) / ((hi - lo) / 2)
        turn = [np.cos(2 * d), np.sin(2 * d)]
        a = np.column_stack([np.ones(len(s)), t, *turn])
        b = np.column_stack([a, t * t])
        if np.linalg.cond(b) > 30:
            continue
        c, *_ = np.linalg.lstsq(a, size, rcond=None)
        q, *_ = np.linalg.lstsq(b, size, rcond=None)
        expected = [size.mean(), c[0], c[1] / ((hi - lo) / 2), -q[4]]
        got = mechanics.ask("form", len(stations), *stations, *flat(s, d, size))
        agree("form: mean, size, crown", np.array(got)[[0, 1, 3]], np.array(expected)[[0, 1, 3]], 1e-14)
        agree("form: taper", got[2], expected[2], 1e-12)


def ovalities():
    for _ in range(40):
        d = rng.uniform(0, np.pi, int(rng.integers(4, 12)))
        size = 0.2 + 1e-4 * rng.normal(size=len(d))
        a = np.column_stack([np.ones(len(d)), np.cos(2 * d), np.sin(2 * d)])
        if np.linalg.cond(a) > 30:
            continue
        c, *_ = np.linalg.lstsq(a, size - 0.2, rcond=None)
        got = mechanics.ask("ovality", *flat(d, size))
        expected = [2 * np.hypot(c[1], c[2]), 0.2 + c[0]]
        agree("ovality and mean", np.array(got)[[0, 2]], expected, 1e-14)
        apart = np.sin(got[1] - np.arctan2(c[2], c[1]) / 2)
        agree("direction of ovality", apart, 0.0, 1e-9)


def drifts():
    for _ in range(40):
        stations, directions = int(rng.integers(2, 6)), int(rng.integers(1, 5))
        n = int(rng.integers(2 * (stations + directions), 60))
        s, d = rng.integers(0, stations, n), rng.integers(0, directions, n)
        time = np.cumsum(rng.uniform(5, 60, n))
        reading = 0.2 + 1e-5 * rng.normal(size=stations)[s] + 1e-5 * rng.normal(size=directions)[d]
        reading += 2e-9 * rng.normal() * time + 1e-6 * rng.normal(size=n)
        groups = np.column_stack([s[:, None] == np.arange(stations), d[:, None] == np.arange(directions)])
        # Time in units of its own spread and readings about 0.2: unscaled, the reference itself
        # would lose half its digits.
        unit = time.std()
        a = np.column_stack([(time - time.mean()) / unit, groups]).astype(float)
        y = reading - 0.2
        c, _, rank, _ = np.linalg.lstsq(a, y, rcond=None)
        dof = n - rank
        left = y - a @ c
        slope = c[0] / unit
        se = np.sqrt(left @ left / dof * np.linalg.pinv(a.T @ a)[0, 0]) / unit
        t = slope / se
        got = mechanics.ask("drift", *flat(time, s, d, reading))
        agree("drift: slope, s.e.", got[:2], [slope, se], 1e-18)
        agree("drift: t, dof", got[2:4], [t, dof], 1e-9 * (1 + abs(t)))
        agree("drift: p", got[4], 2 * stats.t.sf(abs(t), dof), 1e-9)


def lines():
    for _ in range(60):
        n = int(rng.integers(3, 50))
        x = rng.normal(rng.uniform(-100, 100), rng.uniform(0.1, 10), n)
        y = rng.normal() * x + rng.normal(size=n)
        fit = stats.linregress(x, y)
        got = mechanics.ask("line", *flat(x, y))
        expected = [fit.intercept, fit.slope, fit.intercept_stderr, fit.stderr]
        agree("line", got[:4], expected, 1e-9 * max(1, np.abs(expected).max()))
        agree("line, p of the slope", got[5], fit.pvalue, 1e-9)
        centred = np.column_stack([x - x.mean(), y - y.mean()])
        _, sv, v = np.linalg.svd(centred, full_matrices=False)
        got = mechanics.ask("line_orthogonal", *flat(x, y))
        across = np.cos(got[2]) * v[0, 1] - np.sin(got[2]) * v[0, 0]
        agree("orthogonal line, direction", across, 0.0, 1e-12)
        agree("orthogonal line, distance", got[3], sv[1] / np.sqrt(n), 1e-11)


def factors():
    for dof in [1, 1.3, 2, 3, 4.7, 10, 16.75, 50, 120.5, 999, 1001, 5e4, 1e6]:
        for p in [0.5, 0.6827, 0.9, 0.95, 0.9545, 0.99, 0.9973, 0.99999]:
            expected = stats.t.ppf(0.5 + p / 2, dof)
            agree("student factor (relative)", mechanics.ask("coverage", p, dof)[0] / expected, 1.0, 1e-8)
    for p in [0.5, 0.95, 0.99999]:
        expected = stats.norm.ppf(0.5 + p / 2)
        agree("normal factor (relative)", mechanics.ask("coverage", p, 0)[0] / expected, 1.0, 1e-10)


def distribution(kind, a, b, c):
    """SciPy's distribution of a scatter about its centre."""
    return {
        0: lambda: stats.norm(0, a),
        1: lambda: stats.uniform(-a, 2 * a),
        2: lambda: stats.triang(0.5, -a, 2 * a),
        3: lambda: stats.arcsine(-a, 2 * a),
        4: lambda: stats.truncnorm(b / a, c / a, 0, a),
        5: lambda: stats.t(b, 0, a),
    }[kind]()


def convolved(terms):
    """Grid and distribution function of the sum of the terms, by convolution of cell masses."""
    reach = sum(abs(t[0]) * max(8 * distribution(*t[2:]).std(), 0) for t in terms) + 1e-9
    cells = 1 << 17
    step = 2 * reach / cells
    edges = (np.arange(cells + 1) - cells // 2) * step
    spectrum = np.ones(cells // 2 + 1, dtype=complex)
    shift = 0.0
    for factor, centre, *scatter in terms:
        cdf = distribution(*scatter).cdf(edges / factor)
        mass = np.abs(np.diff(cdf))
        spectrum *= np.fft.rfft(np.fft.ifftshift(mass))
        shift += factor * centre
    mass = np.fft.fftshift(np.fft.irfft(spectrum, cells))
    # Each cell's mass stands for its middle, half a cell above its lower edge.
    middles = edges[:-1] + 0.5 * step * len(terms)
    return middles + shift, np.cumsum(mass) - 0.5 * mass, mass / step


def stacks():
    draws = 4_000_000
    for case in range(10):
        terms = []
        for _ in range(int(rng.integers(2, 9))):
            kind = int(rng.integers(0, 6))
            a = rng.uniform(0.2, 1.0)
            b, c = {4: (-rng.uniform(0.1, 2), rng.uniform(0.1, 2)), 5: (rng.uniform(5, 30), 0)}.get(kind, (0, 0))
            terms.append((rng.choice([-1, 1]) * rng.uniform(0.3, 2), rng.uniform(-5, 5), kind, a, b, c))
        got = mechanics.ask("chain", draws, case, 2, *np.array(terms).ravel())
        place, cdf, density = convolved(terms)
        mean = sum(t[0] * (t[1] + distribution(*t[2:]).mean()) for t in terms)
        sd = np.sqrt(sum((t[0] * distribution(*t[2:]).std()) ** 2 for t in terms))
        agree("stack: mean (standard errors / 5)", (got[0] - mean) / (5 * sd / draws**0.5), 0.0, 1.0)
        agree("stack: sd", got[1] / sd, 1.0, 0.004)
        for p, value in [(0.025, got[2]), (0.975, got[3])]:
            exact = np.interp(p, cdf, place)
            error = np.sqrt(p * (1 - p) / draws) / np.interp(exact, place, density)
            # Five standard errors of the draws, and two cells of the convolution's grid.
            slack = 5 * error + 2 * (place[1] - place[0])
            agree("stack: quantiles (of slack)", (value - exact) / slack, 0.0, 1.0)
        agree("stack: shortest no longer", max(0.0, (got[5] - got[4]) - (got[3] - got[2])), 0.0, 1e-12)


for part in [circles, zones, traverses, cylinders, forms, ovalities, drifts, lines, factors, stacks]:
    part()
print(f"numpy {np.__version__}, scipy {scipy.__version__}")
for name, (done, worst) in counts.items():
    print(f"{name:40} {done:4} comparisons, worst {worst:.2e} of the tolerance")
print("all agree" if failures == 0 else f"{failures} disagree")
sys.exit(1 if failures else 0)
