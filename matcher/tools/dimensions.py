"""Sizes a piece: what the catalogue gives always wins, the rest comes from the rules; the basis says which."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from math import ceil
from typing import TypeAlias

from matcher.records import PER_GRAM, Basis, Bound, Piece, Range, SizedPiece, Spread, Toward, gram, mm, to_mm
from matcher.tools.drive_rules import DRIVE_RULES
from matcher.tools.hand_rules import HAND_RULES
from matcher.tools.key_rules import INCH_KEY_RULES, KEY_RULES, METRIC_KEY_RULES, REMEMBERED_KEY_RULES
from matcher.tools.kind_words import unknown_kind
from matcher.tools.kinds import KINDS, Kind
from matcher.tools.masses import LEAST
from matcher.tools.notation import SizingError
from matcher.tools.rules import Facts, Measure, Rule
from matcher.tools.series import DRIVES, across, is_remembered_key, nearest_number
from matcher.tools.sizes import ToolSize, drive_name, parse_drive, parse_size
from matcher.tools.striking_rules import STRIKING_RULES
from matcher.tools.threading_rules import THREADING_RULES
from matcher.tools.wrench_rules import WRENCH_RULES

Given: TypeAlias = Mapping[str, int | None]

AXES = ("length", "width", "height")
WORSE: tuple[Basis, ...] = ("measured", "from standard", "estimated")
EVERY_SYSTEM = DRIVE_RULES + WRENCH_RULES + KEY_RULES + HAND_RULES + STRIKING_RULES + THREADING_RULES
"""Rules of kinds that are sized alike in millimeters and in inches."""


def _by_kind(rules: tuple[Rule, ...]) -> Mapping[str, Rule]:
    return {kind: rule for rule in rules for kind in rule.kinds}


RULES: Mapping[str, Rule] = _by_kind(EVERY_SYSTEM + METRIC_KEY_RULES)
INCH_RULES: Mapping[str, Rule] = _by_kind(EVERY_SYSTEM + INCH_KEY_RULES)
REMEMBERED_RULES: Mapping[str, Rule] = _by_kind(REMEMBERED_KEY_RULES)


def sized(piece: Piece, estimates: Bound = "likely") -> SizedPiece:
    """The piece with every dimension, bounds of its mass, and what they rest on.

    What is not given is as large as ``estimates`` says; the bounds of the mass are the same whichever it is. The basis
    is the worst of length, width and height: these enter a verdict.

    Raises
    ------
    SizingError
        A value is missing or outside its series; tells the column and what was expected.
    """
    kind = _kind_of(piece)
    size = parse_size(piece.size, piece.system, kind.word) if piece.size else None
    _require(piece, kind)
    given = _given(piece)
    facts = _facts(piece, size, whole=None not in given.values())
    rule = rule_of(piece.kind, facts)
    spans, measures = _dimensions(rule, facts, given)
    mass = _mass(piece, rule, _knowing(facts, {axis: span.likely for axis, span in spans.items()}))
    lengths = {axis: getattr(span, estimates) for axis, span in spans.items()}
    facts = _knowing(facts, lengths)
    ranked = size is not None and kind.form in ("flats", "two flats", "tip", "thread", "drive")
    return SizedPiece(
        piece=piece,
        **lengths,
        diameter=max(lengths["width"], lengths["height"]) if kind.stands else None,
        mass_low=mass.low,
        mass_high=mass.high,
        rank=size.rank if size and ranked else spans["length"].likely,
        basis=max((basis_of(measure) for measure in measures.values()), key=WORSE.index),
        source=_source(measures),
        features=tuple((name, up(formula(facts))) for name, formula in rule.features),
        spread=Spread(**spans, mass=mass),
    )


def _mass(piece: Piece, rule: Rule, facts: Facts) -> Range:
    if piece.mass is not None:
        return Range(piece.mass, piece.mass, piece.mass)
    likely, off = max(rule.grams.formula(facts), LEAST), rule.grams.off
    least, most = (Decimal(f"{likely * share:.3f}") for share in (1 - off.below, 1 + off.above))
    return Range(gram(least, Toward.DOWN), gram(Decimal(f"{likely:.3f}")), gram(most))


def up(millimeters: float) -> int:
    """A worked-out length, rounded up to the grid; noise below 0.1 micrometers does not count."""
    return mm(Decimal(f"{millimeters:.4f}"))


def basis_of(measure: Measure | None) -> Basis:
    """Basis of one dimension; ``None`` where the catalogue gave it."""
    return measure.basis if measure else "measured"


def _kind_of(piece: Piece) -> Kind:
    if piece.kind not in KINDS:
        raise SizingError("kind", unknown_kind(piece.kind))
    return KINDS[piece.kind]


def _require(piece: Piece, kind: Kind) -> None:
    """Refuse a piece that lacks a column its kind needs; whether a system is needed is for the size to say."""
    for need in kind.needs:
        columns = need.split(" or ")
        if need != "system" and not any(getattr(piece, column) for column in columns):
            raise SizingError(columns[0], f"a {need}, which a {kind.word} needs")


def _facts(piece: Piece, size: ToolSize | None, whole: bool) -> Facts:
    """What the formulas need; a tip that no series has counts as the nearest where the ``whole`` piece was given."""
    drive = DRIVES[drive_name(parse_drive(piece.drive))] if piece.drive else None
    facts = Facts(square=drive)
    if size is None:
        return facts
    return replace(
        facts,
        s=_across(size, whole),
        small=to_mm(size.smaller or 0),
        inch=size.system == "inch",
        tip=size.tip,
        number=size.number,
        nominal=to_mm(size.length or 0),
        head_grams=(size.mass or 0) / PER_GRAM,
        other_square=DRIVES[size.text] if KINDS[piece.kind].form == "drive" else None,
    )


def _across(size: ToolSize, whole: bool) -> float:
    if size.flats is not None or not size.tip:
        return to_mm(size.flats or 0)
    return across(size.tip, nearest_number(size.tip, size.number) if whole else size.number)


def _given(piece: Piece) -> Given:
    """What the catalogue gives, by its columns or by a drawing of the piece's own."""
    given = {"length": piece.length, "width": piece.width, "height": piece.height}
    if not piece.outline:
        return given
    from matcher.tools.outline_files import own_outline

    _, _, width, length = own_outline(piece).bounds
    drawn = {"length": ceil(round(length, 3)), "width": ceil(round(width, 3))}
    return {axis: drawn.get(axis) if value is None else value for axis, value in given.items()}


