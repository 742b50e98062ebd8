"""Find the instrument that a row of results names."""

import re
from collections.abc import Iterable
from datetime import date

from estate.domain.instruments import Instrument
from estate.domain.references import reference_key
from estate.intake.likeness import NearReferences

_PARTS = re.compile(r"[^\s,;:()\[\]/]+")
_MOST_WORDS = 3


class InstrumentFinder:
    """Finds the register's instruments by the words of sheets.

    Args:
        instruments: of the register.
    """

    def __init__(self, instruments: Iterable[Instrument]) -> None:
        self._by_key = {reference_key(each.reference): each for each in instruments}
        self._near = NearReferences(each.reference for each in self._by_key.values())
        self._found: dict[str, Instrument | None] = {}

    @property
    def keeps_any(self) -> bool:
        """Whether the register keeps instruments at all."""
        return bool(self._by_key)

    def find(self, words: str) -> Instrument | None:
        """The instrument whose reference the words are, or the only one whose reference is among them."""
        if words not in self._found:
            self._found[words] = self._find(words)
        return self._found[words]

    def _find(self, words: str) -> Instrument | None:
        whole = self._by_key.get(reference_key(words))
        if whole is not None:
            return whole
        parts = _PARTS.findall(words)
        runs = {
            reference_key("".join(parts[start : start + length]))
            for length in range(1, _MOST_WORDS + 1)
            for start in range(len(parts))
        }
        named = [self._by_key[run] for run in runs if run in self._by_key]
        return named[0] if len(named) == 1 else None

    def suggested(self, words: str, on: date) -> tuple[str, ...]:
        """References that may be meant: those written alike, then those in calibration on the day."""
        calibrated = [each.reference for each in self._by_key.values() if each.calibration_on(on)]
        return tuple(dict.fromkeys((*self._near.nearest(words), *calibrated)))[:5]


def lapsed(instrument: Instrument, on: date) -> bool:
    """Whether an instrument whose calibrations are kept had none in force on a day."""
    return bool(instrument.calibrations) and instrument.calibration_on(on) is None
