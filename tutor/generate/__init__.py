"""Families of problems: declared in one file each, drawn by number, the same on every machine."""
