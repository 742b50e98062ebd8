"""The state of an outlet in one word, for tree, lists and reports."""

from datetime import date
from enum import StrEnum
from typing import Final

from estate.domain.findings import Verdict
from estate.domain.windows import Window


class OutletState(StrEnum):
    """One word for an outlet, worst first (trade words or our own)."""

    OUT_OF_USE = "take out of use"
    PUT_RIGHT = "put right"
    TAKEN_OUT = "out of use"
    OVERDUE = "overdue"
    NEVER_TESTED = "never tested"
    NOT_TESTED = "not tested"
    NO_VALVE = "no valve"
    ACTION_OPEN = "action open"
    OPEN_NOW = "window open"
    WATCH = "watch"
    IN_ORDER = "in order"
    RETIRED = "retired"

    @property
    def rank(self) -> int:
        """0 is the worst."""
        return _STATE_RANK[self]

    @property
    def needs_attention(self) -> bool:
        """Whether someone has to act now."""
        return self.rank <= OutletState.ACTION_OPEN.rank


_STATE_RANK: Final = {each: place for place, each in enumerate(OutletState)}


def shown_state(found: OutletState, *, out_of_use: bool, to_do: bool) -> OutletState:
    """The state that is shown, from that of the valve and from what was done about the outlet.

    Args:
        found: from verdict and window.
        out_of_use: whether people were told not to draw water there; that shows whatever was found.
        to_do: whether an action is open; it shows where nothing worse does.
    """
    if out_of_use:
        return OutletState.TAKEN_OUT
    if to_do and not found.needs_attention:
        return OutletState.ACTION_OPEN
    return found


PUT_RIGHT = "put-right"
"""How the code of a reason ends that asks for the valve to be put right, not tested more often."""


def state_of(verdict: Verdict | None, window: Window | None, today: date) -> OutletState:
    """Find the state from the last verdict (None: never tested) and the next window (None: no valve)."""
    if window is None:
        return OutletState.NO_VALVE
    if verdict is None:
        return OutletState.NEVER_TESTED
    if verdict is Verdict.OUT_OF_USE:
        return OutletState.OUT_OF_USE
    if verdict is Verdict.PUT_RIGHT or window.reason.code.endswith(PUT_RIGHT):
        return OutletState.PUT_RIGHT
    if window.days_late(today) > 0:
        return OutletState.OVERDUE
    if verdict is Verdict.NOT_TESTED:
        return OutletState.NOT_TESTED
    if window.not_before <= today:
        return OutletState.OPEN_NOW
    return OutletState.WATCH if verdict is Verdict.WATCH else OutletState.IN_ORDER
