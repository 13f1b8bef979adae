"""What a PDF file holds, read back by pypdf: lines, words, settings. Places in millimeters from the top left corner."""

import io

from pypdf import PdfReader
from pypdf.generic import ContentStream

POINT = 25.4 / 72
"""A PDF's unit is 1/72 in (ISO 32000-1, 8.3.2.3, from memory)."""


def pages(made):
    return PdfReader(io.BytesIO(made)).pages


def words(made):
    """All text of every page, one text a page."""
    return [page.extract_text() for page in pages(made)]


def rings(page):
    """Outlines that are drawn (not clips), as tuples of points."""
    height = float(page.mediabox.height)
    found, current = [], []
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        if operator in (b"m", b"l"):
            x, y = map(float, operands)
            if operator == b"m":
                current = []
                found.append(current)
            current.append((x * POINT, (height - y) * POINT))
        elif operator == b"n":
            current = []
    return [tuple(ring) for ring in found]


def alike(one, other, within=0.01):
    """Whether two rings have the same corners in the same order, to a hundredth of a millimeter."""
    points = list(other)
    if len(points) == len(one) + 1 and points[0] == points[-1]:
        points.pop()
    return len(one) == len(points) and all(
        abs(x - u) <= within and abs(y - v) <= within for (x, y), (u, v) in zip(one, points, strict=True)
    )
