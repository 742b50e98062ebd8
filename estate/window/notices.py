"""What is announced inside the window: changes made, words for the status line, faults."""

from PySide6.QtCore import QObject, Signal

from estate.domain.changes import ChangeSet
from estate.domain.progress import Cancelled
from estate.errors import KnownFault
from estate.window.translating import tr


class Notices(QObject):
    """One place to announce, so that no view refreshes another.

    Attributes:
        changed: a finished operation's `ChangeSet`; each view decides for itself.
        stepped: a `Step` that was done, with the way back from it.
        said: words for the status line.
        fault_met: a `KnownFault`, to be explained to the person.
        cautioned: a `KnownFault` that stopped nothing, to stay in sight until it is put away.
        defect_met: any other exception: a defect of the program.
    """

    changed = Signal(object)
    stepped = Signal(object)
    said = Signal(str)
    fault_met = Signal(object)
    cautioned = Signal(object)
    defect_met = Signal(object)

    def announce(self, changes: ChangeSet) -> None:
        """Tell every view once what a finished operation changed."""
        self.changed.emit(changes)

    def did(self, step: object) -> None:
        """Tell of a step that can be undone."""
        self.stepped.emit(step)

    def say(self, words: str) -> None:
        """Put words on the status line."""
        self.said.emit(words)

    def caution(self, fault: KnownFault) -> None:
        """Tell of a fault that stopped nothing, without standing in the way."""
        self.cautioned.emit(fault)

    def report(self, error: BaseException) -> None:
        """Sort an exception: asked to stop, known fault, or defect."""
        if isinstance(error, Cancelled):
            self.say(tr("Stopped as asked. Nothing was changed."))
        elif isinstance(error, KnownFault):
            self.fault_met.emit(error)
        else:
            self.defect_met.emit(error)
