"""Keeps what a form was given: the form stays until it is kept, and a conflict is put to the person."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from PySide6.QtWidgets import QWidget

from estate.domain.changes import ChangeSet
from estate.domain.conflicts import ConflictFault, Rows, Seen
from estate.domain.rules.values import RuleValue
from estate.window.dialogs.conflict import ConflictDialog
from estate.window.dialogs.shell import Shell
from estate.window.notices import Notices
from estate.window.tasks import Tasks
from estate.window.translating import tr
from estate.window.undoing import Step

T = TypeVar("T")
Against = Seen | Rows | RuleValue | None


@dataclass(frozen=True)
class Given(Generic[T]):
    """What a form was given.

    Attributes:
        work: keeps it, against what was there before; runs in the worker.
        done: gets the outcome, after the form is closed.
        mine: what the form says by field, to stand beside what somebody else changed.
        seen: what the form was filled from.
    """

    work: Callable[[Against], T]
    done: Callable[[T], None]
    mine: Mapping[str, str]
    seen: Against = None


class FormKeeper:
    """Keeps what forms were given.

    Args:
        tasks: where it runs.
        notices: where faults are reported and changes announced.
    """

    def __init__(self, tasks: Tasks, notices: Notices) -> None:
        self._tasks = tasks
        self._notices = notices

    def keep(self, form: Shell, given: Given[T]) -> None:
        """Keep what a form was given and close it; where that fails the form goes on as it is."""
        over = form.parentWidget()
        form.hold()

        def done(outcome: T) -> None:
            if not form.left:
                form.accept()
            given.done(outcome)

        def failed(error: BaseException) -> None:
            if not form.left:
                form.release()
            if isinstance(error, ConflictFault):
                self._ask(form, given, error, over if form.left else form)
            else:
                self._notices.report(error)

        self._tasks.run(lambda: given.work(given.seen), done, failed)

    def change(self, form: Shell, work: Callable[[], ChangeSet], said: str, step: Step | None = None) -> None:
        """Keep a change that rests on nothing seen before, announce it and say what was done."""
        self.keep(form, Given(lambda seen: work(), self.told(said, step), {}))

    def told(self, said: str, step: Step | None = None) -> Callable[[ChangeSet], None]:
        """What is to be done once a change is kept: announce it, say it, and tell the way back from it."""

        def done(changes: ChangeSet) -> None:
            if step is not None:
                self._notices.did(step)
            self._notices.announce(changes)
            self._notices.say(said)

        return done

    def _ask(self, form: Shell, given: Given[T], fault: ConflictFault, over: QWidget | None) -> None:
        dialog = ConflictDialog(fault, given.mine, over)

        def take_theirs() -> None:
            if not form.left:
                form.done(0)
            self._notices.announce(ChangeSet(everything=True))
            self._notices.say(tr("Nothing of yours was written; what is shown is theirs."))

        dialog.theirs_taken.connect(take_theirs)
        dialog.mine_kept.connect(lambda: self.keep(form, replace(given, seen=fault.now)))
        dialog.show_modal()
