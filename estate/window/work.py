"""What the window asks about actions and outlets out of use: the port that the operations stand behind."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Protocol

from estate.domain.changes import ChangeSet
from estate.domain.findings import Severity
from estate.domain.life.actions import Step
from estate.domain.life.lists import ActionLine, OutletLife
from estate.domain.life.outlet_use import UseStep
from estate.domain.progress import Progress
from estate.domain.today import Today
from estate.domain.valves import Valve


class Work(Protocol):
    """Everything about actions and outlets' use that the window can ask of one open register."""

    def action_lines(self, live_only: bool) -> Sequence[ActionLine]:
        """The list of actions, the most pressing first."""

    def today_page(self) -> Today:
        """The first page, without the months before."""

    def with_past(self, told: Today, progress: Progress) -> Today:
        """The same page with the months before; it may be stopped between its steps."""

    def outlet_life(self, outlet_id: int) -> OutletLife:
        """How an outlet stands, and its actions."""

    def move(
        self, action_id: int, step: Step, *, on: date, why: str, owner: str, target_on: date | None, who: str
    ) -> ChangeSet:
        """Take an action one step on."""

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

    def justify(self, visit_id: int, why: str, who: str) -> ChangeSet:
        """Let a visit count though its instrument was out of date."""

    def replace(self, outlet_id: int, body: Valve, *, on: date, who: str) -> ChangeSet:
        """Fit another body in the place of the one that is there."""

    def write_actions(self, to: Path, progress: Progress) -> Path:
        """Write the list of open actions."""

    def write_certificate(self, visit_id: int, to: Path, progress: Progress) -> Path:
        """Write the certificate of a visit."""
