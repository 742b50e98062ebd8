"""A page that is one list: filtered by a choice and by words, with what can be done about the chosen line."""

from collections.abc import Callable, Iterable, Sequence
from typing import Generic, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from estate.window.models.table import TableModel
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label

T = TypeVar("T")
Choice = tuple[str, Callable[[T], bool]]


class ListPage(QWidget, Generic[T]):
    """Lists values under a title.

    Args:
        title: of the page.
        model: columns and keys.
        named: the list for screen readers.
        said: a line in words, for the filter.
        choices: what can be wanted; the first is shown at first.
        nothing: said where no line is there at all.
    """

    def __init__(
        self,
        title: str,
        model: TableModel[T],
        named: str,
        said: Callable[[T], str],
        choices: Sequence[Choice[T]],
        nothing: str,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._model, self._said, self._choices, self._nothing = model, said, tuple(choices), nothing
        self._lines: tuple[T, ...] = ()
        self.listing: Listing[T] = Listing(model, named)
        self.wanted = QComboBox()
        self.wanted.setAccessibleName("Which lines")
        self.wanted.addItems([words for words, _ in self._choices])
        self.wanted.setVisible(len(self._choices) > 1)
        self.words = QLineEdit()
        self.words.setPlaceholderText("Only lines with these words")
        self.words.setAccessibleName("Only lines with these words")
        self.counted = label("", "muted", wraps=True)
        self.detail = label("", wraps=True)
        self.buttons = QHBoxLayout()
        self.buttons.addStretch(1)
        self._about_one: list[tuple[QPushButton, Callable[[T], bool]]] = []
        head = QHBoxLayout()
        head.addWidget(self.wanted)
        head.addWidget(self.words, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addWidget(label(title, "title"))
        column.addLayout(head)
        column.addWidget(self.counted)
        column.addWidget(self.listing, 1)
        column.addWidget(self.detail)
        column.addLayout(self.buttons)
        self.wanted.currentIndexChanged.connect(lambda place: self._fill())
        self.words.textChanged.connect(lambda text: self._fill())
        self.listing.picked.connect(lambda key: self._settle())

    def button(
        self,
        words: str,
        tip: str,
        run: Callable[[T], object] | None = None,
        always: Callable[[], object] | None = None,
        possible: Callable[[T], bool] = lambda line: True,
    ) -> QPushButton:
        """Add a button: `run` is about the chosen line where that is `possible`, `always` about none."""
        made = QPushButton(words)
        made.setToolTip(tip)
        if run is not None:
            about = run
            made.clicked.connect(lambda checked=False: self._run(about))
            self._about_one.append((made, possible))
        elif always is not None:
            anyhow = always
            made.clicked.connect(lambda checked=False: anyhow())
        self.buttons.addWidget(made)
        self._settle()
        return made

    def _run(self, run: Callable[[T], object]) -> None:
        line = self.chosen
        if line is not None:
            run(line)

    def tell(self, lines: Iterable[T]) -> None:
        """Show other lines; the one chosen before stays chosen."""
        self._lines = tuple(lines)
        self._fill()

    @property
    def chosen(self) -> T | None:
        """The chosen line."""
        key = self.listing.current_key()
        place = None if key is None else self._model.place_of(key)
        return None if place is None else self._model.rows[place]

    def _fill(self) -> None:
        kept = self.listing.current_key()
        wanted = self._choices[max(0, self.wanted.currentIndex())][1]
        typed = self.words.text().casefold().split()
        shown = [
            line
            for line in self._lines
            if wanted(line) and all(word in self._said(line).casefold() for word in typed)
        ]
        self._model.fill(shown)
        of = f" of {len(self._lines):,}" if len(shown) < len(self._lines) else ""
        self.counted.setText(f"{len(shown):,}{of} shown" if self._lines else self._nothing)
        if shown and (kept is None or not self.listing.choose(kept)):
            self.listing.selectRow(0)
        self._settle()

    def _settle(self) -> None:
        line = self.chosen
        for button, possible in self._about_one:
            button.setEnabled(line is not None and possible(line))
        said = "" if line is None else self.about(line)
        self.detail.setText(said)
        self.detail.setVisible(bool(said))
        self.detail.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)

    def about(self, line: T) -> str:
        """What is said of the chosen line below the list."""
        return ""
