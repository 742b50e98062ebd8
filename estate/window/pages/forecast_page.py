"""The year ahead: what is to be expected of each model, the likeliest bodies, and parts."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QScrollArea, QSplitter, QTabWidget, QVBoxLayout, QWidget

from estate.domain.forecast import FORECAST_CAUTION, Forecast, GroupForecast
from estate.window import words
from estate.window.models import forecast_rows
from estate.window.models.forecast_rows import Body, Group, Used
from estate.window.translating import said, tr
from estate.window.widgets.forecast_bars import Bar, ForecastBars
from estate.window.widgets.list_bar import ListBar
from estate.window.widgets.listing import Listing
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.text import Facts, label

_NOTHING_TO_DRAW = said(
    "Of no model are there enough replacements on record to tell how many to expect. Replace bodies through "
    "the register, and commission what is fitted: that is what this is learned from."
)
_NO_BODIES = said("Too few bodies have been replaced to tell which is likeliest to be next.")
_NO_PARTS = said("No parts are on record with visits yet: enter them when a valve is serviced.")
_NOTHING = said("No valve is in the register yet, so there is nothing to expect.")


class ForecastView(QWidget):
    """Shows a `Forecast`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.as_at = label("", "muted", wraps=True)
        self._groups, self._bodies = forecast_rows.groups_model(), forecast_rows.bodies_model()
        self._parts = forecast_rows.parts_model()
        self.groups: Listing[Group] = Listing(
            self._groups, tr("The estate and each model"), known_as="forecast-models"
        )
        self.bodies: Listing[Body] = Listing(
            self._bodies,
            tr("Bodies likeliest to be replaced, likeliest first"),
            known_as="forecast-bodies",
        )
        self.parts: Listing[Used] = Listing(
            self._parts, tr("Parts, those most used first"), known_as="forecast-parts"
        )
        self.named = label("", "heading", wraps=True)
        self.facts = Facts()
        self.bars = ForecastBars()
        self.no_bars = label(tr(_NOTHING_TO_DRAW), wraps=True)
        self.no_bodies = label(tr(_NO_BODIES), wraps=True)
        self.no_parts = label(tr(_NO_PARTS), wraps=True)
        self.strainers = label("", wraps=True)
        self.tabs = QTabWidget()
        self._lay_out()
        self.groups.picked.connect(lambda key: self._on_picked())

    def _lay_out(self) -> None:
        self.tabs.setDocumentMode(True)
        self.tabs.tabBar().setDrawBase(False)
        self.tabs.setAccessibleName(tr("More about the year ahead"))
        self.tabs.addTab(_scrolled(self.named, self.facts), tr("The chosen line"))
        self.tabs.addTab(_scrolled(self.bars, self.no_bars), tr("Expected replacements"))
        self.tabs.addTab(_held(self.no_bodies, self.bodies), tr("Likeliest to be replaced"))
        self.tabs.addTab(_held(self.strainers, self.no_parts, self.parts), tr("Parts and strainers"))
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.addWidget(self.groups)
        split.addWidget(self.tabs)
        split.setStretchFactor(1, 1)
        split.setSizes([230, 310])
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addWidget(label(tr("The year ahead"), "title"))
        column.addWidget(self.as_at)
        column.addWidget(ListBar(self.groups))
        column.addWidget(split, 1)
        column.addWidget(label(FORECAST_CAUTION, "caution", wraps=True))

    def tell(self, found: Forecast) -> None:
        """Show another forecast; the line chosen before stays chosen."""
        kept = self.groups.current_key()
        said = tr("As at {day}. Brackets hold 95 times in 100.", day=words.day(found.as_at))
        self.as_at.setText(said if found.estate.in_place else f"{said} {tr(_NOTHING)}")
        self._groups.fill(enumerate((found.estate, *found.models)))
        self._bodies.fill(enumerate(found.likeliest))
        self._parts.fill(enumerate(found.parts))
        bars = [
            Bar(words.sentence(each.name), each.replaced.expected)
            for each in found.models
            if each.replaced.expected is not None
        ]
        self.bars.tell(bars)
        self.strainers.setText(forecast_rows.strainer_words(found))
        for shown, instead, there in (
            (self.bars, self.no_bars, bool(bars)),
            (self.bodies, self.no_bodies, bool(found.likeliest)),
            (self.parts, self.no_parts, bool(found.parts)),
        ):
            shown.setVisible(there)
            instead.setVisible(not there)
        if kept is None or not self.groups.choose(kept):
            self.groups.selectRow(0)
        self._on_picked()

    @property
    def chosen(self) -> GroupForecast | None:
        """The chosen group."""
        key = self.groups.current_key()
        place = None if key is None else self._groups.place_of(key)
        return None if place is None else self._groups.rows[place][1]

    def _on_picked(self) -> None:
        chosen = self.chosen
        if chosen is not None:
            self.named.setText(
                tr(
                    "{name}: {in_place:,} in place",
                    name=words.sentence(chosen.name),
                    in_place=chosen.in_place,
                )
            )
            self.facts.tell(forecast_rows.facts(chosen))


def _held(*widgets: QWidget) -> QWidget:
    held = QWidget()
    held.setProperty("kind", "page")
    column = QVBoxLayout(held)
    column.setContentsMargins(10, 8, 10, 6)
    for widget in widgets:
        column.addWidget(widget, 1 if isinstance(widget, Listing) else 0)
    if not isinstance(widgets[-1], Listing):
        column.addStretch(1)
    return held


def _scrolled(*widgets: QWidget) -> QScrollArea:
    return in_scroll_area(_held(*widgets))
