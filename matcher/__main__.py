"""Runs the command line and turns every fault of the input into one line on standard error and exit code 2."""

from __future__ import annotations

import sys

from matcher.records import CatalogueError, MatcherError

BAD_INPUT, INTERRUPTED = 2, 130
STOPPED = "stopped"


def main() -> None:
    """Entry point of the ``matcher`` command."""
    try:
        from matcher.cli import app

        app()
    except CatalogueError as refused:
        for cell in refused.cells:
            print(f"error: {cell}", file=sys.stderr)
        sys.exit(BAD_INPUT)
    except MatcherError as refused:
        print(f"error: {refused}", file=sys.stderr)
        sys.exit(BAD_INPUT)
    except KeyboardInterrupt:
        print(STOPPED, file=sys.stderr)
        sys.exit(INTERRUPTED)
    except SystemExit as ended:
        if ended.code == INTERRUPTED:
            print(STOPPED, file=sys.stderr)
        raise


if __name__ == "__main__":
    main()
