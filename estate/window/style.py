"""The style sheet in the colours of a scheme."""

import re

from estate.window.shades import Shades, Tone


def style_sheet(template: str, shades: Shades) -> str:
    """Fill the ``@name@`` places of a style sheet with colours.

    Raises:
        KeyError: a name that is no colour of the scheme.
    """
    colours = {
        name: value for name, value in vars(shades).items() if isinstance(value, str) and name != "name"
    }
    colours |= {tone.value: shades.tones[tone] for tone in Tone}
    return re.sub(r"@(\w+)@", lambda found: colours[found.group(1)], template)
