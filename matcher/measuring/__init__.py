"""Drawers as a buyer's tape has them: applied, compared, what decides, what to measure, which variant it is."""
