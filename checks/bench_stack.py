"""Times Monte Carlo of a chain of 20 terms against NumPy doing the same work in the same run.

Both draw every term anew, add up the chain, and give mean, standard deviation and the 2.5 % and
97.5 % quantiles. NumPy does it the straightforward vectorised way: `default_rng`, one call a term,
in chunks that stay in the cache, quantiles from the kept results. The two take turns, and the
best time of each counts, so that other work on the machine hits both alike.

Exit code 0: results agree (and the ratio is reached, if one is asked for with --require).
1: they do not. 77: NumPy missing.
"""

import argparse
import os
import sys
import time

from ask import Mechanics, need

(np,) = need("numpy")

parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
parser.add_argument("--draws", type=int, default=10_000_000)
parser.add_argument("--rounds", type=int, default=3)
parser.add_argument("--threads", type=int, default=os.cpu_count())
parser.add_argument("--require", type=float, default=0.0, help="least ratio to pass")
options = parser.parse_args()

NORMAL, RECTANGULAR = 0, 1
CHUNK = 50_000


def chain(kinds):
    """Terms as (factor, centre, kind, width): factors of both signs, no two alike."""
    return [
        ((-1) ** i * (0.5 + 0.1 * i), 10.0, kind, 0.1) for i, kind in enumerate(kinds)
    ]


def numpy_way(terms, draws, seed):
    """NumPy's answer: mean, sd, two quantiles."""
    rng = np.random.default_rng(seed)
    kept = np.empty(draws)
    for start in range(0, draws, CHUNK):
        size = min(CHUNK, draws - start)
        total = np.zeros(size)
        for factor, centre, kind, width in terms:
            if kind == NORMAL:
                total += factor * rng.normal(centre, width, size)
            else:
                total += factor * rng.uniform(centre - width, centre + width, size)
        kept[start : start + size] = total
    low, high = np.quantile(kept, [0.025, 0.975])
    return kept.mean(), kept.std(ddof=1), low, high


mechanics = Mechanics()
passed = True
print(f"{options.draws} draws of 20 terms, {os.cpu_count()} cores, numpy {np.__version__}, best of {options.rounds}")
for name, kinds in {
    "all normal": [NORMAL] * 20,
    "normal and rectangular": [NORMAL, RECTANGULAR] * 10,
    "all rectangular": [RECTANGULAR] * 20,
}.items():
    terms = chain(kinds)
    numbers = [v for f, c, k, w in terms for v in (f, c, k, w, 0, 0)]
    theirs, one, many = [], [], []
    for seed in range(options.rounds):
        start = time.perf_counter()
        expected = numpy_way(terms, options.draws, seed)
        theirs.append(time.perf_counter() - start)
        for threads, times in [(1, one), (options.threads, many)]:
            # Wall time as seen from here, with asking and answering.
            start = time.perf_counter()
            got = mechanics.ask("chain", options.draws, seed, threads, *numbers)
            times.append(time.perf_counter() - start)
        sd = expected[1]
        # Standard errors of the difference of two runs, in standard deviations: of a mean, a
        # standard deviation, and (normal-like) 2.5 % quantiles; five of them.
        error = 5 * (2 / options.draws) ** 0.5
        for value, other, factor in zip(got, expected, [1.0, 0.71, 2.7, 2.7]):
            if abs(value - other) > error * factor * sd:
                passed = False
                print(f"DISAGREES {name}: {got[:4]} against {expected}")
                break
    ratio = min(theirs) / min(many)
    print(
        f"{name:24} numpy {min(theirs):.3f} s, here {min(one):.3f} s on 1 thread"
        f" ({min(theirs) / min(one):.1f} times), {min(many):.3f} s on {options.threads}"
        f" ({ratio:.1f} times)"
    )
    if ratio < options.require:
        passed = False
        print(f"BELOW the ratio asked for, {options.require}")
sys.exit(0 if passed else 1)
