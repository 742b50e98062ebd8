"""A page that is one list: filtered by a choice and by words, with what can be done about the chosen line."""

from collections.abc import Callable, Iterable, Sequence
from typing import Generic, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QPushButton, QVBoxLayout, QWidget

from estate.window.models.table import TableModel
from estate.window.translating import tr
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.list_bar import ListBar, how_many
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
        self._model, self._choices, self._nothing = model, tuple(choices), nothing
        model.find_by(said)
        self.listing: Listing[T] = Listing(model, named, known_as=type(self).__name__)
        self.wanted = QComboBox()
        self.wanted.setAccessibleName(tr("Which lines"))
        self.wanted.addItems([words for words, _ in self._choices])
        self.wanted.setVisible(len(self._choices) > 1)
        self.bar = ListBar(self.listing)
        self.bar.lead(self.wanted)
        self.bar.say(self._how_many)
        self.words, self.counted = self.bar.sought, self.bar.counted
        self.detail = label("", wraps=True)
        self.buttons = Flowing(gap=8, to_right=True)
        self._about_one: list[tuple[QPushButton, Callable[[T], bool]]] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addWidget(label(title, "title"))
        column.addWidget(self.bar)
        column.addWidget(self.listing, 1)
        column.addWidget(self.detail)
        column.addLayout(self.buttons)
        self.wanted.currentIndexChanged.connect(lambda place: self._want())
        self.listing.ordered.layoutChanged.connect(self._on_laid_anew)
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
        kept = self.listing.current_key()
        self._model.fill(lines)
        self._want(kept)

    @property
    def chosen(self) -> T | None:
        """The chosen line."""
        return self.listing.ordered.line_at(self.listing.currentIndex())

    def _want(self, kept: int | None = None) -> None:
        self.listing.ordered.want(self._choices[max(0, self.wanted.currentIndex())][1])
        if kept is not None and not self.listing.currentIndex().isValid():
            self.listing.choose(kept)
        self._on_laid_anew()

    def _on_laid_anew(self) -> None:
        """Choose the first line where the one chosen is no longer shown."""
        if self.listing.ordered.count and not self.listing.currentIndex().isValid():
            self.listing.selectRow(0)
        self._settle()

    def _how_many(self, shown: int, held: int) -> str:
        return how_many(shown, held) if held else self._nothing

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
