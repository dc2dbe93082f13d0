"""A scheme as a model for CP-SAT, read from the text that the example `plan_text` writes.

The model is written from what a scheme means, not from how the planner works:

* optional intervals for the ways of a work, cumulative resources for people, kit and places with
  fixed intervals where a day has less;
* the engine stands in a row of stays, each at one station; moves between stays are optional
  intervals that take people and the whole engine; works on the engine, and the time from a work
  that leaves something hanging to the end of the one that puts it right, take a part of it;
* crane set-ups are arcs of a circuit over the crane's uses.
"""

import subprocess

from ortools.sat.python import cp_model

ENGINE = 1000
WEIGHTS = (1000, 500, 100, 1)


def rust(*arguments):
    """Runs the example and reads scheme and plan."""
    run = subprocess.run(
        ["cargo", "run", "--release", "--quiet", "-p", "sequence", "--example", "plan_text", "--",
         *map(str, arguments)], text=True, capture_output=True, check=True)
    return read(run.stdout)


def read(text):
    s = dict(days=[], kits=[], places=[], bar=[], bar_after=[], works=[], steps=[], moves=[])
    for line in text.splitlines():
        name, *rest = line.split()
        if name == "meta":
            s["bar_people"] = int(rest[1])
        elif name == "day":
            s["days"].append(tuple(map(int, rest)))
        elif name == "kit":
            s["kits"].append((int(rest[0]), list(map(int, rest[1:]))))
        elif name == "place":
            s["places"].append(int(rest[0]))
        elif name == "barmin":
            s["bar"].append(list(map(int, rest)))
        elif name == "barafter":
            s["bar_after"].append(tuple(map(int, rest)))
        elif name == "angle":
            pass
        elif name == "work":
            s["works"].append(dict(wanted=rest[1] == "1", ways=[]))
        elif name == "way":
            key = dict(r.split("=") for r in rest[9:])
            s["works"][-1]["ways"].append(dict(
                minutes=int(rest[2]), people=int(rest[3]), engine=rest[4] == "1",
                same_day=rest[5] == "1", spot=int(rest[6]), place=int(rest[7]),
                stations=[i for i, b in enumerate(rest[8]) if b == "1"], any=key["any"] == "1",
                kit=[tuple(map(int, k.split(":"))) for k in key["kit"].split(",") if k],
                clear=[int(p) for p in key["clear"].split(",") if p], preds=[], hangs=[],
                stays=[]))
        elif name == "pred":
            s["works"][-1]["ways"][int(rest[1])]["preds"].append(tuple(map(int, rest[2:])))
        elif name == "hang":
            s["works"][-1]["ways"][int(rest[1])]["hangs"].append(int(rest[2]))
        elif name == "stay":
            s["works"][-1]["ways"][int(rest[1])]["stays"].append(tuple(map(int, rest[2:])))
        elif name in ("cost", "bound"):
            s[name] = tuple(map(int, rest))
        elif name == "step":
            s["steps"].append(tuple(map(int, rest)))
        elif name == "move":
            s["moves"].append(tuple(map(int, rest)))
        elif name in ("seconds", "gap"):
            s[name] = float(rest[0])
        elif name == "replan":
            s["replan"] = (float(rest[0]), int(rest[1]), int(rest[2]), int(rest[4]))
        elif name == "refused":
            s["refused"] = " ".join(rest)
        elif rest:
            s[name] = int(rest[0])
    return s


def weighted(cost):
    return sum(w * c for w, c in zip(WEIGHTS, cost))


