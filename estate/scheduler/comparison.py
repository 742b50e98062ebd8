"""Interval policies side by side, on the same estates."""

from collections.abc import Callable, Sequence

from estate.scheduler.policies import DriftRisk, Fixed, Policy, SimpleResponse, Stages, Staircase
from estate.scheduler.simulate import Outcome, Trial, simulate

POLICIES: tuple[Policy, ...] = (
    Fixed(13),
    Fixed(26),
    Fixed(39),
    Fixed(52),
    Stages(),
    Stages(1.5),
    Staircase(),
    SimpleResponse(),
    DriftRisk(0.01),
    DriftRisk(0.02),
    DriftRisk(0.05),
    DriftRisk(0.10),
    DriftRisk(0.05, growth=1.0),
    DriftRisk(0.05, growth=1.5),
)
"""Fixed intervals, published methods, and this register's own at several risks."""


def compare(
    trials: Sequence[Trial],
    policies: Sequence[Policy] = POLICIES,
    progress: Callable[[float], None] | None = None,
) -> tuple[Outcome, ...]:
    """Run every policy on every trial.

    Args:
        trials: one estate for each truth; all policies meet the same valves, weeks and readings.
        policies: to compare.
        progress: told the share done.

    Returns:
        One outcome for each pair, trial by trial in the order of the policies.
    """
    pairs = [(trial, policy) for trial in trials for policy in policies]
    outcomes = []
    for done, (trial, policy) in enumerate(pairs):

        def share(part: float, done: int = done) -> None:
            if progress is not None:
                progress((done + part) / len(pairs))

        outcomes.append(simulate(policy, trial, share))
    return tuple(outcomes)


def times_fewer(outcomes: Sequence[Outcome], policy: str, than: str) -> float:
    """How many times fewer valve-weeks above the ceiling one policy has than another, on one truth.

    Args:
        outcomes: of one trial.
        policy, than: names of the two.
    """
    above = {each.policy: each.weeks_above for each in outcomes}
    return above[than] / above[policy]
