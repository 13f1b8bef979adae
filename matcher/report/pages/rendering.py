"""The one place that fills templates: everything is escaped, and a name that a template misses is an error."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable
from hashlib import sha256
from typing import Any

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from matcher.cautions import SHORT
from matcher.records import counted, plural, remembered
from matcher.report.drawing import STYLE as DRAWING_STYLE
from matcher.report.pages.quantities import clear, length, mass, mm_words, money, needed, percent, shortfall


def render(template: str, **shown: Any) -> str:
    """A template filled with what it shows, ending with one newline."""
    return environment().get_template(template).render(shown).rstrip() + "\n"


@remembered(128)
def environment(*packages: str) -> Environment:
    """Templates of these pages, and before them those of other ``packages`` that build on them."""
    made = Environment(
        loader=ChoiceLoader([PackageLoader(package) for package in (*packages, "matcher.report.pages")]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters |= {
        "length": length,
        "clear": clear,
        "needed": needed,
        "mass": mass,
        "mm": mm_words,
        "money": money,
        "percent": percent,
        "shortfall": shortfall,
    }
    made.filters |= {"brief": SHORT.__getitem__}
    made.filters |= {"counted": counted, "plural": plural, "path": path_words}
    made.globals |= {"lengths": length, "clear_lengths": clear, "needed_lengths": needed}
    made.globals |= {"script_hash": _script_hash(made), "drawing_style": Markup(DRAWING_STYLE)}
    return made


def path_words(lines: Iterable[Iterable[tuple[float, float]]], digits: int) -> str:
    """Lines through points as the data of an SVG path."""
    return "".join("M" + "L".join(f"{x:.{digits}f},{y:.{digits}f}" for x, y in line) for line in lines)


def _script_hash(made: Environment) -> str:
    """Hash of the page's own script, the only one its content security policy lets run."""
    script = made.get_template("page.js").render()
    return b64encode(sha256(script.encode()).digest()).decode()
