#!/usr/bin/env python3
"""Independent check of the planner: the same small schemes solved by OR-Tools CP-SAT.

On schemes of 3 to 9 works with every oddity, and on strips of 12 and 30 works, the planner's cost
is compared with CP-SAT's, and its bound with CP-SAT's cost: a proven plan must be CP-SAT's to the
minute, no bound may be above what CP-SAT found, no plan better than what CP-SAT proved, and none
more than 2 % above CP-SAT's (strips of 30 works are not proven by the planner).
Of 150 works, CP-SAT starts from the planner's plan and must not find one that is 1 % better.

Exit 0: everything agrees. Exit 1: something does not. Exit 77: OR-Tools is missing, nothing was
checked.
"""

import sys

try:
    import sequence_model as model
except ImportError as missing:
    print(f"SKIPPED, nothing was checked: {missing}. Install ortools (PyPI) to run this check.")
    sys.exit(77)


def main():
    bad = compared = both = 0
    above = []
    cases = [("small", 3 + seed % 7, 2, 1000 + seed) for seed in range(60)]
    cases += [("large", 12, 3, seed) for seed in range(3)]
    cases += [("large", 30, 3, seed) for seed in range(8)]
    cases += [("large", 150, 3, seed) for seed in range(1, 3)]
    for case in cases:
        many = case[1] > 100
        s = model.rust(*case, 0, "weights", 2 if many else 1, 60000)
        stays = max(6, len(s["moves"]) + 3)
        status, cost, bound = model.solve(
            s, 10 if many else 5, stays, model.WEIGHTS, horizon=int(s["cost"][0] * 1.1) if many else None,
            hint=many)
        faults = []
        if "refused" in s:
            if cost is not None:
                faults.append(f"refused ({s['refused']}), but CP-SAT has a plan {cost}")
        elif cost is None:
            if status == "INFEASIBLE":
                faults.append("a plan where CP-SAT proves there is none")
        else:
            ours, theirs = model.weighted(s["cost"]), model.weighted(cost)
            compared += 1
            if s["breaches"]:
                faults.append("the plan breaks the scheme")
            if model.weighted(s["bound"]) > theirs:
                faults.append(f"bound {s['bound']} above CP-SAT's plan {cost}")
            if ours < bound - 0.5:
                faults.append(f"plan {s['cost']} better than CP-SAT's proven {bound}")
            if s["optimal"] and theirs < ours:
                faults.append(f"proven {s['cost']}, but CP-SAT has {cost}")
            if s["optimal"] and status == "OPTIMAL":
                both += 1
            above.append(100 * (ours - theirs) / theirs)
            most = 1 if many else 2
            if ours > theirs * (1 + most / 100):
                faults.append(f"plan {s['cost']} more than {most} % above CP-SAT's {cost}")
        for fault in faults:
            bad += 1
            print(f"{case}: {fault}")
    print(f"{compared} schemes compared with CP-SAT, {both} proven by both, {bad} disagreements; "
          f"{sum(a > 0 for a in above)} plans cost more than CP-SAT's, at most {max(above):.2f} %")
    sys.exit(1 if bad or compared < 40 or both < 30 else 0)


if __name__ == "__main__":
    main()
