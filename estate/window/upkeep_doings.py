"""What the actions about people and upkeep do."""

from PySide6.QtWidgets import QWidget

from estate.domain.life.care import CareAsked, CareLine
from estate.domain.life.people import Person
from estate.window.desk import Desk
from estate.window.dialogs.people import AddPersonDialog, AmendPersonDialog, CompetenceDialog
from estate.window.dialogs.upkeep import CareDialog, ReviewDialog, take_back_dialog
from estate.window.form_keeping import FormKeeper
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Tasks
from estate.window.translating import tr


class UpkeepDoings:
    """Runs operations about people and upkeep.

    Args:
        tasks: where they run.
        notices: where their change sets are announced.
        preferences: whose name is kept.
    """

    def __init__(self, tasks: Tasks, notices: Notices, preferences: Preferences) -> None:
        self._tasks, self._notices, self._preferences = tasks, notices, preferences
        self._forms = FormKeeper(tasks, notices)

    def add_person(self, desk: Desk, parent: QWidget) -> None:
        """Add a person."""
        dialog, who = AddPersonDialog(desk.today, parent), self._preferences.who
        dialog.given.connect(
            lambda name, position, competence: self._forms.change(
                dialog,
                lambda: desk.upkeep.add_person(name, position, competence, who),
                tr("{name} was added.", name=name),
            )
        )
        dialog.show_modal()

    def amend_person(self, desk: Desk, person: Person, parent: QWidget) -> None:
        """Change a person's position, or the day of leaving."""
        dialog, who = AmendPersonDialog(person, desk.today, parent), self._preferences.who
        dialog.given.connect(
            lambda position, left_on: self._forms.change(
                dialog,
                lambda: desk.upkeep.amend_person(person.name, position, left_on, who),
                tr("{name}: changed.", name=person.name),
            )
        )
        dialog.show_modal()

    def add_competence(self, desk: Desk, person: Person, parent: QWidget) -> None:
        """Add a competence of a person."""
        dialog, who = CompetenceDialog(person, desk.today, parent), self._preferences.who
        dialog.given.connect(
            lambda competence: self._forms.change(
                dialog,
                lambda: desk.upkeep.add_competence(person.name, competence, who),
                tr("{name}: a competence was added.", name=person.name),
            )
        )
        dialog.show_modal()

    def done(self, desk: Desk, line: CareLine, parent: QWidget) -> None:
        """Record that upkeep was done, or the answer whether a valve is still needed."""
        who = self._preferences.who

        def show(people: tuple[str, ...]) -> None:
            said = tr("{reference}: recorded.", reference=line.outlet.reference)
            if line.asked is CareAsked.REVIEW:
                review = ReviewDialog(line, desk.today, who, people, parent)
                review.given.connect(
                    lambda draft: self._forms.change(review, lambda: desk.upkeep.review(draft, who), said)
                )
                review.show_modal()
                return
            care = CareDialog(line, desk.today, who, people, parent)
            care.given.connect(
                lambda draft: self._forms.change(care, lambda: desk.upkeep.record(draft, who), said)
            )
            care.show_modal()

        self._tasks.run(lambda: tuple(desk.people()), show)

    def take_back(self, desk: Desk, line: CareLine, parent: QWidget) -> None:
        """Take back what was entered last by mistake, with a reason."""
        dialog, who = take_back_dialog(line, parent), self._preferences.who
        said = tr("{reference}: taken back. It stays on record.", reference=line.outlet.reference)
        dialog.given.connect(
            lambda why: self._forms.change(dialog, lambda: desk.upkeep.take_back(line, why, who), said)
        )
        dialog.show_modal()
