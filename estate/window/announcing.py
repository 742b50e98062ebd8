"""Says words aloud through a screen reader, where one listens."""

from PySide6.QtCore import QObject
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QAccessibleEvent


def announce(about: QObject, words: str, at_once: bool = False) -> None:
    """Have a screen reader say words, without moving the focus.

    Args:
        about: the part of the window that shows the words.
        at_once: whether they break off what is being said; a fault does.
    """
    if not words:
        return
    event = QAccessibleAnnouncementEvent(about, words)
    polite = QAccessible.AnnouncementPoliteness
    event.setPoliteness(polite.Assertive if at_once else polite.Polite)
    QAccessible.updateAccessibility(event)


def alert(about: QObject) -> None:
    """Have a screen reader read out a message that appeared: its accessible name and description."""
    QAccessible.updateAccessibility(QAccessibleEvent(about, QAccessible.Event.Alert))
