"""The reference page on the JSON document of a flight."""


def page() -> str:
    """The page in Markdown."""
    return _DOCUMENT


_DOCUMENT = """# The document of a flight

`wetwing fly SCRIPT --json` prints a whole flight as one JSON document. All figures are in SI-based units, and
the unit stands in the key.

| Key | Meaning |
| --- | --- |
| `format` | name and version of the format |
| `aircraft` | the aircraft: `name`, `title`, `revision`, `operator` |
| `script` | the script: `name`, `title`, `plan_kg` |
| `edits` | settings that were added to the script: `time_s`, `part`, `state` |
| `duration_s` | length of the flight |
| `ended` | why the flight ended before its script did: `time_s`, `name`, `sentence`; null where it did not |
| `phases` | each phase: `name`, `label`, `start_s` |
| `parts` | each part: `name`, `label`, `kind`, `states`, `settings`, and its state at the `start` |
| `keyframes` | the flight at every time at which something changes, see below |
| `changes` | each change of a part with its reason, see below |
| `commands` | every setting that a person made: `time_s`, `part`, `state` |

## Keyframes

Between two keyframes every quantity is linear and no part changes. Two keyframes of one time are a jump:
before, after.

| Key | Meaning |
| --- | --- |
| `time_s` | time from the start of the flight |
| `tanks` | by name: `actual_kg` (what is there), `gauged_kg` (what the gauge says), `temperature_c` |
| `engines` | by name: `flow_kg_h`, `used_kg` (since its start) |
| `parts` | by name: `state`, and the part's own quantities: `flow_kg_h`, `pressure_bar` and the like |
| `totals` | `on_board_kg`, `gauged_kg`, `burned_kg`, `uplifted_kg`, `vented_kg` |
| `flight` | `altitude_ft`, `mach`, `air_temperature_c`, `skin_temperature_c`, `gross_kg`, `time_s` |

## Changes

| Key | Meaning |
| --- | --- |
| `time_s`, `part`, `from`, `to` | what changed |
| `reason.kind` | `rule` (the automatics), `action` (a person), `physics`, or `trouble` |
| `reason.name` | the rule's name, or what acted |
| `reason.sentence` | the reason in words, with quantities in braces, `{430 kg}` |
| `reason.facts` | what was seen: `name` with `value` and `unit`, or `name` with `state` |
| `reason.causes` | places in `changes` of the earlier changes that made those facts |
"""
