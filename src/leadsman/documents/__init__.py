"""Lay out an Assessment: paper, offline page, data. Nothing is computed here."""
