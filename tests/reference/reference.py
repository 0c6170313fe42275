#!/usr/bin/env python3
"""Holds the program against a general-purpose solver on random decks and cut
lists: every answer is verified from its JSON, no bound may be above what the
solver finds, nothing proven may differ from it, and nothing that the solver
can do may be called impossible.

    pip install highspy
    python3 tests/reference/reference.py --binary target/debug/lastcourse
"""

import argparse
import json
import random
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

import check
import deck as decks
import model
from deck import INCH, MM

PREFERENCES = ["cost", "cost", "cost", "joints", "waste"]
# The solver's own arithmetic is in floating point.
SLACK = 1e-6


class Wrong(Exception):
    """The program and the solver contradict each other."""


def run(command, limit):
    done = subprocess.run(command, capture_output=True, text=True, timeout=limit)
    answer = json.loads(done.stdout, parse_float=check.Decimal) if done.returncode == 0 else None
    if answer:
        answer["totals"] = {k: float(v) if k in ("gap", "waste") else v for k, v in answer["totals"].items()}
    return done.returncode, answer, done.stderr


def contradiction(found, reference):
    """What the program says against (value, bound, finished) of the solver."""
    best, floor, finished = reference
    value, bound, proven = found
    room = SLACK * max(1, abs(value))
    if best is not None and bound > best:
        raise Wrong(f"the bound {bound} is above a plan of {best}")
    if finished and best is None:
        raise Wrong("the solver says there is no plan")
    if floor is not None and value < floor - room:
        raise Wrong(f"{value} is below the solver's bound {floor}")
    if finished and proven and best != value:
        raise Wrong(f"{value} is called proven, the solver's best is {best}")


def spoiled(answer):
    """The answer with one thing wrong, in several ways."""

    def change(path, value):
        copy = json.loads(json.dumps(answer, default=str))
        place = copy
        for key in path[:-1]:
            place = place[key]
        place[path[-1]] = value(place[path[-1]])
        return copy

    more = lambda length: float(length) + 0.001
    course, board = ["courses", 0], ["boards", 0]
    piece = [*course, "runs", 0, "pieces", 0]
    yield change(["supports", 1], more)
    yield change([*course, "width"], more)
    yield change([*course, "ripped"], lambda ripped: not ripped)
    yield change([*piece, "from"], more)
    yield change([*piece, "length"], more)
    yield change([*piece, "board"], lambda board: board + 1)
    yield change([*board, "offcut"], more)
    yield change([*board, "pieces"], lambda pieces: pieces[1:])
    yield change([*board, "price"], lambda price: f"{check.Decimal(price) + 1}")
    yield change(["totals", "joints"], lambda joints: joints + 1)
    yield change(["totals", "cost"], lambda cost: f"{check.Decimal(cost) + 1}")
    yield change(["totals", "laid"], more)
    yield change(["totals", "proven"], lambda proven: not proven)


def see_faults(deck, answer, prefer):
    """The checks are of use only if they see what is wrong."""
    for number, wrong in enumerate(spoiled(answer)):
        try:
            check.plan(deck, wrong, prefer)
        except check.Fault:
            continue
        raise Wrong(f"fault {number} was not seen")


def one_plan(binary, rng, folder, seconds):
    deck, prefer = decks.random_deck(rng), rng.choice(PREFERENCES)
    path = folder / "job.toml"
    path.write_text(deck.toml())
    command = [binary, "plan", str(path), "--format", "json", "--prefer", prefer]
    code, answer, said = run([*command, "--time-limit", str(seconds)], 20 * seconds + 60)
    reference = model.plan(deck, prefer, seconds)
    if code == 0:
        found = check.plan(deck, answer, prefer)
        if answer["courses"]:
            see_faults(deck, answer, prefer)
        if reference is None:
            return "verified only"
        contradiction(found[:3], reference)
        if reference[2]:
            return "equal" if found[2] else "not proven"
        return "within bounds"
    if code == 3 or code == 1 and "not proven" in said:
        return "nothing found"
    if code != 1:
        raise Wrong(f"exit code {code}: {said}")
    if reference is not None and reference[0] is not None:
        raise Wrong(f"called impossible, but the solver has a plan of {reference[0]}: {said}")
    return "both impossible" if reference and reference[2] else "impossible, not confirmed"


