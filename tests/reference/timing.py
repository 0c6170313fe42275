#!/usr/bin/env python3
"""How long the program and a general-purpose solver take over the same decks,
in the same run: the whole program from start to end against the solver alone,
given the full model of `model.py`. Both in processor time, one core each, a
minute on the wall at most, which is less of a processor that others use too;
models too large to be written down are left out and counted.

    pip install highspy
    python3 tests/reference/timing.py --binary target/release/lastcourse
"""

import argparse
import random
import resource
import sys
import tempfile
import time
from pathlib import Path

import check
import deck as decks
import model
import reference
from deck import INCH, Deck, Stock

FOOT = 12 * INCH


def yard_deck(rng):
    """A deck as most are built, 8 to 24 ft along and 2 to 16 courses across, for
    three lengths of boards."""
    side = ("open", 0, INCH, 0)
    face, gap = 22 * INCH // 4, 6350 * 4
    courses = rng.randint(2, 16)
    deck = Deck(
        unit="in",
        along=FOOT * rng.randint(8, 24) + INCH // 4 * rng.randint(0, 47),
        across=0,
        edges={name: side for name in ("first", "last", "left", "right")},
        face=face,
        gap=gap,
        spacing=16 * INCH,
        thickness=INCH * 3 // 2,
        finish="rip-last",
        stagger=rng.choice([16, 24, 24, 32]) * INCH,
        same_joist_after=1,
        shortest=rng.choice([0, 2 * FOOT, 3 * FOOT]),
        bearing=3,
        end_gap=0,
        joint_price=rng.choice([0, 100]),
        doubled_price=0,
        kerf=INCH // 8,
        end_trim=0,
        split_rips=False,
        rip_kerf=INCH // 8,
    )
    deck.across = (face + gap) * courses - gap - deck.reach("first") - deck.reach("last")
    deck.first = deck.spacing
    for feet in sorted(rng.sample([8, 10, 12, 14, 16, 20], 3)):
        price = feet * rng.randint(180, 280)
        deck.stock.append(Stock(feet * FOOT, price, 0, None))
    return deck


class Clock:
    """The solver's processor time, its model's writing left out."""

    def __init__(self):
        self.spent = None
        solve = model.Model.solve

        def timed(own, seconds):
            began = time.process_time()
            answer = solve(own, seconds)
            self.spent = time.process_time() - began
            return answer

        model.Model.solve = timed


def children():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def share(ordered, part):
    return ordered[min(len(ordered) - 1, int(len(ordered) * part))]


def line(name, values, show):
    ordered = sorted(values)
    parts = [show(share(ordered, part)) for part in (0.5, 0.9)] + [show(ordered[-1])]
    print(f"{name:24} median {parts[0]}, 90 % {parts[1]}, worst {parts[2]}")


def compare(name, make, arguments, clock):
    """Times decks of one kind and says how the two did."""
    own, theirs, ratios, open_own, open_theirs, large = [], [], [], 0, 0, 0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.toml"
        for number in range(arguments.decks):
            deck = make(random.Random(arguments.seed + number))
            path.write_text(deck.toml())
            clock.spent = None
            answer = model.plan(deck, "cost", arguments.each)
            if answer is None or clock.spent is None:
                large += 1
                continue
            command = [arguments.binary, "plan", str(path), "--format", "json"]
            before = children()
            code, found, said = reference.run(
                [*command, "--time-limit", str(arguments.each)], 20 * arguments.each
            )
            took = children() - before
            if code == 0:
                values = check.plan(deck, found, "cost")
                reference.contradiction(values[:3], answer)
                open_own += not values[2]
            elif answer[0] is not None and code == 1 and "not proven" not in said:
                raise reference.Wrong(f"called impossible: {said}")
            open_theirs += not answer[2]
            own.append(took)
            theirs.append(clock.spent)
            ratios.append(clock.spent / took)
            if arguments.verbose:
                print(f"  {number:4} {took:8.3f} s {clock.spent:8.3f} s {ratios[-1]:9.1f}", flush=True)
    print(f"{name}: {len(own)} decks, {large} models too large")
    if own:
        seconds, times = lambda x: f"{x:.3f} s", lambda x: f"{x:.1f}"
        line("  the program", own, seconds)
        line("  the solver", theirs, seconds)
        line("  solver / program", ratios, times)
        line("  program / solver", [1 / ratio for ratio in ratios], lambda x: f"{x:.3f}")
        print(f"  not proven: program {open_own}, solver {open_theirs}; stopped at the limit,")
        print("  a time is only the least that the run takes, and so is a ratio to it")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary", default="target/release/lastcourse")
    parser.add_argument("--decks", type=int, default=40, help="decks of each kind")
    parser.add_argument("--each", type=int, default=60, help="seconds for one search")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--verbose", action="store_true", help="every deck")
    arguments = parser.parse_args()
    clock = Clock()
    compare("every rule varied", decks.random_deck, arguments, clock)
    compare("as most are built", yard_deck, arguments, clock)


if __name__ == "__main__":
    sys.exit(main())