def rule_of(kind: str, facts: Facts) -> Rule:
    """The rule of a kind; hex keys have one for each system, and one for what of the inch series is from memory."""
    if facts.inch and kind in REMEMBERED_RULES and is_remembered_key(facts.s):
        return REMEMBERED_RULES[kind]
    return (INCH_RULES if facts.inch else RULES)[kind]


def _dimensions(rule: Rule, facts: Facts, given: Given) -> tuple[dict[str, Range], dict[str, Measure | None]]:
    """Each axis with its span and the measure it came from (``None``: given); later axes may use earlier ones."""
    known = _round_alike(given) if rule.round else given
    spans: dict[str, Range] = {}
    measures: dict[str, Measure | None] = {}
    facts = _knowing(facts, known)
    if None in known.values():
        rule.check(facts)
    for axis in AXES:
        value, measure = known[axis], getattr(rule, axis)
        measures[axis] = None if value is not None else measure
        spans[axis] = _span(measure, facts) if value is None else Range(value, value, value)
        facts = _knowing(facts, {**known, **{worked: span.likely for worked, span in spans.items()}})
    if rule.round and known["height"] is None:
        spans["height"] = spans["width"]
    return spans, measures


def _span(measure: Measure, facts: Facts) -> Range:
    """Least, likely and greatest by a rule: the likely and the greatest rounded up, the least down."""
    likely = measure.formula(facts)
    least = Decimal(f"{likely * (1 - measure.off.below):.4f}")
    return Range(max(mm(least, Toward.DOWN), 1), up(likely), up(likely * (1 + measure.off.above)))


def _knowing(facts: Facts, known: Given) -> Facts:
    """The facts with the lengths known so far; 0 where one is not."""
    length, width, height = (to_mm(known[axis] or 0) for axis in AXES)
    return replace(facts, length=length, width=width, height=height)


def _round_alike(given: Given) -> Given:
    """A round piece's width and height are one diameter: whichever was given counts for both."""
    width, height = given["width"], given["height"]
    return {**given, "width": width if width is not None else height, "height": height if height is not None else width}


def _source(measures: Mapping[str, Measure | None]) -> str:
    """For a person: ``length, width: ISO 2936, read at second hand; height: measured``."""
    return "; ".join(f"{', '.join(axes)}: {source}" for source, axes in _by_source(measures))


def _by_source(measures: Mapping[str, Measure | None]) -> Iterator[tuple[str, list[str]]]:
    sources = {axis: measure.source if measure else "measured" for axis, measure in measures.items()}
    for source in dict.fromkeys(sources.values()):
        yield source, [axis for axis in AXES if sources[axis] == source]
