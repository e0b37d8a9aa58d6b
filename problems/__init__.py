"""Circuits, problem families and catalogues of parts: one file each, found by path, registered nowhere."""
