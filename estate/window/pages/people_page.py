"""People who test and repair, with what they are competent in and until when."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from estate.domain.figures_of_means import SOON_DAYS
from estate.domain.life.people import Competence, Person
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.widgets.list_page import ListPage


def people_model(today: Callable[[], date]) -> TableModel[Person]:
    """People; those who left stand struck through."""
    columns: tuple[Column[Person], ...] = (
        Column("Name", lambda row: cells.text(row.name), "T. A. Person"),
        Column("Position", lambda row: cells.text(row.position), "", stretches=True),
        Column("Competence", lambda row: _standing(row, today()), "ended 25 Nov 2026", marked=True),
        Column("Lasts until", lambda row: cells.on_day(row.lasts_until), "25 Nov 2026"),
        Column("Left", lambda row: cells.on_day(row.left_on), "25 Nov 2026"),
    )
    return TableModel(columns, lambda row: row.id, lambda row: row.left_on is not None)


def _standing(person: Person, today: date) -> Cell:
    holding = person.competence_on(today)
    if holding is None:
        ended = person.lasts_until
        if ended is not None and ended < today:
            return Cell(f"ended {words.day(ended)}", 0.0, Mark.WEDGE)
        return Cell("none on record", 1.0, Mark.RING)
    if ends_soon(person, today):
        return Cell("ends soon", 2.0, Mark.OPEN_WEDGE)
    return Cell("holds", 3.0, Mark.TICK)


def ends_soon(person: Person, today: date) -> bool:
    """Whether the competence that holds ends soon, with none that lasts longer."""
    holding = person.competence_on(today)
    until = None if holding is None else holding.until_on
    return until is not None and (until - today).days <= SOON_DAYS


class PeopleView(ListPage[Person]):
    """Lists people.

    Attributes:
        add_asked: a new person.
        competence_asked: a further competence of the person given.
        amend_asked: position or leaving of the person given.
    """

    add_asked = Signal()
    competence_asked = Signal(object)
    amend_asked = Signal(object)
    unknown: tuple[str, ...] = ()

    def __init__(self, today: Callable[[], date], parent: QWidget | None = None) -> None:
        choices = (
            ("People here", lambda row: row.left_on is None),
            (
                "Without a competence that holds",
                lambda row: row.left_on is None and not row.competence_on(today()),
            ),
            ("Everybody", lambda row: True),
            ("Ending soon", lambda row: row.left_on is None and ends_soon(row, today())),
        )
        super().__init__(
            "People",
            people_model(today),
            "People who test and repair",
            lambda row: f"{row.name} {row.position}",
            choices,
            "Nobody is in the register of people yet: of a tester who is not in it, nothing is judged.",
            parent,
        )
        self.change = self.button("Change…", "Position, or the day the person left", self.amend_asked.emit)
        self.competent = self.button(
            "Add a competence…", "What the person is competent in and until when", self.competence_asked.emit
        )
        self.add = self.button("Add a person…", "Somebody who tests or repairs", always=self.add_asked.emit)

    def tell_unknown(self, unknown: tuple[str, ...]) -> None:
        """Name those who stand on visits and are not in the register."""
        self.unknown = unknown
        self._settle()

    @override
    def _settle(self) -> None:
        super()._settle()
        if self.chosen is None and self.unknown:
            self.detail.setText(self._unknown_words())
            self.detail.show()

    def _unknown_words(self) -> str:
        return f"Not in the register, but on visits: {words.listed(list(self.unknown))}."

    @override
    def about(self, line: Person) -> str:
        held = "; ".join(_words(each) for each in line.competences) or "no competence on record"
        left = f" {self._unknown_words()}" if self.unknown else ""
        return f"{line.name}: {held}.{left}"


def _words(competence: Competence) -> str:
    until = f" until {words.day(competence.until_on)}" if competence.until_on else ", does not end"
    number = f" ({competence.certificate})" if competence.certificate else ""
    return f"{competence.subject}{number}, from {words.day(competence.from_on)}{until}"
