"""Runs the command line and turns whatever goes wrong into lines on standard error and an exit code.

Exit code 2: the user can put it right, a full disk too. Exit code 70: a fault of this program.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable

from matcher.records import FAULT, CatalogueError, FailedError, MatcherError, fault_text

BAD_INPUT, FAULTY, INTERRUPTED = 2, 70, 130
STOPPED = "stopped"
LONGEST_LINE = 4000
"""Characters of an error that are told."""


def main() -> None:
    """Entry point of the ``matcher`` command."""
    printed_to = sys.stdout
    try:
        from matcher.cli import app

        app()
    except CatalogueError as refused:
        _end(BAD_INPUT, refused.lines)
    except MatcherError as refused:
        _end(BAD_INPUT, [refused])
    except OSError as refused:
        named = f"{refused.filename}: " if refused.filename else ""
        _end(BAD_INPUT, [f"{named}{refused.strerror or refused}"])
    except FailedError as failed:
        _end(FAULTY, failed.lines)
    except Exception as raised:
        _end(FAULTY, [f"{FAULT}: {fault_text(raised)}"])
    except KeyboardInterrupt:
        print(STOPPED, file=sys.stderr)
        sys.exit(INTERRUPTED)
    except SystemExit as ended:
        if ended.code == INTERRUPTED:
            print(STOPPED, file=sys.stderr)
        if sys.stdout is not printed_to:
            sys.exit(BAD_INPUT)  # nobody reads on: typer has put another stream there, and would exit with 1
        raise


def _end(code: int, lines: Iterable[object]) -> None:
    """Exit with the lines on standard error; what cannot be printed is dropped, so that the exit code stands."""
    from matcher.report import drop_unwritten

    try:
        for line in lines:
            print(f"error: {_visible(str(line))}", file=sys.stderr)
    except OSError:
        drop_unwritten(sys.stderr)
    drop_unwritten(sys.stdout)
    sys.exit(code)


def _visible(line: str) -> str:
    """The line with whatever steers a terminal, or turns its direction round, spelled out; cut off where it is long."""
    told = "".join(sign if sign.isprintable() or sign == "\n" else ascii(sign)[1:-1] for sign in line[:LONGEST_LINE])
    return told if len(line) <= LONGEST_LINE else f"{told} ..."


if __name__ == "__main__":
    main()
