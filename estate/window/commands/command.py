"""What one action of the window is, as an entry of data."""

from dataclasses import dataclass
from enum import StrEnum

from estate.domain.roles import Deed
from estate.window.translating import said, tr


class Menu(StrEnum):
    """Menus, in their order."""

    REGISTER = said("&Register")
    VISIT = said("&Visit")
    CHANGE = said("&Change")
    GO = said("&Go")
    LIST = said("&List")
    VIEW = said("Vie&w")
    HELP = said("&Help")


class When(StrEnum):
    """What must be so for an action to be open."""

    ALWAYS = said("always")
    REGISTER_OPEN = said("a register is open")
    OUTLET_SHOWN = said("an outlet is shown")
    VALVE_SHOWN = said("an outlet with a valve is shown")
    NO_VALVE_SHOWN = said("an outlet without a valve is shown")
    ENTRY_CHOSEN = said("an entry of the history that counts is chosen")
    ENTRY_SHOWN = said("an entry of the history is chosen")
    SOMETHING_DONE = said("something was done at this window")
    SOMETHING_UNDONE = said("something was undone at this window")
    PLACE_CHOSEN = said("one place is chosen in the tree")
    EMPTY_CHOSEN = said("one place that holds nothing is chosen in the tree")
    STOREY_CHOSEN = said("places of one storey are chosen in the tree, and no site")
    OUTLETS_CHOSEN = said("outlets, or places that hold some, are chosen in the tree")


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
        return tr(self.words).replace("&", "").rstrip("…")
