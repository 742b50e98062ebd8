"""Makes Qt's actions from the table: menus, toolbar, keys."""

from collections.abc import Callable, Collection, Iterable, Mapping
from types import MappingProxyType
from typing import Final

from PySide6.QtGui import QAction, QActionGroup, QIcon, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu, QToolBar

from estate.domain.roles import Deed
from estate.window.commands.command import Command, Menu, When
from estate.window.translating import tr

NOTHING_REFUSED: Final[Mapping[Deed, str]] = MappingProxyType({})


class Actions:
    """The table's actions, bound to what they run.

    Args:
        commands: the table.
        runs: what each id runs.
        window: the window that owns the actions.

    Raises:
        KeyError: an entry of the table runs nothing.
    """

    def __init__(
        self, commands: Iterable[Command], runs: Mapping[str, Callable[[], None]], window: QMainWindow
    ) -> None:
        self._commands = tuple(commands)
        self._window = window
        self._choices: dict[str, QActionGroup] = {}
        self.menus: dict[Menu, QMenu] = {}
        self._actions = {each.id: self._make(each, runs[each.id]) for each in self._commands}

    def _make(self, command: Command, run: Callable[[], None]) -> QAction:
        action = QAction(tr(command.words), self._window)
        action.setObjectName(command.id)
        action.setToolTip(_tip(command))
        action.setStatusTip(tr(command.tip))
        if command.key:
            action.setShortcut(QKeySequence(command.key))
        if command.short:
            action.setIconText(tr(command.short))
        if command.choice:
            action.setCheckable(True)
            group = self._choices.setdefault(command.choice, QActionGroup(self._window))
            group.addAction(action)
        action.triggered.connect(lambda checked=False: run())
        return action

    def __getitem__(self, command_id: str) -> QAction:
        return self._actions[command_id]

    def fill_menus(self) -> None:
        """Put every action into its menu, groups divided."""
        for menu in Menu:
            made = self._window.menuBar().addMenu(tr(menu.value))
            made.setToolTipsVisible(True)
            self.menus[menu] = made
            self._fill(made, [each for each in self._commands if each.menu is menu])

    def _fill(self, menu: QMenu, commands: list[Command]) -> None:
        group = 0
        for command in commands:
            if command.group != group:
                menu.addSeparator()
                group = command.group
            menu.addAction(self._actions[command.id])

    def fill_toolbar(self, toolbar: QToolBar, order: Iterable[str]) -> None:
        """Put the actions named onto a toolbar."""
        for command_id in order:
            toolbar.addAction(self._actions[command_id])
            button = toolbar.widgetForAction(self._actions[command_id])
            button.setAccessibleName(self._actions[command_id].iconText())

    def draw(self, drawing: Callable[[str], QIcon]) -> None:
        """Give actions their icons anew, in the colours of the scheme."""
        for command in self._commands:
            if command.icon:
                self._actions[command.id].setIcon(drawing(command.icon))

    def allow(self, so: Collection[When], refused: Mapping[Deed, str] = NOTHING_REFUSED) -> None:
        """Open the actions whose condition holds and that the account may do.

        Args:
            so: the conditions that hold.
            refused: what the account may not do, with the reason that the action then tells.
        """
        for command in self._commands:
            action = self._actions[command.id]
            reason = "" if command.deed is None else refused.get(command.deed, "")
            action.setEnabled(command.when in so and not reason)
            action.setToolTip(reason or (_tip(command) if command.when in so else _later(command)))
            action.setStatusTip(reason or tr(command.tip))


def _tip(command: Command) -> str:
    return f"{tr(command.tip)} ({command.key})" if command.key else tr(command.tip)


def _later(command: Command) -> str:
    return tr("{tip}. Open when {this}.", tip=_tip(command), this=tr(command.when.value))
