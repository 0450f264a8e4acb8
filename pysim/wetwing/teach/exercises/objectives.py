"""Which objectives of the course a kind of question serves, by the phase that it is asked about."""

SERVES: dict[str, dict[str, tuple[str, ...]]] = {
    "state": {
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
    "ledger": {"": ("F-TRB-LKT", "F-PLN-6")},
    "uplift": {"": ("F-PRE-2", "F-PLN-4", "F-PLN-5")},
    "endurance": {"": ("F-DES-3", "F-PLN-9")},
    "balance": {"": ("F-CLB-4",)},
}
"""Ids of objectives by kind and phase; an empty phase stands for every one."""


def serves(kind: str, phase: str) -> tuple[str, ...]:
    """The objectives of a question of this kind about this phase."""
    by_phase = SERVES[kind]
    return by_phase.get(phase, by_phase.get("", ()))


def objectives_served() -> dict[str, tuple[str, ...]]:
    """Every objective that a kind of question can serve, each once."""
    return {
        kind: tuple(dict.fromkeys(one for ids in by_phase.values() for one in ids))
        for kind, by_phase in SERVES.items()
    }
