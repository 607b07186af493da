"""The spreadsheet programs: each carries numbers to `twodrum.worksheet.call` and back."""


class LinkError(RuntimeError):
    """A program could not be linked: what was found; what is expected; the mend."""
