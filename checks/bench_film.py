#!/usr/bin/env python3
"""Oil film: the Rust solver beside a SciPy sparse solve of the same discrete problem.

Both lay the same graded grid, write the same balance of flow, and search for the film's end
with the same active-set passes from the same nested start; SciPy solves each pass with
scipy.sparse.linalg.spsolve on the film nodes alone, with its default ordering and with the one
for symmetric patterns, and the quicker of the two counts. Prints the difference of the
pressures, both times from the same run, and the ratio. Exit code 1 when the pressures
differ, the residual is above 1e-8, or the ratio is below 5.

Wants numpy and scipy (`pip install scipy` into a venv) and cargo. Run from the project root:

    python checks/bench_film.py
"""

import os
import subprocess
import sys
import tempfile
import time

import numpy as np
import scipy
import scipy.sparse as sp
import scipy.sparse.linalg as sla

EXTENT = 2 * np.pi
THINNEST = np.pi


def unfold(angle, root_q):
    turns = np.sign(angle) * np.floor(np.abs(angle) / EXTENT + 0.5)
    half = 0.5 * (angle - turns * EXTENT)
    return 2 * np.arctan2(root_q * np.sin(half), np.cos(half)) + turns * EXTENT


def lay(around, across, ecc, tilt):
    root_q = ((1 + ecc) / (1 - ecc)) ** 0.25
    s = np.linspace(unfold(-THINNEST, root_q), unfold(EXTENT - THINNEST, root_q), around + 1)
    theta = THINNEST + unfold(s, 1 / root_q)
    theta[0], theta[-1] = 0.0, EXTENT
    mirrored = tilt == 0.0
    places = across // 2 if mirrored else across
    z = np.arange(places + 1) / across
    return theta, z, mirrored


def assemble(around, across, ld, ecc, tilt):
    theta, z, mirrored = lay(around, across, ecc, tilt)
    width = len(z) - 1 if mirrored else len(z) - 2
    lines = around - 1
    dz = 1.0 / across

    def film(t, at):
        return 1 - (ecc + tilt * (2 * at - 1)) * np.cos(t - THINNEST)

    mid = 0.5 * (theta[:-1] + theta[1:])
    step = np.diff(theta)
    zi = z[1 : width + 1]
    weight = np.full(width, dz)
    if mirrored:
        weight[-1] *= 0.5
    h_face = film(mid[:, None], zi[None, :])
    flow = weight * h_face**3 / step[:, None]
    box = np.diff(mid)
    z_face = (np.arange(width + 1) + 0.5) * dz
    edge = 1 / (4 * ld * ld) * box[:, None] / dz * film(theta[1:-1, None], z_face[None, :]) ** 3
    if mirrored:
        edge[:, -1] = 0.0
    diagonal = flow[:-1] + flow[1:] + edge[:, :-1] + edge[:, 1:]
    source = -weight * np.diff(h_face, axis=0)
    n = lines * width
    along = -flow[1:-1].ravel()
    beside = -edge[:, 1:-1]
    beside = np.hstack([beside, np.zeros((lines, 1))]).ravel()[:-1]
    matrix = sp.diags_array(
        [diagonal.ravel(), beside, beside, along, along],
        offsets=[0, 1, -1, width, -width],
        shape=(n, n),
        format="csr",
    )
    return matrix, source.ravel(), theta, lines, width


def nearest(nodes, fine, coarse, unknowns):
    place = np.floor(nodes * coarse / fine + 0.5).astype(int)
    return np.clip(place, 1, unknowns) - 1


