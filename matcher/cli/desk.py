"""``matcher desk``."""

from __future__ import annotations

import os
import sys
from typing import Annotated, NoReturn

import typer

from matcher.cli.options import SourceOptions


def desk(
    source: SourceOptions,
    port: Annotated[
        int, typer.Option("--port", metavar="NUMBER", min=0, max=65535, help="Port on this machine; 0: any.")
    ] = 8420,
) -> None:
    """Plan, pin, measure and compare in a browser on this machine."""
    from matcher.records import need

    need("desk", "the desk")
    from matcher.desk import serve

    read, rules = source.load()
    serve(
        read,
        rules,
        source.catalogue.resolve(),
        port,
        lambda address: typer.echo(f"open {address} in a browser; Ctrl-C ends it"),
        _leave,
    )
    _leave()


def _leave() -> NoReturn:
    """End at once: nobody waits for plans still being made, and a solver's thread must not outlive the interpreter."""
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(0)
