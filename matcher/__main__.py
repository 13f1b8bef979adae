"""Runs the command line and turns whatever goes wrong into lines on standard error and an exit code.

Exit code 2: the user can put it right, a full disk too. Exit code 70: a fault of this program. Ctrl-C and SIGTERM end
the program in order, with what is temporary cleared away: exit codes 130 and 143.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from threading import Timer
from types import FrameType

BAD_INPUT, FAULTY, INTERRUPTED, TERMINATED = 2, 70, 130, 143
STOPPED = "stopped"
LONGEST_LINE = 4000
"""Characters of an error that are told."""
LATER = 0.02
"""Seconds after which a signal that came while a module was imported is looked at again."""


def main() -> None:
    """Entry point of the ``matcher`` command."""
    with _signals_heard():
        try:
            _run()
        except KeyboardInterrupt:
            signal.signal(signal.SIGINT, signal.SIG_IGN)  # asked for once more while it ends
            print(STOPPED, file=sys.stderr)
            sys.exit(INTERRUPTED)


def _run() -> None:
    """Run the command and exit."""
    from matcher.records import FAULT, CatalogueError, FailedError, MatcherError, fault_text

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
    except SystemExit as ended:
        if ended.code in (INTERRUPTED, TERMINATED):
            print(STOPPED, file=sys.stderr)
        elif sys.stdout is not printed_to:
            sys.exit(BAD_INPUT)  # nobody reads on: typer has put another stream there, and would exit with 1
        raise


@contextmanager
def _signals_heard() -> Iterator[None]:
    """Within it Ctrl-C and SIGTERM end the program where that can be done in order.

    Not while a module is being imported: compiled ones make another error of it.
    """

    def heard(number: int, frame: FrameType | None) -> None:
        if _importing(frame):
            again = Timer(LATER, os.kill, (os.getpid(), number))
            again.daemon = True
            again.start()
        elif number == signal.SIGINT:
            raise KeyboardInterrupt
        else:
            raise SystemExit(TERMINATED)

    before = {number: signal.signal(number, heard) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _importing(frame: FrameType | None) -> bool:
    """Whether a module is being imported at this point of the program."""
    while frame:
        if frame.f_code.co_filename == "<frozen importlib._bootstrap>":
            return True
        frame = frame.f_back
    return False


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
