"""The numbers of rule sets, one row a valve: each of the few rule sets in force is looked up once."""

from collections.abc import Sequence

import numpy as np

from estate.domain.rules.values import RuleSet
from estate.scheduler.arrays import Floats, Whole


class RuleColumns:
    """The rule sets in force at n valves.

    Args:
        rules: of each valve; the same object where the same rules hold.
    """

    def __init__(self, rules: Sequence[RuleSet]) -> None:
        kinds: dict[int, int] = {}
        self._sets: list[RuleSet] = []
        for each in rules:
            if kinds.setdefault(id(each), len(kinds)) == len(self._sets):
                self._sets.append(each)
        self._place: Whole = np.fromiter((kinds[id(each)] for each in rules), np.int64, len(rules))

    def number(self, key: str, missing: float = np.nan) -> Floats:
        """(n,) numbers of a key; `missing` where a rule set has none."""
        numbers = [each.number(key) for each in self._sets]
        told = np.array([missing if each is None else each for each in numbers], np.float64)
        column: Floats = told[self._place]
        return column

    def days(self, key: str, missing: float = np.nan) -> Floats:
        """(n,) weeks of a key in whole days."""
        whole: Floats = np.rint(self.number(key, missing) * 7)
        return whole

    def months(self, key: str) -> Floats:
        """(n,) whole months of a key; NaN where a rule set has none."""
        whole: Floats = np.rint(self.number(key))
        return whole

    def at(self, row: int) -> RuleSet:
        """The rule set of a valve."""
        return self._sets[int(self._place[row])]
