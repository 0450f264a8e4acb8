"""The reference page on the JSON document of a flight."""


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
        ]
    )


def _keys(keys: dict[str, str]) -> str:
    rows = [f"| {key} | {meaning} |" for key, meaning in keys.items()]
    return "\n".join(["| Key | Meaning |", "| --- | --- |", *rows, ""])


_INTRODUCTION = """# The document of a flight

`wetwing fly SCRIPT --json` prints a whole flight as one JSON document. All figures are in SI-based units, and
the unit stands in the key.
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
        "`time_s`"
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
