"""A file is kept for what it holds, whatever its name says; what runs or hides something is refused."""

from datetime import UTC, datetime

import pytest

from estate.domain.document_kinds import kind_of
from estate.domain.documents import Document, MediaType, Owner
from estate.errors import EntryFault
from tests.files import DOCX, HEIC, JPEG, ODS, ODT, PDF, TEXT, TYPES, XLSX, png, zipped

KEPT = {
    "certificate.pdf": (PDF, MediaType.PDF),
    "PLATE.JPG": (JPEG, MediaType.JPEG),
    "plate.jpeg": (JPEG, MediaType.JPEG),
    "sketch.png": (png(2, 2), MediaType.PNG),
    "photo.heic": (HEIC, MediaType.HEIC),
    "notes.txt": (TEXT, MediaType.TEXT),
    "logger.csv": (b"\xef\xbb\xbfat,c\n1,41.2\n", MediaType.TEXT),
    "round.xlsx": (XLSX, MediaType.XLSX),
    "report.docx": (DOCX, MediaType.DOCX),
    "round.ods": (ODS, MediaType.ODS),
    "report.odt": (ODT, MediaType.ODT),
}


@pytest.mark.parametrize("name", sorted(KEPT))
def test_that_a_kind_is_known_by_its_content(name: str) -> None:
    content, kind = KEPT[name]
    assert kind_of(content, name) is kind
    assert kind.words


@pytest.mark.parametrize(
    "content",
    [
        b"MZ\x90\x00",
        b"\x7fELF\x02",
        b"\xcf\xfa\xed\xfe",
        b"#!/bin/sh\nrm x\n",
        b"{\\rtf1 x}",
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1",
        b"PK\x03\x04 broken",
        b"\x00\x01\x02",
        b"GIF89a\x01\x00",
        "Grüße".encode("latin-1"),
        b"a\x1b[2Jb",
        b"a\x7f",
        b"<html><script>x</script>",
        b" <?xml version='1.0'?><svg/>",
        b"%PDF-1.7 /OpenAction << /S /JavaScript /JS (x) >>",
        b"%PDF-1.7 << /S /Launch >>",
        b"%PDF-1.7 << /EmbeddedFile >>",
    ],
)
@pytest.mark.parametrize("name", ["a.pdf", "a.txt", "a.xlsx"])
def test_that_what_runs_or_is_of_no_kept_kind_is_refused_under_any_name(content: bytes, name: str) -> None:
    with pytest.raises(EntryFault, match="The file is not kept") as caught:
        kind_of(content, name)
    assert "nothing was kept" in caught.value.remedy
    assert name in caught.value.detail


@pytest.mark.parametrize("name", ["certificate.exe", "certificate.pdf.exe", "certificate", "plate.jpg"])
def test_that_a_name_that_does_not_go_with_the_content_is_refused(name: str) -> None:
    with pytest.raises(EntryFault, match="Name and content of the file differ") as caught:
        kind_of(PDF, name)
    assert ".pdf" in caught.value.detail


def test_that_an_empty_file_is_refused() -> None:
    with pytest.raises(EntryFault, match="The file is empty"):
        kind_of(b"", "a.txt")


RELATION = '<Relationship Type="http://x/relationships/{}" Target="{}" TargetMode="{}"/>'
BOOK, TEXT_PART = {"xl/workbook.xml": "<x/>"}, {"word/document.xml": "<x/>"}
REFUSED = {
    "macros": {TYPES: "<Types/>", **BOOK, "xl/vbaProject.bin": "x"},
    "macros or": {TYPES: "<Types ContentType='application/x.sheet.macroEnabled.main+xml'/>", **BOOK},
    "macros or other": {"mimetype": MediaType.ODS.value, "Basic/Standard/Module1.xml": "x"},
    "carries other files": {TYPES: "<Types/>", **TEXT_PART, "word/embeddings/oleObject1.bin": "x"},
    "from elsewhere": {
        TYPES: "<Types/>",
        **TEXT_PART,
        "word/_rels/settings.xml.rels": RELATION.format("attachedTemplate", "http://x/t.dotm", "External"),
    },
    "an open document of another kind": {"mimetype": "application/vnd.oasis.opendocument.graphics"},
    "a container of other files": {"readme.txt": "x"},
    "an office document of another kind": {TYPES: "<Types/>", "ppt/presentation.xml": "x"},
    "an office document of another": {TYPES: "<Types/>", **BOOK, **TEXT_PART},
    "a damaged or locked container": {TYPES: "x" * 1_000_001, **BOOK},
    "more parts than": {f"{number}.xml": "" for number in range(5001)},
}


@pytest.mark.parametrize("why", REFUSED)
def test_that_a_container_is_refused_for_what_it_carries(why: str) -> None:
    with pytest.raises(EntryFault, match="The file is not kept") as caught:
        kind_of(zipped(REFUSED[why]), "round.xlsx")
    assert why in caught.value.detail


def test_that_a_link_to_click_on_and_a_picture_of_its_own_are_no_reason() -> None:
    links = RELATION.format("hyperlink", "http://x/", "External") + RELATION.format(
        "frame", "f.xml", "Internal"
    )
    parts = {TYPES: "<Types/>", **TEXT_PART, "word/_rels/document.xml.rels": links, "word/media/1.png": "x"}
    assert kind_of(zipped(parts), "report.docx") is MediaType.DOCX


def test_that_only_what_a_window_can_show_small_is_a_picture() -> None:
    assert [each for each in MediaType if each.is_picture] == [MediaType.PNG, MediaType.JPEG]


@pytest.mark.parametrize(
    ("size_bytes", "words"), [(999, "999 bytes"), (1000, "1 kB"), (999_949, "1000 kB"), (999_950, "1.0 MB")]
)
def test_that_a_size_is_told_in_the_unit_that_fits(size_bytes: int, words: str) -> None:
    at = datetime(2026, 11, 25, tzinfo=UTC)
    made = Document(1, Owner("outlet", 1), "a.pdf", MediaType.PDF, size_bytes, "", at, "", "")
    assert made.size_words == words
