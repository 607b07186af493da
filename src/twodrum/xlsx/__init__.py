"""One file format: read a workbook, and put cells back without touching the rest."""
