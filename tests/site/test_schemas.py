"""The published schemas: what ships is valid, and what a schema can see of an author's slips is refused."""

import json
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped, unused-ignore]

from tests.aircraft.files import alder_text, changed, slips_in
from tests.flight.flights import flown
from wetwing.aircraft.read import fleet, fleet_text
from wetwing.aircraft.table import Table
from wetwing.flight.document import document
from wetwing.flight.script import script_text, scripts
from wetwing_tools.site import schemas

TESTS = Path(__file__).parents[1]
VISIBLE = re.compile(
    r": missing; allowed: this key is needed|: unknown key '|unknown word '|allowed: a table of keys$"
    r"|allowed: a number from|allowed: true, false|allowed: a list in square|allowed: a text in quotes"
    r"|allowed: two numbers in metres"
)
"""The messages of a reader that speak of a key, a kind of value or a word: a schema sees these too."""
HIDDEN = {
    # Keys that are names of parts, or depend on the part that stands beside them.
    *("a tank that the aircraft has not", "fuel used by an engine that is not there"),
    *("a delay without a condition", "a leak in pounds", "a figure where the trouble takes none"),
}


@pytest.fixture(scope="module")
def made() -> dict[str, Any]:
    """A validator for each schema, by its file's name."""
    found = {}
    for uri, text in schemas.files().items():
        schema = json.loads(text)
        Draft202012Validator.check_schema(schema)
        found[Path(uri).name] = Draft202012Validator(schema)
    return found


def test_every_file_that_ships_is_valid(made: dict[str, Any]) -> None:
    for name in fleet():
        made["aircraft-1.json"].validate(tomllib.loads(fleet_text(name)))
    for name in scripts():
        made["script-1.json"].validate(tomllib.loads(script_text(name)[0]))


@pytest.mark.parametrize(("kind", "least"), [("aircraft", 22), ("script", 11)])
def test_a_slip_that_a_schema_can_see_is_refused(made: dict[str, Any], kind: str, least: int) -> None:
    plain = alder_text() if kind == "aircraft" else script_text("day-sector")[0]
    folder = "aircraft" if kind == "aircraft" else "flight"
    tried, passed = 0, []
    for slip in slips_in(TESTS / folder / "slips.toml"):
        if not VISIBLE.search(slip.says) or slip.name in HIDDEN:
            continue
        tried += 1
        if made[f"{kind}-1.json"].is_valid(tomllib.loads(changed(plain, (slip.old, slip.new)))):
            passed.append(slip.name)
    assert passed == []
    assert tried >= least


def test_a_flight_s_document_is_valid_and_a_broken_one_is_not(made: dict[str, Any]) -> None:
    whole = json.loads(json.dumps(document(flown())))
    whole["keyframes"], whole["changes"] = whole["keyframes"][:20], whole["changes"][:200]
    judge = made["flight-1.json"]
    judge.validate(whole)
    assert not judge.is_valid({key: value for key, value in whole.items() if key != "phases"})
    assert not judge.is_valid({**whole, "more": 1})
    bare = {key: value for key, value in whole["keyframes"][0].items() if key != "tanks"}
    assert not judge.is_valid({**whole, "keyframes": [bare]})


def test_a_revision_needs_only_what_differs_and_is_held_to_its_keys(made: dict[str, Any]) -> None:
    judge = made["aircraft-1.json"]
    whole = tomllib.loads(fleet_text("alder-165-b"))
    assert judge.is_valid({key: whole[key] for key in ("format", "name", "based_on")})
    assert not judge.is_valid({key: whole[key] for key in ("format", "name")})
    assert not judge.is_valid({**whole, "rules": {"slat-hold": {"sentense": "x"}}})


def test_the_readers_are_left_as_they_were() -> None:
    before = {name: getattr(Table, name) for name in ("number", "has", "text")}
    schemas.aircraft_schema()
    assert {name: getattr(Table, name) for name in before} == before
