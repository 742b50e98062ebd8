import re
from pathlib import Path

import pytest
from pypdf import PageObject, PdfReader

from estate.domain.compliance import summarise
from estate.domain.findings import Verdict
from estate.domain.progress import Cancelled
from estate.domain.windows import Reason
from estate.reports import pdf
from estate.reports.content import overdue, summary
from tests.reports.builders import TODAY, as_at, estate, line, path


@pytest.fixture
def target(tmp_path: Path) -> Path:
    return tmp_path / "list.pdf"


def pages(file: Path) -> list[PageObject]:
    return list(PdfReader(file).pages)


def texts(file: Path) -> list[str]:
    return [page.extract_text() for page in pages(file)]


def together(file: Path) -> str:
    return " ".join(" ".join(texts(file)).split())


def test_that_every_line_of_five_thousand_is_on_paper_once_and_in_order(target: Path) -> None:
    lines = estate(5000)
    pdf.write(overdue(lines, as_at()), target)
    found = [ref for text in texts(target) for ref in sorted(re.findall(r"MC/\d/R\d{4}/WHB1", text))]
    assert found == [each.ref for each in lines]


def test_that_every_page_knows_its_number_and_of_how_many(target: Path) -> None:
    pdf.write(overdue(estate(120), as_at()), target)
    read = texts(target)
    assert len(read) > 3
    for number, text in enumerate(read, start=1):
        assert f"page {number} of {len(read)}" in text


def test_that_every_page_names_register_day_and_columns(target: Path) -> None:
    pdf.write(overdue(estate(120), as_at()), target)
    for text in texts(target):
        for words in (
            "Marlpit Cross Community Hospital",
            "as at 25 Nov 2026",
            "mcch-7f3a",
            "uk-healthcare 2026-1",
        ):
            assert words in text
        for heading in ("Outlet reference", "Test due by", "Last verdict", "Reason for the date", "Source"):
            assert heading in text


def test_that_a_level_that_runs_on_says_so_on_the_next_page(target: Path) -> None:
    lines = [line(f"R{n:03d}", where=path(number=f"G{n}")) for n in range(60)]
    pdf.write(overdue(lines, as_at()), target)
    first, *others = texts(target)
    assert "Marlpit Cross · Main Building · Ground" in first
    assert "continued" not in first
    assert all("continued" in text and "Main Building · Ground" in text for text in others)


def test_that_a_heading_is_never_the_last_thing_on_a_page(target: Path) -> None:
    lines = [line(f"R{n:03d}", where=path(building=f"Block {n // 2}", number=f"G{n}")) for n in range(90)]
    pdf.write(overdue(lines, as_at()), target)
    for text in texts(target):
        assert text.rfind("Marlpit Cross · Block") < text.rfind("D08-80")


def test_that_nothing_is_drawn_off_the_page(target: Path) -> None:
    long = "Regional rehabilitation and convalescence " * 12
    lines = [
        line(
            "X" * 300,
            where=path(building=long, level=long, number="Q" * 90, room=long, outlet=long),
            valve=long * 3,
        ),
        line("B", reason=Reason("x", long * 2, long * 2), also_serves=tuple(f"MC/{n}" for n in range(200))),
    ]
    pdf.write(overdue(lines, as_at(name=long)), target)
    for page in pages(target):
        assert_inside(page)


def assert_inside(page: PageObject) -> None:
    feet: list[tuple[float, float]] = []

    def visit(text: str, cm: list[float], tm: list[float], font: object, size: float) -> None:
        if text.strip():
            feet.append((tm[4], tm[5]))

    page.extract_text(visitor_text=visit)
    assert feet
    assert all(20 < x < page.mediabox.width - 20 for x, _ in feet)
    assert all(20 < y < page.mediabox.height - 20 for _, y in feet)


