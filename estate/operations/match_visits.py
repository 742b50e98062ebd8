"""Match rows of results to outlets and valves of the register; what doesn't fit becomes a question."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from estate.domain.dates import day_words
from estate.domain.instruments import Instrument
from estate.domain.intake import VisitRow
from estate.domain.order import out_of_order
from estate.domain.phrases import phrase
from estate.domain.places import Outlet
from estate.domain.questions import Answer, Choice, Question
from estate.domain.valves import Fitting
from estate.domain.visits import Readings, Source, Visit, VisitDraft, VisitKind, measured
from estate.operations.ask_visits import Aside, Asker
from estate.operations.holdings import Holdings
from estate.operations.match_instruments import InstrumentFinder, lapsed
from estate.operations.match_outlets import Found, Unfound, cell_of
from estate.operations.sheet_days import SheetDays


@dataclass(frozen=True, slots=True)
class Matched:
    """A row of results as a visit draft, with the reference of its outlet in the register.

    Attributes:
        corrects: id of the entry that it corrects, as a person answered.
    """

    row: VisitRow
    draft: VisitDraft
    ref: str
    corrects: int | None = None


class VisitMatcher:
    """Matches the rows of one sheet, in their order.

    Args:
        holdings: the register, with all visits.
        today: rows dated later are questioned.
        asker: puts the questions.
        days: the days of the whole sheet.

    Attributes:
        late: rows taken that are older than the last visit in the register.
    """

    def __init__(self, holdings: Holdings, today: date, asker: Asker, days: SheetDays) -> None:
        self.late: list[VisitRow] = []
        self._today = today
        self._asker = asker
        self._days = days
        self._instruments = InstrumentFinder(holdings.instruments.values())
        self._fittings: dict[int, list[Fitting]] = {}
        for fitting in holdings.fittings:
            self._fittings.setdefault(fitting.position_id, []).append(fitting)
        self._known: dict[tuple[int, date, VisitKind], list[Visit]] = {}
        self._last: dict[int, date] = {}
        for valve_id, group in holdings.visits.items():
            for visit in group:
                if visit.counts:
                    draft = visit.draft
                    if draft.on in days.each:
                        self._known.setdefault((draft.outlet_id, draft.on, draft.kind), []).append(visit)
                    self._last[valve_id] = draft.on
        self._seen: dict[tuple[int, date, VisitKind], Source] = {}

    def match(self, row: VisitRow, found: Found | Unfound) -> Matched | Question | Aside:
        """Match one row to the valve of its outlet and the visits in the register."""
        if isinstance(found, Unfound):
            return self._put(row, found.code, None, cell_of(row), found.found, found.remedy, found.suggested)
        outlet = found.outlet
        if outlet.retired_on is not None and row.on >= outlet.retired_on:
            remedy = phrase(
                "The outlet was retired on {retired_on}: check reference and date.",
                retired_on=day_words(outlet.retired_on),
            )
            return self._put(
                row, "retired-outlet", outlet.reference, cell_of(row), _called(row, outlet), remedy
            )
        if row.on > self._today:
            today = day_words(self._today)
            remedy = phrase(
                "The date lies after today, {today}: ask the tester for the right one.", today=today
            )
            return self._put_day(row, "future-date", outlet, remedy)
        fitting = self._fitting(outlet, row.on)
        if fitting is None:
            return self._no_valve(row, outlet)
        return self._among_others(row, outlet, fitting)

    def _put_day(self, row: VisitRow, code: str, outlet: Outlet, remedy: str) -> Question | Aside:
        return self._put(row, code, outlet.reference, row.cell("on"), day_words(row.on), remedy)

    def _fitting(self, outlet: Outlet, on: date) -> Fitting | None:
        there = self._fittings.get(outlet.position_id, ())
        return next((each for each in there if each.in_place(on)), None)

    def _no_valve(self, row: VisitRow, outlet: Outlet) -> Question | Aside:
        there = self._fittings.get(outlet.position_id, ())
        first = min((each.fitted_on for each in there if each.fitted_on), default=None)
        if first is not None and row.on < first:
            fitted = day_words(first)
            remedy = phrase(
                "The valve was fitted on {fitted}: check the date, or the day of fitting in the register.",
                fitted=fitted,
            )
            return self._put_day(row, "before-fitting", outlet, remedy)
        remedy = phrase("No valve is recorded at this outlet: add it to the register first.")
        if there:
            remedy = phrase(
                "No valve was in place on that day: check the date, or when valves were fitted and removed."
            )
        return self._put_day(row, "no-valve-then", outlet, remedy)

    def _among_others(self, row: VisitRow, outlet: Outlet, fitting: Fitting) -> Matched | Question | Aside:
        """A row beside the others of its sheet and the visits in the register."""
        if stop := self._twice(row, outlet):
            return stop
        known = self._known.get((outlet.id, row.on, row.kind), ())
        if any(_holds(each.readings, row.readings) for each in known):
            return Aside.THERE
        corrects: int | None = None
        if known:
            decided = self._against(row, outlet, known)
            if not isinstance(decided, Answer):
                return decided
            corrects = known[0].id if decided.choice is Choice.CORRECT else None
        if stop := self._late(row, outlet, fitting) or self._out_of_order(row, outlet):
            return stop
        instrument = self._instrument(row, outlet)
        if isinstance(instrument, Question | Aside):
            return instrument
        return Matched(row, _draft(row, outlet, fitting, instrument), outlet.reference, corrects)

    def _twice(self, row: VisitRow, outlet: Outlet) -> Question | Aside | None:
        key = (outlet.id, row.on, row.kind)
        if key not in self._seen:
            self._seen[key] = row.source
            return None
        first = self._seen[key]
        if first.sheet == row.source.sheet:
            remedy = phrase("Row {row} has the same outlet and date: keep one of them.", row=first.row)
        else:
            remedy = phrase(
                "Row {row} of {sheet} has the same outlet and date: keep one of them.",
                row=first.row,
                sheet=first.sheet,
            )
        asked = self._put(row, "duplicate-row", outlet.reference, cell_of(row), _called(row, outlet), remedy)
        return self._unless_taken(asked)

    def _against(self, row: VisitRow, outlet: Outlet, known: Sequence[Visit]) -> Question | Aside | Answer:
        """A row that the register holds otherwise: corrected, or a further visit, as a person answers."""
        remedy = phrase(
            "The register holds other readings of that day: correct that visit, or add a further one."
        )
        choices = {Choice.CORRECT, Choice.FURTHER}
        if len(known) > 1:
            remedy = phrase("The register holds several visits of that day: correct the right one there.")
            choices = {Choice.FURTHER}
        return self._asker.unless(choices, self._put_day(row, "conflicts-with-register", outlet, remedy))

    def _late(self, row: VisitRow, outlet: Outlet, fitting: Fitting) -> Question | Aside | None:
        """A row older than the last visit known: a slip if far from its sheet's days, else worth a note."""
        last = self._last.get(fitting.valve_id)
        if last is None or row.on >= last:
            return None
        if not self._days.far_before(row.on):
            self.late.append(row)
            return None
        remedy = phrase(
            "The register holds a visit of {last}, and the other rows of the sheet are of later "
            "days: check the date.",
            last=day_words(last),
        )
        return self._unless_taken(self._put_day(row, "before-later-visit", outlet, remedy))

    def _out_of_order(self, row: VisitRow, outlet: Outlet) -> Question | Aside | None:
        """A row whose temperatures can't stand beside each other."""
        doubtful = out_of_order(row.readings)
        if doubtful is None:
            return None
        cell = row.cell(doubtful[0]) or cell_of(row)
        asked = self._put(row, "unlikely-reading", outlet.reference, cell, _called(row, outlet), doubtful[1])
        return self._unless_taken(asked)

    def _instrument(self, row: VisitRow, outlet: Outlet) -> Instrument | Question | Aside | None:
        """The instrument of a row; asked about only where the register keeps instruments."""
        if not row.instrument or not self._instruments.keeps_any:
            return None
        found = self._instruments.find(row.instrument)
        if found is None:
            remedy = phrase(
                "Choose the instrument, or add it to the register; without one, accuracy is not judged."
            )
            return self._instead(row, "unknown-instrument", outlet, remedy, None)
        if lapsed(found, row.on):
            remedy = phrase(
                "{reference} was not in calibration on {on}: was it this one?",
                reference=found.reference,
                on=day_words(row.on),
            )
            return self._instead(row, "out-of-calibration", outlet, remedy, found)
        return found

    def _instead(
        self, row: VisitRow, code: str, outlet: Outlet, remedy: str, found: Instrument | None
    ) -> Instrument | Question | Aside | None:
        """The instrument that a person answered; the one in hand where it is to be taken as it stands."""
        cell = row.cell("instrument") or row.cell("on")
        suggested = self._instruments.suggested(row.instrument, row.on)
        asked = self._put(row, code, outlet.reference, cell, row.instrument, remedy, suggested)
        given = self._asker.unless({Choice.TAKE, Choice.INSTRUMENT}, asked)
        if not isinstance(given, Answer):
            return given
        if given.choice is Choice.TAKE:
            return found
        return self._instruments.find(given.value) or asked

    def _put(
        self,
        row: VisitRow,
        code: str,
        ref: str | None,
        cell: str,
        found: str,
        remedy: str,
        suggested: tuple[str, ...] = (),
    ) -> Question | Aside:
        return self._asker.put(row, code, ref, cell, found, remedy, suggested)

    def _unless_taken(self, asked: Question | Aside) -> Question | Aside | None:
        given = self._asker.unless({Choice.TAKE}, asked)
        return None if isinstance(given, Answer) else given


def _called(row: VisitRow, outlet: Outlet) -> str:
    return row.reference or outlet.reference


def _holds(known: Readings, said: Readings) -> bool:
    """Whether everything that a row measured is held alike already."""
    return known == said or measured(said).items() <= measured(known).items()


def _draft(row: VisitRow, outlet: Outlet, fitting: Fitting, instrument: Instrument | None) -> VisitDraft:
    return VisitDraft(
        valve_id=fitting.valve_id,
        outlet_id=outlet.id,
        kind=row.kind,
        on=row.on,
        readings=row.readings,
        person=row.person,
        instrument_id=None if instrument is None else instrument.id,
        instrument_words=row.instrument,
        remarks=row.remarks,
        source=row.source,
    )
