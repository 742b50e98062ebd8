"""Joins every list of the window to what can be done with it."""

from collections.abc import Callable
from functools import partial
from typing import Any

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QLineEdit, QWidget

from estate.window.list_doings import ListDoings
from estate.window.showing import Showing
from estate.window.widgets.list_bar import ListBar
from estate.window.widgets.listing import Listing, ListMemory


class ListFlow:
    """Runs what the person asks of the list with the keys on it, or of the page's main one.

    Args:
        window: parent of dialogs.
        showing: what the window shows; every page is in its stack by now.
        doings: what is done.
        memory: where it is kept how the person likes each list.
    """

    def __init__(self, window: QWidget, showing: Showing, doings: ListDoings, memory: ListMemory) -> None:
        self._window, self._showing, self._doings = window, showing, doings
        for listing in showing.stack.findChildren(Listing):
            self._adopt(listing, memory)

    def _adopt(self, listing: Listing[Any], memory: ListMemory) -> None:
        listing.served = True
        listing.remember(memory)
        listing.columns_asked.connect(partial(self._doings.choose_columns, listing, self._window))
        listing.save_asked.connect(partial(self._save, listing))
        listing.print_asked.connect(partial(self._print, listing))

    def runs(self) -> dict[str, Callable[[], None]]:
        """What each entry of the table of actions runs."""
        return {
            "list-words": self._on_words,
            "list-copy": partial(self._with_list, self._doings.copy),
            "list-save": partial(self._with_list, self._save),
            "list-print": partial(self._with_list, self._print),
            "list-columns": partial(self._with_list, self._columns),
        }

    @property
    def listing(self) -> Listing[Any] | None:
        """The list with the keys on it, else the page's topmost; None where the page has none."""
        focus = self._window.focusWidget()
        if isinstance(focus, Listing):
            return focus
        page = self._showing.stack.currentWidget()
        if page is None:
            return None
        barred = [each.listing for each in page.findChildren(ListBar) if each.isVisible()]
        lists = barred or [each for each in page.findChildren(Listing) if each.isVisible()]
        return min(lists, key=lambda each: each.mapTo(page, QPoint(0, 0)).y(), default=None)

    def _with_list(self, run: Callable[[Listing[Any]], None]) -> None:
        listing = self.listing
        if listing is not None:
            run(listing)

    def _columns(self, listing: Listing[Any]) -> None:
        self._doings.choose_columns(listing, self._window)

    def _save(self, listing: Listing[Any]) -> None:
        if self._showing.desk is not None:
            self._doings.save(listing, self._showing.desk, self._window)

    def _print(self, listing: Listing[Any]) -> None:
        desk, reading = self._showing.desk, self._showing.reading
        if desk is not None and reading is not None:
            self._doings.print(listing, desk, reading.identity.name, self._window)

    def _on_words(self) -> None:
        page = self._showing.stack.currentWidget()
        for bar in page.findChildren(ListBar) if page is not None else []:
            if bar.isVisible():
                _go_to(bar.sought)
                return


def _go_to(field: QLineEdit) -> None:
    field.setFocus(Qt.FocusReason.ShortcutFocusReason)
    field.selectAll()
