"""What can be done with the list on the page."""

from typing import Final

from estate.window.commands.command import Command, Menu
from estate.window.translating import said

LIST_MENU: Final = (
    Command(
        "list-words",
        Menu.LIST,
        said("&Only lines with words"),
        said("Go to the filter by words above the list"),
        "F3",
    ),
    Command(
        "list-columns",
        Menu.LIST,
        said("&Columns…"),
        said("Choose which columns the list shows, and their order"),
        "Ctrl+Shift+L",
    ),
    Command(
        "list-copy",
        Menu.LIST,
        said("Cop&y the list"),
        said("Copy every line shown, for a spreadsheet; Ctrl+C in the list copies the chosen lines"),
        "Ctrl+Shift+I",
        group=1,
    ),
    Command(
        "list-save",
        Menu.LIST,
        said("&Save the list as…"),
        said("Write every line shown as a spreadsheet or as delimited text, and open it"),
        "Ctrl+S",
        group=1,
    ),
    Command(
        "list-print",
        Menu.LIST,
        said("&Print the list…"),
        said("Show every line as it comes on paper; print it or save it as PDF"),
        "Ctrl+Alt+P",
        group=1,
    ),
)
