"""The records of a zip as they are laid out (PKWARE APPNOTE 4.3), and how large one may be."""

from __future__ import annotations

import struct

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator

# Bytes of a file.
MOST_FILE = 128 * 1024 * 1024
ENTRY = b"PK\x01\x02"
CENTRAL = struct.Struct("<4s4B4HL2L5H2L")
LOCAL = struct.Struct("<4s2B4HL2L2H")
END = struct.Struct("<4s4H2LH")


def central_records(data: bytes, start: int) -> Iterator[bytes]:
    """The entries of the list of the parts that begins here."""
    while data[start : start + 4] == ENTRY:
        end = start + CENTRAL.size + sum(CENTRAL.unpack_from(data, start)[12:15])
        yield data[start:end]
        start = end
