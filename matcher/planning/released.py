"""A plan whose organizers are made: in its own drawers they lie as they were cut, elsewhere they are ready-made."""

from __future__ import annotations

from dataclasses import dataclass

from matcher.records import Cabinet, Drawer, Organizer, Placement, Snapshot


@dataclass(frozen=True, slots=True)
class MadeOrganizer:
    """An organizer of a released plan: its sizes as a row, where it lies, and the drawer it was made for.

    ``alone`` says that the drawer holds nothing else.
    """

    row: Organizer
    placement: Placement
    drawer: Drawer
    alone: bool


@dataclass(frozen=True, slots=True)
class Released:
    """A plan whose organizers are made, with the cabinet that it is for."""

    cabinet: Cabinet
    snapshot: Snapshot
    made: tuple[MadeOrganizer, ...]

    def is_for(self, cabinet: Cabinet) -> bool:
        """Whether a cabinet is the plan's own or a version of it: drawers of the same names in the same places."""
        return _places(cabinet) == _places(self.cabinet)


def _places(cabinet: Cabinet) -> set[tuple[str, int, int, int]]:
    return {(drawer.name, drawer.bank, drawer.last_bank, drawer.row) for drawer in cabinet.drawers}
