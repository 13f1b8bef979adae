"""Drawings of outlines that are spoiled, endless or tricky: refused in a sentence, soon; sound odd ones are read.

Run in a process whose memory and seconds are limited: a drawing that would be drawn without end fails there.
"""

from __future__ import annotations

import resource
import subprocess
import sys
from pathlib import Path

import pytest

from matcher.tools.notation import SizingError
from matcher.tools.outline_files import outline_reading
from tests.drawing_texts import (
    BOX,
    CORNERS,
    block,
    circle,
    doubled,
    dxf_text,
    ellipse,
    insert,
    polyline,
    spline,
    svg_text,
    tags,
    written,
)

UNREAD = "file; this one cannot be read"
UNDRAWN = "lines that can be drawn; one of this drawing cannot"
FAR = "a drawing within 10 km of its origin"
NO_NUMBER = "has one that is infinite or none"
ITSELF = "groups and blocks at most 100 deep, and none of them in itself"
COPIES = "at most 20,000 lines and shapes, all copies counted"
POINTS = "at most 100,000 points, curves included"
CROSSED = "lines that hardly cross each other"
FAST = [0, 0, 0, 0, 1, 1, 1, 1]
"""Knots of a cubic spline through four control points."""
MESS = [((at * 7919) % 100, (at * 104729) % 100) for at in range(5000)]
"""Corners of a line that crosses itself millions of times."""
LAUGHS = "".join(
    f'<!ENTITY {chr(98 + at)} "{10 * f"&{chr(97 + at)};"}">' for at in range(9)
)  # entities of entities, each ten times the one before

DXF = {
    "unit 99": (dxf_text(polyline(), 99), "$INSUNITS from 0 to 24; this drawing has 99"),
    "unit -1": (dxf_text(polyline(), -1), "this drawing has -1"),
    "unit 25": (dxf_text(polyline(), 25), "this drawing has 25"),
    "unit of text": (dxf_text(polyline(), "mm"), UNREAD),
    "unit of light years": (dxf_text(circle(1), 19), FAR),
    "block that is not there": (dxf_text(polyline() + insert("LOST")), "blocks that are in the drawing; 'lost' is not"),
    "block in itself": (dxf_text(insert("A"), blocks=block("A", insert("A") + polyline())), ITSELF),
    "blocks in each other": (
        dxf_text(insert("A"), blocks=block("A", insert("B") + polyline()) + block("B", insert("A"))),
        ITSELF,
    ),
    "copies of copies": (
        dxf_text(
            insert("A9"),
            blocks=block("A0", polyline()) + "".join(block(f"A{at + 1}", 10 * insert(f"A{at}")) for at in range(9)),
        ),
        COPIES,
    ),
    "rows of a million copies": (
        dxf_text(insert("A", 70, 1000, 71, 1000, 44, 70, 45, 210), blocks=block("A", polyline())),
        COPIES,
    ),
    "block scaled to nothing": (dxf_text(insert("A", 41, 0, 42, 0), blocks=block("A", polyline())), UNDRAWN),
    "scale that is no number": (dxf_text(insert("A", 41, "nan"), blocks=block("A", polyline())), NO_NUMBER),
    "bulge that is no number": (dxf_text(polyline(bulge="nan")), NO_NUMBER),
    "bulge that is infinite": (dxf_text(polyline(bulge="inf")), NO_NUMBER),
    "bulge without measure": (dxf_text(polyline(bulge="1e300")), UNDRAWN),
    "bulge of text": (dxf_text(polyline(bulge="round")), UNREAD),
    "corner that is no number": (dxf_text(polyline([("nan", 0), *CORNERS])), NO_NUMBER),
    "coordinates of 1e15": (dxf_text(polyline([(x + 1e15, y) for x, y in CORNERS])), FAR),
    "circle of 1e15": (dxf_text(circle(1e15)), FAR),
    "circle of nothing": (dxf_text(circle(0)), "a drawing with a closed line in it"),
    "circle that faces nowhere": (dxf_text(circle(30, 210, 0, 220, 0, 230, 0)), UNDRAWN),
    "circle that faces no number": (dxf_text(circle(30, 210, "nan", 220, 0, 230, 1)), NO_NUMBER),
    "ellipse of 1e12": (dxf_text(ellipse(1e12, 0.5)), FAR),
    "ellipse of nothing": (dxf_text(ellipse(0, 0.5)), UNDRAWN),
    "ellipse that is flat": (dxf_text(ellipse(50, 0)), UNDRAWN),
    "empty polyline": (dxf_text(polyline([])), "a drawing with a closed line in it"),
    "empty spline": (dxf_text(spline(3, [], []) + polyline()), UNDRAWN),
    "knots that descend": (dxf_text(spline(3, [3, 2, 1, 0, 0], CORNERS)), UNDRAWN),
    "knots that are one": (dxf_text(spline(3, 8 * [0], CORNERS)), UNDRAWN),
    "knots that are no numbers": (dxf_text(spline(3, 8 * ["nan"], CORNERS)), NO_NUMBER),
    "too few control points": (dxf_text(spline(3, FAST, CORNERS[:2])), UNDRAWN),
    "spline of degree 99": (dxf_text(spline(99, FAST, CORNERS)), UNDRAWN),
    "spline of degree -3": (dxf_text(spline(-3, FAST, CORNERS)), UNDRAWN),
    "crossed millions of times": (dxf_text(polyline(MESS)), CROSSED),
    "far too many corners": (dxf_text(polyline([(at / 1000, at % 2) for at in range(100_001)])), POINTS),
    "cut off": (dxf_text(polyline())[:-30], UNREAD),
    "half a tag": ("0\nSECTION\n2\n", UNREAD),
    "no drawing": ("0\nEOF\n", UNREAD),
    "a drawing elsewhere": (
        dxf_text(
            insert("X"),
            blocks=tags(0, "BLOCK", 8, 0, 2, "X", 70, 4, 10, 0, 20, 0, 3, "X", 1, "/etc/passwd")
            + tags(0, "ENDBLK", 8, 0),
        ),
        "a drawing with a closed line in it",
    ),
}

