"""What the audit of installed packages says: known vulnerabilities break a run, an unreachable database is told."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

AUDIT = Path(__file__).resolve().parents[1] / ".ci" / "audit"
SOUND = {"name": "a", "version": "1", "vulns": []}
WRONG = {"name": "b", "version": "2", "vulns": [{"id": "PYSEC-0", "fix_versions": []}]}
UNKNOWN = {"name": "c", "skip_reason": "not found"}


@pytest.mark.parametrize(
    ("written", "code", "said"),
    [
        ("", 0, "not audited: the database of vulnerabilities cannot be reached from here"),
        ("no JSON", 0, "not audited: the database of vulnerabilities cannot be reached from here"),
        ([UNKNOWN, UNKNOWN], 0, "not audited: the database that can be reached knows none of 2 packages"),
        ([SOUND, UNKNOWN], 0, "2 packages, 1 of which it does not know; none with a known vulnerability"),
        ([SOUND, WRONG], 1, "2 packages; 1 with a known vulnerability\nb 2: PYSEC-0"),
    ],
)
def test_what_the_audit_says(written: str | list[dict], code: int, said: str) -> None:
    given = written if isinstance(written, str) else json.dumps({"dependencies": written})
    done = subprocess.run([sys.executable, AUDIT], input=given, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (code, f"{said}\n", "")
