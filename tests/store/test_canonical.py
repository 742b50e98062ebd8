import json
from datetime import UTC, date, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.store import canonical
from estate.store.canonical import plain, teller, texts_of, told, told_rows

MOMENTS = st.datetimes(timezones=st.just(UTC))
VALUES = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(), st.dates(), MOMENTS, st.binary()
)
ROWS = st.dictionaries(
    st.sampled_from(["found_c", "id", "kind", "row_version", "visited_on", "wörter"]), VALUES
)


def as_json(row: dict[str, Any]) -> str:
    kept = {key: value for key, value in row.items() if value is not None and key != "row_version"}
    return json.dumps(kept, sort_keys=True, ensure_ascii=False, separators=(",", ":"), default=plain)


@given(ROWS)
def test_that_a_row_is_told_as_json_would_tell_it(row: dict[str, Any]) -> None:
    assert told(row) == as_json(row)
    assert teller(tuple(row))(tuple(row.values())) == as_json(row)


def test_that_days_and_moments_are_told_in_iso_form() -> None:
    row = {"at": datetime(2026, 11, 25, 9, 30, tzinfo=UTC), "on": date(2026, 11, 25), "row_version": 3}
    assert told(row) == '{"at":"2026-11-25T09:30:00+00:00","on":"2026-11-25"}'


@given(st.lists(st.tuples(*[VALUES] * 4), min_size=1, max_size=6))
def test_that_many_rows_are_told_like_each_of_them(rows: list[tuple[Any, ...]]) -> None:
    names = ("visited_on", "kind", "row_version", "found_c")
    each = [told(dict(zip(names, row, strict=True))) for row in rows]
    assert list(told_rows(names, rows)) == each
    assert list(told_rows(names, [*rows, *rows, *rows])) == each * 3


@given(st.lists(st.one_of(st.none(), st.sampled_from([0.0, -0.0, 1.5, float("nan"), float("inf")]))))
def test_that_figures_that_come_again_are_written_each_as_it_is(values: list[float | None]) -> None:
    many = values * 3
    assert texts_of(many) == [json.dumps(value) for value in many]


def test_that_more_rows_than_are_taken_at_once_are_all_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(canonical, "ROWS_AT_ONCE", 2)
    rows = [(None, None), (None, None), (None, 1), (2, None), (3, 4)]
    assert list(told_rows(("a", "b"), rows)) == ["{}", "{}", '{"b":1}', '{"a":2}', '{"a":3,"b":4}']
    assert list(told_rows(("a", "b"), [])) == []
