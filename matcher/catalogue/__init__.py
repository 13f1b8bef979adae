"""Catalogue files to records and back: the only place that knows file and column names."""

from matcher.catalogue.copying import copy_catalogue
from matcher.catalogue.reading import read_catalogue
from matcher.catalogue.tables import TABLES, tables
from matcher.catalogue.template import template
from matcher.catalogue.writing import write_tables

__all__ = ["TABLES", "copy_catalogue", "read_catalogue", "tables", "template", "write_tables"]
