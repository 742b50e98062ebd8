import json
from datetime import UTC, date, datetime
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from estate.store.canonical import plain, teller, told

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
