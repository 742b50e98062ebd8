"""The canonical form of values, rows and ledger entries: what digests are worked out over (docs/trust.md).

JSON without spaces, keys in order, UTF-8; numbers as Python's ``repr`` writes the stored value; days and
moments in ISO form, moments in UTC; a file's bytes as ``sha256:`` and their digest.
"""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime
from hashlib import sha256
from json.encoder import encode_basestring
from math import isfinite
from typing import Any, Final

from sqlalchemy import Boolean, Date, Double, Table

from estate.store.columns import UtcMoment, is_filled

UNTOLD: Final = "row_version"
"""Not told of an added row: it begins with 1 and rises by one with each amendment."""


def plain(value: object) -> object:
    """A value that JSON does not know, as text.

    Raises:
        TypeError: the value can't be kept in a register.
    """
    if isinstance(value, datetime):
        return utc(value).isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, bytes | memoryview):
        return f"sha256:{sha256(value).hexdigest()}"
    raise TypeError(f"no JSON for {type(value).__name__}")


def utc(moment: datetime) -> datetime:
    """A moment in UTC.

    Raises:
        ValueError: it has no time zone, so that its meaning would be a guess.
    """
    if moment.tzinfo is None:
        raise ValueError(f"a moment needs a time zone: {moment.isoformat()}")
    return moment.astimezone(UTC)


_JSON: Final = json.JSONEncoder(sort_keys=True, ensure_ascii=False, separators=(",", ":"), default=plain)


def text_of(value: object) -> str:
    """A value as canonical JSON."""
    return _JSON.encode(value)


def _figure(value: float) -> str:
    return repr(value) if isfinite(value) else text_of(value)


_WRITTEN: Final[Mapping[type, Callable[[Any], str]]] = {
    str: encode_basestring,
    float: _figure,
    int: repr,
    bool: {True: "true", False: "false"}.__getitem__,
    date: lambda day: f'"{day.isoformat()}"',
    datetime: lambda moment: f'"{utc(moment).isoformat()}"',
}
"""How values of the commonest types are written, without the encoder's preparations for any value."""


def told(values: Mapping[str, Any]) -> str:
    """A whole row as canonical JSON: columns without a value are left out, and so is the row's version."""
    names = tuple(values)
    return teller(names)(tuple(values.values()))


def teller(names: Sequence[str]) -> Callable[[Sequence[Any]], str]:
    """What tells whole rows of a table as `told` does; for many rows.

    Args:
        names: the columns, in the order in which the rows have their values.
    """
    order = sorted((name, place) for place, name in enumerate(names) if name != UNTOLD)
    known = [(place, f"{encode_basestring(name)}:") for name, place in order]

    def tell(row: Sequence[Any]) -> str:
        parts = [
            key + _WRITTEN.get(type(value), text_of)(value)
            for place, key in known
            if (value := row[place]) is not None
        ]
        return f"{{{','.join(parts)}}}"

    return tell


ROWS_AT_ONCE: Final = 4_000


def told_rows(names: Sequence[str], rows: Sequence[Sequence[Any]]) -> Iterator[str]:
    """Many rows of a table, each as `told` tells it; a column at a time, which is several times faster.

    Args:
        names: the columns, in the order in which the rows have their values.
        rows: the values.
    """
    order = sorted((name, place) for place, name in enumerate(names) if name != UNTOLD)
    for first in range(0, len(rows), ROWS_AT_ONCE):
        columns = list(zip(*rows[first : first + ROWS_AT_ONCE], strict=True))
        filled = [(name, columns[place]) for name, place in order if is_filled(columns[place])]
        texts = [texts_of(values, f"{encode_basestring(name)}:", "") for name, values in filled]
        told = zip(*texts, strict=True) if texts else ((),) * len(columns[0])
        for row in told:
            yield f"{{{','.join(filter(None, row))}}}"


def texts_of(values: Sequence[Any], key: str = "", nothing: str = "null") -> list[str]:
    """A column of rows as canonical JSON; what comes again and again in it is written once.

    Args:
        values: of one column.
        key: put before each.
        nothing: in the place of None.
    """
    kinds = set(map(type, values)) - {type(None)}
    if len(kinds) > 1 or not kinds <= _WRITTEN.keys():
        return [nothing if value is None else key + _text_of_any(value) for value in values]
    write = _WRITTEN[kinds.pop()] if kinds else text_of
    distinct = set(values)
    if 2 * len(distinct) > len(values):
        return [nothing if value is None else key + write(value) for value in values]
    known = {value: nothing if value is None else key + write(value) for value in distinct}
    if write is _figure and 0.0 in known:
        # Two noughts, of which one is less than none, are equal but not written alike.
        return [key + write(value) if value == 0.0 else known[value] for value in values]
    return [known[value] for value in values]


def _text_of_any(value: Any) -> str:
    return _WRITTEN.get(type(value), text_of)(value)


class _Known(dict[Any, Any]):
    """Values in their canonical form; each distinct one is worked out once."""

    def __init__(self, work_out: Callable[[Any], Any]) -> None:
        self._work_out = work_out

    def __missing__(self, value: Any) -> Any:
        found = self[value] = self._work_out(value)
        return found


def _moment(value: Any) -> Any:
    """SQLite gives a moment as text; text that the program would not have written stays as it is."""
    if isinstance(value, datetime):
        return utc(value).isoformat()
    try:
        moment = datetime.fromisoformat(value)
    except (TypeError, ValueError):
        return value
    written = moment.strftime("%Y-%m-%d %H:%M:%S.%f")
    return moment.replace(tzinfo=UTC).isoformat() if value == written else value


def _day(value: Any) -> Any:
    return value.isoformat() if isinstance(value, date) else value


def _number(value: Any) -> Any:
    return float(value) if isinstance(value, int) else value


def _truth(value: Any) -> Any:
    return bool(value) if value in (0, 1) and not isinstance(value, str | float) else value


def converters(table: Table, names: Sequence[str]) -> list[tuple[int, Callable[[Any], Any]]]:
    """What turns values, as a driver gives them or the program writes them, into what the digests cover.

    Returns:
        Places in `names`, each with what to do to a value that is not None.
    """
    kinds: list[tuple[type[Any], Callable[[Any], Any]]] = [
        (UtcMoment, _Known(_moment).__getitem__),
        (Date, _Known(_day).__getitem__),
        (Double, _number),
        (Boolean, _truth),
    ]
    return [
        (place, convert)
        for place, name in enumerate(names)
        for kind, convert in kinds
        if isinstance(table.c[name].type, kind)
    ]


def settled(
    rows: Iterable[Sequence[Any]], convert: Sequence[tuple[int, Callable[[Any], Any]]]
) -> Iterable[list[Any]]:
    """Rows with their values as the digests cover them."""
    for row in rows:
        values = list(row)
        for place, change in convert:
            if values[place] is not None:
                values[place] = change(values[place])
        yield values
