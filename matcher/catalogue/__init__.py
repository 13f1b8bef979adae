"""Catalogue files to records and back: the only place that knows file and column names."""

from matcher.catalogue.reading import read_catalogue
from matcher.catalogue.tables import TABLES, tables
from matcher.catalogue.writing import write_tables

__all__ = ["TABLES", "read_catalogue", "tables", "write_tables"]
