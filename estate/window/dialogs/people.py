"""Dialogs about people: a new person, a further competence, a change of position."""

from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QLineEdit, QWidget

from estate.domain.life.people import Competence, Person
from estate.window.dialogs.form import Form, day_field, day_in
from estate.window.translating import tr

_A_YEAR = 365


class _WithCompetence(Form):
    """Has the fields of a competence."""

    def add_competence(self, today: date) -> None:
        """Put the fields in."""
        self.subject = QLineEdit()
        self.subject.setAccessibleName(tr("Competent in"))
        self.subject.setPlaceholderText(tr("such as: testing thermostatic mixing valves"))
        self.certificate = QLineEdit()
        self.certificate.setAccessibleName(tr("Certificate"))
        self.from_on = day_field(tr("From"), today)
        self.ends = QCheckBox(tr("It ends"))
        self.ends.setChecked(True)
        self.until_on = day_field(tr("Until"), date.fromordinal(today.toordinal() + _A_YEAR))
        self.ends.toggled.connect(self.until_on.setEnabled)
        self.add(tr("Competent in"), self.subject)
        self.add(tr("Certificate: its number, or where it is kept"), self.certificate)
        self.add(tr("From"), self.from_on)
        self.body.addWidget(self.ends)
        self.body.addWidget(self.until_on)

    def competence(self) -> Competence | None:
        """What was entered; None where no subject was."""
        subject = self.subject.text().strip()
        if not subject:
            return None
        until = day_in(self.until_on) if self.ends.isChecked() else None
        return Competence(subject, day_in(self.from_on), until, self.certificate.text().strip())


class AddPersonDialog(_WithCompetence):
    """Takes a person.

    Attributes:
        given: (name, position, competence or None). The dialog stays until that is kept.
    """

    given = Signal(str, str, object)

    def __init__(self, today: date, parent: QWidget | None) -> None:
        super().__init__(tr("Add a person who tests or repairs"), parent)
        self.setMinimumWidth(520)
        self.name, self.position = QLineEdit(), QLineEdit()
        for name, field in ((tr("Name, as it stands on visits"), self.name), (tr("Position"), self.position)):
            field.setAccessibleName(name)
            self.add(name, field)
        self.add_competence(today)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Add the person"), self._on_act, main=True)
        self.name.textChanged.connect(self._settle)
        self._settle()

    def _settle(self) -> None:
        self.act.setEnabled(bool(self.name.text().strip()))

    def _on_act(self) -> None:
        self.given.emit(self.name.text().strip(), self.position.text().strip(), self.competence())


class CompetenceDialog(_WithCompetence):
    """Takes a further competence.

    Attributes:
        given: the competence. The dialog stays until that is kept.
    """

    given = Signal(object)

    def __init__(self, person: Person, today: date, parent: QWidget | None) -> None:
        super().__init__(tr("Add a competence of {name}", name=person.name), parent)
        self.setMinimumWidth(520)
        self.add_competence(today)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Add the competence"), self._on_act, main=True)
        self.subject.textChanged.connect(self._settle)
        self._settle()

    def _settle(self) -> None:
        self.act.setEnabled(bool(self.subject.text().strip()))

    def _on_act(self) -> None:
        self.given.emit(self.competence())


class AmendPersonDialog(Form):
    """Takes a change of position, or the day of leaving.

    Attributes:
        given: (position, day of leaving or None). The dialog stays until that is kept.
    """

    given = Signal(str, object)

    def __init__(self, person: Person, today: date, parent: QWidget | None) -> None:
        super().__init__(tr("Change {name}", name=person.name), parent)
        self.setMinimumWidth(480)
        self.position = QLineEdit(person.position)
        self.position.setAccessibleName(tr("Position"))
        self.add(tr("Position"), self.position)
        self.left_here = QCheckBox(tr("No longer works here"))
        self.left_here.setChecked(person.left_on is not None)
        self.left_on = day_field(tr("The last day here"), person.left_on or today)
        self.left_on.setEnabled(person.left_on is not None)
        self.left_here.toggled.connect(self.left_on.setEnabled)
        self.body.addWidget(self.left_here)
        self.add(tr("The last day here"), self.left_on)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Change the person"), self._on_act, main=True)

    def _on_act(self) -> None:
        day = day_in(self.left_on) if self.left_here.isChecked() else None
        self.given.emit(self.position.text().strip(), day)
