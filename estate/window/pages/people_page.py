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
from estate.window.translating import said, tr
from estate.window.widgets.list_page import ListPage


def people_model(today: Callable[[], date]) -> TableModel[Person]:
    """People; those who left stand struck through."""
    columns: tuple[Column[Person], ...] = (
        Column(said("Name"), lambda row: cells.text(row.name), "T. A. Person", id="name"),
        Column(
            said("Position"),
            lambda row: cells.text(row.position),
            "",
            stretches=True,
            groups=True,
            id="position",
        ),
        Column(
            said("Competence"),
            lambda row: _standing(row, today()),
            "ended 25 Nov 2026",
            marked=True,
            id="competence",
        ),
        Column(
            said("Lasts until"), lambda row: cells.on_day(row.lasts_until), "25 Nov 2026", id="lasts-until"
        ),
        Column(said("Left"), lambda row: cells.on_day(row.left_on), "25 Nov 2026", id="left"),
    )
    return TableModel(columns, lambda row: row.id, lambda row: row.left_on is not None)


def _standing(person: Person, today: date) -> Cell:
    holding = person.competence_on(today)
    if holding is None:
        ended = person.lasts_until
        if ended is not None and ended < today:
            return Cell(tr("ended {day}", day=words.day(ended)), 0.0, Mark.WEDGE)
        return Cell(tr("none on record"), 1.0, Mark.RING)
    if ends_soon(person, today):
        return Cell(tr("ends soon"), 2.0, Mark.OPEN_WEDGE)
    return Cell(tr("holds"), 3.0, Mark.TICK)


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
            (tr("People here"), lambda row: row.left_on is None),
            (
                tr("Without a competence that holds"),
                lambda row: row.left_on is None and not row.competence_on(today()),
            ),
            (tr("Everybody"), lambda row: True),
            (tr("Ending soon"), lambda row: row.left_on is None and ends_soon(row, today())),
        )
        super().__init__(
            tr("People"),
            people_model(today),
            tr("People who test and repair"),
            lambda row: f"{row.name} {row.position}",
            choices,
            tr(
                "Nobody is in the register of people yet: of a tester who is not in it, nothing is judged. "
                "Add the first one."
            ),
            parent,
        )
        self.change = self.button(
            tr("Change…"), tr("Position, or the day the person left"), self.amend_asked.emit
        )
        self.competent = self.button(
            tr("Add a competence…"),
            tr("What the person is competent in and until when"),
            self.competence_asked.emit,
        )
        self.add = self.button(
            tr("Add a person…"), tr("Somebody who tests or repairs"), always=self.add_asked.emit
        )

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
        return tr("Not in the register, but on visits: {list}.", list=words.listed(list(self.unknown)))

    @override
    def about(self, line: Person) -> str:
        held = "; ".join(_words(each) for each in line.competences) or tr("no competence on record")
        left = f" {self._unknown_words()}" if self.unknown else ""
        return f"{line.name}: {held}.{left}"


def _words(competence: Competence) -> str:
    number = f" ({competence.certificate})" if competence.certificate else ""
    subject, first = f"{competence.subject}{number}", words.day(competence.from_on)
    if competence.until_on is None:
        return tr("{subject}, from {first}, does not end", subject=subject, first=first)
    last = words.day(competence.until_on)
    return tr("{subject}, from {first} until {last}", subject=subject, first=first, last=last)
