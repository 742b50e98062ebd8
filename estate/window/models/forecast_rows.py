"""Columns and words of the year ahead: groups, bodies, parts."""

from collections.abc import Iterator

from estate.domain.forecast import (
    BodyChance,
    Counted,
    Expected,
    Forecast,
    GroupForecast,
    PartForecast,
    Ranged,
)
from estate.window import words
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel

TOO_FEW = "too few to tell"
Group = tuple[int, GroupForecast]
Body = tuple[int, BodyChance]
Used = tuple[int, PartForecast]
Facts = list[tuple[str, str, str]]
_INF = float("inf")


def groups_model() -> TableModel[Group]:
    """The estate and each model."""
    columns: tuple[Column[Group], ...] = (
        Column("Model", lambda row: Cell(_name(row), float(row[0])), "Make B B-15", stretches=True),
        Column("In\nplace", lambda row: cells.figure(float(row[1].in_place), 0)),
        Column("Median\nage, years", lambda row: _age(row[1])),
        Column("Replaced\na year, %", lambda row: _rate(row[1].replaced), "0.5 (0.2 to 1.2)"),
        Column(
            "Expected in the\nyear ahead",
            lambda row: _expected(row[1].replaced),
            tip="Bodies expected to be replaced in the year ahead",
        ),
        Column("Shut-off fails\na year, %", lambda row: _rate(row[1].shut_off), "3.5 (2.4 to 4.8)"),
        Column("Drift,\nK a week", lambda row: _drift(row[1]), "+0.006 ± 0.002"),
        Column("Put right last\nyear, %", lambda row: _share_cell(row[1].put_right), "14 (7 to 24)"),
    )
    return TableModel(columns, lambda row: row[0])


def bodies_model() -> TableModel[Body]:
    """Bodies likeliest to be replaced within a year."""
    columns: tuple[Column[Body], ...] = (
        Column("Outlet", lambda row: cells.text(row[1].ref), "MM/G/G08/WHB1"),
        Column("Valve", lambda row: cells.text(row[1].valve), "", stretches=True),
        Column("Age, years", lambda row: cells.figure(row[1].age_years, 1, tip="day of fitting not known")),
        Column(
            "Chance to be replaced within a year",
            lambda row: Cell(ranged(row[1].chance), -row[1].chance.value, to_right=True),
            "12 % (5 % to 23 %)",
        ),
    )
    return TableModel(columns, lambda row: row[0])


def parts_model() -> TableModel[Used]:
    """Parts."""
    columns: tuple[Column[Used], ...] = (
        Column("Part", lambda row: cells.text(row[1].part), "", stretches=True),
        Column("Used", lambda row: cells.figure(row[1].used), "1,000"),
        Column("in so many years", lambda row: cells.figure(row[1].looked_back_years, 1)),
        Column("Expected in the year ahead", lambda row: expected_cell(row[1].expected), "1.5 (0 to 5)"),
    )
    return TableModel(columns, lambda row: row[0])


def _name(row: Group) -> str:
    return words.sentence(row[1].name)


def _too_few(tip: str = "") -> Cell:
    return Cell(TOO_FEW, _INF, to_right=True, tip=tip or "There are too few on record to tell")


def _age(made: GroupForecast) -> Cell:
    tip = "" if made.ages.oldest_years is None else f"the oldest {made.ages.oldest_years:.1f} years"
    return cells.figure(made.ages.median_years, 1, tip=tip or "no day of fitting is on record")


def _seen(made: Counted) -> str:
    return f"{made.count} in {made.years:,.0f} valve-years"


def _rate(made: Counted) -> Cell:
    rate = made.rate_per_year
    if rate is None:
        return _too_few(_seen(made))
    return Cell(_per_cent(rate), rate.value, to_right=True, tip=_seen(made))


def _per_cent(made: Ranged, decimals: int = 1) -> str:
    """A rate in per cent with its interval, the unit standing in the heading."""
    shown = f"{100 * made.value:.{decimals}f}"
    if made.low is None or made.high is None:
        return shown
    return f"{shown} ({100 * made.low:.{decimals}f} to {100 * made.high:.{decimals}f})"


def _expected(made: Counted) -> Cell:
    return _too_few(_seen(made)) if made.expected is None else expected_cell(made.expected)


