"""Scores the reading of sheets in every manner over many seeds.

python -m tests.benchmarks.sheets_read --seeds 20 [--manner "cards down"] [--notes]
"""

import argparse
import sys

from tests.intake.manners.demands import (
    kept_scores,
    scores,
    table,
    told_otherwise,
    too_often_asked,
    wrongly_taken,
)
from tests.intake.manners.manner import MANNERS
from tests.intake.manners.scoring import registers


def main() -> int:
    """Print the table and what falls short of it; says 1 where anything does."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--first", type=int, default=1, help="the first seed")
    parser.add_argument("--manner", action="append", choices=list(MANNERS))
    parser.add_argument("--notes", action="store_true", help="say each thing that is not as it should be")
    asked = parser.parse_args()
    seeds = range(asked.first, asked.first + asked.seeds)
    with registers() as held:
        found = scores(held, seeds, asked.manner or MANNERS)
        found |= {} if asked.manner else kept_scores(held)
        otherwise = [] if asked.manner else told_otherwise(held, seeds)
    faults = [*too_often_asked(found), *wrongly_taken(found), *otherwise]
    notes = [note for score in found.values() for note in score.notes] if asked.notes else []
    sys.stdout.write("\n".join([table(found), "", *faults, "", *notes]) + "\n")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
