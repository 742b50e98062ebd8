"""Whether a formula of an old workbook can give a text at all, by the last of its tokens.

The tokens are those of [MS-XLS], in the order in which they are worked out: the last one gives the result.
"""

_BRACKET = b"\x15"
_ARITHMETIC = frozenset({0x03, 0x04, 0x05, 0x06, 0x07, 0x12, 0x13, 0x14})
"""Plus, minus, times, divided by, to the power of, signs, per cent."""

_SUM = b"\x19\x10"
_FUNCTIONS = frozenset({0x21, 0x41, 0x61})
_OPEN_FUNCTIONS = frozenset({0x22, 0x42, 0x62})
_NUMERIC = frozenset({0, 4, 5, 6, 7, 24, 25, 27, 169, 183, 227})
"""COUNT, SUM, AVERAGE, MIN, MAX, ABS, INT, ROUND, COUNTA, PRODUCT, MEDIAN."""


def gives_a_number(tokens: bytes) -> bool:
    """Whether a formula always gives a number or an error."""
    tokens = tokens.rstrip(_BRACKET)
    if not tokens:
        return False
    function = int.from_bytes(tokens[-2:], "little")
    named = tokens[-3:-2] and tokens[-3] in _FUNCTIONS and function in _NUMERIC
    open_ended = len(tokens) > 3 and tokens[-4] in _OPEN_FUNCTIONS and function in _NUMERIC
    return bool(tokens[-1] in _ARITHMETIC or tokens[-4:-2] == _SUM or named or open_ended)