def test_that_a_row_taller_than_a_page_goes_on_without_loss(target: Path) -> None:
    words = " ".join(f"word{n}" for n in range(1500))
    pdf.write(overdue([line("A", valve=words)], as_at()), target)
    assert re.findall(r"word\d+", together(target)) == words.split()
    assert len(pages(target)) > 2


@pytest.mark.parametrize(
    "name", ["Łódź żółć ćmę", "Ωμέγα νερό", "Śliwa Čapek Ørsted Ágnes İzmir", "Вода", "25 ≤ 43 °C ± ½"]
)
def test_that_names_of_europe_come_out_as_written(target: Path, name: str) -> None:
    pdf.write(overdue([line("A", where=path(room=name))], as_at(name=name)), target)
    assert together(target).count(name) >= 2


def test_that_a_character_the_typeface_lacks_is_shown_as_missing_not_dropped(target: Path) -> None:
    pdf.write(overdue([line("A", where=path(room="水 room"))], as_at()), target)
    assert "\N{REPLACEMENT CHARACTER} room" in together(target)


def test_that_the_same_report_gives_the_same_bytes(tmp_path: Path) -> None:
    first, second = tmp_path / "one.pdf", tmp_path / "two.pdf"
    for file in (first, second):
        pdf.write(overdue(estate(200), as_at()), file)
    assert first.read_bytes() == second.read_bytes()


def test_that_the_file_tells_its_title_and_language(target: Path) -> None:
    pdf.write(overdue(estate(20), as_at()), target)
    reader = PdfReader(target)
    assert reader.metadata is not None
    assert (
        reader.metadata.title
        == "Overdue tests of thermostatic mixing valves: Marlpit Cross Community Hospital"
    )
    assert str(reader.root_object["/Lang"]) == "en-GB"


def test_that_the_outline_leads_to_each_level(target: Path) -> None:
    pdf.write(overdue(estate(40), as_at()), target)
    reader = PdfReader(target)
    section, levels = reader.outline
    assert not isinstance(section, list)
    assert isinstance(levels, list)
    assert len(levels) == 10


def test_that_an_empty_list_is_one_page_that_says_so(target: Path) -> None:
    pdf.write(overdue([line("A", -5)], as_at()), target)
    (text,) = texts(target)
    assert "Nothing is overdue" in text
    assert "page 1 of 1" in text
    assert "Scald" in text


def test_that_the_summary_prints_every_count_beside_its_bar(target: Path) -> None:
    compliance = summarise(estate(300, days_late=[-30, -5, -50, 3, -70, 40, -3, -12]), TODAY)
    pdf.write(summary(compliance, as_at()), target)
    read = together(target)
    assert "30 Nov 2026 38" in read
    assert "14 Dec 2026 0" in read
    for title in (
        "by site and building",
        "Overdue, by how late",
        "Coming 12 weeks",
        "Rule sets in force",
        "own values",
    ):
        assert title in read


def test_that_a_state_is_told_by_a_word_and_by_a_shape(target: Path) -> None:
    verdicts: list[Verdict | None] = [*Verdict, None]
    lines = [line(f"R{n}", verdict=verdict) for n, verdict in enumerate(verdicts)]
    pdf.write(overdue(lines, as_at()), target)
    read = together(target)
    for verdict in Verdict:
        assert verdict.value in read
    assert "never tested" in read


def test_that_stopping_leaves_the_old_report_and_nothing_else(target: Path) -> None:
    target.write_bytes(b"old")

    def stop(done: int, of: int, words: str) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        pdf.write(overdue(estate(3), as_at()), target, stop)
    assert target.read_bytes() == b"old"
    assert list(target.parent.iterdir()) == [target]


def test_that_progress_is_told_page_by_page(target: Path) -> None:
    told: list[tuple[int, int, str]] = []
    pdf.write(overdue(estate(60), as_at()), target, lambda *each: told.append(each))
    count = len(pages(target))
    assert told == [(number, count, "pages") for number in range(1, count + 1)]
