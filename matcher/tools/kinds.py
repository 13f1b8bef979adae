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
    ``has_system`` says whether metric and inch pieces are kept apart; a lettered size such as T25 needs no system.
    """

    word: str
    needs: tuple[str, ...]
    form: Form = "text"
    bare: str = ""
    stands: bool = False
    has_system: bool = False


_FLATS = ("size", "system")
_SOCKET = ("size", "drive", "system")
_SIZE_OR_LENGTH = ("size or length",)
_BOX = ("length", "width", "height")


def _socket(word: str, stands: bool = True) -> Kind:
    return Kind(word, _SOCKET, "flats", stands=stands, has_system=True)


def _drive(word: str) -> Kind:
    return Kind(word, ("drive",))


def _extension(word: str) -> Kind:
    return Kind(word, ("drive", "size or length"), "length")


def _wrench(word: str) -> Kind:
    return Kind(word, _FLATS, "flats", has_system=True)


def _double(word: str) -> Kind:
    return Kind(word, _FLATS, "two flats", has_system=True)


def _long(word: str) -> Kind:
    return Kind(word, _SIZE_OR_LENGTH, "length")


def _hammer(word: str) -> Kind:
    return Kind(word, _SIZE_OR_LENGTH, "weight")


def _plain(word: str) -> Kind:
    return Kind(word, ())


_ALL = (
    _socket("socket"),
    _socket("deep socket"),
    _socket("impact socket"),
    _socket("deep impact socket"),
    Kind("bit socket", ("size", "drive"), "tip", bare="H", stands=True, has_system=True),
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
    _wrench("hex key"),
    _wrench("long-arm hex key"),
    _wrench("ball-end long-arm hex key"),
    Kind("T-handle hex key", ("size",), "tip", bare="H", has_system=True),
    Kind("hexalobular key", ("size",), "tip", bare="T"),
    Kind("screwdriver", ("size",), "tip", bare="SL"),
    Kind("stubby screwdriver", ("size",), "tip", bare="SL"),
    _plain("torque screwdriver"),
    _wrench("nut driver"),
    Kind("insert bit", ("size",), "tip", bare="H", stands=True, has_system=True),
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
