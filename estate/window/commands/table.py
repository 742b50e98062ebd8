"""Every action of the window as one entry of data; menus, toolbar and shortcut list come from it."""

from dataclasses import dataclass
from enum import StrEnum

from estate.domain.roles import Deed


class Menu(StrEnum):
    """Menus, in their order."""

    REGISTER = "&Register"
    VISIT = "&Visit"
    GO = "&Go"
    VIEW = "Vie&w"
    HELP = "&Help"


class When(StrEnum):
    """What must be so for an action to be open."""

    ALWAYS = "always"
    REGISTER_OPEN = "a register is open"
    OUTLET_SHOWN = "an outlet is shown"
    VALVE_SHOWN = "an outlet with a valve is shown"
    ENTRY_CHOSEN = "an entry of the history that counts is chosen"
    ENTRY_SHOWN = "an entry of the history is chosen"


@dataclass(frozen=True, slots=True)
class Command:
    """One action.

    Attributes:
        id: stable; what it runs is found by it.
        words: as shown in the menu, with its mnemonic.
        key: portable shortcut, such as ``Ctrl+R``.
        tip: one sentence saying what it does.
        icon: name of a drawing in resources/icons; given only to actions on the toolbar.
        short: words on the toolbar.
        group: actions of one group stand together in a menu.
        choice: name of a set of which one is ticked.
        deed: what the account must be allowed to do; None is for everybody.
    """

    id: str
    menu: Menu
    words: str
    tip: str
    key: str = ""
    when: When = When.REGISTER_OPEN
    icon: str = ""
    short: str = ""
    group: int = 0
    choice: str = ""
    deed: Deed | None = None

    @property
    def plain_words(self) -> str:
        """The words without mnemonic and dots."""
        return self.words.replace("&", "").rstrip("…")


def _commands() -> tuple[Command, ...]:
    return (*_REGISTER, *_VISIT, *_GO, *_VIEW, *_HELP)


