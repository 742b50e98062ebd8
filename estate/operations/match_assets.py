"""Match rows of an asset list to the register: new, already there, changed, or a question."""

from collections.abc import Iterable

from estate.domain.dates import day_words
from estate.domain.intake import AssetRow
from estate.domain.phrases import phrase, together
from estate.domain.places import Outlet
from estate.domain.questions import Answer, Answers, Choice, Question
from estate.domain.references import reference_key
from estate.domain.valves import Fitting
from estate.intake.likeness import NearReferences
from estate.operations.ask_visits import Aside
from estate.operations.compare_assets import BODY as BODY_FIELDS
from estate.operations.compare_assets import Difference, contradictions, differences
from estate.operations.inventory import Inventory
from estate.operations.match_rooms import Elsewhere, Moves
from estate.operations.proposals import AssetChange, MissingOutlet, NewAsset

ROOM = tuple[str, str, str, str]
BODY = tuple[str, str, str]


def room_key(row: AssetRow) -> ROOM:
    """The room of a row as rooms are compared."""
    keys = [reference_key(each) for each in (row.site, row.building, row.level)]
    return (keys[0], keys[1], keys[2], reference_key(row.room_number) or reference_key(row.room))


def body_key(make: str, model: str, serial: str) -> BODY | None:
    """A valve body as bodies are compared; None without a serial number."""
    return (
        (reference_key(make), reference_key(model), reference_key(serial)) if reference_key(serial) else None
    )


