"""What a cell of an OpenDocument spreadsheet holds, by its attributes and its text."""

import re
from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from math import isfinite

from estate.intake.grid import Cell, Trouble

OFFICE = "urn:oasis:names:tc:opendocument:xmlns:office:1.0"
TABLE = "urn:oasis:names:tc:opendocument:xmlns:table:1.0"
_EXTENDED = "urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"
_KIND = f"{OFFICE} value-type"
_VALUE = f"{OFFICE} value"
_TEXT = f"{OFFICE} string-value"
_DATE = f"{OFFICE} date-value"
_TIME = f"{OFFICE} time-value"
_TRUTH = f"{OFFICE} boolean-value"
_FORMULA = f"{TABLE} formula"
_SHOWN_KIND = f"{_EXTENDED} value-type"
_ERROR = re.compile(r"#[A-Z/0!?]+|Err:\d+")
_DURATION = re.compile(r"(-?)P(?:(\d{1,6})D)?T(?:(\d{1,7})H)?(?:(\d{1,7})M)?(?:(\d{1,7})(?:[.,]\d*)?S)?")
_DAY = timedelta(days=1)


def value_of(attributes: Mapping[str, str], shown: str | None) -> Cell:
    """A cell's value; a trouble where the document has none that can be read.

    Args:
        attributes: the cell's attributes by namespace and name.
        shown: what the cell shows, be it nothing; None where that has not been worked out.
    """
    if shown is None and not attributes:
        return None
    text = shown or ""
    formula = attributes.get(_FORMULA)
    if attributes.get(_SHOWN_KIND) == "error" or (formula is not None and _ERROR.fullmatch(text.strip())):
        return Trouble("unreadable-value", text.strip() or "error")
    kind = attributes.get(_KIND, "void")
    if kind == "void" and formula is not None and shown is None:
        return Trouble("formula-without-value", "=" + formula.partition("=")[2])
    if kind in ("void", "string"):
        return attributes.get(_TEXT, text) or None
    try:
        return _measured(kind, attributes, text)
    except (KeyError, ValueError):
        return Trouble("unreadable-value", text.strip() or kind)


def _measured(kind: str, attributes: Mapping[str, str], text: str) -> Cell:
    if kind == "date":
        return _date(attributes[_DATE])
    if kind == "time":
        return _time(attributes[_TIME])
    if kind == "boolean":
        return {"true": True, "false": False}[attributes[_TRUTH]]
    number = float(attributes[_VALUE])
    if not isfinite(number):
        raise ValueError(kind)
    # Some programs write truths as numbers that a format shows as words.
    return bool(number) if number in (0, 1) and text.strip().isalpha() else number


def _date(written: str) -> date:
    moment = datetime.fromisoformat(written)
    if moment.tzinfo is not None:
        raise ValueError("a date with a zone")
    return moment.date() if moment.time() == time() else moment


def _time(written: str) -> time | timedelta:
    found = _DURATION.fullmatch(written)
    if found is None:
        raise ValueError("no time")
    days, hours, minutes, seconds = (int(each or 0) for each in found.groups()[1:])
    since = timedelta(days=days, hours=hours, minutes=minutes, seconds=seconds)
    if found[1]:
        return -since
    return (datetime.min + since).time() if since < _DAY else since
