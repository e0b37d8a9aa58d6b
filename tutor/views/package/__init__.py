"""Packages for learning platforms: QTI 3.0, an open standard; `writing.py` is where it begins."""
