"""Sentences that know how they were put together, so that the window can tell them in another language.

A phrase is its English words: whoever compares, keeps, sorts or writes it has a str, and a copy of it is a
plain one. Only `Phrase.told` looks behind the words, at the text with its names in braces.
"""

from collections.abc import Callable, Mapping, Sequence

Ask = Callable[[str, int | None], str]
"""Gives a text in another language for the English one, and for the count that goes with it, if any."""


class Phrase(str):
    """A text that is told whole."""

    __slots__ = ()

    def told(self, ask: Ask) -> str:
        """The same in another language; numbers, dates and what people typed stay as they are."""
        return ask(str(self), None)

    def __reduce__(self) -> tuple[type[str], tuple[str]]:
        return str, (str(self),)


class _Filled(Phrase):
    """A text with values in it; `template` is that of many where one of them is counted."""

    __slots__ = ("counted", "one", "template", "values")
    template: str
    values: Mapping[str, object]
    counted: int | None
    one: str

    def told(self, ask: Ask) -> str:
        known = ask(self.template, self.counted)
        if self.counted == 1 and known == self.template:
            known = self.one
        return known.format(**values_told(self.values, ask))


class _Joined(Phrase):
    """Whole texts one after the other."""

    __slots__ = ("between", "parts")
    parts: tuple[str, ...]
    between: str

    def told(self, ask: Ask) -> str:
        return self.between.join(each.told(ask) if isinstance(each, Phrase) else each for each in self.parts)


def values_told(values: Mapping[str, object], ask: Ask) -> Mapping[str, object]:
    """Values to be put in, the phrases among them in another language."""
    if not any(isinstance(each, Phrase) for each in values.values()):
        return values
    return {name: each.told(ask) if isinstance(each, Phrase) else each for name, each in values.items()}


def phrase(text: str, /, **values: object) -> Phrase:
    """A text to be told in any language.

    Args:
        text: in English, with names in braces for what is put in, such as ``Due by {day}.``; without values
            it stands as it is.
        values: what is put in, by name; a phrase among them is told in that language too.
    """
    return _filled(text, text, None, values) if values else Phrase(text)


def phrase_count(n: int, one: str, many: str, /, **values: object) -> Phrase:
    """A text with a count in it, told in the form that a language has for that count.

    Args:
        n: the count, put in at ``{n:,}``.
        one: in English for a count of 1.
        many: in English for any other count; a catalogue has its forms under it.
        values: what else is put in, by name.
    """
    return _filled(one if n == 1 else many, many, n, {"n": n, **values}, one)


def together(*parts: str, between: str = " ") -> Phrase:
    """Texts one after the other, each told for itself; an empty one is left out."""
    held = tuple(each for each in parts if each)
    made = _Joined(between.join(held))
    made.parts, made.between = held, between
    return made


def some_of(found: Sequence[str], most: int) -> Phrase:
    """The first of several texts, each told for itself, and how many more there are."""
    said = together(*found[:most], between="; ")
    return phrase("{said}; and {more} more", said=said, more=len(found) - most) if found[most:] else said


def _filled(
    english: str, template: str, counted: int | None, values: Mapping[str, object], one: str = ""
) -> Phrase:
    made = _Filled(english.format(**values))
    made.template, made.values, made.counted, made.one = template, values, counted, one
    return made
