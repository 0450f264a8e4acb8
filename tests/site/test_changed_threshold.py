"""A figure of the aircraft is changed, and every sentence that has become false is named, and no other.

Pages that are written here say on each line which changes make it false, so the whole set of places is known
beforehand. Then the course itself: no figure that a rule or an alert has stands written out on its pages.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

from tests.site.test_build import ROOT, build, without_runtime
from wetwing.aircraft.condition import Compare
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet_text, read_aircraft
from wetwing.teach.values import is_plain
from wetwing_tools.site import notation
from wetwing_tools.site.checking import check_pages
from wetwing_tools.site.front import body_of, first_line_of, read_front
from wetwing_tools.site.statements import in_course

CHANGES: dict[str, tuple[tuple[str, str], ...]] = {
    "nothing": (),
    "release": (("<= 900 kg", "<= 1000 kg"), ("{900 kg}", "{1,000 kg}")),
    "hold": ((">= 430 kg", ">= 500 kg"), ("{430 kg}", "{500 kg}")),
    "proving": (("lasts_s = 150", "lasts_s = 120"), ("{150 s}", "{120 s}")),
    "volume": (
        ("capacity_l = 9500", "capacity_l = 9100"),
        ("at_l = 9500", "at_l = 9100"),
        ("wet_at_l = 9240", "wet_at_l = 8840"),
        ("dry_at_l = 9210", "dry_at_l = 8810"),
    ),
    # The centre right pump becomes the stronger one.
    "pressure": (("shut_off_bar = 3.78", "shut_off_bar = 3.66"),),
}

FRONT = """---
title: One
moments:
  hold-1: return-flow-hold-right becomes active after phase cruise
  release-1: return-flow-hold-right becomes inactive after hold-1
  full: refuelling becomes inactive
  proved: phase start + 0:02:30
  opened: outboard-release becomes active
objectives:
  - id: F-ONE-1
    text: Say it.
---
"""
ONE = (
    FRONT
    + """
# One

[Both centre pumps deliver at the top of climb.]{holds: centre-left is delivering at phase cruise}
[A hold ends at {= limit of main-right.gauged_kg in return-flow-hold-right} given,]{holds:
hold-1 before release-1} not sooner.
[So it gives 430 kg.]{holds: main-right.gauged_kg falls by < 440 kg from hold-1 to release-1} <!-- hold -->
[The valves open at 900 kg.]{holds: main-right.gauged_kg <= 901 kg at opened} <!-- release -->
It takes {= proving-run-1.lasts_s}, and [the centre is quiet
in three minutes.]{holds: proving-run-2 is inactive at (engine-2 becomes running) + 0:03:00}
[It takes two minutes and
more.]{holds: proving-run-2 is active at (engine-2 becomes running) + 0:02:10} <!-- proving, one above -->

| What | Says |
| --- | --- |
| Stronger | [left]{holds: centre-left.pressure_bar > centre-right.pressure_bar at proved} <!-- pressure --> |
| Room | [more than 9,100 L in it]{holds: centre.volume_l >= 9100 L at full} <!-- volume --> |

```panel
start: hold-1
controls: [centre-feed]
caption: The cruise.
```

```predict
id: one # release
ask: "At how much do the outboard valves open?"
options:
  - say: At 900 kg.
    true_if: main-right.gauged_kg > 850 kg and main-right.gauged_kg <= 901 kg at opened
    because: "{= main-right.gauged_kg at opened} are there."
  - say: Below that.
    true_if: main-right.gauged_kg <= 850 kg at opened
    because: They open at once.
```

```moments
- at: hold-1
  title: The hold
  text: |
    [The main has reached its sensor.]{holds: high-level-main-right is wet at hold-1}
    [The hold gives 430 kg.]{holds: not main-right.gauged_kg < 6050 kg at release-1} <!-- hold -->
```
"""
)
TWO = (
    FRONT.replace("F-ONE", "F-TWO")
    + """
# Two

```panel
start: hold-1
controls: [centre-feed]
caption: The cruise.
```

```sketch
id: two
ask: Sketch what the right main holds through the first hold.
quantity: main-right.gauged_kg
from: hold-1
to: release-1
range: 6050 to 6700 kg # hold
```

