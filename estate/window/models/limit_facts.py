"""The limits of an outlet and its valve, each with why it is what it is."""

from collections.abc import Iterator, Sequence
from typing import Final

from estate.domain.browsing import OutletPage
from estate.domain.temperature import Scale, told_limit
from estate.window import words
from estate.window.models import explaining
from estate.window.models.explaining import Explained
from estate.window.models.outlet_facts import makers_words
from estate.window.models.visit_fields import FIELDS
from estate.window.translating import said, tr

Limit = tuple[str, str, Explained | None]

_READ: Final = (
    ("hot_c", said("Hot supply")),
    ("cold_c", said("Cold supply")),
    ("cold_isolated.shut_s", said("Cold off: shut after")),
    ("cold_isolated.residual_ml_min", said("Cold off: still flows")),
    ("cold_isolated.max_c", said("Cold off: highest")),
    ("cold_isolated.stabilised_c", said("Cold off: settles at")),
)


def limits_of(page: OutletPage, scale: Scale = Scale.CELSIUS) -> Sequence[Limit]:
    """Limits in force, in the order in which they matter; a limit that nobody published is a blank."""
    return tuple(_limits(page, scale))


def _limits(page: OutletPage, scale: Scale) -> Iterator[Limit]:
    set_why = explaining.of_limit(("mixed.set",), page.set_source)
    ceiling_why = explaining.of_limit(("mixed.ceiling",), page.ceiling_source)
    if page.valve is not None:
        own = page.valve.set_c
        yield tr("Valve set to"), tr("not entered") if own is None else words.celsius(own, scale=scale), None
    yield tr("Set at most"), _limit(page.set_c, scale), set_why
    yield tr("Never above"), _limit(page.ceiling_c, scale), ceiling_why
    units = {field.path: field.unit for field in FIELDS}
    for path, name in _READ:
        if (limit := page.limits.get(path)) is not None:
            yield tr(name), f"{limit.words} {units[path]}", explaining.of_field(path, limit.sources)
    if page.valve is not None:
        yield tr("Maker's figures"), makers_words(page.valve), None
    yield tr("Rule set"), page.rule_set, None


def _limit(highest_c: float | None, scale: Scale) -> str:
    return words.NOTHING if highest_c is None else told_limit(highest_c, scale)
