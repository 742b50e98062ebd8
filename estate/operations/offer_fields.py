"""What the columns of a sheet can be taken for, and in which units."""

from estate.domain.layouts import FieldOffer, SheetKind
from estate.intake.words_file import load


def offer_fields(kind: SheetKind) -> tuple[FieldOffer, ...]:
    """Every field of a kind of sheet, in the order of the words file.

    Raises:
        IntakeFault: the words file is damaged.
    """
    words = load()
    return tuple(
        FieldOffer(
            each.name,
            tuple(unit.name for unit in words.units if each.dimension and each.dimension in unit.dimensions),
        )
        for each in words.fields[kind]
    )