```try
with: main-left=leak 1500 at phase cruise
say: A tank leaks.
text: |
  [The outboards open early,]{holds: outboard-release becomes active before phase descent} and
  [at 900 kg in the left main.]{holds: main-left.gauged_kg <= 901 kg at opened} <!-- release -->
```
"""
)
PAGES = {"one.md": ONE, "two.md": TWO}
_TAG = re.compile(
    r"(?:<!--|#) (nothing|release|hold|proving|volume|pressure)(, one above)?(?: -->|$)", re.MULTILINE
)


def false_with(name: str) -> list[str]:
    """The places whose lines say that this change makes them false."""
    found = []
    for page, text in PAGES.items():
        for at, line in enumerate(text.split("\n"), start=1):
            tag = _TAG.search(line)
            if tag and tag[1] == name:
                found.append(f"{page}:{at - bool(tag[2])}")
    return found


def changed(folder: Path, name: str) -> Path:
    """The first aircraft of the fleet with one change, as a file."""
    text = fleet_text("alder-165")
    for old, new in CHANGES[name]:
        assert old in text, old
        text = text.replace(old, new)
    path = folder / "alder-165.toml"
    path.write_text(text, encoding="utf-8")
    return path


def written(folder: Path) -> list[Path]:
    for page, text in PAGES.items():
        (folder / page).write_text(text, encoding="utf-8")
    return [folder / page for page in PAGES]


@pytest.mark.parametrize("name", CHANGES)
def test_exactly_what_has_become_false_is_named(name: str, tmp_path: Path) -> None:
    found = check_pages(written(tmp_path), str(changed(tmp_path, name)), "day-sector").slips.found
    assert [f"{Path(slip.page).name}:{slip.line}" for slip in sorted(found)] == false_with(name)
    assert bool(found) == (name != "nothing")


def test_the_build_says_all_of_it_at_once(tmp_path: Path) -> None:
    docs = tmp_path / "docs"
    docs.mkdir()
    for name in ("panel", "assets"):
        (docs / name).symlink_to(ROOT / "docs" / name)
    written(docs)
    config = without_runtime(tmp_path, docs, [{"One": "one.md"}, {"Two": "two.md"}])
    settings = yaml.safe_load(config.read_text())
    settings["plugins"][0]["wetwing"]["aircraft"] = str(changed(tmp_path, "release"))
    if "custom_dir" in settings["theme"]:
        settings["theme"]["custom_dir"] = str(ROOT / settings["theme"]["custom_dir"])
    config.write_text(yaml.safe_dump(settings))
    done = build(config, tmp_path / "site")
    assert done.returncode == 1
    told = re.findall(r"^  (\w+\.md:\d+): (.*)$", done.stderr, re.MULTILINE)
    assert [place for place, _ in told] == false_with("release")


# -- the course itself

COINCIDENCES = {
    ("planning/fuel-checks.md", "900 kg/h"): "the leak of its trial",
    ("planning/minimum-fuel.md", "900 kg/h"): "the leak of its question",
    ("troubles/gauge-wrong.md", "900 kg"): "a figure of 2005, in another aircraft",
    ("troubles/overfill.md", "10 s"): "when the crew of its flight acts",
    ("troubles/overfill.md", "60 s"): "the stretch that its sketch shows",
}
"""Figures of a page that only happen to be those of a rule, an alert or a level, with what they are."""


def figures_of(aircraft: Aircraft) -> set[tuple[float, str]]:
    """Every figure with which the automatics and the alerts compare, every time of theirs, every level."""
    found: set[tuple[float, str]] = set()
    conditions = [condition for rule in aircraft.rules for condition in (rule.starts, rule.ends) if condition]
    conditions += [alert.when for alert in aircraft.alerts]
    for leaf in (leaf for condition in conditions for leaf in condition.leaves()):
        if isinstance(leaf, Compare) and not isinstance(leaf.right, str):
            found.add((abs(leaf.right), leaf.unit))
    times_s = [time_s for rule in aircraft.rules for time_s in (rule.after_s, rule.lasts_s)]
    times_s += [alert.after_s for alert in aircraft.alerts]
    found |= {(time_s, "s") for time_s in times_s if time_s}
    for sensor in aircraft.sensors:
        found |= {(sensor.wet_at_l, "L"), (sensor.dry_at_l, "L")}
    return found | {(tank.capacity_l, "L") for tank in aircraft.tanks}


_JUDGED = re.compile(
    r"^([ -]*)(?!say|ask|hint|text|because|title|caption|name)[a-z_]+:(?: .*)?$", re.MULTILINE
)
_WRITTEN = re.compile(r"(?<![\w.,-])([\d,]*\d(?:\.\d+)?)[ \u00a0](kg/h|kg|L|bar|°C|s|seconds|%)(?![\w/])")


def written_out(markdown: str, first_line: int) -> Iterator[tuple[int, str]]:
    """Every figure of a page that nobody works out, with its line: plain ones, and those of its prose."""
    for piece in notation.pieces(markdown, first_line):
        text = piece.text
        if isinstance(piece, notation.Block) and piece.kind != "caution":
            # What an edit, a claim or a range of a block says is judged: it is no prose.
            text = _JUDGED.sub("", text)
        yield from _written_in(text, piece.line)


def _written_in(text: str, line: int) -> Iterator[tuple[int, str]]:
    for piece in notation.inline(text, line):
        match piece:
            case notation.Figure(asked, at) if is_plain(asked):
                yield at, asked
            case notation.Said(sentence, _, at):
                yield from _written_in(sentence, at)
            case str():
                yield from ((line, f"{amount} {unit}") for amount, unit in _WRITTEN.findall(piece))


def test_no_threshold_of_the_aircraft_stands_written_out_on_a_page_of_the_course() -> None:
    stale = []
    for path in sorted((ROOT / "docs").rglob("*.md")):
        page = path.relative_to(ROOT / "docs").as_posix()
        if not in_course(page):
            continue
        source = path.read_text("utf-8")
        own = figures_of(read_aircraft(read_front(source, page).aircraft or "alder-165"))
        body = body_of(source)
        for line, figure in written_out(body, first_line_of(source, body)):
            amount, _, unit = figure.replace("\u00a0", " ").partition(" ")
            told = (float(amount.replace(",", "")), {"seconds": "s"}.get(unit, unit))
            if told in own and (page, figure) not in COINCIDENCES:
                stale.append(f"{page}:{line}: {figure}")
    assert not stale, "take {{= limit of QUANTITY in RULE}} or the like:\n" + "\n".join(stale)
