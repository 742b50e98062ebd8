from estate.domain.findings import Verdict
from estate.reports.content import overdue
from estate.reports.document import Document, Marked, Table
from tests.reports.builders import TODAY, as_at, estate, line, path


def table_of(document: Document) -> Table:
    (table,) = [section.table for section in document.sections if section.table is not None]
    return table


def refs(document: Document) -> list[object]:
    return [row.cells[0] for group in table_of(document).groups for row in group.rows]


def facts(document: Document) -> dict[str, str]:
    return {fact.label: fact.words for fact in document.facts}


def test_that_only_valves_past_their_window_are_listed() -> None:
    document = overdue([line("A", 1), line("B", 0), line("C", -3), line("D", 400)], as_at())
    assert refs(document) == ["A", "D"]
    assert facts(document)["Overdue"] == "2 of 4 valves (50.0 %)"


def test_that_lines_come_in_walking_order_whatever_order_they_arrive_in() -> None:
    lines = [
        line("roof", where=path(level="2", number="2.01")),
        line("late room", where=path(level="Ground", number="G10")),
        line("cellar", where=path(level="Basement", number="B1")),
        line("early room", where=path(level="Ground", number="G2")),
        line("annexe", where=path(building="Annexe", level="1")),
    ]
    document = overdue(lines, as_at())
    assert refs(document) == ["annexe", "cellar", "early room", "late room", "roof"]
    assert [group.path for group in table_of(document).groups] == [
        ("Marlpit Cross", "Annexe", "1"),
        ("Marlpit Cross", "Main Building", "Basement"),
        ("Marlpit Cross", "Main Building", "Ground"),
        ("Marlpit Cross", "Main Building", "2"),
    ]


def test_that_a_line_says_where_how_late_and_why() -> None:
    late = line(
        "MC/G/G02/WHB1", 10, verdict=Verdict.PUT_RIGHT, also_serves=("MC/G/G03/WHB1", "MC/G/G04/WHB1")
    )
    table = table_of(overdue([late], as_at()))
    said = dict(zip([column.title for column in table.columns], table.groups[0].rows[0].cells, strict=True))
    assert said["Also serves"] == "MC/G/G03/WHB1, MC/G/G04/WHB1"
    assert (said["Room"], said["Outlet"], said["Valve"]) == ("G02 Bedroom", "basin", "Corvane TH3 S-10021")
    assert said["Users"] == "patients"
    assert (said["Late"], said["Test due by"], said["Last visit"]) == (
        10,
        late.window.not_after,
        late.last_visit,
    )
    assert (str(said["State"]), str(said["Last verdict"])) == ("put right", "put right")
    assert said["Reason for the date"] == "first test after commissioning on 2 Mar 2026: 6 to 8 weeks"
    assert str(said["Source"]).startswith("D08-80")


def test_that_a_never_tested_valve_has_no_last_visit_and_says_so() -> None:
    row = table_of(overdue([line(verdict=None)], as_at())).groups[0].rows[0]
    assert [cell.words for cell in row.cells if isinstance(cell, Marked)] == ["never tested", "never tested"]
    assert row.cells[8] is None


def test_that_the_parts_add_up_to_what_is_overdue() -> None:
    document = overdue(estate(70), as_at())
    numbers = [int(part.split()[0]) for part in facts(document)["Of these"].split(", ")]
    assert sum(numbers) == 70
    assert numbers == [10, 10, 10, 10, 30]


def test_that_failures_left_off_the_list_are_counted() -> None:
    lines = [
        line("A", 5),
        line("B", -5, verdict=Verdict.OUT_OF_USE),
        line("C", -5, verdict=Verdict.PUT_RIGHT),
    ]
    assert facts(overdue(lines, as_at()))["Failed, not listed here"].startswith("2 valves")


def test_that_the_heading_names_register_day_and_rule_sets() -> None:
    said = facts(overdue(estate(3), as_at()))
    assert said["As at"] == "25 Nov 2026"
    assert said["Register"] == "Marlpit Cross Community Hospital (mcch-7f3a)"
    assert "uk-healthcare, edition 2026-1" in said["Rule sets"]
    assert overdue(estate(3), as_at()).as_at == TODAY


def test_that_an_empty_list_says_what_it_means_and_what_it_does_not() -> None:
    document = overdue([line("A", -1), line("B", 0)], as_at())
    (section,) = document.sections
    words = " ".join(section.words)
    assert section.title == "Nothing is overdue"
    assert section.table is None
    assert "2 valves" in words
    assert "25 Nov 2026" in words
    assert "does not mean that every valve works" in words


def test_that_a_register_without_valves_is_no_assurance() -> None:
    document = overdue([], as_at())
    assert document.sections[0].title == "No valve in the register"
    assert "no assurance" in " ".join(document.sections[0].words)
    assert facts(document)["Overdue"] == "0 of 0 valves"


def test_that_an_empty_list_and_a_full_one_carry_the_cautions() -> None:
    assert len(overdue([], as_at()).cautions) == len(overdue(estate(3), as_at()).cautions) == 4
