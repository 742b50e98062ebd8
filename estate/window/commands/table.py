"""Every action of the window as one entry of data; menus, toolbar and shortcut list come from it."""

from typing import Final

from estate.window.commands.change_menu import CHANGE_MENU
from estate.window.commands.command import Command
from estate.window.commands.go_menu import GO_MENU
from estate.window.commands.help_menu import HELP_MENU
from estate.window.commands.list_menu import LIST_MENU
from estate.window.commands.register_menu import REGISTER_MENU
from estate.window.commands.view_menu import VIEW_MENU
from estate.window.commands.visit_menu import VISIT_MENU

COMMANDS: Final[tuple[Command, ...]] = (
    *REGISTER_MENU,
    *VISIT_MENU,
    *CHANGE_MENU,
    *GO_MENU,
    *LIST_MENU,
    *VIEW_MENU,
    *HELP_MENU,
)