SVG = {
    "entities of entities": (svg_text("<text>&j;</text>", f'<!DOCTYPE s [<!ENTITY a "h">{LAUGHS}]>'), "no entity that"),
    "entity of a file": (svg_text(BOX, '<!DOCTYPE s [<!ENTITY a SYSTEM "file:///etc/passwd">]>'), "for a file; a does"),
    "long entity": (svg_text(BOX, f'<!DOCTYPE s [<!ENTITY a "{"x" * 500}">]>'), "no entity that is long"),
    "entity by the million": (svg_text("&a;" * 10**5, f'<!DOCTYPE s [<!ENTITY a "{"x" * 100}">]>'), "by entities"),
    "use in itself": (svg_text(f'<g id="a"><use xlink:href="#a"/></g>{BOX}'), ITSELF),
    "uses in each other": (
        svg_text(f'<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>{BOX}'),
        ITSELF,
    ),
    "copies of copies": (
        svg_text(f'<g id="a0">{BOX}</g>' + doubled('<g id="{}">{}</g>', "a", '<use href="#{}"/>', 6)),
        COPIES,
    ),
    "use of what is not there": (svg_text(f'<use href="#z"/>{BOX}'), "shapes that are in the drawing; 'z' is not"),
    "use of another file": (svg_text(f'<use href="http://x.test/a.svg#z"/>{BOX}'), "shapes in the file itself"),
    "groups without end": (svg_text("<g>" * 50_000 + BOX + "</g>" * 50_000), ITSELF),
    "shapes without end": (svg_text(BOX * 30_000), COPIES),
    "curves without end": (svg_text(f'<path d="M 0 0 {"C 1 1 2 2 3 3 " * 50_000}Z"/>'), POINTS),
    "crossed millions of times": (svg_text(f'<polygon points="{" ".join(f"{x},{y}" for x, y in MESS)}"/>'), CROSSED),
    "style without end": (svg_text(f"<style>{'a{b:c}' * 50_000}</style>{BOX}"), "style sheets of at most"),
    "coordinates of 1e15": (svg_text('<rect x="1e15" y="1e15" width="60" height="200"/>'), FAR),
    "infinite coordinates": (svg_text('<path d="M 0 0 L 1e999 40 L 40 90 Z"/>'), FAR),
    "scaled to nothing": (svg_text(f'<g transform="scale(0)">{BOX}</g>'), "one is scaled to nothing"),
    "half a matrix": (svg_text(f'<g transform="matrix(1 2)">{BOX}</g>'), UNREAD),
    "path of words": (svg_text('<path d="hello"/>'), UNREAD),
    "page of no numbers": (svg_text(BOX, size='viewBox="a b c d"'), "a viewBox of four numbers instead of 'a b c d'"),
    "page of other units": (svg_text(BOX, size='width="10em"'), "a page's width such as 120mm instead of '10em'"),
    "page of no size": (svg_text(BOX, size='width="9mm" viewBox="0 0 0 0"'), "a drawing with a closed line in it"),
    "HTML": ("<html><body><svg><rect width='60' height='200'/></svg></body></html>", UNREAD),
    "HTML as it is written": ("<!doctype html><p>a wrench<br>of mine", UNREAD),
    "cut off": (svg_text(BOX)[:-9], UNREAD),
}  # fmt: skip

CASES = [(f"{name}.dxf", *case) for name, case in DXF.items()] + [(f"{name}.svg", *case) for name, case in SVG.items()]
SECONDS, SPACE = 10, 2 * 10**9
"""Of a processor for each drawing, and bytes of address space, of which the libraries take most."""


