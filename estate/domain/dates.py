"""Dates as people read them, the same in every place and in any locale."""

from datetime import date

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_words(day: date) -> str:
    """A date in words, such as ``25 Nov 2026``."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"
