"""Every manner by name."""

from collections.abc import Callable, Mapping

from tests.intake.manners import cells, days, naming, rows, shapes, slips, tongues
from tests.intake.manners.paper import Sheet
from tests.intake.manners.scene import Scene, scene

MANNERS: Mapping[str, Callable[[Scene], Sheet]] = {
    make.__name__.replace("_", " "): make
    for make in (
        rows.plain, rows.titled, rows.by_building, rows.printed_pages, rows.totals_and_hidden,
        rows.two_beside,
        rows.stacked, rows.with_previous, rows.several_visits, rows.date_in_head, rows.full_sheet,
        rows.commissioning,
        rows.half_filled,
        tongues.german, tongues.french, tongues.fahrenheit_told, tongues.fahrenheit_in_title,
        tongues.fahrenheit_untold, tongues.fahrenheit_here_and_there, tongues.open_document,
        tongues.delimited,
        tongues.serial_days,
        shapes.cards_down, shapes.cards_beside, shapes.card_a_page, shapes.visits_across, shapes.days_across,
        shapes.months_across, shapes.measures_down, shapes.gap_in_card,
        cells.units_in_cells, cells.as_left_same, cells.ditto, cells.below_a_limit, cells.pass_or_fail,
        cells.formulas, cells.no_access_in_results, cells.no_access_in_remarks, cells.not_all_measured,
        cells.numbers_as_text,
        days.day_first, days.month_first, days.unprovable, days.proved_by_today, days.contradicting,
        days.half_converted, days.mixed_ways, days.date_slips, days.far_apart,
        naming.mangled, naming.wrong_references, naming.unknown_references, naming.place_words,
        naming.place_in_one,
        naming.place_unsure, naming.room_twice, naming.duplicates,
        slips.decimal_slips, slips.swapped_supplies, slips.contradictions, slips.other_measure,
        slips.bare_headings,
    )
}  # fmt: skip


def made(manner: str, seed: int) -> Sheet:
    """The sheet of a manner and a seed, with its truth."""
    return MANNERS[manner](scene(manner, seed))
