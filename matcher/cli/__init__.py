"""The command line: parses, calls, shows. Heavy imports wait until a command runs, so help answers at once.

Reading order, from what is called first to what it stands on: `compare`, `fit`, `ask`, `plan`, `release`, `check`,
`draft`, `cut`, `offer`, `changes`, `screening`, `tape`, `desk`, `store`, `kept`, `progress`, `running`, `options`,
`completion`, `grouped`, `numbers`.
"""

from __future__ import annotations

import typer

from matcher.cli.ask import ask
from matcher.cli.changes import changes
from matcher.cli.check import check
from matcher.cli.compare import compare
from matcher.cli.cut import cut
from matcher.cli.desk import desk
from matcher.cli.draft import draft
from matcher.cli.fit import fit
from matcher.cli.grouped import grouped
from matcher.cli.offer import offer
from matcher.cli.plan import plan
from matcher.cli.release import release
from matcher.cli.store import store

app = typer.Typer(
    help="Match hand-tool sets to drawer cabinets: will it fit, what goes where, which variants, what to cut.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)
for command in (check, draft, fit, ask, plan, release, compare, offer, cut, changes, desk, store):
    app.command()(grouped(command))
