"""Formulas: pure functions of SI floats, standard library only."""
