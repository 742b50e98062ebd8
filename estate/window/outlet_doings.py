"""What the actions do that change outlets and valves by hand, one or many; each can be undone."""

from collections.abc import Callable, Sequence
from datetime import date

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import OutletPage, PlaceKind, PlaceNode
from estate.domain.conflicts import Rows, Seen
from estate.domain.editing import Edited, OutletChange, ValveChange
from estate.domain.life.outlet_use import UseStep
from estate.domain.places import Outlet
from estate.domain.standing import OutletState
from estate.domain.valves import Valve
from estate.errors import EntryFault
from estate.window import words
from estate.window.desk import Desk
from estate.window.dialogs.action_step import OutletUseDialog
from estate.window.dialogs.bulk_edit import BulkEditDialog
from estate.window.dialogs.edit_outlet import EditOutletDialog
from estate.window.dialogs.edit_valve import EditValveDialog, FitValveDialog
from estate.window.editing_doings import NOTHING, EditingDoings
from estate.window.form_keeping import Against, FormKeeper, Given
from estate.window.models.outlet_changes import preview
from estate.window.models.place_choice import outlets_below, short_name, told
from estate.window.notices import Notices
from estate.window.tasks import Tasks
from estate.window.translating import tr


class OutletDoings:
    """Runs operations that change outlets and valves by hand.

    Args:
        tasks: where they run.
        notices: where faults are reported.
        places: tells of what was done, and knows which outlet stands for one that was added again.
    """

    def __init__(self, tasks: Tasks, notices: Notices, places: EditingDoings) -> None:
        self._tasks, self._notices, self._places = tasks, notices, places
        self._forms = FormKeeper(tasks, notices)

    def change(self, desk: Desk, nodes: Sequence[PlaceNode], tested: frozenset[int], parent: QWidget) -> None:
        """Change fields of every outlet at or below places; `tested` are ids of outlets with a last visit."""
        below = outlets_below(nodes)
        live = [each for each in below if each.state is not OutletState.RETIRED]
        if not live:
            self._notices.report(_none_left(nodes))
            return
        ids = [each.id for each in live]

        def show(known: tuple[Rows, Sequence[Outlet], list[tuple[str, str]]]) -> None:
            seen, outlets, rule_sets = known
            visited = sum(each in tested for each in ids)
            left_out = len(below) - len(live)
            where = words.listed([short_name(each) for each in nodes])
            dialog = BulkEditDialog(outlets, where, rule_sets, visited, left_out, parent)

            def keep(change: OutletChange, why: str) -> None:
                amend = self._amend(desk, ids, change, why)
                called = tr("change {what}", what=told(live))
                words_done = tr("Changed. {what}", what=preview(len(ids), change, visited))
                done = self._places.done(desk, called, lambda: amend(None), words_done)
                self._forms.keep(dialog, Given(amend, done, dialog.mine(), seen))

            dialog.given.connect(keep)
            dialog.show_modal()

        self._tasks.run(
            lambda: (desk.editing.outlets_seen(ids), desk.editing.outlets(ids), _rule_sets(desk)), show
        )

    def _amend(
        self, desk: Desk, ids: Sequence[int], change: OutletChange, why: str
    ) -> Callable[[Against], Edited]:
        def amend(against: Against) -> Edited:
            seen = against if isinstance(against, Seen | tuple) else None
            return desk.editing.amend_outlets(self._now(desk, ids), change, self._places.who(), why, seen)

        return amend

    def _now(self, desk: Desk, ids: Sequence[int]) -> list[int]:
        renewed = self._places.renewed(desk)
        return [renewed.now((PlaceKind.OUTLET, each))[1] for each in ids]

    def stop(self, desk: Desk, nodes: Sequence[PlaceNode], step: UseStep, parent: QWidget) -> None:
        """Take out of use, or retire, every outlet at or below places that is not so already."""
        already = {OutletState.RETIRED} | ({OutletState.TAKEN_OUT} if step is UseStep.TAKE_OUT else set())
        live = [each for each in outlets_below(nodes) if each.state not in already]
        if not live:
            self._notices.report(_none_left(nodes))
            return
        ids, what = [each.id for each in live], told(live)

        def show(people: tuple[str, ...]) -> None:
            dialog = OutletUseDialog(what, step, desk.today, "", people, parent)

            def keep(on: date, why: str, who_told: str, sign: bool | None) -> None:
                def stop() -> Edited:
                    now, who = self._now(desk, ids), self._places.who()
                    if step is UseStep.RETIRE:
                        return desk.editing.retire(now, on, why, who)
                    return desk.editing.take_out(now, on, why, who_told, sign, who)

                retired = step is UseStep.RETIRE
                called = (
                    tr("retire {what}", what=what) if retired else tr("take {what} out of use", what=what)
                )
                words = tr("Retired: {what}.", what=what) if retired else tr("Out of use: {what}.", what=what)
                done = self._places.done(desk, called, stop, words)
                self._forms.keep(dialog, Given(lambda seen: stop(), done, NOTHING))

            dialog.given.connect(keep)
            dialog.show_modal()

        self._tasks.run(lambda: tuple(desk.people()), show)

    def edit_outlet(self, desk: Desk, outlet_id: int, parent: QWidget) -> None:
        """Change what is recorded of one outlet."""

        def show(known: tuple[Seen, OutletPage, list[tuple[str, str]]]) -> None:
            seen, page, rule_sets = known
            visited = any(line.visit.counts for line in page.history)
            dialog = EditOutletDialog(page.outlet, rule_sets, visited, parent)

            def keep(change: OutletChange, why: str) -> None:
                amend = self._amend(desk, [outlet_id], change, why)
                called = tr("change {what}", what=page.outlet.reference)
                words = tr("Changed: {what}.", what=page.outlet.reference)
                done = self._places.done(desk, called, lambda: amend(None), words)
                self._forms.keep(dialog, Given(amend, done, dialog.mine, seen))

            dialog.given.connect(keep)
            dialog.show_modal()

        self._tasks.run(
            lambda: (desk.editing.seen("outlet", outlet_id), desk.outlet_page(outlet_id), _rule_sets(desk)),
            show,
        )

    def edit_valve(self, desk: Desk, page: OutletPage, parent: QWidget) -> None:
        """Change what is recorded of the body in place."""
        reference, outlet_id = page.outlet.reference, page.outlet.id

        def show(known: tuple[Seen | None, OutletPage]) -> None:
            seen, now = known
            body = now.valve
            if body is None:
                self._notices.report(_no_valve(reference))
                return
            dialog = EditValveDialog(reference, body, parent)

            def keep(change: ValveChange, why: str) -> None:
                def amend(against: Against) -> Edited:
                    held = against if isinstance(against, Seen) else None
                    return desk.editing.amend_valve(body.id, change, self._places.who(), why, held)

                called = tr("change valve at {reference}", reference=reference)
                words = tr("Changed: the valve at {reference}.", reference=reference)
                done = self._places.done(desk, called, lambda: amend(None), words)
                self._forms.keep(dialog, Given(amend, done, dialog.mine, seen))

            dialog.given.connect(keep)
            dialog.show_modal()

        body_id = None if page.valve is None else page.valve.id
        self._tasks.run(
            lambda: (
                None if body_id is None else desk.editing.seen("valve", body_id),
                desk.outlet_page(outlet_id),
            ),
            show,
        )

    def fit_valve(self, desk: Desk, outlet: Outlet, parent: QWidget) -> None:
        """Fit the first valve of an outlet."""
        dialog = FitValveDialog(outlet.reference, desk.today, parent)

        def keep(body: Valve, on: date | None) -> None:
            def fit() -> Edited:
                (outlet_id,) = self._now(desk, [outlet.id])
                return desk.editing.fit_valve(outlet_id, body, on, self._places.who())

            called = tr("fit valve at {reference}", reference=outlet.reference)
            words = tr("Fitted: {body} at {reference}; commission it before use.", **_fitted(body, outlet))
            done = self._places.done(desk, called, fit, words)
            self._forms.keep(dialog, Given(lambda seen: fit(), done, NOTHING))

        dialog.given.connect(keep)
        dialog.show_modal()


def _fitted(body: Valve, outlet: Outlet) -> dict[str, str]:
    return {"body": body.words, "reference": outlet.reference}


def _rule_sets(desk: Desk) -> list[tuple[str, str]]:
    """Every rule set that can be chosen, with its words."""
    return sorted((f"{each.title} ({each.id})", each.id) for each in desk.rule_sets())


def _none_left(nodes: Sequence[PlaceNode]) -> EntryFault:
    detail = tr("{what}: every outlet there is retired or out of use already.", what=told(nodes))
    return EntryFault(tr("There is no outlet to change"), detail, tr("Choose outlets that are in use."))


def _no_valve(reference: str) -> EntryFault:
    detail = tr("{reference} has no valve now.", reference=reference)
    return EntryFault(tr("The valve is gone"), detail, tr("Read the register afresh; somebody took it out."))
