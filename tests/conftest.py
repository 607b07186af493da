"""What pytest leaves alone: scripts that are run, not imported."""

collect_ignore = ["libreoffice/driver.py", "run.py"]