def one_cut(binary, rng, folder, seconds):
    metric = rng.random() < 0.5
    step, name = (MM, "mm") if metric else (INCH // 8, "in")
    per = 1 if metric else 8
    foot = 300 if metric else 96
    kerf = rng.choice([0, 1, 3]) * step
    stock = []
    for _ in range(rng.randint(1, 5)):
        feet = rng.randint(6, 20)
        limit = rng.randint(1, 40) if rng.random() < 0.2 else None
        stock.append((feet * foot * step, feet * rng.randint(80, 260) + rng.randint(0, 180), limit))
    longest = max(length for length, *_ in stock) // step
    pieces = Counter()
    for _ in range(rng.randint(1, 14)):
        pieces[rng.randint(longest // 9, longest) * step] += rng.randint(1, 25)
    command = [binary, "cut", "--format", "json", "--kerf", f"{kerf / step / per}{name}"]
    for length, price, limit in stock:
        text = f"{length / step / per}{name}@{price // 100}.{price % 100:02d}"
        command += ["--stock", text + (f"x{limit}" if limit is not None else "")]
    for length, count in pieces.items():
        command += ["--piece", f"{count}x{length / step / per}{name}"]
    (folder / "job.toml").write_text(" ".join(command) + "\n")
    problem = {"stock": stock, "pieces": pieces, "kerf": kerf}
    code, answer, said = run([*command, "--time-limit", str(seconds)], 20 * seconds + 60)
    reference = model.cut(problem, seconds)
    if code == 0:
        found = check.cut(problem, answer)
        if reference is None:
            return "verified only"
        contradiction(found, reference)
        if reference[2]:
            return "equal" if found[2] else "not proven"
        return "within bounds"
    if code != 1:
        raise Wrong(f"exit code {code}: {said}")
    if reference is not None and reference[0] is not None:
        raise Wrong(f"called impossible, but the solver has an answer of {reference[0]}: {said}")
    return "both impossible" if reference and reference[2] else "impossible, not confirmed"


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary", default="target/debug/lastcourse")
    parser.add_argument("--budget", type=float, default=120, help="seconds in all")
    parser.add_argument("--each", type=float, default=2, help="seconds for one search")
    parser.add_argument("--most", type=int, default=200, help="comparisons in all")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, help="where the inputs of failures are kept")
    arguments = parser.parse_args()
    began, tally, failed = time.monotonic(), Counter(), 0
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        for number in range(arguments.most):
            if time.monotonic() - began > arguments.budget:
                break
            seed = arguments.seed + number
            kind = one_cut if seed % 4 == 0 else one_plan
            try:
                outcome = kind(arguments.binary, random.Random(seed), folder, arguments.each)
                tally[kind.__name__[4:], outcome] += 1
            except (Wrong, check.Fault, subprocess.TimeoutExpired) as wrong:
                failed += 1
                print(f"seed {seed} ({kind.__name__[4:]}): {wrong}")
                if arguments.keep:
                    arguments.keep.mkdir(parents=True, exist_ok=True)
                    (arguments.keep / f"{seed}.toml").write_text((folder / "job.toml").read_text())
                else:
                    print((folder / "job.toml").read_text())
    for (kind, outcome), count in sorted(tally.items()):
        print(f"{kind:5} {outcome:26} {count:4}")
    compared = sum(n for (_, outcome), n in tally.items() if outcome in ("equal", "both impossible"))
    if compared < 20:
        print(f"only {compared} answers could be compared exactly")
        failed += 1
    print(f"reference: {sum(tally.values())} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
