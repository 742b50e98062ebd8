"""The figures of the first page: each says what it counts, and nothing is counted twice or left out."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from estate.domain.due import DueLine
from estate.domain.figures import figures, in_date, not_in_date, workload
from estate.domain.findings import Severity, Verdict
from estate.domain.instruments import Calibration, Instrument
from estate.domain.known_today import Known
from estate.domain.life.actions import Action, ActionDraft, ActionKind, opened
from estate.domain.life.care import CareAsked, CareLine
from estate.domain.life.outlet_use import OutletUse, UseOfOutlet
from estate.domain.life.people import Competence, Person
from estate.domain.today import Behind, Figure, Part, Share, Weight, month_ends, weeks_from
from tests.window.builders import NOW, TODAY, due_line, outlet

DAY = timedelta(days=1)
LINES = (
    due_line(1, -60, -10),
    due_line(2, -60, -40, last_visit=None, verdict=None),
    due_line(3, -5, 3),
    due_line(4, 20, 28),
    due_line(5, 20, 29, verdict=Verdict.NOT_TESTED),
    due_line(6, 0, 14, verdict=Verdict.PUT_RIGHT),
    due_line(7, 0, 0, verdict=Verdict.OUT_OF_USE, also_serves=("MM/G/G08/WHB1",)),
    due_line(8, 300, 400, verdict=Verdict.WATCH),
)


def action(number: int, late: int, owner: str, severity: Severity = Severity.PUT_RIGHT) -> Action:
    target = TODAY - late * DAY
    draft = ActionDraft(1, ActionKind.FAULT, severity, "Descale.", TODAY, target_on=target, owner=owner)
    return opened(number, draft, "A. Officer", NOW)


def instrument(number: int, *ends: int) -> Instrument:
    calibrations = tuple(Calibration(TODAY - 300 * DAY, TODAY + each * DAY) for each in ends)
    return Instrument(number, f"T-{number}", calibrations=calibrations)


def person(number: int, *ends: int | None, left: date | None = None) -> Person:
    held = (Competence("tests", TODAY - 300 * DAY, None if n is None else TODAY + n * DAY) for n in ends)
    return Person(number, f"P. {number}", left_on=left, competences=tuple(held))


def known(lines: Sequence[DueLine] = (), **fields: Any) -> Known:
    numbers = range(1, 10)
    base = Known(
        today=TODAY,
        lines=lines,
        outlets=[outlet(number) for number in numbers],
        served={number: (number,) for number in numbers},
        uses={},
        actions=(),
        instruments=(),
        people=(),
        care=(),
    )
    return replace(base, **fields)


def figure(behind: Behind, lines: Sequence[DueLine] = LINES, **fields: Any) -> Figure:
    (found,) = [each for each in figures(known(lines, **fields)) if each.asks.behind is behind]
    return found


def test_that_every_list_has_one_figure_and_parts_come_in_their_order() -> None:
    found = figures(known())
    lists = [each.asks.behind for each in found]
    assert len(set(lists)) == len(lists)
    assert set(lists) == set(Behind) - {Behind.NOT_IN_DATE, Behind.WEEK}
    parts = [each.part for each in found]
    assert parts == sorted(parts, key=list(Part).index)
    assert found[0].weight is Weight.HARM


@pytest.mark.parametrize(
    ("behind", "outlets"),
    [
        (Behind.STOP, {7}),
        (Behind.PUT_RIGHT, {6}),
        (Behind.OVERDUE, {1, 2}),
        (Behind.NOT_TESTED, {5}),
        (Behind.DUE_SOON, {3, 4, 6, 7}),
    ],
)
def test_that_a_figure_of_valves_counts_the_list_behind_it(behind: Behind, outlets: set[int]) -> None:
    found = figure(behind)
    assert (found.count, set(found.asks.outlet_ids)) == (len(outlets), outlets)


def test_that_what_is_overdue_tells_how_long_and_what_was_never_tested() -> None:
    sentence = "2 valves are past their test window. The longest by 40 days; 1 of them never tested."
    assert figure(Behind.OVERDUE).sentence == sentence
    assert figure(Behind.OVERDUE, LINES[:1]).sentence == (
        "1 valve is past its test window. The longest by 10 days."
    )


def test_that_a_valve_is_to_be_stopped_until_each_of_its_outlets_is_out_of_use() -> None:
    out = UseOfOutlet(OutletUse.OUT_OF_USE, TODAY)
    served = {number: (number,) for number in range(1, 10)} | {7: (7, 8)}
    assert figure(Behind.STOP, served=served, uses={7: out}).count == 1
    stopped = figure(Behind.STOP, served=served, uses={7: out, 8: out})
    assert stopped.count == 0
    assert stopped.nothing == "no valve is on record that must come out of use and has not"


def test_that_outlets_out_of_use_come_the_longest_first() -> None:
    uses = {
        1: UseOfOutlet(OutletUse.OUT_OF_USE, TODAY),
        2: UseOfOutlet(OutletUse.IN_USE, TODAY),
        3: UseOfOutlet(OutletUse.OUT_OF_USE, date(2026, 10, 3)),
    }
    assert [each.outlet.id for each in known(uses=uses).out_of_use()] == [3, 1]
    found = figure(Behind.OUT_OF_USE, uses=uses)
    assert (
        found.sentence == "2 outlets are out of use. The longest since 3 Oct 2026. Water stands there: flush."
    )
    assert figure(Behind.OUT_OF_USE).more == ""


def test_that_actions_are_told_that_are_late_or_without_an_owner() -> None:
    made = (
        action(1, 12, "", Severity.OUT_OF_USE),
        action(2, 1, "M. Osei"),
        action(3, 0, "M. Osei"),
        action(4, -3, ""),
    )
    late = figure(Behind.ACTIONS_LATE, actions=made)
    assert late.sentence == (
        "2 actions are past their target date. The longest by 12 days. "
        "1 of them about taking an outlet out of use."
    )
    assert figure(Behind.ACTIONS_LATE, actions=made[1:2]).more == "The longest by 1 day."
    assert figure(Behind.UNOWNED, actions=made).count == 2
    assert figure(Behind.UNOWNED, actions=made[1:3]).nothing == "every action has an owner"
    assert figure(Behind.UNOWNED).nothing == "no action is open"


def test_that_instruments_are_told_that_are_out_of_calibration_or_soon_will_be() -> None:
    owned = (instrument(1), instrument(2, -1), instrument(3, 60), instrument(4, 61), instrument(5, 20, 200))
    assert figure(Behind.OUT_OF_CALIBRATION, instruments=owned).count == 2
    assert figure(Behind.CALIBRATION_ENDS, instruments=owned).count == 1
    known_good = figure(Behind.OUT_OF_CALIBRATION, instruments=owned[2:])
    assert (known_good.unknown, known_good.nothing) == (False, "every instrument is in calibration")


def test_that_people_are_told_whose_competence_is_missing_or_soon_ends() -> None:
    people = (
        person(1),
        person(2, -1),
        person(3, 60),
        person(4, 61),
        person(5, 20, 200),
        person(6, None),
        person(7, left=TODAY),
    )
    assert figure(Behind.NOT_COMPETENT, people=people).sentence == (
        "2 people have no competence on record that holds."
    )
    assert figure(Behind.COMPETENCE_ENDS, people=people).count == 1
    assert figure(Behind.NOT_COMPETENT, people=people[3:]).nothing == "everybody has a competence that holds"


def test_that_an_empty_register_is_not_told_as_well_kept() -> None:
    for behind in (Behind.OUT_OF_CALIBRATION, Behind.NOT_COMPETENT):
        assert figure(behind).unknown
        assert " is in the register" in figure(behind).nothing
    for behind in (Behind.CALIBRATION_ENDS, Behind.COMPETENCE_ENDS):
        assert figure(behind).nothing == ""


def care(number: int, asked: CareAsked, due: int | None) -> CareLine:
    if due is None:
        return CareLine(outlet(number), asked, None, None, "HSE-08")
    return CareLine(outlet(number), asked, TODAY - 30 * DAY, TODAY + due * DAY, "HSE-08")


def test_that_upkeep_is_told_that_is_due() -> None:
    asked = (
        care(1, CareAsked.FLUSHING, None),
        care(2, CareAsked.FLUSHING, -1),
        care(3, CareAsked.FLUSHING, 0),
        care(4, CareAsked.FLUSHING, 1),
        care(5, CareAsked.SHOWER_HEAD, 0),
        care(6, CareAsked.REVIEW, None),
    )
    flushing = figure(Behind.FLUSHING, care=asked)
    assert flushing.sentence == "3 outlets are to be flushed. 1 late, 1 without any on record."
    assert (flushing.weight, set(flushing.asks.outlet_ids)) == (Weight.LATE, {1, 2, 3})
    heads = figure(Behind.SHOWER_HEADS, care=asked)
    assert (heads.weight, heads.sentence) == (
        Weight.COMING,
        "1 shower head is to be cleaned and descaled.",
    )
    reviews = figure(Behind.REVIEWS, care=asked)
    assert reviews.weight is Weight.COMING
    assert reviews.sentence == (
        "1 outlet is to be asked about: is the valve still needed? 1 without any on record."
    )


def test_that_every_window_ends_in_one_week_or_is_overdue_or_later() -> None:
    found = workload(known(LINES))
    assert found.overdue == (1, 2)
    ends = {each: week.from_on for week in found.weeks for each in week.outlet_ids}
    assert ends == {
        3: TODAY,
        7: TODAY,
        6: date(2026, 12, 7),
        4: date(2026, 12, 21),
        5: date(2026, 12, 21),
    }
    assert found.later == 1
    assert len(found.weeks) == 26
    assert found.weeks[0].asks.outlet_ids == {3, 7}
    assert sum(each.count for each in found.weeks) + len(found.overdue) + found.later == len(LINES)


def test_that_what_is_not_in_date_is_all_but_what_is() -> None:
    left_out = not_in_date(known(LINES)).outlet_ids
    assert left_out == {1, 2, 5, 6, 7}
    assert left_out == {each.outlet_id for each in LINES if not in_date(each)}


def test_that_weeks_begin_today_and_then_on_mondays() -> None:
    assert list(weeks_from(TODAY, 2)) == [
        (TODAY, date(2026, 11, 29)),
        (date(2026, 11, 30), date(2026, 12, 6)),
    ]


def test_that_months_end_on_their_last_day() -> None:
    assert month_ends(date(2024, 3, 31), 3) == (date(2023, 12, 31), date(2024, 1, 31), date(2024, 2, 29))
    assert month_ends(TODAY, 0) == ()


def test_that_a_share_of_no_valve_is_not_known() -> None:
    assert Share(TODAY, 0, 0).of_one is None
    assert Share(TODAY, 4, 1).of_one == 0.25
