"""Steadyrail: linear-regulator problems, worked solutions and judged answers."""
