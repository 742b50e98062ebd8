"""Compare policies of test intervals on simulated estates whose truth is known."""

from estate.domain.progress import Progress, silent
from estate.scheduler.comparison import compare
from estate.scheduler.simulate import Outcome, Trial
from estate.scheduler.truths import TRUTHS


def compare_policies(
    valves: int = 1000, years: float = 6.0, seed: int = 1, progress: Progress = silent
) -> tuple[Outcome, ...]:
    """Run fixed intervals, published methods and this register's own on the same estates.

    The first truth is the one that the model assumes; the others break it.

    Args:
        valves: how many each estate has.
        years: how long it is watched.
        seed: the same seed gives the same figures.
        progress: told how far the work is.
    """
    trials = [Trial(truth, valves, years, seed) for truth in TRUTHS]
    return compare(trials, progress=lambda share: progress(round(100 * share), 100, "Simulating"))
