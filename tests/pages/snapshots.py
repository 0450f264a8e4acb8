"""Snapshots that tests compare with: `WETWING_SNAPSHOTS=write` writes them, to be read before a commit."""

import base64
import os
from pathlib import Path

import pytest
from playwright.sync_api import Locator

HERE = Path(__file__).parent / "snapshots"
WRITE = os.environ.get("WETWING_SNAPSHOTS") == "write"


def assert_same_text(name: str, found: str) -> None:
    """Compare a text with the one that is kept, or keep it."""
    path = HERE / name
    if WRITE:
        path.parent.mkdir(exist_ok=True)
        path.write_text(found + "\n", "utf-8")
    assert path.is_file(), f"no snapshot {path.name}: write it with WETWING_SNAPSHOTS=write, and read it"
    assert found.splitlines() == path.read_text("utf-8").splitlines()


SMALL = 8
"""A kept picture is so many times smaller: it shows where things stand, and not how a letter is smoothed."""

CALIBRATION = """() => {
  const span = document.createElement("span");
  span.style.cssText = "font: 100px sans-serif; position: absolute; white-space: pre";
  span.textContent = "Wet Wing 0123456789 kg/h";
  document.body.append(span);
  const wide = span.getBoundingClientRect().width;
  span.remove();
  return wide;
}"""

SHRINK = """async ([png, small]) => {
  const image = new Image();
  image.src = `data:image/png;base64,${png}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = Math.ceil(image.width / small);
  canvas.height = Math.ceil(image.height / small);
  const context = canvas.getContext("2d");
  context.imageSmoothingQuality = "high";
  context.drawImage(image, 0, 0, canvas.width, canvas.height);
  return canvas.toDataURL("image/png").split(",")[1];
}"""

COMPARE = """async (pictures) => {
  const read = async (png) => {
    const image = new Image();
    image.src = `data:image/png;base64,${png}`;
    await image.decode();
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [image.width, image.height];
    const context = canvas.getContext("2d");
    context.drawImage(image, 0, 0);
    return context.getImageData(0, 0, image.width, image.height);
  };
  const [one, other] = [await read(pictures[0]), await read(pictures[1])];
  if (one.width !== other.width || one.height !== other.height)
    return `${other.width} × ${other.height}, and ${one.width} × ${one.height} is kept`;
  let far = 0;
  for (let i = 0; i < one.data.length; i += 4) {
    const off = Math.max(...[0, 1, 2].map((c) => Math.abs(one.data[i + c] - other.data[i + c])));
    far += off > 40 ? 1 : 0;
  }
  return far / (one.data.length / 4);
}"""


def assert_same_look(name: str, element: Locator, allowed_share: float = 0.01) -> None:
    """Compare an element's picture with the one that is kept, or keep it.

    Where the machine's sans-serif font is another, nothing can be said, and the test is skipped.
    """
    page = element.page
    font = f"{page.evaluate(CALIBRATION):.0f}"
    png = base64.b64encode(element.screenshot(animations="disabled")).decode()
    small = page.evaluate(SHRINK, [png, SMALL])
    path, note = HERE / f"{name}.png", HERE / "font.txt"
    if WRITE:
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(base64.b64decode(small))
        note.write_text(font + "\n", "utf-8")
    assert path.is_file(), f"no snapshot {path.name}: write it with WETWING_SNAPSHOTS=write, and look at it"
    if note.read_text("utf-8").strip() != font:
        pytest.skip(f"the pictures were taken with another font: {font} px wide here")
    kept = base64.b64encode(path.read_bytes()).decode()
    off = page.evaluate(COMPARE, [kept, small])
    assert isinstance(off, int | float), f"{name}: {off}"
    assert off <= allowed_share, f"{name}: {off:.1%} of the picture has changed"
