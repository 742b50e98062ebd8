"""The register itself: opened, made, written out, verified, backed up."""

from typing import Final

from estate.domain.roles import Deed
from estate.window.commands.command import Command, Menu, When
from estate.window.translating import said

REGISTER_MENU: Final = (
    Command("new", Menu.REGISTER, "&New…", said("Make a register for an estate"), "Ctrl+N", When.ALWAYS),
    Command("open", Menu.REGISTER, "&Open…", said("Open a register"), "Ctrl+O", When.ALWAYS),
    Command(
        "connect",
        Menu.REGISTER,
        said("Open on a ser&ver…"),
        said("Open a register that a team shares on a server"),
        "Ctrl+Shift+O",
        When.ALWAYS,
    ),
    Command(
        "sample",
        Menu.REGISTER,
        said("Open the &sample estate"),
        said("Look round an invented estate"),
        "",
        When.ALWAYS,
    ),
    Command(
        "write-overdue",
        Menu.REGISTER,
        said("Overdue list on &paper…"),
        said("See the overdue list as it comes on paper; print it, or save it as a PDF or a spreadsheet"),
        "Ctrl+P",
        icon="list-out",
        short=said("Overdue list"),
        group=1,
    ),
    Command(
        "write-summary",
        Menu.REGISTER,
        said("&Compliance summary on paper…"),
        said("See the compliance summary as it comes on paper; print it, or save it"),
        "Ctrl+Shift+P",
        group=1,
    ),
    Command(
        "write-actions",
        Menu.REGISTER,
        said("List of &actions on paper…"),
        said("See the open actions as they come on paper; print them, or save them"),
        group=1,
    ),
    Command(
        "round-sheet",
        Menu.REGISTER,
        said("Write a &round sheet…"),
        said("Write a blank sheet for the outlets due, to be filled in and brought back in"),
        "Ctrl+Shift+R",
        group=1,
    ),
    Command(
        "verify",
        Menu.REGISTER,
        said("Verif&y everything"),
        said("Walk the whole trail and compare every row with what it tells; nothing is changed"),
        group=2,
    ),
    Command(
        "checkpoint",
        Menu.REGISTER,
        said("Take a chec&kpoint…"),
        said("How the trail ends now, to be kept by someone who can't write to the register"),
        group=2,
        deed=Deed.TAKE_CHECKPOINTS,
    ),
    Command(
        "backups",
        Menu.REGISTER,
        "&Backups…",
        said("Which backups there are, make one, restore one, and where they go"),
        "Ctrl+K",
        group=2,
    ),
    Command(
        "who",
        Menu.REGISTER,
        said("Your na&me on entries…"),
        said("The name kept beside what you enter"),
        "",
        When.ALWAYS,
        group=3,
    ),
    Command(
        "own-key",
        Menu.REGISTER,
        said("Your signin&g key…"),
        said("Make a key to sign with, or show its public half for the officer"),
        group=3,
    ),
    Command(
        "add-key",
        Menu.REGISTER,
        said("A&dd a person's key…"),
        said("Let the register know a person's key, once its fingerprint was compared by phone"),
        group=3,
        deed=Deed.KEEP_KEYS,
    ),
    Command(
        "quit",
        Menu.REGISTER,
        "&Quit",
        said("Close every window; they stand so when you start again"),
        "Ctrl+Q",
        When.ALWAYS,
        group=4,
    ),
)
