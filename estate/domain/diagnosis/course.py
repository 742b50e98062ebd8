"""A visit in its course: what was found, what was there before, and what other valves showed that day."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from statistics import median

from estate.domain.dates import day_words
from estate.domain.findings import Finding, Judgement, Outcome
from estate.domain.judging.case import Case
from estate.domain.learned import Learned
from estate.domain.mixing import fixed_mixer_temperature, hot_opening
from estate.domain.valves import Valve
from estate.domain.visits import Readings, VisitDraft

SUPPLY_K = 3.0
"""A supply that changed by this much counts as changed (common practice, no source)."""
SHARE = 0.2
"""A flow or pressure that changed by this share counts as changed (common practice, no source)."""
FEWEST_OTHERS = 3
"""Fewer other valves of a day say nothing of its instrument or supply (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Companion:
    """Another valve tested on the same day: its changes since its own last visit, K; None if not known.

    Attributes:
        same_instrument: whether it was read with the instrument of the visit in question.
    """

    ref: str
    same_instrument: bool
    change_k: float | None = None
    hot_change_k: float | None = None
    cold_change_k: float | None = None


@dataclass(frozen=True, slots=True)
class Compared:
    """A figure of this visit and the same figure of an earlier one."""

    now: float
    then: float
    day: date

    @property
    def change(self) -> float:
        """Now less then, in the figure's unit."""
        return round(self.now - self.then, 6)

    @property
    def share(self) -> float:
        """Change as a share of what it was; 0 where that was nothing."""
        return self.change / self.then if self.then else 0.0

    @property
    def since(self) -> str:
        """The day of the earlier one in words."""
        return day_words(self.day)


@dataclass(frozen=True)
class Course:
    """A visit and all that can be held beside it.

    Attributes:
        case: the visit with its standards, previous visit and reference.
        valve: the body.
        judgement: of the visit.
        earlier: visits of the same body that count and come before it, in order of date.
        expected_c: interval in which 99.9 % of readings were expected, °C; None if not known.
        companions: other valves of that day at the site.
        hardness_mg_l: of the water, mg/l CaCO3; None if not known.
    """

    case: Case
    valve: Valve
    judgement: Judgement
    earlier: tuple[VisitDraft, ...] = ()
    learned: Learned | None = None
    expected_c: tuple[float, float] | None = None
    companions: tuple[Companion, ...] = ()
    hardness_mg_l: float | None = None

    @property
    def readings(self) -> Readings:
        """What was measured."""
        return self.case.readings

    @cached_property
    def small_k(self) -> float:
        """Up to here a change is small (D08-72); 1 K where the rule set has none."""
        small = self.case.standards.small_change
        return 1.0 if small is None else small.value

    @cached_property
    def large_k(self) -> float:
        """Beyond this a change is significant; 2 K where the rule set has none."""
        large = self.case.standards.large_change
        return 2.0 if large is None else large.value

    @cached_property
    def change_k(self) -> float | None:
        """As found less what it was left at last, K; of a commissioning or service there is none."""
        changes = self.changes
        return changes[-1] if changes else None

    @cached_property
    def changes(self) -> tuple[float | None, ...]:
        """The change found at each test since the level was last known, the last one this visit's."""
        level: float | None = None
        found: list[float | None] = []
        for visit in (*self.earlier, self.case.visit):
            read = visit.readings
            if not visit.kind.sets_reference:
                known = read.found_c is not None and level is not None
                found.append(round((read.found_c or 0.0) - (level or 0.0), 6) if known else None)
            told = read.as_left_c if read.as_left_c is not None else read.found_c
            if told is not None or read.level_reset or visit.kind.sets_reference:
                level = told
        return tuple(found) if self.case.is_test else ()

    @property
    def rose(self) -> bool:
        """Whether the mixed temperature rose by more than a small change."""
        return self.change_k is not None and self.change_k > self.small_k

    @property
    def fell(self) -> bool:
        """Whether it fell by more than a small change."""
        return self.change_k is not None and self.change_k < -self.small_k

    def compared(self, name: str) -> Compared | None:
        """A figure of this visit beside the reference's, else beside the latest earlier visit that has it."""
        now = getattr(self.readings, name)
        if now is None:
            return None
        reference = () if self.case.reference is None else (self.case.reference,)
        for visit in (*reference, *reversed(self.earlier)):
            then = getattr(visit.readings, name)
            if then is not None:
                return Compared(now, then, visit.on)
        return None

    def check(self, *codes: str) -> Iterable[Finding]:
        """The checks of the judgement with these codes."""
        return [each for each in self.judgement.checks if each.code in codes]

    def not_met(self, *codes: str) -> list[Finding]:
        """Those of them that were not met."""
        return [each for each in self.check(*codes) if each.outcome is Outcome.NOT_MET]

    def all_met(self, *codes: str) -> bool:
        """Whether each of them was tested and met."""
        found = list(self.check(*codes))
        return len(found) == len(codes) and all(each.outcome is Outcome.MET for each in found)

    @cached_property
    def fixed_move_k(self) -> float | None:
        """How far a mixer that does not regulate would have moved since the last visit, K (PH-01, PH-03).

        Pressures that were not measured at both visits are taken as unchanged and equal.
        """
        then = self.earlier[-1].readings if self.earlier else None
        now = self.readings
        if then is None or then.as_left_c is None or then.hot_c is None or then.cold_c is None:
            return None
        if now.hot_c is None or now.cold_c is None:
            return None
        bars = (then.hot_flow_bar, then.cold_flow_bar, now.hot_flow_bar, now.cold_flow_bar)
        hot_then, cold_then, hot_now, cold_now = bars if None not in bars else (1.0, 1.0, 1.0, 1.0)
        opening = hot_opening(then.as_left_c, then.hot_c, then.cold_c, hot_then or 0.0, cold_then or 0.0)
        if opening is None or not (hot_now or cold_now):
            return None
        moved = fixed_mixer_temperature(now.hot_c, now.cold_c, hot_now or 0.0, cold_now or 0.0, opening)
        return moved - then.as_left_c

    @cached_property
    def step(self) -> bool:
        """Whether it changed all at once: much now, and by no more than a little at each test before."""
        before = [each for each in self.changes[:-1] if each is not None]
        much = self.change_k is not None and abs(self.change_k) > self.large_k
        return much and bool(before) and all(abs(each) <= self.small_k for each in before)

    @cached_property
    def gradual(self) -> bool:
        """Whether it went the same way at this test and the two before, never by much at once."""
        last = [each for each in self.changes[-3:] if each is not None]
        one_way = all(each > 0 for each in last) or all(each < 0 for each in last)
        return len(last) == 3 and one_way and all(abs(each) <= self.large_k for each in last)

    def middle(self, name: str, instrument: bool = False) -> tuple[float, int, int] | None:
        """The middle of a change at the other valves, how many went the same way, and of how many.

        Args:
            name: a field of `Companion` in K.
            instrument: only those read with the same instrument.
        """
        chosen = [each for each in self.companions if each.same_instrument or not instrument]
        found = [value for each in chosen if (value := getattr(each, name)) is not None]
        if len(found) < FEWEST_OTHERS:
            return None
        centre = median(found)
        return centre, sum(value * centre > 0 for value in found), len(found)
