"""The way back from each kind of step: evidence by a further entry, a change by hand exactly."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from estate.domain.browsing import HistoryLine
from estate.domain.changes import ChangeSet
from estate.domain.editing import FROM_ABOVE, Edited, OutletChange
from estate.domain.rules.values import RuleValue
from estate.domain.visits import VisitDraft
from estate.window.desk import Desk, Recorded
from estate.window.translating import tr
from estate.window.undoing import Step, Turned, Way

Who = Callable[[], str]


@dataclass(frozen=True)
class WaysBack:
    """Makes steps of one register.

    Args:
        desk: the register.
        who: the name kept beside entries.
    """

    desk: Desk
    who: Who

    @property
    def _why(self) -> str:
        """The reason kept with a further entry."""
        return tr("undone by {who}", who=self.who())

    def recorded(self, made: Recorded, reference: str) -> Step:
        """A visit that was recorded."""
        said = tr("record visit {reference}", reference=reference)
        return Step(self.desk, said, self._void(made))

    def corrected(self, before: HistoryLine, made: Recorded, reference: str) -> Step:
        """An entry that was corrected."""
        said = tr("correct visit {reference}", reference=reference)
        if made.visit.corrects != before.visit.id:  # what somebody else said meanwhile was corrected
            return Step(self.desk, said, tr("Correct the entry itself: somebody else changed it meanwhile."))
        return Step(self.desk, said, self._correct(made, before.visit.draft))

    def voided(self, line: HistoryLine, reference: str, reason: str) -> Step:
        """An entry that was made void."""
        said = tr("make visit void {reference}", reference=reference)
        return Step(self.desk, said, self._record(line.visit.draft, reason))

    def _void(self, made: Recorded, reason: str = "") -> Way:
        def void() -> Turned:
            changes = self.desk.void(made.visit.id, reason or self._why, self.who())
            said = tr("The entry stays on record as void.")
            return Turned(changes, self._record(made.visit.draft, reason), said)

        return void

    def _record(self, draft: VisitDraft, reason: str = "") -> Way:
        def record() -> Turned:
            made = self.desk.record(replace(draft, source=None), self.who())
            said = tr(
                "The same readings are a new entry; the void one stays on record, and a signature on it "
                "is not carried over."
            )
            return Turned(made.changes, self._void(made, reason), said)

        return record

    def _correct(self, made: Recorded, to: VisitDraft) -> Way:
        def correct() -> Turned:
            after = self.desk.correct(made.visit.id, replace(to, source=None), self.who(), self._why)
            said = tr("A further entry counts in its place; the others stay on record.")
            return Turned(after.changes, self._correct(after, made.visit.draft), said)

        return correct

    def edited(self, said: str, made: Edited, again: Callable[[], Edited]) -> Step:
        """A change by hand; `again` makes it anew."""
        return Step(self.desk, said, self._take_back(made, again))

    def _take_back(self, made: Edited, again: Callable[[], Edited]) -> Way:
        def take_back() -> Turned:
            changes = self.desk.editing.take_back(made.written, self.who(), "")
            return Turned(changes, self._edit(again))

        return take_back

    def _edit(self, again: Callable[[], Edited]) -> Way:
        def edit() -> Turned:
            made = again()
            return Turned(made.changes, self._take_back(made, again))

        return edit

    def overridden(self, rule_set: str, key: str, seen: RuleValue | None, value: float | str | None) -> Step:
        """A value of the estate's own that was set or withdrawn."""
        own = seen.override if seen is not None else None
        before = own.value if own is not None and own.place == "estate" else None
        said = tr("change {key}", key=key)
        return Step(self.desk, said, self._override(rule_set, key, before, value))

    def _override(self, rule_set: str, key: str, to: float | str | None, back: float | str | None) -> Way:
        def override() -> Turned:
            changes = self.desk.override(rule_set, key, "estate", to, who=self.who(), why=self._why)
            return Turned(changes, self._override(rule_set, key, back, to))

        return override

    def chosen(self, place: str, before: str, rule_set: str) -> Step:
        """A rule set that was chosen; `before` is as `chosen_at` told it."""
        said = tr("choose {rule_set}", rule_set=rule_set)
        return Step(self.desk, said, self._choose(place, before, rule_set))

    def _choose(self, place: str, to: str, back: str) -> Way:
        def choose() -> Turned:
            changes = choose_at(self.desk, place, to, self.who())
            return Turned(changes, self._choose(place, back, to))

        return choose


def chosen_at(desk: Desk, place: str) -> str:
    """The rule set chosen at a place; `FROM_ABOVE` where an outlet has no choice of its own."""
    kind, _, number = place.partition(":")
    if kind == "outlet":
        return desk.outlet_page(int(number)).outlet.rule_set or FROM_ABOVE
    return desk.rules(place).id


def choose_at(desk: Desk, place: str, rule_set: str, who: str) -> ChangeSet:
    """Choose a rule set for a place, or give up an outlet's own choice."""
    kind, _, number = place.partition(":")
    if kind == "outlet" and rule_set == FROM_ABOVE:
        return desk.editing.amend_outlets([int(number)], OutletChange(rule_set=FROM_ABOVE), who).changes
    return desk.choose_rules(place, rule_set, who=who)
