"""The person's preferences while the window is open."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from estate.settings import ListLook, Settings


class Preferences:
    """Holds the settings in force and keeps each change.

    Args:
        settings: as loaded.
        keep: saves them.
        account: name of the account, used while the person has given none.
    """

    def __init__(self, settings: Settings, keep: Callable[[Settings], object], account: str) -> None:
        self.settings = settings
        self._keep = keep
        self._account = account

    @property
    def who(self) -> str:
        """The name kept beside entries."""
        return self.settings.who or self._account

    def recall(self, name: str) -> ListLook:
        """How the person likes a list; the usual look where nothing is kept of it."""
        return self.settings.lists.get(name, ListLook())

    def keep(self, name: str, look: ListLook) -> None:
        """Keep how the person likes a list; the usual look is kept by forgetting."""
        lists = {key: each for key, each in self.settings.lists.items() if key != name}
        self.change(lists=lists if look == ListLook() else {**lists, name: look})

    def change(self, **fields: Any) -> None:
        """Change some preferences and keep them."""
        changed = replace(self.settings, **fields)
        if changed != self.settings:
            self.settings = changed
            self._keep(changed)
