"""What the entries about scheme and size of text run, in every window, and what follows in each."""

from collections.abc import Callable
from functools import partial
from typing import Final

from PySide6.QtCore import QObject, QSize
from PySide6.QtWidgets import QMainWindow, QSplitter, QToolBar, QToolButton

from estate.window.commands.actions import Actions
from estate.window.look import PERCENTS, Look, Scheme
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.sizes import grown
from estate.window.translating import tr

_ICON: Final = 18
_TREE: Final = 322
_LEAST_PAGE: Final = 480


class LookFlow(QObject):
    """Lets a person choose how a window looks.

    Args:
        window: whose toolbar and columns follow.
        retell: shows afresh what is shown, for what was measured when it was told.
    """

    def __init__(
        self,
        window: QMainWindow,
        look: Look,
        preferences: Preferences,
        notices: Notices,
        retell: Callable[[], object],
    ) -> None:
        super().__init__(window)
        self._window, self._look, self._notices = window, look, notices
        self._preferences = preferences
        self._retell = retell
        self._percent = look.percent
        self._split: QSplitter | None = None

    def runs(self) -> dict[str, Callable[[], None]]:
        """What the entries of the table of actions run."""
        return {
            **{f"light-{each.value}": partial(self.wear, each) for each in Scheme},
            **{f"text-{each}": partial(self.size_text, each) for each in PERCENTS},
            "text-larger": partial(self._step, 1),
            "text-smaller": partial(self._step, -1),
        }

    def wear(self, scheme: Scheme) -> None:
        """Put on a scheme and keep the choice."""
        self._look.wear(scheme)
        self._preferences.change(scheme=scheme.value)

    def size_text(self, percent: int) -> None:
        """Give text a size and keep the choice."""
        self._look.size_text(percent)
        self._preferences.change(text_percent=self._look.percent)
        self._notices.say(tr("Text at {percent} %.", percent=self._look.percent))

    def _step(self, by: int) -> None:
        place = PERCENTS.index(self._look.percent) + by
        self.size_text(PERCENTS[max(0, min(place, len(PERCENTS) - 1))])

    def dress(self, actions: Actions) -> None:
        """Let a window follow: icons, ticks, and the room of the tree."""
        actions.draw(self._look.drawing)
        actions[f"light-{self._look.scheme.value}"].setChecked(True)
        actions[f"text-{self._look.percent}"].setChecked(True)
        for toolbar in self._window.findChildren(QToolBar):
            toolbar.setIconSize(QSize(grown(_ICON), grown(_ICON)))
            for more in toolbar.findChildren(QToolButton, "qt_toolbar_ext_button"):
                more.setIcon(self._look.drawing("more"))
                more.setAccessibleName(tr("More actions"))
        if self._look.percent != self._percent:
            self._percent = self._look.percent
            self._part()
            self._retell()

    def hold(self, split: QSplitter) -> None:
        """Take what parts tree and page, and part them."""
        self._split = split
        self._part()

    def _part(self) -> None:
        """Give the tree room for its names, and the page what is left, never too little."""
        if self._split is not None:
            tree = min(grown(_TREE), max(_TREE, self._window.width() // 3))
            self._split.setSizes([tree, max(_LEAST_PAGE, self._window.width() - tree)])