def solve(s, seconds, stays, weights=None, workers=2, horizon=None, hint=False):
    """Solves; returns status, cost, bound of the objective. `weights` None: elapsed minutes only.
    With `hint` CP-SAT is told the planner's ways and times to start from."""
    m = cp_model.CpModel()
    opens = [0]
    for _, minutes, _ in s["days"]:
        opens.append(opens[-1] + minutes)
    end = min(opens[-1], horizon or opens[-1])
    n = len(s["works"])
    on = [m.NewConstant(1) if w["wanted"] else m.NewBoolVar("") for w in s["works"]]
    start = [m.NewIntVar(0, end, "") for _ in range(n)]
    stop = [m.NewIntVar(0, end, "") for _ in range(n)]
    chosen, tasks = [], []
    for w, work in enumerate(s["works"]):
        row = [m.NewBoolVar("") for _ in work["ways"]]
        m.Add(sum(row) == on[w])
        for k, way in enumerate(work["ways"]):
            span = m.NewOptionalIntervalVar(start[w], way["minutes"], stop[w], row[k], "")
            tasks.append((w, k, way, row[k], span))
            if way["same_day"]:
                inside = [[a, b - way["minutes"]] for a, b in zip(opens, opens[1:])
                          if b - a >= way["minutes"]]
                m.AddLinearExpressionInDomain(
                    start[w], cp_model.Domain.FromIntervals(inside)).OnlyEnforceIf(row[k])
            for p, minutes, days in way["preds"]:
                m.AddImplication(row[k], on[p])
                m.Add(start[w] >= stop[p] + minutes).OnlyEnforceIf(row[k])
                if days:
                    day, date = m.NewIntVar(0, len(s["days"]) - 1, ""), m.NewIntVar(0, 10**6, "")
                    first = m.NewIntVar(0, end, "")
                    # The day in which the earlier work ends, and the first day late enough.
                    table = []
                    for d in range(len(s["days"])):
                        back = [i for i, x in enumerate(s["days"]) if x[0] >= s["days"][d][0] + days]
                        if back:
                            table.append((d, s["days"][d][0], min(opens[back[0]], end)))
                    m.AddAllowedAssignments([day, date, first], table)
                    lows = m.NewIntVar(0, end, "")
                    m.AddElement(day, opens[:-1], lows)
                    highs = m.NewIntVar(0, opens[-1], "")
                    m.AddElement(day, opens[1:], highs)
                    m.Add(stop[p] > lows).OnlyEnforceIf(row[k])
                    m.Add(stop[p] <= highs).OnlyEnforceIf(row[k])
                    m.Add(start[w] >= first).OnlyEnforceIf(row[k])
        chosen.append(row)
    # Stays of the engine. Those not used are at the end, of no length.
    stations, bar = range(len(s["bar"])), s["bar"]
    stay = [m.NewIntVar(0, len(bar) - 1, "") for _ in range(stays + 1)]
    m.Add(stay[0] == 0)
    low = [m.NewIntVar(0, end, "") for _ in range(stays + 1)]
    high = [m.NewIntVar(0, end, "") for _ in range(stays + 1)]
    used, bars, lengths = [], [], []
    m.Add(low[0] == 0)
    for i in range(stays):
        u, length = m.NewBoolVar(""), m.NewIntVar(0, max(map(max, bar)), "")
        m.AddAllowedAssignments([stay[i], stay[i + 1], length],
                                [(a, b, bar[a][b]) for a in stations for b in stations])
        m.Add(stay[i] == stay[i + 1]).OnlyEnforceIf(u.Not())
        m.Add(length > 0).OnlyEnforceIf(u)
        m.Add(low[i + 1] == high[i] + length)
        m.Add(high[i] == end).OnlyEnforceIf(u.Not())
        bars.append(m.NewOptionalIntervalVar(high[i], length, low[i + 1], u, ""))
        if used:
            m.AddImplication(u, used[-1])
        m.Add(low[i] <= high[i])
        # What comes before any move; waits in days are left out, which only makes it easier.
        for p, minutes, _ in s["bar_after"]:
            m.AddImplication(u, on[p])
            m.Add(high[i] >= stop[p] + minutes).OnlyEnforceIf(u)
        used.append(u)
        lengths.append(length)
    m.Add(high[stays] == end)
    for w, k, way, lit, _ in tasks:
        if way["any"]:
            continue
        spots = [m.NewBoolVar("") for _ in range(stays + 1)]
        m.Add(sum(spots) == 1).OnlyEnforceIf(lit)
        for i, spot in enumerate(spots):
            m.Add(low[i] <= start[w]).OnlyEnforceIf(spot)
            m.Add(stop[w] <= high[i]).OnlyEnforceIf(spot)
            m.AddLinearExpressionInDomain(
                stay[i], cp_model.Domain.FromValues(way["stations"])).OnlyEnforceIf(spot)
            if i:
                m.AddImplication(spot, used[i - 1])

    def share(parts, capacity):
        """Cumulative with a capacity for each day."""
        most = max(capacity)
        spans, demands = [p[0] for p in parts], [p[1] for p in parts]
        for d, c in enumerate(capacity):
            if c < most and opens[d] < end:
                spans.append(m.NewFixedSizeIntervalVar(opens[d], opens[d + 1] - opens[d], ""))
                demands.append(most - c)
        m.AddCumulative(spans, demands, most)

    share([(t[4], t[2]["people"]) for t in tasks] + [(b, s["bar_people"]) for b in bars],
          [d[2] for d in s["days"]])
    for p, room in enumerate(s["places"]):
        parts = [(t[4], room if p in t[2]["clear"] else 1) for t in tasks
                 if p in t[2]["clear"] or t[2]["place"] == p]
        m.AddCumulative([x[0] for x in parts], [x[1] for x in parts], room)
    engine = [(t[4], 1) for t in tasks if t[2]["engine"]] + [(b, ENGINE) for b in bars]

    def open_until(begin, until, lit):
        """From a time to the end of a work, or of all where that work is not in the plan."""
        if until >= 0 and s["works"][until]["wanted"]:
            yield m.NewOptionalIntervalVar(
                begin, m.NewIntVar(0, end, ""), stop[until], lit, "")
            return
        only = lit
        if until >= 0:
            both = m.NewBoolVar("")
            m.AddBoolAnd([lit, on[until]]).OnlyEnforceIf(both)
            m.AddBoolOr([lit.Not(), on[until].Not(), both])
            yield m.NewOptionalIntervalVar(
                begin, m.NewIntVar(0, end, ""), stop[until], both, "")
            only = m.NewBoolVar("")
            m.AddBoolAnd([lit, on[until].Not()]).OnlyEnforceIf(only)
            m.AddBoolOr([lit.Not(), on[until], only])
        yield m.NewOptionalIntervalVar(begin, m.NewIntVar(0, end + 1, ""), end + 1, only, "")

    for w, k, way, lit, _ in tasks:
        for until in way["hangs"]:
            engine += [(span, 1) for span in open_until(start[w], until, lit)]
    for k, (_, counts) in enumerate(s["kits"]):
        parts = [(t[4], c) for t in tasks for kit, c in t[2]["kit"] if kit == k]
        for w, _, way, lit, _ in tasks:
            for kit, count, until in way["stays"]:
                if kit == k:
                    parts += [(span, count) for span in open_until(stop[w], until, lit)]
        share(parts, counts)
    m.AddCumulative([x[0] for x in engine], [x[1] for x in engine], ENGINE)
    last = m.NewIntVar(0, end, "")
    for w in range(n):
        m.Add(last >= stop[w]).OnlyEnforceIf(on[w])
    set_ups = []
    for kit, (counted, _) in enumerate(s["kits"]):
        uses = [t for t in tasks if counted and any(x[0] == kit for x in t[2]["kit"])]
        if not uses or weights is None:
            continue
        arcs = [(0, 0, m.NewBoolVar(""))]
        for i, a in enumerate(uses, 1):
            first, final = m.NewBoolVar(""), m.NewBoolVar("")
            arcs += [(0, i, first), (i, 0, final), (i, i, a[3].Not())]
            set_ups.append(first)
            for j, b in enumerate(uses, 1):
                if i != j:
                    arc = m.NewBoolVar("")
                    arcs.append((i, j, arc))
                    m.Add(start[b[0]] >= stop[a[0]]).OnlyEnforceIf(arc)
                    if a[2]["spot"] != b[2]["spot"]:
                        set_ups.append(arc)
        m.AddCircuit(arcs)
    people = sum(t[2]["minutes"] * t[2]["people"] * t[3] for t in tasks)
    moved = []
    for u, length in zip(used, lengths):
        moved.append(s["bar_people"] * length)
    cost = (last, sum(used), sum(set_ups), people + sum(moved))
    if weights is None:
        m.Minimize(last)
    else:
        m.Minimize(sum(w * c for w, c in zip(weights, cost)))
    if hint:
        for w, k, begin, over in s["steps"]:
            m.AddHint(start[w], begin)
            m.AddHint(stop[w], over)
            for other, lit in enumerate(chosen[w]):
                m.AddHint(lit, int(other == k))
        for i, (begin, over) in enumerate(s["moves"]):
            m.AddHint(high[i], begin)
            m.AddHint(low[i + 1], over)
        for i, u in enumerate(used):
            m.AddHint(u, int(i < len(s["moves"])))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    status = solver.Solve(m)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return solver.StatusName(status), None, solver.BestObjectiveBound()
    found = tuple(int(solver.Value(c)) if not isinstance(c, int) else c for c in cost)
    return solver.StatusName(status), found, solver.BestObjectiveBound()