def expected_cell(made: Expected | None) -> Cell:
    """A count expected, with its interval."""
    if made is None:
        return _too_few()
    return Cell(expected_words(made), made.mean, to_right=True, tip="95 times in 100 within the brackets")


def expected_words(made: Expected | None) -> str:
    """A count expected, with its interval, in words."""
    return TOO_FEW if made is None else f"{made.mean:.1f} ({made.low} to {made.high})"


def _drift(made: GroupForecast) -> Cell:
    if made.drift is None:
        return _too_few()
    tip = f"{words.count(made.drift.valves, 'valve')}, {words.count(made.drift.readings, 'reading')}"
    mean = made.drift.mean
    ends = [abs(end - mean.value) for end in (mean.low, mean.high) if end is not None]
    within = f" ± {max(ends):.3f}" if ends else ""
    return Cell(f"{mean.value:+.3f}{within}", mean.value, to_right=True, tip=tip)


def _speed(made: Ranged) -> str:
    """A drift in K a week with its interval."""
    if made.low is None or made.high is None:
        return f"{made.value:+.4f}"
    return f"{made.value:+.4f} ({made.low:+.4f} to {made.high:+.4f})"


def _share_cell(made: Ranged | None) -> Cell:
    return (
        _too_few("no valve was tested")
        if made is None
        else Cell(_per_cent(made, 0), made.value, to_right=True)
    )


def ranged(made: Ranged) -> str:
    """A share with its interval."""
    if made.low is None or made.high is None:
        return words.share(made.value)
    return f"{words.share(made.value)} ({words.share(made.low)} to {words.share(made.high)})"


def facts(made: GroupForecast) -> Facts:
    """What is known of one group, with what it rests on."""
    return [*_of_bodies(made), *_of_tests(made), *(("Too few to tell", each, "") for each in made.too_few)]


def _of_bodies(made: GroupForecast) -> Iterator[tuple[str, str, str]]:
    ages = made.ages
    if ages.median_years is not None and ages.oldest_years is not None:
        not_known = f"; of {ages.unknown} not known" if ages.unknown else ""
        yield "Ages", f"median {ages.median_years:.1f} years, oldest {ages.oldest_years:.1f}{not_known}", ""
    yield "Replaced", _counted(made.replaced), ""
    if made.replaced.expected is not None and not made.by_age:
        yield "", "Too few replacements to tell ages apart: one rate for all ages.", ""
    for each in made.still_in_place:
        share = "all" if each.share.value >= 1 else ranged(each.share)
        years = f"{each.age_years:g} year{'s' * (each.age_years != 1)}"
        yield f"Still in place at {years}", f"{share}; {each.at_risk} watched then", ""
    half = made.half_replaced_years
    if half is not None:
        yield "Half are replaced by", f"{half.value:.1f} years ({_end(half.low)} to {_end(half.high)})", ""


def _of_tests(made: GroupForecast) -> Iterator[tuple[str, str, str]]:
    yield "Shut-off failed", _counted(made.shut_off), ""
    if made.shut_off_tests is not None:
        yield "Did not shut", f"{ranged(made.shut_off_tests)} of {made.shut_off_tested:,} tests", ""
    if made.put_right is not None:
        share = f"{ranged(made.put_right)} of {words.count(made.tested_valves, 'valve')} tested"
        yield "Put right in the last year", share, ""
    yield "Services", _counted(made.services), ""
    if made.drift is not None:
        spread = f"from valve to valve ± {made.drift.spread:.4f}"
        yield "Drift", f"{_speed(made.drift.mean)} K a week; {spread}", ""


def _counted(made: Counted) -> str:
    if made.rate_per_year is None:
        return f"{_seen(made)}: {TOO_FEW}"
    return f"{_seen(made)}; {ranged(made.rate_per_year)} a year; expected {expected_words(made.expected)}"


def _end(value: float | None) -> str:
    return "not reached" if value is None else f"{value:.1f}"


def strainer_words(made: Forecast) -> str:
    """What falls due for strainers."""
    cleanings = words.count(made.strainer_cleanings, "cleaning of strainers", "cleanings of strainers")
    verb = "falls" if made.strainer_cleanings == 1 else "fall"
    return f"{cleanings} {verb} due in the year ahead, at {words.count(made.strainers_due, 'valve')}."