class AssetMatcher:
    """Matches the rows of one asset list, in their order.

    Args:
        inventory: the register.
        answers: what a person answered.
        rows: of the list.

    Attributes:
        changes: fields that a person took from the sheet.
        notes: worth saying of rows that are taken or there already.
    """

    def __init__(self, inventory: Inventory, answers: Answers, rows: Iterable[AssetRow]) -> None:
        self.changes: list[AssetChange] = []
        self.notes: list[Question] = []
        self._answers = answers
        self._inventory = inventory
        self._moves = Moves(inventory, rows, answers)
        self._outlets = {reference_key(each.reference): each for each in inventory.outlets}
        self._near = NearReferences(each.reference for each in inventory.outlets)
        self._fitting_at: dict[int, Fitting] = {
            each.position_id: each for each in inventory.fittings if not each.removed_on
        }
        self._bodies: dict[BODY, ROOM | None] = {}
        for fitting in self._fitting_at.values():
            valve = inventory.valves[fitting.valve_id]
            if key := body_key(valve.make, valve.model, valve.serial):
                self._bodies[key] = None
        self._first: dict[BODY, AssetRow] = {}
        self._seen: dict[str, int] = {}
        self._taken: dict[tuple[int | None, int, str], str] = {}

    def match(self, row: AssetRow) -> NewAsset | Aside | tuple[Question, ...]:
        """Match one row; the questions are one for each field that differs."""
        key = reference_key(row.reference)
        if key in self._seen:
            remedy = phrase("Row {row} has the same reference: keep one of them.", row=self._seen[key])
            return self._put(row, "duplicate-row", remedy)
        self._seen[key] = row.source.row
        if key in self._outlets:
            return self._known(row, self._outlets[key])
        return self._new(row)

    def missing(self, rows: Iterable[AssetRow], asked: Iterable[Question]) -> tuple[MissingOutlet, ...]:
        """Outlets in use that the list does not name, in the buildings that it covers.

        Args:
            rows: of the list.
            asked: questions of the reading; the outlets of their rows are named.
        """
        named = {reference_key(row.reference) for row in rows}
        named |= {reference_key(each.ref or each.found) for each in asked}
        covered = {room_key(row)[:2] for row in rows}
        return tuple(
            self._missing(outlet)
            for key, outlet in self._outlets.items()
            if outlet.retired_on is None and key not in named and _building(outlet) in covered
        )

    def _missing(self, outlet: Outlet) -> MissingOutlet:
        given = self._answers.to("not-in-sheet", "", 0, outlet.reference)
        return MissingOutlet(outlet.id, outlet.reference, given is not None and given.choice is Choice.RETIRE)

    def _known(self, row: AssetRow, outlet: Outlet) -> NewAsset | Aside | tuple[Question, ...]:
        fitting = self._fitting_at.get(outlet.position_id)
        valve = None if fitting is None else self._inventory.valves[fitting.valve_id]
        self._note_day_of_fitting(row, outlet, fitting)
        asked: list[Question] = []
        elsewhere = self._moves.of(row)
        if elsewhere is not None and (question := self._moved(elsewhere)):
            asked.append(question)
        for each in differences(row, outlet, valve):
            if question := self._differs(row, outlet, fitting, each):
                asked.append(question)
        changed = self.changes and self.changes[-1].row is row
        return tuple(asked) or (Aside.CHANGED if changed else Aside.THERE)

    def _differs(
        self, row: AssetRow, outlet: Outlet, fitting: Fitting | None, each: Difference
    ) -> Question | None:
        """The question about one field; None where it is answered."""
        remedy: str = phrase(
            "The register differs in {field}: it holds {before}. Which is right?",
            field=each.field,
            before=each.before,
        )
        if each.name in BODY_FIELDS:
            replaced = phrase(
                "If the valve was replaced, record that instead: its history ends with the old body."
            )
            remedy = together(remedy, replaced)
        question = Question(
            row.source.sheet,
            row.source.row,
            row.cell(each.name) or row.cell("reference"),
            "differs-from-register",
            outlet.reference,
            each.after,
            remedy,
        )
        given = self._answer(question)
        if given is None:
            return question
        if given.choice is Choice.SHEET:
            valve_id = fitting.valve_id if fitting is not None and each.of_valve else None
            place = (valve_id, 0 if valve_id else outlet.id, each.name)
            if self._taken.setdefault(place, each.after) != each.after:
                return question
            self.changes.append(
                AssetChange(
                    row, outlet.reference, outlet.id, valve_id, each.name, each.field, each.before, each.after
                )
            )
        return None

    def _moved(self, each: Elsewhere) -> Question | None:
        """The question about the place; None where it is answered and nothing hinders it."""
        given = self._answer(each.question())
        if given is None:
            return each.question()
        if given.choice is Choice.REGISTER:
            return None
        if hindrance := self._moves.hindrance(each):
            return each.question(hindrance)
        outlet = each.outlet
        self.changes.append(
            AssetChange(
                each.row, outlet.reference, outlet.id, None, "room", "place",
                each.before, each.after, each.room,
            )
        )  # fmt: skip
        return None

    def _note_day_of_fitting(self, row: AssetRow, outlet: Outlet, fitting: Fitting | None) -> None:
        """Notes where the sheet has another day of fitting: that is changed by replacing the valve."""
        fitted = None if fitting is None else fitting.fitted_on
        if row.fitted_on and fitted and row.fitted_on != fitted:
            remedy = phrase(
                "The register has {fitted}: if the valve was replaced, record that there.",
                fitted=day_words(fitted),
            )
            self._note(
                row, "other-day-of-fitting", outlet.reference, day_words(row.fitted_on), remedy, "fitted_on"
            )

    def _note(self, row: AssetRow, code: str, ref: str | None, found: str, remedy: str, field: str) -> None:
        cell = row.cell(field) or row.cell("reference")
        self.notes.append(Question(row.source.sheet, row.source.row, cell, code, ref, found, remedy))

    def _new(self, row: AssetRow) -> NewAsset | Aside | tuple[Question, ...]:
        if alike := self._near.smudged(row.reference):
            remedy = phrase(
                "It looks like {other}, which is in the register: are they two outlets?", other=alike[0]
            )
            self._note(row, "looks-like-another", None, row.reference, remedy, "reference")
        body = body_key(row.make, row.model, row.serial)
        alone = NewAsset(row, ("row", row.source.sheet, row.source.row))
        if body is None:
            return alone
        room = room_key(row)
        if body in self._bodies and self._bodies[body] != room:
            remedy = phrase("That body is already fitted in another room: check the serial number.")
            return self._put(row, "serial-elsewhere", remedy, alone)
        self._bodies[body] = room
        first = self._first.setdefault(body, row)
        asked = tuple(self._contradicts(row, first, each) for each in contradictions(row, first))
        return asked or NewAsset(row, ("body", *body))

    def _contradicts(self, row: AssetRow, first: AssetRow, each: Difference) -> Question:
        remedy = phrase(
            "Row {row} says {before} of the same valve: correct the {field} in one of them, or "
            "the serial number.",
            row=first.source.row,
            before=each.before,
            field=each.field,
        )
        cell = row.cell(each.name)
        return Question(row.source.sheet, row.source.row, cell, "contradiction", None, each.after, remedy)

    def _put(
        self, row: AssetRow, code: str, remedy: str, taken: NewAsset | None = None
    ) -> NewAsset | Aside | tuple[Question, ...]:
        """A question about a row, or what a person's answer makes of it."""
        found = " ".join(part for part in (row.reference, row.make, row.model, row.serial) if part)
        cell = row.cell("reference")
        question = Question(row.source.sheet, row.source.row, cell, code, None, found, remedy)
        given = self._answer(question)
        if given is not None and given.choice is Choice.LEAVE_OUT:
            return Aside.LEFT_OUT
        return taken if given is not None and taken is not None else (question,)

    def _answer(self, asked: Question) -> Answer | None:
        given = self._answers.to(asked.code, asked.sheet, asked.row, asked.cell)
        return given if given is not None and given.choice in asked.choices else None


def missing_notes(missing: Iterable[MissingOutlet], file: str) -> list[Question]:
    """A note for each outlet that a list does not name; its cell is the outlet's reference."""
    remedy = phrase("Keep it, or retire it if it is no more; its history stays.")
    return [
        Question("", 0, each.ref, "not-in-sheet", each.ref, f"not in {file}", remedy)
        for each in missing
        if not each.retire
    ]


def _building(outlet: Outlet) -> tuple[str, str]:
    return reference_key(outlet.path.site), reference_key(outlet.path.building)
