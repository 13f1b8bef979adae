"""What the code of each caution stands for, in a few words: for whoever meets it in a table or a file."""

from __future__ import annotations

from collections.abc import Mapping

CODES: Mapping[str, str] = {
    "LOAD-D": "load of a drawer against its rating",
    "LOAD-C": "load of the whole cabinet, or of a caster, against its rating",
    "TIP-1": "tipping with one drawer open, as planned or filled by the buyer",
    "TIP-2": "tipping with one drawer open and all others empty",
    "TIP-N": "how many drawers may be open at a time before it tips",
    "TIP-S": "tipping on a floor that falls to the front",
    "LIFT": "a single heavy piece and how it is lifted",
    "HIGH": "a single heavy piece above the shoulder",
    "loose": "an organizer that can shift: a gap too small for a filler strip",
    "wide-gap": "a wide filler strip beside an organizer",
    "corners": "an organizer that meets the drawer's rounded corners",
    "unordered": "pieces that go in, but not in the house order, or one that goes in at an angle only",
    "guess": "a drawer's size that is a guess, on which the plan rests",
    "unknown": "a drawer left aside because a size of it is not known",
    "basis": "pieces to cut for whose sizes are estimated",
    "DATA": "a check that was not made, or rests on an assumption, for want of data",
    "GENERAL": "what holds for every cabinet",
}
"""In the order in which a person asks: load, tipping, lifting, fit, basis."""
SHORT: Mapping[str, str] = {
    "LOAD-D": "drawer load",
    "LOAD-C": "cabinet load",
    "TIP-1": "tipping",
    "TIP-2": "tipping when empty",
    "TIP-N": "drawers open at a time",
    "TIP-S": "tipping on a slope",
    "LIFT": "heavy lift",
    "HIGH": "lift above the shoulder",
    "loose": "loose organizer",
    "wide-gap": "wide gap",
    "corners": "rounded corners",
    "unordered": "unordered",
    "guess": "guessed size",
    "unknown": "unknown size",
    "basis": "estimated sizes",
    "DATA": "not evaluated",
    "GENERAL": "always",
}
"""The same in a word or two, for tables that a person reads."""
