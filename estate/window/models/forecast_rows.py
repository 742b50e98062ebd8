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
from estate.window.translating import said, tr, tr_count

TOO_FEW = said("too few to tell")
Group = tuple[int, GroupForecast]
Body = tuple[int, BodyChance]
Used = tuple[int, PartForecast]
Facts = list[tuple[str, str, str]]
_INF = float("inf")


def groups_model() -> TableModel[Group]:
    """The estate and each model."""
    columns: tuple[Column[Group], ...] = (
        Column(
            said("Model"),
            lambda row: Cell(_name(row), float(row[0])),
            "The whole estate",
            stretches=True,
            id="model",
        ),
        Column(said("In\nplace"), lambda row: cells.figure(float(row[1].in_place), 0), id="in-place"),
        Column(said("Median\nage, years"), lambda row: _age(row[1]), id="median-age-years"),
        Column(
            said("Replaced\na year, %"),
            lambda row: _rate(row[1].replaced),
            "0.5 (0.2 to 1.2)",
            id="replaced-a-year",
        ),
        Column(
            said("Expected in the\nyear ahead"),
            lambda row: _expected(row[1].replaced),
            tip=said("Bodies expected to be replaced in the year ahead"),
            id="expected-in-the-year-ahead",
        ),
        Column(
            said("Shut-off fails\na year, %"),
            lambda row: _rate(row[1].shut_off),
            "3.5 (2.4 to 4.8)",
            id="shut-off-fails-a-year",
        ),
        Column(said("Drift,\nK a week"), lambda row: _drift(row[1]), "+0.006 ± 0.002", id="drift-k-a-week"),
        Column(
            said("Put right last\nyear, %"),
            lambda row: _share_cell(row[1].put_right),
            "14 (7 to 24)",
            id="put-right-last-year",
        ),
    )
    return TableModel(columns, lambda row: row[0])


def bodies_model() -> TableModel[Body]:
    """Bodies likeliest to be replaced within a year."""
    columns: tuple[Column[Body], ...] = (
        Column(said("Outlet"), lambda row: cells.text(row[1].ref), "MM/G/G08/WHB1", id="outlet"),
        Column(said("Valve"), lambda row: cells.text(row[1].valve), "", stretches=True, id="valve"),
        Column(
            said("Age, years"),
            lambda row: cells.figure(row[1].age_years, 1, tip=tr("day of fitting not known")),
            id="age-years",
        ),
        Column(
            said("Chance to be replaced within a year"),
            lambda row: Cell(ranged(row[1].chance), -row[1].chance.value, to_right=True),
            "12 % (5 % to 23 %)",
            id="chance-to-be-replaced-within-a-year",
        ),
    )
    return TableModel(columns, lambda row: row[0])


def parts_model() -> TableModel[Used]:
    """Parts."""
    columns: tuple[Column[Used], ...] = (
        Column(said("Part"), lambda row: cells.text(row[1].part), "", stretches=True, id="part"),
        Column(said("Used"), lambda row: cells.figure(row[1].used), "1,000", id="used"),
        Column(
            said("in so many years"),
            lambda row: cells.figure(row[1].looked_back_years, 1),
            id="in-so-many-years",
        ),
        Column(
            said("Expected in the year ahead"),
            lambda row: expected_cell(row[1].expected),
            "1.5 (0 to 5)",
            id="expected-in-the-year-ahead",
        ),
    )
    return TableModel(columns, lambda row: row[0])


def _name(row: Group) -> str:
    return words.sentence(row[1].name)


def _too_few(tip: str = "") -> Cell:
    return Cell(tr(TOO_FEW), _INF, to_right=True, tip=tip or tr("There are too few on record to tell"))


def _age(made: GroupForecast) -> Cell:
    tip = (
        ""
        if made.ages.oldest_years is None
        else tr("the oldest {oldest_years:.1f} years", oldest_years=made.ages.oldest_years)
    )
    return cells.figure(made.ages.median_years, 1, tip=tip or tr("no day of fitting is on record"))


def _seen(made: Counted) -> str:
    return tr("{count} in {years:,.0f} valve-years", count=made.count, years=made.years)


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
    return tr(
        "{shown} ({low} to {high})",
        shown=shown,
        low=f"{100 * made.low:.{decimals}f}",
        high=f"{100 * made.high:.{decimals}f}",
    )


def _expected(made: Counted) -> Cell:
    return _too_few(_seen(made)) if made.expected is None else expected_cell(made.expected)


def expected_cell(made: Expected | None) -> Cell:
    """A count expected, with its interval."""
    if made is None:
        return _too_few()
    return Cell(expected_words(made), made.mean, to_right=True, tip=tr("95 times in 100 within the brackets"))


def expected_words(made: Expected | None) -> str:
    """A count expected, with its interval, in words."""
    return (
        tr(TOO_FEW)
        if made is None
        else tr("{mean:.1f} ({low} to {high})", mean=made.mean, low=made.low, high=made.high)
    )


