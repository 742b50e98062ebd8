"""Keeps the chosen row and the scroll of every list of a page while it is told the same things anew."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from PySide6.QtWidgets import QWidget

from estate.window.widgets.listing import Listing


@contextmanager
def keeping_place(page: QWidget) -> Iterator[None]:
    """Do something that fills the lists of a page again; rows that are still there stay chosen."""
    found: list[Listing[Any]] = page.findChildren(Listing)
    places = [(each, each.current_key(), each.verticalScrollBar().value()) for each in found]
    yield
    for listing, key, top in places:
        if key is not None and listing.choose(key):
            listing.verticalScrollBar().setValue(top)
