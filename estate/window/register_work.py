"""Actions and outlets' use over the real operations."""

from collections.abc import Callable, Sequence
from datetime import date, datetime
from pathlib import Path

from estate.domain.changes import ChangeSet
from estate.domain.findings import Severity
from estate.domain.life.actions import Step
from estate.domain.life.lists import ActionLine, OutletLife
from estate.domain.life.outlet_use import UseStep
from estate.domain.progress import Progress
from estate.domain.today import Today
from estate.domain.valves import Valve
from estate.operations import (
    browse_actions,
    justify_visit,
    move_action,
    open_action,
    replace_valve,
    report_actions,
    today,
    use_outlet,
    write_certificate,
)
from estate.operations.register import Register


class RegisterWork:
    """Runs the operations about actions and outlets' use on one open register.

    Args:
        register: the open register.
        today: tells the day.
        now: tells the moment, UTC.
    """

    def __init__(self, register: Register, today: Callable[[], date], now: Callable[[], datetime]) -> None:
        self._register, self._today, self._now = register, today, now

    def action_lines(self, live_only: bool) -> Sequence[ActionLine]:
        """The list of actions, the most pressing first."""
        return browse_actions.action_lines(self._register, self._today(), live_only=live_only)

    def today_page(self) -> Today:
        """The first page, without the months before."""
        return today.today_of(self._register, self._today())

    def with_past(self, told: Today, progress: Progress) -> Today:
        """The same page with the months before; it may be stopped between its steps."""
        return today.with_past(self._register, told, progress=progress)

    def outlet_life(self, outlet_id: int) -> OutletLife:
        """How an outlet stands, and its actions."""
        return browse_actions.outlet_life(self._register, outlet_id, self._today())

    def move(
        self, action_id: int, step: Step, *, on: date, why: str, owner: str, target_on: date | None, who: str
    ) -> ChangeSet:
        """Take an action one step on."""
        return move_action.move_action(
            self._register,
            action_id,
            step,
            on=on,
            why=why,
            owner=owner,
            target_on=target_on,
            who=who,
            at=self._now(),
        )

    def use(
        self,
        outlet_id: int,
        step: UseStep,
        *,
        on: date,
        why: str,
        who_told: str,
        sign_placed: bool | None,
        who: str,
    ) -> ChangeSet:
        """Take an outlet out of use, put it back, retire it, take it up again."""
        return use_outlet.use_outlet(
            self._register,
            outlet_id,
            step,
            on=on,
            why=why,
            who_told=who_told,
            sign_placed=sign_placed,
            who=who,
            at=self._now(),
        )

    def open(
        self,
        outlet_id: int,
        *,
        words: str,
        severity: Severity,
        asks_retest: bool,
        owner: str,
        on: date,
        who: str,
    ) -> ChangeSet:
        """Open an action that no finding asks for."""
        _, changes = open_action.open_action(
            self._register,
            outlet_id,
            words=words,
            severity=severity,
            asks_retest=asks_retest,
            owner=owner,
            on=on,
            who=who,
            at=self._now(),
        )
        return changes

    def justify(self, visit_id: int, why: str, who: str) -> ChangeSet:
        """Let a visit count though its instrument was out of date."""
        return justify_visit.justify_visit(self._register, visit_id, why=why, who=who, at=self._now())

    def replace(self, outlet_id: int, body: Valve, *, on: date, who: str) -> ChangeSet:
        """Fit another body in the place of the one that is there."""
        return replace_valve.replace_valve(self._register, outlet_id, body, on=on, who=who, at=self._now())

    def write_actions(self, to: Path, progress: Progress) -> Path:
        """Write the list of open actions."""
        return report_actions.write_actions(self._register, to, self._today(), progress)

    def write_certificate(self, visit_id: int, to: Path, progress: Progress) -> Path:
        """Write the certificate of a visit."""
        return write_certificate.write_certificate(self._register, visit_id, to, self._today(), progress)
