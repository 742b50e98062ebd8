"""What changes nothing for a reader changes nothing in what is read."""

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from estate.domain.intake import SheetReading
from tests.intake.laying import DAY, codes, laid, told

HEADINGS = ("Ref", "Date", "Hot °C", "Cold °C", "Mixed found °C", "Mixed left °C", "Shut-off s", "Remarks")
TITLES: tuple[list[Any], ...] = (
    [],
    ["TMV round"],
    ["Northern Water", None, "Page 1"],
    ["Hospital: North", None, "Cal. due: 4 Jan 2027"],
    ["Limits as agreed last year"],
)
LINES: tuple[list[Any], ...] = (
    [],
    ["NORTH WING"],
    ["Ward 3"],
    ["Total tested", 4],
    ["Average", None, 60.2],
    ["Page 2 of 3"],
)

temperatures = st.sampled_from([38.5, 41.0, 41.5, 43.2, 46.0])
visits = st.lists(
    st.tuples(st.sampled_from([58.0, 60.5, 61.0]), temperatures, st.one_of(st.none(), temperatures)),
    min_size=3,
    max_size=6,
)


def rows_of(found: list[tuple[float, float, float | None]]) -> list[list[Any]]:
    return [
        [f"A{number:02}", DAY, hot, 14.0, mixed, left, 2.0, None]
        for number, (hot, mixed, left) in enumerate(found)
    ]


def taken(reading: SheetReading) -> list[Any]:
    assert codes(reading) == []
    return [told(visit) for visit in reading.visits]


@settings(max_examples=20, deadline=None)
@given(visits, st.permutations(range(len(HEADINGS))), st.lists(st.integers(0, len(HEADINGS)), max_size=3))
def test_that_the_order_of_columns_and_empty_ones_between_do_not_matter(
    found: list[tuple[float, float, float | None]], order: list[int], blanks: list[int]
) -> None:
    plain = [list(HEADINGS), *rows_of(found)]
    moved = [[row[place] for place in order] for row in plain]
    for place in blanks:
        for row in moved:
            row.insert(place, None)
    assert taken(laid(moved)) == taken(laid(plain))


@settings(max_examples=20, deadline=None)
@given(visits, st.lists(st.sampled_from(TITLES), max_size=4), st.data())
def test_that_titles_above_and_lines_between_do_not_matter(
    found: list[tuple[float, float, float | None]], titles: list[list[Any]], data: st.DataObject
) -> None:
    rows = rows_of(found)
    plain = taken(laid([list(HEADINGS), *rows]))
    mixed: list[list[Any]] = [*titles, list(HEADINGS)]
    for row in rows:
        mixed += [row, *data.draw(st.lists(st.sampled_from([*LINES, list(HEADINGS)]), max_size=2))]
    assert taken(laid(mixed)) == plain


@settings(max_examples=15, deadline=None)
@given(visits, st.integers(1, 3), st.booleans())
def test_that_the_same_visits_are_read_from_rows_cards_and_columns(
    found: list[tuple[float, float, float | None]], gap: int, colon: bool
) -> None:
    rows = rows_of(found)
    plain = taken(laid([list(HEADINGS), *rows]))
    labels = [heading + ":" * colon for heading in HEADINGS]
    cards: list[list[Any]] = []
    for row in rows:
        cards += [*[[label, value] for label, value in zip(labels, row, strict=True)], *[[]] * gap]
    assert taken(laid(cards)) == plain
    turned = [list(line) for line in zip(labels, *rows, strict=True)]
    assert taken(laid(turned)) == plain


@settings(max_examples=15, deadline=None)
@given(visits, visits)
def test_that_two_tables_are_read_alike_beside_and_below_each_other(
    first: list[tuple[float, float, float | None]], second: list[tuple[float, float, float | None]]
) -> None:
    left = [list(HEADINGS), *rows_of(first)]
    right = [list(HEADINGS), *[[f"B{row[0]}", *row[1:]] for row in rows_of(second)]]
    height = max(len(left), len(right))
    blank: list[Any] = [None] * len(HEADINGS)
    beside = [
        [
            *(left[place] if place < len(left) else blank),
            None,
            *(right[place] if place < len(right) else blank),
        ]
        for place in range(height)
    ]
    assert taken(laid(beside)) == taken(laid([*left, [], *right]))
