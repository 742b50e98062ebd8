"""Catalogues of words in other languages: one TOML file a language, checked whole before any of it is shown.

A catalogue holds ``plural``, the way in which its language counts (see `PLURALS`), and ``[words]``: English
texts as they stand in the program, each with its translation; of a text with ``{n}`` a list of forms, in the
order of the way; of one that goes with a count told beside it, a list too. What stands in braces is put in by
the program and must stand in the translation too.
"""

import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from string import Formatter
from typing import Any, Final

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QObject, QTranslator
from typing_extensions import override

from estate.errors import KnownFault
from estate.window.translating import tr

Words = Mapping[str, tuple[str, ...]]
COUNT: Final = "n"


def _few(n: int) -> bool:
    return 2 <= n % 10 <= 4 and not 12 <= n % 100 <= 14


def _welsh(n: int) -> int:
    return {0: 0, 1: 1, 2: 2, 3: 3, 6: 4}.get(n, 5)


PLURALS: Final[Mapping[str, tuple[int, Callable[[int], int]]]] = {
    "never changes": (1, lambda n: 0),
    "one, other": (2, lambda n: int(n != 1)),
    "none and one, other": (2, lambda n: int(n > 1)),
    "one, few, other": (3, lambda n: 0 if n == 1 else 1 if 2 <= n <= 4 else 2),
    "one, few, many": (3, lambda n: 0 if n == 1 else 1 if _few(n) else 2),
    "ending in one, few, many": (3, lambda n: 0 if n % 10 == 1 and n % 100 != 11 else 1 if _few(n) else 2),
    "none, one, two, three, six, other": (6, _welsh),
}
"""Ways to count whole things: how many forms, and which one (Unicode CLDR, cardinal plural rules)."""


class Catalogue(QTranslator):
    """The window's words in one language.

    Args:
        words: forms by English text; a text that is not there stays English.
        form: which form stands for a count.
    """

    def __init__(self, words: Words, form: Callable[[int], int], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._words, self._form = words, form

    @override
    def isEmpty(self) -> bool:
        return not self._words

    @override
    def translate(
        self, context: str, source_text: str, disambiguation: str | None = None, n: int = -1
    ) -> str | None:
        forms = self._words.get(source_text)
        if forms is None:
            return None
        return forms[0] if len(forms) == 1 else forms[self._form(max(n, 0))]


def read_catalogue(path: Path) -> Catalogue:
    """Read and check a catalogue.

    Raises:
        KnownFault: it can't be read, or a translation does not fit its text.
    """
    try:
        held = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise _fault(path, f"{error}") from error
    way = held.get("plural", "one, other")
    if way not in PLURALS:
        raise _fault(path, tr("plural is “{way}”; it is one of: {ways}.", way=way, ways="; ".join(PLURALS)))
    count, form = PLURALS[way]
    words = held.get("words")
    if not isinstance(words, dict):
        raise _fault(path, tr("it has no [words]."))
    return Catalogue({text: _forms(path, text, told, count) for text, told in words.items()}, form)


def _forms(path: Path, text: str, told: Any, count: int) -> tuple[str, ...]:
    forms = tuple(told) if isinstance(told, list) else (told,)
    if not all(isinstance(each, str) and each.strip() for each in forms):
        raise _fault(path, tr("“{text}” is translated by nothing.", text=text))
    try:
        wanted, *found = (names_in(each) for each in (text, *forms))
    except ValueError as error:
        raise _fault(path, f"“{text}”: {error}.") from error
    if len(forms) not in ({count} if COUNT in wanted else {1, count}):
        several = tr(
            "“{text}” has {forms} forms; this language has {count} for what counts.",
            text=text,
            forms=len(forms),
            count=count,
        )
        raise _fault(path, several)
    if any(each - {COUNT} != wanted - {COUNT} for each in found):
        raise _fault(
            path, tr("“{text}”: what stands in braces is not the same in its translation.", text=text)
        )
    return forms


def names_in(text: str) -> frozenset[str]:
    """The names in braces of a text.

    Raises:
        ValueError: a brace is not closed.
    """
    return frozenset(name for _, name, _, _ in Formatter().parse(text) if name is not None)


def _fault(path: Path, what: str) -> KnownFault:
    return KnownFault(
        tr("The words of this language can't be used"),
        f"{path}: {what}",
        tr("Mend the catalogue, or take it away: until then the window speaks English."),
    )


def speak(application: QCoreApplication, folder: Path, locale: str) -> Catalogue | None:
    """Let the window speak the person's language, if there is a catalogue of it.

    Args:
        folder: where catalogues lie, named such as ``de_AT.toml`` or ``de.toml``.
        locale: of the person, such as ``de_AT``.

    Raises:
        KnownFault: the catalogue can't be used.
    """
    places = (folder / f"{name}.toml" for name in (locale, locale.partition("_")[0]))
    place = next((each for each in places if each.is_file()), None)
    if place is None:
        return None
    catalogue = read_catalogue(place)
    catalogue.setParent(application)
    platform = QTranslator(application)
    if platform.load(f"qtbase_{place.stem}", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)):
        application.installTranslator(platform)
    application.installTranslator(catalogue)
    return catalogue


def unspoken(application: QCoreApplication, folder: Path) -> KnownFault | None:
    """Let the window speak the system's language, if there is a catalogue of it.

    Returns:
        Why it can't; None where it does, or where English is all there is.
    """
    try:
        speak(application, folder, QLocale.system().name())
    except KnownFault as fault:
        return fault
    return None