_REGISTER = (
    Command("new", Menu.REGISTER, "&New…", "Make a register for an estate", "Ctrl+N", When.ALWAYS),
    Command("open", Menu.REGISTER, "&Open…", "Open a register", "Ctrl+O", When.ALWAYS),
    Command(
        "connect",
        Menu.REGISTER,
        "Open on a ser&ver…",
        "Open a register that a team shares on a server",
        "Ctrl+Shift+O",
        When.ALWAYS,
    ),
    Command(
        "sample", Menu.REGISTER, "Open the &sample estate", "Look round an invented estate", "", When.ALWAYS
    ),
    Command(
        "write-overdue",
        Menu.REGISTER,
        "&Write the overdue list…",
        "Write the overdue list as a PDF or a spreadsheet and open it",
        "Ctrl+P",
        icon="list-out",
        short="Overdue list",
        group=1,
    ),
    Command(
        "write-summary",
        Menu.REGISTER,
        "Write the &compliance summary…",
        "Write the compliance summary as a PDF or a spreadsheet and open it",
        "Ctrl+Shift+P",
        group=1,
    ),
    Command(
        "write-actions",
        Menu.REGISTER,
        "Write the list of &actions…",
        "Write the open actions as a PDF or a spreadsheet and open it",
        group=1,
    ),
    Command(
        "round-sheet",
        Menu.REGISTER,
        "Write a &round sheet…",
        "Write a blank sheet for the outlets due, to be filled in and brought back in",
        "Ctrl+Shift+R",
        group=1,
    ),
    Command(
        "verify",
        Menu.REGISTER,
        "Verif&y everything",
        "Walk the whole trail and compare every row with what it tells; nothing is changed",
        group=2,
    ),
    Command(
        "checkpoint",
        Menu.REGISTER,
        "Take a chec&kpoint…",
        "How the trail ends now, to be kept by someone who can't write to the register",
        group=2,
        deed=Deed.TAKE_CHECKPOINTS,
    ),
    Command(
        "backups",
        Menu.REGISTER,
        "&Backups…",
        "Which backups there are, make one, restore one, and where they go",
        "Ctrl+K",
        group=2,
    ),
    Command(
        "who",
        Menu.REGISTER,
        "Your na&me on entries…",
        "The name kept beside what you enter",
        "",
        When.ALWAYS,
        group=3,
    ),
    Command(
        "own-key",
        Menu.REGISTER,
        "Your signin&g key…",
        "Make a key to sign with, or show its public half for the officer",
        group=3,
    ),
    Command(
        "add-key",
        Menu.REGISTER,
        "A&dd a person's key…",
        "Let the register know a person's key, once its fingerprint was compared by phone",
        group=3,
        deed=Deed.KEEP_KEYS,
    ),
    Command("quit", Menu.REGISTER, "&Quit", "Close the window", "Ctrl+Q", When.ALWAYS, group=4),
)
_VISIT = (
    Command(
        "record",
        Menu.VISIT,
        "&Record a visit…",
        "Record a visit to the outlet shown, judged as you type",
        "Ctrl+R",
        When.VALVE_SHOWN,
        icon="record",
        short="Record a visit",
        deed=Deed.RECORD,
    ),
    Command(
        "bring-in",
        Menu.VISIT,
        "&Bring in a sheet…",
        "Read an asset list or a sheet of results; nothing is written until you say so",
        "Ctrl+B",
        icon="sheet-in",
        short="Bring in a sheet",
        deed=Deed.RECORD,
    ),
    Command(
        "correct",
        Menu.VISIT,
        "&Correct the chosen entry…",
        "Add an entry that counts in place of the chosen one",
        "Ctrl+E",
        When.ENTRY_CHOSEN,
        group=1,
        deed=Deed.RECORD,
    ),
    Command(
        "void",
        Menu.VISIT,
        "&Void the chosen entry…",
        "Say, with a reason, that the chosen entry does not count",
        "Ctrl+Shift+V",
        When.ENTRY_CHOSEN,
        group=1,
        deed=Deed.RECORD,
    ),
    Command(
        "sign",
        Menu.VISIT,
        "&Sign the chosen entry…",
        "Vouch for the chosen entry with your key, or countersign what another person signed",
        "Ctrl+Shift+S",
        When.ENTRY_SHOWN,
        group=1,
        deed=Deed.RECORD,
    ),
    Command(
        "certificate",
        Menu.VISIT,
        "Write its certi&ficate…",
        "The chosen entry on paper: steps, readings, limits, findings, instrument, room to sign",
        "Ctrl+Shift+C",
        When.ENTRY_SHOWN,
        group=1,
    ),
    Command(
        "entry-trail",
        Menu.VISIT,
        "What &happened to the chosen entry",
        "Every entry of the trail about it: entered, judged, corrected, void",
        "Ctrl+Shift+H",
        When.ENTRY_SHOWN,
        group=1,
    ),
    Command(
        "justify",
        Menu.VISIT,
        "Say why it counts a&ll the same…",
        "Of an entry read with an instrument out of calibration: why its readings hold",
        "",
        When.ENTRY_CHOSEN,
        group=1,
        deed=Deed.AMEND,
    ),
    Command(
        "replace-valve",
        Menu.VISIT,
        "R&eplace the valve…",
        "Another body in the place of the one that is there; the old one keeps its history",
        "",
        When.VALVE_SHOWN,
        group=2,
        deed=Deed.AMEND,
    ),
    Command(
        "take-out",
        Menu.VISIT,
        "&Take the outlet out of use…",
        "Say why, who was told and whether a sign was put up",
        "",
        When.OUTLET_SHOWN,
        group=2,
        deed=Deed.RECORD,
    ),
    Command(
        "put-back",
        Menu.VISIT,
        "&Put the outlet back in use…",
        "Once the retest passed that its finding asks for",
        "",
        When.OUTLET_SHOWN,
        group=2,
        deed=Deed.RECORD,
    ),
    Command(
        "open-action",
        Menu.VISIT,
        "Open an &action…",
        "Something that must be done at the outlet shown, that no finding asks for",
        "",
        When.OUTLET_SHOWN,
        group=2,
        deed=Deed.RECORD,
    ),
    Command(
        "suitable",
        Menu.VISIT,
        "&Would a valve work there?…",
        "Hold the outlet shown, its supplies and its valve against the rules; nothing is written",
        "",
        When.OUTLET_SHOWN,
        group=3,
    ),
    Command(
        "suitable-figures",
        Menu.VISIT,
        "Would a valve work with these fi&gures?…",
        "Before fitting: figures alone against the rules of the estate",
        group=3,
    ),
)
_GO = (
    Command("find", Menu.GO, "&Find an outlet or a place", "Go to the search box", "Ctrl+F"),
    Command(
        "today",
        Menu.GO,
        "T&oday",
        "What hurts first, what is late and what comes, each number with its list",
        "Ctrl+Shift+D",
        icon="today",
        short="Today",
    ),
    Command(
        "due",
        Menu.GO,
        "&Due list",
        "What is overdue and what falls due",
        "Ctrl+D",
        icon="due",
        short="Due list",
    ),
    Command(
        "drift",
        Menu.GO,
        "D&rift of the estate",
        "Valves by their chance to reach the ceiling, and those that no longer regulate",
        "Ctrl+L",
        icon="drift",
        short="Drift",
    ),
    Command(
        "actions",
        Menu.GO,
        "Action&s",
        "What must be done, by whom and by when",
        "Ctrl+Shift+A",
        icon="actions",
        short="Actions",
    ),
    Command(
        "upkeep",
        Menu.GO,
        "Upk&eep",
        "What is to be flushed, cleaned and asked anew",
    ),
    Command("people", Menu.GO, "&People", "Who tests and repairs, and what they are competent in"),
    Command("instruments", Menu.GO, "&Instruments", "Measuring instruments and their calibrations"),
    Command(
        "forecast",
        Menu.GO,
        "The &year ahead",
        "Ages, failures, replacements and parts to expect",
        "Ctrl+Shift+Y",
    ),
    Command(
        "batches",
        Menu.GO,
        "Sheets &brought in",
        "What was brought in, by whom, what was asked, and a way to undo it",
        "Ctrl+Shift+B",
    ),
    Command(
        "trail",
        Menu.GO,
        "Tr&ail of changes",
        "Who changed what, when, before and after, and why",
        "Ctrl+J",
    ),
    Command(
        "as-known",
        Menu.GO,
        "As &known at…",
        "A second window on the register as it was known at a past moment; it only reads",
        "Ctrl+Shift+K",
    ),
    Command("places", Menu.GO, "&Tree of places", "Go to the tree", "Ctrl+T"),
    Command("history", Menu.GO, "&History of the outlet", "Go to the history", "Ctrl+H", When.VALVE_SHOWN),
    Command(
        "chart",
        Menu.GO,
        "&Chart of the outlet",
        "Go to the chart of its readings",
        "Ctrl+G",
        When.VALVE_SHOWN,
    ),
    Command(
        "diagnosis",
        Menu.GO,
        "What may be &wrong",
        "Likely causes of what the last visit found, and the next check",
        "Ctrl+Shift+W",
        When.VALVE_SHOWN,
    ),
    Command(
        "rules",
        Menu.GO,
        "R&ules in force",
        "Every value, its unit and its source",
        "Ctrl+U",
        icon="rules",
        short="Rules",
    ),
)
_VIEW = (
    Command(
        "light-system",
        Menu.VIEW,
        "As the &system",
        "Light or dark as the system is",
        "",
        When.ALWAYS,
        choice="light",
    ),
    Command(
        "light-light", Menu.VIEW, "&Light", "Dark words on a light ground", "", When.ALWAYS, choice="light"
    ),
    Command(
        "light-dark", Menu.VIEW, "&Dark", "Light words on a dark ground", "", When.ALWAYS, choice="light"
    ),
    Command(
        "scale-C",
        Menu.VIEW,
        "Temperatures in °&C",
        "Limits and history in °C",
        "",
        When.ALWAYS,
        group=1,
        choice="scale",
    ),
    Command(
        "scale-F",
        Menu.VIEW,
        "Temperatures in °&F",
        "Limits and history in °F; values are typed, kept and judged in °C",
        "",
        When.ALWAYS,
        group=1,
        choice="scale",
    ),
    Command("refresh", Menu.VIEW, "&Read afresh", "Read the register again", "F5", group=2),
)
_HELP = (
    Command("keys", Menu.HELP, "&Keys", "Every action and its key", "F1", When.ALWAYS),
    Command(
        "cautions", Menu.HELP, "&Cautions", "Scald, isolation, hygiene, and what comes first", "", When.ALWAYS
    ),
    Command("about", Menu.HELP, "&About", "What this program is", "", When.ALWAYS, group=1),
)

COMMANDS = _commands()
