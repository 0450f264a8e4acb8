"""Writes bytes as script parts: classic scripts that hand over gzipped bytes as base64 text, and read them
back.

A script runs from any web server, whatever it thinks of other file types, and from a folder opened without a
server. Each part says which version and which piece it is, so that a part of another version, or a cut one,
is known.
"""

import base64
import gzip
import hashlib
import re
from dataclasses import dataclass
from pathlib import Path

# Characters of base64 in one part. Small enough that a slow link shows progress, large enough for few
# requests. A multiple of 4, so that each part decodes alone.
PART_CHARS = 1_200_000

SHELF = "wetwingRuntime"
_LINE = re.compile(
    r'^\(self\.(\w+)=self\.\1\|\|\{\}\)\["([0-9a-f]+)/([a-z]+)-(\d+)"\]="([A-Za-z0-9+/=]*)";\n$'
)


@dataclass(frozen=True)
class Part:
    """One script of a piece: its file's name, its number of base64 characters, and that base64 text."""

    file: str
    chars: int
    text: str


def pack(content: bytes) -> bytes:
    """Gzip bytes with no date and no name inside, so that equal content packs equally."""
    return gzip.compress(content, compresslevel=9, mtime=0)


def split(piece: str, content: bytes) -> list[Part]:
    """Return the parts that hand over one piece."""
    text = base64.b64encode(pack(content)).decode("ascii")
    chunks = [text[start : start + PART_CHARS] for start in range(0, len(text), PART_CHARS)]
    return [Part(f"{piece}-{index}.js", len(chunk), chunk) for index, chunk in enumerate(chunks)]


def script(part: Part, version: str) -> str:
    """Return the script's text: one statement that puts the part on a shelf, under its version and name."""
    return f'(self.{SHELF}=self.{SHELF}||{{}})["{version}/{part.file.removesuffix(".js")}"]="{part.text}";\n'


def version_of(pieces: dict[str, list[Part]], other: bytes = b"") -> str:
    """Return 16 hex digits that stand for the content of all parts: two versions never share a folder."""
    total = hashlib.sha256(other)
    for piece in sorted(pieces):
        for part in pieces[piece]:
            total.update(f"{part.file}:{part.chars}:".encode())
            total.update(part.text.encode("ascii"))
    return total.hexdigest()[:16]


def join(folder: Path, files: list[str]) -> bytes:
    """Read the bytes of one piece back from its scripts.

    Raises:
        ValueError: a file is not a whole part.
    """
    text = ""
    for file in files:
        found = _LINE.match((folder / file).read_text("ascii"))
        if found is None:
            raise ValueError(f"{file}: not a whole part of the runtime")
        text += found[5]
    return gzip.decompress(base64.b64decode(text, validate=True))
