"""Templates, made from the declarations with openpyxl: ``python -m twodrum.build``."""
