"""Bundles the panel's scripts and styles into one classic script and one sheet, named for their content.

ES modules do not load from `file://`, so a site that must open from a folder ships no module.
"""

import hashlib
import subprocess
from dataclasses import dataclass
from pathlib import Path

ESBUILD = Path("node_modules") / ".bin" / "esbuild"
TARGETS = "chrome109,firefox115,safari16"
LIMIT_S = 60

# The order of the scripts is the order in which they run.
SCRIPTS = ("panel/panel.js", "assets/site.js")
SHEETS = ("panel/panel.css", "assets/site.css")


class BundleFailed(Exception):
    """The bundler is missing, or says that a script is wrong."""


@dataclass(frozen=True, slots=True)
class Bundled:
    """One bundled file: its address within the site, and its text."""

    uri: str
    text: str


def bundle_script(root: Path, docs: Path) -> Bundled:
    """Bundle the scripts of the docs folder. Raises BundleFailed."""
    entry = "".join(f'import "./{name}";\n' for name in SCRIPTS)
    # A part's licence asks for its notice in every copy: it stands at the end.
    options = ("--loader=js", "--format=iife", f"--target={TARGETS}", "--legal-comments=eof")
    return _named("wetwing", "js", _bundle(root, docs, entry, options))


def bundle_sheet(root: Path, docs: Path) -> Bundled:
    """Bundle the style sheets of the docs folder. Raises BundleFailed."""
    entry = "".join(f'@import "./{name}";\n' for name in SHEETS)
    return _named("wetwing", "css", _bundle(root, docs, entry, ("--loader=css", f"--target={TARGETS}")))


def shim(root: Path) -> str:
    """The theme's stand-in for workers, which its search needs when a page is opened from a folder."""
    path = root / "node_modules" / "iframe-worker" / "shim" / "index.js"
    if not path.is_file():
        raise BundleFailed(f"{path.relative_to(root)} is missing; `make setup` installs it")
    return path.read_text("utf-8")


def content_hash(*texts: str) -> str:
    """Eight digits that change with the content."""
    total = hashlib.sha256()
    for text in texts:
        total.update(text.encode("utf-8") + b"\0")
    return total.hexdigest()[:8]


def _named(stem: str, ending: str, text: str) -> Bundled:
    return Bundled(f"assets/{stem}-{content_hash(text)}.{ending}", text)


def _bundle(root: Path, docs: Path, entry: str, options: tuple[str, ...]) -> str:
    program = root / ESBUILD
    if not program.exists():
        raise BundleFailed(f"{ESBUILD} is missing; `make setup` installs it")
    # Source maps would name folders of the building machine, so none are made.
    command = [str(program), "--bundle", "--minify", "--charset=utf8", "--log-level=warning", *options]
    try:
        done = subprocess.run(
            command, input=entry, cwd=docs, capture_output=True, text=True, timeout=LIMIT_S, encoding="utf-8"
        )
    except (OSError, subprocess.TimeoutExpired) as fault:
        raise BundleFailed(f"{ESBUILD} could not be run: {fault}") from fault
    if done.returncode != 0:
        raise BundleFailed(f"the panel's scripts or styles cannot be bundled:\n{done.stderr.strip()}")
    return done.stdout
