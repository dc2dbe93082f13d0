#!/usr/bin/env python3
"""The JSON interface against its own OpenAPI document: schemathesis makes requests of every kind
that the document allows, and of many it does not, and compares the answers with it.

The demo's book is served on a free port of this machine; writing goes into that copy, which is
thrown away. Bounded: at most 20 requests of one kind an operation and 100 seconds in all.

Exit 0: every answer is as the document says, and none was a fault of the server. Exit 1: one was
not. Exit 77: schemathesis could not be installed or the program is not built with the bench; nothing
was checked.
"""

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import urllib.request
from pathlib import Path
from urllib.parse import urlencode

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = os.environ.get("PINCHBAR", str(ROOT / "target/debug/pinchbar"))
# The demo is judged on this day, and this guards nothing.
DAY, PASSWORD, ENGINEER = "2026-11-20", "the demo password", "responsible engineer"
EXAMPLES, SECONDS = 20, 100


def not_run(why):
    print(f"SKIPPED, nothing was checked: {why}")
    sys.exit(77)


def tool():
    """The schemathesis beside this Python, installed if it is not there."""
    st = Path(sys.executable).parent / "st"
    if not st.exists() and sys.prefix != sys.base_prefix:
        subprocess.run([sys.executable, "-m", "pip", "install", "--quiet", "schemathesis"], check=False)
    if not st.exists():
        not_run("schemathesis (PyPI) is missing; run from an environment that has it")
    return str(st)


def served(*args):
    """The bench, and where it is."""
    server = subprocess.Popen([PROGRAM, "--json", "bench", *args, "--at", "127.0.0.1:0"], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    line = server.stdout.readline()
    if not line:
        not_run(f"{PROGRAM} serves no bench: {server.stderr.read().decode().strip()}")
    return server, json.loads(line)


def device_token(address):
    """A token for a device, given out on the people's page."""
    browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())

    def form(page, to, **fields):
        text = browser.open(f"{address}{page}").read().decode()
        fields["token"] = re.search(r'name="token" value="([0-9a-f]+)"', text)[1]
        return browser.open(f"{address}{to}", urlencode(fields).encode()).read().decode()

    form("/sign-in", "/sign-in", name=ENGINEER, password=PASSWORD, then="/people")
    page = form("/people", "/people/device", device="checker", person="J.K.", until="2099-12-31")
    return re.search(r"<code>([^<]+)</code>", page)[1]


def main():
    st = tool()
    if not Path(PROGRAM).exists():
        not_run(f"{PROGRAM} is not built")
    with tempfile.TemporaryDirectory() as folder:
        server, told = served("--demo")
        server.terminate()
        server.wait()
        book = Path(folder) / "goods.book"
        shutil.move(told["book"], book)
        shutil.rmtree(Path(told["book"]).parent)
        server, told = served(str(book), "--today", DAY)
        try:
            address = told["address"].rstrip("/")
            token = device_token(address)
            with urllib.request.urlopen(f"{address}/api/openapi.json") as answer:
                operations = sum(map(len, json.load(answer)["paths"].values()))
            run = subprocess.run(
                [
                    st, "run", f"{address}/api/openapi.json",
                    "--header", f"Authorization: Bearer {token}",
                    "--phases", "examples,coverage,fuzzing", "--max-examples", str(EXAMPLES), "--max-time", str(SECONDS),
                    "--workers", "2", "--seed", "1", "--continue-on-failure", "--warnings", "off", "--no-color",
                    "--request-timeout", "60",
                    # Sheets of many pages take seconds each and their answers are no JSON; the tests of
                    # the crate ask for each of them once.
                    "--exclude-path-regex", "^/api/paper/(dossier|condition-report|machine-to|tags)$",
                    # Whether a name is known is not in the document: what is well formed may be refused.
                    "--exclude-checks", "positive_data_acceptance",
                ],
                cwd=folder, check=False,
            )
        finally:
            server.terminate()
            log = server.communicate()[1].decode()
        faults = re.findall(r"^bench: .*$", log, re.M)
        for fault in faults[:5]:
            print(f"the server's log: {fault}")
        print(f"{operations} operations asked; {'as the document says' if run.returncode == 0 and not faults else 'FAULTS'}")
        sys.exit(0 if run.returncode == 0 and not faults else 1)


main()
