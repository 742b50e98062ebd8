"""The invented estate as the sheets that a person would bring in."""

import csv
import io
from collections.abc import Iterable, Sequence

from estate.sample.life import Test
from estate.sample.places import Place

ASSET_HEADINGS = (
    "Asset ref", "Site", "Building", "Level", "Room no", "Room", "Outlet", "Use", "Used by",
    "Make", "Model", "Serial no", "Class", "Size mm", "Set °C", "Fitted", "Pipe to outlet (m)",
)  # fmt: skip
HISTORY_HEADINGS = (
    "Asset ref", "Date", "Visit", "Hot °C", "Cold °C", "Mixed as found °C", "Mixed as left °C",
    "Max after cold off °C", "Residual flow ml/min", "Shut-off s", "Strainers cleaned",
    "Tested by", "Instrument", "Remarks",
)  # fmt: skip


def asset_sheet(places: Iterable[Place]) -> bytes:
    """The asset list as CSV (UTF-8)."""
    return _csv(ASSET_HEADINGS, [_asset(place) for place in places])


def _asset(place: Place) -> Sequence[object]:
    return (
        place.reference, place.wing.site, place.wing.building, place.level, place.room_number,
        place.room, place.outlet, OUTLET_WORDS.get(place.use.value, place.use.value), place.users,
        place.make, place.model, place.serial, place.scheme_class, place.size_mm,
        place.set_c, place.fitted_on.isoformat(), place.pipe_m,
    )  # fmt: skip


OUTLET_WORDS = {"basin": "Wash-hand basin"}


def history_sheet(tests: Iterable[Test]) -> bytes:
    """Visits as CSV (UTF-8)."""
    return _csv(HISTORY_HEADINGS, [_test(test) for test in tests])


def _test(test: Test) -> Sequence[object]:
    return (
        test.place.reference, test.on.isoformat(), test.kind, test.hot_c, test.cold_c, test.found_c,
        test.left_c, test.max_c, test.residual_ml_min, test.shut_s, "Y" if test.strainers else "N",
        test.person, test.instrument, test.remarks,
    )  # fmt: skip


def _csv(headings: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(headings)
    writer.writerows(["" if value is None else value for value in row] for row in rows)
    return text.getvalue().encode("utf-8")
