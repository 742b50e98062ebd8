"""Match rows of results to outlets and valves of the register; what doesn't fit becomes a question."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from estate.domain.dates import day_words
from estate.domain.intake import VisitRow
from estate.domain.places import Outlet
from estate.domain.questions import Question
from estate.domain.references import reference_key
from estate.domain.valves import Fitting
from estate.domain.visits import VisitDraft, VisitKind
from estate.operations.holdings import Holdings


@dataclass(frozen=True, slots=True)
class Matched:
    """A row of results as a visit draft, with the reference of its outlet in the register."""

    draft: VisitDraft
    ref: str


class VisitMatcher:
    """Matches the rows of one sheet.

    Args:
        holdings: the register, with all visits.
        today: rows dated later are questioned.
    """

    def __init__(self, holdings: Holdings, today: date) -> None:
        self._today = today
        self._outlets: Mapping[str, Outlet] = {
            reference_key(each.reference): each for each in holdings.outlets
        }
        self._instruments = {reference_key(each.reference): each.id for each in holdings.instruments.values()}
        self._fittings: dict[int, list[Fitting]] = {}
        for fitting in holdings.fittings:
            self._fittings.setdefault(fitting.position_id, []).append(fitting)
        self._known: dict[tuple[int, date], list[VisitDraft]] = {}
        for group in holdings.visits.values():
            for visit in group:
                if visit.counts:
                    self._known.setdefault((visit.draft.outlet_id, visit.on), []).append(visit.draft)
        self._seen: dict[tuple[int, date, VisitKind], int] = {}

    def match(self, row: VisitRow) -> Matched | Question | None:
        """Match one row.

        Returns:
            The draft; or a question; or None where the register already holds this very visit.
        """
        outlet = self._outlets.get(reference_key(row.reference))
        if outlet is None:
            return _ask(
                row,
                "unknown-outlet",
                None,
                "reference",
                row.reference,
                "Correct the reference, or add the outlet to the register first.",
            )
        if outlet.retired_on is not None and row.on >= outlet.retired_on:
            return _ask(
                row,
                "retired-outlet",
                outlet.reference,
                "reference",
                row.reference,
                f"The outlet was retired on {day_words(outlet.retired_on)}: check reference and date.",
            )
        if row.on > self._today:
            return _ask(
                row,
                "future-date",
                outlet.reference,
                "on",
                f"{day_words(row.on)}",
                f"The date lies after today, {day_words(self._today)}: ask the tester for the right one.",
            )
        fitting = self._fitting(outlet, row.on)
        if isinstance(fitting, str):
            return _ask(row, "no-valve-then", outlet.reference, "on", f"{day_words(row.on)}", fitting)
        return self._against_known(row, outlet, fitting)

    def _fitting(self, outlet: Outlet, on: date) -> Fitting | str:
        there = self._fittings.get(outlet.position_id, [])
        for fitting in there:
            if fitting.in_place(on):
                return fitting
        if not there:
            return "No valve is recorded at this outlet: add it to the register first."
        first = min((each.fitted_on for each in there if each.fitted_on), default=None)
        since = f" before {day_words(first)}" if first else ""
        return f"No valve was in place on that day{since}: check the date or the day of fitting."

    def _against_known(self, row: VisitRow, outlet: Outlet, fitting: Fitting) -> Matched | Question | None:
        draft = self._draft(row, outlet, fitting)
        key = (outlet.id, row.on, row.kind)
        if key in self._seen:
            return _ask(
                row,
                "duplicate-row",
                outlet.reference,
                "reference",
                row.reference,
                f"Row {self._seen[key]} has the same outlet and date: keep one of them.",
            )
        self._seen[key] = row.source.row
        there = [each for each in self._known.get((outlet.id, row.on), []) if each.kind is row.kind]
        if not there:
            return Matched(draft, outlet.reference)
        if any(each.readings == row.readings for each in there):
            return None
        return _ask(
            row,
            "conflicts-with-register",
            outlet.reference,
            "on",
            f"{day_words(row.on)}",
            "The register holds other readings of that day: correct the row, or correct that visit.",
        )

    def _draft(self, row: VisitRow, outlet: Outlet, fitting: Fitting) -> VisitDraft:
        return VisitDraft(
            valve_id=fitting.valve_id,
            outlet_id=outlet.id,
            kind=row.kind,
            on=row.on,
            readings=row.readings,
            person=row.person,
            instrument_id=self._instruments.get(reference_key(row.instrument)) if row.instrument else None,
            instrument_words=row.instrument,
            remarks=row.remarks,
            source=row.source,
        )


def _ask(row: VisitRow, code: str, ref: str | None, field: str, found: str, remedy: str) -> Question:
    return Question(row.source.sheet, row.source.row, row.cell(field), code, ref, found.strip(), remedy)
