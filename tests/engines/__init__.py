"""Live formulas in other programs than those that the suite runs."""
