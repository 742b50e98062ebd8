"""One of several values to choose from, each with its words."""

from collections.abc import Iterable
from typing import Any

from PySide6.QtWidgets import QComboBox, QSizePolicy, QWidget

from estate.window.widgets.entry import tell_whole


class Choice(QComboBox):
    """Takes one of several values.

    Args:
        name: of the field.
        offered: (words, value) each.
        chosen: the value shown first.
    """

    def __init__(
        self,
        name: str,
        offered: Iterable[tuple[str, Any]],
        chosen: object = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(14)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._values: list[Any] = []
        for words, value in offered:
            self.addItem(words)
            self._values.append(value)
        self.put(chosen)
        tell_whole(self)

    def put(self, value: object) -> None:
        """Show a value, if it is offered."""
        if value in self._values:
            self.setCurrentIndex(self._values.index(value))

    def value(self) -> Any:
        """The value chosen."""
        return self._values[self.currentIndex()]
