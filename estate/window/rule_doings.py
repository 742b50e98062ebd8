"""What the actions do about the rules: the site's own values, and which rule set a place takes."""

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from estate.domain.changes import ChangeSet
from estate.domain.preview import PolicyPreview
from estate.domain.rules.listing import blank
from estate.domain.rules.values import RuleSet, RuleValue
from estate.errors import KnownFault
from estate.window.desk import Desk
from estate.window.dialogs.choose_rules import ChooseRulesDialog
from estate.window.dialogs.override import OverrideDialog
from estate.window.form_keeping import Against, FormKeeper, Given
from estate.window.models.rule_set_rows import choosable
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Latest, Tasks
from estate.window.translating import tr
from estate.window.undoing import Step
from estate.window.ways_back import WaysBack, chosen_at


class RuleDoings:
    """Runs operations about the rules.

    Args:
        tasks: where they run.
        notices: where their change sets and steps are announced.
        preferences: whose name is kept beside a change.
    """

    def __init__(self, tasks: Tasks, notices: Notices, preferences: Preferences) -> None:
        self._tasks, self._preferences = tasks, preferences
        self._forms = FormKeeper(tasks, notices)

    def _who(self) -> str:
        return self._preferences.who

    def override(self, desk: Desk, rules: RuleSet, key: str, parent: QWidget) -> None:
        """Put the site's own value in place of a published one."""
        value = rules.get(key)
        dialog = OverrideDialog(value or blank(key), parent)
        who, ways = self._preferences.who, WaysBack(desk, self._who)
        said = tr("{key} is changed for the estate; the last visits were judged again.", key=key)

        def keep(given: float | str | None, why: str) -> None:
            def work(seen: Against) -> tuple[ChangeSet, Step]:
                was = seen if isinstance(seen, RuleValue) else None
                changes = desk.override(rules.id, key, "estate", given, who=who, why=why, seen=was)
                return changes, ways.overridden(rules.id, key, was, given)

            def done(kept: tuple[ChangeSet, Step]) -> None:
                self._forms.told(said, kept[1])(kept[0])

            mine = {"value": tr("the published value") if given is None else str(given)}
            self._forms.keep(dialog, Given(work, done, mine, value))

        dialog.given.connect(keep)
        latest = Latest(self._tasks)

        def work(tried: float | str | None) -> PolicyPreview | KnownFault:
            try:
                return desk.preview(key, "estate", tried)
            except KnownFault as fault:
                return fault

        dialog.tried.connect(
            lambda tried: latest.run(lambda: work(tried), dialog.show_outcome, dialog.stop_trying)
        )
        dialog.overtaken.connect(latest.forget)
        dialog.show_modal()

    def choose_rules(
        self, desk: Desk, rules: RuleSet, places: Sequence[tuple[str, str]], parent: QWidget
    ) -> None:
        """Choose another rule set for a place."""
        dialog = ChooseRulesDialog(choosable(desk.rule_sets(), rules.id), places, parent)
        who, ways = self._preferences.who, WaysBack(desk, self._who)

        def keep(place: str, chosen: str) -> None:
            def work(seen: Against) -> tuple[ChangeSet, Step]:
                before = chosen_at(desk, place)
                changes = desk.choose_rules(place, chosen, who=who)
                return changes, ways.chosen(place, before, chosen)

            def done(kept: tuple[ChangeSet, Step]) -> None:
                said = tr("{chosen} is chosen; the last visits were judged again.", chosen=chosen)
                self._forms.told(said, kept[1])(kept[0])

            self._forms.keep(dialog, Given(work, done, {"rule set": chosen}))

        dialog.given.connect(keep)
        dialog.show_modal()
