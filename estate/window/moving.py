"""Goes back and forward among the pages that a window has shown, and to any of them again."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, Final

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QAbstractScrollArea, QLabel, QMainWindow, QWidget
from typing_extensions import override

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.estate_reading import EstateReading
from estate.window.models.due_rows import Wanted
from estate.window.pages.due_page import DueView
from estate.window.preferences import Preferences
from estate.window.showing import Showing
from estate.window.spots import Spot, Spots, found, kept
from estate.window.widgets.list_page import ListPage

_BUTTONS: Final = {Qt.MouseButton.BackButton: -1, Qt.MouseButton.ForwardButton: 1}
_MOST_REGISTERS: Final = 20


class Moving(QObject):
    """Keeps where a window has been.

    Attributes:
        changed: there is another way back or forward.

    Args:
        window: whose mouse is listened to.
        showing: what is shown.
        preferences: in which the spots of each register are kept.
    """

    changed = Signal()

    def __init__(self, window: QMainWindow, showing: Showing, preferences: Preferences) -> None:
        super().__init__(window)
        self._showing, self._preferences = showing, preferences
        self.spots = Spots()
        self._left: Spot | None = None
        self._identifier = ""
        self._read: object = None
        showing.moved.connect(self._on_moved)
        window.installEventFilter(self)

    @property
    def here(self) -> Spot | None:
        """What is shown now; None where no register is."""
        showing, page = self._showing, self._showing.stack.currentWidget()
        name = _name(page)
        if showing.reading is None or page is showing.pages.start:
            return None
        if page is showing.pages.outlet:
            shown = showing.outlet
            return None if shown is None else _of_outlet(shown.outlet.id, shown.outlet.reference)
        if page is showing.pages.place:
            node = showing.place
            return None if node is None else Spot("place", node.kind.value, node.id, title=node.label)
        return Spot(name, choice=_choice(page), words=_words(page), title=_title(page))

    def back(self) -> None:
        """Go back."""
        self._step(-1)

    def forward(self) -> None:
        """Go forward again."""
        self._step(1)

    def _step(self, by: int) -> None:
        self._keep_choice()
        self._left = self.here
        spot = self.spots.step(by)
        if spot is not None:
            self.go(spot)
        self.changed.emit()

    def _keep_choice(self) -> None:
        """Keep what was chosen on the page since it was come to."""
        spot = self.spots.here
        page = None if spot is None else self._page(spot)
        if spot is not None and page is not None:
            self.spots.arrive(replace(spot, choice=_choice(page), words=_words(page)))

    def _page(self, spot: Spot) -> QWidget | None:
        return next((each for each in self._showing.ways if _name(each) == spot.page), None)

    def go(self, spot: Spot) -> None:
        """Show a page again, as it was chosen."""
        showing = self._showing
        if spot.page == "outlet":
            showing.show_outlet(spot.id)
        elif spot.page == "place":
            node = self.node(spot.kind, spot.id)
            if node is not None:
                showing.go_to_place(node)
        else:
            page = self._page(spot)
            if page is not None:
                _choose(page, spot)
                showing.ways[page]()

    def node(self, kind: str, place_id: int) -> PlaceNode | None:
        """A place of the tree; None where it is gone."""
        reading = self._showing.reading
        nodes = _above(reading.tree) if reading is not None else ()
        return next((each for each in nodes if (each.kind.value, each.id) == (kind, place_id)), None)

    def _on_moved(self) -> None:
        reading = self._showing.reading
        if reading is not self._read:
            self._read = reading
            self._on_read()
        here = self.here
        if here is None or here == self._left:
            return  # what was asked for has not come yet
        if self.spots.here is None or here.what != self.spots.here.what:
            self._keep_choice()
            self.spots.arrive(here)
        self._left = None
        self._watch(self._showing.stack.currentWidget())
        self.changed.emit()

    def _on_read(self) -> None:
        """Forget what is gone from the register; of another register, everything."""
        reading = self._showing.reading
        if reading is None:
            self.keep()
            self.spots.forget()
            self._identifier = ""
        elif self._showing.desk is None or self._showing.desk.known_at is None:
            if self._identifier != reading.identity.identifier:
                self.keep()
                self.spots.forget()
                self._identifier = reading.identity.identifier
                read = self._preferences.settings.spots.get(self._identifier, [])
                known = map(found, read if isinstance(read, list) else [])
                self.spots.remember([each for each in known if each is not None])
            there = self._there(reading)
            self.spots.keep_only(lambda spot: self._is_there(spot, there))
        self.changed.emit()

    def reaches(self, spot: Spot) -> bool:
        """Whether a spot can still be gone to."""
        reading = self._showing.reading
        return reading is not None and self._is_there(spot, self._there(reading))

    def _there(self, reading: EstateReading) -> set[tuple[str, int]]:
        """Kinds and ids of every outlet and place."""
        outlets = {(PlaceKind.OUTLET.value, each.id) for each in reading.outlets}
        return outlets | {(each.kind.value, each.id) for each in _above(reading.tree)}

    def _is_there(self, spot: Spot, there: set[tuple[str, int]]) -> bool:
        return (spot.kind, spot.id) in there if spot.kind else self._page(spot) is not None

    def keep(self) -> None:
        """Keep what was shown of late, for when the register is opened again."""
        if self._identifier:
            others = {
                name: each
                for name, each in self._preferences.settings.spots.items()
                if name != self._identifier
            }
            newest = dict(list(others.items())[1 - _MOST_REGISTERS :])
            self._preferences.change(
                spots={**newest, self._identifier: [kept(each) for each in self.spots.recent]}
            )

    def _watch(self, page: QWidget | None) -> None:
        """Listen to the mouse over lists too, which take every button for themselves."""
        for area in [] if page is None else page.findChildren(QAbstractScrollArea):
            area.viewport().removeEventFilter(self)
            area.viewport().installEventFilter(self)

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.MouseButtonPress and isinstance(event, QMouseEvent):
            by = _BUTTONS.get(event.button())
            if by is not None:
                self._step(by)
                return True
        return super().eventFilter(watched, event)


def _above(tree: Iterable[PlaceNode]) -> Iterator[PlaceNode]:
    """Every place that holds outlets."""
    for node in tree:
        if node.kind is not PlaceKind.OUTLET:
            yield node
            yield from _above(node.children)


def _of_outlet(outlet_id: int, reference: str) -> Spot:
    return Spot("outlet", PlaceKind.OUTLET.value, outlet_id, title=reference)


def _name(page: QWidget | None) -> str:
    return type(page).__name__.removesuffix("View").lower()


def _title(page: QWidget | None) -> str:
    """What a page calls itself, without its day."""
    shown = page.findChildren(QLabel) if page is not None else []
    titles = [each.text() for each in shown if each.property("kind") == "title"]
    return titles[0].partition(",")[0] if titles else _name(page)


def _choice(page: QWidget | None) -> str:
    if isinstance(page, DueView):
        which = page.which.currentData()
        return "" if which == Wanted.THESE else str(Wanted(which).value)
    return str(page.wanted.currentIndex()) if isinstance(page, ListPage) else ""


def _words(page: QWidget | None) -> str:
    if isinstance(page, DueView):
        return page.sought.text()
    return page.words.text() if isinstance(page, ListPage) else ""


def _choose(page: QWidget, spot: Spot) -> None:
    if isinstance(page, DueView):
        if spot.choice in set(Wanted):
            page.show_only(Wanted(spot.choice))
        page.sought.setText(spot.words)
    elif isinstance(page, ListPage):
        held: Any = page.wanted
        if spot.choice.isdecimal():
            held.setCurrentIndex(min(int(spot.choice), held.count() - 1))
        page.words.setText(spot.words)
