"""Words that a spreadsheet program could run, made harmless without losing a character of them."""

import re

# One class, so that no text can be matched in two ways and none takes long.
_BLANK = (
    r"[\x00-\x08\x0b\x0c\x0e-\x20\x7f-\xa0\xad\u061c\u1680\u180e\u2000-\u200f\u2028-\u202f\u205f-\u206f"
    r"\u3000\ufeff\ufff9-\ufffb]"
)
_SIGN = rf"{_BLANK}*[=+\-@＝＋－＠﹦﹢﹣﹫⁼⁺⁻₌₊₋−]"
_BEGINS = re.compile(rf"{_SIGN}|{_BLANK}*[\t\r\n]")
_START = rf"'*(?:{_SIGN}|{_BLANK}*[\t\r\n])"
_WITHIN = rf"'*{_SIGN}"
_PLACES = re.compile(rf"\A(?={_START})|(?<=[;\t\r\n])(?={_WITHIN})")
_MARKED = re.compile(rf"\A'(?={_START})|(?<=[;\t\r\n])'(?={_WITHIN})")


def begins_like_a_formula(text: str) -> bool:
    """Whether a program could take a text for a formula: by its first sign, or one that looks like it.

    White space and characters that nobody sees do not hide the sign.
    """
    return _BEGINS.match(text) is not None


def neutral(text: str) -> str:
    """A text for a file of delimited text, which has no way to say that a cell is text.

    An apostrophe is put before each beginning that could be taken for a formula: at the start of the text,
    and after a semicolon, tab or line break in it, where a program that takes another delimiter would begin
    a cell. Apostrophes that already stand there get one more, so that `as_it_was` gives the text back.
    """
    return _PLACES.sub("'", text)


def as_it_was(text: str) -> str:
    """The text that `neutral` was given."""
    return _MARKED.sub("", text)