def _drift(made: GroupForecast) -> Cell:
    if made.drift is None:
        return _too_few()
    valves = tr_count(made.drift.valves, "{n:,} valve", "{n:,} valves")
    tip = f"{valves}, {tr_count(made.drift.readings, '{n:,} reading', '{n:,} readings')}"
    mean = made.drift.mean
    ends = [abs(end - mean.value) for end in (mean.low, mean.high) if end is not None]
    within = f" ± {max(ends):.3f}" if ends else ""
    return Cell(f"{mean.value:+.3f}{within}", mean.value, to_right=True, tip=tip)


def _speed(made: Ranged) -> str:
    """A drift in K a week with its interval."""
    if made.low is None or made.high is None:
        return f"{made.value:+.4f}"
    return tr("{made:+.4f} ({low:+.4f} to {high:+.4f})", made=made.value, low=made.low, high=made.high)


def _share_cell(made: Ranged | None) -> Cell:
    return (
        _too_few(tr("no valve was tested"))
        if made is None
        else Cell(_per_cent(made, 0), made.value, to_right=True)
    )


def ranged(made: Ranged) -> str:
    """A share with its interval."""
    if made.low is None or made.high is None:
        return words.share(made.value)
    return tr(
        "{made} ({low} to {high})",
        made=words.share(made.value),
        low=words.share(made.low),
        high=words.share(made.high),
    )


def facts(made: GroupForecast) -> Facts:
    """What is known of one group, with what it rests on."""
    return [
        *_of_bodies(made),
        *_of_tests(made),
        *((tr("Too few to tell"), each, "") for each in made.too_few),
    ]


def _of_bodies(made: GroupForecast) -> Iterator[tuple[str, str, str]]:
    ages = made.ages
    if ages.median_years is not None and ages.oldest_years is not None:
        known = tr(
            "median {median:.1f} years, oldest {oldest:.1f}",
            median=ages.median_years,
            oldest=ages.oldest_years,
        )
        if ages.unknown:
            known = tr("{known}; of {unknown} not known", known=known, unknown=ages.unknown)
        yield tr("Ages"), known, ""
    yield tr("Replaced"), _counted(made.replaced), ""
    if made.replaced.expected is not None and not made.by_age:
        yield "", tr("Too few replacements to tell ages apart: one rate for all ages."), ""
    for each in made.still_in_place:
        share = tr("all") if each.share.value >= 1 else ranged(each.share)
        age = each.age_years
        years = tr("{age:g} year", age=age) if age == 1 else tr("{age:g} years", age=age)
        yield (
            tr("Still in place at {years}", years=years),
            tr("{share}; {at_risk} watched then", share=share, at_risk=each.at_risk),
            "",
        )
    half = made.half_replaced_years
    if half is not None:
        yield (
            tr("Half are replaced by"),
            tr(
                "{half:.1f} years ({low} to {high})",
                half=half.value,
                low=_end(half.low),
                high=_end(half.high),
            ),
            "",
        )


def _of_tests(made: GroupForecast) -> Iterator[tuple[str, str, str]]:
    yield tr("Shut-off failed"), _counted(made.shut_off), ""
    if made.shut_off_tests is not None:
        yield (
            tr("Did not shut"),
            tr(
                "{shut_off_tests} of {shut_off_tested:,} tests",
                shut_off_tests=ranged(made.shut_off_tests),
                shut_off_tested=made.shut_off_tested,
            ),
            "",
        )
    if made.put_right is not None:
        share = tr_count(
            made.tested_valves,
            "{put_right} of {n:,} valve tested",
            "{put_right} of {n:,} valves tested",
            put_right=ranged(made.put_right),
        )
        yield tr("Put right in the last year"), share, ""
    yield tr("Services"), _counted(made.services), ""
    if made.drift is not None:
        spread = tr("from valve to valve ± {spread:.4f}", spread=made.drift.spread)
        yield tr("Drift"), tr("{speed} K a week; {spread}", speed=_speed(made.drift.mean), spread=spread), ""


def _counted(made: Counted) -> str:
    if made.rate_per_year is None:
        return f"{_seen(made)}: {tr(TOO_FEW)}"
    return tr(
        "{seen}; {rate_per_year} a year; expected {expected}",
        seen=_seen(made),
        rate_per_year=ranged(made.rate_per_year),
        expected=expected_words(made.expected),
    )


def _end(value: float | None) -> str:
    return tr("not reached") if value is None else f"{value:.1f}"


def strainer_words(made: Forecast) -> str:
    """What falls due for strainers."""
    return tr_count(
        made.strainer_cleanings,
        "{n:,} cleaning of strainers falls due in the year ahead, at {valves}.",
        "{n:,} cleanings of strainers fall due in the year ahead, at {valves}.",
        valves=tr_count(made.strainers_due, "{n:,} valve", "{n:,} valves"),
    )
