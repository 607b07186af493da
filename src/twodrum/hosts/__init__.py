"""The spreadsheet programs: each carries numbers to `twodrum.worksheet` and back."""
