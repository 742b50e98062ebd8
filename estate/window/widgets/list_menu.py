"""What can be done with a list, the same for every list: columns, groups, lines kept, and ways out of it."""

from collections.abc import Callable
from functools import partial
from typing import Any, Protocol

from PySide6.QtCore import Qt, SignalInstance
from PySide6.QtGui import QAction, QActionGroup, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QMenu
from typing_extensions import override

from estate.window.models.ordering import Ordered
from estate.window.models.table import TableModel
from estate.window.translating import tr
from estate.window.widgets.list_columns import ColumnsLiked

_MOST_VALUES = 40


class ListLike(Protocol):
    """What the menu needs of a list."""

    table: TableModel[Any]
    ordered: Ordered[Any]
    liked: ColumnsLiked
    served: bool
    columns_asked: SignalInstance
    save_asked: SignalInstance
    print_asked: SignalInstance

    def copy_chosen(self) -> int:
        """Put the chosen lines onto the clipboard."""

    def copy_all(self) -> int:
        """Put every line shown onto the clipboard."""


class TickingMenu(QMenu):
    """A menu that stays open while things in it are ticked."""

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if not self._tick(self.activeAction()):
            super().mouseReleaseEvent(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        ticks = event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if not (ticks and self._tick(self.activeAction())):
            super().keyPressEvent(event)

    def _tick(self, action: QAction | None) -> bool:
        if action is None or not action.isCheckable() or not action.isEnabled():
            return False
        action.trigger()
        return True


def fill_list_menu(menu: QMenu, listing: ListLike, column: int = -1) -> None:
    """Fill a menu for a list.

    Args:
        menu: emptied first.
        listing: what it is about.
        column: place of the column whose heading was asked; -1 for none.
    """
    menu.clear()
    if column >= 0:
        _about_one(menu, listing, column)
    _add(menu, tr("Copy the chosen lines"), listing.copy_chosen).setShortcut("Ctrl+C")
    _add(menu, tr("Copy the list"), listing.copy_all)
    if listing.served:
        _add(menu, tr("Save as…"), listing.save_asked.emit)
        _add(menu, tr("Print…"), listing.print_asked.emit)
    menu.addSeparator()
    _group_menu(menu, listing)
    _only_menus(menu, listing)
    _columns_menu(menu, listing)
    _add(menu, tr("As at first"), listing.liked.as_at_first)


def _add(menu: QMenu, words: str, run: Callable[[], object]) -> QAction:
    action = menu.addAction(words)
    action.triggered.connect(lambda checked=False: run())
    return action


def _about_one(menu: QMenu, listing: ListLike, place: int) -> None:
    liked, title = listing.liked, listing.table.columns[place].plain_title
    hide = _add(menu, tr("Hide {column}", column=title), lambda: liked.show_column(place, False))
    hide.setEnabled(len(liked.places_shown()) > 1)
    shown = liked.places_shown()
    _add(menu, tr("Move to the left"), lambda: liked.move(place, -1)).setEnabled(shown[0] != place)
    _add(menu, tr("Move to the right"), lambda: liked.move(place, 1)).setEnabled(shown[-1] != place)
    menu.addSeparator()


def _columns_menu(menu: QMenu, listing: ListLike) -> None:
    if listing.served:
        _add(menu, tr("Columns…"), listing.columns_asked.emit)
        return
    ticks = _ticking(menu, tr("Columns"))
    for place in listing.liked.places():
        column = listing.table.columns[place]
        action = ticks.addAction(column.plain_title)
        action.setCheckable(True)
        action.setChecked(column.key in listing.liked.shown())
        action.toggled.connect(partial(listing.liked.show_column, place))


def _ticking(menu: QMenu, words: str) -> TickingMenu:
    ticks = TickingMenu(words, menu)
    menu.addMenu(ticks)
    return ticks


def _group_menu(menu: QMenu, listing: ListLike) -> None:
    ordered, liked = listing.ordered, listing.liked
    able = [place for place, each in enumerate(listing.table.columns) if each.gathers]
    if not able or not listing.served:
        return
    groups = menu.addMenu(tr("Group by"))
    one = QActionGroup(groups)
    for place in (None, *able):
        words = tr("Nothing") if place is None else listing.table.columns[place].plain_title
        action = _add(groups, words, partial(liked.group_by, place))
        action.setCheckable(True)
        action.setChecked(ordered.gathered_by == place)
        one.addAction(action)
    if ordered.gathered_by is not None:
        groups.addSeparator()
        _add(groups, tr("Fold every group"), lambda: ordered.fold_all(True))
        _add(groups, tr("Unfold every group"), lambda: ordered.fold_all(False))


def _only_menus(menu: QMenu, listing: ListLike) -> None:
    """For each column that says one of a few things: which of them are wanted."""
    ordered = listing.ordered
    able = [place for place, each in enumerate(listing.table.columns) if each.gathers]
    if not able:
        return
    only = menu.addMenu(tr("Show only"))
    for place in able:
        ticks = _ticking(only, listing.table.columns[place].plain_title)
        ticks.aboutToShow.connect(partial(_fill_values, ticks, ordered, place))
    if ordered.kept_only:
        only.addSeparator()
        _add(only, tr("Everything again"), lambda: _keep_all(ordered))


def _fill_values(menu: QMenu, ordered: Ordered[Any], place: int) -> None:
    menu.clear()
    texts = ordered.texts_of(place)
    kept = ordered.kept_only.get(place, frozenset(texts))
    if len(texts) > _MOST_VALUES:
        more = tr("{n:,} further values: ask for them by words", n=len(texts) - _MOST_VALUES)
        menu.addAction(more).setEnabled(False)
    for text, count in list(texts.items())[:_MOST_VALUES]:
        action = menu.addAction(tr("{value} ({count:,})", value=text, count=count))
        action.setCheckable(True)
        action.setChecked(text in kept)
        action.toggled.connect(partial(_keep_value, ordered, place, text))


def _keep_value(ordered: Ordered[Any], place: int, text: str, on: bool) -> None:
    every = frozenset(ordered.texts_of(place))
    kept = ordered.kept_only.get(place, every)
    wanted = kept | {text} if on else kept - {text}
    ordered.keep_only(place, None if wanted == every else wanted)


def _keep_all(ordered: Ordered[Any]) -> None:
    for place in ordered.kept_only:
        ordered.keep_only(place, None)
