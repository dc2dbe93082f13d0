"""Asks the mechanics crate through its example program, one question a line."""

import json
import math
import pathlib
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
MISSING = 77


def need(*names):
    """Imports the named modules or says aloud which is missing and stops with code 77."""
    import importlib

    found = []
    for name in names:
        try:
            found.append(importlib.import_module(name))
        except ImportError:
            print(
                f"NOT CHECKED: the Python package {name} is missing. Make one ready with:\n"
                f"  python3 -m venv .venv && .venv/bin/pip install numpy scipy\n"
                f"and run .venv/bin/python {sys.argv[0]}",
                file=sys.stderr,
            )
            sys.exit(MISSING)
    return found


class Mechanics:
    """The example program, built and kept running."""

    def __init__(self):
        build = ["cargo", "build", "--release", "--quiet", "-p", "mechanics"]
        subprocess.run(build + ["--example", "metrology_json"], cwd=ROOT, check=True)
        program = ROOT / "target" / "release" / "examples" / "metrology_json"
        self.process = subprocess.Popen(
            [program], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )

    def ask(self, question, *numbers):
        """The answer as a list of floats (NaN for one not to be had); a string is a refusal."""
        words = " ".join(repr(float(n)) for n in numbers)
        self.process.stdin.write(f"{question} {words}\n")
        self.process.stdin.flush()
        answer = json.loads(self.process.stdout.readline())
        if isinstance(answer, str):
            return answer
        return [math.nan if v is None else v for v in answer]
