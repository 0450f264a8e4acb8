"""The reference page on the JSON document of a flight, and on what the simulation answers to a look ahead."""


def page() -> str:
    """The page in Markdown."""
    return "\n".join(
        [
            _INTRODUCTION,
            _keys(DOCUMENT),
            "## Keyframes\n",
            "Between two keyframes every quantity is linear and no part changes. "
            "Two keyframes of one time are a jump: before, after.\n",
            _keys(KEYFRAME),
            "## Changes\n",
            _keys(CHANGE),
            _AHEAD,
            _keys(AHEAD),
            "## What a page asks\n",
            "The live simulation of a page takes one JSON request at a time and gives one JSON answer: "
            "`ok` true with what was asked for, or `ok` false with the `problem`: `place`, `message`, "
            "`found`, `allowed`, `nearest`.\n",
            _keys(REQUEST),
        ]
    )


def _keys(keys: dict[str, str]) -> str:
    rows = [f"| {key} | {meaning} |" for key, meaning in keys.items()]
    return "\n".join(["| Key | Meaning |", "| --- | --- |", *rows, ""])


_INTRODUCTION = """# The document of a flight

`wetwing fly SCRIPT --json` prints a whole flight as one JSON document. All figures are in SI-based units, and
the unit stands in the key. A [JSON Schema](../assets/schemas/flight-1.json) describes the whole.
"""

DOCUMENT = {
    "`format`": "name and version of the format",
    "`aircraft`": "the aircraft: `name`, `title`, `revision`, `operator`",
    "`script`": "the script: `name`, `title`, `plan_kg`",
    "`edits`": "settings and troubles that were added to the script: `time_s`, `part`, `state`",
    "`duration_s`": "length of the flight",
    "`ended`": (
        "why the flight ended before its script did: `time_s`, `name`, `sentence`; null where it did not"
    ),
    "`phases`": "each phase: `name`, `label`, `start_s`",
    "`parts`": (
        "each part: `name`, `label`, `kind`, `states`, `settings`, and its state at the `start`; "
        "each trouble is one too, with the part that it is `of` and its kind, `trouble`"
    ),
    "`keyframes`": "the flight at every time at which something changes, see below",
    "`changes`": "each change of a part with its reason, see below",
    "`commands`": "every setting that a person made: `time_s`, `part`, `state`",
}

KEYFRAME = {
    "`time_s`": "time from the start of the flight",
    "`tanks`": (
        "by name: `actual_kg` (what is there), `gauged_kg` (what the gauge says; 0 while it is "
        "blank), `temperature_c`, `volume_l`, `fill` (share of its capacity), `rate_kg_h`, "
        "`freezing_margin_c`, `air_share` (dissolved air, as the pressure of air over 1.01325 bar "
        "that it would be in balance with)"
    ),
    "`engines`": (
        "by name: `flow_kg_h` (what it burns), `used_kg` (by its meter, since its start), "
        "`metered_kg_h`, `inlet_margin_bar` (pressure in hand at the inlet of its own pump)"
    ),
    "`parts`": (
        "by name: `state`, and the part's own quantities: `flow_kg_h`, `pressure_bar`, `oil_c`, "
        "`surge_kg`, `differential_bar` and the like"
    ),
    "`totals`": (
        "in tanks and surge spaces: `on_board_kg`; by the gauges: `gauged_kg`; so far: "
        "`burned_kg`, `uplifted_kg`, `uplifted_l`, `vented_kg`, `leaked_kg`, `discharged_kg`; by "
        "the meters: `metered_kg`; departure fuel less that: `computed_kg`; by use less by "
        "gauges: `discrepancy_kg`; right wing less left by the gauges: `imbalance_kg`"
    ),
    "`flight`": (
        "`altitude_ft`, `mach`, `air_temperature_c`, `total_temperature_c`, `skin_temperature_c`, "
        "`gross_kg`, `pitch_deg`, `roll_deg` (against cruise), `cg_percent`, `root_bending_kn_m`, "
        "`flammable_above_c` (the fuel temperature above which vapour can burn at this height), `time_s`"
    ),
}

REQUEST = {
    "`ask`": (
        "`fly` (answers `record`, the flight as a page shows it), `document` (this document), `ahead` (see "
        "above), `inputs` (the figures of the script that can be changed, each with `key`, "
        "`group`, `label`, `unit`, `least`, `most`, `value`), `write` (`script_text` and `name`: the script "
        "as a file, edits included), `worksheet` (`worksheet`: a sheet of `kind`, filled in at `time_s`)"
    ),
    "`aircraft`": "the name of an aircraft of the fleet",
    "`script`": "the name of a script that ships; or",
    "`script_text`": "the text of a script's file for this aircraft, at most 200,000 characters",
    "`file`": "what that file is called in a problem's place",
    "`inputs`": "other figures for the script, by `key`, such as `load.zero_fuel_kg` or `duration.cruise`",
    "`edits`": "a list of `time_s`, `part`, `state`",
    "`title`": "for `write`: another title; the script's name is made from it",
    "`kind`, `given`": (
        "for `worksheet`: which sheet, and by field what was typed over the flight's own figure: a text, a "
        "number in the field's own unit, or null"
    ),
    "`form`, `units`, `volumes`": (
        "for `worksheet`: how texts are read: the form of numbers (`1,234.5`), the unit of a mass alone "
        "(`kg`, `lb`, `t`), that of a volume alone (`L`, `US gal`)"
    ),
}

CHANGE = {
    "`time_s`, `part`, `from`, `to`": "what changed",
    "`reason.kind`": "`rule` (the automatics), `action` (a person), `physics`, or `trouble`",
    "`reason.name`": "the rule's name, or what acted",
    "`reason.sentence`": "the reason in words, with quantities in braces, `{430 kg}`",
    "`reason.facts`": "what was seen: `name` with `value` and `unit`, or `name` with `state`",
    "`reason.causes`": "places in `changes` of the earlier changes that made those facts",
}

_AHEAD = """## Looking ahead

The page's panel asks the simulation what lies ahead of one time of a flight: `ask` is `ahead`, with
`aircraft`, `script`, `edits` and `time_s`. The answer, under `ahead`, says what the flight will do, and how
long its fuel lasts if it is flown on from that time at the same height and speed with nobody touching
anything, until an engine gets no fuel any more. Masses are true, not gauged.
"""

AHEAD = {
    "`time_s`": "the time that was asked for, held to the flight",
    "`levels`": (
        "each tank's next change that its level makes: `tank`, `part` (which part feels it), `after` (its "
        "state then), `in_s`, `sentence` (why)"
    ),
    "`endurance`": (
        "null while no engine runs; else `lasts_s` (a day at most), `usable_kg` (burned until then), "
        "`on_board_kg`, `sentence` (which engine gets no fuel, and why), `stranded` (each tank that keeps "
        "fuel beyond its unusable: `tank`, `stranded_kg`, `sentence`)"
    ),
    "`landing`": (
        "null where the flight does not land any more or its script has no final reserve; else `time_s`, "
        "`on_board_kg`, `usable_kg`, `final_reserve_kg`, `standing` (`normal`, `minimum fuel` or "
        "`mayday fuel`), `sentence`"
    ),
    "`imbalance`": "right wing less left: `now_kg`, `rate_kg_h`, `sentence`",
}
