"""The way back from steps of work: outlets out of use and back, actions opened and taken on."""

from dataclasses import dataclass
from datetime import date
from typing import Final

from estate.domain.changes import ChangeSet
from estate.domain.life.actions import Action
from estate.domain.life.actions import Step as ActionStep
from estate.domain.life.lists import ActionLine
from estate.domain.life.outlet_use import UseStep
from estate.domain.places import Outlet
from estate.window.desk import Desk
from estate.window.translating import said, tr
from estate.window.undoing import Step, Turned, Way
from estate.window.ways_back import Who

_OPPOSITE: Final = {
    UseStep.TAKE_OUT: UseStep.PUT_BACK,
    UseStep.RETIRE: UseStep.TAKE_UP,
    UseStep.TAKE_UP: UseStep.RETIRE,
}
_AFTER: Final = {
    UseStep.TAKE_UP: said("It is out of use until it is put back."),
    UseStep.PUT_BACK: said("Take the sign away, and tell whoever was told."),
}
_USED: Final = {
    UseStep.TAKE_OUT: said("take {reference} out of use"),
    UseStep.PUT_BACK: said("put {reference} back in use"),
    UseStep.RETIRE: said("retire {reference}"),
    UseStep.TAKE_UP: said("take {reference} up again"),
}
_TELL: Final = said("Whoever takes an outlet out of use says who was told: use “Take the outlet out of use”.")
_REOPENED: Final = frozenset({ActionStep.PUT_RIGHT, ActionStep.CLOSE, ActionStep.CANCEL})
_KEPT: Final = said("What was done about an action stays; a further step corrects it.")


@dataclass(frozen=True)
class Used:
    """A change of an outlet's use, as the form said it."""

    outlet: Outlet
    step: UseStep
    on: date
    why: str
    who_told: str = ""
    sign_placed: bool | None = None


@dataclass(frozen=True)
class Moved:
    """A step of an action, as the form said it; an empty reason says who undid it."""

    step: ActionStep
    why: str = ""
    owner: str = ""
    target_on: date | None = None


@dataclass(frozen=True)
class WorkWaysBack:
    """Makes steps of one register.

    Args:
        desk: the register.
        who: the name kept beside entries.
    """

    desk: Desk
    who: Who

    @property
    def _why(self) -> str:
        return tr("undone by {who}", who=self.who())

    def used(self, made: Used) -> Step:
        """An outlet's use that was changed."""
        told = tr(_USED[made.step], reference=made.outlet.reference)
        return Step(self.desk, told, self._use_back(made))

    def _use_back(self, made: Used) -> Way:
        opposite = _OPPOSITE.get(made.step)
        if opposite is None:
            return tr(_TELL)

        def back() -> Turned:
            changes = self._use(Used(made.outlet, opposite, self.desk.today, self._why))
            return Turned(changes, self._use_again(made), tr(_AFTER.get(opposite, "")))

        return back

    def _use_again(self, made: Used) -> Way:
        return lambda: Turned(self._use(made), self._use_back(made))

    def _use(self, made: Used) -> ChangeSet:
        return self.desk.work.use(
            made.outlet.id,
            made.step,
            on=made.on,
            why=made.why,
            who_told=made.who_told,
            sign_placed=made.sign_placed,
            who=self.who(),
        )

    def opened(self, outlet: Outlet, action: Action | None) -> Step:
        """An action that was opened by hand."""
        told = tr("open action {reference}", reference=outlet.reference)
        if action is None:
            return Step(self.desk, told, tr("Cancel it on the page of actions."))
        way = self._move(action.id, Moved(ActionStep.CANCEL), Moved(ActionStep.REOPEN))
        return Step(self.desk, told, way)

    def moved(self, before: ActionLine, made: Moved) -> Step:
        """An action that was taken one step on from how it stood before."""
        told = tr("action {step} {reference}", step=tr(made.step.value), reference=before.outlet.reference)
        back = _opposite(before.action, made.step)
        return Step(self.desk, told, tr(_KEPT) if back is None else self._move(before.action.id, back, made))

    def _move(self, action_id: int, this: Moved, back: Moved) -> Way:
        def move() -> Turned:
            changes = self.desk.work.move(
                action_id,
                this.step,
                on=self.desk.today,
                why=this.why or self._why,
                owner=this.owner,
                target_on=this.target_on,
                who=self.who(),
            )
            return Turned(changes, self._move(action_id, back, this))

        return move


def _opposite(before: Action, step: ActionStep) -> Moved | None:
    if step in _REOPENED:
        return Moved(ActionStep.REOPEN)
    if step is ActionStep.ASSIGN and before.owner:
        return Moved(step, owner=before.owner)
    if step is ActionStep.RETARGET and before.target_on is not None:
        return Moved(step, target_on=before.target_on)
    return None
