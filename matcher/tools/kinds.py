"""The words that name a kind of tool, and what a row of the tools table must say of each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, TypeAlias

from matcher.records import counted

Form: TypeAlias = Literal["flats", "two flats", "tip", "thread", "drive", "length", "weight", "text"]
"""What a size means: width across flats of one or two openings, a screw tip, a screw thread, a second square drive, a
nominal length, the weight of a head, or any text."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of tool.

    ``needs`` names columns; ``size or length`` asks for one of the two. ``bare`` is the tip that a plain number means.
    ``has_system`` says whether metric and inch pieces are kept apart; a lettered size such as T25 has none. A plain
    number from ``metric_from`` on is metric where column system is blank; a smaller one may be either.
    """

    word: str
    needs: tuple[str, ...]
    form: Form = "text"
    bare: str = ""
    stands: bool = False
    has_system: bool = False
    metric_from: float = 4


_SOCKET = ("size", "drive")
SMALLEST_PLAIN_HEXAGON = 1.3
"""Hexagons for keys are no larger than an inch, so that a plain 1.5 or 2.5 is metric; 0.7 may still be either."""
_SIZE_OR_LENGTH = ("size or length",)
_BOX = ("length", "width", "height")


def _socket(word: str, stands: bool = True) -> Kind:
    return Kind(word, _SOCKET, "flats", stands=stands, has_system=True)


def _drive(word: str) -> Kind:
    return Kind(word, ("drive",))


def _extension(word: str) -> Kind:
    return Kind(word, ("drive", "size or length"), "length")


def _wrench(word: str) -> Kind:
    return Kind(word, ("size",), "flats", has_system=True)


def _hex_key(word: str) -> Kind:
    return Kind(word, ("size",), "flats", has_system=True, metric_from=SMALLEST_PLAIN_HEXAGON)


def _double(word: str) -> Kind:
    return Kind(word, ("size",), "two flats", has_system=True)


def _long(word: str) -> Kind:
    return Kind(word, _SIZE_OR_LENGTH, "length")


def _hexagon_tip(word: str, needs: tuple[str, ...], stands: bool = False) -> Kind:
    return Kind(word, needs, "tip", "H", stands, has_system=True, metric_from=SMALLEST_PLAIN_HEXAGON)


def _hammer(word: str) -> Kind:
    return Kind(word, _SIZE_OR_LENGTH, "weight")


def _plain(word: str) -> Kind:
    return Kind(word, ())


_ALL = (
    _socket("socket"),
    _socket("deep socket"),
    _socket("impact socket"),
    _socket("deep impact socket"),
    _hexagon_tip("bit socket", ("size", "drive"), stands=True),
    Kind("external hexalobular socket", ("size", "drive"), "tip", bare="E", stands=True),
    _socket("universal-joint socket", stands=False),
    _socket("swivel impact socket", stands=False),
    _socket("spark plug socket"),
    _drive("ratchet"),
    _drive("flex-head ratchet"),
    _drive("stubby ratchet"),
    _drive("spinner handle"),
    _drive("breaker bar"),
    _drive("sliding T-handle"),
    _extension("extension"),
    _extension("wobble extension"),
    Kind("adapter", ("drive", "size"), "drive", stands=True),
    Kind("impact adapter", ("drive", "size"), "drive", stands=True),
    _drive("universal joint"),
    _drive("impact universal joint"),
    _long("socket rail"),
    _drive("torque wrench"),
    _wrench("combination wrench"),
    _wrench("stubby combination wrench"),
    _wrench("long-pattern combination wrench"),
    _wrench("ratcheting wrench"),
    _wrench("reversible ratcheting wrench"),
    _wrench("flex-head ratcheting wrench"),
    _wrench("stubby ratcheting wrench"),
    _double("double box wrench"),
    _double("ratcheting double box wrench"),
    _double("half-moon wrench"),
    _double("open-end wrench"),
    _double("flare-nut wrench"),
    Kind("crowfoot wrench", _SOCKET, "flats", has_system=True),
    _double("ignition wrench"),
    _long("adjustable wrench"),
    _long("pipe wrench"),
    _hex_key("hex key"),
    _hex_key("long-arm hex key"),
    _hex_key("ball-end long-arm hex key"),
    _hexagon_tip("T-handle hex key", ("size",)),
    Kind("hexalobular key", ("size",), "tip", bare="T"),
    Kind("screwdriver", ("size",), "tip", bare="SL"),
    Kind("stubby screwdriver", ("size",), "tip", bare="SL"),
    _plain("torque screwdriver"),
    _wrench("nut driver"),
    _hexagon_tip("insert bit", ("size",), stands=True),
    _plain("bit holder"),
    _long("combination pliers"),
    _long("diagonal cutters"),
    _long("long-nose pliers"),
    _long("slip-joint pliers"),
    _long("water-pump pliers"),
    _long("hose-clamp pliers"),
    _long("locking pliers"),
    _long("snap-ring pliers"),
    _long("snips"),
    _long("left-cut snips"),
    _long("right-cut snips"),
    _long("wire stripper"),
    _hammer("hammer"),
    _hammer("ball-peen hammer"),
    _hammer("cross-peen hammer"),
    _hammer("sledge hammer"),
    _hammer("soft-face hammer"),
    _hammer("dead-blow hammer"),
    _hammer("mallet"),
    Kind("punch", _SIZE_OR_LENGTH, "flats"),
    Kind("chisel", _SIZE_OR_LENGTH, "flats"),
    _long("pry bar"),
    _long("file"),
    _long("needle file"),
    _long("scraper"),
    _plain("knife"),
    _long("clamp"),
    _plain("hacksaw"),
    Kind("tap", ("size",), "thread", has_system=True),
    Kind("die", ("size",), "thread", has_system=True),
    _long("tap wrench"),
    Kind("die stock", _SIZE_OR_LENGTH, "flats"),
    _plain("thread gauge"),
    _plain("screw extractor"),
    _plain("tape measure"),
    _long("caliper"),
    _long("rule"),
    _long("square"),
    _plain("feeler gauge"),
    _plain("mirror"),
    _plain("pick"),
    _plain("magnetic pick-up"),
    _plain("flashlight"),
    Kind("other", _BOX),
    Kind("cased", _BOX),
)

KINDS: Mapping[str, Kind] = MappingProxyType({kind.word: kind for kind in _ALL})


def counted_kind(count: int, kind: str) -> str:
    """So many tools of a kind, e.g. ``1 socket``, ``2 punches``, ``4 other``: the last two kinds are no nouns."""
    return f"{count} {kind}" if kind in ("other", "cased") else counted(count, kind)
