"""Help."""

from typing import Final

from estate.window.commands.command import Command, Menu, When
from estate.window.translating import said

HELP_MENU: Final = (
    Command("keys", Menu.HELP, "&Keys", said("Every action and its key"), "F1", When.ALWAYS),
    Command(
        "cautions",
        Menu.HELP,
        "&Cautions",
        said("Scald, isolation, hygiene, and what comes first"),
        "",
        When.ALWAYS,
    ),
    Command("about", Menu.HELP, "&About", said("What this program is"), "", When.ALWAYS, group=1),
)
