from io import BytesIO

from reportlab.pdfgen.canvas import Canvas

from estate.reports.document import Mark
from estate.reports.pdf.shapes import SHAPE_SIZE, draw_shape


def drawn(mark: Mark) -> bytes:
    """What a mark puts on an empty page, colours left out."""
    paper = BytesIO()
    canvas = Canvas(paper, pageCompression=0, invariant=1)
    draw_shape(canvas, mark, 100, 100)
    canvas.save()
    begin = paper.getvalue().index(b"stream\n")
    lines = paper.getvalue()[begin : paper.getvalue().index(b"endstream", begin)].split(b"\n")
    return b"\n".join(line for line in lines if not line.lower().endswith(b" rg"))


def test_that_every_mark_has_a_shape_of_its_own_without_colour() -> None:
    assert len({drawn(mark) for mark in Mark}) == len(Mark)


def test_that_a_shape_is_no_taller_than_the_words_beside_it() -> None:
    assert SHAPE_SIZE < 8.4
