"""How long the bench takes over each page of the demo, with twenty people at it.

Twenty people, each asking for a page, reading it for half a second and asking for the next, over
loopback from this second process; half a minute in all. What is measured is from the request sent to
the last byte of the answer. Printed: for each page its bytes, median and 99th percentile; and what
the first page weighs with everything it needs. No limit is asserted: a busy machine is not a fault.

With `--write` one more person writes a reading every second, so that what is kept for the book as it
stands has to be worked out anew all the while.

    python3 checks/bench_pages.py [PROGRAM] [--write]
"""

import gzip
import http.client
import json
import random
import re
import subprocess
import sys
import threading
import time
from pathlib import Path
from urllib.parse import urlencode

WRITES = "--write" in sys.argv
ARGS = [a for a in sys.argv[1:] if not a.startswith("--")]
PROGRAM = ARGS[0] if ARGS else str(Path(__file__).parent.parent / "target/debug/pinchbar")
PEOPLE, SECONDS, READS_S = 20, 30, 0.5
NEVER = re.compile(r"^/(asset|sign-in|sign-out|photograph)|\.(pdf|csv|xlsx|tar|book|pem|crt)$|^/gauging/-/|^//")


class Person:
    """Somebody with a browser: one connection, one cookie."""

    def __init__(self, port):
        self.port, self.cookie = port, ""
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)

    def ask(self, path, body=None, **more):
        headers = {"Cookie": self.cookie, "Accept": "text/html", **more}
        if body is not None:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        began = time.perf_counter()
        self.connection.request("POST" if body is not None else "GET", path, body, headers)
        answer = self.connection.getresponse()
        content = answer.read()
        took = time.perf_counter() - began
        for sent in answer.headers.get_all("Set-Cookie") or []:
            if sent.startswith("pinchbar="):
                self.cookie = sent.split(";")[0]
        return answer, content, took

    def sign_in(self, name):
        _, page, _ = self.ask("/sign-in")
        token = re.search(rb'name="token" value="([0-9a-f]+)"', page)[1].decode()
        answer, _, _ = self.ask("/sign-in", urlencode({"token": token, "name": name, "password": "", "then": "/"}))
        assert answer.status == 303, answer.status


def pages(person):
    """One page of each kind, as far as links lead from the first."""
    seen, waiting = {}, ["/", "/gauging/big-end.right.bore"]
    while waiting and len(seen) < 40:
        path = waiting.pop(0)
        bare = path.split("?")[0].split("#")[0]
        steps = bare.split("/")
        kind = "/".join([steps[1], "*" if len(steps) > 2 else "", *(s if s.isalpha() else "*" for s in steps[3:])])
        if kind in seen or NEVER.search(bare):
            continue
        answer, content, _ = person.ask(bare)
        if answer.status != 200:
            continue
        seen[kind] = bare
        waiting += [h for h in re.findall(r'href="([^"]+)"', content.decode()) if h.startswith("/")]
    # Costly ones, whether or not a link to them came first.
    return list(dict.fromkeys([*seen.values(), "/book/verify", "/plan?stage=build", "/today?stage=build"]))


def weigh(person):
    """Bytes of the first page with its style, script and letters, as they cross the wire."""
    _, page, _ = person.ask("/", **{"Accept-Encoding": "gzip"})
    answer, plain, _ = person.ask("/")
    wanted = set(re.findall(r'(?:href|src)="(/asset/[^"]+)"', plain.decode()))
    total = {"/": len(page)}
    for path in sorted(wanted):
        _, content, _ = person.ask(path, **{"Accept-Encoding": "gzip"})
        total[path] = len(content)
        if path.endswith(".css"):
            for inner in re.findall(rb"/asset/[\w.-]+\.woff2", content if content[:2] != b"\x1f\x8b" else gzip.decompress(content)):
                _, letters, _ = person.ask(inner.decode())
                total[inner.decode()] = len(letters)
    return total


def at(values, share):
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


def main():
    server = subprocess.Popen([PROGRAM, "--json", "bench", "--demo", "--at", "127.0.0.1:0"], stdout=subprocess.PIPE)
    try:
        told = json.loads(server.stdout.readline())
        port = int(re.search(r":(\d+)/", told["address"])[1])
        first = Person(port)
        first.sign_in("M.E.")
        every = pages(first)
        took, lock, stop = {p: [] for p in every}, threading.Lock(), time.monotonic() + SECONDS

        def work(n):
            chance, person = random.Random(n), Person(port)
            person.sign_in(["M.E.", "J.K.", "T.O."][n % 3])
            order = every * 50
            chance.shuffle(order)
            time.sleep(chance.random() * READS_S)
            for path in order:
                if stop < time.monotonic():
                    return
                _, _, t = person.ask(path)
                with lock:
                    took[path].append(t)
                time.sleep(READS_S * (0.5 + chance.random()))

        def write():
            person, n, path = Person(port), 0, "/gauging/big-end.right.bore"
            person.sign_in("J.K.")
            while time.monotonic() < stop:
                _, page, _ = person.ask("/keys")
                token = re.search(rb'name="token" value="([0-9a-f]+)"', page)[1].decode()
                n += 1
                form = {"token": token, "feature": "crank-pin.left", "value": f"7.68{n % 10}7 in", "station": "B", "direction": "V", "gauge": "om-8", "then": "/keys"}
                answer, content, _ = person.ask("/say/reading", urlencode(form))
                assert answer.status == 303, content.decode()
                time.sleep(1)
            print(f"{n} readings were written meanwhile")

        people = [threading.Thread(target=work, args=(n,)) for n in range(PEOPLE)]
        people += [threading.Thread(target=write)] if WRITES else []
        for p in people:
            p.start()
        for p in people:
            p.join()
        print(f"{PEOPLE} people, {sum(map(len, took.values()))} pages in {SECONDS} s")
        print(f"{'page':44} {'asked':>6} {'bytes':>8} {'median':>9} {'p99':>9} {'most':>9}")
        everything = []
        for path in every:
            _, content, _ = first.ask(path)
            ms = [1e3 * t for t in took[path]] or [float("nan")]
            everything += ms
            print(f"{path[:44]:44} {len(took[path]):6} {len(content):8} {at(ms, .5):6.1f} ms {at(ms, .99):6.1f} ms {max(ms):6.1f} ms")
        print(f"{'all':44} {len(everything):6} {'':8} {at(everything, .5):6.1f} ms {at(everything, .99):6.1f} ms {max(everything):6.1f} ms")
        total = weigh(first)
        parts = ", ".join(f"{path.rpartition('/')[2] or 'page'} {size}" for path, size in total.items())
        print(f"first page with all it needs: {sum(total.values())} bytes ({parts})")
    finally:
        server.terminate()
        server.wait()


main()
