"""Dates as people read them, the same in every place and in any locale."""

from datetime import UTC, date, datetime

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_words(day: date) -> str:
    """A date in words, such as ``25 Nov 2026``."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def moment_words(moment: datetime) -> str:
    """A moment in UTC, such as ``25 Nov 2026, 09:30 UTC``; with seconds where it has them."""
    utc = moment.astimezone(UTC)
    seconds = f":{utc.second:02}" if utc.second else ""
    return f"{day_words(utc.date())}, {utc.hour:02}:{utc.minute:02}{seconds} UTC"
