"""LibreOffice as an outside reader of workbooks; absent, its tests skip with the reason."""

import csv
import shutil
import subprocess
import zipfile

import pytest

SOFFICE = shutil.which("soffice")
needs_office = pytest.mark.skipif(SOFFICE is None, reason="LibreOffice (soffice) is not installed")
EACH_SHEET = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"
"""Filter words of LibreOffice's CSV export: comma, quote, UTF-8, exact values instead of shown ones, every sheet."""


def _converted(book, folder, form):
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    words = [SOFFICE, "--headless", profile, "--convert-to", form, "--outdir", str(folder), str(book)]
    subprocess.run(words, check=True, capture_output=True, timeout=240)


def office_charts(book, folder):
    """How many charts and how many pictures LibreOffice finds in a workbook, as it writes them to a file of its own."""
    _converted(book, folder, "ods")
    with zipfile.ZipFile(folder / f"{book.stem}.ods") as archive:
        parts = [name for name in archive.namelist() if name.endswith("/content.xml")]
        charts = [name for name in parts if b"<chart:series" in archive.read(name)]
        return len(charts), sum(name.startswith("Pictures/") for name in archive.namelist())


def office_rows(book, folder):
    """Rows of every sheet of a workbook as LibreOffice reads it, by the sheet's name."""
    _converted(book, folder, EACH_SHEET)
    found = {}
    for file in folder.glob(f"{book.stem}-*.csv"):
        with file.open(encoding="utf-8", newline="") as stream:
            found[file.stem.removeprefix(f"{book.stem}-")] = list(csv.reader(stream))
    return found
