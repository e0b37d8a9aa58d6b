"""Quantities: letter symbols, units, dimensions, numbers as written, expressions as written."""