def solve(around, across, ld, ecc, tilt, clock, ordering):
    """Pressures, film mask, passes. `clock` gathers the seconds spent inside spsolve."""
    matrix, source, theta, lines, width = assemble(around, across, ld, ecc, tilt)
    half = across // 2
    half += half % 2
    if around // 2 < 24 or half < 8:
        mask = np.repeat(theta[1:-1] <= THINNEST + 0.6, width)
    else:
        _, coarse_mask, _, coarse_shape = solve(
            around // 2, half, ld, ecc, tilt, clock, ordering
        )
        grid = coarse_mask.reshape(coarse_shape)
        row = nearest(np.arange(1, lines + 1), around, around // 2, coarse_shape[0])
        col = nearest(np.arange(1, width + 1), across, half, coarse_shape[1])
        mask = grid[np.ix_(row, col)].ravel()
    scale = np.abs(source).max()
    tiny = 1e-13 * scale
    diagonal = matrix.diagonal()
    passes = 0
    while True:
        passes += 1
        start = time.perf_counter()
        keep = np.flatnonzero(mask)
        part = matrix[keep][:, keep].tocsc()
        p = np.zeros(len(source))
        p[keep] = sla.spsolve(part, source[keep], permc_spec=ordering)
        clock.append(time.perf_counter() - start)
        short = matrix @ p - source
        drop = mask & (-p * diagonal > tiny)
        add = ~mask & (short < -tiny)
        if not drop.any() and not add.any():
            worst = max(np.abs(short[mask]).max(), (-short[~mask]).max(initial=0.0)) / scale
            return p, mask, (passes, worst), (lines, width)
        mask = (mask & ~drop) | add


def rust(ld, ecc, tilt, around, across, repeats, path):
    words = ["cargo", "run", "--quiet", "--release", "-p", "mechanics", "--example", "film_times"]
    words += ["--", str(ld), str(ecc), str(tilt), str(around), str(across), str(repeats), path]
    out = subprocess.run(words, check=True, capture_output=True, text=True).stdout.split()
    return dict(zip(out[::2], out[1::2]))


def main():
    os.chdir(os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
    print(f"numpy {np.__version__}, scipy {scipy.__version__}, best of 9 each, cold start")
    good = True
    around, across = 200, 60
    cases = [
        ("parallel, half solved", 1.0, 0.6, 0.0),
        ("parallel, half solved", 0.5, 0.8, 0.0),
        ("parallel, half solved", 1.0, 0.95, 0.0),
        ("tilted, whole solved", 1.0, 0.6, 0.1),
        ("tilted, whole solved", 0.5, 0.8, 0.05),
    ]
    with tempfile.TemporaryDirectory() as folder:
        for name, ld, ecc, tilt in cases:
            path = os.path.join(folder, "field.txt")
            theirs = rust(ld, ecc, tilt, around, across, 9, path)
            best, inside = np.inf, np.inf
            for turn in range(18):
                clock = []
                ordering = ("COLAMD", "MMD_AT_PLUS_A")[turn % 2]
                start = time.perf_counter()
                p, mask, (passes, worst), shape = solve(
                    around, across, ld, ecc, tilt, clock, ordering
                )
                best = min(best, time.perf_counter() - start)
                inside = min(inside, sum(clock))
            field = np.loadtxt(path)[1:-1, 1 : shape[1] + 1]
            apart = np.abs(field.ravel() - p).max() / p.max()
            seconds = float(theirs["seconds"])
            residual = float(theirs["residual"])
            ratio = inside / seconds
            print(
                f"L/D {ld}, e {ecc}, tilt {tilt} ({name}), {around} x {across}, "
                f"{shape[0] * shape[1]} unknowns: Rust {seconds * 1e3:.2f} ms "
                f"({theirs['passes']} passes, residual {residual:.1e}), SciPy {best * 1e3:.1f} ms "
                f"(of it spsolve {inside * 1e3:.1f} ms, {passes} passes, residual {worst:.1e}); "
                f"pressures apart {apart:.1e} of the peak; "
                f"ratio {ratio:.1f} (spsolve alone), {best / seconds:.1f} (whole)"
            )
            good &= apart < 1e-9 and residual < 1e-8 and ratio >= 5
            good &= int(theirs["passes"]) == passes
    print("passed" if good else "FAILED")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
