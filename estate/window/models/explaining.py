"""Why a limit is what it is: what it means in words of our own, where it comes from, what can hurt."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from estate import assets
from estate.domain.rules.values import NOT_VERIFIED, RuleValue
from estate.window.translating import said, tr

_OWN: Final = "site's own value"
_CAN_REPLACE: Final = said(
    "The site can use its own value instead: Rules in force, “Use the site's own "
    "value…”. Who did it, when and why is kept."
)
_REPLACED: Final = said("The site uses its own value here; who chose it and why stands beside it.")
_DOUBTFUL: Final = said("Nobody has checked this number in the source itself.")


@dataclass(frozen=True, slots=True)
class Explained:
    """What is said of a limit or of a date.

    Attributes:
        means: in words of our own, a paragraph each.
        sources: where the numbers come from, or who chose them.
        standing: whether it was verified, and whether the site has or can have its own value.
        caution: what can hurt; empty where nothing can.
    """

    means: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    standing: str = ""
    caution: str = ""

    @property
    def words(self) -> str:
        """All of it, for a tooltip and for screen readers."""
        return "\n".join(part for part in (*self.means, *self.sources, self.standing, self.caution) if part)


def of_field(path: str, sources: Sequence[str]) -> Explained:
    """Explain what a measured value is held against.

    Args:
        path: of the reading, such as ``cold_isolated.max_c``.
        sources: of each number, as the rule set shows them.
    """
    return _explained(_help()["fields"].get(path, ()), sources)


def of_limit(keys: Sequence[str], source: str) -> Explained:
    """Explain a limit by the keys that give it; without a source nobody published any."""
    return _explained(keys, (source,) if source else ())


def of_value(value: RuleValue) -> Explained:
    """Explain a value of a rule set."""
    return _explained((value.key,), (value.shown_source,))


def of_reason(code: str, source: str, would_change: Sequence[str] = ()) -> Explained:
    """Explain why a date is what it is.

    Args:
        code: of the reason that binds.
        source: where its rule comes from.
        would_change: what would move the date, in words.
    """
    found = _longest("reasons", code)
    sources = (source,) if source else ()
    return Explained(_means([found]), sources, " ".join(map(tr, would_change)), _caution([found]))


def _explained(keys: Sequence[str], sources: Sequence[str]) -> Explained:
    found = [_longest("limits", key) for key in keys]
    told = tuple(sources)
    return Explained(_means(found), told, " ".join(_standing(told)), _caution(found))


def _standing(sources: Sequence[str]) -> Sequence[str]:
    doubt = [tr(_DOUBTFUL)] if any(NOT_VERIFIED in each for each in sources) else []
    own = any(_OWN in each for each in sources)
    return [*doubt, tr(_REPLACED) if own else tr(_CAN_REPLACE)]


def _means(found: Sequence[Mapping[str, str]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(tr(each["means"]) for each in found if each))


def _caution(found: Sequence[Mapping[str, str]]) -> str:
    named = dict.fromkeys(each["caution"] for each in found if "caution" in each)
    return " ".join(tr(_help()["cautions"][name]) for name in named)


def _longest(part: str, name: str) -> Mapping[str, str]:
    """The entry with the longest name that another begins with."""
    known: Mapping[str, Mapping[str, str]] = _help()[part]
    fitting = [each for each in known if name == each or name.startswith((f"{each}.", f"{each}-"))]
    return known[max(fitting, key=len)] if fitting else {}


@cache
def _help() -> dict[str, Any]:
    where = assets.resource("help", "limits.toml")
    return tomllib.loads(where.read_text(encoding="utf-8"))