@pytest.fixture(scope="module")
def told(tmp_path_factory) -> dict[str, str]:
    """What each drawing is read as, all in one process per kind of file; one that never ends ends with its process."""
    folder, found = tmp_path_factory.mktemp("drawings"), {}
    for name, content, _ in CASES:
        written(folder, name, content)
    for kind in ("dxf", "svg"):
        code = f"from tests.test_hostile_outlines import tell_all; tell_all({str(folder)!r}, {kind!r})"
        done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
        found.update(line.split("\t") for line in done.stdout.splitlines())
        assert done.stderr == "", "no warning stands beside the refusals"
    return found


def tell_all(folder: str, kind: str) -> None:
    """Print what each drawing in a folder is read as, or how reading it ended, each within the limits."""
    for path in sorted(Path(folder).glob(f"*.{kind}")):
        used = resource.getrusage(resource.RUSAGE_SELF)
        seconds = int(used.ru_utime + used.ru_stime) + SECONDS
        for limit, most in ((resource.RLIMIT_CPU, seconds), (resource.RLIMIT_AS, SPACE)):
            resource.setrlimit(limit, (most, resource.getrlimit(limit)[1]))
        try:
            line = f"read: {outline_reading(path).unit}"
        except SizingError as refused:
            line = f"{refused.column}: {refused.expected}"
        except BaseException as failed:
            line = f"failed: {failed!r}"
        print(path.name, line, sep="\t", flush=True)


@pytest.mark.parametrize(("name", "_content", "expected"), CASES, ids=[name for name, *_ in CASES])
def test_a_spoiled_drawing_is_refused_with_what_was_expected(told, name, _content, expected):
    assert name in told, "reading it ended the process"
    assert told[name].startswith("outline: "), told[name]
    assert expected in told[name]


SURVEY_MM = 1200 / 3937 * 1000
"""A survey foot is 1200/3937 m (from memory)."""
SOUND = [
    ("names.svg", svg_text("<g id='&n;'/>" + BOX, '<!DOCTYPE svg [<!ENTITY n "http://x.test/ns">]>'), (60, 200)),
    ("photo.svg", svg_text('<image xlink:href="wrench.png" width="9" height="9"/>' + BOX), (60, 200)),
    ("script.svg", svg_text("<script>alert(1)</script>" + BOX), (60, 200)),
    ("copy.svg", svg_text(f'<defs><g id="a">{BOX}</g></defs><use xlink:href="#a" x="5"/>'), (60, 200)),
    ("mark.svg", b"\xef\xbb\xbf" + svg_text(BOX).encode(), (60, 200)),
    ("wide.svg", svg_text(BOX).encode("utf-16"), (60, 200)),
    ("percent.svg", svg_text(BOX, size='width="100%" height="100%" viewBox="0 0 60 200"'), (15.875, 52.917)),
    ("deep.svg", svg_text("<g>" * 90 + BOX + "</g>" * 90), (60, 200)),
    ("minus.dxf", dxf_text(insert("A", 41, -1), blocks=block("A", polyline())), (60, 200)),
    ("twice.dxf", dxf_text(insert("A") + insert("a"), blocks=block("A", polyline())), (60, 200)),
    ("unused.dxf", dxf_text(polyline(), blocks=block("A", insert("LOST"))), (60, 200)),
    ("away.dxf", dxf_text(polyline([(x + 1e6, y - 1e6) for x, y in CORNERS])), (60, 200)),
    ("survey.dxf", dxf_text(polyline([(x / 300, y / 300) for x, y in CORNERS]), 21), (SURVEY_MM / 5, SURVEY_MM / 1.5)),
    ("mils.dxf", dxf_text(polyline([(x * 50, y * 50) for x, y in CORNERS]), 9), (76.2, 254)),  # by fuzzing
    ("survey_in.dxf", dxf_text(polyline([(x / 25, y / 25) for x, y in CORNERS]), 22), (60.96012, 203.2004)),
]


@pytest.mark.parametrize(("name", "content", "size"), SOUND, ids=[name for name, *_ in SOUND])
def test_an_unusual_drawing_is_read(tmp_path, name, content, size):
    _, _, width, length = outline_reading(written(tmp_path, name, content)).shape.bounds
    assert (width / 320, length / 320) == pytest.approx(size, abs=0.02)


def test_what_a_drawing_is_refused_for_stands_at_its_cell(run, tmp_path):
    """File, row, column, value and what was expected, of the row that names the drawing; nothing is written."""
    written(tmp_path, "piece.dxf", DXF["block in itself"][0])
    written(
        tmp_path,
        "drawers.csv",
        "cabinet,drawer,bank,row,inside_width_mm,inside_depth_mm,clear_height_mm\nC,1,1,1,500,400,80\n",
    )
    written(tmp_path, "tools.csv", "set,tool,kind,count,size,outline\nS,p,combination pliers,1,200,piece.dxf\n")
    assert run("check", tmp_path, "--out", tmp_path / "copy.xlsx") == (
        2, "", f"error: tools.csv, row 2, column outline: 'piece.dxf': expected {ITSELF}\n"
    )  # fmt: skip
    assert sorted(path.name for path in tmp_path.iterdir()) == ["drawers.csv", "piece.dxf", "tools.csv"]
