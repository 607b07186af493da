"""What pytest leaves alone: scripts that are run, not imported."""

collect_ignore = [
    "libreoffice/driver.py",
    "run.py",
    "hosts/calc_driver.py",
    "hosts/xlwings_driver.py",
    "hosts/vba_driver.py",
]
