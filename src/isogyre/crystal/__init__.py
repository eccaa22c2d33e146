"""Lattices, cells, formulas and directions: pure functions. Knows no gem."""
