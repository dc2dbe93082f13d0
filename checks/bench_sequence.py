#!/usr/bin/env python3
"""Planner and OR-Tools CP-SAT on the same schemes, in the same run.

    bench_sequence.py [150|1000|5000|strip|build|all] [seconds for CP-SAT] [seeds]

`strip` and `build` are those of the demo goods engine (release example `plan_speed` of `engine`).

CP-SAT runs by itself, and up to 150 works also started from the planner's plan, which shows what is left to gain.
Prints cost, bound, gap, time and memory of both, and the time to mend a plan after a way is stuck.
Both have two threads. Exit 77: OR-Tools is missing.
"""

import subprocess
import sys

try:
    import ortools
    import sequence_model as model
except ImportError as missing:
    print(f"SKIPPED, nothing was compared: {missing}. Install ortools (PyPI) to run this.")
    sys.exit(77)

SECONDS = {150: 2, 1000: 6, 5000: 28}
DEMO = ("strip", "build")


def demo(stage, peer):
    """A stage of the demo engine by elapsed minutes, alone and from the planner's plan."""
    text = subprocess.run(
        ["cargo", "run", "--release", "--quiet", "-p", "engine", "--example", "plan_speed", "--",
         "text", stage, "2"], text=True, capture_output=True, check=True).stdout
    s = model.read(text)
    ours = s["cost"][0]
    print(f"demo goods, {stage}, {len(s['works'])} works\n  planner {ours} min {s['cost']} bound "
          f"{s['bound'][0]} gap {100 * s['gap']:.2f} % in {s['seconds']:.2f} s, {s['tried']} plans")
    for hint in (False, True) if peer > 0 else ():
        name = "CP-SAT from the planner's plan" if hint else "CP-SAT"
        status, cost, bound = model.solve(
            s, peer, len(s["moves"]) + 3, None, 2, int(ours * 1.15), hint)
        found = "no plan" if cost is None else f"{cost[0]} min"
        print(f"  {name}: {found}, bound {bound:.0f} in {peer:.0f} s ({status})", flush=True)


def main():
    which = sys.argv[1] if len(sys.argv) > 1 else "150"
    peer = float(sys.argv[2]) if len(sys.argv) > 2 else 60
    seeds = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    sizes = list(SECONDS) if which == "all" else [] if which in DEMO else [int(which)]
    for stage in DEMO if which == "all" else [which] if which in DEMO else []:
        demo(stage, peer)
    print(f"CP-SAT of OR-Tools {ortools.__version__}; cost = 1000 elapsed + 500 moves + 100 set-ups "
          "+ people-minutes")
    for works in sizes:
        for seed in range(1, seeds + 1):
            s = model.rust("large", works, 3, seed, SECONDS[works], "weights", 2)
            ours = model.weighted(s["cost"])
            print(f"{works} works, seed {seed}")
            print(f"  planner {ours:>10} {s['cost']} bound {s['bound']} gap {100 * s['gap']:.2f} % "
                  f"in {s['seconds']:.2f} s, {s['memory'] / 1024:.0f} MB, "
                  f"{s['breaches']} breaches, {s['tried']} plans tried")
            if "replan" in s:
                print(f"  mended after a stuck way in {1000 * s['replan'][0]:.0f} ms "
                      f"({s['replan'][3]} ms of processor), "
                      f"{s['replan'][1]} breaches, {s['replan'][2]} works changed or shifted")
            for hint in ((False, True) if works <= 150 else (False,)) if peer > 0 else ():
                name = "CP-SAT from the planner's plan" if hint else "CP-SAT"
                status, cost, bound = model.solve(
                    s, peer, len(s["moves"]) + 4, model.WEIGHTS, 2, int(s["cost"][0] * 1.3), hint)
                if cost is None:
                    print(f"  {name}: no plan in {peer:.0f} s ({status}), bound {bound:.0f}")
                    continue
                theirs = model.weighted(cost)
                print(f"  {name}: {theirs} {cost} bound {bound:.0f} gap "
                      f"{100 * (theirs - bound) / theirs:.2f} % in {peer:.0f} s ({status}); "
                      f"planner is {100 * (ours - theirs) / theirs:+.2f} %", flush=True)


if __name__ == "__main__":
    main()
