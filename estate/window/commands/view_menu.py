"""How things are shown."""

from typing import Final

from estate.window.commands.command import Command, Menu, When
from estate.window.translating import said

_NATURAL: Final = 100
_TEXT_GROUP: Final = 1
_TEXT_SIZES: Final = (
    (100, said("Text at &100 %")),
    (125, said("Text at 12&5 %")),
    (150, said("Text at 15&0 %")),
    (200, said("Text at &200 %")),
)

VIEW_MENU: Final = (
    Command(
        "light-system",
        Menu.VIEW,
        said("As the &system"),
        said("Light or dark as the system is"),
        "",
        When.ALWAYS,
        choice="light",
    ),
    Command(
        "light-light",
        Menu.VIEW,
        "&Light",
        said("Dark words on a light ground"),
        "",
        When.ALWAYS,
        choice="light",
    ),
    Command(
        "light-dark",
        Menu.VIEW,
        "&Dark",
        said("Light words on a dark ground"),
        "",
        When.ALWAYS,
        choice="light",
    ),
    Command(
        "light-contrast-light",
        Menu.VIEW,
        said("&High contrast, light"),
        said("Black words on a white ground, with strong lines and outlined marks"),
        "",
        When.ALWAYS,
        choice="light",
    ),
    Command(
        "light-contrast-dark",
        Menu.VIEW,
        said("High contrast, dar&k"),
        said("White words on a black ground, with strong lines and outlined marks"),
        "",
        When.ALWAYS,
        choice="light",
    ),
    *(
        Command(
            f"text-{percent}",
            Menu.VIEW,
            words,
            said("The size of all text, marks and rows"),
            "Ctrl+0" if percent == _NATURAL else "",
            When.ALWAYS,
            group=_TEXT_GROUP,
            choice="text",
        )
        for percent, words in _TEXT_SIZES
    ),
    Command(
        "text-larger",
        Menu.VIEW,
        said("Lar&ger text"),
        said("The next larger size of text"),
        "Ctrl++",
        When.ALWAYS,
        group=_TEXT_GROUP,
    ),
    Command(
        "text-smaller",
        Menu.VIEW,
        said("S&maller text"),
        said("The next smaller size of text"),
        "Ctrl+-",
        When.ALWAYS,
        group=_TEXT_GROUP,
    ),
    Command(
        "scale-C",
        Menu.VIEW,
        said("Temperatures in °&C"),
        said("Limits and history in °C"),
        "",
        When.ALWAYS,
        group=2,
        choice="scale",
    ),
    Command(
        "scale-F",
        Menu.VIEW,
        said("Temperatures in °&F"),
        said("Limits and history in °F; values are typed, kept and judged in °C"),
        "",
        When.ALWAYS,
        group=2,
        choice="scale",
    ),
    Command("refresh", Menu.VIEW, said("&Read afresh"), said("Read the register again"), "F5", group=3),
    Command(
        "new-window",
        Menu.VIEW,
        said("&New window"),
        said("A further window on the same register; what is changed in one shows in all"),
        "Ctrl+Shift+T",
        When.ALWAYS,
        group=4,
    ),
    Command(
        "close-window",
        Menu.VIEW,
        said("Close this &window"),
        said("The last window on a register backs it up and closes it"),
        "Ctrl+W",
        When.ALWAYS,
        group=4,
    ),
)
