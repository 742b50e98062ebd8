"""How colours look to eyes that lack one kind of cone.

Matrices: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A Physiologically-based Model for Simulation of
Color Vision Deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (6), 2009, severity 1.0;
they work on linear RGB. Differences: CIE 1976 L*a*b*, white D65 (CIE 15).
"""

from collections.abc import Mapping
from math import dist
from typing import Final

from PySide6.QtGui import QColor

Vector = tuple[float, float, float]
Matrix = tuple[Vector, Vector, Vector]

SIGHTS: Final[Mapping[str, Matrix]] = {
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
_TO_XYZ: Final[Matrix] = (
    (0.4124564, 0.3575761, 0.1804375),
    (0.2126729, 0.7151522, 0.0721750),
    (0.0193339, 0.1191920, 0.9503041),
)
_WHITE: Final[Vector] = (0.95047, 1.0, 1.08883)


def seen(colour: QColor, sight: str) -> Vector:
    """A colour's L*a*b* as such eyes see it; `sight` is one of `SIGHTS`, or ``full``."""
    linear = _linear(colour)
    return _lab(_held(_times(SIGHTS[sight], linear)) if sight in SIGHTS else linear)


def apart(one: QColor, other: QColor, sight: str = "full") -> float:
    """How far two colours are apart for such eyes (CIE 1976); about 2 can just be told beside each other."""
    return dist(seen(one, sight), seen(other, sight))


def _linear(colour: QColor) -> Vector:
    red, green, blue = (_part(each) for each in (colour.redF(), colour.greenF(), colour.blueF()))
    return red, green, blue


def _part(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)


def _times(matrix: Matrix, vector: Vector) -> Vector:
    one, two, three = (sum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix)
    return one, two, three


def _held(linear: Vector) -> Vector:
    """What a screen can show of it."""
    red, green, blue = (min(1.0, max(0.0, part)) for part in linear)
    return red, green, blue


def _lab(linear: Vector) -> Vector:
    x, y, z = (_root(part / white) for part, white in zip(_times(_TO_XYZ, linear), _WHITE, strict=True))
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def _root(part: float) -> float:
    return float(part ** (1 / 3)) if part > (6 / 29) ** 3 else part / (3 * (6 / 29) ** 2) + 4 / 29
