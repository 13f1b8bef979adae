"""Matches hand-tool sets to drawer cabinets."""
