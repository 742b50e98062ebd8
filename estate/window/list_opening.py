"""Prepares the page that lists what a number of the first page counts."""

from dataclasses import dataclass
from typing import TypeVar

from PySide6.QtWidgets import QWidget

from estate.domain.life.care import CareAsked
from estate.domain.today import Behind, ListAsked, Today
from estate.window.models.due_rows import Wanted
from estate.window.pages.actions_page import ActionsView
from estate.window.pages.due_page import DueView
from estate.window.pages.instruments_page import InstrumentsView
from estate.window.pages.out_of_use_page import OutOfUseView
from estate.window.pages.people_page import PeopleView
from estate.window.pages.upkeep_page import UpkeepView
from estate.window.translating import tr
from estate.window.widgets.list_page import ListPage

T = TypeVar("T")
_ACTIONS = {Behind.ACTIONS_LATE: 1, Behind.UNOWNED: 2}
_INSTRUMENTS = {Behind.OUT_OF_CALIBRATION: 1, Behind.CALIBRATION_ENDS: 2}
_PEOPLE = {Behind.NOT_COMPETENT: 1, Behind.COMPETENCE_ENDS: 3}
_UPKEEP = {
    Behind.FLUSHING: CareAsked.FLUSHING,
    Behind.SHOWER_HEADS: CareAsked.SHOWER_HEAD,
    Behind.REVIEWS: CareAsked.REVIEW,
}


@dataclass(frozen=True)
class ListOpening:
    """The pages that list; each still has to be told its lines by whoever turns to it."""

    due: DueView
    actions: ActionsView
    out_of_use: OutOfUseView
    instruments: InstrumentsView
    people: PeopleView
    upkeep: UpkeepView

    def prepare(self, asked: ListAsked, today: Today) -> QWidget:
        """Set a page to show exactly what was counted.

        Args:
            asked: the list behind a number.
            today: what the number stood on.

        Returns:
            The page to turn to.
        """
        behind = asked.behind
        if behind is Behind.OUT_OF_USE:
            self.out_of_use.bar.clear()
            self.out_of_use.tell(today.out_of_use)
            return self.out_of_use
        if behind in _ACTIONS:
            self.actions.bar.clear()
            self.actions.wanted.setCurrentIndex(_ACTIONS[behind])
            return self.actions
        if behind in _INSTRUMENTS:
            return _narrowed(self.instruments, _INSTRUMENTS[behind])
        if behind in _PEOPLE:
            return _narrowed(self.people, _PEOPLE[behind])
        if behind in _UPKEEP:
            return _narrowed(self.upkeep, 0, tr(_UPKEEP[behind].value))
        return self._due(asked)

    def _due(self, asked: ListAsked) -> QWidget:
        if asked.behind is Behind.OVERDUE:
            self.due.bar.clear()
            self.due.show_only(Wanted.OVERDUE)
        else:
            self.due.show_these(asked.outlet_ids, tr(asked.words))
        return self.due


def _narrowed(page: ListPage[T], choice: int, words: str = "") -> QWidget:
    page.wanted.setCurrentIndex(choice)
    page.bar.clear()
    page.words.setText(words)
    return page
