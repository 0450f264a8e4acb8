"""Which objectives of the course a question serves: by its kind, its phase, and what it is about.

What a question is about is a word for its matter: the change that it foresees, the trouble that it hides, the
kind of part among its items, what was done to its flight.
"""

from collections.abc import Iterable

SERVES: dict[str, dict[str, tuple[str, ...]]] = {
    "state": {
        "": ("F-SYS-PMP-1",),
        "start": ("F-STA-3",),
        "taxi": ("F-TAX-3",),
        "climb": ("F-CLB-1",),
        "cruise": ("F-CRZ-1",),
        "descent": ("F-CRZ-1",),
    },
    "next": {
        "start": ("F-STA-2",),
        "taxi": ("F-TAX-1",),
        "climb": ("F-CLB-1",),
        "cruise": ("F-CRZ-1", "F-CRZ-2"),
        "descent": ("F-DES-2",),
    },
    "reason": {
        "": ("F-SYS-PMP-1",),
        "start": ("F-STA-2",),
        "taxi": ("F-TAX-1",),
        "climb": ("F-CLB-1",),
        "cruise": ("F-CRZ-2",),
        "descent": ("F-CRZ-2",),
    },
    "trouble": {"": ("F-TRB-1",)},
    "order": {
        "preparation": ("F-PRE-2",),
        "start": ("F-STA-1",),
        "taxi": ("F-TAX-1",),
        "climb": ("F-CLB-1", "F-CLB-2"),
        "cruise": ("F-CRZ-2", "F-CRZ-4"),
        "descent": ("F-DES-1",),
    },
    "ledger": {"": ("F-TRB-LKT", "F-PLN-6", "F-SYS-GAU-3")},
    "uplift": {"": ("F-PRE-2", "F-PLN-4", "F-PLN-5", "F-SYS-REF-2", "F-SYS-REF-3", "F-TRB-UNT")},
    "endurance": {"": ("F-DES-3", "F-PLN-9")},
    "delay": {"": ("F-PLN-7", "F-PLN-8", "F-PLN-9")},
    "balance": {"": ("F-CLB-4", "F-SYS-BAL-2")},
}
"""Ids of objectives by kind and phase; an empty phase stands for every one."""

MANUAL = ("F-CRZ-3", "F-SYS-AUT-3", "F-TRB-SEL")
JOINED = ("F-TAX-2", "F-SYS-VLV-2", "F-TRB-XFO")

ABOUT: dict[str, dict[str, tuple[str, ...]]] = {
    "state": {"manual": MANUAL, "joined": JOINED, "failed": ("F-SYS-PMP-2",)},
    "next": {
        "rule": ("F-SYS-AUT-1",),
        "dry": ("F-CRZ-4", "F-SYS-PMP-2"),
        "manual": MANUAL,
        "joined": JOINED,
        "stuck wet": ("F-SYS-AUT-2", "F-TRB-HLD"),
    },
    "reason": {
        "rule": ("F-SYS-AUT-1",),
        "held back": ("F-PRE-3",),
        "failed": ("F-SYS-PMP-2",),
        "stuck wet": ("F-SYS-AUT-2", "F-TRB-HLD"),
        "manual": MANUAL,
        "joined": JOINED,
    },
    "order": {
        "rule": ("F-SYS-AUT-1",),
        "transfer": ("F-DES-2", "F-SYS-TNK-4"),
        "return": ("F-CLB-2", "F-CLB-3"),
        "jet-pump": ("F-CRZ-4", "F-SYS-TNK-4"),
        "apu": ("F-SYS-APU-1",),
        "filling": ("F-SYS-REF-1",),
        "manual": MANUAL,
        "joined": JOINED,
        "stuck wet": ("F-SYS-AUT-2", "F-TRB-HLD"),
    },
    "trouble": {
        "fuel": ("F-TRB-LKT", "F-PLN-6", "F-SYS-GAU-3"),
        "leak after the meter": ("F-TRB-LKE",),
        "drifting": ("F-TRB-CMP", "F-SYS-GAU-2"),
        "burn": ("F-PLN-6",),
        "extra drag": ("F-TRB-DRG",),
        "check valve stuck open": ("F-TRB-CHK",),
        "stuck shut": ("F-TRB-RTN",),
        "biased": ("F-TRB-MTR",),
        "pump": ("F-SYS-PMP-2",),
        "low output": ("F-TRB-WKP",),
        "failed": ("F-TRB-PON",),
        "failed, centre": ("F-TRB-CON",),
    },
}
"""Ids of objectives by kind and by what a question is about."""


def serves(kind: str, phase: str, about: Iterable[str] = ()) -> tuple[str, ...]:
    """The objectives of a question of this kind about this phase and these matters."""
    by_phase, by_matter = SERVES[kind], ABOUT.get(kind, {})
    found = [*by_phase.get(phase, ()), *by_phase.get("", ())]
    found += [one for matter in about for one in by_matter.get(matter, ())]
    return tuple(dict.fromkeys(found))


def objectives_served() -> dict[str, tuple[str, ...]]:
    """Every objective that a kind of question can serve, each once."""
    return {
        kind: tuple(
            dict.fromkeys(one for ids in (*by_phase.values(), *ABOUT.get(kind, {}).values()) for one in ids)
        )
        for kind, by_phase in SERVES.items()
    }
