"""Undo and redo with words: what was done at this window, each with the way back from it.

Nothing is ever erased by it: going back is a further entry wherever the step itself was evidence.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from PySide6.QtCore import QObject, Signal

from estate.domain.changes import ChangeSet
from estate.domain.conflicts import ConflictFault
from estate.errors import KnownFault, NotFoundFault
from estate.window.desk import Desk
from estate.window.notices import Notices
from estate.window.tasks import Tasks
from estate.window.translating import tr


@dataclass(frozen=True, slots=True)
class Turned:
    """What going one way came to.

    Attributes:
        way: turns it once more; words where there is no way.
        said: what else is worth saying of it.
    """

    changes: ChangeSet
    way: "Way"
    said: str = ""


Way: TypeAlias = Callable[[], Turned] | str
"""Turns a step back or does it again, in the worker; or words that say why neither can be."""


@dataclass(frozen=True, slots=True)
class Step:
    """One thing done that can be taken back.

    Attributes:
        desk: the register in which it was done.
        words: what was done, such as ``record visit MM/G/G04/WHB1``.
        way: from where it stands now.
    """

    desk: Desk
    words: str
    way: Way


class Undoing(QObject):
    """What can be undone and done again at one window, in the register that it shows.

    Attributes:
        changed: something else can be undone or done again now.

    Args:
        tasks: where a way runs.
        notices: where steps come from, and where what came of them is told.
    """

    changed = Signal()

    def __init__(self, tasks: Tasks, notices: Notices, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._tasks, self._notices = tasks, notices
        self._desk: Desk | None = None
        self._done: list[Step] = []
        self._undone: list[Step] = []
        self._refused: Step | None = None
        self._busy = False
        notices.stepped.connect(self._on_stepped)

    def seat(self, desk: Desk | None) -> None:
        """Begin afresh with another register, or with none."""
        self._desk, self._refused, self._busy = desk, None, False
        self._done.clear()
        self._undone.clear()
        self.changed.emit()

    @property
    def undo_words(self) -> str:
        """What would be undone; empty where nothing can be."""
        return "" if self._busy or not self._done else self._done[-1].words

    @property
    def redo_words(self) -> str:
        """What would be done again; empty where nothing can be."""
        return "" if self._busy or not self._undone else self._undone[-1].words

    def undo(self) -> None:
        """Take back what was done last."""
        self._turn(self._done, self._undone, tr("Undone: {what}."))

    def redo(self) -> None:
        """Do again what was undone last."""
        self._turn(self._undone, self._done, tr("Done again: {what}."))

    def _on_stepped(self, step: Step) -> None:
        if step.desk is self._desk:
            self._done.append(step)
            self._undone.clear()
            self.changed.emit()

    def _turn(self, here: list[Step], there: list[Step], said: str) -> None:
        if self._busy or not here:
            return
        step, way = here[-1], here[-1].way
        if isinstance(way, str):
            self._drop(here, step)
            self._notices.say(tr("Left as it is: {what}. {why}", what=step.words, why=way))
            return
        self._busy = True
        self.changed.emit()
        told = said.replace("{what}", step.words)
        self._tasks.run(
            way,
            lambda turned: self._on_turned(step, here, there, turned, told),
            lambda error: self._on_refused(step, here, error),
        )

    def _on_turned(self, step: Step, here: list[Step], there: list[Step], turned: Turned, told: str) -> None:
        if step.desk is not self._desk:
            return
        self._drop(here, step)
        there.append(Step(step.desk, step.words, turned.way))
        self._busy, self._refused = False, None
        self.changed.emit()
        self._notices.announce(turned.changes)
        self._notices.say(f"{told} {turned.said}".rstrip())

    def _on_refused(self, step: Step, here: list[Step], error: BaseException) -> None:
        """Keep a step that can be taken back later; drop it once its ground is gone, or refused twice."""
        if step.desk is self._desk:
            self._busy = False
            gone = isinstance(error, ConflictFault | NotFoundFault)
            if gone or (step is self._refused and isinstance(error, KnownFault)):
                self._drop(here, step)
            self._refused = step
            self.changed.emit()
        self._notices.report(error)

    def _drop(self, here: list[Step], step: Step) -> None:
        if step in here:
            here.remove(step)
        self.changed.emit()
