"""The style sheet in the colours of a scheme and at the size of the text."""

import re
from typing import Final

from estate.window.shades import Shades, Tone

_COLOUR: Final = re.compile(r"@([a-z_]+)@")
_WHITE: Final = "#ffffff"
_LENGTH: Final = re.compile(r"@(\d+(?:\.\d+)?)(?:-(\d+))?(px|pt)@")


def style_sheet(template: str, shades: Shades, growth: float = 1.0) -> str:
    """Fill the places of a style sheet.

    ``@name@`` is a colour of the scheme. ``@14px@`` is a length that grows with the text; ``@14-1px@`` is
    one less, where a border that appears takes that room. ``@20pt@`` is a size of text. ``@ticked@`` is the
    tick that shows on the accent.

    Args:
        growth: how many times its natural size text has.

    Raises:
        KeyError: a name that is no colour of the scheme.
    """
    colours = {
        name: value for name, value in vars(shades).items() if isinstance(value, str) and name != "name"
    }
    colours |= {tone.value: shades.tones[tone] for tone in Tone}
    colours["ticked"] = "light" if shades.on_accent == _WHITE else "dark"
    coloured = _COLOUR.sub(lambda found: colours[found.group(1)], template)
    return _LENGTH.sub(lambda found: _length(found, growth), coloured)


def _length(found: re.Match[str], growth: float) -> str:
    said, less, unit = found.groups()
    if unit == "pt":
        return f"{float(said) * growth:.2f}pt"
    return f"{round(float(said) * growth) - int(less or 0)}px"
