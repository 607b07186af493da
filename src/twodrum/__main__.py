"""``python -m twodrum``."""

from .cli import main

raise SystemExit(main())
